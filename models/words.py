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
    another. FILLED: topped up, nobody knows from where. BURNT, DRAINED: gone. LEVEL: what is in it
    now, by eye. TREATED: stabiliser added. LOOKED: nose and jar.
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
