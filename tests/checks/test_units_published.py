"""Unit factors against published tables and two independent libraries.

Sources: NIST SP 811 appendix B.8 (printed to seven digits, some exact) and NIST Handbook 44
appendix C; scipy.constants and pint as second opinions.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pint
import pytest
import scipy.constants as oracle

from schedules.units import (
    Dimension,
    Quantity,
    Unit,
    UnitSystem,
    convert,
    parse_amount,
    rounded,
    rounded_mixed,
    stored_exactly,
    units_of,
)

# Exact by definition: unit, amount of the base unit named beside it.
DEFINED = [
    (Unit.INCH, Unit.METRE, "0.0254"),
    (Unit.FOOT, Unit.METRE, "0.3048"),
    (Unit.THOU, Unit.METRE, "0.0000254"),
    (Unit.US_GALLON, Unit.LITRE, "3.785411784"),
    (Unit.US_QUART, Unit.MILLILITRE, "946.352946"),
    (Unit.US_PINT, Unit.MILLILITRE, "473.176473"),
    (Unit.US_FLUID_OUNCE, Unit.MILLILITRE, "29.5735295625"),
    (Unit.IMPERIAL_GALLON, Unit.LITRE, "4.54609"),
    (Unit.IMPERIAL_FLUID_OUNCE, Unit.MILLILITRE, "28.4130625"),
    (Unit.IMPERIAL_PINT, Unit.MILLILITRE, "568.26125"),
    (Unit.POUND, Unit.KILOGRAM, "0.45359237"),
    (Unit.POUND_FORCE, Unit.NEWTON, "4.4482216152605"),
    (Unit.POUND_FORCE_FOOT, Unit.NEWTON_METRE, "1.3558179483314004"),
    (Unit.BAR, Unit.KILOPASCAL, "100"),
]
# As SP 811 prints them, to seven digits, in SI base units.
PRINTED = [
    (Unit.US_GALLON, Unit.LITRE, "3.785412"),
    (Unit.US_QUART, Unit.LITRE, "0.9463529"),
    (Unit.US_PINT, Unit.LITRE, "0.4731765"),
    (Unit.US_FLUID_OUNCE, Unit.MILLILITRE, "29.57353"),
    (Unit.IMPERIAL_FLUID_OUNCE, Unit.MILLILITRE, "28.41306"),
    (Unit.POUND, Unit.KILOGRAM, "0.4535924"),
    (Unit.POUND_FORCE, Unit.NEWTON, "4.448222"),
    (Unit.PSI, Unit.PASCAL, "6894.757"),
    (Unit.POUND_FORCE_FOOT, Unit.NEWTON_METRE, "1.355818"),
    (Unit.POUND_FORCE_INCH, Unit.NEWTON_METRE, "0.1129848"),
]
SCIPY = [
    (Unit.INCH, Unit.METRE, oracle.inch),
    (Unit.FOOT, Unit.METRE, oracle.foot),
    (Unit.THOU, Unit.METRE, oracle.mil),
    (Unit.US_GALLON, Unit.LITRE, oracle.gallon * 1000),
    (Unit.US_FLUID_OUNCE, Unit.LITRE, oracle.fluid_ounce * 1000),
    (Unit.IMPERIAL_GALLON, Unit.LITRE, oracle.gallon_imp * 1000),
    (Unit.IMPERIAL_FLUID_OUNCE, Unit.LITRE, oracle.fluid_ounce_imp * 1000),
    (Unit.POUND, Unit.KILOGRAM, oracle.pound),
    (Unit.POUND_FORCE, Unit.NEWTON, oracle.pound_force),
    (Unit.PSI, Unit.PASCAL, oracle.psi),
    (Unit.BAR, Unit.PASCAL, oracle.bar),
    (Unit.POUND_FORCE_FOOT, Unit.NEWTON_METRE, oracle.pound_force * oracle.foot),
]
PINT = {
    Unit.SECOND: "second",
    Unit.MINUTE: "minute",
    Unit.HOUR: "hour",
    Unit.MICROLITRE: "microliter",
    Unit.MILLILITRE: "milliliter",
    Unit.LITRE: "liter",
    Unit.US_FLUID_OUNCE: "fluid_ounce",
    Unit.US_PINT: "pint",
    Unit.US_QUART: "quart",
    Unit.US_GALLON: "gallon",
    Unit.IMPERIAL_FLUID_OUNCE: "imperial_fluid_ounce",
    Unit.IMPERIAL_PINT: "imperial_pint",
    Unit.IMPERIAL_QUART: "imperial_quart",
    Unit.IMPERIAL_GALLON: "imperial_gallon",
    Unit.MICROMETRE: "micrometer",
    Unit.MILLIMETRE: "millimeter",
    Unit.CENTIMETRE: "centimeter",
    Unit.METRE: "meter",
    Unit.THOU: "thou",
    Unit.INCH: "inch",
    Unit.FOOT: "foot",
    Unit.PASCAL: "pascal",
    Unit.KILOPASCAL: "kilopascal",
    Unit.BAR: "bar",
    Unit.PSI: "psi",
    Unit.MILLIVOLT: "millivolt",
    Unit.VOLT: "volt",
    Unit.MILLINEWTON: "millinewton",
    Unit.NEWTON: "newton",
    Unit.POUND_FORCE: "force_pound",
    Unit.MILLINEWTON_METRE: "millinewton * meter",
    Unit.NEWTON_METRE: "newton * meter",
    Unit.POUND_FORCE_FOOT: "force_pound * foot",
    Unit.POUND_FORCE_INCH: "force_pound * inch",
    Unit.MILLIGRAM: "milligram",
    Unit.GRAM: "gram",
    Unit.KILOGRAM: "kilogram",
    Unit.POUND: "pound",
    Unit.PERCENT: "percent",
    Unit.PERMILLE: "permille",
}
PINT_DIMENSIONS = (
    Dimension.TIME,
    Dimension.VOLUME,
    Dimension.LENGTH,
    Dimension.PRESSURE,
    Dimension.VOLTAGE,
    Dimension.FORCE,
    Dimension.TORQUE,
    Dimension.MASS,
    Dimension.SHARE,
)


def one(unit: Unit, base: Unit) -> Fraction:
    return convert(Quantity(Fraction(1), unit), base).amount


@pytest.mark.parametrize(("unit", "base", "exact"), DEFINED)
def test_methods_6_exact_by_definition(unit: Unit, base: Unit, exact: str) -> None:
    assert one(unit, base) == Fraction(exact)


def test_methods_6_pound_force_inch_and_psi_follow_from_the_definitions() -> None:
    assert one(Unit.POUND_FORCE_INCH, Unit.NEWTON_METRE) * 12 == Fraction("1.3558179483314004")
    inch = Fraction("0.0254")
    assert one(Unit.PSI, Unit.PASCAL) == Fraction("4.4482216152605") / inch**2
    # a US gallon is 231 cubic inches
    assert one(Unit.US_GALLON, Unit.LITRE) == 231 * inch**3 * 1000


@pytest.mark.parametrize(("unit", "base", "printed"), PRINTED)
def test_methods_6_as_printed_by_nist(unit: Unit, base: Unit, printed: str) -> None:
    exact, shown = one(unit, base), Fraction(printed)
    places = len(printed.partition(".")[2])
    assert abs(exact - shown) <= Fraction(1, 2 * 10**places)


@pytest.mark.parametrize(("unit", "base", "value"), SCIPY)
def test_methods_6_scipy_agrees(unit: Unit, base: Unit, value: float) -> None:
    assert float(one(unit, base)) == pytest.approx(value, rel=1e-15, abs=0)


@pytest.fixture(scope="module")
def registry() -> Any:
    exact: Any = Fraction  # declared to take floats only, and takes any number
    return pint.UnitRegistry(non_int_type=exact)


@pytest.mark.parametrize("dimension", PINT_DIMENSIONS)
def test_methods_6_pint_agrees_exactly(registry: Any, dimension: Dimension) -> None:
    base = units_of(dimension)[0]
    for unit in units_of(dimension):
        theirs = registry.Quantity(Fraction(1), PINT[unit]).to(PINT[base]).magnitude
        assert stored_exactly(1, unit) == theirs, unit


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(-40, -40), (32, 0), (212, 100)])
def test_methods_6_fixed_points_of_the_scales(fahrenheit: int, celsius: int) -> None:
    read = convert(Quantity(Fraction(fahrenheit), Unit.DEGREE_FAHRENHEIT), Unit.DEGREE_CELSIUS)
    assert read.amount == celsius
    back = convert(Quantity(Fraction(celsius), Unit.DEGREE_CELSIUS), Unit.DEGREE_FAHRENHEIT)
    assert back.amount == fahrenheit


@pytest.mark.parametrize(
    ("petrol", "ratio", "oil", "millilitres"),
    [
        (Quantity(Fraction(1), Unit.US_GALLON), 50, "2.56", "75.70823568"),
        (Quantity(Fraction(1), Unit.US_GALLON), 40, "3.2", "94.6352946"),
        (Quantity(Fraction(5), Unit.LITRE), 50, None, "100"),
    ],
)
def test_methods_6_mix(petrol: Quantity, ratio: int, oil: str | None, millilitres: str) -> None:
    share = Quantity(petrol.amount / ratio, petrol.unit)
    assert convert(share, Unit.MILLILITRE).amount == Fraction(millilitres)
    if oil is not None:
        assert convert(share, Unit.US_FLUID_OUNCE).amount == Fraction(oil)


def test_methods_6_the_two_gallons_and_the_two_fluid_ounces() -> None:
    gallons = one(Unit.IMPERIAL_GALLON, Unit.US_GALLON)
    assert rounded(gallons - 1, 3).digits == (2, 0, 1)  # a fifth more
    ounces = one(Unit.US_FLUID_OUNCE, Unit.IMPERIAL_FLUID_OUNCE)
    assert rounded(ounces - 1, 2).digits == (4,)  # and the other way round


def shown(text: str, dimension: Dimension, unit: Unit, places: int) -> Fraction:
    typed = parse_amount(text, dimension, system=UnitSystem.US, decimal_comma=False)
    amount = convert(Quantity(typed.amount, typed.unit), unit).amount
    sign, digits, exponent = rounded(amount, places)
    return (-1) ** sign * int("".join(map(str, digits))) * Fraction(10) ** exponent


@pytest.mark.parametrize(("inches", "millimetres"), [("0.028 in", "0.71"), ("0.030 in", "0.76")])
def test_sources_O_043_plug_gap(inches: str, millimetres: str) -> None:
    """Army technical manual on a small engine, tune-up data: the inches; millimetres derived."""
    assert shown(inches, Dimension.LENGTH, Unit.MILLIMETRE, 2) == Fraction(millimetres)


@pytest.mark.parametrize(
    ("pound_feet", "newton_metres"),
    [
        *(("15 lbf.ft", "20.3"), ("22 lbf.ft", "29.8")),  # O-044, 14 mm, gasket, aluminium
        *(("7 lbf.ft", "9.5"), ("11 lbf.ft", "14.9")),  # O-045, 10 mm, gasket
        *(("26 lbf.ft", "35.3"), ("29 lbf.ft", "39.3")),  # O-046, 14 mm, gasket, cast iron
    ],
)
def test_sources_O_044_O_045_O_046_plug_torque(pound_feet: str, newton_metres: str) -> None:
    """University extension table of spark plug torque."""
    assert shown(pound_feet, Dimension.TORQUE, Unit.NEWTON_METRE, 1) == Fraction(newton_metres)


def test_sources_O_048_belt_deflection_of_a_span_in_inches() -> None:
    """Army technical manual on belts: deflection is a sixty-fourth of the span."""
    assert Fraction(100, 64) == Fraction("1.5625")
    ruler = rounded_mixed(Fraction(100, 64), 64)
    assert (ruler.whole, ruler.numerator, ruler.denominator, ruler.exact) == (1, 9, 16, True)


def test_sources_O_049_belt_deflection_of_a_span_in_millimetres() -> None:
    typed = parse_amount("400 mm", Dimension.LENGTH, system=UnitSystem.METRIC, decimal_comma=False)
    assert Fraction(typed.stored, 64) == stored_exactly(Fraction("6.25"), Unit.MILLIMETRE)


def test_sources_O_053_charging_warmth() -> None:
    """US Fire Administration prints 32 to 105 F for 0 to 40 C: rounded up to the next five."""
    assert shown("32 F", Dimension.TEMPERATURE, Unit.DEGREE_CELSIUS, 0) == 0
    assert shown("105 F", Dimension.TEMPERATURE, Unit.DEGREE_CELSIUS, 0) == 41
    assert shown("104 F", Dimension.TEMPERATURE, Unit.DEGREE_CELSIUS, 1) == 40


def test_sources_O_054_generator_distance() -> None:
    """US Consumer Product Safety Commission: 20 feet, printed as 6.1 m."""
    assert shown("20 ft", Dimension.LENGTH, Unit.METRE, 1) == Fraction("6.1")


def test_sources_O_059_lifting() -> None:
    """NIOSH lifting equation: load constant 51 lb = 23 kg."""
    assert shown("51 lb", Dimension.MASS, Unit.KILOGRAM, 0) == 23
