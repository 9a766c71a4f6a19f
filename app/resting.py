"""What to do with the fuel of a machine before it rests, in words: both schools, and the steps."""

from __future__ import annotations

from datetime import date

from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.demands import tank_of
from schedules.facts import (
    Band,
    FeatureCode,
    FuelSort,
    FuelUse,
    MachineFacts,
    VesselSort,
    VesselVerdict,
)
from schedules.plan import Judging
from schedules.rest import (
    Carburettor,
    RestAdvice,
    RestGround,
    RestStep,
    School,
    TankWall,
    rest_advice,
)
from schedules.seasons import calendar_of, windows_of

_READY = frozenset({"K15"})
_DIAPHRAGM = frozenset({"K07", "K09", "K11", "K12"})

SCHOOLS = {
    School.LEAVE: msg("leave it as it is"),
    School.FULL: msg("tank full and stabilised"),
    School.DRY: msg("tank empty, carburettor run dry"),
    School.FULL_DRY_BOWL: msg("tank full and stabilised, the bowl empty"),
    School.ALKYLATE_WET: msg("a last run on alkylate, left wet"),
    School.READY: msg("kept ready: full, stabilised, run each month"),
}
STEPS = {
    RestStep.JUDGE_FUEL: msg("see what the fuel in it is good for"),
    RestStep.GET_OLD_OUT: msg("get the old fuel out first, outdoors and cold"),
    RestStep.EMPTY_TANK: msg("empty the tank, outdoors and cold"),
    RestStep.DOSE_CAN: msg("stabiliser into the can, then the petrol on it"),
    RestStep.FILL: msg("fill fresh, to 95% and no more"),
    RestStep.RUN_THROUGH: msg("run it {minutes} outdoors, so that it reaches the carburettor"),
    RestStep.VALVE_SHUT: msg("fuel valve shut"),
    RestStep.PINCH_HOSE: msg("pinch the fuel hose with a clamp"),
    RestStep.RUN_DRY: msg("let it run until it stops"),
    RestStep.CHOKE_AGAIN: msg("choke it and start again until nothing comes"),
    RestStep.DRAIN_BOWL: msg("open the drain of the bowl once it is cool"),
    RestStep.RUN_MONTHLY: msg("run it under load once a month"),
    RestStep.LOOK_AT_HOSES: msg("look at the fuel hoses before it runs again"),
    RestStep.NEW_FUEL_ON_WAKING: msg("new fuel when it comes out again"),
    RestStep.LABEL: msg("a tag on it: day, fuel, stabiliser"),
    RestStep.ENTER: msg("enter it here"),
}
GROUNDS = {
    RestGround.SHORT: msg("So short a rest does it no harm."),
    RestGround.GUM_IN_BOWL: msg(
        "What stands in the bowl turns to varnish in the jets long before the tank does."
    ),
    RestGround.DIAPHRAGM_DRY: msg(
        "Old petrol stiffens the diaphragms; dry they keep, wet with alkylate they stay soft."
    ),
    RestGround.PUMP_WANTS_FUEL: msg("An injection pump wants fuel in it and must not run dry."),
    RestGround.LONGER_THAN_IT_KEEPS: msg("No stabiliser is trusted for longer than a year."),
    RestGround.MUST_START: msg("It has to start when it is wanted."),
    RestGround.DOSE_VOID_IN_OLD: msg("Stabiliser in old fuel does nothing."),
    RestGround.STEEL_RUSTS_HALF_FULL: msg(
        "A steel tank rusts half full: fill it, or dry it to the bone."
    ),
    RestGround.PLASTIC_BREATHES: msg("A plastic tank lets some of it out through its walls."),
    RestGround.VENT_WANTS_FULL: msg(
        "The fuller a vented tank, the less evaporates: at a quarter, much more than twice of half."
    ),
    RestGround.SCHOOLS_DIFFER: msg("Makers differ here; the choice is our judgement."),
    RestGround.TAKEN_AS_FLOAT: msg(
        "Nobody said how its carburettor is built; it is taken as one with a float."
    ),
}


def rest_said(
    judging: Judging, verdict: VesselVerdict, words: Wording, *, on: date
) -> tuple[str, ...]:
    """Both schools, which is recommended, why, and the steps in the order that works; nothing for
    a machine without a tank or a season."""
    facts = judging.facts
    days = rest_days(judging, on=on)
    if days is None or tank_of(facts) is None or verdict.sort is not VesselSort.TANK:
        return ()
    advice = rest_for(facts, days, verdict.band if verdict.lots else Band.GOOD, verdict)
    school = words.text(SCHOOLS[advice.school])
    said = [words.text(msg("A rest of {days}: {school}."), days=words.days(days), school=school)]
    if advice.other is not None:
        other = words.text(SCHOOLS[advice.other])
        said.append(
            words.text(
                msg("The other school: {school}. Nobody has settled it; your manual decides."),
                school=other,
            )
        )
    said += [words.text(GROUNDS[one.ground]) for one in advice.grounds]
    minutes = words.minutes(advice.run_minutes)
    steps = [words.text(STEPS[step], minutes=minutes) for step in advice.steps]
    said.append(words.text(msg("In this order: {steps}."), steps="; ".join(steps)))
    return tuple(said)


def rest_days(judging: Judging, *, on: date) -> int | None:
    """How long its next rest is: from today, or the end of the season, to the season after."""
    facts = judging.facts
    windows = windows_of(facts.kind.windows, facts.own_windows, south=facts.south)
    calendar = calendar_of(windows, judging.almanac.policy.gap_days)
    if not calendar.has_seasons:
        return None
    today = on.toordinal()
    place = calendar.started(today)
    start = max(today, calendar.lasts[place]) if place >= 0 else today
    return max(1, calendar.firsts[place + 1] - start)


def rest_for(
    facts: MachineFacts, days: int, band: Band, verdict: VesselVerdict | None
) -> RestAdvice:
    """The engine's advice, from what was answered about how the machine is built."""
    features = dict(facts.features)

    def answer(name: str) -> str:
        return features.get(FeatureCode(name), "")

    tank = tank_of(facts)
    two_stroke = tank is not None and tank.burns is FuelUse.TWO_STROKE
    hand_held = facts.kind.code in _DIAPHRAGM and two_stroke
    walls = {"steel": TankWall.STEEL, "plastic": TankWall.PLASTIC}
    alkylate = verdict is not None and any(
        lot.sort in (FuelSort.ALKYLATE, FuelSort.PREMIX_ALKYLATE) for lot in verdict.lots
    )
    return rest_advice(
        days,
        carburettor=Carburettor.DIAPHRAGM if hand_held else Carburettor.UNKNOWN,
        wall=walls.get(answer("tank"), TankWall.UNKNOWN),
        must_stay_ready=facts.kind.code in _READY,
        band=band,
        has_valve=answer("fuel-valve") != "no",
        bowl_drain=answer("bowl-drain") != "no",
        alkylate_at_hand=alkylate,
    )


def before_rest(judging: Judging, words: Wording, *, on: date) -> str:
    """What to do with the fuel of a machine that is about to be put away; "" without a tank."""
    tank = tank_of(judging.facts)
    verdict = next(
        (one for one in judging.verdict.fuel if tank and one.vessel_id == tank.vessel_id), None
    )
    return "" if verdict is None else "\n".join(rest_said(judging, verdict, words, on=on))
