"""The fuel clock against published figures, and against the worked examples of its own rules.

Where a value is published its source stands beside it; the others follow from the rules (they
test the program, not the world) and were worked out apart from it.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest

from schedules.facts import (
    Band,
    FuelClock,
    FuelSort,
    LotFacts,
    VesselFacts,
    VesselId,
    VesselSort,
    VesselVerdict,
)
from schedules.fuel import judge_vessel, lot_ageing, rate_factor, stabiliser_dose_ul
from schedules.units import Quantity, Unit, convert, to_stored

TWENTY = (20_000,) * 12
# Monthly means of a cold continental place, degrees, as outdoors.
SHED = tuple(mean * 1000 for mean in (-4, -3, 2, 8, 14, 19, 22, 21, 17, 11, 5, -1))
DAY = date(2026, 1, 1)


def holding(
    *lots: LotFacts, sort: VesselSort = VesselSort.TANK, means: tuple[int, ...] = TWENTY
) -> VesselFacts:
    return VesselFacts(
        vessel_id=VesselId(1),
        name="tank",
        sort=sort,
        capacity_ul=10_000_000,
        lots=lots,
        month_means_mc=means,
    )


def lot(
    bought_on: date,
    millilitres: int = 1000,
    sort: FuelSort = FuelSort.E10,
    stabilised_on: date | None = None,
) -> LotFacts:
    return LotFacts(
        bought_on=bought_on,
        volume_ul=millilitres * 1000,
        sort=sort,
        stabilised_on=stabilised_on,
    )


def stale_after(one: LotFacts, means: tuple[int, ...] = TWENTY) -> Fraction:
    """Days until the age is 1, by a straight line inside the day on which it gets there."""
    assert one.bought_on is not None
    where = holding(one, means=means)
    burn_on = judge_vessel(where, on=one.bought_on + timedelta(days=400)).burn_on
    assert burn_on is not None
    before = lot_ageing(one, where, on=burn_on - timedelta(days=1))
    after = lot_ageing(one, where, on=burn_on)
    assert before is not None
    assert after is not None
    whole = (burn_on - one.bought_on).days - 1
    return whole + (1 - before) / (after - before)


def dosed(days_after: int | None) -> LotFacts:
    return lot(DAY, stabilised_on=None if days_after is None else DAY + timedelta(days=days_after))


def test_fuel_K03_twice_as_fast_ten_degrees_warmer() -> None:
    """A UK motoring organisation (press, 2021): 6 months at 20 degrees, 3 at 30."""
    can = lot(DAY, sort=FuelSort.E0)
    cool = judge_vessel(holding(can, sort=VesselSort.CAN), on=DAY).burn_on
    warm = judge_vessel(holding(can, sort=VesselSort.CAN, means=(30_000,) * 12), on=DAY).burn_on
    assert cool == DAY + timedelta(days=180)
    assert warm == DAY + timedelta(days=90)


@pytest.mark.parametrize(
    ("degrees", "factor"),
    [(0, "0.25"), (10, "0.5"), (20, "1"), (30, "2"), (40, "4")],
)
def test_fuel_K04_rate_factor(degrees: int, factor: str) -> None:
    assert rate_factor(degrees * 1000) == Fraction(factor)


@pytest.mark.parametrize(("degrees", "factor"), [(15, "0.707"), (25, "1.414"), (35, "2.828")])
def test_fuel_K04_rate_factor_between(degrees: int, factor: str) -> None:
    assert abs(rate_factor(degrees * 1000) - Fraction(factor)) <= Fraction(1, 2000)


def test_fuel_K05_the_floor() -> None:
    assert rate_factor(-20_000) == rate_factor(-10_000) == Fraction(1, 4)


def test_fuel_K06_stabilised_fresh() -> None:
    assert stale_after(dosed(0)) == 180


def test_fuel_K07_stabilised_on_the_tenth_day() -> None:
    assert stale_after(dosed(10)) == 55


@pytest.mark.parametrize(("day", "stale"), [(20, "33.85"), (29, "30.03")])
def test_fuel_2_2_late_stabiliser_only_slows(day: int, stale: str) -> None:
    assert abs(stale_after(dosed(day)) - Fraction(stale)) <= Fraction(1, 200)


def test_fuel_K08_a_dose_after_the_end_is_void() -> None:
    late = dosed(31)
    assert stale_after(late) == 30
    for day in (31, 60, 200):
        on = DAY + timedelta(days=day)
        assert lot_ageing(late, holding(late), on=on) == Fraction(day, 30)


def test_fuel_2_2_from_the_can_into_the_tank_the_age_is_carried() -> None:
    moved = LotFacts(
        bought_on=DAY, volume_ul=10**6, sort=FuelSort.E10, since=DAY + timedelta(days=45)
    )
    tank = holding(moved)
    assert lot_ageing(moved, tank, on=DAY + timedelta(days=45)) == Fraction(1, 2)
    assert judge_vessel(tank, on=DAY + timedelta(days=60)).burn_on == DAY + timedelta(days=60)


def test_fuel_K31_stabiliser_dose() -> None:
    """Label dose as relayed in the press: 1 US fl oz to 2.5 US gal."""
    gallons = convert(Quantity(Fraction(5, 2), Unit.US_GALLON), Unit.MICROLITRE).amount
    ounce = convert(Quantity(Fraction(1), Unit.US_FLUID_OUNCE), Unit.MICROLITRE).amount
    assert ounce / gallons * 1000 == Fraction("3.125")  # mL per litre
    four_litres = to_stored(4, Unit.LITRE)
    dose = convert(Quantity(stabiliser_dose_ul(four_litres), Unit.MICROLITRE), Unit.MILLILITRE)
    assert dose.amount == Fraction("12.5")


def test_fuel_K35_ethanol_after_mixing() -> None:
    """Mass balance: 3 L with 10 % and 1 L with none."""
    mixed = judge_vessel(holding(lot(DAY, 3000), lot(DAY, 1000, FuelSort.E0)), on=DAY)
    assert mixed.ethanol == Fraction("0.075")


def mixed_with_old(fresh_ml: int, old_ml: int) -> VesselVerdict:
    on = DAY + timedelta(days=730)
    return judge_vessel(holding(lot(on, fresh_ml), lot(DAY, old_ml)), on=on)


def test_fuel_2_5_four_parts_fresh_to_one_of_two_years() -> None:
    verdict = mixed_with_old(800, 200)
    old = verdict.lots[1].ageing
    assert old is not None
    assert round(float(old), 1) == 24.3
    assert verdict.stale_share == verdict.spoilt_share == Fraction("0.2")
    assert verdict.gum_index == 1
    assert (verdict.band, verdict.governed_by) == (Band.BURN, FuelClock.OXIDATION)
    # the mean age alone would only say "old"
    ages = [lot.age_days for lot in verdict.lots]
    assert ages == [0, 730]
    assert Fraction(800 * 0 + 200 * 730, 1000) == 146


def test_fuel_2_5_three_parts_fresh_to_two() -> None:
    verdict = mixed_with_old(600, 400)
    assert verdict.spoilt_share == Fraction("0.4")
    assert verdict.band is Band.DRAIN


def test_fuel_2_5_the_bowl_is_a_vessel_of_its_own() -> None:
    fresh = lot(DAY, 50, stabilised_on=DAY)
    bowl = holding(fresh, sort=VesselSort.BOWL)
    assert judge_vessel(bowl, on=DAY).burn_on == DAY + timedelta(days=90)
    plain = holding(lot(DAY, 50), sort=VesselSort.BOWL)
    assert judge_vessel(plain, on=DAY).burn_on == DAY + timedelta(days=30)


MOWER = (date(2025, 10, 31), date(2026, 3, 31))  # rests November to March
THROWER = (date(2026, 3, 31), date(2026, 10, 31))  # rests April to October


@pytest.mark.parametrize(
    ("rest", "sort", "fuel", "treated", "age", "band"),
    [
        (MOWER, VesselSort.TANK, FuelSort.E10, False, "1.40", Band.BURN),
        (MOWER, VesselSort.TANK, FuelSort.E10, True, "0.23", Band.GOOD),
        (MOWER, VesselSort.CAN, FuelSort.E0, False, "0.23", Band.GOOD),
        (MOWER, VesselSort.CAN, FuelSort.E10, False, "0.47", Band.GOOD),
        (THROWER, VesselSort.TANK, FuelSort.E10, False, "5.71", Band.DRAIN),
        (THROWER, VesselSort.TANK, FuelSort.E10, True, "0.95", Band.USE_FIRST),
        (THROWER, VesselSort.CAN, FuelSort.E0, False, "0.95", Band.USE_FIRST),
        (THROWER, VesselSort.CAN, FuelSort.E10, False, "1.90", Band.BURN),
    ],
)
def test_fuel_2_6_a_rest_in_a_shed(
    rest: tuple[date, date],
    sort: VesselSort,
    fuel: FuelSort,
    treated: bool,
    age: str,
    band: Band,
) -> None:
    first, last = rest
    one = lot(first, sort=fuel, stabilised_on=first if treated else None)
    verdict = judge_vessel(holding(one, sort=sort, means=SHED), on=last)
    ageing = verdict.lots[0].ageing
    assert ageing is not None
    assert abs(ageing - Fraction(age)) <= Fraction(1, 200)
    assert verdict.band is band


@pytest.mark.parametrize(
    ("rest", "days", "at_twenty"), [(MOWER, 151, "42.0"), (THROWER, 214, "171.3")]
)
def test_fuel_2_6_days_at_twenty_degrees(
    rest: tuple[date, date], days: int, at_twenty: str
) -> None:
    first, last = rest
    assert (last - first).days == days
    untreated = lot_ageing(lot(first), holding(lot(first), means=SHED), on=last)
    assert untreated is not None
    assert abs(untreated * 30 - Fraction(at_twenty)) <= Fraction(1, 20)


def test_sources_O_061_ethanol_limit() -> None:
    """US EPA on nonroad petrol engines: at most 10.0 % ethanol by volume."""
    at_the_limit = judge_vessel(holding(lot(DAY)), on=DAY)
    assert at_the_limit.ethanol == Fraction("0.1")
    assert at_the_limit.band is Band.GOOD
    over = judge_vessel(holding(lot(DAY, 9000), lot(DAY, 1, FuelSort.E15)), on=DAY)
    assert (over.band, over.governed_by) == (Band.NOT_FOR_THIS, FuelClock.ETHANOL)
