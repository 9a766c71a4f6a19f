"""Three complaints, three hidden causes each: whoever answers what the card or the sheet asks
comes to the cause."""

from __future__ import annotations

import pytest

from app.causes.branches import DONE, MOST_STEPS, Branch, branches_of
from app.causes.picture import FAILED, HELPED
from resources.fault_models import load_fault_models
from schedules.fault_facts import CauseId, FaultModel, ReadingId, SymptomId
from schedules.fault_state import FaultState, after_test, cure_failed
from schedules.faults import AdviceKind, begin, next_step

MODELS = load_fault_models()
HIDDEN = [
    (symptom, cause)
    for symptom, causes in (
        ("S1F", ("F4", "I1", "F1v")),
        ("S4b", ("Q1", "B1", "U1")),
        ("S9", ("A1", "F8", "I1")),
    )
    for cause in causes
]
MOST = 25


def seen(model: FaultModel, reading: ReadingId, cause: CauseId) -> str:
    """What that cause shows as a rule."""
    found = model.reading(reading)
    row = found.rows[cause]
    return str(found.outcomes[max(range(len(row)), key=lambda one: row[one])].outcome_id)


@pytest.mark.parametrize(("symptom", "hidden"), HIDDEN)
def test_card_by_card_to_the_cause(symptom: str, hidden: str):
    model, cause = MODELS.models[SymptomId(symptom)], CauseId(hidden)
    state = begin(MODELS)
    for _ in range(MOST):
        advice = next_step(model, state)
        if advice.reading is not None:
            outcome = seen(model, advice.reading, cause)
            test = model.reading(advice.reading)
            state = after_test(
                model,
                state,
                advice.reading,
                next(one.outcome_id for one in test.outcomes if one.outcome_id == outcome),
            )
        elif advice.kind is AdviceKind.CURE and advice.cause is not None:
            if advice.cause == cause:
                return
            state = cure_failed(model, state, advice.cause, advice.cure or 0)
        else:
            assert advice.kind is AdviceKind.WORKS
            assert advice.cause == cause
            return
    pytest.fail(f"{symptom}: {hidden} was not found in {MOST} steps")


@pytest.mark.parametrize(("symptom", "hidden"), HIDDEN)
def test_on_paper_each_answer_leads_to_a_step_that_is_there_or_back(symptom: str, hidden: str):
    model, cause = MODELS.models[SymptomId(symptom)], CauseId(hidden)
    state = begin(MODELS)
    sheet = branches_of(model, state, next_step(model, state))
    by_number = {one.number: one for one in sheet}
    here = sheet[0]
    for _ in range(MOST_STEPS):
        onward = here.goes.get(answer(model, here, cause), "")
        if onward in ("", DONE):
            return
        assert int(onward) > int(here.number)
        here = by_number[onward]
    pytest.fail("the sheet goes round in a circle")


def answer(model: FaultModel, branch: Branch, cause: CauseId) -> str:
    if branch.advice.reading is not None:
        return seen(model, branch.advice.reading, cause)
    return HELPED if branch.advice.cause == cause else FAILED


def test_a_sheet_has_no_more_steps_than_fit_and_numbers_each_once():
    model = MODELS.models[SymptomId("S1F")]
    state = FaultState()
    sheet = branches_of(model, state, next_step(model, state))
    assert [one.number for one in sheet] == [str(n) for n in range(1, len(sheet) + 1)]
    assert 3 <= len(sheet) <= MOST_STEPS
    led_to = [to for one in sheet for to in one.goes.values() if to not in ("", DONE)]
    assert sorted(led_to, key=int) == [one.number for one in sheet[1:]]
