"""Fault finding against published figures and against values worked out apart from it.

The worked examples follow from published rules and were tried by brute force over all orders:
the order by chance over minutes from Kadane and Simon, Annals of Statistics 5(2), 1977; expected
cost of repair, the call for service and the one-step look at a test from Heckerman, Breese and
Rommelse, Communications of the ACM 38(3), 1995; Smith's rule from 1956. Nobody published numbers
for them, so these test the program, not the world. `tests/golden/faults.toml` holds the values of
the shipped models.
"""

from __future__ import annotations

import tomllib
from itertools import permutations
from pathlib import Path

import pytest

from resources.fault_models import load_fault_models
from schedules.fault_facts import FaultModel, OutcomeId, ReadingId, SymptomId
from schedules.fault_game import is_offered, set_up
from schedules.fault_odds import posterior
from schedules.fault_orders import cheapest_order, cheapest_with_call, order_cost
from schedules.fault_rule import Play
from schedules.fault_search import best_cost, settled
from schedules.fault_state import FaultState, noticed
from schedules.faults import (
    begin,
    expected_by_rule,
    expected_with_test,
    expected_without_test,
)
from tests.twin.fault_twin import a_cause, a_model, a_question, a_test

FIGURES = tomllib.loads(
    (Path(__file__).parents[1] / "golden" / "faults.toml").read_text(encoding="utf-8")
)
MODELS = load_fault_models()
CLOSE = 1e-3
# Followed to the end in no time; the long runs take the others.
QUICK = ("S5", "S8", "S10", "S11", "S15", "S4a", "S4b")
QUICKEST = ("S5", "S8", "S10", "S11", "S15")


def model_of(symptom: str) -> FaultModel:
    return MODELS.models[SymptomId(symptom)]


# -- worked examples --------------------------------------------------------------------------

A_CHANCES, A_MINUTES = (0.4, 0.3, 0.2, 0.1), (20, 6, 1, 10)


def test_methods_a_order_by_chance_over_minutes():
    order = cheapest_order(A_CHANCES, A_MINUTES)
    assert order == (2, 1, 0, 3)
    costs = sorted(order_cost(A_CHANCES, A_MINUTES, one) for one in permutations(range(4)))
    assert costs[0] == pytest.approx(16.8)
    assert costs[1] == pytest.approx(17.7)
    assert costs[-1] == pytest.approx(31.2)
    assert order_cost(A_CHANCES, A_MINUTES, (0, 1, 2, 3)) == pytest.approx(24.9)
    assert order_cost(A_CHANCES, A_MINUTES, (2, 1, 3, 0)) == pytest.approx(18.8)


def test_methods_a_repairs_change_the_cost_and_not_the_order():
    order = cheapest_order(A_CHANCES, A_MINUTES)
    assert order_cost(A_CHANCES, A_MINUTES, order, (30, 10, 5, 60)) == pytest.approx(38.8)


def test_methods_b_a_test_that_pays():
    causes = tuple(
        a_cause(code, odds, minutes)
        for code, odds, minutes in (
            ("F1", 40, 30),
            ("F2", 30, 10),
            ("I1", 20, 5),
            ("I2", 10, 20),
        )
    )
    rows = {code: (0.9, 0.1) if code[0] == "F" else (0.1, 0.9) for code in ("F1", "F2", "I1", "I2")}
    model = a_model(causes, (a_test("t", 4, rows),))
    state = FaultState()
    assert expected_without_test(model, state) == pytest.approx(30.0, rel=CLOSE)
    assert expected_with_test(model, state, model.tests[0].reading_id) == pytest.approx(
        29.45, rel=CLOSE
    )
    for outcome, shares, cost in (
        ("a", (0.5455, 0.4091, 0.0303, 0.0152), 28.2576),
        ("b", (0.1176, 0.0882, 0.5294, 0.2647), 20.0),
    ):
        after = noticed(model, state, model.tests[0].reading_id, OutcomeId(outcome))
        odds = posterior(model, after)
        assert [odds[one.cause_id] for one in causes] == pytest.approx(shares, abs=1e-4)
        assert expected_without_test(model, after) == pytest.approx(cost, rel=CLOSE)


def test_methods_c_steps_that_do_not_always_cure():
    chances = [0.5 * 0.8, 0.3 * 0.9, 0.2 * 0.9]
    minutes = [5, 1, 8]
    assert cheapest_order(chances, minutes) == (1, 0, 2)
    costs = sorted(order_cost(chances, minutes, one) for one in permutations(range(3)))
    assert costs == pytest.approx([7.29, 8.24, 9.59, 10.22, 11.57, 12.52])
    assert 1 - sum(chances) == pytest.approx(0.15)


@pytest.mark.parametrize(
    ("call", "steps", "cost"), [(50, (0, 1, 2), 18.5), (90, (0, 1, 2, 3), 19.0)]
)
def test_methods_d_when_to_call_for_help(call: float, steps: tuple[int, ...], cost: float):
    found = cheapest_with_call((0.5, 0.3, 0.15, 0.05), (5, 10, 30, 60), call)
    assert found[0] == steps
    assert found[1] == pytest.approx(cost)


def test_methods_g_a_positive_finding_of_a_rare_thing():
    causes = (a_cause("D1", 8, 1), a_cause("N1", 92, 1))
    asked = a_question("Q-T", {"D1": (0.75, 0.25), "N1": (0.04, 0.96)})
    model = a_model(causes, (), (asked,))
    seen = {
        outcome: posterior(
            model, noticed(model, FaultState(), asked.reading_id, OutcomeId(outcome))
        )
        for outcome in ("a", "b")
    }
    assert seen["a"][causes[0].cause_id] == pytest.approx(0.619835, rel=CLOSE)
    assert seen["b"][causes[0].cause_id] == pytest.approx(0.022143, rel=CLOSE)


def test_methods_h_smiths_rule_is_the_same_mathematics():
    weights, times = (0, 18, 12, 8, 8, 17, 16), (3, 6, 6, 5, 4, 8, 9)
    order = cheapest_order(weights, times)
    assert order == (1, 5, 2, 4, 6, 3, 0)
    done = cost = 0
    for job in order:
        done += times[job]
        cost += weights[job] * done
    assert cost == 1610


# -- the shipped models -----------------------------------------------------------------------


@pytest.mark.parametrize("row", FIGURES["odds"], ids=lambda row: f"{row['symptom']} {row['seen']}")
def test_faults_odds_after_what_was_seen(row: dict[str, object]):
    model = model_of(str(row["symptom"]))
    state = begin(MODELS)
    for pair in str(row["seen"]).split():
        reading, outcome = pair.split("=")
        state = noticed(model, state, ReadingId(reading), OutcomeId(outcome))
    odds = posterior(model, state)
    after = row["after"]
    assert isinstance(after, dict)
    assert {cause: odds[cause] for cause in after} == pytest.approx(after, abs=5.1e-5)


@pytest.mark.parametrize("symptom", sorted(FIGURES["first"]))
def test_faults_each_test_as_a_first_step(symptom: str):
    model = model_of(symptom)
    state = begin(MODELS)
    said = FIGURES["first"][symptom]
    found = {code: expected_with_test(model, state, code) for code in said}
    assert found == pytest.approx(said, rel=CLOSE)
    game = set_up(model, state)
    assert {one.reading for one in game.moves if is_offered(game, game.start, one)} == set(said)


@pytest.mark.parametrize("row", FIGURES["minutes"], ids=lambda row: row["symptom"])
def test_faults_minutes_without_a_test(row: dict[str, float]):
    state = begin(MODELS)
    model = model_of(str(row["symptom"]))
    assert expected_without_test(model, state) == pytest.approx(row["no_test"], rel=CLOSE)


def row_of(symptom: str) -> dict[str, float]:
    return next(row for row in FIGURES["minutes"] if row["symptom"] == symptom)


@pytest.mark.parametrize("symptom", QUICK)
def test_faults_minutes_by_the_rule(symptom: str):
    found = expected_by_rule(model_of(symptom), begin(MODELS), Play.TESTS_FIRST)
    assert found == pytest.approx(row_of(symptom)["by_rule"], rel=CLOSE)


@pytest.mark.parametrize("symptom", QUICKEST)
def test_faults_minutes_by_the_rule_with_cures_between(symptom: str):
    found = expected_by_rule(model_of(symptom), begin(MODELS), Play.CURES_BETWEEN)
    assert found == pytest.approx(row_of(symptom)["cures_by_rule"], rel=CLOSE)
    if "cures_best" in row_of(symptom):
        assert found <= 1.02 * row_of(symptom)["cures_best"]


@pytest.mark.parametrize("symptom", QUICKEST)
def test_faults_best_minutes_with_tests_first(symptom: str):
    game = set_up(model_of(symptom), begin(MODELS))
    best = row_of(symptom)["best"]
    assert best_cost(game, Play.TESTS_FIRST) == pytest.approx(best, rel=CLOSE)
    assert settled(game, Play.TESTS_FIRST).minutes <= 1.005 * best


@pytest.mark.parametrize("symptom", ["S8", "S10", "S15"])
def test_faults_plans_come_near_the_best_with_cures_between(symptom: str):
    game = set_up(model_of(symptom), begin(MODELS))
    best = row_of(symptom)["cures_best"]
    assert settled(game, Play.CURES_BETWEEN, budget=2000).minutes <= 1.02 * best


def test_faults_plans_come_near_the_best_of_a_middling_model():
    game = set_up(model_of("S4a"), begin(MODELS))
    plan = settled(game, Play.TESTS_FIRST, budget=6000)
    assert plan.minutes <= 1.005 * row_of("S4a")["best"]
    assert plan.rule_minutes is not None
    assert plan.minutes <= plan.rule_minutes
