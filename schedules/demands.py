"""How much each machine will burn in the weeks to come, reckoned from its expected hours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction

from schedules.consumption import burnt_ul
from schedules.facts import FuelUse, ItemSort, KindCode, MachineFacts, VesselFacts, VesselSort
from schedules.hours import Timeline
from schedules.plan import Judging
from schedules.rations import Demand

WEEKS = 26
_WEEK = 7

# Microlitres an hour. Our judgement: a common engine of each kind at its usual load, by the
# equation and the figures of the US EPA for nonroad engines; no figure is published for throwers.
_UL_AN_HOUR: Mapping[str, int] = {
    "K01": 900_000,
    "K02": 1_600_000,
    "K04": 800_000,
    "K05": 2_200_000,
    "K07": 460_000,
    "K08": 460_000,
    "K09": 800_000,
    "K11": 700_000,
    "K12": 400_000,
    "K13": 950_000,
    "K14": 1_300_000,
    "K15": 1_900_000,
    "K16": 1_300_000,
    "K17": 1_600_000,
    "K18": 1_300_000,
}
_OTHER_UL_AN_HOUR = 1_000_000


def ul_an_hour_of(kind: KindCode) -> int:
    """What a machine of that kind burns in an hour, in microlitres. Our judgement."""
    return _UL_AN_HOUR.get(kind, _OTHER_UL_AN_HOUR)


def tank_of(facts: MachineFacts) -> VesselFacts | None:
    """The tank a machine burns from; None when it burns nothing."""
    tanks = (each for each in facts.vessels if each.sort is VesselSort.TANK)
    return next((tank for tank in tanks if tank.burns is not FuelUse.NONE), None)


def demands_of(judging: Judging, *, on: date, weeks: int = WEEKS) -> tuple[Demand, ...]:
    """What will be burnt from its tank in each of the coming weeks, at the middle of the week, by
    the hours it is expected to run. Amounts too small to pour are left out."""
    tank = tank_of(judging.facts)
    if tank is None:
        return ()
    timeline = _timeline(judging)
    an_hour = Fraction(ul_an_hour_of(judging.facts.kind.code))
    today = on.toordinal()
    found: list[Demand] = []
    for week in range(weeks):
        after = today + week * _WEEK
        volume = burnt_ul(int(timeline.run(after, after + _WEEK)), an_hour)
        if volume >= _LEAST_UL:
            day = date.fromordinal(after + _WEEK // 2)
            found.append(Demand(vessel_id=tank.vessel_id, day=day, volume_ul=volume))
    return tuple(found)


def reckoned_ul(judging: Judging, *, after: date, upto: date) -> int:
    """What it burnt in the days after one up to and including another, by its hours."""
    seconds = int(_timeline(judging).run(after.toordinal(), max(after, upto).toordinal()))
    return burnt_ul(seconds, Fraction(ul_an_hour_of(judging.facts.kind.code)))


def _timeline(judging: Judging) -> Timeline:
    items = judging.items
    engines = (item.timeline for item in items if item.facts.sort is ItemSort.ENGINE)
    return next(engines, items[0].timeline)


_LEAST_UL = 1000


def all_demands(fleet: Iterable[Judging], *, on: date) -> tuple[Demand, ...]:
    """Of every machine of the household."""
    return tuple(demand for judging in fleet for demand in demands_of(judging, on=on))
