"""Laws of a way there and back: put away and got out again, whatever the machine."""

from __future__ import annotations

import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

import pytest
from hypothesis import given, note, settings
from hypothesis import strategies as st

from schedules.along import brought_along
from schedules.facts import (
    Doing,
    MachineFacts,
    StorageFacts,
    TaskCode,
    TaskState,
    TaskVerdict,
)
from schedules.plan import judge
from schedules.putting_away import ask_to_put_away
from schedules.sitting import burns, left_off
from schedules.sitting_facts import Ask, FuelRoute, Ground, LeftCode, RunSort, Step
from schedules.waking import ask_to_get_out
from tests.laws.real_machines import any_machine, real_machine
from tests.laws.test_putting_away_laws import CATALOGUE, POLICY, ROUTES, laid

WANTED = (TaskState.DUE, TaskState.OVERDUE)
# What stands off or open only until it is got out again, whatever was done in between.
SPOILT_BY_WAKING = {
    "K02": {"P-70", "P-76", "P-66"},
    "K14": {"P-68", "P-69", "P-70"},
    "K09": {"P-63", "P-72"},
    "K06": {"P-78"},
}
STILL_HOLDS = {"P-53", "P-56", "P-61", "P-96", "E4-02", "S2-02", "S2-06", "MW-01", "MB-02", "PW-04"}


@dataclass(frozen=True)
class Away:
    """A machine put away on a day: the steps, and its facts since."""

    facts: MachineFacts
    before: MachineFacts
    steps: tuple[Step, ...]
    left: frozenset[LeftCode]
    on: date


def judged(facts: MachineFacts, on: date) -> Mapping[TaskCode, TaskVerdict]:
    verdict = judge(facts, on=on, policy=POLICY, limits=CATALOGUE.limits).verdict
    return {each.code: each for each in verdict.tasks}


def worked(facts: MachineFacts, steps: Iterable[Step], on: date) -> MachineFacts:
    """The machine with what its steps say it is, entered."""
    (item,) = facts.items
    known = {task.code for task in item.tasks}
    own = [step for step in steps if facts.machine_id in step.machine_ids]
    doings = [Doing(code=code, day=on) for step in own for code in step.records]
    doings += [Doing(code=code, day=on, assumed=True) for step in own for code in step.passes]
    new = tuple(each for each in doings if each.code in known)
    return replace(facts, items=(replace(item, doings=(*item.doings, *new)),))


def put_away(
    facts: MachineFacts, on: date, route: FuelRoute, grounds: frozenset[Ground] = frozenset()
) -> Away:
    ask = ask_to_put_away(
        facts, on=on, policy=POLICY, limits=CATALOGUE.limits, route=route, grounds=grounds
    )
    steps = laid(RunSort.PUTTING_AWAY, [ask])
    spell = StorageFacts(put_away_on=on, planned_last=ask.until)
    asleep = replace(worked(facts, steps, on), storage=(*facts.storage, spell))
    left = frozenset(left_off(steps, facts.machine_id))
    return Away(facts=asleep, before=facts, steps=steps, left=left, on=on)


def got_out(away: Away, on: date, *, with_list: bool) -> tuple[MachineFacts, tuple[Step, ...]]:
    ask = ask_to_get_out(
        away.facts,
        on=on,
        policy=POLICY,
        limits=CATALOGUE.limits,
        precedence=CATALOGUE.precedence,
        left=away.left,
        with_list=with_list,
    )
    steps = laid(RunSort.GETTING_OUT, [ask])
    out = worked(away.facts, steps, on)
    spell = replace(away.facts.storage[-1], woken_on=on)
    return replace(out, storage=(*away.facts.storage[:-1], spell)), steps


@st.composite
def aways(draw: st.DrawFn) -> tuple[Away, random.Random]:
    chance = random.Random(draw(st.integers(min_value=0, max_value=2**40)))
    on = date(2025, chance.randint(1, 12), chance.randint(1, 28))
    facts = any_machine(chance, 1, on)
    route = chance.choice(ROUTES[burns(Ask(facts=facts))])
    grounds = frozenset(ground for ground in Ground if chance.random() < 0.5)
    note(f"{facts.kind.code} {route} on {on}")
    return put_away(facts, on, route, grounds), chance


@given(aways())
@settings(max_examples=12)
def test_away_and_out_on_one_day_leaves_nothing_due_that_was_not(case: tuple[Away, random.Random]):
    nothing_new_is_due(case)


@pytest.mark.long
@given(aways())
@settings(max_examples=1000)
def test_the_same_at_length(case: tuple[Away, random.Random]):
    nothing_new_is_due(case)


def nothing_new_is_due(case: tuple[Away, random.Random]) -> None:
    away, chance = case
    out, steps = got_out(away, away.on, with_list=chance.random() < 0.5)
    before = judged(away.before, away.on)
    new = {
        code
        for code, verdict in judged(out, away.on).items()
        if verdict.state in WANTED and before[code].state not in WANTED
    }
    assert not new
    assert not left_off(steps, out.machine_id, before=away.left)


def test_what_comes_with_other_work_is_laid_down_with_it():
    """The breather hose is looked at whenever the rocker cover is off."""
    facts = real_machine("K16", done={"E4-14": date(2022, 1, 1), "E4-18": date(2022, 1, 1)})
    judging = judge(facts, on=date(2025, 9, 1), policy=POLICY, limits=CATALOGUE.limits)
    assert brought_along(judging, {TaskCode("E4-14")}) == {"E4-18"}
    assert not brought_along(judging, {TaskCode("E4-14"), TaskCode("E4-18")})
    assert not brought_along(judging, {TaskCode("E4-02")})


def test_a_chain_sharpened_brings_along_what_its_turn_comes_with():
    """The depth gauges at every second sharpening."""
    done = {"CS-02": date(2025, 3, 1), "CS-03": date(2025, 2, 1)}
    (nth,) = [each for each in CATALOGUE.tasks.values() if each.code == "CS-03"]
    assert nth.rule.nth_of is not None
    on = date(2025, 9, 1)
    for sharpened in (True, False):
        facts = real_machine("K09", done=done if sharpened else {"CS-03": date(2025, 2, 1)})
        judging = judge(facts, on=on, policy=POLICY, limits=CATALOGUE.limits)
        found = brought_along(judging, {TaskCode("CS-02")})
        assert ("CS-03" in found) is (sharpened or nth.rule.nth_of.n == 1)


def test_out_for_a_day_and_back_repeats_what_it_undid_and_not_what_still_holds():
    features = {
        "fuel-valve": "yes",
        "bowl-drain": "unreachable",
        "air-tyres": "yes",
        "starter": "battery",
    }
    for kind, undone in SPOILT_BY_WAKING.items():
        on = date(2026, 4, 2) if kind in ("K02", "K09") else date(2026, 11, 2)
        facts = real_machine(kind, features=features)
        route = ROUTES[burns(Ask(facts=facts))]
        away = put_away(facts, on, FuelRoute.RUN_EMPTY if len(route) > 1 else FuelRoute.NONE)
        for slept in (8, 0):
            day = on + timedelta(days=slept)
            out, steps = got_out(away, day, with_list=False)
            assert not {step.code for step in steps} & {"S2-02", "MW-01", "E4-02"}
            again = {str(step.code) for step in put_away(out, day, away_route(away)).steps}
            assert undone <= again, (kind, undone - again)
            assert not again & STILL_HOLDS, (kind, again & STILL_HOLDS)


def away_route(away: Away) -> FuelRoute:
    runs = any(step.code in ("P-36", "P-37", "P-38") for step in away.steps)
    return FuelRoute.RUN_EMPTY if runs else FuelRoute.NONE


def test_back_on_the_day_after_a_season_of_rest_everything_is_asked_again():
    facts = real_machine("K02", features={"fuel-valve": "yes", "air-tyres": "yes"})
    away = put_away(facts, date(2026, 4, 2), FuelRoute.RUN_EMPTY)
    out, _steps = got_out(away, date(2026, 10, 20), with_list=False)
    again = {str(step.code) for step in put_away(out, date(2027, 4, 2), away_route(away)).steps}
    assert {"P-61", "P-96", "P-53"} <= again
