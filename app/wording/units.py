"""In which units a household reads its figures, and how each is written."""

from collections.abc import Iterable
from dataclasses import dataclass, fields, replace
from fractions import Fraction

from app.wording.languages import msg
from schedules.units import (
    Dimension,
    MixedNumber,
    Unit,
    UnitSystem,
    dimension_of,
    from_stored,
    rounded_mixed,
    stored_exactly,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitChoice:
    """One unit to read for each dimension that has several."""

    length: Unit = Unit.MILLIMETRE
    volume: Unit = Unit.LITRE
    pressure: Unit = Unit.KILOPASCAL
    torque: Unit = Unit.NEWTON_METRE
    temperature: Unit = Unit.DEGREE_CELSIUS
    mass: Unit = Unit.KILOGRAM
    force: Unit = Unit.NEWTON


METRIC = UnitChoice()
UK = UnitChoice(pressure=Unit.PSI)
US = UnitChoice(
    length=Unit.INCH,
    volume=Unit.US_GALLON,
    pressure=Unit.PSI,
    torque=Unit.POUND_FORCE_FOOT,
    temperature=Unit.DEGREE_FAHRENHEIT,
    mass=Unit.POUND,
    force=Unit.POUND_FORCE,
)
OF_SYSTEM = {UnitSystem.METRIC: METRIC, UnitSystem.UK: UK, UnitSystem.US: US}


def unit_choice(system: UnitSystem, own: Iterable[tuple[Dimension, Unit]] = ()) -> UnitChoice:
    """The units of a system, with those the household reads differently in their place."""
    names = {field.name for field in fields(UnitChoice)}
    found = {dimension.value: unit for dimension, unit in own if dimension.value in names}
    return replace(OF_SYSTEM[system], **found)


# What each unit is called behind a figure. Where a language has a shorter word it is translated.
SYMBOLS: dict[Unit, str] = {
    Unit.SECOND: msg("s"),
    Unit.MINUTE: msg("min"),
    Unit.HOUR: msg("h"),
    Unit.MICROLITRE: msg("µL"),
    Unit.MILLILITRE: msg("mL"),
    Unit.LITRE: msg("L"),
    Unit.US_FLUID_OUNCE: msg("US fl oz"),
    Unit.US_PINT: msg("US pt"),
    Unit.US_QUART: msg("US qt"),
    Unit.US_GALLON: msg("US gal"),
    Unit.IMPERIAL_FLUID_OUNCE: msg("fl oz"),
    Unit.IMPERIAL_PINT: msg("pt"),
    Unit.IMPERIAL_QUART: msg("qt"),
    Unit.IMPERIAL_GALLON: msg("gal"),
    Unit.MICROMETRE: msg("µm"),
    Unit.MILLIMETRE: msg("mm"),
    Unit.CENTIMETRE: msg("cm"),
    Unit.METRE: msg("m"),
    Unit.THOU: msg("thou"),
    Unit.INCH: msg("in"),
    Unit.FOOT: msg("ft"),
    Unit.PASCAL: msg("Pa"),
    Unit.KILOPASCAL: msg("kPa"),
    Unit.BAR: msg("bar"),
    Unit.PSI: msg("psi"),
    Unit.MILLIVOLT: msg("mV"),
    Unit.VOLT: msg("V"),
    Unit.MILLINEWTON: msg("mN"),
    Unit.NEWTON: msg("N"),
    Unit.POUND_FORCE: msg("lbf"),
    Unit.MILLINEWTON_METRE: msg("mN·m"),
    Unit.NEWTON_METRE: msg("N·m"),
    Unit.POUND_FORCE_FOOT: msg("lbf·ft"),
    Unit.POUND_FORCE_INCH: msg("lbf·in"),
    Unit.MILLIDEGREE_CELSIUS: msg("m°C"),
    Unit.DEGREE_CELSIUS: msg("°C"),
    Unit.DEGREE_FAHRENHEIT: msg("°F"),
    Unit.MILLIGRAM: msg("mg"),
    Unit.GRAM: msg("g"),
    Unit.KILOGRAM: msg("kg"),
    Unit.POUND: msg("lb"),
    Unit.PERMILLE: msg("‰"),
    Unit.PERCENT: msg("%"),
}

# Where a small amount has a handier unit, and below how much of the large one.
_SMALLER: dict[Unit, tuple[Fraction, Unit]] = {
    Unit.LITRE: (Fraction(1), Unit.MILLILITRE),
    Unit.US_GALLON: (Fraction(1, 4), Unit.US_FLUID_OUNCE),
    Unit.IMPERIAL_GALLON: (Fraction(1, 4), Unit.IMPERIAL_FLUID_OUNCE),
    Unit.KILOGRAM: (Fraction(1), Unit.GRAM),
}

# Decimal places to read: below one, from one to ten, from ten on.
_PLACES: dict[Unit, tuple[int, int, int]] = {
    Unit.MILLIMETRE: (2, 2, 1),
    Unit.INCH: (3, 3, 2),
    Unit.LITRE: (2, 2, 1),
    Unit.US_GALLON: (2, 2, 1),
    Unit.IMPERIAL_GALLON: (2, 2, 1),
    Unit.US_FLUID_OUNCE: (1, 1, 0),
    Unit.IMPERIAL_FLUID_OUNCE: (1, 1, 0),
    Unit.BAR: (2, 2, 1),
    Unit.PSI: (1, 1, 0),
    Unit.VOLT: (2, 2, 1),
    Unit.NEWTON: (1, 1, 0),
    Unit.POUND_FORCE: (1, 1, 0),
    Unit.NEWTON_METRE: (1, 1, 0),
    Unit.POUND_FORCE_FOOT: (1, 1, 0),
    Unit.KILOGRAM: (2, 2, 1),
    Unit.POUND: (2, 1, 1),
    Unit.HOUR: (1, 1, 1),
    Unit.PERCENT: (1, 1, 1),
}

# A ruler's part is shown when it is this near to the amount; a feeler gauge reads thousandths.
_RULER_MISS = Fraction(2, 100)
_RULER_PARTS = (2, 4, 8, 16, 32)


def reading_unit(amount: Fraction, unit: Unit, choice: UnitChoice) -> tuple[Fraction, Unit]:
    """An amount in the unit it is read in: the household's choice, the smaller one when small."""
    stored = stored_exactly(amount, unit)
    target = _target(unit, choice)
    if target is None:
        return amount, unit
    found = from_stored(stored, target)
    if target in _SMALLER and found != 0 and abs(found) < _SMALLER[target][0]:
        target = _SMALLER[target][1]
        found = from_stored(stored, target)
    return found, target


def _target(unit: Unit, choice: UnitChoice) -> Unit | None:
    match dimension_of(unit):
        case Dimension.TIME:
            return Unit.HOUR
        case Dimension.LENGTH:
            return choice.length
        case Dimension.VOLUME:
            return choice.volume
        case Dimension.PRESSURE:
            return choice.pressure
        case Dimension.TORQUE:
            return choice.torque
        case Dimension.TEMPERATURE:
            return choice.temperature
        case Dimension.MASS:
            return choice.mass
        case Dimension.VOLTAGE:
            return Unit.VOLT
        case Dimension.FORCE:
            return choice.force
        case Dimension.SHARE:
            return Unit.PERCENT
        case _:
            return None


def places(amount: Fraction, unit: Unit) -> int:
    """How many decimal places of an amount in this unit anybody reads."""
    small, middle, large = _PLACES.get(unit, (0, 0, 0))
    size = abs(amount)
    if size < 1:
        return small
    return middle if size < 10 else large


def ruler_part(inches: Fraction) -> MixedNumber | None:
    """The amount as a ruler shows it, or None when no mark is near enough."""
    for denominator in _RULER_PARTS:
        mixed = rounded_mixed(inches, denominator)
        shown = mixed.whole + Fraction(mixed.numerator, mixed.denominator)
        if shown and abs(shown - abs(inches)) <= _RULER_MISS * shown:
            return mixed
    return None
