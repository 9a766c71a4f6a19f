"""How old the parts are that fault models ask about: years, or hours since they were seen to."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from schedules.facts import (
    FuelSort,
    ItemFacts,
    ItemSort,
    MachineFacts,
    Past,
    TaskCode,
    VesselSort,
)
from schedules.fault_state import Record
from schedules.plan import Judging

HOUR = 3600
YEAR_DAYS = 365
ALKYLATE = (FuelSort.ALKYLATE, FuelSort.PREMIX_ALKYLATE)
# Tasks by their codes in the catalogue. A belt or a set of paddles is only ever looked at by them
# unless they say that it was renewed; sharpening is done each time.
BELTS = ("S1-03", "S2-08", "SE-01", "MW-07", "RD-04")
PADDLES = ("S1-01",)
SHARPENED = ("MW-01", "RD-01")
PINS = "S2-01"
# Longer ago than this is another season; our judgement.
SEASON_DAYS = 183
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
    pins = _pins_renewed(judging, on)
    if pins:
        found["pins_used_this_season"] = float(pins)
    if _burns_alkylate_only(judging.facts):
        found["alkylate_only"] = "yes"
    return found


def _pins_renewed(judging: Judging, on: date) -> int:
    """How many times shear pins were renewed since it was got out, or in the last half year."""
    woken = [one.woken_on for one in judging.facts.storage if one.woken_on and one.woken_on <= on]
    since = max([on - timedelta(days=SEASON_DAYS), *woken])
    return len(
        {
            doing.day
            for item in judging.facts.items
            for doing in item.doings
            if doing.code == PINS and doing.replaced and since <= doing.day <= on
        }
    )


def _burns_alkylate_only(facts: MachineFacts) -> bool:
    lots = [
        lot
        for vessel in facts.vessels
        if vessel.sort is VesselSort.TANK and vessel.machine_id == facts.machine_id
        for lot in vessel.lots
    ]
    return bool(lots) and all(lot.sort in ALKYLATE for lot in lots)


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
