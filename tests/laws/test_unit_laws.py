"""Laws of units: exact there and back, and nothing that is shown for entry is read otherwise."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.units import (
    LARGEST_STORED,
    Dimension,
    Quantity,
    Unit,
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
    stored_exactly,
    to_stored,
    units_of,
)

# No deadline: how long an example takes says nothing about the law.
LAW = settings(max_examples=80, deadline=None)

amounts = st.fractions(min_value=-(10**9), max_value=10**9, max_denominator=10**6)
decimals = st.decimals(
    min_value=0, max_value=100_000, places=4, allow_nan=False, allow_infinity=False
).map(Fraction)
units = st.sampled_from(Unit)
dimensions = st.sampled_from(Dimension)
systems = st.sampled_from(UnitSystem)
RULER = tuple(Fraction(parts, 64) for parts in range(1, 64))


@st.composite
def unit_pairs(draw: st.DrawFn) -> tuple[Unit, Unit]:
    both = st.sampled_from(units_of(draw(dimensions)))
    return draw(both), draw(both)


@LAW
@given(amounts, unit_pairs())
def test_converting_there_and_back_is_exact(amount: Fraction, pair: tuple[Unit, Unit]) -> None:
    here, there = pair
    quantity = Quantity(amount, here)
    assert convert(convert(quantity, there), here) == quantity


@LAW
@given(amounts, amounts, unit_pairs())
def test_converting_keeps_the_order(
    small: Fraction, large: Fraction, pair: tuple[Unit, Unit]
) -> None:
    here, there = pair
    small, large = min(small, large), max(small, large)
    assert (
        convert(Quantity(small, here), there).amount <= convert(Quantity(large, here), there).amount
    )


@LAW
@given(st.integers(-(10**12), 10**12), units)
def test_what_is_stored_comes_back_whole(stored: int, unit: Unit) -> None:
    assert to_stored(from_stored(stored, unit), unit) == stored


@LAW
@given(amounts, units)
def test_storing_is_off_by_half_a_stored_unit_at_most(amount: Fraction, unit: Unit) -> None:
    assert abs(to_stored(amount, unit) - stored_exactly(amount, unit)) <= Fraction(1, 2)


@LAW
@given(decimals, units, systems, st.booleans())
def test_an_entry_text_is_read_as_what_it_says(
    amount: Fraction, unit: Unit, system: UnitSystem, comma: bool
) -> None:
    dimension = dimension_of(unit)
    if dimension in {Dimension.DAYS, Dimension.MONTHS, Dimension.COUNT, Dimension.MONEY}:
        amount = Fraction(int(amount))
    text = entry_text(amount, unit, decimal_comma=comma)
    try:
        typed = parse_amount(
            text, dimension, system=system, decimal_comma=comma, implied=implied_of(unit)
        )
    except UnitRefusedError:
        assert to_stored(amount, unit) == 0  # finer than what is stored
        return
    assert (typed.amount, typed.unit, typed.text) == (amount, unit, text)
    assert typed.stored == to_stored(amount, unit)


def implied_of(unit: Unit) -> Unit:
    """Units without a word of their own are only ever implied."""
    wordless = {Unit.CENT, Unit.COUNT, Unit.NONE}
    return unit if unit in wordless else units_of(dimension_of(unit))[-1]


@LAW
@given(st.integers(0, 500), st.sampled_from(RULER), systems)
def test_inch_parts_are_read_as_a_ruler_shows_them(
    whole: int, part: Fraction, system: UnitSystem
) -> None:
    amount = whole + part
    for text in (
        entry_text(amount, Unit.INCH, decimal_comma=False),
        f'{whole}-{part}"' if whole else f'{part}"',
        f"{whole // 12}' {whole % 12} {part}\"",
    ):
        typed = parse_amount(text, Dimension.LENGTH, system=system, decimal_comma=False)
        assert (typed.amount, typed.unit) == (amount, Unit.INCH)


@LAW
@given(st.integers(0, 20_000), st.integers(0, 59))
def test_hours_and_minutes_are_whole_seconds(whole: int, minutes: int) -> None:
    for text in (f"{whole}:{minutes:02}", f"{whole} h {minutes} min"):
        typed = parse_amount(text, Dimension.TIME, system=UnitSystem.METRIC, decimal_comma=False)
        assert typed.stored == whole * 3600 + minutes * 60


@LAW
@given(st.text(max_size=60), dimensions, systems, st.booleans())
def test_any_text_is_read_or_refused(
    text: str, dimension: Dimension, system: UnitSystem, comma: bool
) -> None:
    try:
        typed = parse_amount(text, dimension, system=system, decimal_comma=comma)
    except UnitRefusedError:
        return
    assert abs(typed.stored) <= LARGEST_STORED
    assert dimension_of(typed.unit) is dimension
    assert typed.stored == to_stored(typed.amount, typed.unit)


@LAW
@given(st.from_regex(r"[0-9.,/ '-]{1,12}", fullmatch=True), dimensions, systems, st.booleans())
def test_figures_alone_mean_the_implied_unit(
    text: str, dimension: Dimension, system: UnitSystem, comma: bool
) -> None:
    try:
        typed = parse_amount(text, dimension, system=system, decimal_comma=comma)
    except UnitRefusedError:
        return
    assert "'" in text or typed.unit is implied_unit(dimension, system)
    assert ("." if comma else ",") not in text


@LAW
@given(amounts, st.integers(0, 6))
def test_rounding_for_show_is_the_nearest(amount: Fraction, places: int) -> None:
    shown = Fraction(Decimal(rounded(amount, places)))
    assert abs(shown - amount) <= Fraction(1, 2 * 10**places)


@LAW
@given(amounts, st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_a_mixed_number_is_the_nearest_part(amount: Fraction, denominator: int) -> None:
    shown = rounded_mixed(amount, denominator)
    value = shown.whole + Fraction(shown.numerator, shown.denominator)
    value = -value if shown.negative else value
    assert abs(value - amount) <= Fraction(1, 2 * denominator)
    assert shown.exact is (value == amount)
