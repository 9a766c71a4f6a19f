"""How it is seen that a cure helped: by the test that pointed at it, where one was made."""

from __future__ import annotations

import pytest

from app.causes.picture import FaultWords
from app.wording.units import METRIC
from app.wording.wording import Wording
from resources.fault_models import load_fault_models
from resources.loader import load_catalogue
from schedules.fault_facts import CauseId, FaultModel, Seen, SymptomId
from schedules.fault_state import FaultState
from schedules.faults import AdviceKind
from tests.app.faults.test_cautions_first import advice

MODELS = load_fault_models()
MODEL = MODELS.models[SymptomId("S1F")]


def last_step(model: FaultModel, cause: str, *seen: Seen) -> str:
    said = FaultWords(words=Wording("en_GB", METRIC, load_catalogue()), models=MODELS)
    state = FaultState(seen=seen)
    wanted = advice(AdviceKind.CURE, cause=CauseId(cause), cure=0)
    return said.card(model, state, wanted).steps[-1]


def shown_by(cause: str, *, likely: bool) -> Seen:
    """What a test other than the free look said that makes the cause likelier, or less likely."""
    for test in MODEL.tests:
        for place, outcome in enumerate(test.outcomes):
            shares = [row[place] for row in test.rows.values()]
            mean, own = sum(shares) / len(shares), test.rows[CauseId(cause)][place]
            if not test.is_gate and (own > 1.5 * mean if likely else own < mean):
                return Seen(reading=test.reading_id, outcome=outcome.outcome_id)
    raise AssertionError(cause)


CLOSED = next(str(one.cause_id) for one in MODEL.causes if one.opening is None and one.cures)
OPENED = next(str(one.cause_id) for one in MODEL.causes if one.opening is not None and one.cures)


@pytest.mark.parametrize("cause", [CLOSED, OPENED])
def test_no_test_is_made_again_that_never_was(cause: str):
    for seen in ((), (shown_by(cause, likely=False),)):
        said = last_step(MODEL, cause, *seen)
        assert "test" not in said
        assert "see whether it helped" in said


def test_the_test_that_showed_it_is_made_again_before_closing_what_was_opened():
    said = last_step(MODEL, OPENED, shown_by(OPENED, likely=True))
    assert said.startswith("Make the test that showed it again before you close up")
    said = last_step(MODEL, CLOSED, shown_by(CLOSED, likely=True))
    assert "test that showed it again" in said
    assert "close" not in said


def test_nothing_is_closed_up_that_was_never_opened():
    assert "lose up" not in last_step(MODEL, CLOSED)
    assert last_step(MODEL, OPENED).startswith("Close up")
