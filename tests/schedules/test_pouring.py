"""Pouring before it is done, what must not be put together, and the course of the bands."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from schedules.band_course import band_course
from schedules.demands import ul_an_hour_of
from schedules.facts import (
    Band,
    FuelSort,
    FuelUse,
    KindCode,
    LotFacts,
    VesselFacts,
    VesselId,
    VesselSort,
)
from schedules.fuel import judge_vessel
from schedules.pouring import Mismatch, held_ul, mismatch, poured, room_ul, with_lot

ON = date(2026, 6, 1)
LITRE = 10**6


def vessel(number: int, *lots: LotFacts, capacity: int = 10 * LITRE) -> VesselFacts:
    return VesselFacts(
        vessel_id=VesselId(number),
        name=f"vessel {number}",
        sort=VesselSort.CAN,
        capacity_ul=capacity,
        lots=lots,
        month_means_mc=(20_000,) * 12,
        burns=FuelUse.FOUR_STROKE,
    )


def lot(age_days: int, volume_ul: int, sort: FuelSort = FuelSort.E5) -> LotFacts:
    bought = ON - timedelta(days=age_days)
    return LotFacts(bought_on=bought, volume_ul=volume_ul, sort=sort, since=bought)


def test_a_pour_loses_nothing_and_keeps_ages() -> None:
    source, target = vessel(1, lot(200, 3 * LITRE), lot(10, LITRE)), vessel(2, lot(0, LITRE))
    less, more = poured(source, target, 1_000_003, on=ON)
    assert held_ul(less) + held_ul(more) == 5 * LITRE
    assert held_ul(more) == 2_000_003
    assert {each.bought_on for each in more.lots} == {
        each.bought_on for each in (*source.lots, *target.lots)
    }
    assert more.levels[-1] == (ON, 2_000_003)
    assert judge_vessel(target, on=ON).band is Band.GOOD
    assert judge_vessel(more, on=ON).band is Band.BURN


def test_what_cannot_be_poured() -> None:
    source, small = vessel(1, lot(0, 3 * LITRE)), vessel(2, capacity=LITRE)
    with pytest.raises(ValueError, match="itself"):
        poured(source, source, LITRE, on=ON)
    with pytest.raises(ValueError, match="4000000 of 3000000"):
        poured(source, vessel(3), 4 * LITRE, on=ON)
    with pytest.raises(ValueError, match="of room"):
        poured(source, small, 2 * LITRE, on=ON)
    assert room_ul(small) == LITRE


def test_fresh_on_top_is_as_if_it_were_in_the_ledger() -> None:
    stale = vessel(1, lot(200, LITRE // 2))
    after = with_lot(stale, lot(0, 5 * LITRE), on=ON)
    assert held_ul(after) == 5_500_000
    assert judge_vessel(after, on=ON).stale_share * 11 == 1


@pytest.mark.parametrize(
    ("sort", "burns", "expected"),
    [
        (FuelSort.PREMIX, FuelUse.FOUR_STROKE, Mismatch.MIX_IN_FOUR_STROKE),
        (FuelSort.E5, FuelUse.TWO_STROKE, Mismatch.PLAIN_IN_TWO_STROKE),
        (FuelSort.E10, FuelUse.DIESEL, Mismatch.PETROL_IN_DIESEL),
        (FuelSort.DIESEL, FuelUse.FOUR_STROKE, Mismatch.DIESEL_IN_PETROL),
        (FuelSort.E15, FuelUse.FOUR_STROKE, Mismatch.TOO_MUCH_ALCOHOL),
        (FuelSort.E5, FuelUse.NONE, Mismatch.BURNS_NOTHING),
        (FuelSort.E10, FuelUse.FOUR_STROKE, None),
        (FuelSort.PREMIX_ALKYLATE, FuelUse.TWO_STROKE, None),
        (FuelSort.UNKNOWN, FuelUse.TWO_STROKE, None),
    ],
)
def test_what_must_not_go_into_what(
    sort: FuelSort, burns: FuelUse, expected: Mismatch | None
) -> None:
    assert mismatch((sort,), burns) is expected
    assert mismatch((), burns) is None


def test_the_course_of_the_bands_is_that_of_the_days() -> None:
    can = vessel(1, lot(0, LITRE))
    filled = ON + timedelta(days=400)
    fresh = replace(can, lots=(replace(can.lots[0], bought_on=filled, since=filled),))
    until = ON + timedelta(days=700)
    course = band_course([(ON - timedelta(days=9), None), (ON, can), (filled, fresh)], until=until)
    bands = [one.band for one in course]
    assert bands[:4] == [None, Band.GOOD, Band.USE_FIRST, Band.BURN]
    assert Band.GOOD in bands[4:], "filled fresh"
    for place, one in enumerate(course[1:], start=1):
        end = course[place + 1].first if place + 1 < len(course) else until
        stood = can if one.first < filled else fresh
        for day in (one.first, end - timedelta(days=1)):
            assert judge_vessel(stood, on=day).band is one.band, day


def test_a_kind_nobody_counted_burns_something() -> None:
    assert ul_an_hour_of(KindCode("K99")) > 0
