"""The measurements of one part since it was fitted, and the day by which to plan its renewal."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import ceil, inf

from schedules.facts import Direction, LimitFacts, LimitReading, TaskFacts, WearAxis
from schedules.hours import Timeline
from schedules.lines import Point
from schedules.lives import LEAST_PARTS, own_rate, pace_of
from schedules.wear import WearOutlook, outlook

HOUR = 3600


@dataclass(frozen=True, slots=True)
class Foreseen:
    """An outlook with the days its three figures fall on; None beyond the horizon.

    `parts_before`: how many that were renewed tell how fast such parts wear here.
    """

    outlook: WearOutlook
    readings: tuple[LimitReading, ...]
    plan_by: date | None = None
    expected: date | None = None
    latest: date | None = None
    parts_before: int = 0


def readings_of(
    readings: Iterable[LimitReading], task: TaskFacts, limit: LimitFacts
) -> tuple[LimitReading, ...]:
    """Those that measured this limit on the task's own part, as figures."""
    return tuple(
        one
        for one in readings
        if one.limit == limit.code
        and one.amount is not None
        and (not limit.per_task or one.code == task.code)
    )


def series_of(
    readings: Iterable[LimitReading],
    task: TaskFacts,
    limit: LimitFacts,
    renewed: Iterable[int],
) -> tuple[LimitReading, ...]:
    """Readings since the part was renewed (days as ordinals); of several on one day the last.

    What is set anew (*between*) starts again with each reading taken after the work, and so does
    a part that is less worn after it: flaps screwed on, a bar turned round.
    """
    return _between(readings, task, limit, max(renewed, default=0), None)


def _between(
    readings: Iterable[LimitReading],
    task: TaskFacts,
    limit: LimitFacts,
    fitted: int,
    until: int | None,
) -> tuple[LimitReading, ...]:
    """Readings of the part that was fitted on one day and, unless it still is, renewed on another;
    what was measured on that day before the work is still the old part's."""
    found: dict[int, LimitReading] = {}
    for reading in readings_of(readings, task, limit):
        day = reading.day.toordinal()
        if day < fitted or (day == fitted and not reading.after_work):
            continue  # the part's before
        if until is not None and (day > until or (day == until and reading.after_work)):
            continue  # the next part's
        if reading.after_work and (
            limit.direction is Direction.BETWEEN or _is_back(limit, found.values(), reading)
        ):
            found.clear()
        found[day] = reading
    return tuple(found[day] for day in sorted(found))


def _is_back(limit: LimitFacts, before: Iterable[LimitReading], after: LimitReading) -> bool:
    last = max(before, key=lambda one: one.day, default=None)
    return last is not None and limit.is_back(last.amount or 0, after.amount or 0)


def foresee(
    measured: Iterable[LimitReading],
    task: TaskFacts,
    limit: LimitFacts,
    *,
    renewed: Iterable[int],
    timeline: Timeline,
) -> Foreseen | None:
    """What the readings come to; None where nothing wears or nothing was measured. The parts
    before say how fast such parts wear here; the series itself begins anew with each."""
    if limit.wears is None:
        return None
    measured, renewed = tuple(measured), tuple(renewed)
    readings = series_of(measured, task, limit, renewed)
    if not readings:
        return None
    by_days = limit.wears is WearAxis.DAYS

    def points(series: Iterable[LimitReading]) -> list[Point]:
        days = [(one.day.toordinal(), Fraction(one.amount or 0)) for one in series]
        return [
            (Fraction(day) if by_days else timeline.total(day) / HOUR, amount)
            for day, amount in days
        ]

    starts = sorted(set(renewed))
    before = [
        points(_between(measured, task, limit, fitted, until))
        for fitted, until in zip([0, *starts], starts, strict=False)
    ]
    paces = [pace for series in before if (pace := pace_of(series)) is not None]
    bound = limit.low if limit.low is not None else limit.high
    span = abs(Fraction(bound or 0) - (readings[0].amount or 0))
    found = outlook(points(readings), limit=limit, known=own_rate(paces, limit.wear, span=span))
    last = readings[-1].day.toordinal()

    def day_at(x: float | None) -> date | None:
        return _day_at(timeline, x, last, by_days=by_days)

    return Foreseen(
        found,
        readings,
        day_at(found.plan_by),
        day_at(found.expected),
        day_at(found.latest),
        len(paces) if len(paces) >= LEAST_PARTS else 0,
    )


def _day_at(timeline: Timeline, x: float | None, last: int, *, by_days: bool) -> date | None:
    """The first day after the last reading on which the axis stands at x or more."""
    if x is None or x == inf:
        return None
    if by_days:
        day: int | None = max(last + 1, ceil(x))
        day = day if day <= timeline.horizon else None
    else:
        seconds = Fraction(max(0.0, x)).limit_denominator(HOUR) * HOUR
        day = timeline.reaches(seconds, last)
    return None if day is None else date.fromordinal(day)
