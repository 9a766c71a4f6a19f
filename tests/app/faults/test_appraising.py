"""Three wrecks on a seller's drive: one number, one line, and what a look is worth."""

from __future__ import annotations

from fractions import Fraction

import pytest

from app.appraisal.picture import AppraisalWords
from app.appraisal.pocket import BRINGS, most_cents
from app.appraisal.wreck import LOOKS, Asking, appraise, looks_of, still_open, wreck_of
from app.causes.picture import FaultWords
from app.wording.units import METRIC
from app.wording.wording import Wording
from resources.fault_models import load_fault_models
from resources.loader import load_catalogue
from schedules.appraisal import Choice
from schedules.fault_facts import OutcomeId, ReadingId, SymptomId
from schedules.fault_state import FaultState, noticed
from schedules.faults import begin

MODELS = load_fault_models()
THROWER = MODELS.models[SymptomId("S1F")]
SAW = MODELS.models[SymptomId("S1T")]


def seen(**given: str) -> FaultState:
    state = begin(MODELS)
    for name, outcome in given.items():
        reading = ReadingId(name.replace("_", "-"))
        state = noticed(THROWER, state, reading, OutcomeId(outcome))
    return state


def test_a_good_machine_left_with_its_petrol_is_taken():
    asking = Asking(asked=4000, low=18000, high=26000, hour=1000, as_it_stands=2000)
    found = appraise(THROWER, seen(Q_PARK="wet", Q_CORD="normal"), asking)
    assert found.offer.choice is Choice.TAKE
    assert found.low.most < found.offer.most < found.high.most
    assert found.offer.most < asking.running
    assert found.minutes > 0


def test_an_engine_far_too_light_to_pull_is_worth_less_than_one_that_pulls_as_ever():
    asking = Asking(asked=9000, low=12000, high=16000, hour=1500)
    light = appraise(THROWER, seen(Q_CORD="easy"), asking)
    normal = appraise(THROWER, seen(Q_CORD="normal"), asking)
    assert light.offer.most < normal.offer.most
    assert light.offer.choice is Choice.PASS


def test_a_saw_nobody_pays_for_is_not_worth_an_hour():
    asking = Asking(asked=3000, low=2000, high=2000, hour=3000, as_it_stands=1000)
    found = appraise(SAW, begin(MODELS), asking)
    assert found.offer.choice is Choice.PASS
    said = AppraisalWords(
        words=FaultWords(words=Wording("en_GB", METRIC, load_catalogue()), models=MODELS),
        currency="GBP",
    )
    shown = said.show(SAW, begin(MODELS), asking, found)
    assert shown.stop.startswith("Stop ")
    assert shown.most.startswith("£")
    assert "let it pass" in shown.choice


@pytest.mark.parametrize("fetching", [0, 2500])
def test_fetching_is_taken_off_and_standing_value_is_the_floor(fetching: int):
    asking = Asking(low=10000, high=10000, fetching=fetching, as_it_stands=3000)
    found = appraise(THROWER, seen(), asking, with_looks=False)
    plain = appraise(
        THROWER, seen(), Asking(low=10000, high=10000, as_it_stands=3000), with_looks=False
    )
    assert plain.offer.most - found.offer.most == fetching
    assert found.offer.most >= 3000 - fetching


def test_chances_sum_to_one_and_a_look_is_never_worth_less_than_nothing():
    wreck = wreck_of(THROWER, seen(), Asking(), Fraction(10000))
    assert sum(wreck.chances.values()) == 1
    asking = Asking(asked=6000, low=9000, high=12000, hour=1000)
    assert appraise(THROWER, seen(), asking).offer.look_worth >= 0


@pytest.mark.parametrize("symptom", sorted(MODELS.models))
def test_the_looks_need_no_tool_and_open_nothing(symptom: SymptomId):
    looks = looks_of(MODELS.models[symptom])
    assert 1 <= len(looks) <= LOOKS
    assert all(getattr(one, "opening", None) is None for one in looks)
    assert all(not getattr(one, "tools", ()) for one in looks)


def test_the_pocket_sheet_says_what_to_pay_at_most_behind_every_answer():
    found = {
        str(outcome.outcome_id): most_cents(THROWER, seen(Q_CORD=str(outcome.outcome_id)))
        for outcome in THROWER.reading(ReadingId("Q-CORD")).outcomes
    }
    assert found["easy"] < found["hard"] < found["normal"] <= BRINGS
    assert all(cents % 500 == 0 for cents in found.values())


def test_nothing_said_gives_a_range_and_the_look_that_changes_most():
    said = AppraisalWords(
        words=FaultWords(words=Wording("en_GB", METRIC, load_catalogue()), models=MODELS),
        currency="GBP",
    )
    asking = Asking()
    state = begin(MODELS)
    found = still_open(THROWER, state)
    assert 0 <= found.least < found.now < found.most <= 1
    spreads = [high - low for _, low, high in found.looks]
    assert spreads == sorted(spreads, reverse=True)
    shown = said.show(THROWER, state, asking, appraise(THROWER, state, asking, with_looks=False))
    assert shown.most == ""
    assert found.looks[0][0].name in shown.first[1]
    answered = seen(Q_CORD="easy")
    assert "Q-CORD" not in {
        str(one.reading_id) for one, _, _ in still_open(THROWER, answered).looks
    }
