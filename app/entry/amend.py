"""The forms that put a record of work or of fuel right: what is not touched stays as it is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from app.entry.fuel_forms import LOOKS, typed_volume
from app.entry.questions import Made, Questions
from app.pieces.asked import Said, amount, choice, day, lines_of, text, typed_hours
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import (
    AddOil,
    Drain,
    Fill,
    FuelAct,
    LookAtFuel,
    Pour,
    SetLevel,
    Stabilise,
    TopUp,
)
from models.acts.work import LineGiven, RecordWork
from models.facts.settings import HouseholdSettings
from models.words import LineOutcome
from schedules.facts import FuelSort, Gone, TaskCode
from schedules.plan import Judging

Make = Callable[[Mapping[str, object]], Made]
AS_ENTERED = "as-entered"
NOT_SAID = "not-said"


class Amend:
    """Makes these forms; their answers come to the act that takes the entry's place."""

    def __init__(self, *, words: Wording, settings: HouseholdSettings) -> None:
        self.words = words
        self.settings = settings
        self.ask = Questions(words)

    # -- work ----------------------------------------------------------------------------------

    def work(self, act: RecordWork, judging: Judging, shown: str) -> tuple[FormPage, Make]:
        """A record of work: its day, what was done, what it cost. `shown`: the meter, as typed."""
        there = tuple(
            (f"line-{place}", self._line_said(line, judging))
            for place, line in enumerate(act.lines)
        )
        taken = {line.task for line in act.lines}
        more = tuple(
            (str(one.code), self.words.task(one.code))
            for one in judging.verdict.tasks
            if one.code not in taken
        )
        fields = self._work_fields(act, there, more, shown)
        page = self.ask.page("work", msg("Work done"), fields)

        def make(answers: Mapping[str, object]) -> Made:
            return self._made_work(answers, act, shown)

        return page, make

    def _work_fields(
        self,
        act: RecordWork,
        there: tuple[tuple[str, str], ...],
        more: tuple[tuple[str, str], ...],
        shown: str,
    ) -> tuple[Field, ...]:
        words, ask, line = self.words, self.ask, FieldSort.TEXT
        outcomes = (
            (AS_ENTERED, words.text(msg("as it was entered"))),
            *((str(each), words.word(each)) for each in LineOutcome),
        )
        cost = "" if act.cents is None else f"{act.cents // 100}.{act.cents % 100:02}"
        return (
            ask.field(
                "tasks",
                msg("What was done"),
                FieldSort.TICKS,
                choices=(*there, *more),
                default=tuple(key for key, _ in there),
            ),
            ask.field(
                "outcome",
                msg("How did it go"),
                FieldSort.TILES,
                choices=outcomes,
                default=AS_ENTERED,
            ),
            ask.day(act.day),
            ask.field("shown", msg("The hour meter shows"), line, default=shown),
            ask.field("cost", msg("What it cost"), line, default=cost),
            ask.field(
                "minutes",
                msg("Minutes it took"),
                line,
                default="" if act.minutes is None else str(act.minutes),
            ),
            ask.field("by_whom", msg("Who did it"), line, default=act.by_whom),
            ask.field("note", msg("Note"), FieldSort.NOTE, default=act.note),
        )

    def _made_work(
        self, answers: Mapping[str, object], act: RecordWork, shown: str
    ) -> RecordWork | Said:
        words = self.words
        cents = amount(answers, "cost", words, self.settings.currency)
        if isinstance(cents, Said):
            return cents
        minutes = text(answers, "minutes")
        if minutes and not (minutes.isascii() and minutes.isdecimal() and len(minutes) < 6):
            return Said(words.text(msg("Type a whole number, like 1.")), "minutes")
        lines = self._lines(answers, act)
        if not lines:
            return Said(words.text(msg("Tick at least one thing.")), "tasks")
        read = typed_hours(answers, "shown", self.settings, words)
        if isinstance(read, Said):
            return read
        again = replace(
            act,
            day=day(answers, "day"),
            lines=lines,
            cents=cents,
            minutes=int(minutes) if minutes else None,
            by_whom=text(answers, "by_whom"),
            note=text(answers, "note"),
        )
        if text(answers, "shown") == shown:
            return again
        return replace(again, shown_seconds=None if read is None else read.stored, shown_typed=read)

    @staticmethod
    def _lines(answers: Mapping[str, object], act: RecordWork) -> tuple[LineGiven, ...]:
        """Those that stay as they are, but for how it went if that is said anew, and new ones."""
        way = choice(answers, "outcome")
        said = None if way == AS_ENTERED else LineOutcome(way)
        found: list[LineGiven] = []
        for key in lines_of(answers, "tasks"):
            place = key.removeprefix("line-")
            if place != key:
                line = act.lines[int(place)]
                found.append(line if said is None else replace(line, outcome=said))
            else:
                found.append(LineGiven(task=key, outcome=said or LineOutcome.DONE))
        return tuple(found)

    def _line_said(self, line: LineGiven, judging: Judging) -> str:
        if line.task is not None:
            return self.words.task(TaskCode(line.task))
        for job in judging.facts.jobs:
            if job.job_id == line.job_id:
                return job.text
        return self.words.text(msg("a job that is done"))

    # -- fuel ----------------------------------------------------------------------------------

    def fuel(self, act: FuelAct, volume: str) -> tuple[FormPage, Make]:
        """What happened to fuel: its day, how much, what sort. `volume`: as it can be typed."""
        words, ask = self.words, self.ask
        fields = [ask.day(act.day)]
        has_volume = isinstance(act, Fill | TopUp | Pour | Drain | AddOil | SetLevel)
        if has_volume:
            hint = words.text(msg("Leave it empty for full, or for all of it."))
            fields.append(
                ask.field("volume", msg("How much"), FieldSort.TEXT, default=volume, hint=hint)
            )
        if isinstance(act, Fill):
            sorts = tuple((str(sort), words.word(sort)) for sort in FuelSort)
            fields.append(
                ask.field(
                    "sort", msg("What sort"), FieldSort.CHOICE, choices=sorts, default=str(act.sort)
                )
            )
            fields.append(
                ask.field(
                    "treated",
                    msg("Stabiliser went in with it"),
                    FieldSort.YES,
                    default=act.stabilised,
                )
            )
        if isinstance(act, Drain | SetLevel):
            fields.append(self._gone(act))
        if isinstance(act, LookAtFuel):
            looks = tuple((str(look), words.word(look)) for look in LOOKS.values())
            fields.append(
                ask.field(
                    "look", msg("What you saw"), FieldSort.TILES, choices=looks, default=act.look
                )
            )
        fields.append(ask.field("note", msg("Note"), FieldSort.NOTE, default=act.note))
        page = ask.page("fuel", msg("Fuel"), tuple(fields))

        def make(answers: Mapping[str, object]) -> Made:
            return self._made_fuel(answers, act, volume)

        return page, make

    def _gone(self, act: Drain | SetLevel) -> Field:
        """What became of what went; of what a level found missing nobody may have said it."""
        words = self.words
        if isinstance(act, Drain):
            choices = tuple((str(one), words.word(one)) for one in Gone if one is not Gone.LOST)
            label, now = msg("What became of it"), str(act.gone)
        else:
            nobody = (NOT_SAID, words.text(msg("nobody said")))
            choices = (nobody, *((str(one), words.word(one)) for one in Gone))
            label = msg("What became of what was missing")
            now = NOT_SAID if act.missing is None else str(act.missing)
        return self.ask.field("gone", label, FieldSort.CHOICE, choices=choices, default=now)

    def _made_fuel(
        self, answers: Mapping[str, object], act: FuelAct, volume: str
    ) -> FuelAct | Said:
        words = self.words
        typed = typed_volume(text(answers, "volume"), self.settings, words)
        if isinstance(typed, Said):
            return typed
        when, note = day(answers, "day"), text(answers, "note")
        same = text(answers, "volume") == volume
        stored = None if typed is None else typed.stored
        match act:
            case LookAtFuel():
                look = next(one for one in LOOKS.values() if one == choice(answers, "look"))
                return replace(act, day=when, note=note, look=look)
            case Stabilise():
                return replace(act, day=when, note=note)
            case SetLevel() if typed is None:
                return Said(words.text(msg("Say how much is in it, like 2 L.")), "volume")
            case AddOil() if not stored:
                return Said(words.text(msg("Say how much oil it was, like 100 ml.")), "volume")
            case SetLevel():
                way = choice(answers, "gone")
                gone = None if way == NOT_SAID else Gone(way)
                again = replace(act, day=when, note=note, missing=gone, volume_ul=stored or 0)
                return again if same else replace(again, typed=typed)
            case Drain():
                again = replace(act, day=when, note=note, gone=Gone(choice(answers, "gone")))
            case Fill():
                treated, sort = bool(answers["treated"]), FuelSort(choice(answers, "sort"))
                again = replace(act, day=when, note=note, sort=sort, stabilised=treated)
                if again.bought_on is not None and again.bought_on == act.day:
                    again = replace(again, bought_on=when)  # bought on the day it went in
            case _:
                again = replace(act, day=when, note=note)
        return again if same else replace(again, volume_ul=stored, typed=typed)
