"""A plain second version of the due engine, made from the written rules alone, for comparing.

It walks day by day and keeps nothing but what it has already answered. Where the rules can be
read in two ways, READINGS.md beside this file says which way was taken.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from schedules.facts import (
    Band,
    GovernedBy,
    HoursBasis,
    ItemFacts,
    ItemId,
    LimitCode,
    LimitFacts,
    MachineFacts,
    MachineState,
    Past,
    Phase,
    Policy,
    Precedence,
    TaskCode,
    TaskFacts,
    TaskState,
    VesselSort,
    VesselVerdict,
)
from tests.twin.days import ONE, Run, add_months
from tests.twin.machine_days import NEVER, MachineDays, Slot
from tests.twin.records import (
    Anchor,
    Records,
    has_other_parts,
    needs_no_anchor,
    stands,
)
from tests.twin.running import Pace, Running

# Which ground wins when two give the same day.
TIES = (
    GovernedBy.READING,
    GovernedBy.HOURS,
    GovernedBy.USES,
    GovernedBy.NTH,
    GovernedBy.SEASON,
    GovernedBy.MONTHS,
)


@dataclass(frozen=True)
class TwinTask:
    """What the twin says of one task."""

    code: TaskCode
    item_id: ItemId
    state: TaskState
    due: date | None
    governed_by: GovernedBy
    due_early: date | None
    due_late: date | None
    anchor: date | None
    seconds_left: Fraction | None


@dataclass(frozen=True)
class TwinVerdict:
    """What the twin says of one machine."""

    state: MachineState
    hours: Fraction
    basis: HoursBasis
    tasks: tuple[TwinTask, ...]
    carried: tuple[tuple[TaskCode, date], ...]


@dataclass(frozen=True)
class Candidate:
    """A day that one part of a rule asks for."""

    day: date
    governed_by: GovernedBy


@dataclass(frozen=True)
class Answer:
    """The day a task is due at one pace, and what made it."""

    day: date | None
    governed_by: GovernedBy


def burn_days(fuel: Sequence[VesselVerdict]) -> list[date]:
    return [
        vessel.burn_on
        for vessel in fuel
        if vessel.sort is VesselSort.TANK and vessel.burn_on is not None
    ]


def judge_fuel(facts: MachineFacts, on: date) -> list[VesselVerdict]:
    if not facts.vessels:
        return []
    from schedules.fuel import judge_vessel

    return [judge_vessel(vessel, on=on) for vessel in facts.vessels]


class Judge:
    """One machine on one day."""

    def __init__(
        self,
        facts: MachineFacts,
        on: date,
        policy: Policy,
        limits: Mapping[LimitCode, LimitFacts],
    ) -> None:
        self.facts = facts
        self.on = on
        self.policy = policy
        self.days = MachineDays(facts, on, policy)
        self.records = Records(facts, on, limits)
        self.running = {item.item_id: Running(facts, item, self.days) for item in facts.items}
        self.fuel = judge_fuel(facts, on)
        self.answers: dict[tuple[ItemId, TaskCode, Pace], Answer] = {}
        self.slot_lists: dict[tuple[Phase, bool], list[Slot]] = {}

    # -- one task -----------------------------------------------------------------------------

    def standing(self) -> list[tuple[ItemFacts, TaskFacts]]:
        return [
            (item, self.records.tasks[item.item_id, task.code])
            for item in self.facts.items
            for task in item.tasks
            if stands(task, self.facts)
        ]

    def answer(self, item: ItemFacts, task: TaskFacts, pace: Pace) -> Answer:
        key = (item.item_id, task.code, pace)
        if key not in self.answers:
            self.answers[key] = Answer(None, GovernedBy.NONE)
            self.answers[key] = self._answer(item, task, pace)
        return self.answers[key]

    def _answer(self, item: ItemFacts, task: TaskFacts, pace: Pace) -> Answer:
        if self.is_not_known(item, task):
            return Answer(self.after_rest(task, self.on), GovernedBy.NOTHING_KNOWN)
        best: Candidate | None = None
        for candidate in self.candidates(item, task, pace):
            day = self.after_rest(task, candidate.day)
            if day is None:
                continue
            rested = Candidate(day, candidate.governed_by)
            if best is None or self._rank(rested) < self._rank(best):
                best = rested
        if best is not None:
            return Answer(best.day, best.governed_by)
        still = self.still(task)
        if still is not None and still(self.on):
            return Answer(None, GovernedBy.ASLEEP)
        return Answer(None, GovernedBy.NONE)

    def _rank(self, candidate: Candidate) -> tuple[date, int]:
        return candidate.day, TIES.index(candidate.governed_by)

    def is_not_known(self, item: ItemFacts, task: TaskFacts) -> bool:
        if needs_no_anchor(task.rule):
            return False
        return self.records.anchor(item, task) is None

    # -- rest ---------------------------------------------------------------------------------

    def still(self, task: TaskFacts) -> Callable[[date], bool] | None:
        """Which days are rest for this task; None for those that never rest."""
        rule = task.rule
        if rule.stored or Phase.END in rule.phases:
            return None
        if self.is_off_repeat(task):
            return self.days.laid_up_as_planned
        return self.days.stands_still

    def is_off_repeat(self, task: TaskFacts) -> bool:
        months = task.rule.months
        return Phase.OFF in task.rule.phases and months is not None and months < 12

    def after_rest(self, task: TaskFacts, due: date) -> date | None:
        still = self.still(task)
        rest = None if still is None else self.days.latest_rest(due, still)
        if rest is None:
            return due
        return None if rest.last == NEVER else rest.last

    # -- candidates ---------------------------------------------------------------------------

    def candidates(self, item: ItemFacts, task: TaskFacts, pace: Pace) -> list[Candidate]:
        anchor = self.records.anchor(item, task)
        found = self.by_reading(item, task, anchor)
        if anchor is not None:
            found += self.by_hours(item, task, anchor, pace)
            found += self.by_uses(item, task, anchor, pace)
            found += self.by_nth(item, task, anchor, pace)
            if self.days.pattern.has_season:
                found += self.by_season(task, anchor)
            else:
                found += self.without_season(task, anchor)
                found += self.after_putting_away(item, task)
        return found

    def by_reading(
        self, item: ItemFacts, task: TaskFacts, anchor: Anchor | None
    ) -> list[Candidate]:
        found: list[date] = []
        for code in task.rule.limits:
            since = self.records.past_since(item, task, anchor, code)
            if since is not None:
                found.append(since)
                continue
            found += [
                forecast.plan_by
                for forecast in item.forecasts
                if forecast.code == task.code and forecast.limit == code
            ]
        if task.rule.fuel_age:
            found += burn_days(self.fuel)
        return [Candidate(day, GovernedBy.READING) for day in found]

    def by_hours(
        self, item: ItemFacts, task: TaskFacts, anchor: Anchor, pace: Pace
    ) -> list[Candidate]:
        interval = self.records.interval(task, anchor)
        if interval is None:
            return []
        running = self.running[item.item_id]
        point = running.on_day(anchor.day, pace) + interval
        day = running.reaches(point, anchor.day, pace)
        return [] if day is None else [Candidate(day, GovernedBy.HOURS)]

    def by_uses(
        self, item: ItemFacts, task: TaskFacts, anchor: Anchor, pace: Pace
    ) -> list[Candidate]:
        n = self.records.needed_uses(task)
        if n is None:
            return []
        day = self.running[item.item_id].reaches_uses(n, anchor.day, pace)
        return [] if day is None else [Candidate(day, GovernedBy.USES)]

    def by_nth(
        self, item: ItemFacts, task: TaskFacts, anchor: Anchor, pace: Pace
    ) -> list[Candidate]:
        nth = task.rule.nth_of
        if nth is None:
            return []
        days = self.records.days_done(item, nth.code)
        counted = [day for day in days if day > anchor.day]
        if len(counted) >= nth.n:
            return [Candidate(counted[nth.n - 1], GovernedBy.NTH)]
        other = self.records.item_with(item, nth.code)
        if len(counted) < nth.n - 1 or other is None:
            return []
        its_task = self.records.tasks[other.item_id, nth.code]
        day = self.answer(other, its_task, pace).day if stands(its_task, self.facts) else None
        return [] if day is None else [Candidate(max(day, anchor.day), GovernedBy.NTH)]

    # -- seasons and months -------------------------------------------------------------------

    def slots(self, phase: Phase, *, storage_act: bool) -> list[Slot]:
        key = (phase, storage_act)
        if key not in self.slot_lists:
            self.slot_lists[key] = self.days.slots(phase, storage_act=storage_act)
        return self.slot_lists[key]

    def by_season(self, task: TaskFacts, anchor: Anchor) -> list[Candidate]:
        months = task.rule.months
        phases = self.phases(task)
        if months is None:
            return self.slot_candidates(phases, 1, anchor, storage_act=True)
        if not task.rule.phases:
            return [Candidate(add_months(anchor.day, months), GovernedBy.MONTHS)]
        if months >= 12:
            on = (months // 12) * self.days.seasons_a_year
            return self.slot_candidates(phases, on, anchor, storage_act=False)
        if Phase.OFF in phases:
            return [Candidate(self.off_repeat(task, anchor, months), GovernedBy.MONTHS)]
        beside = [phase for phase in phases if phase in (Phase.BEFORE, Phase.MIDDLE)]
        return [
            Candidate(add_months(anchor.day, months), GovernedBy.MONTHS),
            *self.slot_candidates(beside, 1, anchor, storage_act=False),
        ]

    def slot_candidates(
        self, phases: Sequence[Phase], on: int, anchor: Anchor, *, storage_act: bool
    ) -> list[Candidate]:
        found: list[Candidate] = []
        for phase in phases:
            found += self.slot_candidate(phase, on, anchor, storage_act=storage_act)
        return found

    def phases(self, task: TaskFacts) -> list[Phase]:
        """The phases that make slots; *in* counts as *before* with months of 12 or more."""
        months = task.rule.months
        found: list[Phase] = []
        for phase in task.rule.phases:
            if phase is not Phase.IN:
                found.append(phase)
            elif months is not None and months >= 12:
                found.append(Phase.BEFORE)
        return found

    def slot_candidate(
        self, phase: Phase, on: int, anchor: Anchor, *, storage_act: bool
    ) -> list[Candidate]:
        """The first slot that can be due; a middle that no season has gives none."""
        slots = self.slots(phase, storage_act=storage_act)
        lapses = phase is Phase.END and storage_act
        at = self.served(slots, phase, anchor, storage_act=lapses) + on
        for slot in slots[at:]:
            if not slot.idle and not (lapses and slot.next_first <= self.on):
                return [Candidate(slot.deadline, GovernedBy.SEASON)]
        return []

    def served(self, slots: list[Slot], phase: Phase, anchor: Anchor, *, storage_act: bool) -> int:
        """The place of the last slot that the anchor serves."""
        at = max(place for place, slot in enumerate(slots) if slot.opens <= anchor.day)
        if storage_act and anchor.purchase and anchor.day <= slots[at].ended:
            at -= 1
        if phase is not Phase.END:
            near = timedelta(days=self.policy.repeat_days)
            while at + 1 < len(slots) and slots[at + 1].deadline - anchor.day < near:
                at += 1
        return at

    def off_repeat(self, task: TaskFacts, anchor: Anchor, months: int) -> date:
        raw = add_months(anchor.day, months)
        still = self.days.stands_still if task.rule.stored else self.days.off_season
        rest = self.days.first_rest(max(raw, self.on), still)
        if rest is None or raw >= rest.first:
            return raw
        return rest.first - ONE + timedelta(days=self.policy.end_days)

    def without_season(self, task: TaskFacts, anchor: Anchor) -> list[Candidate]:
        rule = task.rule
        if rule.months is not None:
            return [Candidate(add_months(anchor.day, rule.months), GovernedBy.MONTHS)]
        only_phases = bool(rule.phases) and not has_other_parts(rule)
        if only_phases and rule.phases != (Phase.END,):
            return [Candidate(add_months(anchor.day, 12), GovernedBy.MONTHS)]
        return []

    def after_putting_away(self, item: ItemFacts, task: TaskFacts) -> list[Candidate]:
        """Storage acts of a machine that is always in season."""
        since = self.days.put_away_since()
        if Phase.END not in task.rule.phases or task.rule.months is not None or since is None:
            return []
        if any(done.day >= since for done in self.records.doings(item, task)):
            return []
        day = since + timedelta(days=self.policy.end_days)
        return [Candidate(day, GovernedBy.SEASON)]

    # -- what is said -------------------------------------------------------------------------

    def state_of(self, due: date | None) -> TaskState:
        if due is None:
            return TaskState.CLEAR
        if due < self.on:
            return TaskState.OVERDUE
        if due <= self.on + timedelta(days=self.policy.due_days):
            return TaskState.DUE
        if due <= self.on + timedelta(days=self.policy.coming_days):
            return TaskState.COMING
        return TaskState.CLEAR

    def verdict(self, item: ItemFacts, task: TaskFacts) -> TwinTask:
        once = self.answer(item, task, Pace.ONCE)
        unknown = self.is_not_known(item, task)
        anchor = self.records.anchor(item, task)
        return TwinTask(
            code=task.code,
            item_id=item.item_id,
            state=TaskState.NOT_KNOWN if unknown else self.state_of(once.day),
            due=once.day,
            governed_by=once.governed_by,
            due_early=self.answer(item, task, Pace.DOUBLE).day,
            due_late=self.answer(item, task, Pace.HALF).day,
            anchor=None if anchor is None else anchor.day,
            seconds_left=self.seconds_left(item, task, anchor),
        )

    def seconds_left(
        self, item: ItemFacts, task: TaskFacts, anchor: Anchor | None
    ) -> Fraction | None:
        interval = None if anchor is None else self.records.interval(task, anchor)
        if anchor is None or interval is None:
            return None
        running = self.running[item.item_id]
        point = running.on_day(anchor.day, Pace.ONCE) + interval
        return point - running.on_day(self.on, Pace.ONCE)

    # -- before the season --------------------------------------------------------------------

    def coming_season(self) -> Run | None:
        for season in self.days.seasons:
            if season.first > self.on and not self.days.sleeps_through(season):
                return season
        return None

    def carried(self, verdicts: Sequence[TwinTask]) -> list[tuple[TaskCode, date]]:
        """Tasks that fall due in the coming season and are better done before it."""
        season = self.coming_season()
        if season is None:
            return []
        found: list[tuple[TaskCode, date]] = []
        for (item, task), verdict in zip(self.standing(), verdicts, strict=True):
            due = verdict.due
            if due is None or not season.first <= due <= season.last:
                continue
            if self.minutes(item, task, verdict) < self.policy.carry_minutes:
                continue
            if self.is_carried(item, task, verdict, season.first - ONE):
                found.append((task.code, due))
        listed = {code for code, _ in found}
        for (item, task), verdict in zip(self.standing(), verdicts, strict=True):
            by_the_eve = verdict.due is not None and verdict.due < season.first
            if by_the_eve and not self.is_made_by_storage(item, task, verdict):
                listed.add(task.code)
        done = {inner for code in listed for inner in self.records.includes(code)}
        return [(code, due) for code, due in found if code not in done]

    def is_made_by_storage(self, item: ItemFacts, task: TaskFacts, verdict: TwinTask) -> bool:
        """Whether the day is that of a storage act, and *before* or another phase asks no more."""
        anchor = self.records.anchor(item, task)
        phases = task.rule.phases
        if verdict.governed_by is not GovernedBy.SEASON or anchor is None:
            return False
        if Phase.END not in phases or Phase.BEFORE in phases or task.rule.months is not None:
            return False
        others = [phase for phase in phases if phase not in (Phase.END, Phase.IN)]
        candidates = self.slot_candidates(others, 1, anchor, storage_act=True)
        return all(candidate.day != verdict.due for candidate in candidates)

    def minutes(self, item: ItemFacts, task: TaskFacts, verdict: TwinTask) -> int:
        """Time to look, unless the work is known to be needed."""
        anchor = self.records.anchor(item, task)
        past = [self.records.past_since(item, task, anchor, code) for code in task.rule.limits]
        known = (
            any(since is not None for since in past)
            or verdict.governed_by in (GovernedBy.READING, GovernedBy.NTH)
            or verdict.state is TaskState.NOT_KNOWN
        )
        return task.do_minutes if known else task.look_minutes

    def is_carried(self, item: ItemFacts, task: TaskFacts, verdict: TwinTask, eve: date) -> bool:
        if verdict.governed_by is GovernedBy.READING:
            return True
        anchor = self.records.anchor(item, task)
        if anchor is None:
            return False
        share = self.share_used(item, task, verdict.governed_by, anchor, eve)
        return share is not None and share >= self.policy.carry

    def share_used(
        self,
        item: ItemFacts,
        task: TaskFacts,
        governed_by: GovernedBy,
        anchor: Anchor,
        eve: date,
    ) -> Fraction | None:
        """How much of the interval will be used up on the eve."""
        running = self.running[item.item_id]
        if governed_by is GovernedBy.HOURS:
            run = running.on_day(eve, Pace.ONCE) - running.on_day(anchor.day, Pace.ONCE)
            interval = self.records.interval(task, anchor)
            return None if interval is None else run / interval
        if governed_by is GovernedBy.USES:
            n = self.records.needed_uses(task)
            used = len(running.uses_after(anchor.day)) + running.forecast_uses(eve)
            return None if n is None else used / n
        if governed_by is GovernedBy.MONTHS:
            whole = add_months(anchor.day, task.rule.months or 12) - anchor.day
            return Fraction((eve - anchor.day).days, whole.days)
        return None

    # -- the machine --------------------------------------------------------------------------

    def machine_state(self, verdicts: Sequence[TwinTask]) -> MachineState:
        if self.is_down():
            return MachineState.DOWN
        if self.is_unknown():
            return MachineState.UNKNOWN
        if self.days.put_away_since() is not None:
            return MachineState.LAID_UP
        if self.is_with_care(verdicts):
            return MachineState.WITH_CARE
        return MachineState.FIT

    def is_down(self) -> bool:
        faults = any(fault.stops_use for fault in self.facts.faults if fault.since <= self.on)
        failed = any(check.day <= self.on for check in self.facts.failed_checks)
        wrong = any(
            vessel.band is Band.NOT_FOR_THIS and vessel.sort is VesselSort.TANK
            for vessel in self.fuel
        )
        return faults or failed or wrong

    def is_unknown(self) -> bool:
        """Past unknown, and the list of what is to be done first not closed."""
        for item, task in self.standing():
            if item.past is not Past.UNKNOWN or needs_no_anchor(task.rule):
                continue
            if self.records.anchor(item, task) is None:
                return True
            doings = self.records.doings(item, task)
            if task.safety and doings and all(done.assumed for done in doings):
                return True
        return False

    def is_with_care(self, verdicts: Sequence[TwinTask]) -> bool:
        overdue = any(verdict.state is TaskState.OVERDUE for verdict in verdicts)
        put_off = any(fault.since <= self.on for fault in self.facts.faults)
        stale = any(
            vessel.band in (Band.BURN, Band.DRAIN, Band.LOOK_FIRST, Band.NOT_FOR_THIS)
            for vessel in self.fuel
            if vessel.sort in (VesselSort.TANK, VesselSort.BOWL)
        )
        return overdue or put_off or stale


def judge_machine(
    facts: MachineFacts,
    *,
    on: date,
    policy: Policy,
    limits: Mapping[LimitCode, LimitFacts],
) -> TwinVerdict:
    judge = Judge(facts, on, policy, limits)
    verdicts = [judge.verdict(item, task) for item, task in judge.standing()]
    running = judge.running[facts.items[0].item_id]
    return TwinVerdict(
        state=judge.machine_state(verdicts),
        hours=running.on_day(on, Pace.ONCE),
        basis=running.basis(),
        tasks=tuple(verdicts),
        carried=tuple(judge.carried(verdicts)),
    )


# -- order of work ----------------------------------------------------------------------------


def comes_before(
    a: TaskCode, b: TaskCode, precedence: Sequence[Precedence], seen: frozenset[TaskCode]
) -> bool:
    """Whether a must come before b, also by way of tasks that nobody asked about."""
    for pair in precedence:
        if pair.before == a and pair.after not in seen:
            if pair.after == b:
                return True
            if comes_before(pair.after, b, precedence, seen | {pair.after}):
                return True
    return False


def order_of_work(
    codes: Sequence[TaskCode],
    tasks: Mapping[TaskCode, TaskFacts],
    precedence: Sequence[Precedence],
    minutes: Mapping[TaskCode, int] | None = None,
) -> list[TaskCode]:
    """The codes in the order in which the work is done; by the minutes to look unless told."""
    if minutes is None:
        minutes = {code: tasks[code].look_minutes for code in codes}
    left = list(codes)
    ordered: list[TaskCode] = []
    opening = ""
    while left:
        free = [
            code
            for code in left
            if not any(comes_before(x, code, precedence, frozenset()) for x in left if x != code)
        ]
        same = [code for code in free if opening and tasks[code].opening == opening]
        taken = min(same or free, key=lambda code: (minutes[code], code))
        left.remove(taken)
        ordered.append(taken)
        opening = tasks[taken].opening
    return ordered
