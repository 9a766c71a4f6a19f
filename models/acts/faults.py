"""Faults: something is wrong, is put off, is put right."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.report import report
from models.acts.rows import day_of, fitted_on, machine_of, row_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.work import FaultRow


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteFault:
    """Something is wrong with the machine (or a unit on it) since a day."""

    machine_id: int
    text: str
    since_on: date
    stops_use: bool = False
    item_id: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "since_on", self.since_on, moment.today)
        if self.item_id is not None and self.item_id != machine.item.id:
            units = {unit.id for unit in fitted_on(session, machine, self.since_on)}
            if self.item_id not in units:
                raise Refused(RefusedCode.NOT_THERE, what="unit", id=self.item_id)
        row = FaultRow(
            machine_id=machine.number,
            item_id=self.item_id,
            text=plain_text("text", self.text, least=1),
            since_on=self.since_on,
            stops_use=self.stops_use,
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(row)
        session.flush()
        return _report(ActCode.NOTE_FAULT, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeFault:
    """Change what is given of an open fault."""

    fault_id: int
    text: str | Keep = KEEP
    stops_use: bool | Keep = KEEP
    note: str | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused CLOSED_ALREADY."""
        row = _open_fault(session, self.fault_id)
        before = as_it_is(row)
        row.text = plain_text("text", kept(self.text, row.text), least=1)
        row.stops_use = kept(self.stops_use, row.stops_use)
        row.note = plain_text("note", kept(self.note, row.note), most=NOTE_LENGTH)
        refuse_unchanged(row, before)
        return _report(ActCode.CHANGE_FAULT, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class PutOffFault:
    """The repair is put off from a day on; `on` None: it is not any more."""

    fault_id: int
    on: date | None

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused CLOSED_ALREADY."""
        row = _open_fault(session, self.fault_id)
        if self.on == row.put_off_on:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        if self.on is not None:
            checked_day("on", self.on, first=row.since_on, today=moment.today)
        row.put_off_on = self.on
        return _report(ActCode.CHANGE_FAULT, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseFault:
    """It is put right since a day, and how."""

    fault_id: int
    on: date
    how: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused CLOSED_ALREADY."""
        row = _open_fault(session, self.fault_id)
        checked_day("on", self.on, first=row.since_on, today=moment.today)
        row.closed_on = self.on
        row.closed_how = plain_text("how", self.how)
        return _report(ActCode.CLOSE_FAULT, row)


def _open_fault(session: Session, number: int) -> FaultRow:
    row = row_of(session, FaultRow, number, "fault")
    if row.closed_on is not None:
        raise Refused(RefusedCode.CLOSED_ALREADY, what="fault", id=number)
    return row


def _report(code: ActCode, row: FaultRow) -> Changes:
    touched = ((Area.FAULTS, row.id), (Area.MACHINES, row.machine_id))
    return report(code, *touched, name=row.text)
