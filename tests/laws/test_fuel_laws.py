"""Laws of the fuel clock, for any lots, any place and any day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from schedules.facts import (
    Band,
    FuelSort,
    FuelUse,
    Look,
    LotFacts,
    VesselFacts,
    VesselId,
    VesselLook,
    VesselSort,
)
from schedules.fuel import judge_vessel, lot_ageing, rate_factor

# No deadline: how long an example takes says nothing about the law.
LAW = settings(max_examples=50, deadline=None)

FIRST, LAST = date(2019, 1, 1), date(2029, 12, 31)
WORSE = (
    Band.GOOD,
    Band.USE_FIRST,
    Band.BURN,
    Band.LOOK_FIRST,
    Band.DRAIN,
    Band.NOT_FOR_THIS,
)

days = st.dates(FIRST, LAST)
means = st.lists(st.integers(-45_000, 45_000), min_size=12, max_size=12).map(tuple)
swings = st.just(()) | st.lists(st.integers(0, 25_000), min_size=12, max_size=12).map(tuple)
sorts = st.sampled_from(FuelSort)
vessels = st.sampled_from(VesselSort)
volumes = st.integers(1, 20_000_000)


@st.composite
def lots(draw: st.DrawFn, *, known: bool = False) -> LotFacts:
    bought = draw(days if known else st.none() | days)
    after = st.dates(bought or FIRST, LAST)
    return LotFacts(
        bought_on=bought,
        volume_ul=draw(volumes),
        sort=draw(sorts),
        stabilised_on=draw(st.none() | days),
        since=draw(st.none() | after),
    )


@st.composite
def levels(draw: st.DrawFn) -> tuple[tuple[date, int], ...]:
    on = sorted(draw(st.sets(days, max_size=3)))
    return tuple((day, draw(st.integers(0, 20_000_000))) for day in on)


@st.composite
def filled(draw: st.DrawFn) -> VesselFacts:
    return VesselFacts(
        vessel_id=VesselId(1),
        name="any",
        sort=draw(vessels),
        capacity_ul=20_000_000,
        lots=tuple(draw(st.lists(lots(), max_size=4))),
        month_means_mc=draw(means),
        month_swings_mc=draw(swings),
        levels=draw(levels()),
        burns=draw(st.sampled_from(FuelUse)),
        looks=tuple(
            draw(st.lists(st.builds(VesselLook, day=days, look=st.sampled_from(Look)), max_size=2))
        ),
    )


def holding(
    where: VesselFacts, *held: LotFacts, month_means: tuple[int, ...] | None = None
) -> VesselFacts:
    return VesselFacts(
        vessel_id=where.vessel_id,
        name=where.name,
        sort=where.sort,
        capacity_ul=where.capacity_ul,
        lots=held,
        month_means_mc=month_means or where.month_means_mc,
        month_swings_mc=where.month_swings_mc,
        levels=where.levels,
    )


def aged(one: LotFacts, where: VesselFacts, on: date) -> Fraction:
    age = lot_ageing(one, where, on=on)
    assert age is not None
    return age


def treated(one: LotFacts, day: date | None) -> LotFacts:
    return LotFacts(
        bought_on=one.bought_on,
        volume_ul=one.volume_ul,
        sort=one.sort,
        stabilised_on=day,
        since=one.since,
    )


@LAW
@given(filled(), lots(known=True), days, days)
def test_stabiliser_makes_nothing_older_and_nothing_younger(
    where: VesselFacts, one: LotFacts, dosed: date, on: date
) -> None:
    plain = aged(treated(one, None), where, on)
    with_it = aged(treated(one, dosed), where, on)
    assert with_it <= plain
    assert one.bought_on is not None
    at_dose = aged(treated(one, None), where, min(max(dosed, one.bought_on), on))
    assert with_it >= at_dose


@LAW
@given(filled(), lots(known=True), days, days, days)
def test_stabiliser_earlier_is_never_worse(
    where: VesselFacts, one: LotFacts, early: date, late: date, on: date
) -> None:
    early, late = min(early, late), max(early, late)
    assert aged(treated(one, early), where, on) <= aged(treated(one, late), where, on)


@LAW
@given(filled(), lots(known=True), days, days)
def test_no_lot_grows_younger(where: VesselFacts, one: LotFacts, first: date, second: date) -> None:
    # stabiliser that is not in it yet is not known of: both days are asked with it in
    fixed = treated(one, None)
    first, second = min(first, second), max(first, second)
    assert 0 <= aged(fixed, where, first) <= aged(fixed, where, second)


@LAW
@given(filled(), lots(known=True), days, st.integers(0, 11), st.integers(0, 20_000))
def test_warmer_never_ages_slower(
    where: VesselFacts, one: LotFacts, on: date, month: int, warmer_mc: int
) -> None:
    warmer = list(where.month_means_mc)
    warmer[month] += warmer_mc
    hot = holding(where, month_means=tuple(warmer))
    plain = treated(one, None)
    assert aged(plain, hot, on) >= aged(plain, where, on)


@LAW
@given(st.integers(-60_000, 60_000), st.integers(-60_000, 60_000))
def test_the_rate_rises_with_the_mean(first: int, second: int) -> None:
    first, second = min(first, second), max(first, second)
    assert Fraction(1, 4) <= rate_factor(first) <= rate_factor(second)


@LAW
@given(st.integers(0, 50_000))
def test_ten_degrees_double_the_rate(mean_mc: int) -> None:
    doubled = rate_factor(mean_mc + 10_000)
    assert abs(doubled - 2 * rate_factor(mean_mc)) <= Fraction(2, 10**12)


@LAW
@given(filled(), volumes, days)
def test_adding_fresh_fuel_never_raises_a_share(
    where: VesselFacts, added_ul: int, on: date
) -> None:
    before = judge_vessel(holding(where, *where.lots), on=on)
    fresh = LotFacts(bought_on=on, volume_ul=added_ul, sort=FuelSort.E0)
    after = judge_vessel(holding(where, *where.lots, fresh), on=on)
    assert after.stale_share <= before.stale_share
    assert after.spoilt_share <= before.spoilt_share
    assert after.gum_index <= before.gum_index
    assert after.volume_ul == before.volume_ul + added_ul
    # how full the tank stands decides what the air takes, so that is left out
    told = [replace(one, light_ends=None) for one in (*before.lots, *after.lots)]
    assert told[len(before.lots) : -1] == told[: len(before.lots)]


@LAW
@given(filled(), days)
def test_shares_lie_in_their_bounds(where: VesselFacts, on: date) -> None:
    verdict = judge_vessel(where, on=on)
    assert 0 <= verdict.spoilt_share <= verdict.stale_share <= 1
    assert 0 <= verdict.gum_index <= 5
    assert verdict.volume_ul == sum(lot.volume_ul for lot in verdict.lots)


@LAW
@given(filled(), days)
def test_the_next_band_is_the_first_worse_one(where: VesselFacts, on: date) -> None:
    verdict = judge_vessel(where, on=on)
    # leave out what comes in later: it is not there on the day asked about
    held = [
        lot
        for lot in where.lots
        if (lot.since or lot.bought_on or on) <= on and (lot.bought_on or on) <= on
    ]
    looks = tuple(look for look in where.looks if look.day <= on)
    still = VesselFacts(
        vessel_id=where.vessel_id,
        name=where.name,
        sort=where.sort,
        capacity_ul=where.capacity_ul,
        lots=tuple(
            treated(lot, lot.stabilised_on if (lot.stabilised_on or LAST) <= on else None)
            for lot in held
        ),
        month_means_mc=where.month_means_mc,
        month_swings_mc=where.month_swings_mc,
        levels=where.levels,
        burns=where.burns,
        looks=looks,
    )
    rank = WORSE.index(verdict.band)
    if verdict.next_band_on is None:
        end = on + timedelta(days=1096)
        assert WORSE.index(judge_vessel(still, on=end).band) == rank
        return
    eve = verdict.next_band_on - timedelta(days=1)
    assert eve >= on
    assert WORSE.index(judge_vessel(still, on=eve).band) == rank
    assert WORSE.index(judge_vessel(still, on=verdict.next_band_on).band) > rank


@LAW
@given(filled(), days)
def test_burn_on_parts_the_good_days_from_the_stale(where: VesselFacts, on: date) -> None:
    verdict = judge_vessel(where, on=on)
    stale = WORSE.index(verdict.band) >= WORSE.index(Band.BURN)
    assert (verdict.burn_on is None) is (verdict.volume_ul == 0)
    if verdict.burn_on is not None:
        assert (verdict.burn_on <= on) is stale


@LAW
@given(filled(), lots(known=True), st.integers(1, 10_000_000), days)
def test_a_lot_parted_in_two_is_the_same_fuel(
    where: VesselFacts, one: LotFacts, part_ul: int, on: date
) -> None:
    assume(part_ul < one.volume_ul)
    whole = judge_vessel(holding(where, *where.lots, one), on=on)
    parts = [
        LotFacts(
            bought_on=one.bought_on,
            volume_ul=volume_ul,
            sort=one.sort,
            stabilised_on=one.stabilised_on,
            since=one.since,
        )
        for volume_ul in (part_ul, one.volume_ul - part_ul)
    ]
    split = judge_vessel(holding(where, *where.lots, *parts), on=on)
    assert (whole.band, whole.stale_share, whole.gum_index, whole.next_band_on) == (
        split.band,
        split.stale_share,
        split.gum_index,
        split.next_band_on,
    )
