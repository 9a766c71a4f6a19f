"""Work whose turn comes with other work: at its every n-th doing."""

from __future__ import annotations

from collections.abc import Iterable

from schedules.facts import TaskCode
from schedules.intervals import anchor_of
from schedules.plan import Judging


def brought_along(judging: Judging, codes: Iterable[TaskCode]) -> set[TaskCode]:
    """The tasks that doing all of these today makes due; what includes others does them, too.

    Law: these and those done together leave no task due by its n-th that was not.
    """
    wanted = _with_included(judging, set(codes))
    found: set[TaskCode] = set()
    more = True
    while more:
        new = {
            code
            for item in judging.items
            for code in item.tasks
            if code not in wanted and _comes(judging, code, wanted)
        }
        more = bool(new)
        found |= new
        wanted |= _with_included(judging, new)
    return found


def _comes(judging: Judging, code: TaskCode, wanted: set[TaskCode]) -> bool:
    """Whether its n-th is reached once the work wanted is done; a day counts once."""
    item = judging.once.home(code)
    task = item.tasks[code]
    nth = task.rule.nth_of
    if nth is None or nth.code not in wanted:
        return False
    doings, today = judging.once.doings, judging.almanac.today
    anchor = anchor_of(item, task, doings)
    if anchor is None or anchor.day >= today:
        return False
    return len({*doings.days_after(nth.code, anchor.day), today}) >= nth.n


def _with_included(judging: Judging, codes: set[TaskCode]) -> set[TaskCode]:
    inner = {task.code: task.includes for item in judging.facts.items for task in item.tasks}
    found: set[TaskCode] = set()
    waiting = list(codes)
    while waiting:
        code = waiting.pop()
        if code not in found:
            found.add(code)
            waiting.extend(inner.get(code, ()))
    return found
