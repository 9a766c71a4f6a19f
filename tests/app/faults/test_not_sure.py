"""Not sure what was seen, and cannot be done now: two things, each with what follows from it."""

from __future__ import annotations

from functools import partial

import pytest

from app.causes.known import carried_on, opening_state
from models.facts.searches import SearchStep
from models.words import SearchDoing
from resources.fault_models import load_fault_models
from schedules.fault_facts import BLANK, FactId, ReadingId, SymptomId
from schedules.fault_odds import posterior
from schedules.fault_state import FaultState, cannot_now, unclear
from schedules.faults import begin, next_step
from tests.conftest import TODAY

MODELS = load_fault_models()
MODEL = MODELS.models[SymptomId("S1F")]
THROAT = ReadingId("throat")


def step(doing: SearchDoing, subject: str, answer: str = "") -> SearchStep:
    return SearchStep(
        step_id=1,
        doing=doing,
        day=TODAY,
        subject=subject,
        answer=answer,
        place=0,
        minutes=None,
        text="",
        withdrawn=False,
    )


@pytest.mark.parametrize("symptom", sorted(MODELS.models))
def test_neither_moves_the_odds_and_neither_is_asked_for_again(symptom: SymptomId):
    model = MODELS.models[symptom]
    for make in (partial(unclear, model), cannot_now):
        state = begin(MODELS)
        for _ in range(40):
            advice = next_step(model, state)
            if advice.reading is None:
                break
            assert advice.reading not in state.unclear | state.cannot
            state = make(state, advice.reading)
        else:
            pytest.fail(f"{symptom}: asked for tests without end")
        assert posterior(model, state) == posterior(model, begin(MODELS))


def test_what_was_done_is_open_and_makes_void_what_could_not_be_done_does_neither():
    jet = next(one for one in MODEL.tests if one.opening == "carb")
    begun = begin(MODELS)
    done = unclear(MODEL, begun, jet.reading_id)
    assert done.open == {jet.opening}
    assert cannot_now(begun, jet.reading_id).open == frozenset()


def test_a_prime_nobody_was_sure_of_still_spoils_the_colour_of_the_plug():
    voided = [one.reading_id for one in MODEL.tests if THROAT in one.void_after]
    assert voided
    assert not _ever_asked(unclear(MODEL, begin(MODELS), THROAT)) & set(voided)
    assert _ever_asked(cannot_now(begin(MODELS), THROAT)) & set(voided)


def _ever_asked(state: FaultState) -> set[ReadingId]:
    """What is asked for when nothing can be told from anything."""
    found: set[ReadingId] = set()
    while (reading := next_step(MODEL, state).reading) is not None:
        found.add(reading)
        state = cannot_now(state, reading)
    return found


def test_steps_on_file_are_read_back_as_the_one_or_the_other():
    begun = opening_state(MODELS, MODEL, record={}, facts={})
    state = carried_on(
        MODEL,
        begun,
        (step(SearchDoing.TESTED, "plug", BLANK), step(SearchDoing.CANNOT, "spark")),
    )
    assert state.unclear == {ReadingId("plug")}
    assert state.cannot == {ReadingId("spark")}
    assert state.open == {"plug"}
    assert state.seen == ()


def test_a_fact_nobody_can_tell_is_not_asked_again_in_this_search_and_is_kept_for_none():
    begun = opening_state(MODELS, MODEL, record={}, facts={})
    state = carried_on(MODEL, begun, (step(SearchDoing.TOLD, "valve", BLANK),))
    assert state.facts[FactId("valve")] == BLANK
    asked = {one for reading in _asked_facts(state) for one in reading}
    assert FactId("valve") not in asked


def _asked_facts(state: FaultState) -> list[tuple[FactId, ...]]:
    found: list[tuple[FactId, ...]] = []
    while (advice := next_step(MODEL, state)).reading is not None:
        found.append(advice.ask)
        state = cannot_now(state, advice.reading)
    return found


def test_what_the_type_of_machine_says_is_not_asked():
    state = opening_state(MODELS, MODEL, record={"kind": "K02"}, facts={})
    assert state.facts[FactId("thrower")] == "yes"
