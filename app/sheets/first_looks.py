"""The first looks at a machine nobody knows: what ten minutes are enough for, before any work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet

from app.wording.languages import msg
from schedules.facts import CautionCode, TaskCode, TaskFacts, TaskSort
from schedules.plan import Judging
from schedules.reasons import ReasonCode

# Our judgement: as long as somebody stays out there who only wants to know how it stands.
FIRST_MINUTES = 10
# What can be looked at as the machine stands, with nothing taken off.
_AS_IT_STANDS = frozenset({"standing", "engine-cold", "battery-open"})
# Looks that are no task of the plan: once a machine is in use nobody plans them.
NEST, GUARDS = msg("Look for a nest: at the starter, in the air box"), msg("Look at the guards")
NEST_HOW = msg("Straw, fluff, droppings: out with all of it, before anything is turned.")
GUARDS_HOW = msg("Each guard, cover and chute is on, whole and screwed down.")
MICE, GUARD_OFF = CautionCode("C-MOUSE"), CautionCode("C-GUARD")


def things_left(judging: Judging) -> int:
    """How much of the first going-over is left, as it is counted wherever it is spoken of; 0 for
    a machine whose past is known."""
    for ground in judging.verdict.reason.children:
        left = dict(ground.values).get("left")
        if ground.code is ReasonCode.PAST_UNKNOWN and isinstance(left, int):
            return left
    return 0


def walk_round(*, engine: bool) -> tuple[tuple[str, str, CautionCode], ...]:
    """Name, how and caution of the looks beside the plan, a minute each, in their order."""
    guards = (GUARDS, GUARDS_HOW, GUARD_OFF)
    return ((NEST, NEST_HOW, MICE), guards) if engine else (guards,)


def first_looks(
    tasks: Sequence[TaskFacts], before: Mapping[TaskCode, AbstractSet[TaskCode]], *, minutes: int
) -> frozenset[TaskCode]:
    """Those of the tasks that are looked at first: what keeps hands and house safe, then the rest
    in the order given, as they fit into the minutes.

    None of them waits for another task of the list.
    """
    listed = {task.code for task in tasks}
    free = [
        task
        for task in tasks
        if task.sort is not TaskSort.PREDETERMINED
        and task.opening in _AS_IT_STANDS
        and not before.get(task.code, frozenset()) & listed
    ]
    chosen: set[TaskCode] = set()
    for task in sorted(free, key=lambda one: not one.safety):
        if task.look_minutes <= minutes:
            chosen.add(task.code)
            minutes -= task.look_minutes
    return frozenset(chosen)
