"""How old the parts are that fault models ask about: years, or hours since they were seen to."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from schedules.facts import ItemFacts, ItemSort, Past, TaskCode
from schedules.fault_state import Record
from schedules.plan import Judging

HOUR = 3600
YEAR_DAYS = 365
# Tasks by their codes in the catalogue. A belt or a set of paddles is only ever looked at by them
# unless they say that it was renewed; sharpening is done each time.
BELTS = ("S1-03", "S2-08", "SE-01", "MW-07", "RD-04")
PADDLES = ("S1-01",)
SHARPENED = ("MW-01", "RD-01")
UNITS = {"battery_years": ItemSort.STARTER_BATTERY, "pack_years": ItemSort.PACK}


def parts_known(judging: Judging, *, on: date) -> dict[str, Record]:
    """Years of belt, battery and pack, hours of paddles and edge; what nobody knows is left out."""
    found: dict[str, Record] = {}
    belt = _since(judging, BELTS, on, renewed=True)
    if belt is not None:
        found["belt_years"] = _years(belt, on)
    for subject, sort in UNITS.items():
        units = [one for one in judging.facts.items if one.sort is sort]
        # Of several packs nobody says which one was in it: the oldest speaks, if all are known.
        if units and all(_was_new(one, on) for one in units):
            found[subject] = _years(min(one.came_on for one in units), on)
    for subject, codes, renewed in (
        ("rotor_hours", PADDLES, True),
        ("hours_since_sharpening", SHARPENED, False),
    ):
        hours = _hours(judging, codes, on, renewed=renewed)
        if hours is not None:
            found[subject] = hours
    return found


def _was_new(item: ItemFacts, on: date) -> bool:
    return item.past is Past.NEW and item.came_on <= on


def _years(since: date, on: date) -> float:
    return float(Fraction((on - since).days, YEAR_DAYS))


def _since(judging: Judging, codes: tuple[str, ...], on: date, *, renewed: bool) -> date | None:
    """The day the part was last seen to, else the day the machine came new; None: not known."""
    days = [
        doing.day
        for item in judging.facts.items
        for doing in item.doings
        if doing.code in codes
        and doing.day <= on
        and not doing.assumed
        and (doing.replaced or not renewed)
    ]
    if days:
        return max(days)
    has_it = any(task.code in codes for item in judging.facts.items for task in item.tasks)
    is_new = _was_new(judging.facts.items[0], on)
    return judging.facts.items[0].came_on if has_it and is_new else None


def _hours(judging: Judging, codes: tuple[str, ...], on: date, *, renewed: bool) -> float | None:
    since = _since(judging, codes, on, renewed=renewed)
    if since is None:
        return None
    item = next(one for one in judging.items if any(TaskCode(code) in one.tasks for code in codes))
    return float(item.timeline.run(since.toordinal(), on.toordinal()) / HOUR)
