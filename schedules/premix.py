"""Oil in two-stroke fuel, and stabiliser: how much to measure, and how to put a mix right.

A ratio is parts of petrol to one of oil, and counts the petrol, not the mix. The machine's own
manual sets it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from schedules.units import Quantity, Unit, convert

_MEASURES = {
    Unit.LITRE: Unit.MILLILITRE,
    Unit.MILLILITRE: Unit.MILLILITRE,
    Unit.MICROLITRE: Unit.MICROLITRE,
    Unit.US_GALLON: Unit.US_FLUID_OUNCE,
    Unit.US_QUART: Unit.US_FLUID_OUNCE,
    Unit.US_PINT: Unit.US_FLUID_OUNCE,
    Unit.IMPERIAL_GALLON: Unit.IMPERIAL_FLUID_OUNCE,
    Unit.IMPERIAL_QUART: Unit.IMPERIAL_FLUID_OUNCE,
    Unit.IMPERIAL_PINT: Unit.IMPERIAL_FLUID_OUNCE,
}
# Our judgement: too little oil wears, too much fouls; how far off is still well.
_MORE_OIL, _LESS_OIL = Fraction(110, 100), Fraction(95, 100)


def _checked(ratio: Fraction) -> Fraction:
    if ratio <= 0:
        raise ValueError(f"{ratio} parts of petrol to one of oil")
    return ratio


def oil_ul(petrol_ul: int, ratio: Fraction) -> Fraction:
    """Microlitres of oil for so much petrol."""
    return petrol_ul / _checked(ratio)


def petrol_ul(oil: int, ratio: Fraction) -> Fraction:
    """Microlitres of petrol that so much oil is right for."""
    return oil * _checked(ratio)


def oil_for(petrol: Quantity, ratio: Fraction) -> Quantity:
    """The oil, in the measure that goes with the petrol's: millilitres to litres, fluid ounces of
    the same side of the ocean to gallons. Raises KeyError where the petrol is not a volume."""
    return convert(Quantity(petrol.amount / _checked(ratio), petrol.unit), _MEASURES[petrol.unit])


def dose_for(petrol: Quantity, dose: Fraction) -> Quantity:
    """The stabiliser, `dose` parts of it to one of petrol, measured as the oil is."""
    return convert(Quantity(petrol.amount * dose, petrol.unit), _MEASURES[petrol.unit])


def parts_of(mix_ul: int, ratio: Fraction) -> tuple[Fraction, Fraction]:
    """Petrol and oil in so much mix, in microlitres."""
    oil = mix_ul / (_checked(ratio) + 1)
    return mix_ul - oil, oil


def ratio_of(petrol: Fraction, oil: Fraction) -> Fraction | None:
    """The ratio of so much petrol and oil; None without oil."""
    return None if oil <= 0 else petrol / oil


def blended(mixes: Iterable[tuple[int, Fraction | None]]) -> Fraction | None:
    """The ratio of mixes poured together, each with its own; None is plain petrol."""
    petrol, oil = Fraction(0), Fraction(0)
    for volume_ul, ratio in mixes:
        if ratio is None:
            petrol += volume_ul
        else:
            part, rest = parts_of(volume_ul, ratio)
            petrol, oil = petrol + part, oil + rest
    return ratio_of(petrol, oil)


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What to add to a mix, in microlitres; one of the two is nought."""

    oil_ul: Fraction
    petrol_ul: Fraction


def corrected(mix_ul: int, ratio: Fraction, wanted: Fraction) -> Correction:
    """What brings a mix of one ratio to another: oil to a leaner one, petrol to a richer one."""
    petrol, oil = parts_of(mix_ul, ratio)
    nought = Fraction(0)
    return Correction(
        oil_ul=max(nought, petrol / _checked(wanted) - oil),
        petrol_ul=max(nought, oil * wanted - petrol),
    )


class Mixed(StrEnum):
    """How a mix stands to the ratio it should have."""

    RIGHT = "right"
    TOO_LITTLE_OIL = "too_little_oil"
    TOO_MUCH_OIL = "too_much_oil"


def judge_mix(ratio: Fraction, wanted: Fraction) -> Mixed:
    """Whether to warn: of more than a tenth too much oil, or a twentieth too little."""
    oil = wanted / _checked(ratio)
    if oil > _MORE_OIL:
        return Mixed.TOO_MUCH_OIL
    return Mixed.TOO_LITTLE_OIL if oil < _LESS_OIL else Mixed.RIGHT
