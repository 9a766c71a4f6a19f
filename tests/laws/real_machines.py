"""Machines of the shipped kinds, as the facts of a file would say them, without a file."""

from __future__ import annotations

import random
from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction

from resources.loader import load_catalogue
from schedules.facts import (
    Doing,
    FeatureCode,
    HoursFacts,
    ItemFacts,
    ItemId,
    ItemSort,
    KindCode,
    MachineFacts,
    MachineId,
    Past,
    TaskCode,
    UseFacts,
)

CAME = date(2019, 5, 1)


def real_machine(
    kind: str,
    *,
    number: int = 1,
    name: str = "",
    features: Mapping[str, str] | None = None,
    done: Mapping[str, date] | None = None,
    past: Past = Past.NEW,
    came_on: date = CAME,
    uses: tuple[date, ...] = (),
    south: bool = False,
) -> MachineFacts:
    """A machine of a shipped kind; `done`: the last doing of some of its tasks."""
    catalogue = load_catalogue()
    facts = catalogue.kinds[KindCode(kind)]
    item = ItemFacts(
        item_id=ItemId(number),
        sort=ItemSort.MACHINE,
        came_on=came_on,
        past=past,
        hours=HoursFacts(
            at_start=0,
            year_seconds=facts.year_seconds,
            month_shares=(Fraction(1, 12),) * 12,
        ),
        tasks=facts.tasks,
        doings=tuple(Doing(code=TaskCode(code), day=day) for code, day in (done or {}).items()),
    )
    return MachineFacts(
        machine_id=MachineId(number),
        name=name or facts.name,
        kind=facts,
        place="shed",
        south=south,
        came_on=came_on,
        past=past,
        items=(item,),
        uses=tuple(UseFacts(day=day, seconds=facts.use_seconds) for day in uses),
        features=tuple((FeatureCode(code), value) for code, value in (features or {}).items()),
    )


def any_machine(chance: random.Random, number: int, on: date) -> MachineFacts:
    """A machine of any kind, with some questions answered and some of its work done."""
    catalogue = load_catalogue()
    kind = chance.choice(sorted(catalogue.kinds))
    facts = catalogue.kinds[kind]
    features = {
        str(code): chance.choice(catalogue.features[code].values)[0]
        for code in facts.features
        if chance.random() < 0.7
    }
    share = chance.random() * 0.7
    done = {
        str(task.code): on - timedelta(days=chance.randrange(500))
        for task in facts.tasks
        if chance.random() < share
    }
    past = chance.choice((Past.NEW, Past.UNKNOWN))
    return real_machine(str(kind), number=number, features=features, done=done, past=past)
