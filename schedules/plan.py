"""One machine on one day: every task judged, its state, and the list to work from before the
season that starts next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from schedules.almanac import Almanac
from schedules.facts import (
    CarriedTask,
    GovernedBy,
    JobFacts,
    LimitCode,
    LimitFacts,
    MachineFacts,
    MachineVerdict,
    Phase,
    Policy,
    Precedence,
    PreSeason,
    TaskCode,
    TaskFacts,
    TaskState,
    TaskVerdict,
    VesselSort,
    VesselVerdict,
)
from schedules.figures import limits_with_own_figures, stands, with_own_figures
from schedules.fuel import judge_vessel
from schedules.grounds import Grounds, day_of
from schedules.hours import DOUBLE, HALF, ONCE, Timeline
from schedules.intervals import (
    Anchor,
    Doings,
    FuelDay,
    Item,
    Outcome,
    Reckoner,
    anchor_of,
    hours_interval,
    hours_point,
    is_storage_act,
    mean_use,
    months_on,
    uses_due,
)
from schedules.jobs import judge_job, state_on
from schedules.readiness import judge_state
from schedules.reasons import ReasonCode, reason
from schedules.seasons import calendar_of, windows_of
from schedules.workload import order_of_work, work_lines

Limits = Mapping[LimitCode, LimitFacts]


@dataclass(frozen=True, slots=True)
class Judging:
    """Everything the judgement of one machine works with; kept so that lists can be made of it."""

    facts: MachineFacts
    almanac: Almanac
    items: tuple[Item, ...]
    once: Reckoner
    verdict: MachineVerdict

    def task(self, code: TaskCode) -> TaskFacts:
        """The task with the figures in force. Raises KeyError when it does not stand."""
        return self.once.home(code).tasks[code]


def judge_machine(
    facts: MachineFacts, *, on: date, policy: Policy, limits: Limits
) -> MachineVerdict:
    """Everything the engine says about one machine on one day.

    What is dated after `on` does not exist. Raises ValueError for data no act would have let in.
    """
    return judge(facts, on=on, policy=policy, limits=limits).verdict


def judge(facts: MachineFacts, *, on: date, policy: Policy, limits: Limits) -> Judging:
    """The same, with what it was worked out from."""
    windows = windows_of(facts.kind.windows, facts.own_windows, south=facts.south)
    almanac = Almanac(
        calendar=calendar_of(windows, policy.gap_days),
        uses=facts.uses,
        storage=facts.storage,
        today=on.toordinal(),
        policy=policy,
    )
    items = _items(facts, almanac, limits_with_own_figures(limits, facts.own_figures))
    doings = Doings(items)
    fuel = tuple(judge_vessel(vessel, on=on) for vessel in facts.vessels)
    fuel_day = _fuel_day(fuel)
    duties = frozenset(str(duty) for duty in facts.duties)
    reckoners = tuple(
        Reckoner(items=items, duties=duties, doings=doings, fuel=fuel_day, halves=halves)
        for halves in (ONCE, HALF, DOUBLE)
    )
    grounds = Grounds(reckoner=reckoners[0], own=facts.own_figures)
    verdicts = tuple(
        _verdict(item, task, reckoners, grounds) for item in items for task in item.tasks.values()
    )
    state, ground = judge_state(
        facts, almanac=almanac, items=items, doings=doings, verdicts=verdicts, fuel=fuel
    )
    verdict = MachineVerdict(
        machine_id=facts.machine_id,
        state=state,
        reason=ground,
        hours=items[0].timeline.now(),
        tasks=verdicts,
        jobs=tuple(
            judge_job(job, almanac=almanac, timeline=_of_job(items, job).timeline)
            for job in facts.jobs
            if job.noted_on <= on
        ),
        fuel=fuel,
        each_use=tuple(
            code for item in items for code, task in item.tasks.items() if task.rule.each_use
        ),
    )
    return Judging(facts, almanac, items, reckoners[0], verdict)


def _of_job(items: tuple[Item, ...], job: JobFacts) -> Item:
    """What the job is on; the machine when it is on nothing in particular, or that is gone."""
    return next((item for item in items if item.facts.item_id == job.item_id), items[0])


def _items(facts: MachineFacts, almanac: Almanac, limits: Limits) -> tuple[Item, ...]:
    features = dict(facts.features)
    return tuple(
        Item(
            facts=item,
            tasks=tuple(
                with_own_figures(task, facts.own_figures)
                for task in item.tasks
                if stands(task, features)
            ),
            almanac=almanac,
            timeline=Timeline(
                almanac=almanac, facts=item.hours, came_on=item.came_on, uses=facts.uses
            ),
            use_seconds=facts.kind.use_seconds,
            limits=limits,
        )
        for item in facts.items
    )


def _fuel_day(fuel: tuple[VesselVerdict, ...]) -> FuelDay | None:
    """The first day on which the fuel of one of the machine's tanks becomes *burn*."""
    days = [
        FuelDay(vessel.burn_on.toordinal(), vessel.name)
        for vessel in fuel
        if vessel.sort is VesselSort.TANK and vessel.burn_on is not None
    ]
    return min(days, key=lambda day: day.day) if days else None


def _verdict(
    item: Item, task: TaskFacts, reckoners: tuple[Reckoner, ...], grounds: Grounds
) -> TaskVerdict:
    once, half, double = reckoners
    outcome = once.outcome(task.code)
    early = late = outcome.day
    if depends_on_forecast(task):
        early, late = double.outcome(task.code).day, half.outcome(task.code).day
    today = item.almanac.today
    anchor = anchor_of(item, task, once.doings)
    replacement = _replacement_known(outcome)
    return TaskVerdict(
        code=task.code,
        item_id=item.facts.item_id,
        state=_state(outcome, today, item.almanac.policy),
        due=day_of(outcome.day),
        governed_by=outcome.governed_by,
        reason=grounds.of(item, task, outcome, (early, late)),
        due_early=day_of(early),
        due_late=day_of(late),
        seconds_left=_seconds_left(item, task, anchor, once),
        days_left=None if outcome.day is None else outcome.day - today,
        anchor=None if anchor is None else day_of(anchor.day),
        safety=task.safety,
        replacement=replacement,
        minutes=task.do_minutes if replacement else task.look_minutes,
    )


def depends_on_forecast(task: TaskFacts) -> bool:
    """Whether more or less use moves the task's day."""
    rule = task.rule
    return (
        rule.run_seconds is not None
        or rule.first_seconds is not None
        or rule.uses is not None
        or rule.nth_of is not None
    )


def _state(outcome: Outcome, today: int, policy: Policy) -> TaskState:
    if outcome.governed_by is GovernedBy.NOTHING_KNOWN:
        return TaskState.NOT_KNOWN
    return state_on(outcome.day, today, policy)


def _replacement_known(outcome: Outcome) -> bool:
    """Past its limit, at its n-th, or first going-over: the full work, not only a look."""
    return outcome.governed_by in (
        GovernedBy.READING,
        GovernedBy.NTH,
        GovernedBy.NOTHING_KNOWN,
    )


def _seconds_left(
    item: Item, task: TaskFacts, anchor: Anchor | None, once: Reckoner
) -> Fraction | None:
    if anchor is None:
        return None
    point = hours_point(item, task, anchor, once.duties, ONCE)
    return None if point is None else point - item.timeline.total(item.almanac.today)


# -- before the season ------------------------------------------------------------------------


def pre_season(judging: Judging, *, precedence: tuple[Precedence, ...]) -> PreSeason:
    """What to do before the season that starts next: what is due by its eve, and what will not
    last it; in working order. Without a season: what is due within `coming_days`.

    A storage act nobody did is not asked for on the eve of use: the run would undo it. Work that
    another line includes is not asked for twice.
    """
    almanac = judging.almanac
    place = almanac.coming()
    season, eve = None, None
    if place is not None:
        season = almanac.calendar.season(place)
        eve = almanac.calendar.firsts[place] - 1
    until = eve if eve is not None else almanac.today + almanac.policy.coming_days
    by_eve = [
        verdict
        for verdict in judging.verdict.tasks
        if verdict.due is not None
        and verdict.due.toordinal() <= until
        and not (season and _made_by_storage(judging, verdict))
    ]
    carried = [] if season is None else _carried(judging, season.last, until)
    verdicts = {found.code: found for found in by_eve}
    verdicts.update({found.verdict.code: found.verdict for found in carried})
    for code in done_by_others(judging, set(verdicts)):
        del verdicts[code]
    tasks = {code: judging.task(code) for code in verdicts}
    minutes = {code: verdict.minutes for code, verdict in verdicts.items()}
    order = order_of_work(tuple(tasks), tasks=tasks, minutes=minutes, precedence=precedence)
    looks = sum(m for code, m in minutes.items() if not verdicts[code].replacement)
    start = None
    if eve is not None:
        start = date.fromordinal(eve + 1) - timedelta(days=almanac.policy.ready_days)
    return PreSeason(
        season=season,
        eve=day_of(eve),
        tasks=tuple(found for found in by_eve if found.code in verdicts),
        carried=tuple(found for found in carried if found.verdict.code in verdicts),
        lines=work_lines(order, verdicts, tasks),
        look_minutes=looks,
        do_minutes=sum(minutes.values()) - looks,
        start_by=start,
    )


def _made_by_storage(judging: Judging, verdict: TaskVerdict) -> bool:
    """Whether the day is that of a storage act alone, and no other phase asks for it, too."""
    outcome = judging.once.outcome(verdict.code)
    return (
        outcome.governed_by is GovernedBy.SEASON
        and is_storage_act(judging.task(verdict.code).rule)
        and all(
            found.slot is None or found.slot.phase is Phase.END
            for found in outcome.candidates
            if found.day == outcome.day
        )
    )


def done_by_others(judging: Judging, codes: set[TaskCode]) -> set[TaskCode]:
    """Those of the codes that another of them includes: one opening, one line."""
    included: set[TaskCode] = set()
    # By way of tasks that are not asked for, too, and of those that do not stand here.
    inner = {task.code: task.includes for item in judging.facts.items for task in item.tasks}
    for code in codes:
        waiting = list(inner[code])
        while waiting:
            other = waiting.pop()
            if other in included or other == code:
                continue
            included.add(other)
            waiting.extend(inner.get(other, ()))
    return included & codes


def _carried(judging: Judging, last: date, eve: int) -> list[CarriedTask]:
    """Tasks that fall due in the coming season with most of their interval used by its eve."""
    found: list[CarriedTask] = []
    policy = judging.almanac.policy
    for verdict in judging.verdict.tasks:
        if verdict.due is None or not eve < verdict.due.toordinal() <= last.toordinal():
            continue
        task = judging.task(verdict.code)
        if verdict.minutes < policy.carry_minutes:
            continue
        used = _used(judging, task, verdict.governed_by, eve)
        if used is not None and used >= policy.carry:
            percent = min(100, int(used * 100))
            ground = reason(
                ReasonCode.CARRIED, task=task.code, expected=verdict.due, percent=percent
            )
            found.append(CarriedTask(verdict=verdict, expected=verdict.due, reason=ground))
    return found


def _used(judging: Judging, task: TaskFacts, governed_by: GovernedBy, eve: int) -> Fraction | None:
    """Share of the interval used on the eve; a reading counts whole; None: it stays where it is."""
    item = judging.once.home(task.code)
    anchor = anchor_of(item, task, judging.once.doings)
    duties = judging.once.duties
    if governed_by is GovernedBy.READING:
        return Fraction(1)
    if anchor is None:
        return None
    if governed_by is GovernedBy.HOURS:
        interval = hours_interval(task, anchor, duties)
        run = item.timeline.total(eve) - item.timeline.total(anchor.day)
        return None if interval is None else run / interval
    if governed_by is GovernedBy.USES:
        count = uses_due(task, duties)
        return None if count is None else _uses_by(item, anchor.day, eve) / count
    if governed_by is GovernedBy.MONTHS:
        months = task.rule.months or 12
        return Fraction(eve - anchor.day, months_on(anchor.day, months) - anchor.day)
    return None


def _uses_by(item: Item, after: int, eve: int) -> Fraction:
    use, today = item.timeline.use, item.almanac.today
    counted = use.use_count - use.uses_upto(after)
    mean = mean_use(item)
    if not mean or eve <= today:
        return Fraction(counted)
    return counted + item.timeline.run(today, eve) / mean
