"""The day a machine came, said anew: what has stood with it since that day moves along."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.acts.meters import Point, check_points, points_of
from models.acts.report import report
from models.acts.rows import Machine, machine_of, machines_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.moment import Moment
from models.tables.base import FIRST_DAY
from models.tables.fuel import FuelEventRow, VesselRow
from models.tables.hours import HoursReadingRow, InferredPointRow, MeterRow, UseRow
from models.tables.machines import FittingRow, ItemRow, MachinePlaceRow
from models.tables.work import FaultRow, JobRow, LimitReadingRow, StorageSpellRow, WorkRow


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeComing:
    """The machine came on another day, and its engine, tank and meter with it."""

    machine_id: int
    came_on: date

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; DAY_OUT_OF_RANGE when something was entered for a day before it."""
        machine = machine_of(session, self.machine_id)
        before = machine.item.came_on
        checked_day("came_on", self.came_on, today=moment.today)
        if self.came_on == before:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        last = _last_possible(session, machine)
        if last is not None and self.came_on > last:
            raise Refused(
                RefusedCode.DAY_OUT_OF_RANGE,
                field="came_on",
                day=self.came_on,
                first=FIRST_DAY,
                last=last,
            )
        self._meters(session, machine, before)
        machine.item.came_on = self.came_on
        self._place(session, machine)
        units = self._units(session, machine, before)
        machines = {machine.number, *machines_of(session, units)}
        touched = [(Area.MACHINES, number) for number in sorted(machines)]
        touched += [(Area.UNITS, unit) for unit in units]
        for vessel in session.scalars(
            select(VesselRow).where(
                VesselRow.machine_id == machine.number, VesselRow.came_on == before
            )
        ).all():
            vessel.came_on = self.came_on
            touched.append((Area.FUEL, vessel.id))
        return report(ActCode.CHANGE_MACHINE, *touched, name=machine.name, day=self.came_on)

    def _meters(self, session: Session, machine: Machine, before: date) -> None:
        """A meter that counts from the day it came does so from the new one."""
        for meter in session.scalars(
            select(MeterRow).where(MeterRow.item_id == machine.item.id, MeterRow.from_on == before)
        ).all():
            if machine.item.start_seconds is None:
                continue
            start = Point(day=self.came_on, shown=meter.start_seconds, new=True)
            check_points([start, *points_of(session, meter)[1:]], meter.modulus_seconds)
            meter.from_on = self.came_on

    def _place(self, session: Session, machine: Machine) -> None:
        """Where it stood first, it stood from the day it came."""
        first = session.scalars(
            select(MachinePlaceRow)
            .where(MachinePlaceRow.machine_id == machine.number)
            .order_by(MachinePlaceRow.from_on)
            .limit(1)
        ).first()
        if first is not None:
            first.from_on = self.came_on

    def _units(self, session: Session, machine: Machine, before: date) -> list[int]:
        """Units that were on it from the first are so still."""
        moved: list[int] = []
        for fitting, unit in session.execute(
            select(FittingRow, ItemRow)
            .join(ItemRow, ItemRow.id == FittingRow.item_id)
            .where(FittingRow.machine_id == machine.number, FittingRow.from_on == before)
        ).all():
            if unit.came_on == before:
                unit.came_on = self.came_on
            elif unit.came_on > self.came_on:
                raise Refused(
                    RefusedCode.DAY_TOO_EARLY,
                    field="came_on",
                    day=self.came_on,
                    first=unit.came_on,
                )
            fitting.from_on = self.came_on
            moved.append(unit.id)
        return moved


def _last_possible(session: Session, machine: Machine) -> date | None:
    """The last day it can have come: nothing that was entered for it lies before."""
    number, item, came_on = machine.number, machine.item.id, machine.item.came_on
    vessels = select(VesselRow.id).where(VesselRow.machine_id == number)
    meters = select(MeterRow.id).where(MeterRow.item_id == item)
    things = select(FittingRow.item_id).where(FittingRow.machine_id == number)
    asked: list[tuple[Any, Any]] = [
        (UseRow.happened_on, UseRow.machine_id == number),
        (WorkRow.happened_on, WorkRow.machine_id == number),
        (LimitReadingRow.happened_on, LimitReadingRow.item_id == item),
        (LimitReadingRow.happened_on, LimitReadingRow.item_id.in_(things)),
        (InferredPointRow.happened_on, InferredPointRow.item_id == item),
        (HoursReadingRow.happened_on, HoursReadingRow.meter_id.in_(meters)),
        (MeterRow.ended_on, MeterRow.item_id == item),
        (FuelEventRow.happened_on, FuelEventRow.vessel_id.in_(vessels)),
        (FuelEventRow.happened_on, FuelEventRow.to_vessel_id.in_(vessels)),
        (VesselRow.retired_on, VesselRow.machine_id == number),
        (StorageSpellRow.put_away_on, StorageSpellRow.machine_id == number),
        (FaultRow.since_on, FaultRow.machine_id == number),
        (JobRow.noted_on, JobRow.machine_id == number),
        (FittingRow.off_on, FittingRow.machine_id == number),
        (FittingRow.from_on, (FittingRow.machine_id == number) & (FittingRow.from_on > came_on)),
        (ItemRow.retired_on, ItemRow.id == item),
    ]
    days = [session.scalar(select(func.min(column)).where(where)) for column, where in asked]
    moved = session.scalar(
        select(func.min(MachinePlaceRow.from_on)).where(
            MachinePlaceRow.machine_id == number, MachinePlaceRow.from_on > came_on
        )
    )
    if moved is not None:
        days.append(moved - timedelta(days=1))
    found = [day for day in days if day is not None]
    return min(found) if found else None
