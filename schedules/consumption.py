"""How much an engine burns: from its power, or better, learnt from what went into it.

What is reckoned from hours is never evidence for hours, nor the other way round.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from statistics import median

# Both are published by the US EPA; the first is taken throughout.
POUNDS_A_GALLON = Fraction(617, 100)
US_GALLON_UL = Fraction(3_785_411_784, 1000)
GRAMS_A_KILOWATT_HOUR = Fraction(45_359_237, 100_000) / Fraction(745_699_872, 1_000_000_000)
# Of a mean over all loads: our judgement.
SPREAD = Fraction(30, 100)
_LAST_FILLS = 5
_HOUR = 3600


def gallons_an_hour(
    *, horsepower: Fraction, load: Fraction, pounds: Fraction, density: Fraction = POUNDS_A_GALLON
) -> Fraction:
    """US gallons an hour: power, share of it that is used, pounds a horsepower and hour.

    Source: the form of US EPA, NONROAD2008a, with its load factors and consumption figures.
    """
    return horsepower * load * pounds / density


def ul_an_hour(
    *, horsepower: Fraction, load: Fraction, pounds: Fraction, density: Fraction = POUNDS_A_GALLON
) -> Fraction:
    """The same in microlitres an hour."""
    return US_GALLON_UL * gallons_an_hour(
        horsepower=horsepower, load=load, pounds=pounds, density=density
    )


def grams_a_kilowatt_hour(pounds: Fraction) -> Fraction:
    """Of pounds a horsepower and hour."""
    return pounds * GRAMS_A_KILOWATT_HOUR


def burnt_ul(run_seconds: int, an_hour: Fraction) -> int:
    """Whole microlitres burnt in so much run time, halves up."""
    return int(an_hour * run_seconds / _HOUR + Fraction(1, 2))


def learnt_ul_an_hour(fills: Sequence[tuple[int, int]]) -> Fraction | None:
    """Median of the last fills, each microlitres and the run seconds they lasted; None where none
    lasted any time."""
    lasted = [Fraction(ul * _HOUR, seconds) for ul, seconds in fills if seconds > 0]
    return median(lasted[-_LAST_FILLS:]) if lasted else None
