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
from schedules.wear import WearOutlook, outlook

HOUR = 3600


@dataclass(frozen=True, slots=True)
class Foreseen:
    """An outlook with the days its three figures fall on; None beyond the horizon."""

    outlook: WearOutlook
    readings: tuple[LimitReading, ...]
    plan_by: date | None = None
    expected: date | None = None
    latest: date | None = None


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

    What is set anew (*between*) starts again with each reading taken after the work.
    """
    fitted = max(renewed, default=0)
    found: dict[int, LimitReading] = {}
    for reading in readings_of(readings, task, limit):
        day = reading.day.toordinal()
        if day < fitted or (day == fitted and not reading.after_work):
            continue  # the old part's
        if reading.after_work and limit.direction is Direction.BETWEEN:
            found.clear()
        found[day] = reading
    return tuple(found[day] for day in sorted(found))


def foresee(
    measured: Iterable[LimitReading],
    task: TaskFacts,
    limit: LimitFacts,
    *,
    renewed: Iterable[int],
    timeline: Timeline,
) -> Foreseen | None:
    """What the readings come to; None where nothing wears or nothing was measured."""
    if limit.wears is None:
        return None
    readings = series_of(measured, task, limit, renewed)
    if not readings:
        return None
    by_days = limit.wears is WearAxis.DAYS
    points: list[Point] = []
    for reading in readings:
        day = reading.day.toordinal()
        x = Fraction(day) if by_days else timeline.total(day) / HOUR
        points.append((x, Fraction(reading.amount or 0)))
    found = outlook(points, limit=limit, known=limit.wear)
    last = readings[-1].day.toordinal()

    def day_at(x: float | None) -> date | None:
        return _day_at(timeline, x, last, by_days=by_days)

    return Foreseen(
        found, readings, day_at(found.plan_by), day_at(found.expected), day_at(found.latest)
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
