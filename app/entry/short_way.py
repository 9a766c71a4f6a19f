"""The short way into a machine nobody knows: a walk-round of looks first."""

from __future__ import annotations

from app.sheets.first_looks import things_left
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import TaskCode, TaskSort
from schedules.plan import Judging
from schedules.states import TaskState

ASKED = frozenset({TaskState.OVERDUE, TaskState.DUE, TaskState.NOT_KNOWN})


def first_looks(judging: Judging) -> tuple[TaskCode, ...]:
    """What can be looked at or tried at once; what the looks leave over is work for later."""
    return tuple(
        verdict.code
        for verdict in judging.verdict.tasks
        if verdict.state is TaskState.NOT_KNOWN
        and judging.task(verdict.code).sort is not TaskSort.PREDETERMINED
    )


def going_over(judging: Judging, words: Wording) -> str:
    """One line: how much the first going-over is, and how long its looks take; "" for none."""
    looks = first_looks(judging)
    if not looks:
        return ""
    minutes = sum(judging.task(code).look_minutes for code in looks)
    return words.count(
        msg("First going-over: {n} thing; looking comes first, {minutes}."),
        msg("First going-over: {n} things; looking comes first, {minutes}."),
        things_left(judging) or len(looks),
        minutes=words.minutes(minutes),
    )
