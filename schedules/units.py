"""Quantities, exactly: stored units, typed units, factors from their definitions.

Source of the factors: NIST SP 811 appendix B.8 and NIST Handbook 44 appendix C (inch 0.0254 m,
pound 0.45359237 kg, standard gravity 9.80665 m/s2, US gallon 231 cubic inches, imperial gallon
4.54609 L: all exact by definition).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Unit(StrEnum):
    """Units that are stored or typed. The first of each dimension is the stored one."""

    SECOND = "s"
    MINUTE = "min"
    HOUR = "h"
    DAY = "d"
    MONTH = "month"
    MICROLITRE = "ul"
    MICROMETRE = "um"
    PASCAL = "Pa"
    MILLIVOLT = "mV"
    MILLINEWTON = "mN"
    MILLINEWTON_METRE = "mN.m"
    MILLIDEGREE_CELSIUS = "mC"
    PERMILLE = "permille"
    CENT = "cent"
    COUNT = "count"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact amount in a unit."""

    amount: Fraction
    unit: Unit


def hours(seconds: Fraction | int) -> Quantity:
    """Run time given in seconds, as a quantity in seconds (the stored unit)."""
    return Quantity(Fraction(seconds), Unit.SECOND)
