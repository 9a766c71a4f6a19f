"""The year of one machine, from what the engine says: which marks, on which days, in which words.

Computed outside of any widget; nothing is judged anew.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from app.pieces.year import MarkSort, Year, YearMark
from app.wording.languages import msg
from app.wording.lines import Line
from app.wording.wording import Wording
from schedules.facts import Band, PreSeason, TaskCode, TaskState, VesselSort, VesselVerdict
from schedules.intervals import months_on
from schedules.plan import Judging

MONTHS = 13
START = "start"
JOB = "job-"
FUEL = "fuel-"
_SORTS = {
    TaskState.OVERDUE: MarkSort.OVERDUE,
    TaskState.NOT_KNOWN: MarkSort.NOT_KNOWN,
    TaskState.DUE: MarkSort.DUE,
    TaskState.COMING: MarkSort.COMING,
    TaskState.CLEAR: MarkSort.LATER,
}
_PAST_IT = (Band.BURN, Band.DRAIN, Band.NOT_FOR_THIS)
_Spot = tuple[MarkSort, int]


def year_of(judging: Judging, season: PreSeason) -> Year:
    """The thirteen months from the day the machine was judged on."""
    today = judging.almanac.today
    days = months_on(today, MONTHS) - today
    marks = [
        *_task_marks(judging, days),
        *_fuel_marks(judging.verdict.fuel, date.fromordinal(today), days),
        *_flag(season, today, days),
    ]
    marks.sort(key=lambda mark: (mark.day, mark.sort, mark.keys))
    return Year(days=days, seasons=_seasons(judging, days), marks=tuple(marks))


def _seasons(judging: Judging, days: int) -> tuple[tuple[int, int], ...]:
    """The runs of days in season that the machine is not laid up through."""
    almanac = judging.almanac
    calendar, today = almanac.calendar, almanac.today
    if not calendar.has_seasons:
        return ((0, days),)
    found: list[tuple[int, int]] = []
    for place in range(max(0, calendar.started(today)), len(calendar.firsts) - 1):
        first, last = calendar.firsts[place] - today, calendar.lasts[place] - today
        if first > days:
            break
        if last >= 0 and not almanac.slept_through(place):
            found.append((max(first, 0), min(last, days)))
    return tuple(found)


def _task_marks(judging: Judging, days: int) -> Iterable[YearMark]:
    today = judging.almanac.today
    spots: dict[_Spot, list[tuple[str, int, int]]] = {}
    for task in judging.verdict.tasks:
        if task.due is None:
            continue
        day = task.due.toordinal() - today
        early = day if task.due_early is None else task.due_early.toordinal() - today
        late = days if task.due_late is None else task.due_late.toordinal() - today
        spots.setdefault((_SORTS[task.state], day), []).append((task.code, early, late))
    for job in judging.verdict.jobs:
        if job.due is not None:
            day = job.due.toordinal() - today
            spots.setdefault((_SORTS[job.state], day), []).append((f"{JOB}{job.job_id}", day, day))
    for (sort, day), things in spots.items():
        if day <= days:
            yield YearMark(
                sort=sort,
                day=max(day, -1) if sort is MarkSort.OVERDUE else max(day, 0),
                early=min(max(min(early for _, early, _ in things), 0), days),
                late=min(max(late for _, _, late in things), days),
                keys=tuple(key for key, _, _ in things),
            )


def _fuel_marks(fuel: tuple[VesselVerdict, ...], on: date, days: int) -> Iterable[YearMark]:
    """The day a tank's fuel turns; fuel that has turned waits in the bay."""
    for vessel in fuel:
        if vessel.sort is VesselSort.CAN or vessel.volume_ul == 0:
            continue
        if vessel.band in _PAST_IT:
            day = -1
        elif vessel.burn_on is not None:
            day = max((vessel.burn_on - on).days, 0)
        else:
            continue
        if day <= days:
            key = f"{FUEL}{vessel.vessel_id}"
            yield YearMark(sort=MarkSort.FUEL, day=day, early=day, late=day, keys=(key,))


def _flag(season: PreSeason, today: int, days: int) -> Iterable[YearMark]:
    """The day by which the work before the season is begun."""
    if season.start_by is None or not (season.tasks or season.carried):
        return
    day = max(season.start_by.toordinal() - today, -1)
    if day <= days:
        yield YearMark(sort=MarkSort.FLAG, day=day, early=day, late=day, keys=(START,))


# -- in words ---------------------------------------------------------------------------------

_HEADS = {
    MarkSort.OVERDUE: msg("Overdue: {things}"),
    MarkSort.NOT_KNOWN: msg("Nobody knows when last done: {things}"),
    MarkSort.DUE: msg("Due {day}: {things}"),
    MarkSort.COMING: msg("Coming up {day}: {things}"),
    MarkSort.LATER: msg("{day}: {things}"),
    MarkSort.FLAG: msg("Begin the work before the season by {day}"),
}
MOST_NAMED = 4


class YearWords:
    """Says the marks of a household's machines on one day."""

    def __init__(self, words: Wording, on: date) -> None:
        self._words = words
        self._on = on

    def mark(self, mark: YearMark) -> str:
        """One mark as a sentence without its stop."""
        words, day = self._words, self._on + timedelta(days=mark.day)
        if mark.sort is MarkSort.FUEL:
            if mark.day < 0:
                return words.text(msg("The fuel in it is past keeping"))
            return words.text(msg("The fuel in it is past keeping from {day}"), day=day)
        if mark.sort is MarkSort.FLAG and mark.day < 0:
            return words.text(msg("The work before the season should have begun"))
        named = [self._thing(key) for key in mark.keys[:MOST_NAMED]]
        more = len(mark.keys) - MOST_NAMED
        if more > 0:
            named.append(words.count(msg("{n} more"), msg("{n} more"), more))
        said = words.text(_HEADS[mark.sort], day=day, things=words.listed(named))
        if mark.late > mark.early and mark.sort is not MarkSort.OVERDUE:
            early, late = (self._on + timedelta(days=at) for at in (mark.early, mark.late))
            band = msg("{mark} (with more or less use between {early} and {late})")
            said = words.text(band, mark=said, early=early, late=late)
        return said

    def _thing(self, key: str) -> str:
        if key.startswith(JOB):
            return self._words.text(msg("a job you noted"))
        return self._words.task(TaskCode(key))

    def row(self, year: Year) -> str:
        """The whole year of a machine in words, for whoever does not see the drawing."""
        words = self._words
        said: list[str] = []
        for first, last in year.seasons:
            if first == 0 and last >= year.days:
                said.append(words.text(msg("In season all year.")))
                continue
            days = [self._on + timedelta(days=day) for day in (first, last)]
            said.append(
                words.text(msg("In season {first} to {last}."), first=days[0], last=days[1])
            )
        if not year.seasons:
            said.append(words.text(msg("No season in the next thirteen months.")))
        said += [f"{self.mark(mark)}." for mark in year.marks]
        return " ".join(said)


def grounds(
    judging: Judging, season: PreSeason, keys: Iterable[str], words: Wording
) -> tuple[tuple[Line, ...], ...]:
    """Why these things stand where they stand: one tree each; what is gone has none."""
    tasks = {str(task.code): task.reason for task in judging.verdict.tasks}
    jobs = {f"{JOB}{job.job_id}": job.reason for job in judging.verdict.jobs}
    fuel = {f"{FUEL}{vessel.vessel_id}": vessel.reason for vessel in judging.verdict.fuel}
    reasons = {**tasks, **jobs}
    found: list[tuple[Line, ...]] = []
    for key in keys:
        if key == START:
            found.append(_start_lines(judging, season, words))
        elif key in fuel:
            found.append(words.tree(fuel[key]))
        elif key in reasons:
            found.append(words.tree(reasons[key], machine=judging.facts.name))
    return tuple(found)


def _start_lines(judging: Judging, season: PreSeason, words: Wording) -> tuple[Line, ...]:
    """What the flag stands for: the season, the days before it, the minutes of the list."""
    if season.season is None:
        return ()
    minutes = season.look_minutes + season.do_minutes
    count = len(season.tasks) + len(season.carried)
    days = judging.almanac.policy.ready_days
    said = (
        words.text(msg("The season begins on {day}"), day=season.season.first),
        words.text(msg("The work before it is begun {days} ahead"), days=words.days(days)),
        words.text(
            msg("It is {tasks}, {minutes} in all"),
            tasks=words.count(msg("{n} task"), msg("{n} tasks"), count),
            minutes=words.minutes(minutes),
        ),
    )
    return tuple(Line(min(place, 1), text, "", "") for place, text in enumerate(said))
