"""Words that only the file has: how an entry went, what was done with fuel, what a sheet is."""

from __future__ import annotations

from enum import StrEnum


class Language(StrEnum):
    """Languages the program speaks."""

    BRITISH = "en_GB"
    AMERICAN = "en_US"


class Paper(StrEnum):
    """Paper sizes."""

    A4 = "a4"
    LETTER = "letter"


class StepAnswer(StrEnum):
    """How a step of a run was answered. CANNOT: not now, and why; it becomes a job. FAULT:
    something was found wrong."""

    DONE = "done"
    NOT_APPLICABLE = "not_applicable"
    CANNOT = "cannot"
    FAULT = "fault"


class RunOutcome(StrEnum):
    """How a machine did when it was used."""

    RAN = "ran"
    BADLY = "badly"
    DID_NOT = "did_not"


class LineOutcome(StrEnum):
    """What a line of a work record says. ASSUMED: passed over, taken as done; FAILED: a function
    check that did not hold; NOT_DONE: tried or looked at and left."""

    DONE = "done"
    REPLACED = "replaced"
    ASSUMED = "assumed"
    FAILED = "failed"
    NOT_DONE = "not_done"


class Side(StrEnum):
    """Which of two like parts was measured."""

    LEFT = "left"
    RIGHT = "right"


class PhotoOf(StrEnum):
    """What a photo belongs to, beside its machine."""

    WORK = "work"
    READING = "reading"
    FAULT = "fault"


class TrialSide(StrEnum):
    """Before the work that is to help, or after it."""

    BEFORE = "before"
    AFTER = "after"


class SearchDoing(StrEnum):
    """A step of a search for a fault.

    SEEN: noticed before, or asked back for nothing. TESTED: a test was done. TRIED: a cure was
    done and did not help; TRIED_BEFORE: so it was before the search. CURED: a cure helped. CANNOT:
    a test that cannot be done now. TOLD: a fact of machine or tools. LEFT_OFF: a part that lies
    loose. SHUT: everything was closed up. OVER: the long going-over was done or is not wanted.
    """

    SEEN = "seen"
    TESTED = "tested"
    TRIED = "tried"
    TRIED_BEFORE = "tried_before"
    CURED = "cured"
    CANNOT = "cannot"
    TOLD = "told"
    LEFT_OFF = "left_off"
    SHUT = "shut"
    OVER = "over"


class SearchEnd(StrEnum):
    """How a search ended. CURED: cause found and put right. WORKS: it works, nobody knows why.
    WORKSHOP: handed over. APPRAISE: not for this bench. GIVEN_UP: left."""

    CURED = "cured"
    WORKS = "works"
    WORKSHOP = "workshop"
    APPRAISE = "appraise"
    GIVEN_UP = "given_up"


class InferredFrom(StrEnum):
    """What a total of hours was reckoned from."""

    FUEL = "fuel"
    AREA = "area"
    SNOW = "snow"
    AS_ALWAYS = "as_always"
    OTHER = "other"


class FuelDoing(StrEnum):
    """What happened to the fuel of a vessel.

    BOUGHT: new fuel came into it. FOUND: what was in it when it came. POURED: from it into
    another. FILLED: topped up, nobody knows from where. BURNT, DRAINED, SPILLED: gone; DISPOSED:
    taken to a collection point. LEVEL: what is in it now, by eye. TREATED: stabiliser added.
    LOOKED: nose and jar. OILED: oil added, to make a mix.
    """

    BOUGHT = "bought"
    FOUND = "found"
    POURED = "poured"
    FILLED = "filled"
    BURNT = "burnt"
    DRAINED = "drained"
    LEVEL = "level"
    TREATED = "treated"
    LOOKED = "looked"
    SPILLED = "spilled"
    DISPOSED = "disposed"
    OILED = "oiled"


class PaymentSort(StrEnum):
    """What was paid for, or got."""

    BOUGHT = "bought"
    SOLD = "sold"
    PART = "part"
    CONSUMABLE = "consumable"
    FUEL = "fuel"
    WORKSHOP = "workshop"
    OTHER = "other"


class SheetSort(StrEnum):
    """Printed pages that can come back."""

    PRESEASON = "preseason"
    CARD = "card"
    STORAGE = "storage"
    TAGS = "tags"
    FAULTS = "faults"
    WORK = "work"
    BUYER = "buyer"
    SHOPPING = "shopping"
