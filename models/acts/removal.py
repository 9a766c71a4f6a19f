"""Whether anything was ever entered for a machine, and taking out one without."""

from __future__ import annotations

from typing import Any

from sqlalchemy import ColumnElement, delete, exists, or_, select
from sqlalchemy.orm import Session

from models.acts.rows import Machine, machines_of
from models.changes import Area
from models.tables.fuel import FuelEventRow, VesselRow
from models.tables.hours import HoursReadingRow, InferredPointRow, MeterRow, UseRow
from models.tables.machines import FittingRow, ItemRow, MachineRow
from models.tables.photos import PhotoRow
from models.tables.runs import LeftOffRow, NotYetRow, RunMachineRow
from models.tables.stores import PaymentRow, SheetMachineRow
from models.tables.trials import TrialRow
from models.tables.work import (
    FaultRow,
    JobRow,
    LimitReadingRow,
    StorageSpellRow,
    WorkLineRow,
    WorkRow,
)


def has_records(session: Session, machine: Machine) -> bool:
    """Whether anything was entered for it: work, readings, uses, fuel, money, spells, faults,
    what is off it."""
    number, item = machine.number, machine.item.id
    vessels = select(VesselRow.id).where(VesselRow.machine_id == number)
    meters = select(MeterRow.id).where(MeterRow.item_id == item)
    conditions: list[ColumnElement[bool]] = [
        *_by_machine(number),
        *(row.item_id == item for row in (WorkLineRow, LimitReadingRow, InferredPointRow)),
        HoursReadingRow.meter_id.in_(meters),
        or_(FuelEventRow.vessel_id.in_(vessels), FuelEventRow.to_vessel_id.in_(vessels)),
        PaymentRow.item_id == item,
    ]
    return any(session.scalar(select(exists().where(condition))) for condition in conditions)


def _by_machine(number: int) -> list[ColumnElement[bool]]:
    tables: tuple[type[Any], ...] = (
        UseRow,
        WorkRow,
        PaymentRow,
        StorageSpellRow,
        FaultRow,
        JobRow,
        SheetMachineRow,
        RunMachineRow,
        LeftOffRow,
        NotYetRow,
        TrialRow,
        PhotoRow,
    )
    return [table.machine_id == number for table in tables]


def remove_machine(session: Session, machine: Machine) -> list[tuple[Area, int]]:
    """Remove the machine, and the units that were never anywhere else nor entered anything for.

    Returns what was touched.
    """
    number = machine.number
    touched: list[tuple[Area, int]] = [(Area.MACHINES, number)]
    units = session.scalars(select(FittingRow.item_id).where(FittingRow.machine_id == number)).all()
    vessels = session.scalars(select(VesselRow.id).where(VesselRow.machine_id == number)).all()
    touched += [(Area.FUEL, vessel) for vessel in vessels]
    touched += [(Area.MACHINES, other) for other in machines_of(session, units)]
    session.execute(delete(MeterRow).where(MeterRow.item_id == machine.item.id))
    session.execute(delete(MachineRow).where(MachineRow.id == number))
    session.execute(delete(ItemRow).where(ItemRow.id == machine.item.id))
    for unit in dict.fromkeys(units):
        touched.append((Area.UNITS, unit))
        if not unit_has_records(session, unit):
            session.execute(delete(ItemRow).where(ItemRow.id == unit))
    return touched


def unit_has_records(session: Session, unit: int) -> bool:
    """Whether a unit is or was on a machine, or anything was entered for it."""
    tables: tuple[type[Any], ...] = (
        FittingRow,
        MeterRow,
        WorkLineRow,
        LimitReadingRow,
        InferredPointRow,
        PaymentRow,
    )
    return any(session.scalar(select(exists().where(table.item_id == unit))) for table in tables)
