"""The forms for what is entered most: hours, uses, work, measurements."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.entry.first_day import counted
from app.entry.measuring import measurements, measuring
from app.entry.out_again import out_again
from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import (
    Asked,
    Said,
    amount,
    choice,
    day,
    lines_of,
    text,
    typed_hours,
    whole_number,
)
from app.pieces.form import HEAD, Field, FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.corrections import CorrectEntry
from models.acts.hours import Lower, ReadHours
from models.acts.readings import Measure, Measured
from models.acts.uses import LogUse
from models.acts.work import LineGiven, RecordWork
from models.changes import Area
from models.facts.records import RecordedEntry
from models.facts.settings import HouseholdSettings
from models.words import LineOutcome, RunOutcome, Side
from resources.loader import Catalogue
from schedules.facts import (
    Direction,
    LimitCode,
    TaskCode,
    TaskState,
)
from schedules.plan import Judging

MISTYPED = "mistyped"
SURE = "sure"


class Forms:
    """Makes the forms of the commonest acts, and the acts of their answers."""

    def __init__(self, *, words: Wording, catalogue: Catalogue) -> None:
        self.words = words
        self.catalogue = catalogue
        self.ask = Questions(words)

    # -- the commonest acts --------------------------------------------------------------------

    def hours(
        self,
        judging: Judging,
        settings: HouseholdSettings,
        today: date,
        records: tuple[RecordedEntry, ...],
    ) -> Wish:
        """What the hour meter shows. `records`: what was read before."""
        page = self.ask.page(
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
            if choice(answers, "lower") != MISTYPED:
                return self.made_hours(answers, judging, settings)
            made = self.made_hours({**answers, "lower": ""}, judging, settings)
            if isinstance(made, Said):
                return made
            wrong = _higher_before(records, made)
            if wrong is None:
                said = msg("No higher reading before that day is here to be put right.")
                return Said(self.words.text(said), "lower")
            return CorrectEntry(entry_id=wrong.entry_id, by=made)

        return Wish(page, make, then=lambda _: out_again(judging, self.words, today))

    def hours_fields(
        self, today: date, shown: str, note: str, *, correcting: bool = False
    ) -> tuple[Field, ...]:
        """The questions about an hour meter."""
        words = self.words
        lower = [
            ("", words.text(msg("it does not"))),
            (str(Lower.ROLLED_OVER), words.text(msg("it has gone round to nought"))),
            (str(Lower.REPLACED), words.text(msg("it is a new meter"))),
        ]
        if not correcting:
            said = msg("the earlier one was mistyped: this takes its place")
            lower.append((MISTYPED, words.text(said)))
        return (
            self.ask.field(
                "shown",
                msg("The hour meter shows"),
                FieldSort.TEXT,
                default=shown,
                placeholder=words.text(msg("like 31.4")),
            ),
            self.ask.day(today),
            self.ask.field(
                "lower", msg("If it shows less than before"), FieldSort.CHOICE, choices=tuple(lower)
            ),
            self.ask.field("note", msg("Note"), FieldSort.NOTE, default=note),
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
        page = self.ask.page("use", msg("It was used"), self.use_fields(today))

        def again(made: LogUse) -> Wish:
            run = "" if made.typed is None else made.typed.text
            fields = self.use_fields(made.day, run, str(made.count), str(made.outcome), made.note)
            known = self.ask.page("use", msg("It was used"), fields)
            return Wish(known, lambda answers: self.made_use(answers, judging, settings))

        def make(answers: Mapping[str, object]) -> Made:
            return counted(self.made_use(answers, judging, settings), judging, self.words, again)

        return Wish(page, make, then=lambda _: out_again(judging, self.words, today))

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
            self.ask.day(today),
            self.ask.field(
                "run",
                msg("For how long"),
                FieldSort.TEXT,
                default=run,
                hint=words.text(msg("Leave it empty when nobody looked at the clock.")),
                placeholder=words.text(msg("like 0.8 or 45 min")),
            ),
            self.ask.field(
                "outcome",
                msg("How it ran"),
                FieldSort.TILES,
                choices=ran,
                default=outcome or str(RunOutcome.RAN),
            ),
            self.ask.field(
                "count", msg("How many times"), FieldSort.TEXT, default=count, later=True
            ),
            self.ask.field("note", msg("Note"), FieldSort.NOTE, default=note, later=True),
        )

    def made_use(
        self, answers: Mapping[str, object], judging: Judging, settings: HouseholdSettings
    ) -> LogUse | Said:
        """The act of a form for a use."""
        run = typed_hours(answers, "run", settings, self.words)
        if isinstance(run, Said):
            return run
        count = whole_number(answers, "count", self.words, digits=4)
        if isinstance(count, Said):
            return count
        return LogUse(
            machine_id=judging.facts.machine_id,
            day=day(answers, "day"),
            run_seconds=None if run is None else run.stored,
            typed=run,
            count=count,
            outcome=RunOutcome(choice(answers, "outcome")),
            note=text(answers, "note"),
        )

    def work(
        self, judging: Judging, settings: HouseholdSettings, today: date, started: tuple[str, ...]
    ) -> Wish:
        """Work done: several tasks at once."""
        page = self.ask.page("work", msg("Work done"), self.work_fields(judging, today, started))

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
            self.ask.field(
                "tasks",
                msg("What was done"),
                FieldSort.TICKS,
                choices=self._work_choices(judging, started),
                # Several that are asked for together stand on top, but nobody has done them yet.
                default=started if len(started) == 1 else (),
            ),
            self.ask.field(
                "outcome", msg("How did it go"), FieldSort.CHOICE, choices=how, default=outcome
            ),
            self.ask.day(today),
            self.ask.field(
                "shown",
                msg("The hour meter shows"),
                FieldSort.TEXT,
                hint=words.text(msg("If you looked.")),
            ),
            self.ask.field("cost", msg("What it cost"), FieldSort.TEXT, later=True),
            self.ask.field("by_whom", msg("Who did it"), FieldSort.TEXT, later=True),
            self.ask.field("note", msg("Note"), FieldSort.NOTE, later=True),
        )

    def _work_choices(
        self, judging: Judging, started: tuple[str, ...]
    ) -> tuple[tuple[str, str], ...]:
        """What was asked for on top, then jobs, then tasks, those asked for first."""
        order = {state: place for place, state in enumerate(TaskState)}
        verdicts = sorted(
            judging.verdict.tasks,
            key=lambda task: (order[task.state], (task.due or date.max), task.code),
        )
        jobs = tuple((f"job-{job.job_id}", job.text) for job in judging.facts.jobs)
        choices = (*jobs, *((str(task.code), self.words.task(task.code)) for task in verdicts))
        return tuple(sorted(choices, key=lambda choice: choice[0] not in started))

    def made_work(
        self, answers: Mapping[str, object], judging: Judging, settings: HouseholdSettings
    ) -> RecordWork | Said:
        """The act of a form for work."""
        words = self.words
        shown = typed_hours(answers, "shown", settings, words)
        if isinstance(shown, Said):
            return shown
        cents = amount(answers, "cost", words, settings.currency)
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
        choices = measurements(judging, self.words)
        if not choices:
            return Said(self.words.text(msg("Nothing on this machine is measured.")), "")
        details = measuring(judging, self.words)
        fields = self.measure_fields(choices, today, started, details=details)
        page = self.ask.page("measure", msg("Measure"), fields)

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
        self,
        choices: tuple[tuple[str, str], ...],
        today: date,
        started: tuple[str, ...],
        *,
        details: Mapping[str, str] | None = None,
        found: str = "",
        side: str = "",
        after_work: bool = False,
        note: str = "",
    ) -> tuple[Field, ...]:
        """The questions about a measurement."""
        words = self.words
        keys = [key for key, _ in choices if not key.startswith(HEAD)]
        first = next((key for key in keys if key.split("|")[0] in started), keys[0])
        sides = (
            ("", words.text(msg("there is only one"))),
            (str(Side.LEFT), words.text(msg("left"))),
            (str(Side.RIGHT), words.text(msg("right"))),
        )
        return (
            self.ask.field(
                "limit",
                msg("What was measured"),
                FieldSort.CHOICE,
                choices=choices,
                default=first,
                details=details or {},
            ),
            self.ask.field(
                "found",
                msg("What you found"),
                FieldSort.TEXT,
                default=found,
                hint=words.text(
                    msg("The figure with its unit, like 1.6 mm or 1/16 in; or yes or no, if seen.")
                ),
            ),
            self.ask.field("side", msg("Which side"), FieldSort.TILES, choices=sides, default=side),
            self.ask.day(today),
            self.ask.field(
                "after_work",
                msg("Taken after the work"),
                FieldSort.YES,
                default=after_work,
                later=True,
            ),
            self.ask.field(SURE, msg("It is right as it stands"), FieldSort.YES, later=True),
            self.ask.field("note", msg("Note"), FieldSort.NOTE, default=note, later=True),
        )

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
            typed=typed,  # type: ignore[arg-type]  # a Typed or None
            seen=found.get("seen"),  # type: ignore[arg-type]  # a bool or None
            side=Side(side) if side else None,
            after_work=bool(answers["after_work"]),
            sure=bool(answers.get(SURE)),
            note=text(answers, "note"),
        )


def _higher_before(records: tuple[RecordedEntry, ...], made: ReadHours) -> RecordedEntry | None:
    """The last reading on or before that day that shows more."""
    found = [
        entry
        for entry in records
        if entry.area is Area.HOURS
        and not entry.superseded
        and entry.shown is not None
        and entry.shown.amount > made.shown_seconds
        and entry.day <= made.day
    ]
    return max(found, key=lambda entry: (entry.day, entry.entry_id), default=None)
