"""Running totals by month: what the days of a place add up to, without a walk over the days.

Decision: a rate stands still within a month, so a total is a handful of whole numbers and what
happened between two days is one subtraction.
"""

from __future__ import annotations

from bisect import bisect_left
from calendar import isleap, monthrange
from dataclasses import dataclass
from datetime import date
from decimal import Context, Decimal
from fractions import Fraction
from functools import lru_cache
from math import exp

PLACES = 12
SCALE = 10**PLACES
_PRECISION = Context(prec=40)
_TWENTY_MC = 20_000
_FOUR_HUNDRED_YEARS_LEAPS = 97


@dataclass(frozen=True, slots=True)
class MonthSums:
    """Running total of a daily amount that is the same on all days of a month, January first."""

    amounts: tuple[int, ...]
    starts: tuple[tuple[int, ...], tuple[int, ...]]
    common_year: int

    def total(self, day: int) -> int:
        """The sum over all days up to and including this ordinal, since the start of year 1."""
        asked = date.fromordinal(day)
        year, month = asked.year, asked.month
        return (
            self._before(year)
            + self.starts[isleap(year)][month - 1]
            + asked.day * self.amounts[month - 1]
        )

    def first_day(self, wanted: int) -> int | None:
        """The first ordinal whose total is as much; None after the last day there is.

        Every daily amount must be above nought.
        """
        if wanted <= 0:
            return 1
        cycle = 400 * self.common_year + _FOUR_HUNDRED_YEARS_LEAPS * self.amounts[1]
        year = wanted * 400 // cycle + 1
        before = self._before(year)
        while before >= wanted:
            year -= 1
            before = self._before(year)
        while before + self._whole(year) < wanted:
            before += self._whole(year)
            year += 1
        if year > date.max.year:
            return None
        rest = wanted - before
        starts = self.starts[isleap(year)]
        month = bisect_left(starts, rest)
        days = -((starts[month - 1] - rest) // self.amounts[month - 1])
        return date(year, month, 1).toordinal() + days - 1

    def _whole(self, year: int) -> int:
        return self.common_year + (self.amounts[1] if isleap(year) else 0)

    def _before(self, year: int) -> int:
        past = year - 1
        leap_days = past // 4 - past // 100 + past // 400
        return past * self.common_year + leap_days * self.amounts[1]


def month_sums(amounts: tuple[int, ...]) -> MonthSums:
    """Raises ValueError when there are not twelve of them."""
    if len(amounts) != 12:
        raise ValueError("a place has twelve months")
    starts: list[tuple[int, ...]] = []
    sums: list[int] = []
    for year in (2023, 2024):
        running = 0
        at: list[int] = []
        for month, amount in enumerate(amounts, start=1):
            at.append(running)
            running += monthrange(year, month)[1] * amount
        starts.append(tuple(at))
        sums.append(running)
    return MonthSums(amounts, (starts[0], starts[1]), sums[0])


@lru_cache(maxsize=1024)
def ageing_rate(mean_mc: int, floor: Fraction, doubling_degrees: int) -> Fraction:
    """How many days at 20 degrees one day at this mean (millidegrees Celsius) counts for.

    Not below the floor. The power is irrational, so it is held to twelve decimal places, the same
    on every machine, and exact from there on.
    """
    steps = _PRECISION.divide(Decimal(mean_mc - _TWENTY_MC), Decimal(doubling_degrees * 1000))
    power = _PRECISION.power(Decimal(2), steps)
    return max(Fraction(round(Fraction(power) * SCALE), SCALE), floor)


@lru_cache(maxsize=512)
def warmth_of(month_means_mc: tuple[int, ...], floor: Fraction, doubling_degrees: int) -> MonthSums:
    """Days at 20 degrees that the days of a place count for, in 1/SCALE days."""
    return month_sums(
        tuple(int(ageing_rate(mean, floor, doubling_degrees) * SCALE) for mean in month_means_mc)
    )


def in_the_south(month_means_mc: tuple[int, ...]) -> bool:
    """Whether December to February are the warm months of a place."""
    return sum(month_means_mc[month] for month in (11, 0, 1)) > sum(month_means_mc[5:8])


_GAS = 8.314462618  # joules a mole and kelvin
_KELVIN = 273.15
HOT_MC = (
    26_700  # from here on heat ages petrol faster than a doubling for ten degrees: count double
)


def days_at(days: float, *, from_c: float, to_c: float, joules_a_mole: float) -> float:
    """How long fuel keeps at another warmth by Arrhenius' law: a second opinion on the doubling.

    Storage trials of a government laboratory (US Bureau of Mines, RI 7197, 1968) come to 105.5
    kilojoules a mole, which is nearly four times as fast for ten degrees more.
    """
    return days * exp(joules_a_mole / _GAS * (1 / (to_c + _KELVIN) - 1 / (from_c + _KELVIN)))
