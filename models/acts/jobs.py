"""Jobs: one-offs beside the plan, noted, changed, dropped; a line of work does them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.report import report
from models.acts.rows import day_of, fitted_on, machine_of, row_of
from models.acts.work import MOST_MINUTES, is_open
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.hours import LONGEST_RUN
from models.tables.work import FaultRow, JobRow
from schedules.facts import Phase


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteJob:
    """A one-off: due on a day, at a total of run time, in a phase, when something has come, or
    undated. `item_id`: the unit it is on; `fault_id`: the fault it is about."""

    machine_id: int
    text: str
    noted_on: date
    due_on: date | None = None
    at_seconds: int | None = None
    phase: Phase | None = None
    waits_for: str = ""
    minutes: int = 0
    part: str = ""
    safety: bool = False
    stops_use: bool = False
    item_id: int | None = None
    fault_id: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "noted_on", self.noted_on, moment.today)
        if self.item_id is not None and self.item_id != machine.item.id:
            units = {unit.id for unit in fitted_on(session, machine, self.noted_on)}
            if self.item_id not in units:
                raise Refused(RefusedCode.NOT_THERE, what="unit", id=self.item_id)
        if self.fault_id is not None:
            fault = row_of(session, FaultRow, self.fault_id, "fault")
            if fault.machine_id != machine.number:
                raise Refused(RefusedCode.NOT_THERE, what="fault", id=self.fault_id)
        row = JobRow(
            machine_id=machine.number,
            item_id=self.item_id,
            fault_id=self.fault_id,
            text=plain_text("text", self.text, least=1),
            noted_on=self.noted_on,
            due_on=_due(self.due_on, self.noted_on),
            at_seconds=_at(self.at_seconds),
            phase=self.phase,
            waits_for=plain_text("waits_for", self.waits_for),
            minutes=whole("minutes", self.minutes, 0, MOST_MINUTES),
            part=plain_text("part", self.part),
            safety=self.safety,
            stops_use=self.stops_use,
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(row)
        session.flush()
        return _report(ActCode.NOTE_JOB, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeJob:
    """Change what is given of an open job."""

    job_id: int
    text: str | Keep = KEEP
    due_on: date | Keep | None = KEEP
    at_seconds: int | Keep | None = KEEP
    phase: Phase | Keep | None = KEEP
    waits_for: str | Keep = KEEP
    minutes: int | Keep = KEEP
    part: str | Keep = KEEP
    safety: bool | Keep = KEEP
    stops_use: bool | Keep = KEEP
    note: str | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused CLOSED_ALREADY."""
        row = _open_job(session, self.job_id)
        before = as_it_is(row)
        row.text = plain_text("text", kept(self.text, row.text), least=1)
        row.due_on = _due(kept(self.due_on, row.due_on), row.noted_on)
        row.at_seconds = _at(kept(self.at_seconds, row.at_seconds))
        row.phase = kept(self.phase, row.phase)
        row.waits_for = plain_text("waits_for", kept(self.waits_for, row.waits_for))
        row.minutes = whole("minutes", kept(self.minutes, row.minutes), 0, MOST_MINUTES)
        row.part = plain_text("part", kept(self.part, row.part))
        row.safety = kept(self.safety, row.safety)
        row.stops_use = kept(self.stops_use, row.stops_use)
        row.note = plain_text("note", kept(self.note, row.note), most=NOTE_LENGTH)
        refuse_unchanged(row, before)
        return _report(ActCode.CHANGE_JOB, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class DropJob:
    """The job will not be done, and why."""

    job_id: int
    on: date
    why: str

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused CLOSED_ALREADY."""
        row = _open_job(session, self.job_id)
        checked_day("on", self.on, first=row.noted_on, today=moment.today)
        row.dropped_on = self.on
        row.dropped_why = plain_text("why", self.why, least=1)
        return _report(ActCode.DROP_JOB, row)


def _open_job(session: Session, number: int) -> JobRow:
    row = row_of(session, JobRow, number, "job")
    if not is_open(session, row):
        raise Refused(RefusedCode.CLOSED_ALREADY, what="job", id=number)
    return row


def _due(day: date | None, noted_on: date) -> date | None:
    return None if day is None else checked_day("due_on", day, first=noted_on)


def _at(seconds: int | None) -> int | None:
    return None if seconds is None else whole("at_seconds", seconds, 0, LONGEST_RUN)


def _report(code: ActCode, row: JobRow) -> Changes:
    touched = [(Area.JOBS, row.id)]
    if row.machine_id is not None:
        touched.append((Area.MACHINES, row.machine_id))
    return report(code, *touched, name=row.text)
