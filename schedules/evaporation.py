"""Light ends: what petrol loses to the air through a vent, and why starting gets hard.

The equation is the one that the US EPA's NONROAD2008a model takes for a vented tank warming and
cooling by the day (its file wadeeq.f): degrees Fahrenheit, pounds a square inch, US gallons, grams
a day. All of it is reckoned in fractions, so it says the same on every machine.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from schedules.keeping import FuelTable
from schedules.warmth import SCALE, MonthSums, month_sums

GRAMS_A_POUND = Fraction(45359237, 100_000)
_TOP = Fraction(115, 100)  # of the tank and what stands above it; the equation's own figure
_WARMED = Fraction(992, 1000)
_HIGHEST = Fraction(13)  # winter fuel in great heat boils: the equation has no meaning above
_PERCENT = tuple(Fraction(c) for c in ("66.401", "-12.718", "1.3067", "-0.077934", "0.0018407"))
_PRESSURE = tuple(
    Fraction(c) for c in ("14.697", "-0.53089", "0.0077215", "-0.000055631", "0.0000001769")
)
_SHAPES = 10**9  # parts that a fill's shape is held to


def fill_shape(fill: Fraction) -> Fraction:
    """Loss a litre of a vented tank so full (0 to 1) against one half full."""
    return (_TOP - fill) / fill / Fraction(13, 10)


def vapour_grams(
    *, fill: Fraction, gallons: Fraction, psi: Fraction, low_f: Fraction, high_f: Fraction
) -> Fraction:
    """Grams a day that a vented tank breathes out, warming from `low_f` to `high_f`.

    Source: US EPA, NONROAD2008a, wadeeq.f. Nought where the day is no warmer than the night.
    """
    if high_f <= low_f:
        return Fraction(0)
    space = (_TOP - fill) * gallons / Fraction("7.841")
    return space * _grams_a_foot(psi, low_f, high_f)


def _polynomial(coefficients: Sequence[Fraction], at: Fraction) -> Fraction:
    value = Fraction(0)
    for coefficient in reversed(coefficients):
        value = value * at + coefficient
    return value


@lru_cache(maxsize=2048)
def _grams_a_foot(psi: Fraction, low_f: Fraction, high_f: Fraction) -> Fraction:
    """Grams a day for each cubic foot of vapour space."""
    warmed = low_f + _WARMED * (high_f - low_f)
    true_psi = Fraction("1.0223") * psi + Fraction("0.0357") * psi / (1 - Fraction("0.0368") * psi)
    percent = _polynomial(_PERCENT, true_psi)
    slope = 262 / (percent / 6 + 560) - Fraction("0.0113")
    cool = min(_HIGHEST, _polynomial(_PRESSURE, percent + slope * (100 - low_f)))
    warm = min(_HIGHEST, _polynomial(_PRESSURE, percent + slope * (100 - warmed)))
    air = Fraction("14.7")
    weight = (
        Fraction("73.23")
        - Fraction("1.274") * psi
        + ((low_f + warmed) / 2 - 60) * Fraction("0.059")
    )
    breathed = (air - cool) / (low_f + 460) - (air - warm) / (warmed + 460)
    return (
        454
        * (Fraction("6.386") - Fraction("0.0186") * psi)
        * 520
        / (690 - 4 * weight)
        * ((cool / (air - cool) + warm / (air - warm)) / 2)
        * breathed
    )


def fahrenheit(celsius_mc: int) -> Fraction:
    """Degrees Fahrenheit of thousandths of a degree Celsius."""
    return Fraction(celsius_mc * 9, 5000) + 32


def vented_share(
    *,
    fill: Fraction,
    psi: Fraction,
    low_mc: int,
    high_mc: int,
    factor: Fraction,
    pounds_a_gallon: Fraction,
) -> Fraction:
    """Share of its mass that petrol in a vented tank loses a day."""
    grams = vapour_grams(
        fill=fill,
        gallons=Fraction(1),
        psi=psi,
        low_f=fahrenheit(low_mc),
        high_f=fahrenheit(high_mc),
    )
    return factor * grams / (fill * pounds_a_gallon * GRAMS_A_POUND)


@lru_cache(maxsize=1024)
def breathing_of(
    month_means_mc: tuple[int, ...],
    month_swings_mc: tuple[int, ...],
    psi: Fraction,
    factor: Fraction,
    pounds_a_gallon: Fraction,
    limit: Fraction,
) -> MonthSums:
    """Running share of the limit, in 1/SCALE, that a tank half full loses; the swing is from the
    coolest to the warmest of an ordinary day of the month."""
    half = Fraction(1, 2)
    return month_sums(
        tuple(
            max(
                0,
                round(
                    SCALE
                    * vented_share(
                        fill=half,
                        psi=psi,
                        low_mc=mean - swing // 2,
                        high_mc=mean + swing - swing // 2,
                        factor=factor,
                        pounds_a_gallon=pounds_a_gallon,
                    )
                    / limit
                ),
            )
            for mean, swing in zip(month_means_mc, month_swings_mc, strict=True)
        )
    )


@dataclass(frozen=True, slots=True)
class Levels:
    """How full a tank was from which ordinal on, as shapes in 1/_SHAPES."""

    days: tuple[int, ...]
    shapes: tuple[int, ...]

    def losses(self, breathing: MonthSums) -> Losses:
        """The running loss of what has stood in it, for one grade of fuel."""
        totals = [breathing.total(day) for day in self.days]
        lost = [0]
        for at in range(len(totals) - 1):
            lost.append(lost[-1] + self.shapes[at] * (totals[at + 1] - totals[at]))
        return Losses(breathing, self, tuple(totals), tuple(lost))


@dataclass(frozen=True, slots=True)
class Losses:
    """Running loss of one grade of fuel in one tank, in 1/(SCALE * _SHAPES) of the limit."""

    breathing: MonthSums
    levels: Levels
    totals: tuple[int, ...]
    lost: tuple[int, ...]

    def until(self, day: int) -> int:
        """The loss by the end of this ordinal, counted from the first level that is known."""
        at = max(0, bisect_right(self.levels.days, day) - 1)
        since = self.breathing.total(day) - self.totals[at]
        return self.lost[at] + self.levels.shapes[at] * since


def levels_of(
    levels: Sequence[tuple[int, int]], *, capacity_ul: int, volume_ul: int, table: FuelTable
) -> Levels:
    """`levels`: ordinal and microlitres, oldest first; with none it was always as full as now."""
    known = levels or ((1, volume_ul),)
    least = max(1, int(table.least_fill * capacity_ul))
    shapes: list[int] = []
    for _, level in known:
        held = min(max(level, least), capacity_ul)
        shapes.append((115 * capacity_ul - 100 * held) * 10 * _SHAPES // (1300 * held))
    return Levels(tuple(day for day, _ in known), tuple(shapes))


LOSS_SCALE = SCALE * _SHAPES
USUAL_SHAPE = _SHAPES
