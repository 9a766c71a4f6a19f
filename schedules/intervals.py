"""When a task is due: each part of its rule makes a candidate day; the earliest governs.

Candidates are computed apart, then sent through *rest* (work for use cannot be asked for while
the machine stands still). Ties go in the order reading, hours, uses, nth, season, months. Days
are ordinals inside. Unknown stays unknown: a task never done on a thing whose past nobody knows
has no anchor and says so.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from schedules.almanac import Almanac, Slot, Span, covering
from schedules.facts import (
    Direction,
    Doing,
    GovernedBy,
    ItemFacts,
    LimitCode,
    LimitFacts,
    LimitReading,
    Past,
    Phase,
    Rule,
    TaskCode,
    TaskFacts,
)
from schedules.hours import Timeline
from schedules.lives import Lives, lives_of
from schedules.months import add_months
from schedules.seasons import FOREVER
from schedules.series import Foreseen, foresee

_ORDER = {
    GovernedBy.READING: 0,
    GovernedBy.HOURS: 1,
    GovernedBy.USES: 2,
    GovernedBy.NTH: 3,
    GovernedBy.SEASON: 4,
    GovernedBy.MONTHS: 5,
}
_FLOOR = Fraction(1, 4)
_YEAR = 12


@dataclass(frozen=True, slots=True)
class Anchor:
    """The last doing of a task: its day, and how it was done."""

    day: int
    replaced: bool = False
    assumed: bool = False
    purchase: bool = False
    other: TaskCode | None = None


@dataclass(frozen=True, slots=True)
class Candidate:
    """A day a task could be due, because of what. `asked`: the day before rest moved it."""

    day: int | None
    governed_by: GovernedBy
    asked: int
    limit: LimitCode | None = None
    slot: Slot | None = None
    months: int | None = None
    vessel: str = ""
    rest: Span | None = None
    forecast: bool = False


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the rule of one task comes to, for one forecast."""

    day: int | None
    governed_by: GovernedBy
    candidates: tuple[Candidate, ...]
    governing: Candidate | None = None


@dataclass(frozen=True, slots=True)
class FuelDay:
    """The day the fuel in a tank becomes *burn*, and which tank."""

    day: int
    vessel: str


class Item:
    """One thing of a machine with its tasks: anchors, intervals, and the days they come to."""

    def __init__(
        self,
        *,
        facts: ItemFacts,
        tasks: tuple[TaskFacts, ...],
        almanac: Almanac,
        timeline: Timeline,
        use_seconds: int,
        limits: Mapping[LimitCode, LimitFacts],
    ) -> None:
        self.facts = facts
        self.tasks = {task.code: task for task in tasks}
        self.almanac = almanac
        self.timeline = timeline
        self.use_seconds = use_seconds
        self.limits = limits
        self.readings = tuple(
            reading
            for reading in sorted(facts.readings, key=lambda reading: reading.day)
            if reading.day.toordinal() <= almanac.today
        )
        self.forecasts = facts.forecasts
        self.foreseen: dict[tuple[TaskCode, LimitCode], Foreseen | None] = {}


def interval_factor(task: TaskFacts, duties: frozenset[str]) -> Fraction:
    """Product of the duty factors that apply: not below a quarter, never above one."""
    factor = Fraction(1)
    for duty, share in task.duties:
        if duty in duties:
            factor *= share
    return min(Fraction(1), max(_FLOOR, factor))


def is_past(limit: LimitFacts, reading: LimitReading) -> bool | None:
    """Whether the reading means work; None when it says nothing (no amount, or no figure set).

    A limit reached is past *at most* and *at least*, inside *between*; an event is past when it
    was seen.
    """
    if limit.direction is Direction.EVENT:
        return reading.seen
    amount, low, high = reading.amount, limit.low, limit.high
    if amount is None:
        return None
    if limit.direction is Direction.AT_LEAST:
        return None if low is None else amount <= low
    if limit.direction is Direction.AT_MOST:
        return None if high is None else amount >= high
    if low is None and high is None:
        return None
    return (low is not None and amount < low) or (high is not None and amount > high)


# -- doings and anchors -----------------------------------------------------------------------


def is_storage_act_only(rule: Rule) -> bool:
    """Whether the rule is *end* without months and nothing else."""
    return (
        rule.phases == (Phase.END,)
        and not needs_no_anchor(rule)
        and rule.months is None
        and rule.run_seconds is None
        and rule.first_seconds is None
        and rule.uses is None
        and rule.nth_of is None
        and not rule.limits
    )


def is_storage_act(rule: Rule) -> bool:
    """Whether the work is for the rest to come: *end* without months."""
    return Phase.END in rule.phases and rule.months is None and Phase.BEFORE not in rule.phases


def is_undated(rule: Rule) -> bool:
    """Whether no part of the rule can ever give a day."""
    return (
        rule.run_seconds is None
        and rule.first_seconds is None
        and rule.months is None
        and not rule.phases
        and rule.uses is None
        and rule.nth_of is None
        and not rule.limits
        and not rule.fuel_age
    )


def needs_no_anchor(rule: Rule) -> bool:
    """Whether a task never done is not *not known*: each use, on sight, on fault, fuel age."""
    return rule.each_use or rule.on_sight or rule.on_fault or rule.fuel_age


class Doings:
    """The doings of every task of a machine, those by way of other tasks included."""

    def __init__(self, items: tuple[Item, ...]) -> None:
        self._days: dict[TaskCode, dict[int, Anchor]] = {}
        # A task that no longer stands was done all the same, and so was what it includes.
        tasks = {task.code: task for item in items for task in item.facts.tasks}
        for item in items:
            for doing in item.facts.doings:
                day = doing.day.toordinal()
                if day <= item.almanac.today:
                    self._count(tasks, doing, day)
            for reading in item.readings:
                limit = item.limits.get(reading.limit)
                if limit is not None and is_past(limit, reading) is False:
                    doing = Doing(code=reading.code, day=reading.day)
                    self._count(tasks, doing, reading.day.toordinal(), measured=limit.code)

    def _count(
        self,
        tasks: Mapping[TaskCode, TaskFacts],
        doing: Doing,
        day: int,
        *,
        measured: LimitCode | None = None,
    ) -> None:
        """A measurement moves no other task's anchor that has the same limit."""
        task = tasks.get(doing.code)
        replaced = doing.replaced or (task is not None and task.replaces and measured is None)
        anchor = Anchor(day=day, replaced=replaced, assumed=doing.assumed)
        self._put(doing.code, anchor)
        seen = {doing.code}
        waiting = list(task.includes) if task is not None else []
        while waiting:
            code = waiting.pop()
            if code in seen:
                continue
            seen.add(code)
            included = tasks.get(code)
            if measured is None or included is None or measured not in included.rule.limits:
                self._put(code, Anchor(day, replaced, doing.assumed, other=doing.code))
            waiting.extend(included.includes if included is not None else ())

    def _put(self, code: TaskCode, anchor: Anchor) -> None:
        days = self._days.setdefault(code, {})
        before = days.get(anchor.day)
        if before is not None:
            anchor = Anchor(
                day=anchor.day,
                replaced=anchor.replaced or before.replaced,
                assumed=anchor.assumed and before.assumed,
                other=None if before.other is None or anchor.other is None else anchor.other,
            )
        days[anchor.day] = anchor

    def last(self, code: TaskCode) -> Anchor | None:
        """The last doing of the task; None when there is none."""
        days = self._days.get(code)
        return days[max(days)] if days else None

    def only_passed_over(self, code: TaskCode) -> bool:
        """Whether the task was done, but only ever by being passed over."""
        days = self._days.get(code)
        return bool(days) and all(anchor.assumed for anchor in days.values())

    def renewed(self, code: TaskCode) -> list[int]:
        """The days on which the task's part was renewed."""
        return [day for day, anchor in self._days.get(code, {}).items() if anchor.replaced]

    def days_after(self, code: TaskCode, day: int) -> list[int]:
        """The days after `day` on which the task was done, oldest first."""
        return sorted(done for done in self._days.get(code, ()) if done > day)


def anchor_of(item: Item, task: TaskFacts, doings: Doings) -> Anchor | None:
    """The last doing; for a thing that came new (or a pure storage act) the day it came; else
    None: nothing known."""
    last = doings.last(task.code)
    if last is not None:
        return last
    if item.facts.past is Past.NEW or is_storage_act_only(task.rule):
        return Anchor(item.facts.came_on.toordinal(), purchase=True)
    return None


# -- candidates -------------------------------------------------------------------------------


class Reckoner:
    """Reckons the outcome of each task of a machine, for one forecast, once."""

    def __init__(
        self,
        *,
        items: tuple[Item, ...],
        duties: frozenset[str],
        doings: Doings,
        fuel: FuelDay | None,
        halves: int,
    ) -> None:
        self.items = items
        self.duties = duties
        self.doings = doings
        self.fuel = fuel
        self.halves = halves
        self._home = {code: item for item in items for code in item.tasks}
        self._known: dict[TaskCode, Outcome] = {}

    def lives(self, code: TaskCode) -> Lives | None:
        """How long the parts of a task lasted that were renewed; None before the first."""
        item = self._home[code]
        renewed = sorted(self.doings.renewed(code))
        new = item.facts.past is Past.NEW
        began = item.facts.came_on.toordinal() if new else None
        days = [*([] if began is None else [began]), *renewed]
        return lives_of(renewed, [item.timeline.total(day) for day in days], began)

    def home(self, code: TaskCode) -> Item:
        """The thing the task hangs on. Raises KeyError for a task that does not stand."""
        return self._home[code]

    def outcome(self, code: TaskCode) -> Outcome:
        """What the task's rule comes to."""
        known = self._known.get(code)
        if known is None:
            item = self._home[code]
            known = self._reckon(item, item.tasks[code])
            self._known[code] = known
        return known

    def _reckon(self, item: Item, task: TaskFacts) -> Outcome:
        rule = task.rule
        rests = rests_for(item.almanac, rule)
        anchor = anchor_of(item, task, self.doings)
        if anchor is None and not needs_no_anchor(rule) and not is_undated(rule):
            return self._not_known(item, rests)
        found = self._candidates(item, task, anchor)
        rested = [rest(candidate, rests, item.almanac.today) for candidate in found]
        return _outcome(rested, resting=item.almanac.resting(rests))

    def _not_known(self, item: Item, rests: tuple[Span, ...]) -> Outcome:
        today = item.almanac.today
        asked = Candidate(today, GovernedBy.NOTHING_KNOWN, today)
        candidate = rest(asked, rests, today)
        return Outcome(candidate.day, GovernedBy.NOTHING_KNOWN, (candidate,), candidate)

    def _candidates(self, item: Item, task: TaskFacts, anchor: Anchor | None) -> list[Candidate]:
        found: list[Candidate] = []
        rule = task.rule
        if rule.fuel_age and self.fuel is not None:
            day = self.fuel.day
            found.append(Candidate(day, GovernedBy.READING, day, vessel=self.fuel.vessel))
        # Work on sight needs no doing before it: every reading counts until there is one.
        found.extend(self._by_limit(item, task, anchor or Anchor(0)))
        if anchor is None:
            return found
        counted = (
            self._by_hours(item, task, anchor),
            self._by_uses(item, task, anchor),
            self._by_nth(rule, anchor),
        )
        found.extend(candidate for candidate in counted if candidate is not None)
        found.extend(by_calendar(item, rule, anchor))
        return found

    def _by_limit(self, item: Item, task: TaskFacts, anchor: Anchor) -> list[Candidate]:
        found: list[Candidate] = []
        for code in task.rule.limits:
            limit = item.limits.get(code)
            if limit is None:
                continue
            since = past_since(limit, readings_since(item, task, limit, anchor))
            if since is not None:
                found.append(Candidate(since, GovernedBy.READING, since, limit=code))
                continue
            day = self._plan_by(item, task, limit)
            if day is not None:
                found.append(Candidate(day, GovernedBy.READING, day, limit=code, forecast=True))
        return found

    def _plan_by(self, item: Item, task: TaskFacts, limit: LimitFacts) -> int | None:
        """The day by which to plan the renewal: as it was given, else as the readings foresee."""
        for forecast in item.forecasts:
            if forecast.code == task.code and forecast.limit == limit.code:
                return forecast.plan_by.toordinal()
        key = (task.code, limit.code)
        if key not in item.foreseen:
            item.foreseen[key] = foresee(
                item.readings,
                task,
                limit,
                renewed=self.doings.renewed(task.code),
                timeline=item.timeline,
            )
        found = item.foreseen[key]
        return None if found is None or found.plan_by is None else found.plan_by.toordinal()

    def _by_hours(self, item: Item, task: TaskFacts, anchor: Anchor) -> Candidate | None:
        point = hours_point(item, task, anchor, self.duties, self.halves)
        if point is None:
            return None
        day = item.timeline.reaches(point, anchor.day, self.halves)
        return None if day is None else Candidate(day, GovernedBy.HOURS, day)

    def _by_uses(self, item: Item, task: TaskFacts, anchor: Anchor) -> Candidate | None:
        count = uses_due(task, self.duties)
        if count is None:
            return None
        day = use_reached(item, anchor.day, count, self.halves)
        return None if day is None else Candidate(day, GovernedBy.USES, day)

    def _by_nth(self, rule: Rule, anchor: Anchor) -> Candidate | None:
        if rule.nth_of is None:
            return None
        done = self.doings.days_after(rule.nth_of.code, anchor.day)
        if len(done) >= rule.nth_of.n:
            day: int | None = done[rule.nth_of.n - 1]
        elif len(done) == rule.nth_of.n - 1 and rule.nth_of.code in self._home:
            day = self.outcome(rule.nth_of.code).day
            day = None if day is None else max(day, anchor.day)
        else:
            day = None
        return None if day is None else Candidate(day, GovernedBy.NTH, day)


def hours_point(
    item: Item, task: TaskFacts, anchor: Anchor, duties: frozenset[str], halves: int
) -> Fraction | None:
    """Total seconds at which the task is due by hours; None when hours do not count."""
    interval = hours_interval(task, anchor, duties)
    if interval is None:
        return None
    return item.timeline.total(anchor.day, halves) + interval


def hours_interval(task: TaskFacts, anchor: Anchor, duties: frozenset[str]) -> Fraction | None:
    """Seconds from the anchor: the first interval, unscaled, after a purchase or replacement."""
    rule = task.rule
    if rule.first_seconds is not None and (anchor.purchase or anchor.replaced):
        return Fraction(rule.first_seconds)
    if rule.run_seconds is None:
        return None
    return interval_factor(task, duties) * rule.run_seconds


def uses_due(task: TaskFacts, duties: frozenset[str]) -> int | None:
    """After how many uses the task is due: scaled, rounded down, at least one."""
    if task.rule.uses is None:
        return None
    return max(1, int(interval_factor(task, duties) * task.rule.uses))


def mean_use(item: Item) -> Fraction:
    """Seconds of one use: the household's mean from five logged uses on, before that the kind's."""
    use = item.timeline.use
    if use.use_count >= 5:
        return Fraction(use.logged_seconds, use.use_count)
    return Fraction(item.use_seconds)


def use_reached(item: Item, after: int, count: int, halves: int) -> int | None:
    """Day of the `count`-th use after that day: logged, else forecast; None beyond the horizon."""
    use, today = item.timeline.use, item.almanac.today
    first = use.uses_upto(after)
    if use.use_count - first >= count:
        return use.use_day(first + count - 1)
    rate = Fraction(halves, 2) * item.timeline.year_seconds
    if rate == 0 or mean_use(item) == 0:
        return None
    need = (count - (use.use_count - first)) * mean_use(item)
    parts = need * use.profile.scale / rate
    day = use.first_counting(use.counted(today) - (-parts.numerator // parts.denominator))
    if day is None or max(day, today + 1) > item.timeline.horizon:
        return None
    return max(day, today + 1)


def readings_since(
    item: Item, task: TaskFacts, limit: LimitFacts, anchor: Anchor
) -> list[LimitReading]:
    """Readings of the limit after the anchor, or on its day and taken after the work."""
    return [
        reading
        for reading in item.readings
        if reading.limit == limit.code
        and (not limit.per_task or reading.code == task.code)
        and (
            reading.day.toordinal() > anchor.day
            or (reading.day.toordinal() == anchor.day and reading.after_work)
        )
    ]


def past_since(limit: LimitFacts, readings: list[LimitReading]) -> int | None:
    """First day of the unbroken run of readings past the limit; None when the last is within."""
    since: int | None = None
    for reading in reversed(readings):
        if not is_past(limit, reading):
            break
        since = reading.day.toordinal()
    return since


# -- calendar ---------------------------------------------------------------------------------


def months_on(day: int, months: int) -> int:
    """Ordinal of the day `months` on, clamped."""
    return add_months(date.fromordinal(day), months).toordinal()


def by_calendar(item: Item, rule: Rule, anchor: Anchor) -> list[Candidate]:
    """The candidates of phases and months."""
    if not item.almanac.calendar.has_seasons:
        return _without_season(item, rule, anchor)
    if rule.months is None:
        return [
            found
            for phase in rule.phases
            if (found := _by_phase(item, phase, anchor, 1, storage_act=phase is Phase.END))
        ]
    if not rule.phases:
        return [_by_months(anchor, rule.months)]
    if rule.months >= _YEAR:
        steps = rule.months // _YEAR * item.almanac.calendar.per_year
        phases = dict.fromkeys(
            Phase.BEFORE if phase is Phase.IN else phase for phase in rule.phases
        )
        return [
            found
            for phase in phases
            if (found := _by_phase(item, phase, anchor, steps, storage_act=False))
        ]
    if Phase.OFF in rule.phases:
        return [_off_season(item, rule, rule.months, anchor)]
    beside = [phase for phase in rule.phases if phase in (Phase.BEFORE, Phase.MIDDLE)]
    found = [_by_months(anchor, rule.months)]
    for phase in beside:
        slot = _by_phase(item, phase, anchor, 1, storage_act=False)
        if slot is not None:
            found.append(slot)
    return found


def _by_months(anchor: Anchor, months: int) -> Candidate:
    day = months_on(anchor.day, months)
    return Candidate(day, GovernedBy.MONTHS, day, months=months)


def _by_phase(
    item: Item, phase: Phase, anchor: Anchor, steps: int, *, storage_act: bool
) -> Candidate | None:
    if phase is Phase.IN:
        return None  # it only says that the work belongs to days in season
    almanac = item.almanac
    served = almanac.served(phase, anchor.day, storage_act=storage_act)
    if storage_act and anchor.purchase and anchor.day <= almanac.season_end(served):
        served -= 1
    slot = almanac.next_due(phase, served, anchor.day, steps, storage_act=storage_act)
    if slot is None:
        return None
    return Candidate(slot.deadline, GovernedBy.SEASON, slot.deadline, slot=slot)


def _off_season(item: Item, rule: Rule, months: int, anchor: Anchor) -> Candidate:
    almanac = item.almanac
    raw = months_on(anchor.day, months)
    reach = max(raw, almanac.today)
    rests = almanac.rests if rule.stored else almanac.off_season
    end_days = almanac.policy.end_days
    day = raw
    for first, last in rests[bisect_left(rests, reach, key=lambda span: span[1]) :]:
        if last - first + 1 >= end_days:
            day = raw if raw >= first else first - 1 + end_days
            break
    return Candidate(day, GovernedBy.MONTHS, day, months=months)


def _without_season(item: Item, rule: Rule, anchor: Anchor) -> list[Candidate]:
    found: list[Candidate] = []
    if rule.months is not None:
        found.append(_by_months(anchor, rule.months))
    elif _only_phases(rule) and rule.phases != (Phase.END,):
        found.append(_by_months(anchor, _YEAR))
    if Phase.END in rule.phases and rule.months is None:
        put_away = item.almanac.put_away_day()
        done = not anchor.purchase and put_away is not None and anchor.day >= put_away
        if put_away is not None and not done:
            day = put_away + item.almanac.policy.end_days
            found.append(Candidate(day, GovernedBy.SEASON, day))
    return found


def _only_phases(rule: Rule) -> bool:
    return (
        bool(rule.phases)
        and not needs_no_anchor(rule)
        and rule.run_seconds is None
        and rule.first_seconds is None
        and rule.uses is None
        and rule.nth_of is None
        and not rule.limits
    )


# -- rest -------------------------------------------------------------------------------------


def rests_for(almanac: Almanac, rule: Rule) -> tuple[Span, ...]:
    """The rests that move this task's day: none for what ages in storage or ends a season."""
    if rule.stored or Phase.END in rule.phases:
        return ()
    if Phase.OFF in rule.phases and rule.months is not None and rule.months < _YEAR:
        return almanac.planned
    return almanac.rests


def rest(candidate: Candidate, rests: tuple[Span, ...], today: int) -> Candidate:
    """Work for use waits for the eve of use: the day moves to the last day of the latest rest
    that has begun by then; until further notice it has no day."""
    if not rests or candidate.day is None:
        return candidate
    span = covering(rests, max(today, candidate.day))
    if span is None:
        # The latest rest that has begun may be over already, yet end on or after the due day.
        index = bisect_left(rests, (max(today, candidate.day), 0)) - 1
        if index < 0 or rests[index][1] < candidate.day:
            return candidate
        span = rests[index]
    day = None if span[1] >= FOREVER else span[1]
    return Candidate(
        day,
        candidate.governed_by,
        candidate.asked,
        candidate.limit,
        candidate.slot,
        candidate.months,
        candidate.vessel,
        span,
        candidate.forecast,
    )


def _outcome(candidates: list[Candidate], *, resting: bool) -> Outcome:
    dated = [candidate for candidate in candidates if candidate.day is not None]
    if not dated:
        governed_by = GovernedBy.ASLEEP if resting else GovernedBy.NONE
        return Outcome(None, governed_by, tuple(candidates))
    first = min(dated, key=lambda found: (found.day or 0, _ORDER[found.governed_by]))
    return Outcome(first.day, first.governed_by, tuple(candidates), first)
