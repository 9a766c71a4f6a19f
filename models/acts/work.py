"""Work: what was done to a machine in one going, and what was passed over."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import exists, select
from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.hours import Lower, ReadHours
from models.acts.known import part_of, task_of
from models.acts.readings import Measured, enter_reading
from models.acts.report import report
from models.acts.rows import (
    Machine,
    day_of,
    fitted_on,
    item_for,
    machine_of,
    machines_of,
    row_of,
)
from models.acts.shelf import take_off, used_with
from models.changes import ActCode, ActLabel, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.entries import in_force
from models.tables.hours import HoursReadingRow
from models.tables.machines import ItemRow
from models.tables.stores import SheetRow
from models.tables.work import JobRow, WorkLineRow, WorkRow
from models.words import LineOutcome
from schedules.units import Typed

MOST_CENTS = 10**11
MOST_MINUTES = 100_000
MOST_PARTS = 10_000
DOES_A_JOB = frozenset({LineOutcome.DONE, LineOutcome.REPLACED, LineOutcome.ASSUMED})


@dataclass(frozen=True, slots=True, kw_only=True)
class LineGiven:
    """A task of the machine's kind or a job, how it went, what it took. `item_id` names one of
    several like units (two packs). `cents` is what its parts cost."""

    task: str | None = None
    job_id: int | None = None
    outcome: LineOutcome = LineOutcome.DONE
    item_id: int | None = None
    part: str | None = None
    part_text: str = ""
    quantity: int = 0
    cents: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordWork:
    """One going at a machine. `cents` went to a workshop, `minutes` is own time.

    `shown_seconds`: what the hour meter showed then. `sheet_id`: the sheet it was read off.
    What its lines used up comes off the shelf, where it lies there; a correction takes or puts
    back the difference.
    """

    machine_id: int
    day: date
    lines: tuple[LineGiven, ...]
    measured: tuple[Measured, ...] = ()
    by_whom: str = ""
    minutes: int | None = None
    cents: int | None = None
    shown_seconds: int | None = None
    shown_typed: Typed | None = None
    lower: Lower | None = None
    sheet_id: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        if not self.lines and not self.measured:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="lines")
        work = self._work(session, machine, corrects)
        session.add(work)
        session.flush()
        touched = [(Area.MACHINES, machine.number), (Area.WORK, work.id)]
        closing: set[int] = set()
        units = fitted_on(session, machine, self.day)
        items: set[int] = set()
        for line in self.lines:
            row = self._line(session, machine, work.id, line, closing, units)
            session.add(row)
            items.add(row.item_id)
            if line.job_id is not None:
                touched.append((Area.JOBS, line.job_id))
        session.flush()
        used = used_with(session, work.id)
        used.subtract(used_with(session, corrects))
        touched += take_off(session, used)
        for measured in self.measured:
            reading = enter_reading(
                session, machine, measured, day=self.day, corrects=None, work_id=work.id
            )
            touched.append((Area.READINGS, reading.id))
            items.add(reading.item_id)
        if self.shown_seconds is not None:
            touched += self._hours(session, moment, work.id, corrects).ids
        touched += [(Area.MACHINES, number) for number in machines_of(session, items)]
        return report(
            ActCode.RECORD_WORK,
            *touched,
            name=machine.name,
            day=self.day,
            lines=len(self.lines),
        )

    def _work(self, session: Session, machine: Machine, corrects: int | None) -> WorkRow:
        if self.sheet_id is not None:
            row_of(session, SheetRow, self.sheet_id, "sheet")
        return WorkRow(
            machine_id=machine.number,
            sheet_id=self.sheet_id,
            happened_on=self.day,
            by_whom=plain_text("by_whom", self.by_whom),
            minutes=_perhaps("minutes", self.minutes, MOST_MINUTES),
            cents=_perhaps("cents", self.cents, MOST_CENTS),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
            corrects_id=corrects,
            entered_by=hand(session),
        )

    def _line(
        self,
        session: Session,
        machine: Machine,
        work_id: int,
        line: LineGiven,
        closing: set[int],
        units: list[ItemRow],
    ) -> WorkLineRow:
        if line.task is None and line.job_id is None:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="task")
        item = machine.item
        if line.task is not None:
            task = task_of(machine.kind, line.task)
            item = item_for(session, machine, task.item, self.day, line.item_id, units=units)
        if line.job_id is not None:
            job = self._job(session, machine, line, closing)
            if line.task is None and job.item_id is not None:
                item = row_of(session, ItemRow, job.item_id, "unit")
        return WorkLineRow(
            work_id=work_id,
            item_id=item.id,
            task_code=line.task,
            job_id=line.job_id,
            outcome=line.outcome,
            part_code=None if line.part is None else part_of(line.part),
            part_text=plain_text("part_text", line.part_text),
            quantity=whole("quantity", line.quantity, 0, MOST_PARTS),
            cents=_perhaps("cents", line.cents, MOST_CENTS),
            note=plain_text("note", line.note, most=NOTE_LENGTH),
        )

    def _job(
        self, session: Session, machine: Machine, line: LineGiven, closing: set[int]
    ) -> JobRow:
        """An open job of the machine, noted by the day; one line does it."""
        number = line.job_id or 0
        job = row_of(session, JobRow, number, "job")
        if job.machine_id != machine.number:
            raise Refused(RefusedCode.NOT_THERE, what="job", id=number)
        if self.day < job.noted_on:
            raise Refused(RefusedCode.DAY_TOO_EARLY, field="day", day=self.day, first=job.noted_on)
        if number in closing or not is_open(session, job):
            raise Refused(RefusedCode.CLOSED_ALREADY, what="job", id=number)
        if line.outcome in DOES_A_JOB:
            closing.add(number)
        return job

    def _hours(
        self, session: Session, moment: Moment, work_id: int, corrects: int | None
    ) -> Changes:
        reading = ReadHours(
            machine_id=self.machine_id,
            day=self.day,
            shown_seconds=self.shown_seconds or 0,
            typed=self.shown_typed,
            lower=self.lower,
        )
        without = frozenset(
            session.scalars(
                select(HoursReadingRow.id).where(HoursReadingRow.work_id == (corrects or 0))
            )
        )
        return reading.enter(session, moment, corrects=None, without=without, work_id=work_id)


def is_open(session: Session, job: JobRow) -> bool:
    """Whether a job was neither dropped nor done by a line of a record in force."""
    done = exists().where(
        WorkLineRow.job_id == job.id,
        WorkLineRow.outcome.in_(DOES_A_JOB),
        WorkLineRow.work_id == WorkRow.id,
        in_force(WorkRow),
    )
    return job.dropped_on is None and not session.scalar(select(done))


@dataclass(frozen=True, slots=True, kw_only=True)
class PassOver:
    """Tasks taken as done on a day, though nobody knows: the clock runs from there."""

    machine_id: int
    day: date
    tasks: tuple[str, ...]
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        lines = tuple(
            LineGiven(task=task, outcome=LineOutcome.ASSUMED) for task in dict.fromkeys(self.tasks)
        )
        work = RecordWork(machine_id=self.machine_id, day=self.day, lines=lines, note=self.note)
        done = work.run(session, moment)
        return replace(done, label=ActLabel(ActCode.PASS_OVER, done.label.values))


def _perhaps(field: str, value: int | None, most: int) -> int | None:
    return None if value is None else whole(field, value, 0, most)
