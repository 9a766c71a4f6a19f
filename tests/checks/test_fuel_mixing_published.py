"""Mixing, premix, dose, consumption and evaporation against published figures.

Each value stands beside where it was published; those marked *follows from the rule* test the
program and not the world. Left out are a few pages whose own steps contradict their answer.
"""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest

from schedules.bowl import BowlLeft, judge_bowl
from schedules.consumption import (
    burnt_ul,
    gallons_an_hour,
    grams_a_kilowatt_hour,
    learnt_ul_an_hour,
    ul_an_hour,
)
from schedules.evaporation import (
    GRAMS_A_POUND,
    fahrenheit,
    fill_shape,
    vapour_grams,
    vented_share,
)
from schedules.facts import (
    Band,
    FuelClock,
    FuelSort,
    LotFacts,
    VesselFacts,
    VesselId,
    VesselSort,
)
from schedules.fuel import FUEL_TABLE, judge_vessel
from schedules.ledger import FuelMove, FuelMoved, Holds, replay, shares
from schedules.mixing import (
    after_replacing,
    commingled_psi,
    expanded,
    flushed_share,
    fresh_to_share,
    mean_of,
    refills_to,
    share_left,
    to_replace,
    volumes_to_flush,
    while_filling,
)
from schedules.premix import (
    Mixed,
    blended,
    corrected,
    dose_for,
    judge_mix,
    oil_for,
    oil_ul,
    parts_of,
)
from schedules.units import Quantity, Unit, convert
from schedules.warmth import days_at
from schedules.water import water_alarm, water_carried, water_carried_ul

F = Fraction
TANK = VesselId(1)
TWENTY = (20_000,) * 12
DAY = date(2026, 1, 1)


def celsius(fahrenheit_: float) -> float:
    return (fahrenheit_ - 32) / 1.8


# -- warmth -----------------------------------------------------------------------------------


def test_fuel_K01_oven_to_shed() -> None:
    """US Bureau of Mines, RI 7197 (1968): 32 weeks at 110 F are about 5.7 years at 80 F."""
    days = days_at(224, from_c=celsius(110), to_c=celsius(80), joules_a_mole=105_530)
    assert round(days) == pytest.approx(2082, abs=2)
    assert round(days / 365.25, 1) == 5.7


def test_fuel_K02_the_factor_of_that_pair() -> None:
    """The same: 9.294 in 30 F, which is 3.810 for ten degrees Celsius at the mean of both."""
    factor = 2082 / 224
    assert factor == pytest.approx(9.294, abs=0.002)
    assert factor ** (10 / (30 / 1.8)) == pytest.approx(3.810, abs=0.002)


# -- water ------------------------------------------------------------------------------------

TEASPOONS = 768  # to a US gallon


def test_fuel_K09_K10_teaspoons_to_the_gallon() -> None:
    """A page on water in petrol: 3.8 teaspoons; University of Nebraska-Lincoln: 3.06."""
    assert round(F("3.8") / TEASPOONS * 1000, 3) == F("4.948")
    assert round(F("3.06") / TEASPOONS * 1000, 3) == F("3.984")
    assert abs(water_carried(15_556) - F("3.8") / TEASPOONS) < F(1, 10_000)


def test_fuel_K11_water_carried() -> None:
    """A page on water in petrol: 0.5 % at 60 F, 0.3 % at 10 F, with a tenth of ethanol."""
    assert round(water_carried(15_556) * 1000, 3) == 5
    assert round(water_carried(-12_222) * 1000, 3) == 3


def test_fuel_K12_a_tank_to_saturation() -> None:
    assert round(water_carried_ul(4_000_000, 15_556) / 1000, 1) == 20


def test_without_ethanol_any_water_lies_below() -> None:
    assert water_alarm(1, 4_000_000, ethanol=F(0), coldest_mc=20_000)
    assert not water_alarm(0, 4_000_000, ethanol=F(0), coldest_mc=20_000)
    assert not water_alarm(6_000, 4_000_000, ethanol=F(1, 10), coldest_mc=-12_222)
    assert water_alarm(6_001, 4_000_000, ethanol=F(1, 10), coldest_mc=-12_223)


# -- light ends -------------------------------------------------------------------------------


def grams(fill: str, psi: str = "9", low: int = 60, high: int = 84) -> Fraction:
    return vapour_grams(fill=F(fill), gallons=F(1), psi=F(psi), low_f=F(low), high_f=F(high))


@pytest.mark.parametrize(("fill", "expected"), [("0.5", "1.1140"), ("0.95", "0.3428")])
def test_fuel_K13_K14_the_equation_of_a_vented_tank(fill: str, expected: str) -> None:
    """US EPA, NONROAD2008a, wadeeq.f: one US gallon, 9 psi, 60 to 84 F."""
    assert abs(grams(fill) - F(expected)) < F(1, 10_000)


@pytest.mark.parametrize(("fill", "shape"), [("0.95", "0.162"), ("0.5", "1"), ("0.25", "2.769")])
def test_fuel_K15_how_full_decides(fill: str, shape: str) -> None:
    assert round(fill_shape(F(fill)), 3) == F(shape)


@pytest.mark.parametrize(
    ("fill", "psi", "low", "high", "percent", "days"),
    [
        ("0.25", "9", 60, 84, "0.322", "15.5"),
        ("0.5", "9", 60, 84, "0.116", "43"),
        ("0.75", "9", 60, 84, "0.0477", "105"),
        ("0.95", "9", 60, 84, "0.0188", "266"),
        ("0.5", "9", 40, 64, "0.0501", "100"),
        ("0.5", "13.5", 20, 44, "0.0582", "86"),
    ],
)
def test_fuel_2_3_row_by_row(
    fill: str, psi: str, low: int, high: int, percent: str, days: str
) -> None:
    """Follows from the same equation, times 1.46 for a vented tank without controls."""
    lost = vented_share(
        fill=F(fill),
        psi=F(psi),
        low_mc=round((low - 32) * F(5000, 9)),
        high_mc=round((high - 32) * F(5000, 9)),
        factor=FUEL_TABLE.vented_factor,
        pounds_a_gallon=FUEL_TABLE.pounds_a_gallon,
    )
    assert abs(lost * 100 - F(percent)) <= F(percent) / 200
    assert abs(FUEL_TABLE.vapour_limit / lost - F(days)) <= F(1, 2)


def test_fuel_1_2_warmth_and_light_ends() -> None:
    """Half full, 9 psi: 60 to 84 F against 40 to 64 F; 2.32 in 20 F."""
    assert round(grams("0.5", low=40, high=64), 4) == F("0.4804")
    assert round(grams("0.5") / grams("0.5", low=40, high=64), 2) == F("2.32")


def test_nothing_is_breathed_out_where_no_day_is_warmer_than_its_night() -> None:
    assert grams("0.5", low=60, high=60) == 0
    assert fahrenheit(-40_000) == -40


def test_fuel_K16_a_closed_can_for_a_year() -> None:
    """40 CFR 59.611: at most 0.3 g a US gallon and day."""
    share = F("0.3") / (FUEL_TABLE.pounds_a_gallon * GRAMS_A_POUND) * 365
    assert round(share * 100, 2) == F("3.91")
    assert round(FUEL_TABLE.can_loss * 365 * 100, 1) == F("3.9")


def test_a_half_full_tank_in_summer_is_thin_after_43_days() -> None:
    """The worked row in the verdict: light ends govern where the fuel keeps otherwise."""
    low, high = (60 - 32) * F(5000, 9), (84 - 32) * F(5000, 9)
    mean, swing = round((low + high) / 2), round(high - low)
    bought = date(2026, 6, 1)
    lot = LotFacts(bought_on=bought, volume_ul=10**6, sort=FuelSort.ALKYLATE, since=bought)
    tank = VesselFacts(
        vessel_id=TANK,
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=2 * 10**6,
        lots=(lot,),
        month_means_mc=(mean,) * 12,
        month_swings_mc=(swing,) * 12,
    )
    for day, band in ((21, Band.GOOD), (22, Band.USE_FIRST), (43, Band.USE_FIRST), (44, Band.BURN)):
        verdict = judge_vessel(tank, on=bought + timedelta(days=day))
        assert (verdict.band, verdict.governed_by) == (band, FuelClock.LIGHT_ENDS)
        assert verdict.burn_on == bought + timedelta(days=44)


@pytest.mark.parametrize(
    ("bought", "summer"),
    [("2026-05-31", False), ("2026-06-01", True), ("2026-09-15", True), ("2026-09-16", False)],
)
def test_fuel_K40_the_summer_grade(bought: str, summer: bool) -> None:
    """US EPA, vapour pressure of petrol at retail: 1 June to 15 September."""
    day = date.fromisoformat(bought)
    lot = LotFacts(bought_on=day, volume_ul=10**6, sort=FuelSort.E0, since=day)

    def lost(month_means: tuple[int, ...]) -> Fraction:
        tank = VesselFacts(
            vessel_id=TANK,
            name="tank",
            sort=VesselSort.TANK,
            capacity_ul=2 * 10**6,
            lots=(lot,),
            month_means_mc=month_means,
            month_swings_mc=(10_000,) * 12,
        )
        found = judge_vessel(tank, on=date(2026, 12, 15)).light_ends
        assert found is not None
        return found / (date(2026, 12, 15) - day).days

    assert (lost((15_000,) * 12) < F(13, 1000)) is summer
    # where January is the warmer month the same days lie in winter
    assert lost((15_001, *(15_000,) * 11)) > F(13, 1000)


# -- mixing: published worked examples --------------------------------------------------------


def test_fuel_X1_K17_salt_washed_out() -> None:
    """University of Southampton, worked solutions: 500 L, 4 L/min, to a thousandth: 863 min."""
    assert volumes_to_flush(0.001) * 500 / 4 == pytest.approx(863.47, abs=0.01)


def test_fuel_X2_X3_K18_a_tank_that_fills() -> None:
    """Advanced Engineering Mathematics, 3rd ed., chapter 2: 490.625 lb when it runs over."""
    full = while_filling(held=50, volume=300, richness=2, inflow=3, outflow=2, time=100)
    assert full == pytest.approx(490.625)
    later = while_filling(held=full, volume=400, richness=2, inflow=3, outflow=3, time=50)
    assert later == pytest.approx(587.370, abs=0.001)


def test_fuel_X4_X5_two_on_the_web() -> None:
    """Worked examples on the web: 7.36 kg after 40 min; 266.4 lb after 50 min."""
    assert 20 * flushed_share(5 * 40 / 200) == pytest.approx(7.36, abs=0.005)
    lb = while_filling(held=50, volume=300, richness=2, inflow=3, outflow=3, time=50)
    assert lb == pytest.approx(266.41, abs=0.01)


@pytest.mark.parametrize(
    ("volume", "now", "wanted", "added", "expected"),
    [
        ("3.6", "0.6", "0.5", "0", "0.6"),
        ("16", "0.4", "0.6", "1", "16/3"),
        ("18", "0.2", "0.3", "1", "2.25"),
    ],
)
def test_fuel_X6_X7_X8_K22_a_radiator(
    volume: str, now: str, wanted: str, added: str, expected: str
) -> None:
    """Precalculus, 6th ed., 1.6 no. 57 (the first); worked examples on the web."""
    drawn = to_replace(F(volume), now=F(now), wanted=F(wanted), added=F(added))
    assert drawn == F(expected)


@pytest.mark.parametrize(
    ("volume", "part", "expected"), [(100, 20, "51.2"), (500, 50, "364.5"), (200, 20, "145.8")]
)
def test_fuel_X9_X10_X11_K21_replaced_three_times(volume: int, part: int, expected: str) -> None:
    """Worked examples on the web; the second is 72.9 % of 500 L."""
    assert after_replacing(F(volume), F(part), 3) == F(expected)


def test_fuel_X9_in_the_ledger() -> None:
    """The same example with the program's own lots, to the microlitre."""
    one = LotFacts(bought_on=DAY, volume_ul=0, sort=FuelSort.E5)
    other = LotFacts(bought_on=DAY + timedelta(days=1), volume_ul=0, sort=FuelSort.E5)

    def put(lot: LotFacts, volume: int) -> FuelMoved:
        return FuelMoved(move=FuelMove.PUT, vessel_id=TANK, day=DAY, volume_ul=volume, lot=lot)

    take = FuelMoved(move=FuelMove.TAKE, vessel_id=TANK, day=DAY, volume_ul=20_000_000)
    moves = [put(one, 100_000_000), *(3 * [take, put(other, 20_000_000)])]
    held = replay(moves, {TANK: Holds(100_000_000, VesselSort.CAN)}).lots[TANK]
    assert held[0].volume_ul == 51_200_000


@pytest.mark.parametrize(("changes", "minutes"), [(1, (138, 276, 414)), (6, (23, 46, 69))])
def test_fuel_X12_X13_K19_purging_a_room(changes: int, minutes: tuple[int, ...]) -> None:
    """CDC, MMWR 28 October 1994, table S3-1: 90, 99 and 99.9 % of the air."""
    found = [int(volumes_to_flush(1 - part) * 60 / changes) for part in (0.9, 0.99, 0.999)]
    assert tuple(found) == minutes


def test_fuel_X14_X15_volumes_flowing_through() -> None:
    """NCBI glossary: one change of air removes 63 %; a table on the web: 0.368 to 0.007."""
    assert 1 - flushed_share(1) == pytest.approx(0.632, abs=0.0005)
    table = [round(flushed_share(volumes), 3) for volumes in range(1, 6)]
    assert table == [0.368, 0.135, 0.05, 0.018, 0.007]


def test_fuel_X16_X17_K26_dilution() -> None:
    """Worked examples of chemistry on the web: 0.200 M, 0.0750 M."""
    assert mean_of([(F(5), F(2)), (F(45), F(0))]) == F("0.2")
    assert mean_of([(F(5), F("3.24")), (F(211), F(0))]) == F("0.075")


def test_fuel_K20_three_lots_in_time() -> None:
    """Follows from the rule: each burn takes every lot in proportion."""
    days = [DAY + timedelta(days=day) for day in (0, 10, 25, 45)]

    def put(at: int, litres: int) -> FuelMoved:
        lot = LotFacts(bought_on=days[at], volume_ul=0, sort=FuelSort.E5)
        volume = litres * 10**6
        return FuelMoved(move=FuelMove.PUT, vessel_id=TANK, day=days[at], volume_ul=volume, lot=lot)

    def burn(at: int, litres: int) -> FuelMoved:
        volume = litres * 10**6
        return FuelMoved(move=FuelMove.TAKE, vessel_id=TANK, day=days[at], volume_ul=volume)

    moves = [put(0, 4), burn(1, 3), put(1, 3), burn(2, 2), put(2, 2), burn(3, 1)]
    held = replay(moves, {TANK: Holds(4_000_000, VesselSort.TANK)}).lots[TANK]
    assert [lot.volume_ul for lot in held] == [375_000, 1_125_000, 1_500_000]
    parts = [(F(lot.volume_ul), F((days[3] - (lot.bought_on or DAY)).days)) for lot in held]
    assert mean_of(parts) == F("28.75")
    whole = sum(lot.volume_ul for lot in held)
    assert F(sum(int(ul) for ul, age in parts if age > 30), whole) == F(1, 2)


def test_fuel_K23_K24_K25_burnt_down_and_filled_up() -> None:
    """Follow from r to the n, and from the sum of what is stale."""
    assert 4 * share_left(F(1, 4), 3) == F("0.0625")
    assert refills_to(F(1, 2), F(1, 10)) == 4
    assert refills_to(F(3, 4), F(1, 10)) == 9
    assert refills_to(F(1, 4), F(1, 10)) == 2
    assert fresh_to_share(F(1), F(1), F(1, 5)) == 4
    assert fresh_to_share(F(1, 2), F(2), F(1, 10)) == 3
    assert fresh_to_share(F(0), F(2), F(1, 10)) == 0


def test_fuel_K36_commingled() -> None:
    """US EPA, MOVES, TankFuelGenerator: 50/50 of petrol with and without ethanol, 9.0 psi each."""
    assert commingled_psi(F(9), F(1, 2)) == F("9.36")
    assert commingled_psi(F(9), F(3, 10)) == 9 * F("1.035")
    with pytest.raises(ValueError):
        commingled_psi(F(9), F(6, 10))


def test_fuel_K37_warmer_petrol_is_more() -> None:
    """University answer page (Leuven): 5 L, ten degrees more, 0.00095 a degree: 5.0475 L."""
    assert expanded(F(5), F(10), growth=F("0.00095")) == F("5.0475")
    assert expanded(F("0.95"), F("54.8")) < 1 < expanded(F("0.95"), F("54.9"))


# -- oil and stabiliser -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ratio", "a_litre", "us", "imperial", "share"),
    [
        (16, "62.5", "8", "10", "5.88"),
        (25, "40", "5.12", "6.4", "3.85"),
        (32, "31.25", "4", "5", "3.03"),
        (40, "25", "3.2", "4", "2.44"),
        (50, "20", "2.56", "3.2", "1.96"),
    ],
)
def test_fuel_K27_K28_K29_oil_for_petrol(
    ratio: int, a_litre: str, us: str, imperial: str, share: str
) -> None:
    """Mix tables of the trade, in three measures; 5 US gal at 50:1 take 12.8 fl oz."""

    def oil(unit: Unit, amount: int = 1) -> Quantity:
        return oil_for(Quantity(F(amount), unit), F(ratio))

    assert oil(Unit.LITRE) == Quantity(F(a_litre), Unit.MILLILITRE)
    assert oil(Unit.US_GALLON) == Quantity(F(us), Unit.US_FLUID_OUNCE)
    assert oil(Unit.US_GALLON, 5).amount == 5 * F(us)
    assert oil(Unit.IMPERIAL_GALLON) == Quantity(F(imperial), Unit.IMPERIAL_FLUID_OUNCE)
    assert oil_ul(5_000_000, F(ratio)) == 5000 * F(a_litre)
    assert round(parts_of(1_000_000, F(ratio))[1] / 10_000, 2) == F(share)


@pytest.mark.parametrize(
    ("litres", "ratio", "wanted", "oil_ml", "petrol_l"),
    [
        (2, 50, 40, "9.80", "0"),
        (1, 50, 25, "19.61", "0"),
        (5, 50, 32, "55.15", "0"),
        (2, 32, 50, "0", "1.091"),
        (4, 40, 50, "0", "0.976"),
        (3, 25, 40, "0", "1.731"),
        (2, 50, 50, "0", "0"),
    ],
)
def test_fuel_K30_a_mix_put_right(
    litres: int, ratio: int, wanted: int, oil_ml: str, petrol_l: str
) -> None:
    """Follows from the sums of petrol and oil."""
    add = corrected(litres * 10**6, F(ratio), F(wanted))
    assert round(add.oil_ul / 1000, 2) == F(oil_ml)
    assert round(add.petrol_ul / 10**6, 3) == F(petrol_l)
    petrol, oil = parts_of(litres * 10**6, F(ratio))
    assert (petrol + add.petrol_ul) / (oil + add.oil_ul) == wanted


def test_fuel_4_2_two_mixes_together() -> None:
    both = blended([(2_000_000, F(50)), (1_000_000, F(25))])
    assert both is not None
    assert round(both, 2) == F("37.62")
    assert blended([(1, None)]) is None
    assert blended([(1_020_000, F(50)), (1_000_000, None)]) == 100


def test_fuel_4_3_what_is_near_enough() -> None:
    """Rounding 2.56 fl oz to 2.6 gives 49.2:1; a twentieth of the oil off gives 47.6 and 52.6."""
    rounded = convert(Quantity(F(1), Unit.US_GALLON), Unit.US_FLUID_OUNCE).amount / F("2.6")
    assert round(rounded, 1) == F("49.2")
    assert judge_mix(rounded, F(50)) is Mixed.RIGHT
    assert round(F(50) / F("1.05"), 1) == F("47.6")
    assert judge_mix(F("52.7"), F(50)) is Mixed.TOO_LITTLE_OIL
    assert judge_mix(F("52.6"), F(50)) is Mixed.RIGHT
    assert judge_mix(F("45.4"), F(50)) is Mixed.TOO_MUCH_OIL


def test_fuel_K31_the_dose_in_three_measures() -> None:
    """A label as relayed by an insurer: 1 US fl oz to 2.5 US gal."""
    dose = F(1, 320)
    assert dose_for(Quantity(F(4), Unit.LITRE), dose) == Quantity(F("12.5"), Unit.MILLILITRE)
    gallons = Quantity(F(5, 2), Unit.US_GALLON)
    assert dose_for(gallons, dose) == Quantity(F(1), Unit.US_FLUID_OUNCE)


# -- consumption ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("horsepower", "load", "pounds", "gallons", "litres"),
    [("5", "0.33", "0.781", "0.2089", "0.7906"), ("8", "0.35", "0.937", "0.4252", "1.6096")],
)
def test_fuel_K32_K33_what_an_engine_burns(
    horsepower: str, load: str, pounds: str, gallons: str, litres: str
) -> None:
    """US EPA, NONROAD2008a, BSFC.EMF and ACTIVITY.DAT: a mower, a snow thrower."""
    given = {"horsepower": F(horsepower), "load": F(load), "pounds": F(pounds)}
    assert round(gallons_an_hour(**given), 4) == F(gallons)
    assert round(ul_an_hour(**given) / 10**6, 4) == F(litres)


def test_fuel_K34_pounds_a_horsepower_to_grams_a_kilowatt() -> None:
    """Conversion of units."""
    assert round(grams_a_kilowatt_hour(F("0.781")), 1) == F("475.1")


def test_a_burn_in_whole_microlitres() -> None:
    assert burnt_ul(1800, F(790_601)) == 395_301
    assert burnt_ul(0, F(1)) == 0
    assert learnt_ul_an_hour([(9, 0)]) is None
    fills = [(10**9, 3600), *((one * 1000, 3600) for one in (5, 1, 4, 2, 3))]
    assert learnt_ul_an_hour(fills) == 3000


# -- the bowl ---------------------------------------------------------------------------------


def test_fuel_2_5_the_bowl_turns_before_its_tank() -> None:
    """Follows from the rule: the tank's age on the last run, and thirty days from there."""
    lot = LotFacts(bought_on=DAY, volume_ul=10**6, sort=FuelSort.E10, stabilised_on=DAY, since=DAY)
    tank = VesselFacts(
        vessel_id=TANK,
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=10**6,
        lots=(lot,),
        month_means_mc=TWENTY,
    )
    ran = DAY + timedelta(days=18)
    wet = judge_bowl(tank, last_ran_on=ran, left=BowlLeft.WET, on=DAY + timedelta(days=63))
    assert wet.ageing == F(18, 180) + F(45, 90)
    assert wet.stale_on == ran + timedelta(days=81)
    gum = judge_bowl(tank, last_ran_on=ran, left=BowlLeft.UNKNOWN, on=ran + timedelta(days=81))
    assert gum.gum_likely
    dry = judge_bowl(tank, last_ran_on=ran, left=BowlLeft.DRY, on=ran + timedelta(days=81))
    assert (dry.ageing, dry.gum_likely) == (None, False)


def test_ties_go_to_the_older_lot() -> None:
    assert shares((1, 1, 1), 2) == (1, 1, 0)
    assert shares((3, 3), 3) == (2, 1)
