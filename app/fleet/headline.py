"""The sentence on top: how the shed stands, what it needs first, what to order, which fuel is old.

Words only; every figure comes from the engine.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from app.fleet.names import plain_name
from app.wording.languages import msg
from app.wording.numbers import written
from app.wording.wording import Wording
from schedules.facts import Band, MachineState, Purchase, VesselVerdict

NEAR_DAYS = 90
"""A season further off is nothing to hurry for."""
WEEKDAY_DAYS = 7
MOST_NAMED = 3
_SEASONS = {
    "snow": msg("the snow"),
    "lawn": msg("the mowing"),
    "blower": msg("the leaves"),
    "tiller": msg("the beds"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What the sentence on top needs to know of one machine. `shape`: what it works in;
    `going_over`: what is left of the first going-over."""

    name: str
    state: MachineState
    minutes: int
    season_first: date | None
    start_by: date | None
    buys: tuple[Purchase, ...]
    wanted: int
    shape: str = ""
    going_over: int = 0
    put_away: bool = False


def headline(
    summaries: Sequence[Summary],
    cans: Iterable[VesselVerdict],
    shelf: Mapping[str, int],
    *,
    on: date,
    words: Wording,
) -> str:
    """How the machines stand, in one sentence."""
    if not summaries:
        return words.text(msg("There is no machine here yet."))
    first = _needy(summaries, on)
    said = [
        _ready(summaries, first, words),
        _down(summaries, words),
        _needs(first, summaries, on, words),
        _order(summaries, first, shelf, on, words),
        _cans(cans, words),
    ]
    whole = "; ".join(part for part in said if part)
    return f"{whole[:1].upper()}{whole[1:]}."


def _needy(summaries: Sequence[Summary], on: date) -> Summary | None:
    """The machine whose season is nearest and whose list is longest."""
    near = [
        one
        for one in summaries
        if one.minutes and one.season_first and (one.season_first - on).days <= NEAR_DAYS
    ]
    return min(
        near, key=lambda one: (one.season_first or date.max, -one.minutes, one.name), default=None
    )


def _ready(summaries: Sequence[Summary], first: Summary | None, words: Wording) -> str:
    fit = [one for one in summaries if one.state is MachineState.FIT]
    away = sum(one.put_away for one in summaries)
    alike = [one for one in fit if first is not None and one.shape == first.shape]
    if first is not None and alike and first.shape in _SEASONS:
        said = words.count(
            msg("{n} machine is ready for {season}"),
            msg("{n} machines are ready for {season}"),
            len(alike),
            season=words.text(_SEASONS[first.shape]),
        )
    elif len(fit) == len(summaries):
        said = words.count(
            msg("the one machine is ready"), msg("all {n} machines are ready"), len(fit)
        )
    else:
        said = words.text(msg("{n} of {all} machines ready"), n=len(fit), all=len(summaries))
    if away:
        said += words.text(msg(", {n} put away"), n=away)
    return said


def _down(summaries: Sequence[Summary], words: Wording) -> str:
    down = [plain_name(one.name) for one in summaries if one.state is MachineState.DOWN]
    if not down:
        return ""
    names = words.listed(_few(down, words))
    return words.count(
        msg("{names} is out of order"), msg("{names} are out of order"), len(down), names=names
    )


def _few(names: list[str], words: Wording) -> list[str]:
    if len(names) <= MOST_NAMED:
        return names
    more = len(names) - MOST_NAMED
    return [*names[:MOST_NAMED], words.count(msg("{n} more"), msg("{n} more"), more)]


def _needs(first: Summary | None, summaries: Sequence[Summary], on: date, words: Wording) -> str:
    if first is not None and first.season_first is not None:
        return words.text(
            msg("{machine} needs {minutes} before {day}"),
            machine=plain_name(first.name),
            minutes=words.minutes(first.minutes),
            day=near_day(first.season_first, on, words),
        )
    busiest = max(
        (one for one in summaries if one.wanted and not one.put_away),
        key=lambda one: one.wanted,
        default=None,
    )
    if busiest is None:
        return ""
    if busiest.going_over:
        return words.count(
            msg("{machine} waits for its first going-over, {n} thing"),
            msg("{machine} waits for its first going-over, {n} things"),
            busiest.going_over,
            machine=plain_name(busiest.name),
        )
    return words.count(
        msg("{machine} waits for {n} thing"),
        msg("{machine} waits for {n} things"),
        busiest.wanted,
        machine=plain_name(busiest.name),
    )


def _order(
    summaries: Sequence[Summary],
    first: Summary | None,
    shelf: Mapping[str, int],
    on: date,
    words: Wording,
) -> str:
    """The parts to order first: what the whole household needs beyond its shelf."""
    wanted: Counter[str] = Counter()
    for one in summaries:
        for buy in one.buys:
            wanted[buy.part] += buy.quantity
    short = {part for part, quantity in wanted.items() if quantity > shelf.get(part, 0)}
    buys = [
        (buy.buy_by, buy, one)
        for one in summaries
        for buy in one.buys
        if buy.buy_by is not None and buy.part in short
    ]
    if not buys:
        return ""
    day = min(by for by, _, _ in buys)
    until = max(day, on)  # what should have been ordered long ago and what is to be today: now
    nearest = [found for found in buys if found[0] <= until]
    first_days: dict[str, tuple[date, str]] = {}
    for by, buy, _ in nearest:
        first_days[buy.part] = min(first_days.get(buy.part, (by, buy.name)), (by, buy.name))
    order = sorted(first_days, key=lambda part: (first_days[part][0], part))
    parts = [words.text(first_days[part][1]) for part in order]
    shown = words.listed(_few(parts, words))
    its = first is not None and all(one is first for _, _, one in nearest)
    if day <= on:
        said = msg("order its {parts} now") if its else msg("order {parts} now")
        return words.text(said, parts=shown)
    said = msg("order its {parts} by {day}") if its else msg("order {parts} by {day}")
    return words.text(said, parts=shown, day=near_day(day, on, words))


def _cans(cans: Iterable[VesselVerdict], words: Wording) -> str:
    old = [can for can in cans if can.volume_ul and can.band in (Band.BURN, Band.DRAIN)]
    if not old:
        return ""
    old.sort(key=lambda can: (can.band is not Band.DRAIN, can.name))
    first = old[0]
    said = msg("the fuel in “{can}” is too old to store")
    if first.band is Band.DRAIN:
        said = msg("the fuel in “{can}” is past using")
    return words.text(said, can=plain_name(first.name))


def near_day(day: date, on: date, words: Wording) -> str:
    """A day as one says it: with its weekday when it is near, with its year when it is far."""
    days = (day - on).days
    if 0 < days < WEEKDAY_DAYS:
        return written(day, "EEEE", words.language)
    return words.day_short(day) if abs(days) < 300 else words.day(day)
