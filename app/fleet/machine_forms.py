"""The forms about a machine as such: it comes in, is put away, something is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.fleet.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, day, text, typed_hours
from app.pieces.form import FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.faults import CloseFault, NoteFault
from models.acts.jobs import NoteJob
from models.acts.machines import AddMachine, FuelLeft
from models.acts.storage import PutAway, Wake
from models.errors import Refused, RefusedCode
from models.facts.places import PlaceFacts
from models.facts.settings import HouseholdSettings
from resources.loader import Catalogue
from schedules.facts import (
    KindCode,
    Past,
    Phase,
)
from schedules.plan import Judging

DONT_KNOW = "dont_know"


class MachineForms:
    """Makes the forms, and the acts of their answers."""

    def __init__(self, *, words: Wording, catalogue: Catalogue) -> None:
        self.words = words
        self.catalogue = catalogue
        self.ask = Questions(words)

    # -- adding --------------------------------------------------------------------------------

    def add(self, settings: HouseholdSettings, places: list[PlaceFacts], today: date) -> Wish:
        """A machine comes in."""
        words = self.words
        kinds = sorted(
            ((code, words.kind(KindCode(code))) for code in self.catalogue.kinds),
            key=lambda pair: pair[1],
        )
        spots = tuple((str(place.place_id), place.name) for place in places)
        came = (
            (str(Past.UNKNOWN), words.text(msg("used: nobody knows what was done to it"))),
            (str(Past.NEW), words.text(msg("new"))),
        )
        fuel = (
            (DONT_KNOW, words.text(msg("don't know"))),
            (str(FuelLeft.YES), words.text(msg("yes"))),
            (str(FuelLeft.NO), words.text(msg("no"))),
        )
        fields = (
            self.ask.field("kind", msg("Type of machine"), FieldSort.CHOICE, choices=tuple(kinds)),
            self.ask.field("name", msg("What you call it"), FieldSort.TEXT),
            self.ask.field("place_id", msg("Where it stands"), FieldSort.CHOICE, choices=spots),
            self.ask.field("spot", msg("Which corner of it"), FieldSort.TEXT),
            self.ask.field("past", msg("How it came"), FieldSort.CHOICE, choices=came),
            self.ask.field("came_on", msg("Since when you have it"), FieldSort.DAY, default=today),
            self.ask.field("fuel_left", msg("Fuel left in it"), FieldSort.CHOICE, choices=fuel),
            self.ask.field(
                "shown",
                msg("What its hour meter shows"),
                FieldSort.TEXT,
                hint=words.text(msg("Leave it empty when it has none.")),
                placeholder=words.text(msg("like 31.4")),
            ),
            self.ask.field("battery", msg("It has a starter battery"), FieldSort.YES),
        )
        page = self.ask.page("add", msg("Add a machine"), fields)

        def make(answers: Mapping[str, object]) -> Made:
            shown = typed_hours(answers, "shown", settings, words)
            if isinstance(shown, Said):
                return shown
            if not choice(answers, "place_id"):
                return Refused(RefusedCode.NOTHING_GIVEN, field="place_id")
            kind = self.catalogue.kinds[KindCode(choice(answers, "kind"))]
            left = FuelLeft(choice(answers, "fuel_left"))
            return AddMachine(
                name=text(answers, "name"),
                kind=kind.code,
                place_id=int(choice(answers, "place_id")),
                came_on=day(answers, "came_on"),
                spot=text(answers, "spot"),
                past=Past(choice(answers, "past")),
                battery=bool(answers["battery"]),
                shown_seconds=None if shown is None else shown.stored,
                shown_typed=shown,
                fuel_left=left if kind.has_engine else None,
            )

        return Wish(page, make)

    # -- storage -------------------------------------------------------------------------------

    def store(self, judging: Judging, today: date, *, laid_up: bool) -> Wish:
        """Put away, or got out again."""
        if laid_up:
            page = self.ask.page("wake", msg("Get it out again"), (self.ask.day(today),))

            def wake(answers: Mapping[str, object]) -> Made:
                return Wake(machine_id=judging.facts.machine_id, on=day(answers, "day"))

            return Wish(page, wake)
        page = self.ask.page(
            "store",
            msg("Put away"),
            (
                self.ask.day(today),
                self.ask.field("off_or_open", msg("What is off or open now"), FieldSort.NOTE),
            ),
        )

        def put_away(answers: Mapping[str, object]) -> Made:
            return PutAway(
                machine_id=judging.facts.machine_id,
                on=day(answers, "day"),
                off_or_open=text(answers, "off_or_open"),
            )

        return Wish(page, put_away)

    # -- what is wrong, what is to do ----------------------------------------------------------

    def fault(self, judging: Judging, today: date) -> Wish:
        """Something is wrong with it, or a fault is put right."""
        words = self.words
        faults = tuple((str(fault.fault_id), fault.text) for fault in judging.facts.faults)
        which = (("", words.text(msg("something new is wrong"))), *faults)
        fields = (
            self.ask.field(
                "fault",
                msg("Which fault"),
                FieldSort.CHOICE,
                choices=which,
                hint=words.text(msg("Choose one of the old ones when it is put right.")),
            ),
            self.ask.field("text", msg("What it does, or how it was put right"), FieldSort.TEXT),
            self.ask.field("stops_use", msg("It must not be used like this"), FieldSort.YES),
            self.ask.day(today, msg("Since when")),
        )
        page = self.ask.page("fault", msg("Something is wrong"), fields)

        def make(answers: Mapping[str, object]) -> Made:
            fault = choice(answers, "fault")
            if fault:
                return CloseFault(
                    fault_id=int(fault), on=day(answers, "day"), how=text(answers, "text")
                )
            return NoteFault(
                machine_id=judging.facts.machine_id,
                text=text(answers, "text"),
                since_on=day(answers, "day"),
                stops_use=bool(answers["stops_use"]),
            )

        return Wish(page, make)

    def job(self, judging: Judging, today: date) -> Wish:
        """A one-off to remember."""
        words = self.words
        phases = (
            ("", words.text(msg("whenever there is time"))),
            *((str(phase), words.phase(phase)) for phase in (Phase.BEFORE, Phase.END, Phase.OFF)),
        )
        fields = (
            self.ask.field("text", msg("What is to be done"), FieldSort.TEXT),
            self.ask.field("phase", msg("When"), FieldSort.CHOICE, choices=phases),
            self.ask.field("waits_for", msg("What it waits for"), FieldSort.TEXT),
            self.ask.field("minutes", msg("Minutes it will take"), FieldSort.TEXT, default="15"),
            self.ask.field("part", msg("A part it needs"), FieldSort.TEXT),
        )
        page = self.ask.page("job", msg("Note a job"), fields)

        def make(answers: Mapping[str, object]) -> Made:
            minutes, phase = text(answers, "minutes"), choice(answers, "phase")
            if not minutes.isascii() or not minutes.isdecimal() or len(minutes) > 5:
                return Said(words.text(msg("Type a whole number, like 1.")), "minutes")
            return NoteJob(
                machine_id=judging.facts.machine_id,
                text=text(answers, "text"),
                noted_on=today,
                phase=Phase(phase) if phase else None,
                waits_for=text(answers, "waits_for"),
                minutes=int(minutes),
                part=text(answers, "part"),
            )

        return Wish(page, make)
