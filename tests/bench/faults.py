"""One next step in fault finding, at once and looked further ahead, against one ordering of the
repairs of the same model. Further ahead: as far as commands and paper look; the window takes what
was found by the time somebody begins to read."""

from __future__ import annotations

from collections.abc import Iterator

from app.causes.paper import LOOKED_AT
from resources.fault_models import load_fault_models
from schedules.fault_facts import SymptomId
from schedules.fault_game import blocks, set_up
from schedules.fault_search import settled
from schedules.faults import begin, next_step
from tests.bench.tables import Table
from tests.bench.timing import Case, alternate

MODELS = load_fault_models()
# The two largest, one of the middle, the smallest.
SYMPTOMS = ("S1F", "S1T", "S4b", "S15")
ROUNDS = 3


def fault_tables() -> Iterator[Table]:
    """For each model: ordering the repairs once, the step by the rule, the better one."""
    for symptom in SYMPTOMS:
        model, state = MODELS.models[SymptomId(symptom)], begin(MODELS)
        game = set_up(model, state)
        cases = (
            Case("repairs put in order once", lambda g=game: blocks(g, g.start.weights, 0)),
            Case("next step by the rule", lambda m=model, s=state: next_step(m, s)),
            Case("looked further ahead", lambda g=game: settled(g, budget=LOOKED_AT)),
        )
        yield Table(
            f"Fault finding, {symptom}: {len(model.causes)} causes, {len(model.tests)} tests",
            "by the rule 60 ×, further ahead 5,000 ×",
            alternate(cases, ROUNDS),
        )
