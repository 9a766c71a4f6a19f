"""What to do with the time there is: the best set of jobs that fits, exactly, in working order.

`jobs_of` makes the jobs of one machine from its verdict, `best_set` chooses among the jobs of a
whole fleet (`schedules.best_set` does the sums), `visits` puts what was chosen into the order it
is done in. Weights are whole numbers of ninetieths, so that nothing is rounded.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Generator, Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from functools import lru_cache
from operator import attrgetter

from schedules.best_set import STRIDE, Bundle, Choices, best, drained
from schedules.facts import (
    FaultFacts,
    GovernedBy,
    JobId,
    MachineId,
    PairSort,
    Policy,
    Precedence,
    PreSeason,
    TaskCode,
    TaskFacts,
    TaskSort,
    TaskState,
    TaskVerdict,
)
from schedules.intervals import is_storage_act
from schedules.plan import Judging, done_by_others
from schedules.workload import is_look, order_of_work

SAFETY_OVERDUE = 1000
FAULT = 80
OVERDUE = 40
DUE = 25
CARRIED = 12
COMING = 8
CLOSE_DAYS = 90
FAULT_MINUTES = 15
"""Finding out what is wrong, where nobody gave a figure: our judgement."""

_STATE_WEIGHT = {
    TaskState.OVERDUE: OVERDUE,
    TaskState.DUE: DUE,
    TaskState.NOT_KNOWN: DUE,
    TaskState.COMING: COMING,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One thing to do at one machine: a task, a walk-round of looks, a one-off or a fault.

    `weight` in ninetieths. `parts`: what has to lie ready, by part and quantity.
    """

    machine_id: MachineId
    codes: tuple[TaskCode, ...] = ()
    job_id: JobId | None = None
    fault_id: int | None = None
    minutes: int
    weight: int
    parts: tuple[tuple[str, int], ...] = ()
    walk_round: bool = False

    @property
    def key(self) -> tuple[tuple[str, ...], int, int, int]:
        """What jobs are put in order by: codes, then machine, then number."""
        return self.codes, self.machine_id, self.job_id or 0, self.fault_id or 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDo:
    """One line of a visit: a task (`look`: part of the walk-round), a one-off or a fault."""

    code: TaskCode | None = None
    job_id: JobId | None = None
    fault_id: int | None = None
    minutes: int
    look: bool = False
    parts: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """What is done at one machine in one sitting. `minutes` counts getting at it, once; `jobs`
    are what was chosen, `lines` the same in working order."""

    machine_id: MachineId
    minutes: int
    jobs: tuple[Job, ...]
    lines: tuple[ToDo, ...]


# -- the jobs of one machine ------------------------------------------------------------------


def jobs_of(judging: Judging, season: PreSeason) -> tuple[Job, ...]:
    """All that could be done at a machine today, with minutes and weight.

    Tasks due, overdue, not known, coming or brought forward that have a day; one-offs alike;
    faults and failed checks that stop use. The looks are one walk-round. A storage act nobody did
    is not asked for once the next season is being made ready: the first run would undo it. Parts
    are not looked at here: whether they lie ready is the choice's question.
    """
    close = closeness(judging)
    carried = {found.verdict.code for found in season.carried}
    eve_is_near = season.start_by is not None and season.start_by.toordinal() <= _today(judging)
    failed = {check.code for check in judging.facts.failed_checks}
    found: dict[TaskCode, tuple[TaskVerdict, int]] = {}
    for verdict in judging.verdict.tasks:
        weight = _task_weight(verdict, carried=verdict.code in carried)
        if verdict.code in failed:
            weight = max(weight, FAULT)
        elif verdict.due is None:
            continue
        if eve_is_near and is_storage_act(judging.task(verdict.code).rule):
            continue
        if weight:
            found[verdict.code] = (verdict, weight)
    jobs: list[Job] = []
    looks: list[Job] = []
    twins = done_by_others(judging, set(found))
    for code, (verdict, weight) in found.items():
        if code in twins:
            continue
        task = judging.task(code)
        job = _task_job(judging, task, verdict, weight * close, full=code in failed)
        look = is_look(task, verdict) and code not in failed
        (looks if look else jobs).append(job)
    if looks:
        jobs.append(_walk_round(looks))
    jobs += _one_offs(judging, close)
    jobs += [_fault_job(judging, fault, close) for fault in judging.facts.faults]
    return tuple(sorted((job for job in jobs if job.weight), key=lambda job: job.key))


def closeness(judging: Judging) -> int:
    """How much nearness of the season counts, in ninetieths: 180 in it, 90 when far or without."""
    almanac = judging.almanac
    if not almanac.calendar.has_seasons:
        return CLOSE_DAYS
    if almanac.calendar.in_season(almanac.today) and not almanac.laid_up:
        return 2 * CLOSE_DAYS
    place = almanac.coming()
    if place is None:
        return CLOSE_DAYS
    days = almanac.calendar.firsts[place] - almanac.today
    return 2 * CLOSE_DAYS - min(max(days, 0), CLOSE_DAYS)


def _today(judging: Judging) -> int:
    return judging.almanac.today


def _task_weight(verdict: TaskVerdict, *, carried: bool) -> int:
    if verdict.safety and verdict.state is TaskState.OVERDUE:
        return SAFETY_OVERDUE
    return max(_STATE_WEIGHT.get(verdict.state, 0), CARRIED if carried else 0)


def _task_job(
    judging: Judging, task: TaskFacts, verdict: TaskVerdict, weight: int, *, full: bool
) -> Job:
    known = verdict.replacement and verdict.governed_by is not GovernedBy.NOTHING_KNOWN
    uses_up = full or known or task.sort is TaskSort.PREDETERMINED  # a look may find it good
    return Job(
        machine_id=judging.facts.machine_id,
        codes=(task.code,),
        minutes=task.do_minutes if full else verdict.minutes,
        weight=weight,
        parts=tuple((item.part, item.quantity) for item in task.consumables) if uses_up else (),
    )


def _walk_round(looks: Sequence[Job]) -> Job:
    """All looks of a machine as one job; it weighs as much as its heaviest."""
    return Job(
        machine_id=looks[0].machine_id,
        codes=tuple(sorted(code for look in looks for code in look.codes)),
        minutes=sum(look.minutes for look in looks),
        weight=max(look.weight for look in looks),
        walk_round=True,
    )


def _one_offs(judging: Judging, close: int) -> Iterator[Job]:
    verdicts = {verdict.job_id: verdict for verdict in judging.verdict.jobs}
    for job in judging.facts.jobs:
        verdict = verdicts.get(job.job_id)
        if verdict is None or verdict.due is None:
            continue
        weight = _STATE_WEIGHT.get(verdict.state, 0)
        if job.safety and verdict.state is TaskState.OVERDUE:
            weight = SAFETY_OVERDUE
        elif job.stops_use:
            weight = max(weight, FAULT)
        yield Job(
            machine_id=judging.facts.machine_id,
            job_id=job.job_id,
            minutes=job.minutes,
            weight=weight * close,
            parts=((job.part, 1),) if job.part else (),
        )


def _fault_job(judging: Judging, fault: FaultFacts, close: int) -> Job:
    counts = fault.stops_use and fault.since.toordinal() <= _today(judging)
    return Job(
        machine_id=judging.facts.machine_id,
        fault_id=fault.fault_id,
        minutes=FAULT_MINUTES,
        weight=FAULT * close if counts else 0,
    )


# -- the choice -------------------------------------------------------------------------------


def best_set(
    jobs: Iterable[Job],
    *,
    minutes: int,
    precedence: tuple[Precedence, ...],
    on_shelf: Mapping[str, int],
    set_up_minutes: int,
) -> tuple[Job, ...]:
    """The jobs to do in so many minutes, by key.

    The greatest total weight that fits, getting at a machine counted once and no part
    used twice; ties by fewer minutes,
    fewer jobs, then the first list of codes. Work that other work would undo, if that is a job
    too, is only done together with it. Laws: never over the time; more time is never a worse set;
    the order of `jobs` does not matter.
    """
    return drained(
        choosing(
            jobs,
            minutes=minutes,
            precedence=precedence,
            on_shelf=on_shelf,
            set_up_minutes=set_up_minutes,
        )
    )


def choosing(
    jobs: Iterable[Job],
    *,
    minutes: int,
    precedence: tuple[Precedence, ...],
    on_shelf: Mapping[str, int],
    set_up_minutes: int,
) -> Generator[None, None, tuple[Job, ...]]:
    """The same in small steps, so that whoever shows it can do something else in between."""
    fleet: dict[MachineId, list[Job]] = {}
    for number, job in enumerate(jobs):
        fleet.setdefault(job.machine_id, []).append(job)
        if number % STRIDE == 0:
            yield
    here = yield from _here(fleet, on_shelf, minutes - set_up_minutes)
    splits = max(FEWEST_SPLITS, MOST_SPLITS // max(len(fleet), 1))
    scarce, here = _scarce(here, on_shelf, splits)
    spoils = _spoils(precedence)
    choices: list[Choices[Job]] = []
    for number in sorted(fleet):
        jobs_here = sorted(set(fleet[number]), key=_KEY)
        choices.append(_choices(jobs_here, here, spoils, tuple(scarce)))
        if len(choices) % STRIDE == 0:
            yield
    shelf = tuple(scarce.values())
    steps = best(choices, minutes=minutes, set_up=set_up_minutes, key=_KEY, shelf=shelf)
    return (yield from steps)


_KEY = attrgetter("key")
# In how many ways the search keeps scarce parts apart, all machines together; past it, pieces go
# to the heaviest job.
MOST_SPLITS = 768
FEWEST_SPLITS = 2


def _here(
    fleet: Mapping[MachineId, list[Job]], on_shelf: Mapping[str, int], minutes: int
) -> Generator[None, None, set[Job]]:
    """The jobs that fit into the minutes at the machine, each by itself, and for which by itself
    the parts lie ready."""
    here: set[Job] = set()
    for number, jobs in enumerate(fleet.values()):
        if number % STRIDE == 0:
            yield
        here.update(
            job
            for job in jobs
            if job.minutes <= minutes and all(on_shelf.get(part, 0) >= n for part, n in job.parts)
        )
    return here


def _scarce(
    here: set[Job], on_shelf: Mapping[str, int], most: int
) -> tuple[dict[str, int], set[Job]]:
    """Pieces of each part that more jobs want than there are, and the jobs that may be chosen.

    Which of them gets a piece is settled by the search. Decision: where the ways to share them out
    are too many for it, the pieces of the most plentiful parts go to the heaviest jobs first.
    """
    wanted: Counter[str] = Counter()
    for job in here:
        wanted.update(dict(job.parts))
    scarce = {part: on_shelf[part] for part in sorted(wanted) if wanted[part] > on_shelf[part]}
    shared: dict[str, int] = {}
    splits = 1
    for part in sorted(scarce, key=lambda part: (scarce[part], part)):
        if splits * (scarce[part] + 1) > most:
            break
        splits *= scarce[part] + 1
        shared[part] = scarce[part]
    given = Counter({part: pieces for part, pieces in scarce.items() if part not in shared})
    if not given:
        return shared, here
    kept: set[Job] = set()
    for job in sorted(here, key=lambda job: (-job.weight, job.key)):
        wants = {part: pieces for part, pieces in job.parts if part in scarce.keys() - shared}
        if all(given[part] >= pieces for part, pieces in wants.items()):
            given.subtract(wants)
            kept.add(job)
    return shared, kept


@lru_cache(maxsize=16)
def _spoils(precedence: tuple[Precedence, ...]) -> Mapping[TaskCode, frozenset[TaskCode]]:
    """For each task those that would undo it when done after it."""
    found: dict[TaskCode, set[TaskCode]] = {}
    for pair in precedence:
        if pair.sort is PairSort.SPOILS:
            found.setdefault(pair.after, set()).add(pair.before)
    return {code: frozenset(codes) for code, codes in found.items()}


def _choices(
    jobs: Sequence[Job],
    here: AbstractSet[Job],
    spoils: Mapping[TaskCode, frozenset[TaskCode]],
    scarce: Sequence[str],
) -> Choices[Job]:
    """What can be taken at one machine, each after what it needs; jobs that need one another (a
    walk-round may make such a circle) are taken together or not at all."""
    home = {code: job for job in jobs for code in job.codes}
    needs = {
        job: {home[a] for code in job.codes for a in spoils.get(code, ()) if a in home} | {job}
        for job in jobs
    }
    for job in jobs:
        waiting = list(needs[job])
        while waiting:
            fresh = needs[waiting.pop()] - needs[job]
            needs[job] |= fresh
            waiting += fresh
    bundles: dict[frozenset[Job], list[Job]] = {}
    for job in jobs:
        if needs[job] <= here:
            bundles.setdefault(frozenset(needs[job]), []).append(job)
    order = sorted(bundles, key=len)
    place = {job: number for number, whole in enumerate(order) for job in bundles[whole]}
    return tuple(
        Bundle(
            jobs=tuple(bundles[whole]),
            needs=frozenset(place[job] for job in whole) - {number},
            shape=tuple((job.codes, job.minutes, job.weight) for job in bundles[whole]),
            pieces=tuple(
                sum(dict(job.parts).get(part, 0) for job in bundles[whole]) for part in scarce
            ),
        )
        for number, whole in enumerate(order)
    )


# -- in working order -------------------------------------------------------------------------


def visits(
    chosen: Iterable[Job],
    judgings: Mapping[MachineId, Judging],
    *,
    precedence: tuple[Precedence, ...],
    set_up_minutes: int,
) -> tuple[Visit, ...]:
    """The chosen jobs machine by machine, the heaviest machine first. At each one faults, then
    tasks in working order (a look is its own line, marked), then one-offs.

    Raises KeyError for a machine without a judging.
    """
    by_machine: dict[MachineId, list[Job]] = {}
    for job in chosen:
        by_machine.setdefault(job.machine_id, []).append(job)
    found = [
        Visit(
            machine_id=number,
            minutes=set_up_minutes + sum(job.minutes for job in jobs),
            jobs=tuple(sorted(jobs, key=_KEY)),
            lines=_lines(jobs, judgings[number], precedence),
        )
        for number, jobs in by_machine.items()
    ]
    weight = {visit.machine_id: max(job.weight for job in visit.jobs) for visit in found}
    return tuple(sorted(found, key=lambda visit: (-weight[visit.machine_id], visit.machine_id)))


def _lines(
    jobs: Sequence[Job], judging: Judging, precedence: tuple[Precedence, ...]
) -> tuple[ToDo, ...]:
    home = {code: job for job in jobs for code in job.codes}
    tasks = {code: judging.task(code) for code in home}
    minutes = {verdict.code: verdict.minutes for verdict in judging.verdict.tasks}
    order = order_of_work(home, tasks=tasks, minutes=minutes, precedence=precedence)
    faults = [
        ToDo(fault_id=job.fault_id, minutes=job.minutes) for job in jobs if job.fault_id is not None
    ]
    work = [
        ToDo(
            code=code,
            minutes=minutes[code] if home[code].walk_round else home[code].minutes,
            look=home[code].walk_round,
            parts=home[code].parts,
        )
        for code in order
    ]
    one_offs = [
        ToDo(job_id=job.job_id, minutes=job.minutes, parts=job.parts)
        for job in jobs
        if job.job_id is not None
    ]
    return (*faults, *work, *one_offs)


def what_to_do(
    fleet: Iterable[tuple[Judging, PreSeason]],
    *,
    minutes: int,
    policy: Policy,
    precedence: tuple[Precedence, ...],
    on_shelf: Mapping[str, int],
) -> tuple[Visit, ...]:
    """The best work for so many minutes, machine by machine, in working order.

    `on_shelf`: pieces by part. The whole way from verdicts to a list that can be worked through.
    """
    judged = tuple(fleet)
    chosen = best_set(
        (job for judging, season in judged for job in jobs_of(judging, season)),
        minutes=minutes,
        precedence=precedence,
        on_shelf=on_shelf,
        set_up_minutes=policy.set_up_minutes,
    )
    return visits(
        chosen,
        {judging.facts.machine_id: judging for judging, _ in judged},
        precedence=precedence,
        set_up_minutes=policy.set_up_minutes,
    )
