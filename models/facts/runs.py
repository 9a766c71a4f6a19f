"""Reads of runs: those that are open, one whole, and what is off or open at the machines."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.tables.runs import (
    LeftOffRow,
    NotYetRow,
    RunMachineRow,
    RunRow,
    RunStepRow,
    RunTimerRow,
)
from models.words import StepAnswer
from schedules.facts import MachineId, TaskCode
from schedules.sitting_facts import FuelEffect, FuelRoute, LeftCode, RunSort, StepCode, StepKey


@dataclass(frozen=True, slots=True, kw_only=True)
class TimerFacts:
    """What runs on by itself: the place of its step, since when, for how long."""

    place: int
    started_at: datetime
    minutes: int

    @property
    def ends_at(self) -> datetime:
        """The instant at which it is over, in UTC."""
        return self.started_at + timedelta(minutes=self.minutes)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunStepFacts:
    """A step of a run as it was laid down, and its answer."""

    place: int
    code: StepCode
    machine_ids: tuple[MachineId, ...]
    minutes: int
    wait_minutes: int
    tasks: tuple[TaskCode, ...]
    passes: tuple[TaskCode, ...]
    leaves: tuple[LeftCode, ...]
    puts_back: tuple[LeftCode, ...]
    fuel: FuelEffect | None
    answer: StepAnswer | None
    answered_on: date | None
    answered_by: str
    why: str
    job_id: int | None
    fault_id: int | None

    @property
    def key(self) -> StepKey:
        """What the step is known by where it is laid down."""
        return StepKey(self.code, self.machine_ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunMachineFacts:
    """A machine of a run."""

    machine_id: MachineId
    route: FuelRoute
    sleep_last: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RunFacts:
    """One run, whole."""

    run_id: int
    sort: RunSort
    begun_on: date
    begun_by: str
    left_on: date | None
    waits_for: str
    finished_on: date | None
    note: str
    machines: tuple[RunMachineFacts, ...]
    steps: tuple[RunStepFacts, ...]
    timers: tuple[TimerFacts, ...]

    @property
    def remaining(self) -> tuple[RunStepFacts, ...]:
        """The steps without an answer, in their order."""
        return tuple(step for step in self.steps if step.answer is None)


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOffFacts:
    """Something off, shut or open at a machine since a day, and where it is kept."""

    machine_id: MachineId
    code: LeftCode
    since_on: date
    kept: str
    run_id: int | None


def read_runs(
    session: Session, *, only: Collection[int] | None = None, finished: bool = False
) -> tuple[RunFacts, ...]:
    """Runs, the newest last; `only`: these, finished or not; else those that are open, with
    `finished` all. Four queries, however many there are."""
    wanted = select(RunRow).order_by(RunRow.id)
    if only is not None:
        wanted = wanted.where(RunRow.id.in_(only))
    elif not finished:
        wanted = wanted.where(RunRow.finished_on.is_(None))
    rows = session.scalars(wanted).all()
    numbers = [row.id for row in rows]
    machines: dict[int, list[RunMachineFacts]] = {number: [] for number in numbers}
    for machine in session.scalars(
        select(RunMachineRow).where(RunMachineRow.run_id.in_(numbers)).order_by(RunMachineRow.id)
    ):
        machines[machine.run_id].append(
            RunMachineFacts(
                machine_id=MachineId(machine.machine_id),
                route=machine.route,
                sleep_last=machine.sleep_last,
            )
        )
    timers: dict[int, list[TimerFacts]] = {number: [] for number in numbers}
    for timer in session.scalars(
        select(RunTimerRow).where(RunTimerRow.run_id.in_(numbers)).order_by(RunTimerRow.id)
    ):
        timers[timer.run_id].append(
            TimerFacts(place=timer.place, started_at=timer.started_at, minutes=timer.minutes)
        )
    steps = _steps(session, numbers)
    return tuple(
        RunFacts(
            run_id=row.id,
            sort=row.sort,
            begun_on=row.begun_on,
            begun_by=row.begun_by,
            left_on=row.left_on,
            waits_for=row.waits_for,
            finished_on=row.finished_on,
            note=row.note,
            machines=tuple(machines[row.id]),
            steps=tuple(steps[row.id]),
            timers=tuple(timers[row.id]),
        )
        for row in rows
    )


def _steps(session: Session, runs: list[int]) -> dict[int, list[RunStepFacts]]:
    found: dict[int, dict[int, list[RunStepRow]]] = {number: {} for number in runs}
    for row in session.scalars(
        select(RunStepRow)
        .where(RunStepRow.run_id.in_(runs))
        .order_by(RunStepRow.run_id, RunStepRow.place, RunStepRow.id)
    ):
        found[row.run_id].setdefault(row.place, []).append(row)
    return {number: [_step(rows) for rows in places.values()] for number, places in found.items()}


def _step(rows: list[RunStepRow]) -> RunStepFacts:
    """One step from its rows, one for each machine."""
    first = rows[0]
    return RunStepFacts(
        place=first.place,
        code=StepCode(first.step_code),
        machine_ids=tuple(MachineId(row.machine_id) for row in rows),
        minutes=first.minutes,
        wait_minutes=first.wait_minutes,
        tasks=tuple(TaskCode(code) for code in first.tasks.split()),
        passes=tuple(TaskCode(code) for code in first.passes.split()),
        leaves=tuple(LeftCode(code) for code in first.leaves.split()),
        puts_back=tuple(LeftCode(code) for code in first.puts_back.split()),
        fuel=first.fuel,
        answer=first.answer,
        answered_on=first.answered_on,
        answered_by=first.answered_by,
        why=first.why,
        job_id=first.job_id,
        fault_id=first.fault_id,
    )


def read_left_off(
    session: Session, *, only: Collection[int] | None = None
) -> tuple[LeftOffFacts, ...]:
    """What is off or open now, the first left the first named. One query."""
    wanted = select(LeftOffRow).where(LeftOffRow.back_on.is_(None)).order_by(LeftOffRow.id)
    if only is not None:
        wanted = wanted.where(LeftOffRow.machine_id.in_(only))
    return tuple(
        LeftOffFacts(
            machine_id=MachineId(row.machine_id),
            code=LeftCode(row.left_code),
            since_on=row.since_on,
            kept=row.kept,
            run_id=row.run_id,
        )
        for row in session.scalars(wanted)
    )


def read_not_yet(session: Session, machine_id: int) -> tuple[date, ...]:
    """The days on which *was that the last one?* was answered with not yet. One query."""
    return tuple(
        session.scalars(
            select(NotYetRow.said_on)
            .where(NotYetRow.machine_id == machine_id)
            .order_by(NotYetRow.said_on)
        )
    )
