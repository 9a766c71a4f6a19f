"""What was done, measured and found, as facts by item or machine."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select, true
from sqlalchemy.orm import Session

from models.facts.scope import Ids, among
from models.tables.entries import in_force
from models.tables.work import (
    FaultRow,
    JobRow,
    LimitReadingRow,
    StorageSpellRow,
    WorkLineRow,
    WorkRow,
)
from models.words import LineOutcome, Side
from schedules.facts import (
    CheckFailed,
    Direction,
    Doing,
    FaultFacts,
    ItemId,
    JobFacts,
    JobId,
    LimitCode,
    LimitFacts,
    LimitReading,
    StorageFacts,
    TaskCode,
)

_DONE = {
    LineOutcome.DONE: (False, False),
    LineOutcome.REPLACED: (True, False),
    LineOutcome.ASSUMED: (False, True),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkFacts:
    """Doings and failed checks by item, and the jobs that a line closed."""

    doings: Mapping[int, tuple[Doing, ...]]
    failed: Mapping[int, tuple[CheckFailed, ...]]
    closed_jobs: frozenset[int]


def read_work(session: Session, *, on: date, items: Ids = None, machines: Ids = None) -> WorkFacts:
    """All lines of records in force up to the day; or only those on these `items`, and those that
    did a job of these `machines` on a thing that is on them no more."""
    wanted = true()
    if items is not None and machines is not None:
        jobs = select(JobRow.id).where(JobRow.machine_id.in_(machines))
        # Two lookups by index; an OR over two tables would read every record.
        on_items = select(WorkLineRow.id).where(WorkLineRow.item_id.in_(items))
        for_jobs = select(WorkLineRow.id).where(WorkLineRow.job_id.in_(jobs))
        wanted = WorkLineRow.id.in_(on_items.union(for_jobs))
    doings: dict[int, list[Doing]] = defaultdict(list)
    failed: dict[int, dict[TaskCode, CheckFailed]] = defaultdict(dict)
    closed: set[int] = set()
    for item, task, job, outcome, day in session.execute(
        select(
            WorkLineRow.item_id,
            WorkLineRow.task_code,
            WorkLineRow.job_id,
            WorkLineRow.outcome,
            WorkRow.happened_on,
        )
        .join(WorkRow, WorkRow.id == WorkLineRow.work_id)
        .where(in_force(WorkRow), WorkRow.happened_on <= on, wanted)
        .order_by(WorkRow.happened_on, WorkLineRow.id)
    ):
        if outcome in _DONE:
            replaced, assumed = _DONE[outcome]
            if job is not None:
                closed.add(job)
            if task is not None:
                code = TaskCode(task)
                doing = Doing(code=code, day=day, replaced=replaced, assumed=assumed)
                doings[item].append(doing)
                failed[item].pop(code, None)
        elif outcome is LineOutcome.FAILED and task is not None:
            code = TaskCode(task)
            failed[item][code] = CheckFailed(code=code, day=day)
    return WorkFacts(
        doings={item: tuple(done) for item, done in doings.items()},
        failed={item: tuple(checks.values()) for item, checks in failed.items() if checks},
        closed_jobs=frozenset(closed),
    )


def read_readings(
    session: Session, *, on: date, limits: Mapping[LimitCode, LimitFacts], items: Ids = None
) -> dict[int, tuple[LimitReading, ...]]:
    """Measurements by item; of two sides measured on one day the worse one counts."""
    found: dict[int, dict[tuple[str, str, date, bool, int], dict[Side | None, LimitReading]]]
    found = defaultdict(dict)
    for number, item, task, limit, day, amount, seen, after, side in session.execute(
        select(
            LimitReadingRow.id,
            LimitReadingRow.item_id,
            LimitReadingRow.task_code,
            LimitReadingRow.limit_code,
            LimitReadingRow.happened_on,
            LimitReadingRow.amount,
            LimitReadingRow.seen,
            LimitReadingRow.after_work,
            LimitReadingRow.side,
        )
        .where(
            in_force(LimitReadingRow),
            LimitReadingRow.happened_on <= on,
            among(LimitReadingRow.item_id, items),
        )
        .order_by(LimitReadingRow.happened_on, LimitReadingRow.after_work, LimitReadingRow.id)
    ):
        reading = LimitReading(
            code=TaskCode(task),
            limit=LimitCode(limit),
            day=day,
            amount=amount,
            seen=seen,
            after_work=after,
        )
        key = (task, limit, day, after, 0 if side is not None else number)
        found[item].setdefault(key, {})[side] = reading
    return {
        item: tuple(_worse(tuple(sides.values()), limits) for sides in groups.values())
        for item, groups in found.items()
    }


def _worse(
    readings: tuple[LimitReading, ...], limits: Mapping[LimitCode, LimitFacts]
) -> LimitReading:
    """The reading furthest towards where it means work."""
    limit = limits.get(readings[0].limit)
    if limit is None or len(readings) == 1:
        return readings[0]

    def badness(reading: LimitReading) -> int:
        amount = reading.amount or 0
        match limit.direction:
            case Direction.EVENT:
                return int(bool(reading.seen))
            case Direction.AT_MOST:
                return amount
            case Direction.AT_LEAST:
                return -amount
            case Direction.BETWEEN:
                below = 0 if limit.low is None else limit.low - amount
                above = 0 if limit.high is None else amount - limit.high
                return max(below, above)

    return max(readings, key=badness)


def read_storage(
    session: Session, *, on: date, machines: Ids = None
) -> dict[int, tuple[StorageFacts, ...]]:
    """Spells in storage by machine."""
    found: dict[int, list[StorageFacts]] = defaultdict(list)
    for machine, put_away, woken, planned in session.execute(
        select(
            StorageSpellRow.machine_id,
            StorageSpellRow.put_away_on,
            StorageSpellRow.woken_on,
            StorageSpellRow.planned_last,
        )
        .where(StorageSpellRow.put_away_on <= on, among(StorageSpellRow.machine_id, machines))
        .order_by(StorageSpellRow.put_away_on, StorageSpellRow.id)
    ):
        spell = StorageFacts(put_away_on=put_away, woken_on=woken, planned_last=planned)
        found[machine].append(spell)
    return {machine: tuple(spells) for machine, spells in found.items()}


def read_faults(
    session: Session, *, on: date, machines: Ids = None
) -> dict[int, tuple[FaultFacts, ...]]:
    """Faults open on the day, by machine."""
    found: dict[int, list[FaultFacts]] = defaultdict(list)
    for fault, machine, text, since, stops, put_off, closed in session.execute(
        select(
            FaultRow.id,
            FaultRow.machine_id,
            FaultRow.text,
            FaultRow.since_on,
            FaultRow.stops_use,
            FaultRow.put_off_on,
            FaultRow.closed_on,
        )
        .where(FaultRow.since_on <= on, among(FaultRow.machine_id, machines))
        .order_by(FaultRow.since_on, FaultRow.id)
    ):
        if closed is None or closed > on:
            later = put_off is not None and put_off <= on
            facts = FaultFacts(
                fault_id=fault, text=text, since=since, stops_use=stops, put_off=later
            )
            found[machine].append(facts)
    return {machine: tuple(faults) for machine, faults in found.items()}


def read_jobs(
    session: Session, *, on: date, closed: frozenset[int], machines: Ids = None
) -> dict[int, tuple[JobFacts, ...]]:
    """Jobs open on the day, by machine."""
    found: dict[int, list[JobFacts]] = defaultdict(list)
    for row in session.execute(
        select(JobRow)
        .where(JobRow.noted_on <= on, among(JobRow.machine_id, machines))
        .order_by(JobRow.noted_on, JobRow.id)
    ).scalars():
        dropped = row.dropped_on is not None and row.dropped_on <= on
        if row.machine_id is None or dropped or row.id in closed:
            continue
        job = JobFacts(
            job_id=JobId(row.id),
            item_id=None if row.item_id is None else ItemId(row.item_id),
            text=row.text,
            noted_on=row.noted_on,
            due_on=row.due_on,
            at_seconds=row.at_seconds,
            phase=row.phase,
            waits_for=row.waits_for,
            minutes=row.minutes,
            safety=row.safety,
            stops_use=row.stops_use,
            part=row.part,
        )
        found[row.machine_id].append(job)
    return {machine: tuple(jobs) for machine, jobs in found.items()}
