"""Laws of the fuel ledger, for any run of events in five vessels, in any order of entry."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from schedules.facts import FuelSort, LotFacts, VesselFacts, VesselId, VesselSort
from schedules.fuel import judge_vessel, lot_ageing
from schedules.ledger import (
    Account,
    FuelMove,
    FuelMoved,
    Gone,
    Holds,
    Ledger,
    in_order,
    lots_after,
    replay,
    shares,
)
from schedules.mixing import mean_of

FIRST = date(2025, 1, 1)
LAST = FIRST + timedelta(days=730)
VESSELS = {
    VesselId(1): Holds(10_000_000, VesselSort.CAN),
    VesselId(2): Holds(5_000_000, VesselSort.CAN),
    VesselId(3): Holds(1_500_000, VesselSort.TANK),
    VesselId(4): Holds(400_000, VesselSort.TANK),
    VesselId(5): Holds(50_000, VesselSort.BOWL),
}
MOST_EVENTS = 30
MEANS = (-4_000, -3_000, 2_000, 8_000, 14_000, 19_000, 22_000, 21_000, 17_000, 11_000, 5_000, 0)
SWINGS = (9_000,) * 12


def random_move(chance: random.Random) -> FuelMoved:
    vessel = VesselId(chance.randint(1, 5))
    day = FIRST + timedelta(days=chance.randint(0, 700))
    move = chance.choice([*FuelMove, FuelMove.PUT, FuelMove.POUR, FuelMove.TAKE])
    most = VESSELS[vessel].capacity_ul
    volume = chance.choice((None, chance.randint(1, most), chance.randint(1, 1000)))
    if move is FuelMove.LEVEL:
        volume = chance.choice((0, chance.randint(0, most)))
    elif move is FuelMove.OIL:
        volume = chance.randint(1, most // 20)
    lot = into = None
    if move is FuelMove.PUT:
        known = chance.random() < 0.9
        lot = LotFacts(
            bought_on=day - timedelta(days=chance.choice((0, 0, 5, 90))) if known else None,
            volume_ul=0,
            sort=chance.choice((FuelSort.E0, FuelSort.E10, FuelSort.ALKYLATE)),
            stabilised_on=chance.choice((None, None, day)),
        )
    elif move is FuelMove.POUR:
        into = VesselId(chance.choice([other for other in VESSELS if other != vessel]))
        if volume is not None:  # as the acts have it: no more than the other one holds
            volume = min(volume, VESSELS[into].capacity_ul)
    return FuelMoved(
        move=move,
        vessel_id=vessel,
        day=day,
        volume_ul=volume,
        lot=lot,
        to_vessel_id=into,
        gone=chance.choice(list(Gone)),
        found=chance.random() < 0.2,
        oil_ratio=50 if move is FuelMove.PUT and chance.random() < 0.1 else None,
    )


def random_moves(seed: int) -> tuple[FuelMoved, ...]:
    chance = random.Random(seed)
    return tuple(random_move(chance) for _ in range(chance.randint(1, MOST_EVENTS)))


def vessel_of(ledger: Ledger, number: VesselId, means: tuple[int, ...] = MEANS) -> VesselFacts:
    return VesselFacts(
        vessel_id=number,
        name="any",
        sort=VESSELS[number].sort,
        capacity_ul=VESSELS[number].capacity_ul,
        lots=ledger.lots[number],
        month_means_mc=means,
        month_swings_mc=SWINGS,
        levels=ledger.levels[number],
    )


# -- the laws, each of one run of events ------------------------------------------------------


def litres_are_exact(moves: tuple[FuelMoved, ...]) -> None:
    ledger = replay(in_order(moves), VESSELS)
    for number, account in ledger.accounts.items():
        held = sum(lot.volume_ul for lot in ledger.lots[number])
        assert account.held_ul == held <= VESSELS[number].capacity_ul
        assert min(getattr(account, field.name) for field in fields(Account)) >= 0
        assert all(0 <= lot.oil_ul <= lot.volume_ul > 0 for lot in ledger.lots[number])
        if ledger.levels[number]:
            assert ledger.levels[number][-1][1] == held
    total = {
        field.name: sum(getattr(account, field.name) for account in ledger.accounts.values())
        for field in fields(Account)
    }
    assert total["poured_in_ul"] == total["poured_out_ul"]
    came = total["bought_ul"] + total["found_ul"] + total["oil_ul"]
    went = sum(total[f"{gone.value}_ul"] for gone in Gone)
    assert came == went + sum(account.held_ul for account in ledger.accounts.values())


def lots_stand_oldest_first(moves: tuple[FuelMoved, ...]) -> None:
    for lots in lots_after(in_order(moves), VESSELS).values():
        known = [lot.bought_on for lot in lots if lot.bought_on is not None]
        assert known == sorted(known)


def drawing_takes_in_proportion(moves: tuple[FuelMoved, ...]) -> None:
    lots = lots_after(in_order(moves), VESSELS)[VesselId(1)]
    volumes = [lot.volume_ul for lot in lots]
    whole = sum(volumes)
    for part in {0, whole // 3, whole}:
        taken = shares(volumes, part)
        assert sum(taken) == part
        for one, volume in zip(taken, volumes, strict=True):
            assert abs(one * whole - volume * part) < whole
            assert 0 <= one <= volume


def the_mean_lies_between(moves: tuple[FuelMoved, ...]) -> None:
    ledger = replay(in_order(moves), VESSELS)
    for number in VESSELS:
        known = [lot for lot in ledger.lots[number] if lot.bought_on is not None]
        if not known:
            continue
        ages = [Fraction((LAST - (lot.bought_on or LAST)).days) for lot in known]
        parts = [(Fraction(lot.volume_ul), age) for lot, age in zip(known, ages, strict=True)]
        assert min(ages) <= mean_of(parts) <= max(ages)


def shares_are_whole_and_ages_never_fall(moves: tuple[FuelMoved, ...]) -> None:
    ledger = replay(in_order(moves), VESSELS)
    for number in VESSELS:
        facts = vessel_of(ledger, number)
        early, late = (judge_vessel(facts, on=day) for day in (LAST, LAST + timedelta(days=90)))
        if not early.volume_ul:
            continue
        assert sum(Fraction(lot.volume_ul, early.volume_ul) for lot in early.lots) == 1
        assert 0 <= early.spoilt_share <= early.stale_share <= 1
        assert early.stale_share <= late.stale_share
        assert early.gum_index <= late.gum_index
        for before, after in zip(early.lots, late.lots, strict=True):
            assert (before.ageing or 0) <= (after.ageing or 0)
            assert (before.light_ends or 0) <= (after.light_ends or 0)


def fresh_fuel_never_makes_it_staler(moves: tuple[FuelMoved, ...]) -> None:
    before = replay(in_order(moves), VESSELS)
    fresh = FuelMoved(
        move=FuelMove.PUT,
        vessel_id=VesselId(1),
        day=LAST,
        volume_ul=1_000_000,
        lot=LotFacts(bought_on=LAST, volume_ul=0, sort=FuelSort.E0),
    )
    after = replay((*in_order(moves), fresh), VESSELS)
    first, second = (judge_vessel(vessel_of(one, VesselId(1)), on=LAST) for one in (before, after))
    assert second.stale_share <= max(first.stale_share, Fraction(0))
    assert second.gum_index <= first.gum_index
    if first.light_ends is not None and second.light_ends is not None:
        assert second.light_ends <= max(first.light_ends, Fraction(0))


def warmer_is_never_slower(moves: tuple[FuelMoved, ...]) -> None:
    ledger = replay(in_order(moves), VESSELS)
    warmer = tuple(mean + 3_000 for mean in MEANS)
    for number in VESSELS:
        cool, warm = vessel_of(ledger, number), vessel_of(ledger, number, warmer)
        for lot in cool.lots:
            # Stabiliser dosed on older fuel gives less credit, so it too only adds.
            ages = [lot_ageing(lot, one, on=LAST) for one in (cool, warm)]
            if ages[0] is not None and ages[1] is not None:
                assert ages[0] <= ages[1]


def vessels_apart_do_not_heed_each_other(moves: tuple[FuelMoved, ...]) -> None:
    apart = [moved for moved in in_order(moves) if moved.move is not FuelMove.POUR]
    together = lots_after(apart, VESSELS)
    one_by_one = sorted(apart, key=lambda moved: moved.vessel_id)
    assert lots_after(one_by_one, VESSELS) == together
    for number in VESSELS:
        alone = [moved for moved in apart if moved.vessel_id == number]
        assert lots_after(alone, VESSELS)[number] == together[number]


def a_late_entry_is_one_entered_in_time(moves: tuple[FuelMoved, ...]) -> None:
    for at in {0, len(moves) // 2}:
        late = (*moves[:at], *moves[at + 1 :], moves[at])
        days = [moved.day for moved in moves]
        if days.count(moves[at].day) == 1:
            assert replay(in_order(late), VESSELS) == replay(in_order(moves), VESSELS)


def stabiliser_makes_nothing_older_and_nothing_younger(moves: tuple[FuelMoved, ...]) -> None:
    plain = replay(in_order(moves), VESSELS)
    day = LAST - timedelta(days=20)
    for number in VESSELS:
        dose = FuelMoved(move=FuelMove.TREAT, vessel_id=number, day=day)
        dosed = replay((*in_order(moves), dose), VESSELS)
        for one, other in zip(plain.lots[number], dosed.lots[number], strict=True):
            where = vessel_of(plain, number)
            ages = [lot_ageing(lot, where, on=LAST) for lot in (one, other)]
            on_the_day = lot_ageing(one, where, on=day)
            if ages[0] is not None and ages[1] is not None and on_the_day is not None:
                assert on_the_day <= ages[1] <= ages[0]


LAWS = (
    litres_are_exact,
    lots_stand_oldest_first,
    drawing_takes_in_proportion,
    the_mean_lies_between,
    shares_are_whole_and_ages_never_fall,
    fresh_fuel_never_makes_it_staler,
    warmer_is_never_slower,
    vessels_apart_do_not_heed_each_other,
    a_late_entry_is_one_entered_in_time,
    stabiliser_makes_nothing_older_and_nothing_younger,
)


@dataclass(frozen=True)
class Broken:
    """A run of events, by its seed, that breaks a law."""

    seed: int
    law: str
    said: str


def broken_laws(seeds: Sequence[int]) -> list[Broken]:
    """Every law that any of the runs of events breaks; for the long runs."""
    found: list[Broken] = []
    for seed in seeds:
        moves = random_moves(seed)
        for law in LAWS:
            try:
                law(moves)
            except AssertionError as error:
                found.append(Broken(seed, law.__name__, str(error)))
    return found


def test_every_law_holds_for_any_run_of_events() -> None:
    assert broken_laws(range(60)) == []


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**9))
def test_litres_are_exact_whatever_happens(seed: int) -> None:
    litres_are_exact(random_moves(seed))
    drawing_takes_in_proportion(random_moves(seed))


@pytest.mark.long
def test_every_law_at_length() -> None:
    assert broken_laws(range(1000, 11_000)) == []
