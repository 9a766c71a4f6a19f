"""The forms about a machine as such: it comes in, is put away, something is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from app.entry.questions import Made, Questions, Wish
from app.entry.what_now import then_what_now
from app.pieces.asked import Said, choice, day, text, typed_hours, whole_number
from app.pieces.form import Field, FieldSort
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
    FuelUse,
    KindCode,
    Past,
    Phase,
)
from schedules.plan import Judging

NOBODY_KNOWS = "unknown"
# When it last ran, as people say it, and about how many days ago that is. Our judgement.
LAST_RAN: dict[str, tuple[str, int | None]] = {
    "lately": (msg("a few weeks ago"), 30),
    "season": (msg("about a year ago"), 365),
    "years": (msg("two or three years ago"), 912),
    "long": (msg("longer ago"), 1826),
    NOBODY_KNOWS: (msg("don't know"), None),
}


class MachineForms:
    """Makes the forms, and the acts of their answers."""

    def __init__(self, *, words: Wording, catalogue: Catalogue) -> None:
        self.words = words
        self.catalogue = catalogue
        self.ask = Questions(words)

    # -- adding --------------------------------------------------------------------------------

    def add(
        self,
        settings: HouseholdSettings,
        places: list[PlaceFacts],
        today: date,
        judged: Callable[[int], Judging | None],
    ) -> Wish:
        """A machine comes in: a picture, a name, and what people know about it; then, why it is
        told of."""
        words = self.words
        page = self.ask.page("add", msg("What is it?"), self._add_fields(places, today))
        page = replace(page, later=words.text(msg("More about it, or later")))
        told: dict[str, str] = {}

        def make(answers: Mapping[str, object]) -> Made:
            told.update({name: choice(answers, name) for name in ("ran", "fuel_left")})
            return self._made_machine(answers, settings, today)

        return Wish(page, make, then=then_what_now(words, judged, told))

    def _add_fields(self, places: list[PlaceFacts], today: date) -> tuple[Field, ...]:
        """The questions about a machine that comes in; those that can wait stand last."""
        words = self.words
        kinds = tuple((code, words.kind(code)) for code in self.catalogue.kinds)
        icons = {str(code): kind.icon for code, kind in self.catalogue.kinds.items()}
        came = (
            (str(Past.UNKNOWN), words.text(msg("used"))),
            (str(Past.NEW), words.text(msg("new"))),
        )
        ran = tuple((code, words.text(said)) for code, (said, _) in LAST_RAN.items())
        fuel = (
            (str(FuelLeft.YES), words.text(msg("yes"))),
            (str(FuelLeft.NO), words.text(msg("no"))),
            (str(FuelLeft.DONT_KNOW), words.text(msg("don't know"))),
        )
        tiles, line = FieldSort.TILES, FieldSort.TEXT
        return (
            self.ask.field("kind", msg("Type of machine"), tiles, choices=kinds, icons=icons),
            self.ask.field(
                "name",
                msg("What you call it"),
                line,
                placeholder=words.text(msg("like “Red one”; left empty, it goes by its type")),
            ),
            self.ask.field(
                "past", msg("How it came"), tiles, choices=came, default=str(Past.UNKNOWN)
            ),
            self.ask.field("ran", msg("It last ran"), tiles, choices=ran, default=NOBODY_KNOWS),
            self.ask.field(
                "fuel_left",
                msg("Fuel left in it"),
                tiles,
                choices=fuel,
                default=str(FuelLeft.DONT_KNOW),
            ),
            *self._later_fields(places, today),
        )

    def _later_fields(self, places: list[PlaceFacts], today: date) -> tuple[Field, ...]:
        """What can wait, or be left as it is guessed."""
        words, tiles, line = self.words, FieldSort.TILES, FieldSort.TEXT
        spots = tuple((str(place.place_id), place.name) for place in places)
        return (
            self.ask.field(
                "came_on",
                msg("Since when you have it"),
                FieldSort.DAY,
                default=today,
                later=True,
            ),
            self.ask.field(
                "place_id",
                msg("Where it stands"),
                tiles,
                choices=spots,
                default=spots[0][0] if spots else "",
                later=True,
            ),
            self.ask.field("spot", msg("Which corner of it"), line, later=True),
            self.ask.field(
                "shown",
                msg("What its hour meter shows"),
                line,
                hint=words.text(msg("Leave it empty when it has none.")),
                placeholder=words.text(msg("like 31.4")),
                later=True,
            ),
            self.ask.field("battery", msg("It has a starter battery"), FieldSort.YES, later=True),
        )

    def _made_machine(
        self, answers: Mapping[str, object], settings: HouseholdSettings, today: date
    ) -> AddMachine | Refused | Said:
        """The act of the form for a machine that comes in."""
        words = self.words
        shown = typed_hours(answers, "shown", settings, words)
        if isinstance(shown, Said):
            return shown
        code = choice(answers, "kind")
        if not code:
            return Said(words.text(msg("Press the picture that is most like it.")), "kind")
        if not choice(answers, "place_id"):
            return Refused(RefusedCode.NOTHING_GIVEN, field="place_id")
        kind = self.catalogue.kinds[KindCode(code)]
        said, days = LAST_RAN[choice(answers, "ran")]
        ran_on = None if days is None else today - timedelta(days=days)
        burns = FuelUse(kind.fuel) is not FuelUse.NONE
        left = FuelLeft(choice(answers, "fuel_left")) if burns else None
        note = ""
        if ran_on is not None:
            note = words.text(msg("When it came: last ran {when}."), when=words.text(said))
        return AddMachine(
            name=text(answers, "name") or words.kind(kind.code),
            kind=kind.code,
            place_id=int(choice(answers, "place_id")),
            came_on=day(answers, "came_on"),
            spot=text(answers, "spot"),
            past=Past(choice(answers, "past")),
            battery=bool(answers["battery"]),
            shown_seconds=None if shown is None else shown.stored,
            shown_typed=shown,
            last_ran_on=ran_on if left is FuelLeft.YES else None,
            # It was bought before it last ran: it is at least so old.
            bought_on=ran_on if left is FuelLeft.YES else None,
            fuel_left=left,
            note=note,
        )

    # -- by name ------------------------------------------------------------------------------

    def begin(self, name: str, judging: Judging, today: date) -> Wish | None:
        """The form of that name."""
        match name:
            case "store":
                return self.store(judging, today, laid_up=judging.almanac.laid_up)
            case "fault":
                return self.fault(judging, today)
            case "job":
                return self.job(judging, today)
            case _:
                return None

    # -- storage -------------------------------------------------------------------------------

    def store(self, judging: Judging, today: date, *, laid_up: bool) -> Wish:
        """Put away, or got out again."""
        if laid_up:
            page = self.ask.page("wake", msg("Get it out again"), (self.ask.day(today),))

            def wake(answers: Mapping[str, object]) -> Made:
                return Wake(machine_id=judging.facts.machine_id, on=day(answers, "day"))

            return Wish(page, wake)
        from app.resting import before_rest  # wanted by nobody else here

        page = self.ask.page(
            "store",
            msg("Put away"),
            (
                self.ask.day(today),
                self.ask.field("off_or_open", msg("What is off or open now"), FieldSort.NOTE),
            ),
            lead=before_rest(judging, self.words, on=today),
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
            minutes, phase = whole_number(answers, "minutes", words), choice(answers, "phase")
            if isinstance(minutes, Said):
                return minutes
            return NoteJob(
                machine_id=judging.facts.machine_id,
                text=text(answers, "text"),
                noted_on=today,
                phase=Phase(phase) if phase else None,
                waits_for=text(answers, "waits_for"),
                minutes=minutes,
                part=text(answers, "part"),
            )

        return Wish(page, make)
