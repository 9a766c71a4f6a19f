"""What the steps of lists that were begun use up, for the shopping list. No Qt, no file."""

from __future__ import annotations

from collections.abc import Iterable

from models.facts.runs import RunFacts, RunStepFacts
from resources.loader import Catalogue
from resources.storage import load_sitting_rules
from schedules.facts import Consumable, TaskCode, TaskSort
from schedules.stores import Listed


def parts_of_runs(runs: Iterable[RunFacts], catalogue: Catalogue) -> tuple[Listed, ...]:
    """The parts of every step that has no answer yet. A look may find it good, and buys nothing."""
    return tuple(
        Listed(machine_id=number, item=item, codes=step.tasks, needed_on=run.begun_on)
        for run in runs
        if run.finished_on is None
        for step in run.remaining
        for item in _parts(step, catalogue)
        for number in step.machine_ids[:1]
    )


def _parts(step: RunStepFacts, catalogue: Catalogue) -> tuple[Consumable, ...]:
    for facts in load_sitting_rules().steps:
        if facts.code == step.code:
            return facts.parts
    task = catalogue.tasks.get(TaskCode(step.code))
    if task is None or task.sort is not TaskSort.PREDETERMINED:
        return ()
    return task.consumables
