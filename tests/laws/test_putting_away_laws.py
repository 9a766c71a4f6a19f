"""Laws of sittings, whatever the machines, their features and what is done already."""

from __future__ import annotations

import random
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from hypothesis import given, note, settings
from hypothesis import strategies as st

from resources.loader import load_catalogue
from resources.storage import load_sitting_rules
from schedules.facts import FuelUse, KindCode, MachineId, Policy, TaskCode
from schedules.going_over import ask_to_go_over
from schedules.putting_away import ask_to_put_away
from schedules.sitting import burns, lay_down, pairs_for, remaining, standing, time_needed
from schedules.sitting_facts import Ask, FuelRoute, Ground, LeftCode, RunSort, Stage, Step
from schedules.waking import ask_to_get_out
from tests.laws.real_machines import any_machine

CATALOGUE = load_catalogue()
RULES = load_sitting_rules()
POLICY = Policy()
ROUTES = {
    FuelUse.FOUR_STROKE: (
        FuelRoute.FULL_TREATED,
        FuelRoute.RUN_EMPTY,
        FuelRoute.KEEP_READY,
        FuelRoute.NONE,
    ),
    FuelUse.TWO_STROKE: (FuelRoute.RUN_EMPTY, FuelRoute.ALKYLATE_WET, FuelRoute.NONE),
    FuelUse.NONE: (FuelRoute.NONE,),
}
OUTDOORS = (Stage.RUN, Stage.RUN_OUT, Stage.TRIAL)


@dataclass(frozen=True)
class Case:
    sort: RunSort
    asks: tuple[Ask, ...]
    chance: random.Random

    @property
    def steps(self) -> tuple[Step, ...]:
        return laid(self.sort, self.asks)


def laid(sort: RunSort, asks: Iterable[Ask]) -> tuple[Step, ...]:
    return lay_down(sort, asks, rules=RULES, precedence=CATALOGUE.precedence)


def any_ask(sort: RunSort, number: int, on: date, chance: random.Random) -> Ask:
    facts = any_machine(chance, number, on)
    if sort is RunSort.PUTTING_AWAY:
        route = chance.choice(ROUTES[burns(Ask(facts=facts))])
        grounds = frozenset(ground for ground in Ground if chance.random() < 0.5)
        ask = ask_to_put_away(
            facts, on=on, policy=POLICY, limits=CATALOGUE.limits, route=route, grounds=grounds
        )
    elif sort is RunSort.GETTING_OUT:
        left = frozenset(code for code, _text in RULES.left if chance.random() < 0.4)
        ask = ask_to_get_out(
            facts,
            on=on,
            policy=POLICY,
            limits=CATALOGUE.limits,
            precedence=CATALOGUE.precedence,
            left=left,
            with_list=chance.random() < 0.7,
        )
    else:
        gates = chance.random() < 0.5
        ask = ask_to_go_over(facts, on=on, policy=POLICY, limits=CATALOGUE.limits, gates=gates).ask
    done = frozenset(code for code in sorted(ask.tasks) if chance.random() < 0.2)
    return replace(ask, tasks=ask.tasks - done)


@st.composite
def cases(draw: st.DrawFn) -> Case:
    chance = random.Random(draw(st.integers(min_value=0, max_value=2**40)))
    sort = chance.choice(tuple(RunSort))
    on = date(2025, chance.randint(1, 12), chance.randint(1, 28))
    asks = tuple(any_ask(sort, number, on, chance) for number in range(1, chance.randint(2, 4)))
    note(f"{sort} on {on}: " + "; ".join(f"{ask.facts.kind.code} {ask.route}" for ask in asks))
    return Case(sort, asks, chance)


def of_machine(steps: Iterable[Step], machine: MachineId) -> list[Step]:
    return [step for step in steps if machine in step.machine_ids]


def labels(step: Step) -> set[str]:
    return {str(step.code), *map(str, step.records)}


def reached(pairs: Iterable[tuple[str, str]], code: str) -> set[str]:
    """All that come after a code, step by step."""
    after: dict[str, set[str]] = {}
    for first, second in pairs:
        after.setdefault(first, set()).add(second)
    found: set[str] = set()
    waiting = [code]
    while waiting:
        for other in after.get(waiting.pop(), ()):
            if other not in found:
                found.add(other)
                waiting.append(other)
    return found


@given(cases())
@settings(max_examples=40)
def test_no_precedence_is_broken(case: Case):
    steps = case.steps
    for ask in case.asks:
        pairs = pairs_for(case.sort, ask.route, RULES, CATALOGUE.precedence)
        own = of_machine(steps, ask.facts.machine_id)
        for place, step in enumerate(own):
            later = set[str]().union(*(reached(pairs, label) for label in labels(step)))
            broken = [str(other.code) for other in own[:place] if labels(other) & later]
            assert not broken, f"{step.code} has to come before {broken}"


@given(cases())
@settings(max_examples=40)
def test_no_step_and_no_task_stands_twice_and_none_is_missing(case: Case):
    steps = case.steps
    assert len({step.key for step in steps}) == len(steps)
    for ask in case.asks:
        own = of_machine(steps, ask.facts.machine_id)
        done = [code for step in own for code in step.records]
        assert len(done) == len(set(done))
        passed = {code for step in own for code in step.passes}
        assert not passed & set(done)
        tasks = standing(ask)
        held = set(done) | passed | included(set(done) | (ask.tasks & set(tasks)), ask)
        assert ask.tasks & set(tasks) <= held


def included(codes: set[TaskCode], ask: Ask) -> set[TaskCode]:
    tasks = standing(ask)
    pairs = [(code, other) for code, task in tasks.items() for other in task.includes]
    return {TaskCode(each) for code in codes for each in reached(pairs, code)}


@given(cases())
@settings(max_examples=20)
def test_left_off_anywhere_the_rest_is_the_same_rest(case: Case):
    steps = case.steps
    assert laid(case.sort, case.asks) == steps
    for place in range(len(steps) + 1):
        answered = frozenset(step.key for step in steps[:place])
        assert remaining(steps, answered) == steps[place:]
    some = frozenset(step.key for step in steps if case.chance.random() < 0.5)
    left = remaining(steps, some)
    assert left == tuple(step for step in steps if step.key not in some)
    assert time_needed(left).hands <= time_needed(steps).hands


@given(cases())
@settings(max_examples=40)
def test_hands_go_in_with_lead_or_pack_off_only(case: Case):
    off = {LeftCode("plug-lead"), LeftCode("pack-out")}
    for ask in case.asks:
        state = set(ask.left & off)
        for step in of_machine(case.steps, ask.facts.machine_id):
            if step.is_task and "C-STOP" in step.cautions and step.stage not in OUTDOORS:
                assert state or is_tried(step), f"{step.code} with its lead on"
            state -= set(step.puts_back)
            state |= set(step.leaves) & off


def is_tried(step: Step) -> bool:
    """Work that ends with the engine off and begins with it running, or on the battery's side."""
    return step.stage in (Stage.DRY, Stage.POWER) or step.opening == "after-run"


@given(cases())
@settings(max_examples=40)
def test_a_pump_never_runs_dry(case: Case):
    proof = {"P-31", "P-32", "G-16", "G-17", "B-22", "B-43"}
    for ask in case.asks:
        if ask.facts.kind.code not in (KindCode("K14"), KindCode("K18")):
            continue
        wet = False
        for step in of_machine(case.steps, ask.facts.machine_id):
            wet = wet or step.code in proof
            if "exhaust" in step.touches and "spring" in step.touches:
                assert wet, f"{step.code} before water"


@given(cases())
@settings(max_examples=30)
def test_what_is_opened_for_work_is_opened_before_and_shut_after(case: Case):
    pairs = {step.opens: step.code for step in RULES.steps if step.opens}
    assert set(pairs) == {step.shuts for step in RULES.steps if step.shuts}
    makers = {step.code for step in RULES.steps if step.opens or step.shuts}
    for ask in case.asks:
        own = of_machine(case.steps, ask.facts.machine_id)
        for opening in pairs:
            places = [place for place, step in enumerate(own) if step.opening == opening]
            work = [place for place in places if own[place].is_task]
            made = [place for place in places if own[place].code in makers]
            if made:
                assert len(made) == 2
                assert work
                assert made[0] < min(work)
                assert max(work) < made[1]
