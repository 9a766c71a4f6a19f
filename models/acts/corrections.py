"""Corrections: an entry stays, and what is true stands in its place or nothing does."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import assert_never

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.entry import EntryRow, entry_of, struck_copy
from models.acts.fuel import (
    AddOil,
    Drain,
    Fill,
    FuelAct,
    LookAtFuel,
    Pour,
    SetLevel,
    Stabilise,
    TopUp,
    touched_vessels,
)
from models.acts.hours import ReadHours
from models.acts.known import unknown
from models.acts.meters import anchor, check_points, points_of
from models.acts.readings import Measure
from models.acts.report import report
from models.acts.rows import machines_of
from models.acts.shelf import take_off, used_with
from models.acts.stores import Pay
from models.acts.uses import LogUse
from models.acts.work import RecordWork
from models.changes import ActCode, Area, Changes
from models.moment import Moment
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow
from models.tables.hours import HoursReadingRow, InferredPointRow, MeterRow, UseRow
from models.tables.stores import PaymentRow
from models.tables.trials import TrialRow, TrialValueRow
from models.tables.work import LimitReadingRow, WorkLineRow, WorkRow

Correcting = RecordWork | Measure | ReadHours | LogUse | FuelAct | Pay


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectEntry:
    """What `by` says stands in the place of the entry of that id, which must be of its sort.

    Everything is checked as if the first had never been entered.
    """

    entry_id: int
    by: Correcting

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; ALREADY_CORRECTED when the entry does not count any more."""
        area = _area(self.by)
        row = _entry(session, area, self.entry_id)
        meters = _meters(session, row)
        done = self.by.enter(session, moment, corrects=row.id)
        session.flush()
        _check_meters(session, meters)
        touched = {*_touched(session, area, row), *done.ids}
        return report(ActCode.CORRECT_ENTRY, *sorted(touched), **dict(done.label.values))


@dataclass(frozen=True, slots=True, kw_only=True)
class StrikeEntry:
    """The entry does not count, and nothing takes its place; what work used up lies on the shelf
    again. `area` is one of work, readings,
    hours, uses, fuel, money, trials."""

    area: Area
    entry_id: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; ALREADY_CORRECTED when the entry does not count any more."""
        row = _entry(session, self.area, self.entry_id)
        meters = _meters(session, row)
        session.add(struck_copy(session, row))
        session.flush()
        _check_meters(session, meters)
        touched = _touched(session, self.area, row)
        if isinstance(row, WorkRow):
            back = {part: -quantity for part, quantity in used_with(session, row.id).items()}
            touched += take_off(session, back)
        return report(ActCode.STRIKE_ENTRY, *touched, area=str(self.area), day=row.happened_on)


@dataclass(frozen=True, slots=True, kw_only=True)
class WithdrawHours:
    """A total that was accepted does not count any more, nor what was accepted with it for the
    engine."""

    point_id: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; ALREADY_CORRECTED when it does not count any more."""
        row = entry_of(session, InferredPointRow, self.point_id, "point")
        twins = session.scalars(
            select(InferredPointRow).where(
                InferredPointRow.entered_at == row.entered_at,
                InferredPointRow.happened_on == row.happened_on,
                InferredPointRow.total_seconds == row.total_seconds,
                in_force(InferredPointRow),
            )
        ).all()
        machines = set(machines_of(session, [row.item_id]))
        touched: set[tuple[Area, int]] = set()
        for twin in twins:
            if twin.id == row.id or machines & set(machines_of(session, [twin.item_id])):
                session.add(struck_copy(session, twin))
                touched |= set(_touched(session, Area.HOURS, twin))
        return report(ActCode.STRIKE_ENTRY, *sorted(touched), day=row.happened_on)


def _area(by: Correcting) -> Area:
    match by:
        case RecordWork():
            return Area.WORK
        case Measure():
            return Area.READINGS
        case ReadHours():
            return Area.HOURS
        case LogUse():
            return Area.USES
        case (
            Fill() | TopUp() | Pour() | Drain() | Stabilise() | LookAtFuel() | AddOil() | SetLevel()
        ):
            return Area.FUEL
        case Pay():
            return Area.MONEY
        case _:
            assert_never(by)


_TABLES: dict[Area, type[EntryRow]] = {
    Area.WORK: WorkRow,
    Area.READINGS: LimitReadingRow,
    Area.HOURS: HoursReadingRow,
    Area.USES: UseRow,
    Area.FUEL: FuelEventRow,
    Area.MONEY: PaymentRow,
    Area.TRIALS: TrialValueRow,
}


def _entry(session: Session, area: Area, number: int) -> EntryRow:
    table = _TABLES.get(area)
    if table is None:
        raise unknown("area", area)
    return entry_of(session, table, number, "entry")


# -- what else an entry touches ---------------------------------------------------------------


def _meters(session: Session, row: EntryRow) -> list[MeterRow]:
    """The meters whose readings fall with the entry."""
    if isinstance(row, HoursReadingRow):
        return [session.get_one(MeterRow, row.meter_id)]
    if isinstance(row, WorkRow):
        return list(
            session.scalars(
                select(MeterRow)
                .join(HoursReadingRow, HoursReadingRow.meter_id == MeterRow.id)
                .where(HoursReadingRow.work_id == row.id)
            )
        )
    return []


def _check_meters(session: Session, meters: Iterable[MeterRow]) -> None:
    """What is left on a meter must still be true: a rollover cannot be taken out alone."""
    for meter in meters:
        points = points_of(session, meter)
        check_points(points, meter.modulus_seconds)
        anchor(session, meter, points)


def _touched(session: Session, area: Area, row: EntryRow) -> list[tuple[Area, int]]:
    """The entry, and every machine that it or a thing it is about serves or served."""
    number, machine, items = row.id, None, set[int]()
    match row:
        case WorkRow():
            machine, items = row.machine_id, _items_of_work(session, row.id)
        case UseRow():
            machine = row.machine_id
        case PaymentRow():
            machine = row.machine_id
            if row.item_id is not None:
                items = {row.item_id}
        case TrialValueRow():
            number = row.trial_id
            machine = session.get_one(TrialRow, row.trial_id).machine_id
        case LimitReadingRow() | InferredPointRow():
            items = {row.item_id}
        case HoursReadingRow():
            meter = session.get_one(MeterRow, row.meter_id)
            number, items = meter.id, {meter.item_id}
        case FuelEventRow():
            vessels = [each for each in (row.vessel_id, row.to_vessel_id) if each is not None]
            return touched_vessels(session, vessels, row.happened_on)
        case _:
            assert_never(row)
    machines = set(machines_of(session, items))
    if machine is not None:
        machines.add(machine)
    return [(area, number), *((Area.MACHINES, each) for each in sorted(machines))]


def _items_of_work(session: Session, work: int) -> set[int]:
    """What the lines of a record are about, and what was measured and read with it."""
    lines = select(WorkLineRow.item_id).where(WorkLineRow.work_id == work)
    measured = select(LimitReadingRow.item_id).where(LimitReadingRow.work_id == work)
    read = (
        select(MeterRow.item_id)
        .join(HoursReadingRow, HoursReadingRow.meter_id == MeterRow.id)
        .where(HoursReadingRow.work_id == work)
    )
    return {item for asked in (lines, measured, read) for item in session.scalars(asked)}
