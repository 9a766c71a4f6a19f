"""Bands of a vessel: which rule speaks, from which day, and on what grounds."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from resources.loader import load_catalogue
from schedules.facts import (
    Band,
    FigureMark,
    FuelClock,
    FuelSort,
    FuelUse,
    Look,
    LotFacts,
    Mark,
    SourceId,
    VesselFacts,
    VesselId,
    VesselLook,
    VesselSort,
    VesselVerdict,
)
from schedules.fuel import (
    FUEL_TABLE,
    FuelTable,
    Keeping,
    KeepingRow,
    judge_vessel,
    lot_ageing,
    rate_factor,
    stabiliser_dose_ul,
)
from schedules.reasons import Reason, ReasonCode
from schedules.units import Quantity, Unit

ROOT = Path(__file__).resolve().parents[2]
TWENTY = (20_000,) * 12
# A place with cold winters, degrees by month.
NORTH = tuple(mean * 1000 for mean in (-4, -3, 2, 8, 14, 19, 22, 21, 17, 11, 5, -1))
JUNE = date(2026, 6, 1)


def days(count: int) -> timedelta:
    return timedelta(days=count)


def lot(
    bought_on: date | None,
    volume_ul: int = 1_000_000,
    sort: FuelSort = FuelSort.E10,
    **more: Any,
) -> LotFacts:
    return LotFacts(bought_on=bought_on, volume_ul=volume_ul, sort=sort, **more)


def vessel(
    *lots: LotFacts,
    sort: VesselSort = VesselSort.TANK,
    means: tuple[int, ...] = TWENTY,
    **more: Any,
) -> VesselFacts:
    return VesselFacts(
        vessel_id=VesselId(1),
        name="red tank",
        sort=sort,
        capacity_ul=4_000_000,
        lots=lots,
        month_means_mc=means,
        **more,
    )


def judged(*lots: LotFacts, on: date = JUNE, **more: Any) -> VesselVerdict:
    return judge_vessel(vessel(*lots, **more), on=on)


def codes(ground: Reason) -> Iterator[ReasonCode]:
    yield ground.code
    for child in ground.children:
        yield from codes(child)


# -- the clock --------------------------------------------------------------------------------


def walked(one: LotFacts, where: VesselFacts, on: date) -> Fraction:
    """The clock day by day, as it is told: a second opinion on the sums by month."""
    assert one.bought_on is not None
    age, credit = Fraction(0), Fraction(0)
    day = one.bought_on
    since = max(one.since or one.bought_on, one.bought_on)
    before = VesselSort.TANK if where.sort is VesselSort.BOWL else VesselSort.CAN
    treated_on = max(one.stabilised_on, day) if one.stabilised_on else None
    while day < on:
        if day == treated_on:
            credit = max(Fraction(0), 1 - age)
        standing = before if day < since else where.sort
        for came_into, came in one.earlier:
            if came <= day < since:
                standing = came_into
        row = FUEL_TABLE.row(one.sort, standing)
        day += days(1)
        warmth = rate_factor(where.month_means_mc[day.month - 1])
        age += warmth * ((1 - credit) / row.plain.days + credit / row.treated.days)
    return age


@pytest.mark.parametrize(
    ("one", "sort"),
    [
        (lot(date(2023, 10, 31)), VesselSort.TANK),
        (lot(date(2024, 2, 28), stabilised_on=date(2024, 3, 9)), VesselSort.TANK),
        (lot(date(2023, 12, 1), stabilised_on=date(2023, 11, 1)), VesselSort.CAN),
        (lot(date(2023, 12, 1), since=date(2024, 2, 29)), VesselSort.TANK),
        (
            lot(date(2023, 12, 1), since=date(2024, 5, 2), stabilised_on=date(2024, 3, 1)),
            VesselSort.BOWL,
        ),
        (
            lot(
                date(2023, 12, 1),
                since=date(2024, 5, 2),
                earlier=((VesselSort.CAN, date(2023, 12, 1)), (VesselSort.TANK, date(2024, 1, 9))),
            ),
            VesselSort.BOWL,
        ),
        (lot(date(2024, 5, 1), sort=FuelSort.PREMIX, since=date(2024, 5, 9)), VesselSort.TANK),
    ],
)
def test_sums_by_month_are_the_sums_by_day(one: LotFacts, sort: VesselSort) -> None:
    where = vessel(one, sort=sort, means=NORTH)
    for on in (date(2024, 6, 30), date(2025, 3, 1), date(2026, 1, 1)):
        assert lot_ageing(one, where, on=on) == walked(one, where, on)


def test_february_of_a_century_has_28_days() -> None:
    means = (*[20_000] * 2, *[30_000] * 10)
    one = lot(date(2099, 12, 31))
    where = vessel(one, means=means)
    assert lot_ageing(one, where, on=date(2100, 3, 1)) == Fraction(31 + 28 + 2, 30)
    year = 31 + 28 + 306 * 2
    assert lot_ageing(one, where, on=date(2101, 3, 1)) == Fraction(year + 31 + 28 + 2, 30)


def test_moving_into_the_machine_carries_the_age_it_had() -> None:
    bought = JUNE - days(60)
    moved = lot(bought, since=JUNE - days(15))
    assert lot_ageing(moved, vessel(moved), on=JUNE) == Fraction(45, 90) + Fraction(15, 30)
    kept = lot(bought)
    assert lot_ageing(kept, vessel(kept, sort=VesselSort.CAN), on=JUNE) == Fraction(60, 90)


def test_the_bowl_goes_on_from_the_tank() -> None:
    one = lot(JUNE - days(20), since=JUNE - days(5), stabilised_on=JUNE - days(20))
    bowl = vessel(one, sort=VesselSort.BOWL)
    assert lot_ageing(one, bowl, on=JUNE) == Fraction(15, 180) + Fraction(5, 90)


def test_what_is_not_there_yet_does_not_exist() -> None:
    later = JUNE + days(1)
    assert judged(lot(later)).volume_ul == 0
    assert judged(lot(JUNE, since=later)).volume_ul == 0
    assert judged(lot(JUNE - days(9), stabilised_on=later)).lots[0].stabilised_on is None
    assert judged(lot(JUNE), looks=(VesselLook(day=later, look=Look.LAYERS),)).band is Band.GOOD


def test_a_place_has_twelve_means() -> None:
    with pytest.raises(ValueError):
        judged(lot(JUNE), means=(20_000,) * 11)


# -- the bands --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("age_days", "band"),
    [
        (14, Band.GOOD),
        (15, Band.USE_FIRST),
        (29, Band.USE_FIRST),
        (30, Band.BURN),
        (59, Band.BURN),
        (60, Band.DRAIN),
    ],
)
def test_bands_of_one_lot_in_a_tank(age_days: int, band: Band) -> None:
    verdict = judged(lot(JUNE - days(age_days)))
    assert (verdict.band, verdict.governed_by) == (band, FuelClock.OXIDATION)


@pytest.mark.parametrize(
    ("age_days", "ahead"), [(0, 15), (10, 5), (15, 15), (29, 1), (30, 30), (59, 1)]
)
def test_the_next_worse_band_comes_on_its_day(age_days: int, ahead: int) -> None:
    one = lot(JUNE - days(age_days))
    verdict = judged(one)
    assert verdict.next_band_on == JUNE + days(ahead)
    assert judged(one, on=JUNE + days(ahead - 1)).band is verdict.band
    assert judged(one, on=JUNE + days(ahead)).band is verdict.next_band is not verdict.band


def test_nothing_is_worse_than_drain_that_only_waiting_brings() -> None:
    assert judged(lot(JUNE - days(90))).next_band_on is None


def test_the_next_band_is_looked_for_three_years_ahead() -> None:
    cold = (-5000,) * 12
    can: dict[str, Any] = {"sort": VesselSort.CAN, "means": cold}
    alkylate = judged(lot(JUNE, sort=FuelSort.ALKYLATE), **can)
    assert alkylate.next_band_on is None
    assert alkylate.burn_on == JUNE + days(730 * 4)
    assert judged(lot(JUNE, sort=FuelSort.E0), **can).next_band_on == JUNE + days(360)


def test_the_last_day_there_is() -> None:
    verdict = judged(lot(date(9999, 12, 20)), on=date.max)
    assert (verdict.band, verdict.next_band_on, verdict.burn_on) == (Band.GOOD, None, None)


def test_fresh_fuel_on_old_is_judged_by_shares() -> None:
    old = JUNE - days(730)
    verdict = judged(lot(JUNE, 800_000), lot(old, 200_000))
    assert verdict.band is Band.BURN
    assert (verdict.stale_share, verdict.spoilt_share) == (Fraction(1, 5), Fraction(1, 5))
    assert verdict.gum_index == 1
    assert judged(lot(JUNE, 600_000), lot(old, 400_000)).band is Band.DRAIN
    # a quarter spoilt is still inside
    quarter = judged(lot(JUNE, 750_000), lot(JUNE - days(90), 250_000))
    assert (quarter.spoilt_share, quarter.band) == (Fraction(1, 4), Band.BURN)


def test_burning_days_lie_in_the_past_when_it_is_stale() -> None:
    assert judged(lot(JUNE - days(90))).burn_on == JUNE - days(60)
    # stale before it was poured in: the vessel is so from the pouring
    poured = lot(JUNE - days(200), since=JUNE - days(3))
    assert judged(poured).burn_on == JUNE - days(3)
    assert judged(lot(JUNE - days(5)), lot(JUNE - days(20))).burn_on == JUNE + days(10)


def test_an_empty_vessel_says_so() -> None:
    verdict = judged()
    assert (verdict.volume_ul, verdict.ethanol, verdict.burn_on) == (0, None, None)
    assert (verdict.band, verdict.next_band_on) == (Band.GOOD, None)
    assert verdict.reason.code is ReasonCode.FUEL_EMPTY
    assert judged(lot(JUNE, 0)).lots == ()


# -- unknown days -----------------------------------------------------------------------------


def test_more_than_a_quarter_of_unknown_day_wants_a_look() -> None:
    verdict = judged(lot(JUNE, 740_000), lot(None, 260_000))
    assert (verdict.band, verdict.governed_by) == (Band.LOOK_FIRST, FuelClock.UNKNOWN)
    assert verdict.stale_share == Fraction(26, 100)
    assert verdict.spoilt_share == 0
    assert ReasonCode.FUEL_DATE_UNKNOWN in codes(verdict.reason)


def test_a_quarter_or_less_counts_as_just_stale() -> None:
    verdict = judged(lot(JUNE, 750_000), lot(None, 250_000))
    assert (verdict.band, verdict.governed_by) == (Band.BURN, FuelClock.UNKNOWN)
    assert verdict.gum_index == Fraction(1, 4)
    assert verdict.lots[1].ageing is None
    assert judged(lot(JUNE - days(30)), lot(None, 9)).governed_by is FuelClock.OXIDATION


def test_unknown_fuel_stays_to_be_looked_at_until_what_is_known_is_spoilt() -> None:
    alone = judged(lot(None))
    assert (alone.band, alone.next_band_on, alone.burn_on) == (Band.LOOK_FIRST, None, JUNE)
    mixed = judged(lot(None, 300_000), lot(JUNE, 700_000))
    assert mixed.next_band_on is not None
    after = judged(lot(None, 300_000), lot(JUNE, 700_000), on=mixed.next_band_on)
    assert after.band is Band.DRAIN
    assert judged(lot(None, since=JUNE - days(7))).burn_on == JUNE - days(7)


# -- nose and jar -----------------------------------------------------------------------------


def look(what: Look, day: date = JUNE) -> tuple[VesselLook, ...]:
    return (VesselLook(day=day, look=what),)


def test_a_good_look_makes_old_fuel_no_worse_than_stale() -> None:
    old = lot(JUNE - days(400))
    assert judged(old).band is Band.DRAIN
    verdict = judged(old, looks=look(Look.SHARP_CLEAR))
    assert (verdict.band, verdict.governed_by) == (Band.BURN, FuelClock.LOOK)
    assert verdict.spoilt_share == 1  # the clock's own figure is shown beside it
    assert ReasonCode.FUEL_LOOK in codes(verdict.reason)


def test_a_good_look_at_fresh_fuel_changes_nothing() -> None:
    verdict = judged(lot(JUNE - days(20)), looks=look(Look.SHARP_CLEAR))
    assert (verdict.band, verdict.governed_by) == (Band.USE_FIRST, FuelClock.OXIDATION)
    stale = judged(lot(JUNE - days(40)), looks=look(Look.SHARP_CLEAR))
    assert (stale.band, stale.governed_by) == (Band.BURN, FuelClock.OXIDATION)


def test_a_good_look_settles_an_unknown_day() -> None:
    verdict = judged(lot(None), looks=look(Look.SHARP_CLEAR))
    assert (verdict.band, verdict.governed_by) == (Band.BURN, FuelClock.LOOK)


@pytest.mark.parametrize("seen", [Look.SOUR_OR_DARK, Look.LAYERS])
def test_a_bad_look_drains_the_freshest_fuel(seen: Look) -> None:
    verdict = judged(lot(JUNE), looks=look(seen))
    assert (verdict.band, verdict.governed_by) == (Band.DRAIN, FuelClock.LOOK)
    assert verdict.burn_on == JUNE


def test_a_look_is_at_what_was_in_it_then() -> None:
    seen = look(Look.SOUR_OR_DARK, JUNE - days(3))
    assert judged(lot(JUNE - days(1)), looks=seen).band is Band.GOOD
    topped_up = judged(lot(JUNE - days(5), 200_000), lot(JUNE - days(1), 800_000), looks=seen)
    assert (topped_up.band, topped_up.governed_by) == (Band.BURN, FuelClock.LOOK)
    # what lies in layers is not made good by pouring on it
    layers = look(Look.LAYERS, JUNE - days(3))
    still = judged(lot(JUNE - days(5), 200_000), lot(JUNE - days(1), 800_000), looks=layers)
    assert still.band is Band.DRAIN


def test_the_last_look_speaks() -> None:
    looks = (
        VesselLook(day=JUNE, look=Look.SOUR_OR_DARK),
        VesselLook(day=JUNE - days(9), look=Look.SHARP_CLEAR),
        VesselLook(day=JUNE, look=Look.SHARP_CLEAR),
    )
    assert judged(lot(JUNE - days(300)), looks=looks).band is Band.BURN


# -- not for this machine ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("burns", "sort", "unfit"),
    [
        (FuelUse.FOUR_STROKE, FuelSort.PREMIX, True),
        (FuelUse.FOUR_STROKE, FuelSort.PREMIX_ALKYLATE, True),
        (FuelUse.FOUR_STROKE, FuelSort.DIESEL, True),
        (FuelUse.FOUR_STROKE, FuelSort.ALKYLATE, False),
        (FuelUse.TWO_STROKE, FuelSort.E10, True),
        (FuelUse.TWO_STROKE, FuelSort.ALKYLATE, True),
        (FuelUse.TWO_STROKE, FuelSort.PREMIX, False),
        (FuelUse.TWO_STROKE, FuelSort.UNKNOWN, False),
        (FuelUse.DIESEL, FuelSort.E5, True),
        (FuelUse.DIESEL, FuelSort.DIESEL, False),
        (FuelUse.NONE, FuelSort.PREMIX, False),
    ],
)
def test_each_engine_and_its_fuel(burns: FuelUse, sort: FuelSort, unfit: bool) -> None:
    verdict = judged(lot(JUNE, sort=sort), burns=burns)
    assert (verdict.band is Band.NOT_FOR_THIS) is unfit
    assert (ReasonCode.WRONG_FUEL in codes(verdict.reason)) is unfit


def test_any_wrong_lot_spoils_the_tank_from_the_day_it_came() -> None:
    wrong = lot(JUNE - days(8), 100, FuelSort.PREMIX, since=JUNE - days(2))
    verdict = judged(lot(JUNE - days(5)), wrong, burns=FuelUse.FOUR_STROKE)
    assert (verdict.band, verdict.next_band_on) == (Band.NOT_FOR_THIS, None)
    assert verdict.burn_on == JUNE - days(2)


def test_ethanol_over_a_tenth() -> None:
    four: dict[str, Any] = {"burns": FuelUse.FOUR_STROKE}
    over = judged(lot(JUNE - days(1)), lot(JUNE, 1, FuelSort.E15), **four)
    assert (over.band, over.governed_by) == (Band.NOT_FOR_THIS, FuelClock.ETHANOL)
    assert over.burn_on == JUNE
    assert judged(lot(JUNE), **four).band is Band.GOOD
    thinned = judged(lot(JUNE, sort=FuelSort.E15), lot(JUNE, sort=FuelSort.E0), **four)
    assert (thinned.ethanol, thinned.band) == (Fraction(75, 1000), Band.GOOD)
    unknown = judged(lot(JUNE, sort=FuelSort.UNKNOWN), **four)
    assert (unknown.ethanol, unknown.band) == (None, Band.GOOD)
    # what is not known is taken as pump petrol, so this may well be over
    risky = judged(lot(JUNE, sort=FuelSort.UNKNOWN), lot(JUNE, sort=FuelSort.E15), **four)
    assert risky.band is Band.NOT_FOR_THIS


def test_the_order_of_the_bands() -> None:
    spoilt, unknown = lot(JUNE - days(400)), lot(None)
    wrong = lot(JUNE, 1, FuelSort.PREMIX)
    four: dict[str, Any] = {"burns": FuelUse.FOUR_STROKE}
    assert judged(spoilt, unknown, wrong, **four).band is Band.NOT_FOR_THIS
    assert judged(spoilt, unknown, **four).band is Band.DRAIN
    assert judged(unknown, lot(JUNE - days(40)), **four).band is Band.LOOK_FIRST


# -- grounds ----------------------------------------------------------------------------------


def test_grounds_open_down_to_the_numbers() -> None:
    bought, treated = JUNE - days(20), JUNE - days(10)
    verdict = judged(lot(bought, stabilised_on=treated), lot(JUNE))
    head = verdict.reason
    assert (head.value("vessel"), head.value("band")) == ("red tank", Band.GOOD)
    old, fresh, *clocks = head.children
    assert [child.code for child in clocks] == [
        ReasonCode.FUEL_GOVERNS,
        ReasonCode.FUEL_NEXT_BAND,
        ReasonCode.FUEL_OXIDATION,
        ReasonCode.FUEL_LIGHT_ENDS_UNKNOWN,
        ReasonCode.FUEL_WATER_UNSEEN,
    ]
    assert clocks[0].value("clock") is verdict.governed_by
    assert clocks[1].value("day") == verdict.next_band_on
    assert clocks[1].value("band") is Band.USE_FIRST
    age = Fraction(10, 30) + 10 * (Fraction(1, 3) / 30 + Fraction(2, 3) / 180)
    assert old.value("bought") == bought
    assert old.value("days") == 20
    assert old.value("ageing") == Quantity(age * 1000, Unit.PERMILLE)
    assert [child.code for child in old.children] == [
        ReasonCode.FUEL_STABILISED,
        ReasonCode.FUEL_KEEPS,
    ]
    # stabilised at a third of its life it keeps as long as 1 / (1/90 + 1/270) days
    assert old.children[1].value("days") == 67
    assert old.children[1].source is None
    assert [child.code for child in fresh.children] == [
        ReasonCode.FUEL_NOT_STABILISED,
        ReasonCode.FUEL_KEEPS,
    ]
    assert fresh.children[1].value("days") == 30
    assert fresh.children[1].source == "unl-ethanol"


# -- the table --------------------------------------------------------------------------------


def shipped() -> dict[str, Any]:
    text = (ROOT / "resources" / "fuel.toml").read_text(encoding="utf-8")
    return tomllib.loads(text, parse_float=Decimal)


def keeping(raw: dict[str, Any]) -> Keeping:
    return Keeping(
        days=raw["days"],
        least_days=raw.get("least"),
        most_days=raw.get("most"),
        mark=Mark(raw["mark"]),
        sources=tuple(SourceId(source) for source in raw.get("src", ())),
    )


def test_the_table_is_the_shipped_one() -> None:
    data = shipped()
    rows = [
        KeepingRow(
            sort=FuelSort(sort),
            vessel=VesselSort(raw["vessel"]),
            plain=keeping(raw["plain"]),
            treated=keeping(raw.get("treated", raw["plain"])),
        )
        for raw in data["keeping"]
        for sort in raw["sorts"]
    ]
    assert len(rows) == len(FUEL_TABLE.rows)
    assert {(row.sort, row.vessel): row for row in rows} == {
        (row.sort, row.vessel): row for row in FUEL_TABLE.rows
    }
    figures = {name: raw for name, raw in data.items() if name != "keeping"}
    assert {name: Fraction(raw["v"]) for name, raw in figures.items()} == {
        name: Fraction(getattr(FUEL_TABLE, name)) for name in figures
    }
    marks = [
        FigureMark(
            figure=name,
            mark=Mark(raw["mark"]),
            sources=tuple(SourceId(source) for source in raw.get("src", ())),
        )
        for name, raw in figures.items()
    ]
    by_name = {mark.figure: mark for mark in FUEL_TABLE.marks}
    assert {mark.figure: mark for mark in marks} == by_name


def test_only_what_is_published_names_a_source() -> None:
    kept = [part for row in FUEL_TABLE.rows for part in (row.plain, row.treated)]
    for one in [*kept, *FUEL_TABLE.marks]:
        assert bool(one.sources) is (one.mark is Mark.PUBLISHED)
        assert set(one.sources) <= set(load_catalogue().sources)
    for one in kept:
        assert (one.least_days or one.days) <= one.days <= (one.most_days or one.days)


def test_a_table_with_a_hole_is_refused() -> None:
    with pytest.raises(ValueError):
        FuelTable(rows=FUEL_TABLE.rows[1:])
    backwards = KeepingRow(
        sort=FuelSort.E0,
        vessel=VesselSort.TANK,
        plain=Keeping(days=30),
        treated=Keeping(days=29),
    )
    others = [row for row in FUEL_TABLE.rows if (row.sort, row.vessel) != ("e0", "tank")]
    with pytest.raises(ValueError):
        FuelTable(rows=(backwards, *others))


def test_the_dose_is_by_the_litre() -> None:
    assert stabiliser_dose_ul(4_000_000) == 12_500
