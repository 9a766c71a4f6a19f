"""Putting a machine away: whether its season is over, what becomes of its fuel, what is to be done.

Rules: `was_that_the_last` asks once a season; `suggest_route` goes by what the machine burns, how
long it sleeps, its tank, and what its fuel is good for. Both schools of fuel are sound; which one
is taken first is our judgement, and the owner's to change.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from schedules.along import brought_along
from schedules.facts import (
    Band,
    FeatureCode,
    FuelSort,
    FuelUse,
    ItemSort,
    MachineFacts,
    MachineVerdict,
    Phase,
    Policy,
    Rule,
    Season,
    Shelter,
    StorageFacts,
    TaskCode,
    TaskState,
    VesselSort,
)
from schedules.intervals import is_storage_act
from schedules.plan import Judging, Limits, done_by_others, judge
from schedules.seasons import calendar_of, thirds, windows_of
from schedules.sitting import burns
from schedules.sitting_facts import Ask, FuelRoute, Ground

AGAIN_DAYS = 14
LEAST_USES = 4
GAPS = 2
SHORT_DAYS = 30
LONG_DAYS = 365
KEPT_READY = frozenset({"K15"})
ALKYLATES = frozenset({FuelSort.ALKYLATE, FuelSort.PREMIX_ALKYLATE})
UNDERNEATH = frozenset({"tipped", "on-stands", "blade-off", "deck-off"})
# From the best to the worst, for a machine with two tanks.
_BANDS = (
    Band.GOOD,
    Band.USE_FIRST,
    Band.LOOK_FIRST,
    Band.BURN,
    Band.DRAIN,
    Band.NOT_FOR_THIS,
)


# -- was that the last one? --------------------------------------------------------------------


class LastWhy(StrEnum):
    """Why it is asked."""

    LONG_GAP = "long_gap"
    SEASON_OVER = "season_over"


@dataclass(frozen=True, slots=True, kw_only=True)
class LastOne:
    """*Was that the last one?* `last_use` None: nobody wrote a use down this season."""

    why: LastWhy
    season: Season
    last_use: date | None
    days_since: int | None


def was_that_the_last(
    facts: MachineFacts, *, on: date, policy: Policy, not_yet: tuple[date, ...] = ()
) -> LastOne | None:
    """Whether to ask if that was the last use of the season.

    In the last third of the season, with at least four uses in it, when more days have gone by
    since the last one than twice the median gap; or after its last day. `not_yet`: the days on
    which that was the answer; it is asked again 14 days after the last one in this season. Not
    asked of a machine that sleeps, nor of one without a season.
    """
    windows = windows_of(facts.kind.windows, facts.own_windows, south=facts.south)
    calendar = calendar_of(windows, policy.gap_days)
    place = calendar.started(on.toordinal()) if calendar.has_seasons else -1
    if place < 0 or _sleeps(facts, on):
        return None
    season = calendar.season(place)
    answers = [day for day in not_yet if season.first <= day <= on]
    if answers and on < max(answers) + timedelta(days=AGAIN_DAYS):
        return None
    days = sorted({use.day for use in facts.uses if season.first <= use.day <= on})
    last = days[-1] if days else None
    since = None if last is None else (on - last).days
    if on > season.last:
        if facts.came_on > season.last or _slept_since(facts, season.first):
            return None
        return LastOne(why=LastWhy.SEASON_OVER, season=season, last_use=last, days_since=since)
    uses = sum(season.first <= use.day <= on for use in facts.uses)
    _middle, _end, last_third = thirds(season.first.toordinal(), season.last.toordinal())
    gap = median_gap(tuple(days))
    if on.toordinal() < last_third or uses < LEAST_USES or gap is None or since is None:
        return None
    if since <= GAPS * gap:
        return None
    return LastOne(why=LastWhy.LONG_GAP, season=season, last_use=last, days_since=since)


def median_gap(days: tuple[date, ...]) -> Fraction | None:
    """The median of the days between one day of use and the next; None with fewer than two."""
    gaps = sorted((later - day).days for day, later in pairwise(days))
    if not gaps:
        return None
    middle = len(gaps) // 2
    if len(gaps) % 2:
        return Fraction(gaps[middle])
    return Fraction(gaps[middle - 1] + gaps[middle], 2)


def _sleeps(facts: MachineFacts, on: date) -> bool:
    return any(
        spell.put_away_on <= on and (spell.woken_on is None or spell.woken_on > on)
        for spell in facts.storage
    )


def _slept_since(facts: MachineFacts, first: date) -> bool:
    """Put away in or after this season and not used since it was woken again."""
    spells = [spell for spell in facts.storage if spell.put_away_on >= first]
    woken = [spell.woken_on for spell in spells if spell.woken_on is not None]
    return bool(woken) and not any(use.day >= max(woken) for use in facts.uses)


# -- what becomes of the fuel ------------------------------------------------------------------


class RouteWhy(StrEnum):
    """Why a fuel route is suggested."""

    NO_ENGINE = "no_engine"
    SHORT_SLEEP = "short_sleep"
    HAS_TO_START = "has_to_start"
    TWO_STROKE = "two_stroke"
    BURNS_ALKYLATE = "burns_alkylate"
    LONG_SLEEP = "long_sleep"
    STEEL_TANK = "steel_tank"
    SHORT_SEASON = "short_season"
    FUEL_PAST_USE = "fuel_past_use"
    FLOAT_CARBURETTOR = "float_carburettor"


@dataclass(frozen=True, slots=True)
class RouteAdvice:
    """The route suggested and why; `others` are sound, too."""

    route: FuelRoute
    why: RouteWhy
    others: tuple[FuelRoute, ...] = ()


def suggest_route(facts: MachineFacts, *, sleep_days: int, band: Band | None = None) -> RouteAdvice:
    """What becomes of the fuel. Sound others are named, so that the owner's manual may decide."""
    use = burns(Ask(facts=facts))
    if use is FuelUse.NONE:
        return RouteAdvice(FuelRoute.NONE, RouteWhy.NO_ENGINE)
    empty, full = FuelRoute.RUN_EMPTY, FuelRoute.FULL_TREATED
    if use is FuelUse.TWO_STROKE:
        sorts = {lot.sort for vessel in facts.vessels for lot in vessel.lots}
        if sleep_days < SHORT_DAYS:
            return RouteAdvice(FuelRoute.NONE, RouteWhy.SHORT_SLEEP, (empty,))
        if sorts and sorts <= ALKYLATES:
            return RouteAdvice(FuelRoute.ALKYLATE_WET, RouteWhy.BURNS_ALKYLATE, (empty,))
        return RouteAdvice(empty, RouteWhy.TWO_STROKE, (FuelRoute.ALKYLATE_WET,))
    if facts.kind.code in KEPT_READY:
        return RouteAdvice(FuelRoute.KEEP_READY, RouteWhy.HAS_TO_START, (empty, full))
    if sleep_days < SHORT_DAYS:
        return RouteAdvice(FuelRoute.NONE, RouteWhy.SHORT_SLEEP, (full, empty))
    if sleep_days > LONG_DAYS:
        return RouteAdvice(empty, RouteWhy.LONG_SLEEP)
    if band in (Band.DRAIN, Band.NOT_FOR_THIS):
        return RouteAdvice(empty, RouteWhy.FUEL_PAST_USE, (full,))
    if dict(facts.features).get(FeatureCode("tank")) == "steel":
        return RouteAdvice(full, RouteWhy.STEEL_TANK, (empty,))
    if sleep_days <= 3 * SHORT_DAYS:
        return RouteAdvice(full, RouteWhy.SHORT_SEASON, (empty,))
    return RouteAdvice(empty, RouteWhy.FLOAT_CARBURETTOR, (full,))


def worst_band(verdict: MachineVerdict) -> Band | None:
    """What the fuel in the machine's tanks is good for; None when there is none."""
    bands = [vessel.band for vessel in verdict.fuel if vessel.sort is VesselSort.TANK]
    return max(bands, key=_BANDS.index) if bands else None


def grounds_of(shelter: Shelter, *, damp: bool = False) -> frozenset[Ground]:
    """What the place does to what sleeps in it: a garage is held above freezing."""
    found = {Ground.DAMP} if damp else set[Ground]()
    if shelter is Shelter.INDOOR:
        found.add(Ground.HEATED)
    if shelter is Shelter.SHED:
        found.add(Ground.FROST)
    return frozenset(found)


# -- what is to be done ------------------------------------------------------------------------


def eve_of_next(facts: MachineFacts, *, on: date, policy: Policy) -> date | None:
    """The day before the first season that starts after `on`; None without a season."""
    windows = windows_of(facts.kind.windows, facts.own_windows, south=facts.south)
    calendar = calendar_of(windows, policy.gap_days)
    if not calendar.has_seasons:
        return None
    place = calendar.started(on.toordinal()) + 1
    return date.fromordinal(calendar.firsts[place] - 1)


def ask_to_put_away(
    facts: MachineFacts,
    *,
    on: date,
    policy: Policy,
    limits: Limits,
    until: date | None = None,
    route: FuelRoute | None = None,
    grounds: frozenset[Ground] = frozenset(),
) -> Ask:
    """The machine with the work that belongs to putting it away on that day.

    What its seasons end with and is not done yet, and what has to be done underneath before the
    next one, since it is tipped anyway. `until` None: the eve of its next season.
    """
    until = until or eve_of_next(facts, on=on, policy=policy)
    days = 2 * LONG_DAYS if until is None else (until - on).days + 1
    spell = StorageFacts(put_away_on=on, planned_last=until)
    asleep = replace(facts, storage=(*facts.storage, spell))
    judging = judge(asleep, on=on, policy=policy, limits=limits)
    band = worst_band(judging.verdict)
    if route is None:
        route = suggest_route(facts, sleep_days=days, band=band).route
    tasks = _to_do(judging, on=on, until=until or on, policy=policy)
    return Ask(
        facts=facts,
        tasks=frozenset(tasks),
        full=frozenset(
            verdict.code
            for verdict in judging.verdict.tasks
            if verdict.code in tasks and verdict.replacement
        ),
        route=route,
        until=until,
        sleep_days=days,
        grounds=grounds,
        band=band,
        again=_went_out_again(facts, on, policy),
    )


def _went_out_again(facts: MachineFacts, on: date, policy: Policy) -> bool:
    """A late snowfall: put away so shortly before that what does not wear off still holds."""
    last = max((one.put_away_on for one in facts.storage), default=None)
    return last is not None and (on - last).days <= policy.repeat_days


def _undone(rule: Rule, done: date | None, woken: date) -> bool:
    """Whether getting it out undid the work, used or not: oil in the cylinder, a pump against
    frost, a battery alone. What was done since then holds."""
    return is_storage_act(rule) and done is not None and done <= woken


def _to_do(judging: Judging, *, on: date, until: date, policy: Policy) -> set[TaskCode]:
    soon = max(on + timedelta(days=policy.coming_days), until)
    woken = max((day for one in judging.facts.storage if (day := one.woken_on)), default=None)
    found: set[TaskCode] = set()
    for verdict in judging.verdict.tasks:
        task = judging.task(verdict.code)
        is_near = verdict.due is not None and verdict.due <= soon
        undone = woken is not None and _undone(task.rule, verdict.anchor, woken)
        if not (is_near or undone or verdict.state is TaskState.NOT_KNOWN):
            continue
        at_the_end = Phase.END in task.rule.phases
        opened = task.opening in UNDERNEATH or (
            task.opening == "pack-out" and task.item is ItemSort.MACHINE
        )
        underneath = opened and not task.workshop and not task.rule.on_fault
        if at_the_end or (underneath and not task.rule.each_use):
            found.add(verdict.code)
    found |= brought_along(judging, found)
    return found - done_by_others(judging, found)
