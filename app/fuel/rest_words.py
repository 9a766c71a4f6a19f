"""What the advice before a rest is called: schools, steps, grounds."""

from __future__ import annotations

from app.wording.languages import msg
from schedules.rest import RestGround, RestStep, School

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
        "What stands in the bowl turns to gum in the jets long before the tank does."
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
