"""The first going-over of a machine that nobody knows anything about.

Four looks, a splash of fresh fuel and a pull for one that ran not long ago; full gates, with
nothing turned before them, for one that sat over two years, sticks, or has no oil one can trust.
Then the work nobody knows about, in one order; what can wait is named, and what is passed over is
taken as done from that day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from schedules.along import brought_along
from schedules.facts import (
    Consumable,
    MachineFacts,
    Policy,
    TaskCode,
    TaskFacts,
    TaskSort,
    TaskState,
)
from schedules.plan import Limits, done_by_others, judge
from schedules.putting_away import worst_band
from schedules.sitting_facts import Ask

LONG_SAT_DAYS = 730
HOUR = 3600
# Run time after which it is looked at again: what was soaked, filled and tightened shows by then.
CHECKED_AGAIN_SECONDS = (1 * HOUR, 5 * HOUR, 25 * HOUR)
LONG_WORK_MINUTES = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class GoingOver:
    """What a going-over is made of: the machine with the work to be done now, what can wait, and
    what has to be bought first."""

    ask: Ask
    can_wait: tuple[TaskCode, ...]
    passed_over: tuple[TaskCode, ...]
    to_buy: tuple[Consumable, ...]


@dataclass(frozen=True, slots=True)
class CheckedAgain:
    """A look to be had again at a total of run time."""

    at_seconds: int
    after_seconds: int


def needs_gates(*, sat_days: int | None, seized: bool, oil_known: bool) -> bool:
    """Whether nothing may turn before the full looks. Nobody knows how long it sat: as if long."""
    return seized or not oil_known or sat_days is None or sat_days > LONG_SAT_DAYS


def ask_to_go_over(
    facts: MachineFacts,
    *,
    on: date,
    policy: Policy,
    limits: Limits,
    gates: bool,
    wait: frozenset[TaskCode] | None = None,
    passed_over: frozenset[TaskCode] = frozenset(),
) -> GoingOver:
    """The machine with the work nobody knows about, less what waits and what is passed over.

    `wait` None: what can wait by our judgement, long work that guards nothing.
    """
    judging = judge(facts, on=on, policy=policy, limits=limits)
    unknown = {
        verdict.code for verdict in judging.verdict.tasks if verdict.state is TaskState.NOT_KNOWN
    }
    unknown -= done_by_others(judging, unknown)
    tasks = {code: judging.task(code) for code in sorted(unknown)}
    waits = wait
    if waits is None:
        waits = frozenset(code for code, task in tasks.items() if can_wait(task))
    now = {code for code in tasks if code not in waits and code not in passed_over}
    checks = {
        code
        for code in judging.verdict.each_use
        if judging.task(code).safety and judging.task(code).sort is TaskSort.CHECK
    }
    along = brought_along(judging, now) - waits - passed_over
    ask = Ask(
        facts=facts,
        tasks=frozenset(now | checks | along),
        full=frozenset(now),
        gates=gates,
        band=worst_band(judging.verdict),
    )
    return GoingOver(
        ask=ask,
        can_wait=tuple(code for code in tasks if code in waits and code not in passed_over),
        passed_over=tuple(code for code in tasks if code in passed_over),
        to_buy=_to_buy([tasks[code] for code in tasks if code in now]),
    )


def can_wait(task: TaskFacts) -> bool:
    """Long work, or work for a workshop, that guards no condition that stops use."""
    return not task.safety and (task.workshop or task.do_minutes >= LONG_WORK_MINUTES)


def checked_again(total_seconds: int) -> tuple[CheckedAgain, ...]:
    """When it is to be looked at again, from the run time it has on the day."""
    return tuple(CheckedAgain(total_seconds + after, after) for after in CHECKED_AGAIN_SECONDS)


def _to_buy(tasks: list[TaskFacts]) -> tuple[Consumable, ...]:
    """What the work surely uses up, each part once, counted."""
    found: dict[str, Consumable] = {}
    for task in tasks:
        if task.sort is not TaskSort.PREDETERMINED:
            continue
        for part in task.consumables:
            known = found.get(part.part)
            if known is None:
                found[part.part] = part
            else:
                found[part.part] = Consumable(
                    part=part.part,
                    name=part.name,
                    quantity=known.quantity + part.quantity,
                    wear_item=part.wear_item,
                )
    return tuple(found.values())
