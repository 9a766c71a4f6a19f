"""The year of a machine that is looked after: which of its tasks belong to which visit."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from models.acts.work import LineGiven
from models.words import LineOutcome
from resources.loader import load_catalogue
from sample_db.chronicle import Chronicle
from sample_db.deeds import line, put_away, wake, work
from schedules.facts import KindCode, Phase, TaskFacts

MonthDay = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """A machine's kind and features, and what its owner never gets round to."""

    kind: str
    features: Mapping[str, str] = field(default_factory=dict[str, str])
    left: frozenset[str] = frozenset()

    def tasks(self) -> tuple[TaskFacts, ...]:
        """The tasks that stand on it and are looked after."""
        kind = load_catalogue().kinds[KindCode(self.kind)]
        answers = self.features
        return tuple(
            task for task in kind.tasks if _stands(task, answers) and task.code not in self.left
        )

    def going_over(self) -> tuple[LineGiven, ...]:
        """Everything that would otherwise stay unknown for ever: the first going-over."""
        return _lines(task for task in self.tasks() if _needs_a_start(task))

    def at(self, *phases: Phase, year: int, besides: Collection[str] = ()) -> tuple[LineGiven, ...]:
        """What belongs to the phases, in that year: work for every other year in even ones."""
        return _lines(
            task
            for task in self.tasks()
            if (set(phases) & set(task.rule.phases) or task.code in besides)
            and not task.rule.each_use
            and (year % 2 == 0 or (task.rule.months or 0) < 24)
        )

    def by_hours(self, at_most: int) -> tuple[LineGiven, ...]:
        """What falls due within so many hours: the middle of a long season."""
        seconds = at_most * 3600
        return _lines(task for task in self.tasks() if 0 < (task.rule.run_seconds or 0) <= seconds)


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """The days of a machine's year on which somebody sees to it: before its season, in it, and at
    its end, when it is put away. `off`: a day of its rest. `hours_between`: what falls due within
    so many hours is done at each visit. `tenths`: what its meter shows, in tenths of an hour."""

    before: MonthDay
    after: MonthDay
    middle: tuple[MonthDay, ...] = ()
    off: MonthDay | None = None
    hours_between: int = 0
    left_off: str = ""
    last_words: str = "Put away for the season."
    by: str = ""
    tenths: Callable[[date], int] | None = None


def look_after(
    story: Chronicle,
    name: str,
    upkeep: Upkeep,
    year: Year,
    *,
    since: date,
    going_over: date | None = None,
) -> None:
    """The visits of each year since that day. `going_over`: the day on which a machine with an
    unknown past was gone over from end to end."""

    def visit(day: date, lines: tuple[LineGiven, ...], note: str) -> None:
        if day == going_over:
            lines, note = upkeep.going_over(), "First going-over, from end to end."
        spent = minutes(lines, upkeep.kind)
        tenths = None if year.tenths is None else year.tenths(day)
        deed = work(name, day, lines, minutes=spent, tenths=tenths, by=year.by, note=note)
        story.add(day, deed)

    first = going_over or since
    for day in story.yearly(*year.before, since=first):
        story.add(day, wake(name, day))
        by_hours = upkeep.by_hours(year.hours_between)
        lines = _joined(upkeep.at(Phase.BEFORE, year=day.year), by_hours)
        visit(day, lines, "Before the season.")
    for month_day in year.middle:
        for day in story.yearly(*month_day, since=first):
            by_hours = upkeep.by_hours(year.hours_between)
            lines = _joined(upkeep.at(Phase.MIDDLE, Phase.IN, year=day.year), by_hours)
            visit(day, lines, "")
    for day in story.yearly(*year.after, since=first):
        visit(day, upkeep.at(Phase.END, year=day.year), year.last_words)
        story.add(day, put_away(name, day, off=year.left_off))
    if year.off is not None:
        for day in story.yearly(*year.off, since=first):
            visit(day, upkeep.at(Phase.OFF, year=day.year), "")


def minutes(lines: Iterable[LineGiven], kind: str) -> int:
    """How long those lines take somebody who knows the machine, to five minutes."""
    looks = {
        str(task.code): task.look_minutes for task in load_catalogue().kinds[KindCode(kind)].tasks
    }
    return -(-sum(looks.get(one.task or "", 0) for one in lines) // 5) * 5


def _joined(*lists: tuple[LineGiven, ...]) -> tuple[LineGiven, ...]:
    """Each task once."""
    return tuple({one.task: one for lines in lists for one in lines}.values())


def _stands(task: TaskFacts, answers: Mapping[str, str]) -> bool:
    for condition in task.applies:
        answer = answers.get(condition.feature)
        if not (condition.unknown if answer is None else answer in condition.values):
            return False
    return True


def _needs_a_start(task: TaskFacts) -> bool:
    rule = task.rule
    if rule.each_use or rule.on_sight or rule.on_fault or rule.fuel_age:
        return False
    return rule.phases != (Phase.END,) or bool(rule.months or rule.run_seconds)


def _lines(tasks: Iterable[TaskFacts]) -> tuple[LineGiven, ...]:
    return tuple(
        line(task.code, LineOutcome.REPLACED if task.replaces else LineOutcome.DONE)
        for task in tasks
    )
