"""What to do with the fuel before a machine rests: by how long, what carburettor, what tank.

Two schools stand against each other and nobody has settled it: full and stabilised, or empty and
dry. The machine's own manual decides; what is recommended here is our judgement, with its grounds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from schedules.facts import Band, Mark

MONTH_DAYS, QUARTER_DAYS, YEAR_DAYS = 30, 91, 365
RUN_MINUTES = 10


class Carburettor(StrEnum):
    """How the engine gets its fuel."""

    FLOAT = "float"
    DIAPHRAGM = "diaphragm"
    INJECTION = "injection"
    UNKNOWN = "unknown"


class TankWall(StrEnum):
    """What the tank is made of."""

    STEEL = "steel"
    PLASTIC = "plastic"
    UNKNOWN = "unknown"


class School(StrEnum):
    """What to leave the machine on. LEAVE: as it is, for a short rest. FULL: full and stabilised.
    DRY: tank empty, carburettor run dry. FULL_DRY_BOWL: full and stabilised, the bowl empty.
    ALKYLATE_WET: a last run on alkylate, left wet, so that diaphragms stay soft. READY: full,
    treated, run each month."""

    LEAVE = "leave"
    FULL = "full"
    DRY = "dry"
    FULL_DRY_BOWL = "full_dry_bowl"
    ALKYLATE_WET = "alkylate_wet"
    READY = "ready"


class RestStep(StrEnum):
    """One act, in the one order that works."""

    JUDGE_FUEL = "judge_fuel"
    GET_OLD_OUT = "get_old_out"
    EMPTY_TANK = "empty_tank"
    DOSE_CAN = "dose_can"
    FILL = "fill"
    RUN_THROUGH = "run_through"
    VALVE_SHUT = "valve_shut"
    PINCH_HOSE = "pinch_hose"
    RUN_DRY = "run_dry"
    CHOKE_AGAIN = "choke_again"
    DRAIN_BOWL = "drain_bowl"
    RUN_MONTHLY = "run_monthly"
    LOOK_AT_HOSES = "look_at_hoses"
    NEW_FUEL_ON_WAKING = "new_fuel_on_waking"
    LABEL = "label"
    ENTER = "enter"


class RestGround(StrEnum):
    """Why it is advised so."""

    SHORT = "short"
    GUM_IN_BOWL = "gum_in_bowl"
    DIAPHRAGM_DRY = "diaphragm_dry"
    PUMP_WANTS_FUEL = "pump_wants_fuel"
    LONGER_THAN_IT_KEEPS = "longer_than_it_keeps"
    MUST_START = "must_start"
    DOSE_VOID_IN_OLD = "dose_void_in_old"
    STEEL_RUSTS_HALF_FULL = "steel_rusts_half_full"
    PLASTIC_BREATHES = "plastic_breathes"
    VENT_WANTS_FULL = "vent_wants_full"
    SCHOOLS_DIFFER = "schools_differ"
    TAKEN_AS_FLOAT = "taken_as_float"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rested:
    """A ground of the advice and what it rests on."""

    ground: RestGround
    mark: Mark


@dataclass(frozen=True, slots=True, kw_only=True)
class RestAdvice:
    """What is recommended, what the other school does, the steps in order, and why."""

    school: School
    other: School | None
    steps: tuple[RestStep, ...]
    grounds: tuple[Rested, ...]
    run_minutes: int = RUN_MINUTES


_MARKS = {
    RestGround.SHORT: Mark.MAKERS_DIFFER,
    RestGround.GUM_IN_BOWL: Mark.MAKERS_DIFFER,
    RestGround.DIAPHRAGM_DRY: Mark.COMMON_PRACTICE,
    RestGround.PUMP_WANTS_FUEL: Mark.COMMON_PRACTICE,
    RestGround.LONGER_THAN_IT_KEEPS: Mark.OUR_JUDGEMENT,
    RestGround.MUST_START: Mark.COMMON_PRACTICE,
    RestGround.DOSE_VOID_IN_OLD: Mark.MAKERS_DIFFER,
    RestGround.STEEL_RUSTS_HALF_FULL: Mark.COMMON_PRACTICE,
    RestGround.PLASTIC_BREATHES: Mark.COMMON_PRACTICE,
    RestGround.VENT_WANTS_FULL: Mark.OUR_JUDGEMENT,
    RestGround.SCHOOLS_DIFFER: Mark.OUR_JUDGEMENT,
    RestGround.TAKEN_AS_FLOAT: Mark.OUR_JUDGEMENT,
}
_NOT_TO_STORE = frozenset({Band.BURN, Band.DRAIN, Band.NOT_FOR_THIS, Band.LOOK_FIRST})
_FULL_STEPS = (RestStep.DOSE_CAN, RestStep.FILL, RestStep.RUN_THROUGH)


def rest_advice(
    days: int,
    *,
    carburettor: Carburettor,
    wall: TankWall = TankWall.UNKNOWN,
    must_stay_ready: bool = False,
    band: Band = Band.GOOD,
    has_valve: bool = True,
    bowl_drain: bool = True,
    alkylate_at_hand: bool = False,
) -> RestAdvice:
    """What to do with the fuel before a rest of so many days; `band`: of what is in the tank now.

    A carburettor nobody looked at is taken as one with a float. Raises ValueError for no days.
    """
    if days < 1:
        raise ValueError("a rest takes at least a day")
    school, other, grounds = _school(
        days, carburettor, must_stay_ready=must_stay_ready, alkylate_at_hand=alkylate_at_hand
    )
    steps = _steps(school, days, carburettor, has_valve=has_valve, bowl_drain=bowl_drain)
    if band in _NOT_TO_STORE:
        steps = (RestStep.GET_OLD_OUT, *(step for step in steps if step is not RestStep.EMPTY_TANK))
        if school is School.LEAVE:
            steps = (*steps, RestStep.FILL)
        grounds = [RestGround.DOSE_VOID_IN_OLD, *grounds]
    if wall is TankWall.STEEL:
        grounds.append(RestGround.STEEL_RUSTS_HALF_FULL)
    elif wall is TankWall.PLASTIC and school in (School.FULL, School.FULL_DRY_BOWL):
        grounds.append(RestGround.PLASTIC_BREATHES)
    if carburettor is Carburettor.UNKNOWN:
        grounds.append(RestGround.TAKEN_AS_FLOAT)
    return RestAdvice(
        school=school,
        other=other,
        steps=(RestStep.JUDGE_FUEL, *steps, RestStep.LABEL, RestStep.ENTER),
        grounds=tuple(Rested(ground=ground, mark=_MARKS[ground]) for ground in grounds),
    )


def _school(
    days: int, carburettor: Carburettor, *, must_stay_ready: bool, alkylate_at_hand: bool
) -> tuple[School, School | None, list[RestGround]]:
    if must_stay_ready and carburettor is not Carburettor.DIAPHRAGM:
        return School.READY, None, [RestGround.MUST_START, RestGround.VENT_WANTS_FULL]
    if days < MONTH_DAYS:
        return School.LEAVE, None, [RestGround.SHORT, RestGround.VENT_WANTS_FULL]
    if carburettor is Carburettor.DIAPHRAGM:
        if alkylate_at_hand:
            return School.ALKYLATE_WET, School.DRY, [RestGround.DIAPHRAGM_DRY]
        return School.DRY, School.ALKYLATE_WET, [RestGround.DIAPHRAGM_DRY]
    if carburettor is Carburettor.INJECTION:
        if days > YEAR_DAYS:
            return School.FULL, School.DRY, [RestGround.LONGER_THAN_IT_KEEPS]
        return School.FULL, None, [RestGround.PUMP_WANTS_FUEL, RestGround.VENT_WANTS_FULL]
    if days <= QUARTER_DAYS:
        return School.FULL, School.DRY, [RestGround.VENT_WANTS_FULL, RestGround.SCHOOLS_DIFFER]
    if days > YEAR_DAYS:
        return School.DRY, None, [RestGround.LONGER_THAN_IT_KEEPS, RestGround.GUM_IN_BOWL]
    return (
        School.DRY,
        School.FULL_DRY_BOWL,
        [RestGround.GUM_IN_BOWL, RestGround.SCHOOLS_DIFFER],
    )


def _steps(
    school: School, days: int, carburettor: Carburettor, *, has_valve: bool, bowl_drain: bool
) -> tuple[RestStep, ...]:
    shut = RestStep.VALVE_SHUT if has_valve else RestStep.PINCH_HOSE
    floats = carburettor in (Carburettor.FLOAT, Carburettor.UNKNOWN)
    steps: list[RestStep] = []
    match school:
        case School.LEAVE:
            steps = [RestStep.VALVE_SHUT] if floats and has_valve else []
        case School.READY:
            steps = [*_FULL_STEPS, RestStep.RUN_MONTHLY]
        case School.FULL:
            steps = [*_FULL_STEPS, *((shut,) if floats else ())]
        case School.FULL_DRY_BOWL:
            steps = [*_FULL_STEPS, shut, RestStep.RUN_DRY]
        case School.ALKYLATE_WET:
            steps = [RestStep.EMPTY_TANK, RestStep.FILL, RestStep.RUN_THROUGH]
        case School.DRY:
            steps = [RestStep.EMPTY_TANK, RestStep.RUN_DRY, RestStep.CHOKE_AGAIN]
    if floats and bowl_drain and school in (School.DRY, School.FULL_DRY_BOWL):
        steps.append(RestStep.DRAIN_BOWL)
    if days > YEAR_DAYS and school is not School.READY:
        if carburettor is Carburettor.DIAPHRAGM:
            steps.append(RestStep.LOOK_AT_HOSES)
        steps.append(RestStep.NEW_FUEL_ON_WAKING)
    return tuple(steps)
