"""What to buy before the season, how many, and by which day it must be ordered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from schedules.facts import (
    Consumable,
    GovernedBy,
    MachineId,
    Policy,
    PreSeason,
    Purchase,
    TaskCode,
    TaskSort,
    TaskVerdict,
)
from schedules.plan import Judging

# Before a part that somebody named in words of their own: no code of the catalogue has a colon.
OWN_WORDS = "own:"


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """What a step of a list that was begun uses up; the tasks it does."""

    machine_id: MachineId
    item: Consumable
    codes: tuple[TaskCode, ...]
    needed_on: date


@dataclass
class _Need:
    """What is needed of one part so far."""

    name: str
    quantity: int = 0
    needed_on: date | None = None
    machine_ids: dict[MachineId, None] = field(default_factory=dict[MachineId, None])
    codes: dict[TaskCode, None] = field(default_factory=dict[TaskCode, None])

    def add(self, quantity: int, day: date | None, machine_id: MachineId) -> None:
        self.quantity += quantity
        self.machine_ids[machine_id] = None
        if day is not None and (self.needed_on is None or day < self.needed_on):
            self.needed_on = day


def purchases(
    fleet: Sequence[tuple[Judging, PreSeason]],
    *,
    policy: Policy,
    on_shelf: Mapping[str, int],
    begun: Iterable[Listed] = (),
) -> tuple[Purchase, ...]:
    """What the coming season needs beyond what lies ready, by order-by day, then part.

    Need = consumables of every task that falls due until the season's end, those brought forward
    included, plus the kind's emergency spares, what open jobs wait for, and what the steps of
    lists that were `begun` use up. Of work done when worn only what is known to be needed counts:
    a look may find it good.
    Order-by day = first day needed - lead days - shelf days.
    `on_shelf`: pieces by part. `buy_by` None: nothing dates it.
    """
    needs: dict[str, _Need] = {}
    asked: set[tuple[MachineId, str]] = set()
    for judging, season in fleet:
        for verdict in _until_season_end(judging, season):
            task = judging.task(verdict.code)
            known = verdict.replacement and verdict.governed_by is not GovernedBy.NOTHING_KNOWN
            if not known and task.sort is not TaskSort.PREDETERMINED:
                continue
            for item in task.consumables:
                need = _need(needs, item)
                day = _needed_on(verdict, season)
                need.add(item.quantity, day, judging.facts.machine_id)
                need.codes[verdict.code] = None
                asked.add((judging.facts.machine_id, item.part))
        _add_jobs(needs, judging)
        for spare in judging.facts.kind.spares:
            day = season.start_by
            _need(needs, spare).add(spare.quantity, day, judging.facts.machine_id)
    there = {judging.facts.machine_id for judging, _season in fleet}
    for each in begun:
        if each.machine_id in there and (each.machine_id, each.item.part) not in asked:
            need = _need(needs, each.item)
            need.add(each.item.quantity, each.needed_on, each.machine_id)
            need.codes |= dict.fromkeys(each.codes)
    found = [
        Purchase(
            part=part,
            name=need.name,
            quantity=need.quantity - on_shelf.get(part, 0),
            buy_by=_buy_by(need.needed_on, policy),
            machine_ids=tuple(need.machine_ids),
            codes=tuple(need.codes),
        )
        for part, need in needs.items()
        if need.quantity > on_shelf.get(part, 0)
    ]
    return tuple(sorted(found, key=lambda found: (found.buy_by or date.max, found.part)))


def _add_jobs(needs: dict[str, _Need], judging: Judging) -> None:
    """The parts of open one-offs, each by the name it was given."""
    due = {verdict.job_id: verdict.due for verdict in judging.verdict.jobs}
    for job in judging.facts.jobs:
        if job.part and job.job_id in due:
            need = needs.setdefault(f"{OWN_WORDS}{job.part}", _Need(name=job.part))
            need.add(1, due[job.job_id], judging.facts.machine_id)


def _need(needs: dict[str, _Need], item: Consumable) -> _Need:
    return needs.setdefault(item.part, _Need(name=item.name))


def _until_season_end(judging: Judging, season: PreSeason) -> list[TaskVerdict]:
    if season.season is None:
        return list(season.tasks)
    last = season.season.last
    carried = {found.verdict.code for found in season.carried}
    return [
        verdict
        for verdict in judging.verdict.tasks
        if verdict.due is not None and (verdict.due <= last or verdict.code in carried)
    ]


def _needed_on(verdict: TaskVerdict, season: PreSeason) -> date | None:
    """Work of the pre-season list is started by its start day; later work on its own day."""
    on_list = {found.code for found in season.tasks} | {
        found.verdict.code for found in season.carried
    }
    if verdict.code in on_list and season.start_by is not None and verdict.due is not None:
        return min(verdict.due, season.start_by)
    return verdict.due


def _buy_by(needed_on: date | None, policy: Policy) -> date | None:
    if needed_on is None:
        return None
    return needed_on - timedelta(days=policy.lead_days + policy.shelf_days)
