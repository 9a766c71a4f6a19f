"""What the room's forms ask, and the acts that answers become."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from app.fleet.asked import Asked, Said, amount, choice, day, lines_of, text, typed_hours
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.faults import CloseFault, NoteFault
from models.acts.hours import Lower, ReadHours
from models.acts.jobs import NoteJob
from models.acts.machines import AddMachine, FuelLeft
from models.acts.readings import Measure, Measured
from models.acts.storage import PutAway, Wake
from models.acts.uses import LogUse
from models.acts.work import LineGiven, RecordWork
from models.errors import Refused
from models.facts.places import PlaceFacts
from models.facts.settings import HouseholdSettings
from models.words import LineOutcome, RunOutcome, Side
from models.writer import Act
from resources.loader import Catalogue
from schedules.facts import (
    Direction,
    KindCode,
    LimitCode,
    Past,
    Phase,
    TaskCode,
    TaskState,
)
from schedules.plan import Judging

Made = Act | Refused | Said
FIELD_NAMES = {
    "shown_seconds": "shown",
    "run_seconds": "run",
    "on": "day",
    "put_away_on": "day",
    "since_on": "day",
}
DONT_KNOW = "dont_know"


@dataclass(frozen=True, slots=True)
class Wish:
    """A form that is open: its page, and how its answers become an act."""

    page: FormPage
    make: Callable[[Mapping[str, object]], Made]

    def field_of(self, refused: Refused) -> str:
        """The field a refusal stands beside; "" for the foot of the form."""
        named = dict(refused.values).get("field")
        if isinstance(named, str):
            return FIELD_NAMES.get(named, named)
        if any(field.name == "shown" for field in self.page.fields):
            return "shown"
        return ""


class Forms:
    """Makes the forms of the room for one household."""

    def __init__(self, *, words: Wording, catalogue: Catalogue) -> None:
        self.words = words
        self.catalogue = catalogue

    def _page(self, key: str, title: str, fields: tuple[Field, ...], *, lead: str = "") -> FormPage:
        words = self.words
        return FormPage(
            key=key,
            title=words.text(title),
            lead=lead,
            fields=fields,
            done=words.text(msg("Keep it")),
            cancel=words.text(msg("Leave it")),
        )

    def _field(self, name: str, label: str, sort: FieldSort, **more: object) -> Field:
        return Field(name=name, label=self.words.text(label), sort=sort, **more)  # type: ignore[arg-type]  # the fields of a field

    def _day(self, today: date, label: str = msg("Day")) -> Field:
        return self._field("day", label, FieldSort.DAY, default=today)

    def _note(self) -> Field:
        return self._field("note", msg("Note"), FieldSort.NOTE)

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
            self._field("kind", msg("Type of machine"), FieldSort.CHOICE, choices=tuple(kinds)),
            self._field("name", msg("What you call it"), FieldSort.TEXT),
            self._field("place_id", msg("Where it stands"), FieldSort.CHOICE, choices=spots),
            self._field("spot", msg("Which corner of it"), FieldSort.TEXT),
            self._field("past", msg("How it came"), FieldSort.CHOICE, choices=came),
            self._field("came_on", msg("Since when you have it"), FieldSort.DAY, default=today),
            self._field("fuel_left", msg("Fuel left in it"), FieldSort.CHOICE, choices=fuel),
            self._field(
                "shown",
                msg("What its hour meter shows"),
                FieldSort.TEXT,
                hint=words.text(msg("Leave it empty when it has none.")),
                placeholder=words.text(msg("like 31.4")),
            ),
            self._field("battery", msg("It has a starter battery"), FieldSort.YES),
        )
        page = self._page("add", msg("Add a machine"), fields)

        def make(answers: Mapping[str, object]) -> Made:
            shown = typed_hours(answers, "shown", settings, words)
            if isinstance(shown, Said):
                return shown
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

    # -- the commonest acts --------------------------------------------------------------------

    def hours(self, judging: Judging, settings: HouseholdSettings, today: date) -> Wish:
        """What the hour meter shows."""
        page = self._page(
            "hours",
            msg("Hours"),
            self.hours_fields(today, "", ""),
            lead=self.words.text(
                msg("{machine}: {hours} so far."),
                machine=judging.facts.name,
                hours=self.words.hours_now(judging.verdict.hours),
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            return self.made_hours(answers, judging, settings)

        return Wish(page, make)

    def hours_fields(self, today: date, shown: str, note: str) -> tuple[Field, ...]:
        """The questions about an hour meter."""
        words = self.words
        lower = (
            ("", words.text(msg("it does not"))),
            (str(Lower.ROLLED_OVER), words.text(msg("it has gone round to nought"))),
            (str(Lower.REPLACED), words.text(msg("it is a new meter"))),
        )
        return (
            self._field(
                "shown",
                msg("The hour meter shows"),
                FieldSort.TEXT,
                default=shown,
                placeholder=words.text(msg("like 31.4")),
            ),
            self._day(today),
            self._field(
                "lower", msg("If it shows less than before"), FieldSort.CHOICE, choices=lower
            ),
            self._field("note", msg("Note"), FieldSort.NOTE, default=note),
        )

    def made_hours(
        self, answers: Mapping[str, object], judging: Judging, settings: HouseholdSettings
    ) -> ReadHours | Said:
        """The act of a form for hours."""
        shown = typed_hours(answers, "shown", settings, self.words, needed=True)
        if isinstance(shown, Said):
            return shown
        if shown is None:
            return Said(self.words.text(msg("Nothing is typed here yet.")), "shown")
        lower = choice(answers, "lower")
        return ReadHours(
            machine_id=judging.facts.machine_id,
            day=day(answers, "day"),
            shown_seconds=shown.stored,
            typed=shown,
            lower=Lower(lower) if lower else None,
            note=text(answers, "note"),
        )

    def use(self, judging: Judging, settings: HouseholdSettings, today: date) -> Wish:
        """It was used."""
        page = self._page("use", msg("It was used"), self.use_fields(today))

        def make(answers: Mapping[str, object]) -> Made:
            return self.made_use(answers, judging, settings)

        return Wish(page, make)

    def use_fields(
        self, today: date, run: str = "", count: str = "1", outcome: str = "", note: str = ""
    ) -> tuple[Field, ...]:
        """The questions about a use."""
        words = self.words
        ran = (
            (str(RunOutcome.RAN), words.text(msg("it ran"))),
            (str(RunOutcome.BADLY), words.text(msg("it ran badly"))),
            (str(RunOutcome.DID_NOT), words.text(msg("it did not start"))),
        )
        return (
            self._day(today),
            self._field(
                "run",
                msg("For how long"),
                FieldSort.TEXT,
                default=run,
                hint=words.text(msg("Leave it empty when nobody looked at the clock.")),
                placeholder=words.text(msg("like 0.8 or 45 min")),
            ),
            self._field("count", msg("How many times"), FieldSort.TEXT, default=count),
            self._field(
                "outcome", msg("How it ran"), FieldSort.CHOICE, choices=ran, default=outcome
            ),
            self._field("note", msg("Note"), FieldSort.NOTE, default=note),
        )

    def made_use(
        self, answers: Mapping[str, object], judging: Judging, settings: HouseholdSettings
    ) -> LogUse | Said:
        """The act of a form for a use."""
        run = typed_hours(answers, "run", settings, self.words)
        if isinstance(run, Said):
            return run
        count = text(answers, "count")
        if not count.isascii() or not count.isdecimal() or len(count) > 4:
            return Said(self.words.text(msg("Type a whole number, like 1.")), "count")
        return LogUse(
            machine_id=judging.facts.machine_id,
            day=day(answers, "day"),
            run_seconds=None if run is None else run.stored,
            typed=run,
            count=int(count),
            outcome=RunOutcome(choice(answers, "outcome")),
            note=text(answers, "note"),
        )

    def work(
        self, judging: Judging, settings: HouseholdSettings, today: date, started: tuple[str, ...]
    ) -> Wish:
        """Work done: several tasks at once."""
        page = self._page("work", msg("Work done"), self.work_fields(judging, today, started))

        def make(answers: Mapping[str, object]) -> Made:
            return self.made_work(answers, judging, settings)

        return Wish(page, make)

    def work_fields(
        self, judging: Judging, today: date, started: tuple[str, ...], outcome: str = ""
    ) -> tuple[Field, ...]:
        """The questions about work."""
        words = self.words
        how = (
            (str(LineOutcome.DONE), words.text(msg("looked at or done, all well"))),
            (str(LineOutcome.REPLACED), words.text(msg("renewed: a new part is in"))),
            (str(LineOutcome.ASSUMED), words.text(msg("passed over: take it as done"))),
            (str(LineOutcome.FAILED), words.text(msg("tried, and it did not hold"))),
        )
        return (
            self._field(
                "tasks",
                msg("What was done"),
                FieldSort.TICKS,
                choices=self._work_choices(judging),
                default=started,
            ),
            self._field("outcome", msg("How"), FieldSort.CHOICE, choices=how, default=outcome),
            self._day(today),
            self._field(
                "shown",
                msg("The hour meter shows"),
                FieldSort.TEXT,
                hint=words.text(msg("If you looked.")),
            ),
            self._field("cost", msg("What it cost"), FieldSort.TEXT),
            self._field("by_whom", msg("Who did it"), FieldSort.TEXT),
            self._note(),
        )

    def _work_choices(self, judging: Judging) -> tuple[tuple[str, str], ...]:
        """Tasks, those asked for first, and open jobs."""
        order = {state: place for place, state in enumerate(TaskState)}
        verdicts = sorted(
            judging.verdict.tasks,
            key=lambda task: (order[task.state], (task.due or date.max), task.code),
        )
        jobs = tuple((f"job-{job.job_id}", job.text) for job in judging.facts.jobs)
        return (
            *jobs,
            *((str(task.code), self.words.task(task.code)) for task in verdicts),
        )

    def made_work(
        self, answers: Mapping[str, object], judging: Judging, settings: HouseholdSettings
    ) -> RecordWork | Said:
        """The act of a form for work."""
        words = self.words
        shown = typed_hours(answers, "shown", settings, words)
        if isinstance(shown, Said):
            return shown
        cents = amount(answers, "cost", words)
        if isinstance(cents, Said):
            return cents
        lines = lines_of(answers, "tasks")
        if not lines:
            return Said(words.text(msg("Tick at least one thing.")), "tasks")
        outcome = LineOutcome(choice(answers, "outcome"))
        given = tuple(
            LineGiven(job_id=int(line[4:]), outcome=outcome)
            if line.startswith("job-")
            else LineGiven(task=line, outcome=outcome)
            for line in lines
        )
        return RecordWork(
            machine_id=judging.facts.machine_id,
            day=day(answers, "day"),
            lines=given,
            by_whom=text(answers, "by_whom"),
            cents=cents,
            shown_seconds=None if shown is None else shown.stored,
            shown_typed=shown,
            note=text(answers, "note"),
        )

    def measure(
        self, judging: Judging, settings: HouseholdSettings, today: date, started: tuple[str, ...]
    ) -> Wish | Said:
        """A measurement taken."""
        choices = self._limit_choices(judging)
        if not choices:
            return Said(self.words.text(msg("Nothing on this machine is measured.")), "")
        page = self._page("measure", msg("Measure"), self.measure_fields(choices, today, started))

        def make(answers: Mapping[str, object]) -> Made:
            return self.made_measure(answers, judging, settings)

        return Wish(page, make)

    def made_measure(
        self, answers: Mapping[str, object], judging: Judging, settings: HouseholdSettings
    ) -> Measure | Said:
        """The act of a form for a measurement."""
        measured = self.made_reading(answers, settings)
        if isinstance(measured, Said):
            return measured
        return Measure(
            machine_id=judging.facts.machine_id, day=day(answers, "day"), measured=measured
        )

    def measure_fields(
        self, choices: tuple[tuple[str, str], ...], today: date, started: tuple[str, ...]
    ) -> tuple[Field, ...]:
        """The questions about a measurement."""
        words = self.words
        first = next((key for key, _ in choices if key.split("|")[0] in started), choices[0][0])
        sides = (
            ("", words.text(msg("there is only one"))),
            (str(Side.LEFT), words.text(msg("left"))),
            (str(Side.RIGHT), words.text(msg("right"))),
        )
        return (
            self._field(
                "limit", msg("What was measured"), FieldSort.CHOICE, choices=choices, default=first
            ),
            self._field(
                "found",
                msg("What you found"),
                FieldSort.TEXT,
                hint=words.text(
                    msg("The figure with its unit, like 1.6 mm or 1/16 in; or yes or no, if seen.")
                ),
            ),
            self._field("side", msg("Which side"), FieldSort.CHOICE, choices=sides),
            self._day(today),
            self._field("after_work", msg("Taken after the work"), FieldSort.YES),
            self._note(),
        )

    def _limit_choices(self, judging: Judging) -> tuple[tuple[str, str], ...]:
        found: list[tuple[str, str]] = []
        for item in judging.items:
            for task in item.tasks.values():
                for code in task.rule.limits:
                    limit = item.limits[code]
                    said = self.words.text(
                        msg("{limit}: worn when {worn}"),
                        limit=self.words.limit(code),
                        worn=self.words.worn_when(limit),
                    )
                    found.append((f"{task.code}|{code}", said))
        return tuple(found)

    def made_reading(
        self, answers: Mapping[str, object], settings: HouseholdSettings
    ) -> Measured | Said:
        """What the form says was measured."""
        task, code = choice(answers, "limit").split("|")
        limit = self.catalogue.limits[LimitCode(code)]
        side = choice(answers, "side")
        asked = Asked(words=self.words, settings=settings)
        if limit.direction is Direction.EVENT:
            seen = asked.yes_or_no(text(answers, "found"))
            if isinstance(seen, Said):
                return seen
            return self._measured(task, code, side, answers, seen=seen)
        typed = asked.amount_of(text(answers, "found"), limit)
        if isinstance(typed, Said):
            return typed
        return self._measured(task, code, side, answers, typed=typed)

    @staticmethod
    def _measured(
        task: str, code: str, side: str, answers: Mapping[str, object], **found: object
    ) -> Measured:
        typed = found.get("typed")
        return Measured(
            task=TaskCode(task),
            limit=LimitCode(code),
            amount=getattr(typed, "stored", None),
            typed=typed,  # type: ignore[arg-type]  # a Typed or None, as asked for above
            seen=found.get("seen"),  # type: ignore[arg-type]  # a bool or None
            side=Side(side) if side else None,
            after_work=bool(answers["after_work"]),
            note=text(answers, "note"),
        )

    # -- storage -------------------------------------------------------------------------------

    def store(self, judging: Judging, today: date, *, laid_up: bool) -> Wish:
        """Put away, or got out again."""
        if laid_up:
            page = self._page("wake", msg("Get it out again"), (self._day(today),))

            def wake(answers: Mapping[str, object]) -> Made:
                return Wake(machine_id=judging.facts.machine_id, on=day(answers, "day"))

            return Wish(page, wake)
        page = self._page(
            "store",
            msg("Put away"),
            (
                self._day(today),
                self._field("off_or_open", msg("What is off or open now"), FieldSort.NOTE),
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
            self._field(
                "fault",
                msg("Which fault"),
                FieldSort.CHOICE,
                choices=which,
                hint=words.text(msg("Choose one of the old ones when it is put right.")),
            ),
            self._field("text", msg("What it does, or how it was put right"), FieldSort.TEXT),
            self._field("stops_use", msg("It must not be used like this"), FieldSort.YES),
            self._day(today, msg("Since when")),
        )
        page = self._page("fault", msg("Something is wrong"), fields)

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
            self._field("text", msg("What is to be done"), FieldSort.TEXT),
            self._field("phase", msg("When"), FieldSort.CHOICE, choices=phases),
            self._field("waits_for", msg("What it waits for"), FieldSort.TEXT),
            self._field("minutes", msg("Minutes it will take"), FieldSort.TEXT, default="15"),
            self._field("part", msg("A part it needs"), FieldSort.TEXT),
        )
        page = self._page("job", msg("Note a job"), fields)

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
