"""The rows an act is about, found or refused."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.acts.known import kind_of
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.tables.base import FIRST_DAY, Base
from models.tables.fuel import VesselRow
from models.tables.machines import FittingRow, ItemRow, MachineRow
from models.tables.places import PlaceRow
from schedules.facts import ItemSort, KindFacts

LARGEST_ID = 2**63 - 1

R = TypeVar("R", bound=Base)


def row_of(session: Session, table: type[R], number: int, what: str) -> R:
    """The row of that number. Raises Refused NOT_THERE."""
    found = session.get(table, number) if 1 <= number <= LARGEST_ID else None
    if found is None:
        shown = min(max(number, -LARGEST_ID), LARGEST_ID)
        raise Refused(RefusedCode.NOT_THERE, what=what, id=shown)
    return found


def place_of(session: Session, number: int) -> PlaceRow:
    """The place of that number. Raises Refused NOT_THERE."""
    return row_of(session, PlaceRow, number, "place")


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine's two rows and its kind."""

    row: MachineRow
    item: ItemRow
    kind: KindFacts

    @property
    def number(self) -> int:
        """The id of the machine."""
        return self.row.id

    @property
    def name(self) -> str:
        """What it is called."""
        return self.item.name


def machine_of(session: Session, number: int) -> Machine:
    """The machine of that number. Raises Refused NOT_THERE."""
    row = row_of(session, MachineRow, number, "machine")
    return Machine(row, row_of(session, ItemRow, row.item_id, "item"), kind_of(row.kind_code))


def unit_of(session: Session, number: int) -> ItemRow:
    """The unit (no machine) of that number. Raises Refused NOT_THERE."""
    found = row_of(session, ItemRow, number, "unit")
    if found.sort is ItemSort.MACHINE:
        raise Refused(RefusedCode.NOT_THERE, what="unit", id=number)
    return found


def vessel_of(session: Session, number: int) -> VesselRow:
    """The can, tank or bowl of that number. Raises Refused NOT_THERE."""
    return row_of(session, VesselRow, number, "vessel")


def day_of(thing: ItemRow | VesselRow, field: str, day: date, today: date) -> date:
    """A day on which the thing was there. Raises Refused for the day, RETIRED when it was gone."""
    checked_day(field, day, first=max(FIRST_DAY, thing.came_on), today=today)
    if thing.retired_on is not None and day >= thing.retired_on:
        raise Refused(RefusedCode.RETIRED, name=thing.name, day=thing.retired_on)
    return day


def fitted_on(session: Session, machine: Machine, day: date) -> list[ItemRow]:
    """The units that are on the machine on the day, the longest there first."""
    return list(
        session.scalars(
            select(ItemRow)
            .join(FittingRow, FittingRow.item_id == ItemRow.id)
            .where(
                FittingRow.machine_id == machine.number,
                FittingRow.from_on <= day,
                or_(FittingRow.off_on.is_(None), FittingRow.off_on > day),
                or_(ItemRow.retired_on.is_(None), ItemRow.retired_on > day),
            )
            .order_by(FittingRow.from_on, FittingRow.id)
        )
    )


def item_for(
    session: Session,
    machine: Machine,
    sort: ItemSort,
    day: date,
    wanted: int | None = None,
    *,
    units: list[ItemRow] | None = None,
) -> ItemRow:
    """The thing on the machine that a task of that sort hangs on: the unit fitted on the day,
    else the machine itself. `wanted` names one of several; `units` are those fitted, where they
    are known already. Raises Refused NOT_FITTED."""
    if units is None:
        units = fitted_on(session, machine, day)
    if wanted is not None and wanted != machine.item.id:
        for unit in units:
            if unit.id == wanted:
                return unit
        other = row_of(session, ItemRow, wanted, "unit")
        raise Refused(RefusedCode.NOT_FITTED, name=other.name, machine=machine.name)
    if wanted is None:
        for unit in units:
            if unit.sort is sort:
                return unit
    return machine.item


def machines_of(session: Session, items: Collection[int]) -> list[int]:
    """The machines that these things are, or are or were fitted to: what happens to a thing is
    shown wherever it serves or served."""
    own = select(MachineRow.id).where(MachineRow.item_id.in_(items))
    fitted = select(FittingRow.machine_id).where(FittingRow.item_id.in_(items))
    return sorted({*session.scalars(own), *session.scalars(fitted)})
