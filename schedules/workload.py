"""The order work is done in: precedence first, then one opening or position at a time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from graphlib import CycleError, TopologicalSorter

from schedules.facts import (
    Precedence,
    TaskCode,
    TaskFacts,
    TaskSort,
    TaskVerdict,
    WorkLine,
)

QUICK_MINUTES = 10


class PrecedenceCycleError(ValueError):
    """The precedence pairs go round in a circle; `codes` names it."""

    def __init__(self, codes: tuple[TaskCode, ...]) -> None:
        super().__init__(f"precedence goes round: {' -> '.join(codes)}")
        self.codes = codes


@lru_cache(maxsize=16)
def befores(precedence: tuple[Precedence, ...]) -> Mapping[TaskCode, frozenset[TaskCode]]:
    """For each task all that must come before it, also by way of tasks not on a list.

    Raises PrecedenceCycleError.
    """
    direct: dict[TaskCode, set[TaskCode]] = {}
    for pair in precedence:
        direct.setdefault(pair.after, set()).add(pair.before)
    try:
        order = tuple(TopologicalSorter(direct).static_order())
    except CycleError as error:
        raise PrecedenceCycleError(tuple(error.args[1])) from error
    whole: dict[TaskCode, frozenset[TaskCode]] = {}
    for code in order:
        here = direct.get(code, set())
        whole[code] = frozenset(here).union(*(whole[before] for before in here))
    return whole


def order_of_work(
    codes: Iterable[TaskCode],
    *,
    tasks: Mapping[TaskCode, TaskFacts],
    minutes: Mapping[TaskCode, int],
    precedence: tuple[Precedence, ...],
) -> tuple[TaskCode, ...]:
    """The codes in working order.

    Again and again: of the tasks with nothing left on the list that must come before them, one
    with the same opening as the last taken, else any; of these the one with fewest minutes, then
    by code. Law: every precedence pair is kept; the order of `codes` does not matter.
    """
    before = befores(precedence)
    left = set(codes)
    order: list[TaskCode] = []
    opening = ""
    while left:
        free = [code for code in left if not before.get(code, frozenset()) & left]
        same = [code for code in free if opening and tasks[code].opening == opening]
        taken = min(same or free, key=lambda code: (minutes[code], code))
        order.append(taken)
        left.remove(taken)
        opening = tasks[taken].opening
    return tuple(order)


def work_lines(
    order: tuple[TaskCode, ...],
    verdicts: Mapping[TaskCode, TaskVerdict],
    tasks: Mapping[TaskCode, TaskFacts],
) -> tuple[WorkLine, ...]:
    """One line a task, in working order; the looks among them belong to the walk-round."""
    return tuple(
        WorkLine(
            codes=(code,),
            minutes=verdicts[code].minutes,
            walk_round=is_look(tasks[code], verdicts[code]),
        )
        for code in order
    )


def is_look(task: TaskFacts, verdict: TaskVerdict) -> bool:
    """Whether this is a quick look, part of the machine's one walk-round, and not full work."""
    return (
        task.sort is not TaskSort.PREDETERMINED
        and not verdict.replacement
        and not task.workshop
        and verdict.minutes <= QUICK_MINUTES
    )
