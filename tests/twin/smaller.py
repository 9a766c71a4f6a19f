"""Makes an example smaller while it still shows what it shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar

from schedules.facts import HoursFacts, ItemFacts, MachineFacts, Rule, TaskFacts

Whole = TypeVar("Whole")


def smallest(facts: MachineFacts, still: Callable[[MachineFacts], bool]) -> MachineFacts:
    """Take away what can be taken away, as long as `still` says that the example holds."""
    going_on = True
    while going_on:
        going_on = False
        for smaller in lesser_machines(facts):
            if still(smaller):
                facts = smaller
                going_on = True
                break
    return facts


def without_each(parts: tuple[Whole, ...]) -> Iterator[tuple[Whole, ...]]:
    if len(parts) > 2:
        yield parts[: len(parts) // 2]
        yield parts[len(parts) // 2 :]
    for place in range(len(parts)):
        yield parts[:place] + parts[place + 1 :]


def lesser_machines(facts: MachineFacts) -> Iterator[MachineFacts]:
    for name in (
        "uses",
        "storage",
        "features",
        "own_figures",
        "faults",
        "failed_checks",
        "vessels",
    ):
        for parts in without_each(getattr(facts, name)):
            yield replace(facts, **{name: parts})
    if facts.duties:
        yield replace(facts, duties=frozenset())
    if facts.south:
        yield replace(facts, south=False)
    if facts.own_windows is not None:
        yield replace(facts, own_windows=None)
    if facts.kind.tasks:
        yield replace(facts, kind=replace(facts.kind, tasks=()))
    for place, item in enumerate(facts.items):
        if place:
            yield replace(facts, items=facts.items[:place] + facts.items[place + 1 :])
        for smaller in lesser_items(item):
            items = (*facts.items[:place], smaller, *facts.items[place + 1 :])
            yield replace(facts, items=items)


def lesser_items(item: ItemFacts) -> Iterator[ItemFacts]:
    for name in ("tasks", "doings", "readings", "forecasts"):
        for parts in without_each(getattr(item, name)):
            yield replace(item, **{name: parts})
    for hours in lesser_hours(item.hours):
        yield replace(item, hours=hours)
    for place, task in enumerate(item.tasks):
        for smaller in lesser_tasks(task):
            tasks = (*item.tasks[:place], smaller, *item.tasks[place + 1 :])
            yield replace(item, tasks=tasks)


def lesser_hours(hours: HoursFacts) -> Iterator[HoursFacts]:
    for name in ("readings", "inferred"):
        for parts in without_each(getattr(hours, name)):
            yield replace(hours, **{name: parts})
    if any(hours.month_shares):
        yield replace(hours, month_shares=(Fraction(0),) * 12)
    if hours.year_seconds:
        yield replace(hours, year_seconds=0)


def lesser_tasks(task: TaskFacts) -> Iterator[TaskFacts]:
    for name in ("includes", "duties", "applies"):
        if getattr(task, name):
            yield replace(task, **{name: ()})
    if task.replaces:
        yield replace(task, replaces=False)
    for name in Rule.__dataclass_fields__:
        empty = Rule.__dataclass_fields__[name].default
        if getattr(task.rule, name) != empty:
            yield replace(task, rule=replace(task.rule, **{name: empty}))
    for phases in without_each(task.rule.phases):
        yield replace(task, rule=replace(task.rule, phases=phases))
