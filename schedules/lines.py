"""The straight line through measurements, and how far it can be trusted.

Sums are exact fractions; only roots and the distribution of t are floating point. Source of the
intervals: Draper and Smith, Applied Regression Analysis, 3rd ed. 1998, pp. 47-51; Fieller 1954;
as printed by Greenwell and Schubert Kabban, R Journal 6/1 (2014), doi 10.32614/RJ-2014-009.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

from schedules.chances import student_point

Point = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Interval:
    """From, to, and the value between that is most likely."""

    low: float
    centre: float
    high: float


@dataclass(frozen=True, slots=True)
class Fit:
    """Least squares: y = at_zero + slope * x. `through_zero`: the line was made to pass there.

    `rest` is the sum of squares that the line does not explain, `freedom` its degrees of freedom.
    """

    at_zero: Fraction
    slope: Fraction
    rest: Fraction
    count: int
    mean_x: Fraction
    spread_x: Fraction
    through_zero: bool = False

    @property
    def freedom(self) -> int:
        """Measurements less what the line itself took from them."""
        return self.count - (1 if self.through_zero else 2)

    @property
    def variance(self) -> Fraction:
        """Variance of one measurement about the line. Raises ZeroDivisionError without freedom."""
        return self.rest / self.freedom

    @property
    def deviation(self) -> float:
        """Standard deviation of one measurement about the line."""
        return sqrt(self.variance)

    @property
    def slope_error(self) -> float:
        """Standard error of the slope."""
        return sqrt(self.variance / self.spread_x)

    @property
    def at_zero_error(self) -> float:
        """Standard error of the height at x = 0; nought for a line made to pass through it."""
        if self.through_zero:
            return 0.0
        return sqrt(self.variance * (Fraction(1, self.count) + self.mean_x**2 / self.spread_x))

    def at(self, x: Fraction) -> Fraction:
        """Height of the line at x."""
        return self.at_zero + self.slope * x

    def band(self, x: Fraction, *, level: float, single: bool = False) -> Interval:
        """The mean at x between two bounds; `single`: one new measurement instead."""
        away = (x - self.mean_x) ** 2 / self.spread_x
        share = (Fraction(0) if self.through_zero else Fraction(1, self.count)) + away
        reach = student_point((1 + level) / 2, self.freedom)
        reach *= sqrt(self.variance * (share + (1 if single else 0)))
        centre = float(self.at(x))
        return Interval(centre - reach, centre, centre + reach)


def fit_line(points: Sequence[Point]) -> Fit:
    """The line of least squares. Raises ValueError below two different x."""
    count = len(points)
    if count < 2:
        raise ValueError("a line needs two points")
    mean_x = Fraction(sum(x for x, _ in points), count)
    mean_y = Fraction(sum(y for _, y in points), count)
    spread_x = sum(((x - mean_x) ** 2 for x, _ in points), Fraction())
    if spread_x == 0:
        raise ValueError("a line needs two different x")
    slope = sum(((x - mean_x) * (y - mean_y) for x, y in points), Fraction()) / spread_x
    at_zero = mean_y - slope * mean_x
    rest = sum(((y - at_zero - slope * x) ** 2 for x, y in points), Fraction())
    return Fit(at_zero, slope, rest, count, mean_x, spread_x)


def fit_through_zero(points: Sequence[Point]) -> Fit:
    """The line through the origin. Raises ValueError when every x is nought."""
    spread_x = sum((x * x for x, _ in points), Fraction())
    if spread_x == 0:
        raise ValueError("a line needs an x off nought")
    slope = sum((x * y for x, y in points), Fraction()) / spread_x
    rest = sum(((y - slope * x) ** 2 for x, y in points), Fraction())
    return Fit(Fraction(), slope, rest, len(points), Fraction(), spread_x, through_zero=True)


def reaches(fit: Fit, height: Fraction, *, level: float, readings: int = 0) -> Interval | None:
    """At which x the line comes to a height; None when that cannot be said with such certainty.

    `readings`: how many measurements are to read that height in the mean (calibration); 0 asks
    for the line itself (regulation). Fieller's interval, finite only while the slope differs from
    nought at the level asked for.
    """
    if fit.freedom < 1 or fit.slope == 0:
        return None
    reach = student_point((1 + level) / 2, fit.freedom)
    curl = reach**2 * float(fit.variance / (fit.slope**2 * fit.spread_x))
    if curl >= 1:
        return None
    share = float(Fraction(0) if fit.through_zero else Fraction(1, fit.count))
    if readings:
        share += 1 / readings
    crossing = float((height - fit.at_zero) / fit.slope)
    away = crossing - float(fit.mean_x)
    shift = away * curl / (1 - curl)
    root = sqrt(max(0.0, away**2 / float(fit.spread_x) + (1 - curl) * share))
    half = reach * fit.deviation / abs(float(fit.slope)) * root / (1 - curl)
    return Interval(crossing + shift - half, crossing, crossing + shift + half)


def flatness(fit: Fit, *, level: float) -> float:
    """Fieller's g: at one and above nothing can be said about where the line will be.

    Infinite for a flat line and without freedom.
    """
    if fit.freedom < 1 or fit.slope == 0:
        return float("inf")
    reach = student_point((1 + level) / 2, fit.freedom)
    return reach**2 * float(fit.variance / (fit.slope**2 * fit.spread_x))
