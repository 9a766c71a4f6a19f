"""Reading typed amounts: what is taken, what is refused and with which code."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from schedules.units import (
    Dimension,
    MixedNumber,
    Quantity,
    Unit,
    UnitRefusal,
    UnitRefusedError,
    UnitSystem,
    convert,
    dimension_of,
    entry_text,
    from_stored,
    implied_unit,
    parse_amount,
    rounded,
    rounded_mixed,
    stored_unit,
    to_stored,
    units_of,
)

METRIC, UK, US = UnitSystem.METRIC, UnitSystem.UK, UnitSystem.US

TAKEN = [
    ("1/16", Dimension.LENGTH, US, 1588, Fraction(1, 16), Unit.INCH),
    ("1-1/4", Dimension.LENGTH, US, 31_750, Fraction(5, 4), Unit.INCH),
    ("1 1/4 in", Dimension.LENGTH, UK, 31_750, Fraction(5, 4), Unit.INCH),
    ('3/8"', Dimension.LENGTH, METRIC, 9525, Fraction(3, 8), Unit.INCH),
    ("3/8″", Dimension.LENGTH, METRIC, 9525, Fraction(3, 8), Unit.INCH),
    ("1½ in.", Dimension.LENGTH, METRIC, 38_100, Fraction(3, 2), Unit.INCH),
    ("2' 3\"", Dimension.LENGTH, US, 685_800, Fraction(27), Unit.INCH),
    ("2 ft 3 1/2 in", Dimension.LENGTH, METRIC, 698_500, Fraction(55, 2), Unit.INCH),
    ("2'", Dimension.LENGTH, US, 609_600, Fraction(2), Unit.FOOT),
    (".030", Dimension.LENGTH, US, 762, Fraction(3, 100), Unit.INCH),
    ("30 thou", Dimension.LENGTH, METRIC, 762, Fraction(30), Unit.THOU),
    ("  0.76\u00a0mm ", Dimension.LENGTH, US, 760, Fraction(19, 25), Unit.MILLIMETRE),
    ("6.1 m", Dimension.LENGTH, US, 6_100_000, Fraction(61, 10), Unit.METRE),
    ("5 fl. oz.", Dimension.VOLUME, US, 147_868, Fraction(5), Unit.US_FLUID_OUNCE),
    ("1 gal", Dimension.VOLUME, UK, 4_546_090, Fraction(1), Unit.IMPERIAL_GALLON),
    ("1 US gal", Dimension.VOLUME, UK, 3_785_412, Fraction(1), Unit.US_GALLON),
    ("1/2 qt", Dimension.VOLUME, US, 473_176, Fraction(1, 2), Unit.US_QUART),
    ("600 ml", Dimension.VOLUME, US, 600_000, Fraction(600), Unit.MILLILITRE),
    ("17", Dimension.PRESSURE, US, 117_211, Fraction(17), Unit.PSI),
    ("1.2 bar", Dimension.PRESSURE, US, 120_000, Fraction(6, 5), Unit.BAR),
    ("20 ft-lb", Dimension.TORQUE, METRIC, 27_116, Fraction(20), Unit.POUND_FORCE_FOOT),
    ("90 lbf.in", Dimension.TORQUE, METRIC, 10_169, Fraction(90), Unit.POUND_FORCE_INCH),
    ("20 N·m", Dimension.TORQUE, US, 20_000, Fraction(20), Unit.NEWTON_METRE),
    ("12.6", Dimension.VOLTAGE, US, 12_600, Fraction(63, 5), Unit.VOLT),
    ("80 mV", Dimension.VOLTAGE, US, 80, Fraction(80), Unit.MILLIVOLT),
    ("-40", Dimension.TEMPERATURE, US, -40_000, Fraction(-40), Unit.DEGREE_FAHRENHEIT),
    ("−5 °C", Dimension.TEMPERATURE, US, -5000, Fraction(-5), Unit.DEGREE_CELSIUS),
    ("2 lb", Dimension.MASS, METRIC, 907_185, Fraction(2), Unit.POUND),
    ("4.2 lbf", Dimension.FORCE, METRIC, 18_683, Fraction(21, 5), Unit.POUND_FORCE),
    ("1:30", Dimension.TIME, US, 5400, Fraction(3, 2), Unit.HOUR),
    ("1 h 5 min", Dimension.TIME, US, 3900, Fraction(13, 12), Unit.HOUR),
    ("12.7", Dimension.TIME, US, 45_720, Fraction(127, 10), Unit.HOUR),
    ("90 min", Dimension.TIME, US, 5400, Fraction(90), Unit.MINUTE),
    ("10 %", Dimension.SHARE, US, 100, Fraction(10), Unit.PERCENT),
    ("3", Dimension.COUNT, US, 3, Fraction(3), Unit.COUNT),
    ("30", Dimension.DAYS, US, 30, Fraction(30), Unit.DAY),
    ("0", Dimension.LENGTH, US, 0, Fraction(0), Unit.INCH),
]

REFUSED = [
    ("", Dimension.LENGTH, UnitRefusal.EMPTY),
    ("   ", Dimension.LENGTH, UnitRefusal.EMPTY),
    ("9" * 10_000, Dimension.LENGTH, UnitRefusal.TOO_LONG),
    (" " * 10_000 + "1", Dimension.LENGTH, UnitRefusal.TOO_LONG),
    ("nan", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("inf", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("mm", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("5\x00", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("5\nmm", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("٣", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("３", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("🔟", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("²", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("5.", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    (".", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("5 -3", Dimension.LENGTH, UnitRefusal.NOT_A_NUMBER),
    ("3️⃣", Dimension.LENGTH, UnitRefusal.UNKNOWN_UNIT),
    ("1e5", Dimension.LENGTH, UnitRefusal.UNKNOWN_UNIT),
    ("0x10", Dimension.LENGTH, UnitRefusal.UNKNOWN_UNIT),
    ("5 m m", Dimension.LENGTH, UnitRefusal.UNKNOWN_UNIT),
    ("5 mm 3", Dimension.LENGTH, UnitRefusal.UNKNOWN_UNIT),
    ("5 kg", Dimension.LENGTH, UnitRefusal.WRONG_DIMENSION),
    ("5 gal", Dimension.LENGTH, UnitRefusal.WRONG_DIMENSION),
    ("1,234", Dimension.LENGTH, UnitRefusal.SEPARATOR_UNCLEAR),
    ("1,5", Dimension.LENGTH, UnitRefusal.SEPARATOR_UNCLEAR),
    ("1,234.5", Dimension.LENGTH, UnitRefusal.SEPARATOR_UNCLEAR),
    ("1 234", Dimension.LENGTH, UnitRefusal.SEPARATOR_UNCLEAR),
    ("-3", Dimension.LENGTH, UnitRefusal.NEGATIVE),
    ("−3", Dimension.VOLUME, UnitRefusal.NEGATIVE),
    ("5 oz", Dimension.VOLUME, UnitRefusal.OUNCE_UNCLEAR),
    ("5 ounces", Dimension.MASS, UnitRefusal.OUNCE_UNCLEAR),
    ("1/3 mm", Dimension.LENGTH, UnitRefusal.FRACTION_NOT_HERE),
    ("1/2 V", Dimension.VOLTAGE, UnitRefusal.FRACTION_NOT_HERE),
    ("1/2", Dimension.COUNT, UnitRefusal.FRACTION_NOT_HERE),
    ("5/4 in", Dimension.LENGTH, UnitRefusal.FRACTION_WRONG),
    ("1/7 in", Dimension.LENGTH, UnitRefusal.FRACTION_WRONG),
    ("1/0 in", Dimension.LENGTH, UnitRefusal.FRACTION_WRONG),
    ("1.5/8 in", Dimension.LENGTH, UnitRefusal.FRACTION_WRONG),
    ("0/4 in", Dimension.LENGTH, UnitRefusal.FRACTION_WRONG),
    ("4/4 in", Dimension.LENGTH, UnitRefusal.FRACTION_WRONG),
    ("1:60", Dimension.TIME, UnitRefusal.MINUTES_WRONG),
    ("1 h 75 min", Dimension.TIME, UnitRefusal.MINUTES_WRONG),
    ("2' 12\"", Dimension.LENGTH, UnitRefusal.INCHES_WRONG),
    ("2' 13\"", Dimension.LENGTH, UnitRefusal.INCHES_WRONG),
    ("3.5", Dimension.COUNT, UnitRefusal.NOT_WHOLE),
    ("0.0000001 L", Dimension.VOLUME, UnitRefusal.TOO_FINE),
    ("99999999999 m", Dimension.LENGTH, UnitRefusal.OUT_OF_RANGE),
    ("-274 C", Dimension.TEMPERATURE, UnitRefusal.OUT_OF_RANGE),
]


@pytest.mark.parametrize(("text", "dimension", "system", "stored", "amount", "unit"), TAKEN)
def test_what_people_type_is_taken(
    text: str,
    dimension: Dimension,
    system: UnitSystem,
    stored: int,
    amount: Fraction,
    unit: Unit,
) -> None:
    typed = parse_amount(text, dimension, system=system, decimal_comma=False)
    assert (typed.stored, typed.amount, typed.unit) == (stored, amount, unit)
    assert typed.text == text.strip(" ").replace("\u00a0", " ")


@pytest.mark.parametrize(("text", "dimension", "code"), REFUSED)
def test_what_is_unclear_is_refused_with_its_code(
    text: str, dimension: Dimension, code: UnitRefusal
) -> None:
    with pytest.raises(UnitRefusedError) as caught:
        parse_amount(text, dimension, system=US, decimal_comma=False)
    assert caught.value.code is code
    assert len(caught.value.text) <= 40


def test_the_decimal_sign_is_the_households_own() -> None:
    typed = parse_amount("0,76 mm", Dimension.LENGTH, system=METRIC, decimal_comma=True)
    assert typed.stored == 760
    for text in ("1.234", "0.5", "1.234,5", "1.234.567"):
        with pytest.raises(UnitRefusedError) as caught:
            parse_amount(text, Dimension.LENGTH, system=METRIC, decimal_comma=True)
        assert caught.value.code is UnitRefusal.SEPARATOR_UNCLEAR


@pytest.mark.parametrize("word", ["gal", "pint", "qt", "fl oz"])
def test_a_metric_household_is_asked_whose_gallon(word: str) -> None:
    with pytest.raises(UnitRefusedError) as caught:
        parse_amount(f"1 {word}", Dimension.VOLUME, system=METRIC, decimal_comma=False)
    assert caught.value.code is UnitRefusal.UNIT_UNCLEAR
    us = parse_amount(f"1 US {word}", Dimension.VOLUME, system=METRIC, decimal_comma=False)
    imperial = parse_amount(f"1 imp. {word}", Dimension.VOLUME, system=METRIC, decimal_comma=False)
    assert us.stored != imperial.stored


def test_a_field_that_shows_its_unit_implies_it() -> None:
    typed = parse_amount("6", Dimension.LENGTH, system=UK, decimal_comma=False, implied=Unit.METRE)
    assert (typed.stored, typed.unit) == (6_000_000, Unit.METRE)
    with pytest.raises(ValueError):
        parse_amount("6", Dimension.LENGTH, system=UK, decimal_comma=False, implied=Unit.VOLT)


def test_every_unit_has_a_dimension_and_every_dimension_a_stored_unit() -> None:
    assert {unit for dimension in Dimension for unit in units_of(dimension)} == set(Unit)
    for dimension in Dimension:
        assert from_stored(1, stored_unit(dimension)) == 1
        for system in UnitSystem:
            assert dimension_of(implied_unit(dimension, system)) is dimension


def test_nothing_converts_across_dimensions() -> None:
    with pytest.raises(ValueError):
        convert(Quantity(Fraction(1), Unit.POUND), Unit.POUND_FORCE)


def test_halves_round_away_from_zero() -> None:
    assert to_stored(Fraction(1, 16), Unit.INCH) == 1588  # 1587.5 um
    assert to_stored(Fraction(-5, 10_000), Unit.DEGREE_CELSIUS) == -1
    assert Decimal(rounded(Fraction(5, 2), 0)) == Decimal(3)
    assert Decimal(rounded(Fraction(-5, 2), 0)) == Decimal(-3)


def test_rounding_for_show_is_what_decimal_takes() -> None:
    assert rounded(Fraction(1, 3), 2) == (0, (3, 3), -2)
    assert str(Decimal(rounded(Fraction(1, 3), 2))) == "0.33"
    assert str(Decimal(rounded(Fraction(-1, 1000), 2))) == "0.00"
    assert str(Decimal(rounded(Fraction(12_345), 0))) == "12345"


def test_a_ruler_shows_the_nearest_part() -> None:
    assert rounded_mixed(Fraction(5, 4), 16) == MixedNumber(
        negative=False, whole=1, numerator=1, denominator=4, exact=True
    )
    assert rounded_mixed(Fraction(127, 100), 16) == MixedNumber(
        negative=False, whole=1, numerator=1, denominator=4, exact=False
    )
    assert rounded_mixed(Fraction(-31, 32), 16).whole == 1


def test_an_entry_field_gets_back_what_was_typed() -> None:
    assert entry_text(Fraction(5, 4), Unit.INCH, decimal_comma=True) == "1 1/4 in"
    assert entry_text(Fraction(19, 25), Unit.MILLIMETRE, decimal_comma=True) == "0,76 mm"
    assert entry_text(Fraction(2), Unit.US_GALLON, decimal_comma=False) == "2 US gal"
    with pytest.raises(ValueError):
        entry_text(Fraction(1, 3), Unit.MILLIMETRE, decimal_comma=False)
