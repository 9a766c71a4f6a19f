"""Laws of fault finding, for small models by chance and for the models that are shipped."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import permutations
from random import Random

import pytest

from resources.fault_models import load_fault_models
from schedules.fault_facts import NONE_OF_THESE, FaultModel, OutcomeId, ReadingId, SymptomId
from schedules.fault_game import (
    blocks,
    cure_minutes,
    ends,
    is_offered,
    least_after,
    move_minutes,
    repair_cost,
    set_up,
    without_cause,
)
from schedules.fault_lessons import learned_odds
from schedules.fault_odds import likely, posterior
from schedules.fault_orders import cheapest_order, order_cost
from schedules.fault_rule import Play, cost_of_test, next_by_rule, rule_cost
from schedules.fault_search import best_cost, settled
from schedules.fault_state import FaultState, after_test, cure_failed, noticed
from schedules.faults import AdviceKind, begin, next_step
from tests.twin.fault_twin import least_cost, least_order_cost, odds_of, random_model

MODELS = load_fault_models()
CODES = sorted(MODELS.models)
SEEDS = range(40)


def random_answers(
    model: FaultModel, chance: Random, count: int
) -> list[tuple[ReadingId, OutcomeId]]:
    readings = [*model.questions, *model.tests]
    chosen = chance.sample(readings, min(count, len(readings)))
    return [(one.reading_id, chance.choice(one.outcomes).outcome_id) for one in chosen]


def weighted(chance: Random, row: tuple[float, ...]) -> int:
    return chance.choices(range(len(row)), weights=row)[0]


@pytest.mark.parametrize("code", CODES)
def test_odds_sum_to_one_and_the_order_of_answers_does_not_matter(code: str):
    model = MODELS.models[SymptomId(code)]
    for seed in range(5):
        answers = random_answers(model, Random(seed), 5)
        found = []
        for order in (answers, answers[::-1]):
            state = begin(MODELS)
            for reading, outcome in order:
                state = noticed(model, state, reading, outcome)
            found.append(posterior(model, state))
        first, second = found
        assert sum(first.values()) == pytest.approx(1)
        assert first == pytest.approx(second)


@pytest.mark.parametrize("seed", SEEDS)
def test_odds_are_those_of_the_twin(seed: int):
    chance = Random(seed)
    model = random_model(chance)
    seen: Mapping[ReadingId, OutcomeId] = dict(random_answers(model, chance, 2))
    state = FaultState()
    for reading, outcome in seen.items():
        state = noticed(model, state, reading, outcome)
    assert posterior(model, state) == pytest.approx(odds_of(model, seen))


@pytest.mark.parametrize("seed", SEEDS)
def test_no_order_of_repairs_is_cheaper(seed: int):
    model = random_model(Random(seed))
    game = set_up(model, FaultState())
    ours = repair_cost(game, game.start.weights, 0)
    odds = odds_of(model, {})
    assert ours == pytest.approx(least_order_cost(model, odds, frozenset()))
    listed = blocks(game, game.start.weights, 0)
    assert sorted(cause for one in listed for cause in one.causes) == list(range(len(game.causes)))


@pytest.mark.parametrize("seed", range(10))
def test_chance_over_minutes_is_the_cheapest_of_all_orders(seed: int):
    chance = Random(seed)
    count = chance.randint(2, 6)
    raw = [chance.uniform(0.1, 1) for _ in range(count)]
    chances = [one / sum(raw) for one in raw]
    minutes = [chance.uniform(1, 60) for _ in range(count)]
    ours = order_cost(chances, minutes, cheapest_order(chances, minutes))
    every = [order_cost(chances, minutes, order) for order in permutations(range(count))]
    assert ours == pytest.approx(min(every))


@pytest.mark.parametrize("seed", SEEDS)
def test_what_a_free_test_tells_never_costs(seed: int):
    game = set_up(random_model(Random(seed)), FaultState())
    start = game.start
    bare = repair_cost(game, start.weights, start.open)
    for move in game.moves:
        if move.shuts or move.opening >= 0:
            continue
        cost = cost_of_test(game, start, move, look_through=True)
        assert cost - move.minutes * sum(start.weights) <= bare + 1e-9


@pytest.mark.parametrize("seed", SEEDS)
def test_the_bound_of_a_test_is_one(seed: int):
    game = set_up(random_model(Random(seed)), FaultState())
    for move in game.moves:
        cost = cost_of_test(game, game.start, move, look_through=False)
        assert least_after(game, game.start, move) <= cost + 1e-9


@pytest.mark.parametrize("between", [False, True])
@pytest.mark.parametrize("seed", range(12))
def test_the_best_of_all_plans_is_found(seed: int, between: bool):
    model = random_model(Random(seed), most_causes=3 if between else 4, most_tests=2)
    game = set_up(model, FaultState())
    play = Play.CURES_BETWEEN if between else Play.TESTS_FIRST
    odds = {str(one): value for one, value in posterior(model, FaultState()).items()}
    odds[NONE_OF_THESE] = 0.0
    twin = least_cost(model, odds, frozenset(), frozenset(), between=between)
    assert best_cost(game, play) == pytest.approx(twin, rel=1e-6)


@pytest.mark.parametrize("play", list(Play))
@pytest.mark.parametrize("seed", range(15))
def test_looking_further_is_never_dearer_than_the_rule(seed: int, play: Play):
    game = set_up(random_model(Random(seed)), FaultState())
    rule = rule_cost(game, game.start, play) / sum(game.start.weights)
    best = best_cost(game, play)
    plan = settled(game, play)
    assert best - 1e-9 <= plan.minutes <= rule + 1e-9


@pytest.mark.parametrize("code", CODES)
def test_every_search_ends(code: str):
    """Whatever is seen and whatever fails: tests and cures run out."""
    model = MODELS.models[SymptomId(code)]
    for seed in range(3):
        chance = Random(seed)
        state = begin(MODELS)
        most = len(model.tests) + sum(len(cause.cures) for cause in model.causes) + 1
        for _ in range(most):
            advice = next_step(model, state)
            if advice.kind is AdviceKind.TEST and advice.reading is not None:
                outcome = chance.choice(model.reading(advice.reading).outcomes).outcome_id
                state = after_test(model, state, advice.reading, outcome)
            elif advice.kind is AdviceKind.CURE and advice.cause is not None:
                state = cure_failed(model, state, advice.cause, advice.cure or 0)
            else:
                break
        else:
            pytest.fail(f"{code} goes on for ever")


@pytest.mark.parametrize("code", CODES)
def test_nothing_is_advised_that_may_not_be_done(code: str):
    model = MODELS.models[SymptomId(code)]
    chance = Random(7)
    state = begin(MODELS)
    for _ in range(len(model.tests)):
        game = set_up(model, state)
        advice = next_step(model, state)
        if advice.kind is not AdviceKind.TEST or advice.reading is None:
            return
        move = next(one for one in game.moves if one.reading == advice.reading)
        assert is_offered(game, game.start, move)
        assert sum(end.mass for end in ends(game.start, move)) == pytest.approx(1)
        outcome = chance.choice(model.reading(advice.reading).outcomes).outcome_id
        state = after_test(model, state, advice.reading, outcome)


# Each finding speaks for another cause, and one machine has one.
CONTRADICTIONS = {
    "S1F": "key=sheared needle=leaks exhaust=choked air=bad",
    "S4a": "paddle=wrong chalk=pulley belt=wrong",
    "S11": "gate=fuse hand=stuck knock=turns volt=flat",
    "S13": "gate=nozzle pumpoff=seal bucket=short note=low",
    "S15": "gate=jam charge=dark wipe=dirty trigger=soft",
}


@pytest.mark.parametrize("code", sorted(CONTRADICTIONS))
def test_contradictions_end_in_none_of_these(code: str):
    model = MODELS.models[SymptomId(code)]
    state = begin(MODELS)
    before = {one.cause.cause_id: one.odds for one in likely(model, state)}[NONE_OF_THESE]
    for pair in CONTRADICTIONS[code].split():
        reading, outcome = pair.split("=")
        state = noticed(model, state, ReadingId(reading), OutcomeId(outcome))
    suspects = likely(model, state)
    assert suspects[0].cause.cause_id == NONE_OF_THESE, suspects[:3]
    assert suspects[0].odds > 10 * before


@pytest.mark.parametrize("code", CODES)
def test_what_was_found_teaches_and_can_be_taken_back(code: str):
    model = MODELS.models[SymptomId(code)]
    first, second = model.causes[0].cause_id, model.causes[1].cause_id
    plain = {cause.cause_id: cause.odds for cause in model.causes}
    assert learned_odds(model, {}) == pytest.approx(plain, abs=0.02)
    once = learned_odds(model, {first: 1, second: 2})
    twice = learned_odds(model, {first: 2, second: 2})
    assert sum(twice.values()) == pytest.approx(100)
    assert twice[first] > once[first]
    assert learned_odds(model, {first: 1, second: 2}) == once


# Cheap to follow to the end in every run; the long runs take all of them.
SIMULATED = ("S5", "S8", "S10", "S11", "S13", "S14", "S15")


def simulated_minutes(model: FaultModel, chance: Random, play: Play) -> float:
    """One machine drawn from the odds, its tests drawn from its cause, the rule followed."""
    game = set_up(model, begin(MODELS))
    wrong = weighted(chance, game.start.weights)
    position, minutes = game.start, 0.0
    while True:
        step = next_by_rule(game, position, play)
        if step.move is not None:
            minutes += move_minutes(game, position, step.move)
            row = tuple(one[wrong] for one in step.move.rows)
            end = ends(position, step.move)[weighted(chance, row)]
            if end.ending is not None:
                return minutes + end.ending
            position = end.position
            continue
        if step.cause is None:
            raise AssertionError("cures come between the tests here")
        minutes += cure_minutes(game, position, step.cause)
        if step.cause == wrong:
            return minutes
        position = without_cause(game, position, step.cause)


def simulation_is_off_by(code: str, count: int, seed: int) -> float:
    """How many standard errors the mean of so many machines lies from what is expected."""
    model = MODELS.models[SymptomId(code)]
    chance = Random(seed)
    found = [simulated_minutes(model, chance, Play.CURES_BETWEEN) for _ in range(count)]
    mean = sum(found) / count
    spread = (sum((one - mean) ** 2 for one in found) / (count - 1)) ** 0.5
    game = set_up(model, begin(MODELS))
    expected = rule_cost(game, game.start, Play.CURES_BETWEEN) / sum(game.start.weights)
    return abs(mean - expected) / (spread / count**0.5)


@pytest.mark.parametrize("code", SIMULATED)
def test_machines_drawn_from_the_odds_take_the_minutes_expected(code: str):
    assert simulation_is_off_by(code, count=100, seed=2) < 3
