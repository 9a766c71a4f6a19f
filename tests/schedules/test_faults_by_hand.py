"""Fault finding by hand: what counts, what may be done next, what it costs, when it stops."""

from __future__ import annotations

from dataclasses import replace

import pytest

from resources.fault_models import load_fault_models
from schedules.fault_facts import (
    BLANK,
    NONE_OF_THESE,
    CauseId,
    CostClass,
    Ending,
    FactId,
    FaultModel,
    OpeningId,
    OutcomeId,
    ReadingId,
    SymptomId,
)
from schedules.fault_game import is_offered, move_minutes, set_up
from schedules.fault_grounds import GroundCode, ground
from schedules.fault_lessons import learned_odds
from schedules.fault_odds import likely, posterior
from schedules.fault_rule import Play
from schedules.fault_search import deepen
from schedules.fault_state import (
    FaultState,
    Worth,
    after_test,
    cannot_now,
    cure_failed,
    cure_ticked,
    noticed,
    shut,
    taken_back,
    told,
)
from schedules.faults import (
    AdviceKind,
    begin,
    care_of_cure,
    enter,
    expected_with_test,
    next_step,
    plans,
)
from tests.twin.fault_twin import a_cause, a_model, a_question, a_test

MODELS = load_fault_models()
FOUR = MODELS.models[SymptomId("S1F")]
START = begin(MODELS)


def seen(model: FaultModel, state: FaultState, *pairs: str) -> FaultState:
    for pair in pairs:
        reading, outcome = pair.split("=")
        state = noticed(model, state, ReadingId(reading), OutcomeId(outcome))
    return state


def offered(model: FaultModel, state: FaultState) -> set[str]:
    game = set_up(model, state)
    return {str(one.reading) for one in game.moves if is_offered(game, game.start, one)}


def minutes(model: FaultModel, state: FaultState, reading: str) -> float:
    game = set_up(model, state)
    move = next(one for one in game.moves if one.reading == reading)
    return move_minutes(game, game.start, move)


# -- what counts ------------------------------------------------------------------------------


def test_of_one_group_only_the_better_reading_counts():
    asked = seen(FOUR, START, "Q-CORD=easy")
    measured = seen(FOUR, START, "compr=normal")
    both = seen(FOUR, asked, "compr=normal")
    assert posterior(FOUR, both) == posterior(FOUR, measured)
    assert posterior(FOUR, both) != posterior(FOUR, asked)


def test_a_test_takes_the_place_of_a_lesser_question_and_none_of_a_better():
    model = MODELS.models[SymptomId("S4a")]
    assert "half" in offered(model, seen(model, START, "Q-RAN=weak"))
    assert "prime" not in offered(FOUR, seen(FOUR, START, "spark=good", "throat=dies"))


def test_blank_answers_say_nothing():
    model = MODELS.models[SymptomId("S4a")]
    blank = noticed(model, START, ReadingId("Q-ENG"), BLANK)
    assert posterior(model, blank) == posterior(model, START)


def test_a_second_answer_takes_the_place_of_the_first_and_can_be_taken_back():
    once = seen(FOUR, START, "plug=dry")
    twice = seen(FOUR, once, "plug=wet")
    assert posterior(FOUR, twice) == posterior(FOUR, seen(FOUR, START, "plug=wet"))
    assert posterior(FOUR, taken_back(twice, ReadingId("plug"))) == posterior(FOUR, START)


def test_what_is_on_record_counts_until_its_question_is_answered():
    wet = begin(MODELS, record={"bowl_left_wet": "yes", "months_parked": 7.0})
    jet = CauseId("F4")
    assert posterior(FOUR, wet)[jet] > 1.3 * posterior(FOUR, START)[jet]
    asked = seen(FOUR, wet, "Q-PARK=wet")
    assert posterior(FOUR, asked) == posterior(FOUR, seen(FOUR, START, "Q-PARK=wet"))
    grounds = {one.code for one in next_step(FOUR, asked).grounds}
    assert GroundCode.ANSWER_COUNTED in grounds
    assert GroundCode.RECORD_COUNTED in {one.code for one in next_step(FOUR, wet).grounds}


@pytest.mark.parametrize(
    ("ageing", "factor"), [(0.2, 0.25), (0.5, 1.0), (1.0, 1.3), (2.9, 1.3), (3.0, 2.5)]
)
def test_numbers_on_record_fall_into_their_range(ageing: float, factor: float):
    state = begin(MODELS, record={"fuel_ageing": ageing})
    odds, plain = posterior(FOUR, state), posterior(FOUR, START)
    stale, untouched = CauseId("F2"), CauseId("I1")
    ratio = odds[stale] / odds[untouched] / (plain[stale] / plain[untouched])
    assert ratio == pytest.approx(factor)


def test_a_fact_rules_a_cause_out_and_a_test_with_it():
    bare = told(START, FactId("primer"), "no")
    assert CauseId("F8p") not in {one.cause.cause_id for one in likely(FOUR, bare)}
    two = MODELS.models[SymptomId("S1T")]
    assert "bulb" in offered(two, START)
    assert "bulb" not in offered(two, told(START, FactId("primer"), "no"))


def test_tools_nobody_is_thought_to_own_are_not_asked_for():
    assert "gap" not in offered(FOUR, START)
    assert "gap" in offered(FOUR, told(START, FactId("tester"), "yes"))


def test_every_cause_ruled_out_is_refused():
    model = a_model((a_cause("A1", 100, 5),))
    nothing = replace(FaultState(), odds=dict.fromkeys((one.cause_id for one in model.causes), 0.0))
    with pytest.raises(ValueError, match="no cause"):
        posterior(model, nothing)


def test_unknown_readings_outcomes_and_cures_are_refused():
    with pytest.raises(KeyError):
        noticed(FOUR, START, ReadingId("nonsense"), OutcomeId("yes"))
    with pytest.raises(ValueError, match="no outcome"):
        noticed(FOUR, START, ReadingId("plug"), OutcomeId("yes"))
    with pytest.raises(ValueError, match="no cure"):
        cure_failed(FOUR, START, CauseId("F8"), 5)
    with pytest.raises(ValueError, match="values"):
        ground(GroundCode.WORKS_NOW, reading="tap")


# -- what may be done next --------------------------------------------------------------------


def test_the_free_look_comes_first_and_once():
    first = next_step(FOUR, START)
    assert first.reading == "gate"
    assert GroundCode.FREE_LOOK in {one.code for one in first.grounds}
    assert next_step(FOUR, seen(FOUR, START, "gate=ok")).reading != "gate"
    assert next_step(FOUR, cannot_now(START, ReadingId("gate"))).reading != "gate"


def test_no_prime_before_the_spark_nor_after_a_dead_one_and_no_spark_after_a_prime():
    assert not {"throat", "prime"} & offered(FOUR, START)
    assert {"throat", "prime"} <= offered(FOUR, seen(FOUR, START, "spark=good"))
    dead = offered(FOUR, seen(FOUR, START, "spark=none"))
    assert not {"throat", "prime"} & dead
    assert {"plug2", "kill"} <= dead
    primed = offered(FOUR, seen(FOUR, START, "throat=dies"))
    assert not {"spark", "plug", "plug2", "kill", "prime"} & primed


def test_the_piston_is_looked_at_only_after_the_compression():
    model = MODELS.models[SymptomId("S1T")]
    assert "muffler" not in offered(model, START)
    assert "muffler" in offered(model, seen(model, START, "hang=drops"))


def test_an_opening_is_paid_once_and_again_when_it_was_shut():
    assert minutes(FOUR, START, "spark") == 6
    state = after_test(FOUR, START, ReadingId("spark"), OutcomeId("good"))
    assert state.open == {"plug"}
    assert minutes(FOUR, state, "plug") == 2
    primed = after_test(FOUR, state, ReadingId("throat"), OutcomeId("dies"))
    assert primed.open == frozenset()
    assert shut(state).open == frozenset()
    assert minutes(FOUR, shut(state), "plug") == 6


def test_a_fact_makes_a_test_longer_or_puts_it_off():
    assert minutes(FOUR, told(START, FactId("hose"), "hidden"), "line") == 17
    for value in ("none", "unreachable"):
        assert not {"bowl", "crust"} & offered(FOUR, told(START, FactId("bowl_drain"), value))


def test_a_fact_is_asked_when_a_step_first_needs_it():
    state = seen(FOUR, START, "gate=ok", "spark=good", "plug=dry")
    advice = next_step(FOUR, state)
    assert (advice.reading, advice.ask) == ("bowl", ("bowl_drain",))
    known = told(state, FactId("bowl_drain"), "unreachable")
    assert next_step(FOUR, known).reading != "bowl"


def test_what_the_type_of_machine_says_is_not_asked():
    model = MODELS.models[SymptomId("S7")]
    saw, thrower = begin(MODELS, kind="K09"), begin(MODELS, kind="K02")
    assert CauseId("IM") not in {one.cause.cause_id for one in likely(model, saw)}
    assert CauseId("IM") in {one.cause.cause_id for one in likely(model, thrower)}
    assert FactId("thrower") not in START.facts


def test_an_entry_is_another_symptom_with_something_seen():
    for entry in MODELS.entries:
        model, state = enter(MODELS, entry, START)
        assert model.symptom_id == entry.leads_to
        assert not {"spark", "plug", "prime"} & offered(model, state)
        assert likely(model, state)[0].odds > likely(model, START)[0].odds


def test_what_cannot_be_done_now_is_not_offered_again():
    state = seen(FOUR, START, "gate=ok")
    first = next_step(FOUR, state).reading
    assert first is not None
    assert first not in offered(FOUR, cannot_now(state, first))


def test_a_test_that_only_opens_the_way_is_looked_through():
    rows = {"A1": (0.95, 0.05), "B1": (0.05, 0.95)}
    dull = {"A1": (0.5, 0.5), "B1": (0.5, 0.5)}
    model = a_model(
        (a_cause("A1", 50, 60), a_cause("B1", 50, 60)),
        (a_test("way", 1, dull), a_test("tell", 1, rows, after=("way",))),
    )
    advice = next_step(model, FaultState())
    assert advice.reading == "way"
    assert GroundCode.UNLOCKS in {one.code for one in advice.grounds}


# -- cures ------------------------------------------------------------------------------------


def test_a_cure_that_is_cheap_and_likely_comes_before_a_test():
    rows = {"A1": (0.9, 0.1), "B1": (0.1, 0.9)}
    model = a_model((a_cause("A1", 80, 2), a_cause("B1", 20, 60)), (a_test("look", 5, rows),))
    advice = next_step(model, FaultState())
    assert (advice.kind, advice.cause) == (AdviceKind.CURE, "A1")


def test_a_failed_cure_leaves_the_share_in_which_it_fails_and_the_next_one_follows():
    jet = CauseId("F4")
    once = cure_failed(FOUR, START, jet, 0)
    plain = posterior(FOUR, START)[jet]
    assert posterior(FOUR, once)[jet] == pytest.approx(0.15 * plain / (1 - 0.85 * plain))
    suspect = next(one for one in likely(FOUR, once) if one.cause.cause_id == jet)
    assert (suspect.cure, suspect.cost) == (1, CostClass.PART)
    assert suspect.minutes == 12
    assert once.open == {"carb"}
    assert cure_ticked(FOUR, START, jet, 0).open == frozenset()


def test_when_all_cures_failed_it_is_handed_over():
    model = a_model((a_cause("A1", 98, 5, works=0.5), a_cause("OT", 2, 40)))
    state = cure_failed(model, FaultState(), CauseId("A1"))
    advice = next_step(model, state)
    assert advice.kind is AdviceKind.HAND_OVER
    assert advice.expected_minutes == pytest.approx(40, rel=1e-3)


def test_a_repair_dearer_than_the_workshop_is_handed_over():
    causes = (a_cause("A1", 60, 200), a_cause("B1", 40, 300))
    assert next_step(a_model(causes, handover=100), FaultState()).kind is AdviceKind.HAND_OVER
    assert next_step(a_model(causes, handover=900), FaultState()).kind is AdviceKind.CURE
    own = replace(FaultState(), handover_minutes=900.0)
    assert next_step(a_model(causes, handover=100), own).kind is AdviceKind.CURE


def test_money_counts_only_when_an_hour_is_worth_something():
    cheap, dear = a_cause("A1", 50, 10), a_cause("B1", 50, 9)
    cure = replace(dear.cures[0], cost=CostClass.PART)
    model = a_model((cheap, replace(dear, cures=(cure,))))
    assert next_step(model, FaultState()).cause == "B1"
    worth = Worth(hour_cents=3000, cents={CostClass.PART: 3000})
    assert next_step(model, replace(FaultState(), worth=worth)).cause == "A1"
    with pytest.raises(ValueError, match="worth"):
        Worth(hour_cents=0, cents={}).minutes(CostClass.PART)


def test_a_cause_behind_another_symptom_leads_there():
    model = MODELS.models[SymptomId("S4a")]
    state = seen(model, START, "gate=ok", "listen=down", "half=weak", "Q-SNOW=dry")
    for cause in model.causes:
        if cause.cause_id not in {"E1b", NONE_OF_THESE}:
            for cure in range(len(cause.cures)):
                state = cure_ticked(model, state, cause.cause_id, cure)
    advice = next_step(model, state)
    assert (advice.kind, advice.goes_on) == (AdviceKind.GO_ON, "S9")


def test_it_works_and_what_was_wrong_is_still_named():
    state = after_test(
        FOUR, seen(FOUR, START, "gate=ok", "bowl=none"), ReadingId("tap"), OutcomeId("starts")
    )
    advice = next_step(FOUR, state)
    assert (advice.kind, advice.cause) == (AdviceKind.WORKS, "F6")


def test_a_scored_piston_ends_the_search():
    model = MODELS.models[SymptomId("S1T")]
    state = seen(model, START, "gate=ok", "hang=drops", "muffler=scored")
    advice = next_step(model, state)
    assert (advice.kind, advice.expected_minutes) == (AdviceKind.APPRAISE, 30)
    assert model.cause(CauseId("M1")).goes_on is Ending.APPRAISAL


def test_a_machine_that_stood_for_years_is_looked_over_first():
    state = begin(MODELS, record={"months_parked": 30.0})
    assert next_step(FOUR, state).kind is AdviceKind.LOOK_OVER
    assert next_step(FOUR, replace(state, looked_over=True)).kind is AdviceKind.TEST
    unknown = begin(MODELS, record={"oil_unknown": "yes"})
    assert next_step(FOUR, unknown).kind is AdviceKind.LOOK_OVER


def test_none_of_these_first_means_thinking_of_handing_over():
    model = MODELS.models[SymptomId("S4a")]
    odd = seen(model, START, "gate=ok", "paddle=wrong", "chalk=pulley", "belt=wrong")
    assert next_step(model, odd).handover_offered
    assert not next_step(model, seen(model, START, "gate=ok")).handover_offered


def test_a_cure_has_its_cautions():
    care = care_of_cure(FOUR, CauseId("F4"))
    assert {"C-FUEL", "C-SPRAY", "C-EYE"} <= set(care.cautions)
    assert "R-COLD" in care.before
    for model in MODELS.models.values():
        for cause in model.causes:
            assert care_of_cure(model, cause.cause_id).cautions


def test_own_odds_steer_the_next_step():
    model = MODELS.models[SymptomId("S13")]
    odds = learned_odds(model, {CauseId("UN"): 60})
    assert likely(model, replace(START, odds=odds))[0].cause.cause_id == "UN"
    with pytest.raises(ValueError, match="no cause"):
        learned_odds(model, {CauseId("XX"): 1})
    with pytest.raises(ValueError, match="times"):
        learned_odds(model, {CauseId("UN"): -1})
    with pytest.raises(ValueError, match="strength"):
        learned_odds(model, {}, strength=0)


# -- looking further --------------------------------------------------------------------------


def test_plans_grow_no_dearer_and_a_caller_may_stop():
    model = MODELS.models[SymptomId("S5")]
    game = set_up(model, seen(model, START, "gate=ok"))
    found = [one.minutes for one in deepen(game, Play.CURES_BETWEEN, budget=3000)]
    counted = [one for one in found if one <= found[1] + 1e-9]
    assert counted == sorted(counted, reverse=True)
    stopped = plans(model, START)
    assert next(stopped).step.move is not None
    again = [one.minutes for one in deepen(game, Play.CURES_BETWEEN, budget=3000)]
    assert again == found


def test_a_plan_says_when_everything_was_looked_at():
    rows = {"A1": (0.9, 0.1), "B1": (0.1, 0.9)}
    model = a_model((a_cause("A1", 50, 30), a_cause("B1", 50, 40)), (a_test("look", 1, rows),))
    assert list(plans(model, FaultState()))[-1].is_best


def test_a_plan_is_taken_for_the_next_step():
    model = MODELS.models[SymptomId("S8b")]
    state = START
    plan = list(plans(model, state))[-1]
    assert plan.rule_minutes is not None
    assert plan.minutes <= plan.rule_minutes
    advice = next_step(model, state, plan=plan)
    assert advice.expected_minutes == plan.minutes


def test_questions_taken_the_place_of_are_forgotten_after_the_test():
    rows = {"A1": (0.9, 0.1), "B1": (0.1, 0.9)}
    asked = a_question("Q-A", rows, group="g", rank=1)
    test = a_test("look", 1, rows, group="g", rank=2)
    model = a_model((a_cause("A1", 50, 30), a_cause("B1", 50, 30)), (test,), (asked,))
    state = seen(model, FaultState(), "Q-A=a")
    after = seen(model, state, "look=b")
    assert posterior(model, after)[CauseId("B1")] == pytest.approx(0.9)
    assert OpeningId("x") not in after.open


def test_what_a_test_shut_costs_again():
    model = a_model(
        (a_cause("A1", 100, 5, "p"),),
        (a_test("look", 2, {"A1": (0.5, 0.5)}, opening="p", shuts=True),),
        openings={"p": 10},
    )
    assert expected_with_test(model, FaultState(), ReadingId("look")) == pytest.approx(27)


def test_the_forecast_uses_the_answer_that_the_test_then_takes_the_place_of():
    rows = {"A1": (0.9, 0.1), "B1": (0.1, 0.9)}
    asked = a_question("Q-A", rows, group="g", rank=1)
    test = a_test("look", 1, rows, group="g", rank=2)
    model = a_model((a_cause("A1", 50, 30), a_cause("B1", 50, 10)), (test,), (asked,))
    state = seen(model, FaultState(), "Q-A=a")
    cost = expected_with_test(model, state, ReadingId("look"))
    assert cost == pytest.approx(1 + 0.82 * 31 + 0.18 * 13)


def test_a_cheap_cure_is_still_worth_trying_before_a_dear_workshop():
    causes = (a_cause("A1", 90, 200), a_cause("B1", 10, 2))
    advice = next_step(a_model(causes, handover=100), FaultState())
    assert (advice.kind, advice.cause) == (AdviceKind.CURE, "B1")


def test_a_cure_that_opens_the_carburettor_warns_of_petrol_whatever_test_led_to_it():
    for model in MODELS.models.values():
        for cause in model.causes:
            care = care_of_cure(model, cause.cause_id)
            if cause.opening in ("carb", "hose", "bowl"):
                assert "C-FUEL" in care.cautions, (model.symptom_id, cause.cause_id)
                assert {"R-OUT", "R-COLD"} <= set(care.before)
            if cause.opening in ("belt", "deck", "belly"):
                assert "C-STOP" in care.cautions
                assert "R-LEAD" in care.before
            if cause.opening is not None:
                assert not {"R-HOT", "R-KEYIN"} & set(care.before)
