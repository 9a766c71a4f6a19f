"""Quantities, exactly: stored units, typed units, factors from their definitions.

What is stored is a whole number of the smallest unit of its dimension (seconds, microlitres,
micrometres, pascals ...); what was typed and its unit stay beside it, since 1/16 in is no whole
number of micrometres. Converting is exact; only `to_stored` and `rounded` round, both to the
nearest, halves away from zero.

Source of the factors: NIST SP 811 appendix B.8 and NIST Handbook 44 appendix C (inch 0.0254 m,
pound 0.45359237 kg, standard gravity 9.80665 m/s2, US gallon 231 cubic inches, imperial gallon
4.54609 L: all exact by definition).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple, NoReturn


class Unit(StrEnum):
    """Units that are stored or typed."""

    # stored
    SECOND = "s"
    DAY = "d"
    MONTH = "month"
    MICROLITRE = "ul"
    MICROMETRE = "um"
    PASCAL = "Pa"
    MILLIVOLT = "mV"
    MILLINEWTON = "mN"
    MILLINEWTON_METRE = "mN.m"
    MILLIDEGREE_CELSIUS = "mC"
    MILLIGRAM = "mg"
    PERMILLE = "permille"
    CENT = "cent"
    COUNT = "count"
    NONE = "none"
    # typed and shown
    MINUTE = "min"
    HOUR = "h"
    MILLILITRE = "mL"
    LITRE = "L"
    US_FLUID_OUNCE = "us_fl_oz"
    US_PINT = "us_pt"
    US_QUART = "us_qt"
    US_GALLON = "us_gal"
    IMPERIAL_FLUID_OUNCE = "imp_fl_oz"
    IMPERIAL_PINT = "imp_pt"
    IMPERIAL_QUART = "imp_qt"
    IMPERIAL_GALLON = "imp_gal"
    MILLIMETRE = "mm"
    CENTIMETRE = "cm"
    METRE = "m"
    THOU = "thou"
    INCH = "in"
    FOOT = "ft"
    KILOPASCAL = "kPa"
    BAR = "bar"
    PSI = "psi"
    VOLT = "V"
    NEWTON = "N"
    POUND_FORCE = "lbf"
    NEWTON_METRE = "N.m"
    POUND_FORCE_FOOT = "lbf.ft"
    POUND_FORCE_INCH = "lbf.in"
    DEGREE_CELSIUS = "degC"
    DEGREE_FAHRENHEIT = "degF"
    GRAM = "g"
    KILOGRAM = "kg"
    POUND = "lb"
    PERCENT = "percent"


class Dimension(StrEnum):
    """What is measured; units of one dimension convert into each other, never across.

    Days and months stand apart: neither is a whole number of the other.
    """

    TIME = "time"
    DAYS = "days"
    MONTHS = "months"
    VOLUME = "volume"
    LENGTH = "length"
    PRESSURE = "pressure"
    VOLTAGE = "voltage"
    FORCE = "force"
    TORQUE = "torque"
    TEMPERATURE = "temperature"
    MASS = "mass"
    SHARE = "share"
    MONEY = "money"
    COUNT = "count"
    PLAIN = "plain"


class UnitSystem(StrEnum):
    """Whose pints and inches a household means when it types no more than the word."""

    METRIC = "metric"
    UK = "uk"
    US = "us"


class UnitRefusal(StrEnum):
    """Why a typed amount was not taken."""

    EMPTY = "empty"
    TOO_LONG = "too_long"
    NOT_A_NUMBER = "not_a_number"
    SEPARATOR_UNCLEAR = "separator_unclear"
    UNKNOWN_UNIT = "unknown_unit"
    WRONG_DIMENSION = "wrong_dimension"
    UNIT_UNCLEAR = "unit_unclear"
    OUNCE_UNCLEAR = "ounce_unclear"
    FRACTION_NOT_HERE = "fraction_not_here"
    FRACTION_WRONG = "fraction_wrong"
    NEGATIVE = "negative"
    MINUTES_WRONG = "minutes_wrong"
    INCHES_WRONG = "inches_wrong"
    NOT_WHOLE = "not_whole"
    TOO_FINE = "too_fine"
    OUT_OF_RANGE = "out_of_range"


class UnitRefusedError(ValueError):
    """A typed amount that was not taken: why, and the text, cut to a length that can be shown."""

    def __init__(self, code: UnitRefusal, text: str) -> None:
        super().__init__(f"{code}: {text[:LONGEST_TEXT]!r}")
        self.code = code
        self.text = text[:LONGEST_TEXT]


LONGEST_TEXT = 40
LARGEST_STORED = 10**15
COLDEST_MILLIDEGREES = -273_150

# -- factors ----------------------------------------------------------------------------------

_INCH_UM = Fraction(25_400)
_US_GALLON_UL = Fraction(231) * Fraction(254, 100) ** 3 * 1000
_IMPERIAL_GALLON_UL = Fraction(4_546_090)
_POUND_MG = Fraction(45_359_237, 100)
_POUND_FORCE_MN = Fraction(45_359_237, 10**8) * Fraction(980_665, 10**5) * 1000
_FOOT_M = Fraction(3048, 10_000)
_INCH_M = Fraction(254, 10_000)

_FACTORS: dict[Dimension, dict[Unit, Fraction]] = {
    Dimension.TIME: {
        Unit.SECOND: Fraction(1),
        Unit.MINUTE: Fraction(60),
        Unit.HOUR: Fraction(3600),
    },
    Dimension.DAYS: {Unit.DAY: Fraction(1)},
    Dimension.MONTHS: {Unit.MONTH: Fraction(1)},
    Dimension.VOLUME: {
        Unit.MICROLITRE: Fraction(1),
        Unit.MILLILITRE: Fraction(1000),
        Unit.LITRE: Fraction(10**6),
        Unit.US_FLUID_OUNCE: _US_GALLON_UL / 128,
        Unit.US_PINT: _US_GALLON_UL / 8,
        Unit.US_QUART: _US_GALLON_UL / 4,
        Unit.US_GALLON: _US_GALLON_UL,
        Unit.IMPERIAL_FLUID_OUNCE: _IMPERIAL_GALLON_UL / 160,
        Unit.IMPERIAL_PINT: _IMPERIAL_GALLON_UL / 8,
        Unit.IMPERIAL_QUART: _IMPERIAL_GALLON_UL / 4,
        Unit.IMPERIAL_GALLON: _IMPERIAL_GALLON_UL,
    },
    Dimension.LENGTH: {
        Unit.MICROMETRE: Fraction(1),
        Unit.MILLIMETRE: Fraction(1000),
        Unit.CENTIMETRE: Fraction(10_000),
        Unit.METRE: Fraction(10**6),
        Unit.THOU: _INCH_UM / 1000,
        Unit.INCH: _INCH_UM,
        Unit.FOOT: _INCH_UM * 12,
    },
    Dimension.PRESSURE: {
        Unit.PASCAL: Fraction(1),
        Unit.KILOPASCAL: Fraction(1000),
        Unit.BAR: Fraction(100_000),
        Unit.PSI: _POUND_FORCE_MN / 1000 / _INCH_M**2,
    },
    Dimension.VOLTAGE: {Unit.MILLIVOLT: Fraction(1), Unit.VOLT: Fraction(1000)},
    Dimension.FORCE: {
        Unit.MILLINEWTON: Fraction(1),
        Unit.NEWTON: Fraction(1000),
        Unit.POUND_FORCE: _POUND_FORCE_MN,
    },
    Dimension.TORQUE: {
        Unit.MILLINEWTON_METRE: Fraction(1),
        Unit.NEWTON_METRE: Fraction(1000),
        Unit.POUND_FORCE_FOOT: _POUND_FORCE_MN * _FOOT_M,
        Unit.POUND_FORCE_INCH: _POUND_FORCE_MN * _INCH_M,
    },
    Dimension.TEMPERATURE: {
        Unit.MILLIDEGREE_CELSIUS: Fraction(1),
        Unit.DEGREE_CELSIUS: Fraction(1000),
        Unit.DEGREE_FAHRENHEIT: Fraction(5000, 9),
    },
    Dimension.MASS: {
        Unit.MILLIGRAM: Fraction(1),
        Unit.GRAM: Fraction(1000),
        Unit.KILOGRAM: Fraction(10**6),
        Unit.POUND: _POUND_MG,
    },
    Dimension.SHARE: {Unit.PERMILLE: Fraction(1), Unit.PERCENT: Fraction(10)},
    Dimension.MONEY: {Unit.CENT: Fraction(1)},
    Dimension.COUNT: {Unit.COUNT: Fraction(1)},
    Dimension.PLAIN: {Unit.NONE: Fraction(1)},
}
# Fahrenheit counts from another zero: what 0 degF is in the stored unit.
_ZERO_AT: dict[Unit, Fraction] = {Unit.DEGREE_FAHRENHEIT: Fraction(-160_000, 9)}

_DIMENSION_OF: dict[Unit, Dimension] = {
    unit: dimension for dimension, factors in _FACTORS.items() for unit in factors
}


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact amount in a unit."""

    amount: Fraction
    unit: Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What somebody typed, kept beside what is computed with.

    `stored`: whole stored units of the dimension. `amount`: exactly, in the `unit` typed or
    implied. `text`: the words themselves, outer blanks taken off.
    """

    stored: int
    amount: Fraction
    unit: Unit
    text: str


def hours(seconds: Fraction | int) -> Quantity:
    """Run time given in seconds, as a quantity in seconds (the stored unit)."""
    return Quantity(Fraction(seconds), Unit.SECOND)


def dimension_of(unit: Unit) -> Dimension:
    """What the unit measures."""
    return _DIMENSION_OF[unit]


def units_of(dimension: Dimension) -> tuple[Unit, ...]:
    """The units of a dimension, the stored one first."""
    return tuple(_FACTORS[dimension])


def stored_unit(dimension: Dimension) -> Unit:
    """The unit whose whole numbers are stored."""
    return units_of(dimension)[0]


def stored_exactly(amount: Fraction | int, unit: Unit) -> Fraction:
    """The amount in the stored unit of its dimension, unrounded.

    Temperatures are points on the scale, not differences.
    """
    return amount * _FACTORS[_DIMENSION_OF[unit]][unit] + _ZERO_AT.get(unit, Fraction(0))


def to_stored(amount: Fraction | int, unit: Unit) -> int:
    """The amount in whole stored units, to the nearest, halves away from zero."""
    return _nearest(stored_exactly(amount, unit))


def from_stored(stored: Fraction | int, unit: Unit) -> Fraction:
    """Stored units of the unit's dimension in `unit`, exactly."""
    return (stored - _ZERO_AT.get(unit, Fraction(0))) / _FACTORS[_DIMENSION_OF[unit]][unit]


def convert(quantity: Quantity, unit: Unit) -> Quantity:
    """The same quantity in another unit, exactly. Raises ValueError across dimensions."""
    if _DIMENSION_OF[quantity.unit] is not _DIMENSION_OF[unit]:
        raise ValueError(f"{quantity.unit} and {unit} measure different things")
    return Quantity(from_stored(stored_exactly(quantity.amount, quantity.unit), unit), unit)


# -- rounding, for showing only ---------------------------------------------------------------


class Rounded(NamedTuple):
    """A rounded number as `decimal.Decimal` takes it: sign 0 or 1, its digits, the exponent."""

    sign: int
    digits: tuple[int, ...]
    exponent: int


class MixedNumber(NamedTuple):
    """Whole part and a proper fraction in lowest terms; `exact` when nothing was rounded off."""

    negative: bool
    whole: int
    numerator: int
    denominator: int
    exact: bool


def rounded(amount: Fraction, places: int) -> Rounded:
    """The amount to so many decimal places, halves away from zero; a zero has no sign."""
    scaled = _nearest(amount * Fraction(10) ** places)
    return Rounded(int(scaled < 0), tuple(int(digit) for digit in str(abs(scaled))), -places)


def rounded_mixed(amount: Fraction, denominator: int) -> MixedNumber:
    """The amount to the nearest 1/`denominator`, halves away from zero, as a ruler shows it."""
    parts = _nearest(amount * denominator)
    whole, rest = divmod(abs(parts), denominator)
    fraction = Fraction(rest, denominator)
    exact = Fraction(parts, denominator) == amount
    return MixedNumber(parts < 0, whole, fraction.numerator, fraction.denominator, exact)


def _nearest(amount: Fraction) -> int:
    doubled = 2 * abs(amount.numerator) + amount.denominator
    whole = doubled // (2 * amount.denominator)
    return whole if amount.numerator >= 0 else -whole


# -- words for units --------------------------------------------------------------------------


def _torque(*arms: str, unit: Unit) -> dict[str, Unit]:
    """Pound and foot in either order, in one word or two: all of them are in use."""
    forces = ("lbf", "lb", "lbs", "pound", "pounds")
    pairs = [(force, arm) for force in forces for arm in arms]
    return {
        gap.join(order): unit for pair in pairs for order in (pair, pair[::-1]) for gap in ("", " ")
    }


_SPELLINGS: dict[Dimension, dict[str, Unit]] = {
    Dimension.TIME: {
        **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), Unit.HOUR),
        **dict.fromkeys(("min", "mins", "minute", "minutes"), Unit.MINUTE),
        **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), Unit.SECOND),
    },
    Dimension.DAYS: dict.fromkeys(("d", "day", "days"), Unit.DAY),
    Dimension.MONTHS: dict.fromkeys(("mo", "month", "months"), Unit.MONTH),
    Dimension.VOLUME: {
        **dict.fromkeys(("ul", "µl", "μl"), Unit.MICROLITRE),
        **dict.fromkeys(
            ("ml", "millilitre", "millilitres", "milliliter", "milliliters"), Unit.MILLILITRE
        ),
        **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), Unit.LITRE),
    },
    Dimension.LENGTH: {
        **dict.fromkeys(("um", "µm", "μm"), Unit.MICROMETRE),
        **dict.fromkeys(
            ("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Unit.MILLIMETRE
        ),
        **dict.fromkeys(
            ("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Unit.CENTIMETRE
        ),
        **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Unit.METRE),
        **dict.fromkeys(("thou", "mil", "mils"), Unit.THOU),
        **dict.fromkeys(("in", "inch", "inches", '"', "''"), Unit.INCH),
        **dict.fromkeys(("ft", "foot", "feet", "'"), Unit.FOOT),
    },
    Dimension.PRESSURE: {
        "pa": Unit.PASCAL,
        "kpa": Unit.KILOPASCAL,
        "bar": Unit.BAR,
        **dict.fromkeys(("psi", "lbf/in2", "lb/in2"), Unit.PSI),
    },
    Dimension.VOLTAGE: {
        "mv": Unit.MILLIVOLT,
        **dict.fromkeys(("v", "volt", "volts"), Unit.VOLT),
    },
    Dimension.FORCE: {
        "mn": Unit.MILLINEWTON,
        **dict.fromkeys(("n", "newton", "newtons"), Unit.NEWTON),
        **dict.fromkeys(("lbf", "lb", "lbs"), Unit.POUND_FORCE),
    },
    Dimension.TORQUE: {
        **dict.fromkeys(("mnm", "mn m"), Unit.MILLINEWTON_METRE),
        **dict.fromkeys(("nm", "n m"), Unit.NEWTON_METRE),
        **_torque("ft", "foot", "feet", unit=Unit.POUND_FORCE_FOOT),
        **_torque("in", "inch", "inches", unit=Unit.POUND_FORCE_INCH),
    },
    Dimension.TEMPERATURE: {
        "mc": Unit.MILLIDEGREE_CELSIUS,
        **dict.fromkeys(("c", "°c", "° c", "℃", "deg c", "degc", "celsius"), Unit.DEGREE_CELSIUS),
        **dict.fromkeys(
            ("f", "°f", "° f", "℉", "deg f", "degf", "fahrenheit"), Unit.DEGREE_FAHRENHEIT
        ),
    },
    Dimension.MASS: {
        "mg": Unit.MILLIGRAM,
        **dict.fromkeys(("g", "gram", "grams"), Unit.GRAM),
        **dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "kilograms"), Unit.KILOGRAM),
        **dict.fromkeys(("lb", "lbs", "pound", "pounds"), Unit.POUND),
    },
    Dimension.SHARE: {
        **dict.fromkeys(("%", "percent", "pct"), Unit.PERCENT),
        **dict.fromkeys(("‰", "permille"), Unit.PERMILLE),
    },
    Dimension.MONEY: {},
    Dimension.COUNT: dict.fromkeys(("x", "pc", "pcs"), Unit.COUNT),
    Dimension.PLAIN: {},
}
# Words that are two sizes, one on either side of the ocean; no other word is guessed at.
_TWO_SIZES: dict[str, tuple[Unit, Unit]] = {
    **dict.fromkeys(
        ("fl oz", "floz", "fluid ounce", "fluid ounces"),
        (Unit.US_FLUID_OUNCE, Unit.IMPERIAL_FLUID_OUNCE),
    ),
    **dict.fromkeys(("pt", "pint", "pints"), (Unit.US_PINT, Unit.IMPERIAL_PINT)),
    **dict.fromkeys(("qt", "qts", "quart", "quarts"), (Unit.US_QUART, Unit.IMPERIAL_QUART)),
    **dict.fromkeys(("gal", "gals", "gallon", "gallons"), (Unit.US_GALLON, Unit.IMPERIAL_GALLON)),
}
_WHOSE = MappingProxyType({"us": 0, "imp": 1, "imperial": 1, "uk": 1})
_OUNCES = frozenset({"oz", "ozs", "ounce", "ounces"})

_IMPLIED: dict[Dimension, tuple[Unit, Unit, Unit]] = {
    Dimension.TIME: (Unit.HOUR, Unit.HOUR, Unit.HOUR),
    Dimension.DAYS: (Unit.DAY, Unit.DAY, Unit.DAY),
    Dimension.MONTHS: (Unit.MONTH, Unit.MONTH, Unit.MONTH),
    Dimension.VOLUME: (Unit.LITRE, Unit.LITRE, Unit.US_GALLON),
    Dimension.LENGTH: (Unit.MILLIMETRE, Unit.MILLIMETRE, Unit.INCH),
    Dimension.PRESSURE: (Unit.KILOPASCAL, Unit.PSI, Unit.PSI),
    Dimension.VOLTAGE: (Unit.VOLT, Unit.VOLT, Unit.VOLT),
    Dimension.FORCE: (Unit.NEWTON, Unit.NEWTON, Unit.POUND_FORCE),
    Dimension.TORQUE: (Unit.NEWTON_METRE, Unit.NEWTON_METRE, Unit.POUND_FORCE_FOOT),
    Dimension.TEMPERATURE: (Unit.DEGREE_CELSIUS, Unit.DEGREE_CELSIUS, Unit.DEGREE_FAHRENHEIT),
    Dimension.MASS: (Unit.KILOGRAM, Unit.KILOGRAM, Unit.POUND),
    Dimension.SHARE: (Unit.PERCENT, Unit.PERCENT, Unit.PERCENT),
    Dimension.MONEY: (Unit.CENT, Unit.CENT, Unit.CENT),
    Dimension.COUNT: (Unit.COUNT, Unit.COUNT, Unit.COUNT),
    Dimension.PLAIN: (Unit.NONE, Unit.NONE, Unit.NONE),
}
_WHOLE_ONLY = frozenset({Dimension.DAYS, Dimension.MONTHS, Dimension.MONEY, Dimension.COUNT})
_RULER = frozenset({2, 4, 8, 16, 32, 64})
_KITCHEN = frozenset({2, 3, 4, 8})
# Units in which people say halves and sixteenths, and the parts they say.
_PARTS = MappingProxyType(
    {
        **dict.fromkeys((Unit.INCH, Unit.FOOT), _RULER),
        **dict.fromkeys(
            (
                *(unit for pair in _TWO_SIZES.values() for unit in pair),
                Unit.LITRE,
                Unit.HOUR,
                Unit.POUND,
            ),
            _KITCHEN,
        ),
    }
)


def implied_unit(dimension: Dimension, system: UnitSystem) -> Unit:
    """The unit meant when a bare number is typed; which one is our judgement."""
    metric, uk, us = _IMPLIED[dimension]
    return {UnitSystem.METRIC: metric, UnitSystem.UK: uk, UnitSystem.US: us}[system]


# -- reading what was typed -------------------------------------------------------------------

_BLANKS = dict.fromkeys(map(ord, "\u00a0\u2009\u202f"), " ")
_SAME_MARK = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "−": "-", "⁄": "/"})
_GLYPHS = MappingProxyType(
    {"½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4"}
    | {"⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
)
_NUMBER = r"[0-9.,]+(?:(?: +|-)[0-9]+/[0-9]+|/[0-9]+)?"
_SIMPLE = re.compile(rf"(?P<number>{_NUMBER}) *(?P<unit>[^0-9., -].*)?")
_CLOCK = re.compile(r"(?P<whole>[0-9]+):(?P<part>[0-9]{2}) *(?:h|hr|hrs|hours?)?")
_HOURS_MINUTES = re.compile(
    r"(?P<whole>[0-9]+) *(?:h|hrs?|hours?) *(?P<part>[0-9]+) *(?:min|mins|minutes?)?"
)
_FEET_INCHES = re.compile(
    rf"(?P<whole>[0-9]+) *(?:'|ft\.?|foot|feet) *-? *(?P<part>{_NUMBER})"
    r" *(?:\"|''|in\.?|inch|inches)?"
)
_MIXED = re.compile(r"(?:(?P<whole>[0-9]+)(?: +|-))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")
_GROUPED = re.compile(r"[0-9]+(?:[ '][0-9]{3})+([ .,].*)?")


def parse_amount(
    text: str,
    dimension: Dimension,
    *,
    system: UnitSystem,
    decimal_comma: bool,
    implied: Unit | None = None,
) -> Typed:
    """Read a typed amount; `implied` is the unit of a bare number where the field shows one.

    Takes decimals with the household's decimal sign, `1/16`, `1-1/4` and `1 1/4 in`, `2' 3"`,
    `1:30` and `1 h 30 min`. Raises UnitRefusedError with a code; nothing is guessed: not a group
    separator, not an ounce, not whose gallon in a metric household.
    """
    if len(text) > LONGEST_TEXT:
        raise UnitRefusedError(UnitRefusal.TOO_LONG, text)
    implied = implied or implied_unit(dimension, system)
    if dimension_of(implied) is not dimension:
        raise ValueError(f"{implied} does not measure {dimension}")
    reading = _Reading(text, dimension, system, "," if decimal_comma else ".")
    amount, unit = reading.read(implied)
    stored = to_stored(amount, unit)
    coldest = COLDEST_MILLIDEGREES if dimension is Dimension.TEMPERATURE else 0
    if not coldest <= stored <= LARGEST_STORED:
        reading.refuse(UnitRefusal.OUT_OF_RANGE)
    if stored == 0 and amount != 0 and dimension is not Dimension.TEMPERATURE:
        reading.refuse(UnitRefusal.TOO_FINE)
    return Typed(stored=stored, amount=amount, unit=unit, text=text.translate(_BLANKS).strip(" "))


@dataclass(frozen=True, slots=True)
class _Reading:
    text: str
    dimension: Dimension
    system: UnitSystem
    decimal_sign: str

    def refuse(self, code: UnitRefusal) -> NoReturn:
        raise UnitRefusedError(code, self.text)

    def read(self, implied: Unit) -> tuple[Fraction, Unit]:
        """The exact amount and its unit."""
        plain = self._plain()
        negative = plain.startswith("-")
        if negative:
            if self.dimension is not Dimension.TEMPERATURE:
                self.refuse(UnitRefusal.NEGATIVE)
            plain = plain[1:].lstrip(" ")
        amount, unit = self._two_parts(plain) or self._one_part(plain, implied)
        if self.dimension in _WHOLE_ONLY and amount.denominator != 1:
            self.refuse(UnitRefusal.NOT_WHOLE)
        return (-amount if negative else amount), unit

    def _plain(self) -> str:
        plain = self.text.translate(_BLANKS).strip(" ")
        if not plain:
            self.refuse(UnitRefusal.EMPTY)
        if not plain.isprintable():
            self.refuse(UnitRefusal.NOT_A_NUMBER)
        plain = plain.translate(_SAME_MARK)
        for glyph, spelt in _GLYPHS.items():
            plain = plain.replace(glyph, f" {spelt}")
        return plain.strip(" ")

    def _two_parts(self, plain: str) -> tuple[Fraction, Unit] | None:
        if self.dimension is Dimension.TIME:
            match = _CLOCK.fullmatch(plain) or _HOURS_MINUTES.fullmatch(plain)
            if match is None:
                return None
            minutes = int(match["part"])
            if minutes >= 60:
                self.refuse(UnitRefusal.MINUTES_WRONG)
            return Fraction(int(match["whole"]) * 60 + minutes, 60), Unit.HOUR
        if self.dimension is Dimension.LENGTH:
            match = _FEET_INCHES.fullmatch(plain)
            if match is None:
                return None
            inches = self._number(match["part"], Unit.INCH)
            if inches >= 12:
                self.refuse(UnitRefusal.INCHES_WRONG)
            return int(match["whole"]) * 12 + inches, Unit.INCH
        return None

    def _one_part(self, plain: str, implied: Unit) -> tuple[Fraction, Unit]:
        match = _SIMPLE.fullmatch(plain)
        if match is None:
            grouped = _GROUPED.fullmatch(plain) is not None
            self.refuse(UnitRefusal.SEPARATOR_UNCLEAR if grouped else UnitRefusal.NOT_A_NUMBER)
        unit = implied if match["unit"] is None else self._unit(match["unit"])
        return self._number(match["number"], unit), unit

    def _number(self, number: str, unit: Unit) -> Fraction:
        if "/" in number:
            return self._fraction(number, unit)
        signs = [sign for sign in number if sign in ".,"]
        if len(signs) > 1 or (signs and signs[0] != self.decimal_sign):
            self.refuse(UnitRefusal.SEPARATOR_UNCLEAR)
        whole, sign, part = number.partition(self.decimal_sign)
        if sign and not part:
            self.refuse(UnitRefusal.NOT_A_NUMBER)
        return Fraction(int((whole + part) or "0"), 10 ** len(part))

    def _fraction(self, number: str, unit: Unit) -> Fraction:
        match = _MIXED.fullmatch(number)
        if match is None:
            self.refuse(UnitRefusal.FRACTION_WRONG)
        if unit not in _PARTS:
            self.refuse(UnitRefusal.FRACTION_NOT_HERE)
        top, bottom = int(match["top"]), int(match["bottom"])
        if bottom not in _PARTS[unit] or not 0 < top < bottom:
            self.refuse(UnitRefusal.FRACTION_WRONG)
        return int(match["whole"] or "0") + Fraction(top, bottom)

    def _unit(self, word: str) -> Unit:
        key = " ".join(part for part in re.split(r"[ .·*-]", word.casefold()) if part)
        if key in _OUNCES:
            self.refuse(UnitRefusal.OUNCE_UNCLEAR)
        found = _SPELLINGS[self.dimension].get(key)
        if found is not None:
            return found
        sizes = _sizes(key)
        if sizes and self.dimension is Dimension.VOLUME:
            return self._size(sizes)
        if sizes or any(key in words for words in _SPELLINGS.values()):
            self.refuse(UnitRefusal.WRONG_DIMENSION)
        return self.refuse(UnitRefusal.UNKNOWN_UNIT)

    def _size(self, sizes: tuple[Unit, ...]) -> Unit:
        if len(sizes) == 1:
            return sizes[0]
        if self.system is UnitSystem.METRIC:
            self.refuse(UnitRefusal.UNIT_UNCLEAR)
        us, imperial = sizes
        return us if self.system is UnitSystem.US else imperial


def _sizes(key: str) -> tuple[Unit, ...]:
    """The sizes a word may mean: two, or one when it says whose."""
    if key in _TWO_SIZES:
        return _TWO_SIZES[key]
    whose, _, bare = key.partition(" ")
    if whose in _WHOSE and bare in _TWO_SIZES:
        return (_TWO_SIZES[bare][_WHOSE[whose]],)
    return ()


# -- the way back into an entry field ---------------------------------------------------------

_ENTRY_WORDS: dict[Unit, str] = {
    Unit.US_FLUID_OUNCE: "US fl oz",
    Unit.US_PINT: "US pt",
    Unit.US_QUART: "US qt",
    Unit.US_GALLON: "US gal",
    Unit.IMPERIAL_FLUID_OUNCE: "imp fl oz",
    Unit.IMPERIAL_PINT: "imp pt",
    Unit.IMPERIAL_QUART: "imp qt",
    Unit.IMPERIAL_GALLON: "imp gal",
    Unit.DEGREE_CELSIUS: "°C",
    Unit.DEGREE_FAHRENHEIT: "°F",
    Unit.PERCENT: "%",
    Unit.CENT: "",
    Unit.COUNT: "",
    Unit.NONE: "",
}


def entry_text(amount: Fraction, unit: Unit, *, decimal_comma: bool) -> str:
    """Text that `parse_amount` reads back as exactly this amount and unit, whatever the household.

    Raises ValueError when the amount has no such text (a third of a millimetre).
    """
    number = _entry_number(amount, unit)
    if decimal_comma:
        number = number.replace(".", ",")
    return f"{number} {_ENTRY_WORDS.get(unit, unit.value)}".rstrip(" ")


def _entry_number(amount: Fraction, unit: Unit) -> str:
    sign, size = ("-" if amount < 0 else ""), abs(amount)
    if size.denominator == 1:
        return f"{sign}{size}"
    if size.denominator in _PARTS.get(unit, frozenset()) and not sign:
        whole, rest = divmod(size, 1)
        return f"{whole} {rest}" if whole else f"{rest}"
    places = 0
    scaled = size
    while scaled.denominator != 1:
        if places == LONGEST_TEXT:
            raise ValueError(f"{amount} {unit} has no finite decimal")
        places += 1
        scaled *= 10
    digits = f"{scaled}".rjust(places + 1, "0")
    return f"{sign}{digits[:-places]}.{digits[-places:]}"
