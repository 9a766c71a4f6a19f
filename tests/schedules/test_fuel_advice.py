"""What to do about fuel: dilution, who burns what, what to buy, what to do before a rest."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from itertools import permutations
from typing import Any

import pytest

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
from schedules.fuel import judge_vessel
from schedules.rations import (
    Demand,
    NoAnswer,
    Way,
    burn_plan,
    dilution,
    to_buy,
    way_out,
)
from schedules.rest import Carburettor, RestGround, RestStep, School, TankWall, rest_advice

TWENTY = (20_000,) * 12
ON = date(2026, 6, 1)
LITRE = 10**6


def days(count: int) -> timedelta:
    return timedelta(days=count)


def lot(age_days: int | None, volume_ul: int, sort: FuelSort = FuelSort.E0) -> LotFacts:
    bought = None if age_days is None else ON - days(age_days)
    return LotFacts(bought_on=bought, volume_ul=volume_ul, sort=sort)


def vessel(number: int, *lots: LotFacts, **more: Any) -> VesselFacts:
    given: dict[str, Any] = {"sort": VesselSort.CAN, "capacity_ul": 10 * LITRE, **more}
    return VesselFacts(
        vessel_id=VesselId(number),
        name=f"vessel {number}",
        lots=lots,
        month_means_mc=TWENTY,
        **given,
    )


def tank(number: int, *lots: LotFacts, **more: Any) -> VesselFacts:
    burns = more.pop("burns", FuelUse.FOUR_STROKE)
    return vessel(number, *lots, sort=VesselSort.TANK, burns=burns, **more)


# -- dilution ---------------------------------------------------------------------------------


def test_fresh_fuel_to_a_tenth_of_stale() -> None:
    mixed = tank(1, lot(40, LITRE // 2), lot(0, 3 * LITRE // 2))
    found = dilution(mixed, on=ON)
    assert (found.stale_ul, found.fresh_ul, found.no_answer) == (LITRE // 2, 3 * LITRE, None)
    assert found.room_ul == 7_500_000
    small = dilution(tank(1, *mixed.lots, capacity_ul=4 * LITRE), on=ON)
    assert small.no_answer is NoAnswer.NO_ROOM
    after = tank(1, *mixed.lots, lot(0, found.fresh_ul))
    assert judge_vessel(after, on=ON).stale_share == Fraction(1, 10)


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        (tank(1, lot(90, LITRE)), NoAnswer.TOO_FAR_GONE),
        (tank(1, lot(None, LITRE)), NoAnswer.LOOK_FIRST),
        (tank(1, lot(0, LITRE, FuelSort.PREMIX)), NoAnswer.WRONG_FUEL),
        (
            tank(1, lot(1, LITRE), looks=(VesselLook(day=ON, look=Look.LAYERS),)),
            NoAnswer.LAYERS_OR_WATER,
        ),
        (
            tank(1, lot(1, LITRE), looks=(VesselLook(day=ON, look=Look.SOUR_OR_DARK),)),
            NoAnswer.LOOKED_BAD,
        ),
        (tank(1, lot(1, LITRE), water_ul=9_000), NoAnswer.LAYERS_OR_WATER),
    ],
)
def test_where_fresh_fuel_is_no_answer(found: VesselFacts, expected: NoAnswer) -> None:
    assert dilution(found, on=ON).no_answer is expected


# -- who burns what ---------------------------------------------------------------------------


def want(number: int, in_days: int, volume_ul: int) -> Demand:
    return Demand(vessel_id=VesselId(number), day=ON + days(in_days), volume_ul=volume_ul)


def test_the_can_that_turns_first_is_burnt_first() -> None:
    cans = [vessel(1, lot(0, LITRE)), vessel(2, lot(150, LITRE))]
    plan = burn_plan([*cans, tank(3)], [want(3, 7, LITRE), want(3, 20, LITRE)], on=ON)
    assert [(draw.source, draw.day) for draw in plan.draws] == [
        (VesselId(2), ON + days(7)),
        (VesselId(1), ON + days(20)),
    ]
    assert (plan.surplus, plan.shortages) == ((), ())


def test_nobody_can_have_what_another_tank_holds() -> None:
    plan = burn_plan([tank(1, lot(0, LITRE)), tank(2)], [want(2, 3, LITRE)], on=ON)
    assert plan.draws == ()
    assert [one.vessel_id for one in plan.surplus] == [1]
    assert [one.burner for one in plan.shortages] == [2]


def test_a_can_elsewhere_is_carried_only_when_none_is_here() -> None:
    far, near = vessel(1, lot(60, LITRE)), vessel(2, lot(5, LITRE))
    places = {VesselId(1): "Parents", VesselId(2): "Home", VesselId(3): "Home"}
    wants = [want(3, 7, LITRE), want(3, 20, LITRE)]
    plan = burn_plan([far, near, tank(3)], wants, on=ON, places=places)
    assert [draw.source for draw in plan.draws] == [2, 1]
    together = burn_plan([far, near, tank(3)], wants, on=ON)
    assert [draw.source for draw in together.draws] == [1, 2]


def test_each_engine_has_its_fuel() -> None:
    mix = vessel(1, lot(0, LITRE, FuelSort.PREMIX))
    plain = vessel(2, lot(0, LITRE))
    saw = tank(3, burns=FuelUse.TWO_STROKE)
    plan = burn_plan([mix, plain, saw, tank(4)], [want(3, 1, 100), want(4, 1, 200)], on=ON)
    assert {(draw.burner, draw.source) for draw in plan.draws} == {(3, 1), (4, 2)}


def test_what_turns_before_anyone_runs_is_left_over_and_bought_anew() -> None:
    old = vessel(1, lot(170, 2 * LITRE))
    plan = burn_plan([old, tank(2)], [want(2, 5, LITRE), want(2, 20, LITRE)], on=ON)
    assert [draw.volume_ul for draw in plan.draws] == [LITRE]
    assert [(one.volume_ul, one.turns_on) for one in plan.surplus] == [(LITRE, ON + days(10))]
    assert to_buy(plan, on=ON) == {FuelUse.FOUR_STROKE: LITRE}
    assert to_buy(plan, on=ON, days=20) == {}


def test_no_order_of_the_cans_burns_more_before_it_turns() -> None:
    cans = [vessel(n, lot(age, LITRE)) for n, age in ((1, 172), (2, 150), (3, 165))]
    wants = [want(9, day, 700_000) for day in (3, 9, 14, 25)]
    plan = burn_plan([*cans, tank(9)], wants, on=ON)
    burnt = sum(draw.volume_ul for draw in plan.draws)
    turns = {can.vessel_id: judge_vessel(can, on=ON).burn_on for can in cans}
    best = 0
    for order in permutations(cans):
        left = {can.vessel_id: LITRE for can in order}
        used = 0
        for one in wants:
            missing = one.volume_ul
            for can in order:
                turned = turns[can.vessel_id]
                if turned is not None and one.day < turned:
                    part = min(missing, left[can.vessel_id])
                    left[can.vessel_id] -= part
                    missing -= part
                    used += part
        best = max(best, used)
    assert burnt == best


def test_where_it_goes_when_it_cannot_stay() -> None:
    def way(one: VesselFacts, *others: FuelUse) -> Way:
        return way_out(judge_vessel(one, on=ON), others=others)

    assert way(tank(1, lot(1, LITRE))) is Way.KEEP
    assert way(tank(1, lot(20, LITRE))) is Way.USE_FIRST
    assert way(tank(1, lot(40, LITRE))) is Way.BURN_NOW
    assert way(tank(1, lot(90, LITRE))) is Way.COLLECTION
    assert way(tank(1, lot(None, LITRE))) is Way.LOOK
    mix = tank(1, lot(1, LITRE, FuelSort.PREMIX))
    assert way(mix) is Way.COLLECTION
    assert way(mix, FuelUse.TWO_STROKE) is Way.OTHER_ENGINE
    assert way(tank(1, lot(1, LITRE, FuelSort.E15))) is Way.BURN_NOW


# -- before a rest ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("rest_days", "carburettor", "school", "other"),
    [
        (20, Carburettor.FLOAT, School.LEAVE, None),
        (60, Carburettor.FLOAT, School.FULL, School.DRY),
        (150, Carburettor.FLOAT, School.DRY, School.FULL_DRY_BOWL),
        (150, Carburettor.UNKNOWN, School.DRY, School.FULL_DRY_BOWL),
        (500, Carburettor.FLOAT, School.DRY, None),
        (20, Carburettor.DIAPHRAGM, School.LEAVE, None),
        (60, Carburettor.DIAPHRAGM, School.DRY, School.ALKYLATE_WET),
        (500, Carburettor.DIAPHRAGM, School.DRY, School.ALKYLATE_WET),
        (150, Carburettor.INJECTION, School.FULL, None),
        (500, Carburettor.INJECTION, School.FULL, School.DRY),
    ],
)
def test_by_length_and_carburettor(
    rest_days: int, carburettor: Carburettor, school: School, other: School | None
) -> None:
    advice = rest_advice(rest_days, carburettor=carburettor)
    assert (advice.school, advice.other) == (school, other)
    assert advice.steps[0] is RestStep.JUDGE_FUEL
    assert advice.steps[-2:] == (RestStep.LABEL, RestStep.ENTER)
    assert advice.grounds


def test_a_winter_of_a_mower_in_the_order_that_works() -> None:
    dry = rest_advice(150, carburettor=Carburettor.FLOAT)
    assert dry.steps[1:-2] == (
        RestStep.EMPTY_TANK,
        RestStep.RUN_DRY,
        RestStep.CHOKE_AGAIN,
        RestStep.DRAIN_BOWL,
    )
    short = rest_advice(60, carburettor=Carburettor.FLOAT, has_valve=False)
    assert short.steps[1:-2] == (
        RestStep.DOSE_CAN,
        RestStep.FILL,
        RestStep.RUN_THROUGH,
        RestStep.PINCH_HOSE,
    )


@pytest.mark.parametrize("band", [Band.BURN, Band.DRAIN, Band.LOOK_FIRST])
def test_old_fuel_goes_out_before_any_stabiliser(band: Band) -> None:
    advice = rest_advice(60, carburettor=Carburettor.FLOAT, band=band)
    assert advice.steps[1] is RestStep.GET_OLD_OUT
    assert advice.steps.index(RestStep.DOSE_CAN) > 1
    assert RestGround.DOSE_VOID_IN_OLD in {one.ground for one in advice.grounds}
    long = rest_advice(200, carburettor=Carburettor.FLOAT, band=band)
    assert RestStep.EMPTY_TANK not in long.steps


def test_what_must_start_stays_full_and_is_run() -> None:
    advice = rest_advice(200, carburettor=Carburettor.FLOAT, must_stay_ready=True)
    assert (advice.school, RestStep.RUN_MONTHLY in advice.steps) == (School.READY, True)


def test_the_tank_has_its_say() -> None:
    def grounds(wall: TankWall, rest_days: int = 60) -> set[RestGround]:
        advice = rest_advice(rest_days, carburettor=Carburettor.FLOAT, wall=wall)
        return {one.ground for one in advice.grounds}

    assert RestGround.STEEL_RUSTS_HALF_FULL in grounds(TankWall.STEEL)
    assert RestGround.PLASTIC_BREATHES in grounds(TankWall.PLASTIC)
    assert RestGround.PLASTIC_BREATHES not in grounds(TankWall.PLASTIC, 150)
    with pytest.raises(ValueError):
        grounds(TankWall.STEEL, 0)


def test_alkylate_leaves_the_diaphragms_soft() -> None:
    advice = rest_advice(150, carburettor=Carburettor.DIAPHRAGM, alkylate_at_hand=True)
    assert advice.school is School.ALKYLATE_WET
    assert RestStep.RUN_DRY not in advice.steps
