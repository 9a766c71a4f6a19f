"""Units: engines, packs, batteries, gear cases; what is on which machine from when to when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.known import unknown
from models.acts.meters import restart
from models.acts.plate import NOTHING_READ, Plate, put_plate
from models.acts.report import report
from models.acts.rows import Machine, day_of, fitted_on, machine_of, machines_of, unit_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.hours import LONGEST_RUN
from models.tables.machines import FittingRow, ItemRow
from schedules.facts import ItemSort, Past


@dataclass(frozen=True, slots=True, kw_only=True)
class AddUnit:
    """A unit comes in; with `machine_id` it is fitted to that machine from the same day.

    `start_seconds`: its run time in all on the day it came; nil for a new one, else unknown.
    """

    sort: ItemSort
    name: str
    came_on: date
    past: Past = Past.UNKNOWN
    start_seconds: int | None = None
    machine_id: int | None = None
    plate: Plate = NOTHING_READ
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        if self.sort is ItemSort.MACHINE:
            raise unknown("sort", self.sort)
        start = self.start_seconds
        if start is None:
            start = 0 if self.past is Past.NEW else None
        row = ItemRow(
            sort=self.sort,
            name=plain_text("name", self.name, least=1),
            came_on=checked_day("came_on", self.came_on, today=moment.today),
            past=self.past,
            start_seconds=_start(start),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        put_plate(row, self.plate)
        session.add(row)
        session.flush()
        touched = [(Area.UNITS, row.id)]
        if self.machine_id is not None:
            fit = FitUnit(unit_id=row.id, machine_id=self.machine_id, on=self.came_on)
            touched += fit.run(session, moment).ids
        return report(ActCode.ADD_UNIT, *touched, name=row.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeUnit:
    """Change what is given."""

    unit_id: int
    name: str | Keep = KEEP
    past: Past | Keep = KEEP
    start_seconds: int | Keep | None = KEEP
    plate: Plate | Keep = KEEP
    note: str | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = unit_of(session, self.unit_id)
        before = as_it_is(row)
        row.name = plain_text("name", kept(self.name, row.name), least=1)
        row.past = kept(self.past, row.past)
        row.note = plain_text("note", kept(self.note, row.note), most=NOTE_LENGTH)
        restart(session, row, _start(kept(self.start_seconds, row.start_seconds)))
        if not isinstance(self.plate, Keep):
            put_plate(row, self.plate)
        refuse_unchanged(row, before)
        return report(ActCode.CHANGE_UNIT, *_touched(session, row), name=row.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class FitUnit:
    """The unit is on the machine from a day on. A pack may be on several at once; an engine has
    to be taken off before another takes its place."""

    unit_id: int
    machine_id: int
    on: date

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused STILL_FITTED."""
        unit = unit_of(session, self.unit_id)
        machine = machine_of(session, self.machine_id)
        day_of(unit, "on", self.on, moment.today)
        day_of(machine.item, "on", self.on, moment.today)
        for other, number in _fittings(session, unit, self.on):
            if unit.sort is not ItemSort.PACK or number == machine.number:
                raise Refused(RefusedCode.STILL_FITTED, name=unit.name, machine=other)
        if unit.sort is ItemSort.ENGINE:
            _no_other_engine(session, machine, self.on)
        session.add(FittingRow(item_id=unit.id, machine_id=machine.number, from_on=self.on))
        session.flush()
        return report(
            ActCode.FIT_UNIT,
            *_touched(session, unit),
            name=unit.name,
            machine=machine.name,
            day=self.on,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOffUnit:
    """The unit is off the machine again from a day on."""

    unit_id: int
    machine_id: int
    on: date

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused NOT_FITTED."""
        unit = unit_of(session, self.unit_id)
        machine = machine_of(session, self.machine_id)
        fitting = session.scalars(
            select(FittingRow).where(
                FittingRow.item_id == unit.id,
                FittingRow.machine_id == machine.number,
                FittingRow.off_on.is_(None),
            )
        ).first()
        if fitting is None:
            raise Refused(RefusedCode.NOT_FITTED, name=unit.name, machine=machine.name)
        checked_day("on", self.on, first=fitting.from_on, today=moment.today)
        fitting.off_on = self.on
        return report(
            ActCode.TAKE_OFF_UNIT,
            *_touched(session, unit),
            name=unit.name,
            machine=machine.name,
            day=self.on,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class RetireUnit:
    """The unit is gone from a day on, and off whatever it was on."""

    unit_id: int
    on: date
    why: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; RETIRED when it is gone already."""
        unit = unit_of(session, self.unit_id)
        if unit.retired_on is not None:
            raise Refused(RefusedCode.RETIRED, name=unit.name, day=unit.retired_on)
        day_of(unit, "on", self.on, moment.today)
        touched = _touched(session, unit)
        open_fittings = session.scalars(
            select(FittingRow).where(FittingRow.item_id == unit.id, FittingRow.off_on.is_(None))
        ).all()
        for fitting in open_fittings:
            checked_day("on", self.on, first=fitting.from_on)
            fitting.off_on = self.on
        unit.retired_on = self.on
        unit.retired_why = plain_text("why", self.why)
        return report(ActCode.CHANGE_UNIT, *touched, name=unit.name, day=self.on)


def _start(seconds: int | None) -> int | None:
    return None if seconds is None else whole("start_seconds", seconds, 0, LONGEST_RUN)


def _fittings(session: Session, unit: ItemRow, day: date) -> list[tuple[str, int]]:
    """Machines the unit is on that day or later: name and id."""
    numbers = session.scalars(
        select(FittingRow.machine_id).where(
            FittingRow.item_id == unit.id,
            or_(FittingRow.off_on.is_(None), FittingRow.off_on > day),
        )
    ).all()
    return [(machine_of(session, number).name, number) for number in numbers]


def _no_other_engine(session: Session, machine: Machine, day: date) -> None:
    for other in fitted_on(session, machine, day):
        if other.sort is ItemSort.ENGINE:
            raise Refused(RefusedCode.STILL_FITTED, name=other.name, machine=machine.name)


def _touched(session: Session, unit: ItemRow) -> list[tuple[Area, int]]:
    """The unit, and every machine it is or was on: shared packs are asked for on one of them."""
    machines = [(Area.MACHINES, number) for number in machines_of(session, [unit.id])]
    return [(Area.UNITS, unit.id), *machines]
