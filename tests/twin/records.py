"""What was written down about a machine's tasks: figures, doings, measurements, anchors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from schedules.facts import (
    Direction,
    ItemFacts,
    LimitCode,
    LimitFacts,
    LimitReading,
    MachineFacts,
    Past,
    Phase,
    Rule,
    TaskCode,
    TaskFacts,
)

LEAST_FACTOR = Fraction(1, 4)


@dataclass(frozen=True)
class Done:
    """A task done on a day, all doings of that day taken together."""

    day: date
    replaced: bool
    assumed: bool


@dataclass(frozen=True)
class Anchor:
    """What intervals count from. `purchase`: no doing, the day it came."""

    day: date
    replaced: bool
    purchase: bool
    new: bool


def with_own_figures(task: TaskFacts, facts: MachineFacts) -> TaskFacts:
    rule = task.rule
    for own in facts.own_figures:
        if own.target != task.code:
            continue
        if own.figure == "first_seconds":
            rule = replace(rule, first_seconds=own.value)
        elif own.figure == "run_seconds":
            rule = replace(rule, run_seconds=own.value)
        elif own.figure == "months":
            rule = replace(rule, months=own.value)
        elif own.figure == "uses":
            rule = replace(rule, uses=own.value)
    return replace(task, rule=rule)


def own_limits(
    limits: Mapping[LimitCode, LimitFacts], facts: MachineFacts
) -> dict[LimitCode, LimitFacts]:
    found = dict(limits)
    for own in facts.own_figures:
        code = LimitCode(own.target)
        if code in found and own.figure == "low":
            found[code] = replace(found[code], low=own.value)
        elif code in found and own.figure == "high":
            found[code] = replace(found[code], high=own.value)
    return found


def stands(task: TaskFacts, facts: MachineFacts) -> bool:
    """Whether the machine's features leave the task standing."""
    known = dict(facts.features)
    for condition in task.applies:
        if condition.feature in known:
            if known[condition.feature] not in condition.values:
                return False
        elif not condition.unknown:
            return False
    return True


def is_storage_act_alone(rule: Rule) -> bool:
    return rule.phases == (Phase.END,) and not has_other_parts(rule) and rule.months is None


def has_other_parts(rule: Rule) -> bool:
    """Anything besides phases and months that makes or could make a day, or a mark."""
    parts = (
        rule.first_seconds is not None,
        rule.run_seconds is not None,
        rule.uses is not None,
        rule.nth_of is not None,
        bool(rule.limits),
        rule.each_use,
        rule.on_sight,
        rule.on_fault,
        rule.fuel_age,
    )
    return any(parts)


def needs_no_anchor(rule: Rule) -> bool:
    """Tasks that are never *not known*."""
    if not has_other_parts(rule) and not rule.phases and rule.months is None:
        return True
    return rule.each_use or rule.on_sight or rule.on_fault or rule.fuel_age


def is_past(limit: LimitFacts, reading: LimitReading) -> bool:
    if limit.direction is Direction.EVENT:
        return reading.seen is True
    if reading.amount is None:
        return False
    if limit.direction is Direction.AT_MOST:
        return limit.high is not None and reading.amount >= limit.high
    if limit.direction is Direction.AT_LEAST:
        return limit.low is not None and reading.amount <= limit.low
    below = limit.low is not None and reading.amount < limit.low
    above = limit.high is not None and reading.amount > limit.high
    return below or above


def is_within(limit: LimitFacts, reading: LimitReading) -> bool:
    """Measured against a limit that is there, and not past it."""
    if limit.direction is Direction.EVENT:
        return reading.seen is False
    there = {
        Direction.AT_MOST: limit.high is not None,
        Direction.AT_LEAST: limit.low is not None,
        Direction.BETWEEN: limit.low is not None or limit.high is not None,
    }
    return reading.amount is not None and there[limit.direction] and not is_past(limit, reading)


class Records:
    """The written past of one machine, as it stands on the day asked about."""

    def __init__(
        self, facts: MachineFacts, on: date, limits: Mapping[LimitCode, LimitFacts]
    ) -> None:
        self.facts = facts
        self.on = on
        self.limits = own_limits(limits, facts)
        self.tasks = {
            (item.item_id, task.code): with_own_figures(task, facts)
            for item in facts.items
            for task in item.tasks
        }

    # -- includes -----------------------------------------------------------------------------

    def includes(self, code: TaskCode) -> set[TaskCode]:
        """The tasks a doing of this one counts for too, straight or by way of others."""
        found: set[TaskCode] = set()
        waiting = [code]
        while waiting:
            at = waiting.pop()
            for (_, other), task in self.tasks.items():
                if other == at:
                    waiting.extend(inner for inner in task.includes if inner not in found)
                    found.update(task.includes)
        return found - {code}

    def replaces(self, code: TaskCode) -> bool:
        return any(task.replaces for (_, other), task in self.tasks.items() if other == code)

    # -- doings -------------------------------------------------------------------------------

    def _reaches(self, done_on: ItemFacts, item: ItemFacts, code: TaskCode) -> bool:
        """Whether what was done on one item can count for a task of another by *includes*.

        Where both have the task (two packs alike), each has its own past.
        """
        return done_on.item_id == item.item_id or (done_on.item_id, code) not in self.tasks

    def _written(self, item: ItemFacts, code: TaskCode) -> list[Done]:
        """Doings written down: its own on its own item, and those that include it."""
        found: list[Done] = []
        for other in self.facts.items:
            for doing in other.doings:
                own = other.item_id == item.item_id and doing.code == code
                by_way = code in self.includes(doing.code) and self._reaches(other, item, code)
                if doing.day <= self.on and (own or by_way):
                    replaced = doing.replaced or self.replaces(doing.code)
                    found.append(Done(doing.day, replaced, doing.assumed))
        return found

    def _measured(self, item: ItemFacts, task: TaskFacts) -> list[Done]:
        """Measurements within the limit: doings of the task they were taken for."""
        found: list[Done] = []
        for other in self.facts.items:
            for reading in other.readings:
                if reading.day > self.on or not self._is_doing(reading):
                    continue
                own = other.item_id == item.item_id and reading.code == task.code
                included = task.code in self.includes(reading.code)
                by_way = included and self._reaches(other, item, task.code)
                if own or (by_way and reading.limit not in task.rule.limits):
                    found.append(Done(reading.day, replaced=False, assumed=False))
        return found

    def _is_doing(self, reading: LimitReading) -> bool:
        limit = self.limits.get(reading.limit)
        return limit is not None and is_within(limit, reading)

    def doings(self, item: ItemFacts, task: TaskFacts) -> list[Done]:
        """One a day, in time."""
        by_day: dict[date, list[Done]] = {}
        for done in self._written(item, task.code) + self._measured(item, task):
            by_day.setdefault(done.day, []).append(done)
        return [
            Done(day, any(d.replaced for d in dones), all(d.assumed for d in dones))
            for day, dones in sorted(by_day.items())
        ]

    def item_with(self, near: ItemFacts, code: TaskCode) -> ItemFacts | None:
        """The item that has a task: the near one, else the first."""
        if (near.item_id, code) in self.tasks:
            return near
        for item in self.facts.items:
            if (item.item_id, code) in self.tasks:
                return item
        return None

    def days_done(self, near: ItemFacts, code: TaskCode) -> list[date]:
        """Days on which another task was done."""
        item = self.item_with(near, code)
        if item is not None:
            return [done.day for done in self.doings(item, self.tasks[item.item_id, code])]
        written = [x.day for x in self._written(near, code)]
        for other in self.facts.items:
            written += [x.day for x in other.doings if x.code == code and x.day <= self.on]
        return sorted(set(written))

    def anchor(self, item: ItemFacts, task: TaskFacts) -> Anchor | None:
        doings = self.doings(item, task)
        if doings:
            last = doings[-1]
            return Anchor(last.day, last.replaced, purchase=False, new=False)
        if item.past is Past.NEW:
            return Anchor(item.came_on, replaced=False, purchase=True, new=True)
        if is_storage_act_alone(task.rule):
            return Anchor(item.came_on, replaced=False, purchase=True, new=False)
        return None

    # -- intervals ----------------------------------------------------------------------------

    def factor(self, task: TaskFacts) -> Fraction:
        product = Fraction(1)
        for duty, factor in task.duties:
            if duty in self.facts.duties:
                product *= factor
        return min(max(product, LEAST_FACTOR), Fraction(1))

    def interval(self, task: TaskFacts, anchor: Anchor) -> Fraction | None:
        """Seconds from the anchor's hours to the next doing."""
        rule = task.rule
        if rule.first_seconds is not None and (anchor.replaced or anchor.new):
            return Fraction(rule.first_seconds)
        if rule.run_seconds is not None:
            return self.factor(task) * rule.run_seconds
        return None

    def needed_uses(self, task: TaskFacts) -> int | None:
        if task.rule.uses is None:
            return None
        return max(1, int(self.factor(task) * task.rule.uses // 1))

    # -- limits -------------------------------------------------------------------------------

    def past_since(
        self, item: ItemFacts, task: TaskFacts, anchor: Anchor | None, code: LimitCode
    ) -> date | None:
        """The first day of an unbroken run of readings past a limit that lasts to this day."""
        if code not in self.limits:
            return None
        limit = self.limits[code]
        since: date | None = None
        for reading in sorted(item.readings, key=lambda reading: reading.day):
            if reading.limit != limit.code or reading.day > self.on:
                continue
            if limit.per_task and reading.code != task.code:
                continue
            if anchor is not None and not self._is_after(reading, anchor):
                continue
            if not is_past(limit, reading):
                since = None
            elif since is None:
                since = reading.day
        return since

    def _is_after(self, reading: LimitReading, anchor: Anchor) -> bool:
        return reading.day > anchor.day or (reading.day == anchor.day and reading.after_work)
