"""How long the parts that were fitted before lasted, and how fast they wore, in this household.

A life goes from one renewal to the next; of a thing that came new the first goes from the day it
came. What was fitted when it came used has no beginning that anyone knows, and no life.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from statistics import NormalDist, stdev

from schedules.chances import student_point
from schedules.facts import WearRate
from schedules.lines import Point

LEAST_PARTS = 2
# Our judgement: that no two parts are quite alike, whatever was measured; and how exactly people
# measure, as a share of what may wear away.
LEAST_SPREAD = Fraction(1, 10)
READING_ERROR = Fraction(1, 50)
_LEVEL = 0.90


@dataclass(frozen=True, slots=True)
class Life:
    """How long one part served: run time of the thing it was fitted to, and days."""

    seconds: Fraction
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Lives:
    """Those of all parts before the one that is fitted; `count` at least one."""

    count: int
    least: Life
    middle: Life
    most: Life


def lives_of(renewed: Iterable[int], totals: Sequence[Fraction], began: int | None) -> Lives | None:
    """The lives between renewals (days as ordinals, oldest first) with the run time on each.

    `totals`: run time on `began`, where that is known, then on each day of renewal; None when no
    part has served its time here yet.
    """
    days = [*([] if began is None else [began]), *sorted(renewed)]
    served = [
        Life(totals[at + 1] - totals[at], days[at + 1] - days[at])
        for at in range(len(days) - 1)
        if days[at + 1] > days[at]
    ]
    if not served:
        return None
    seconds, spans = sorted(one.seconds for one in served), sorted(one.days for one in served)
    return Lives(
        count=len(served),
        least=Life(seconds[0], spans[0]),
        middle=Life(_median(seconds), round(_median([Fraction(one) for one in spans]))),
        most=Life(seconds[-1], spans[-1]),
    )


def _median(values: Sequence[Fraction]) -> Fraction:
    half = len(values) // 2
    return values[half] if len(values) % 2 else (values[half - 1] + values[half]) / 2


def pace_of(series: Sequence[Point]) -> Fraction | None:
    """How fast a part that was renewed had worn, from its first measurement to its last; without
    sign. None when it was measured once, or did not wear between them."""
    if len(series) < 2 or series[-1][0] <= series[0][0]:
        return None
    pace = abs(series[-1][1] - series[0][1]) / (series[-1][0] - series[0][0])
    return pace or None


def own_rate(
    paces: Sequence[Fraction], known: WearRate | None, *, span: Fraction
) -> WearRate | None:
    """What the parts before say of the next one. `span`: what may wear away, in stored units.

    Two and more stand for themselves: their mean, and by Student's t how far the next may lie from
    it, wide while they are few. One alone says nothing of how far parts differ, so that what is
    known stays as it was.
    """
    if len(paces) < LEAST_PARTS:
        return known
    error = known.reading_error if known is not None else max(Fraction(1), span * READING_ERROR)
    count = len(paces)
    mean = sum(paces, Fraction()) / count
    share = (1 + _LEVEL) / 2
    wider = student_point(share, count - 1) / NormalDist().inv_cdf(share)
    spread = stdev([float(pace) for pace in paces]) * sqrt(1 + 1 / count) * wider
    deviation = max(mean * LEAST_SPREAD, Fraction(spread).limit_denominator(10**6))
    return WearRate(rate=mean, deviation=deviation, reading_error=error)
