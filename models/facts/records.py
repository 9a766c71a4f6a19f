"""What was entered for a machine, as it stands and as it stood before a correction."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.changes import Area
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow, VesselRow
from models.tables.hours import HoursReadingRow, MeterRow, UseRow
from models.tables.machines import FittingRow, MachineRow
from models.tables.work import JobRow, LimitReadingRow, StorageSpellRow, WorkLineRow, WorkRow
from models.words import FuelDoing, LineOutcome, RunOutcome
from schedules.units import Quantity, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedLine:
    """A line of a work record: a task or what a one-off says, how it went, what it took."""

    task_code: str
    job_text: str
    outcome: LineOutcome
    part_text: str
    quantity: int
    cents: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedEntry:
    """One entry. Which values speak depends on `area`. `superseded`: corrected or struck out."""

    area: Area
    entry_id: int
    day: date
    entered_by: str
    superseded: bool
    corrects: bool = False
    lines: tuple[RecordedLine, ...] = ()
    shown: Quantity | None = None
    run: Quantity | None = None
    count: int = 0
    outcome: RunOutcome | None = None
    limit_code: str = ""
    task_code: str = ""
    amount: int | None = None
    seen: bool | None = None
    side: str = ""
    after_work: bool = False
    fuel_doing: FuelDoing | None = None
    volume_ul: int | None = None
    vessel: str = ""
    minutes: int | None = None
    cents: int | None = None
    until: date | None = None
    note: str = ""


def read_records(session: Session, *, machine_id: int, on: date) -> tuple[RecordedEntry, ...]:
    """Every entry of the machine up to the day, newest first; what was corrected too."""
    items = _items(session, machine_id)
    found = [
        *_work(session, machine_id, on),
        *_hours(session, items, on),
        *_uses(session, machine_id, on),
        *_readings(session, items, on),
        *_fuel(session, machine_id, on),
        *_storage(session, machine_id, on),
    ]
    return tuple(
        sorted(found, key=lambda entry: (-entry.day.toordinal(), entry.area, -entry.entry_id))
    )


def _items(session: Session, machine_id: int) -> set[int]:
    own = session.scalars(select(MachineRow.item_id).where(MachineRow.id == machine_id)).all()
    fitted = session.scalars(
        select(FittingRow.item_id).where(FittingRow.machine_id == machine_id)
    ).all()
    return {*own, *fitted}


def _gone(session: Session, table: type[Any], rows: Sequence[Any]) -> set[int]:
    """Ids of those that do not count any more: corrected, struck, or fallen with their record."""
    numbers = [row.id for row in rows]
    counting = session.scalars(select(table.id).where(table.id.in_(numbers), in_force(table)))
    return set(numbers) - set(counting)


def _work(session: Session, machine_id: int, on: date) -> list[RecordedEntry]:
    rows = session.scalars(
        select(WorkRow).where(WorkRow.machine_id == machine_id, WorkRow.happened_on <= on)
    ).all()
    lines: dict[int, list[RecordedLine]] = defaultdict(list)
    for line, job in session.execute(
        select(WorkLineRow, JobRow.text)
        .outerjoin(JobRow, JobRow.id == WorkLineRow.job_id)
        .where(WorkLineRow.work_id.in_([row.id for row in rows]))
        .order_by(WorkLineRow.id)
    ):
        lines[line.work_id].append(
            RecordedLine(
                task_code=line.task_code or "",
                job_text=job or "",
                outcome=line.outcome,
                part_text=line.part_text or line.part_code or "",
                quantity=line.quantity,
                cents=line.cents,
            )
        )
    gone = _gone(session, WorkRow, rows)
    return [
        RecordedEntry(
            area=Area.WORK,
            entry_id=row.id,
            day=row.happened_on,
            entered_by=row.by_whom or row.entered_by,
            superseded=row.id in gone,
            corrects=row.corrects_id is not None,
            lines=tuple(lines.get(row.id, ())),
            minutes=row.minutes,
            cents=row.cents,
            note=row.note,
        )
        for row in rows
        if not row.struck
    ]


def _hours(session: Session, items: set[int], on: date) -> list[RecordedEntry]:
    rows = session.scalars(
        select(HoursReadingRow)
        .join(MeterRow, MeterRow.id == HoursReadingRow.meter_id)
        .where(MeterRow.item_id.in_(items), HoursReadingRow.happened_on <= on)
    ).all()
    gone = _gone(session, HoursReadingRow, rows)
    return [
        RecordedEntry(
            area=Area.HOURS,
            entry_id=row.id,
            day=row.happened_on,
            entered_by=row.entered_by,
            superseded=row.id in gone,
            corrects=row.corrects_id is not None,
            shown=Quantity(Fraction(row.shown_seconds), Unit.SECOND),
            note=row.note,
        )
        for row in rows
        if not row.struck
    ]


def _uses(session: Session, machine_id: int, on: date) -> list[RecordedEntry]:
    rows = session.scalars(
        select(UseRow).where(UseRow.machine_id == machine_id, UseRow.happened_on <= on)
    ).all()
    gone = _gone(session, UseRow, rows)
    return [
        RecordedEntry(
            area=Area.USES,
            entry_id=row.id,
            day=row.happened_on,
            entered_by=row.entered_by,
            superseded=row.id in gone,
            corrects=row.corrects_id is not None,
            run=None
            if row.run_seconds is None
            else Quantity(Fraction(row.run_seconds), Unit.SECOND),
            count=row.count,
            outcome=row.outcome,
            note=row.note,
        )
        for row in rows
        if not row.struck
    ]


def _readings(session: Session, items: set[int], on: date) -> list[RecordedEntry]:
    rows = session.scalars(
        select(LimitReadingRow).where(
            LimitReadingRow.item_id.in_(items), LimitReadingRow.happened_on <= on
        )
    ).all()
    gone = _gone(session, LimitReadingRow, rows)
    return [
        RecordedEntry(
            area=Area.READINGS,
            entry_id=row.id,
            day=row.happened_on,
            entered_by=row.entered_by,
            superseded=row.id in gone,
            corrects=row.corrects_id is not None,
            limit_code=row.limit_code,
            task_code=row.task_code,
            amount=row.amount,
            seen=row.seen,
            side="" if row.side is None else str(row.side),
            after_work=row.after_work,
            note=row.note,
        )
        for row in rows
        if not row.struck
    ]


def _fuel(session: Session, machine_id: int, on: date) -> list[RecordedEntry]:
    own = session.execute(
        select(VesselRow.id, VesselRow.name).where(VesselRow.machine_id == machine_id)
    )
    vessels = {row.id: row.name for row in own}
    rows = session.scalars(
        select(FuelEventRow).where(
            or_(FuelEventRow.vessel_id.in_(vessels), FuelEventRow.to_vessel_id.in_(vessels)),
            FuelEventRow.happened_on <= on,
        )
    ).all()
    gone = _gone(session, FuelEventRow, rows)
    return [
        RecordedEntry(
            area=Area.FUEL,
            entry_id=row.id,
            day=row.happened_on,
            entered_by=row.entered_by,
            superseded=row.id in gone,
            corrects=row.corrects_id is not None,
            fuel_doing=row.doing,
            volume_ul=row.volume_ul,
            vessel=vessels.get(row.vessel_id) or vessels.get(row.to_vessel_id or 0, ""),
            note=row.note,
        )
        for row in rows
        if not row.struck
    ]


def _storage(session: Session, machine_id: int, on: date) -> list[RecordedEntry]:
    rows = session.scalars(
        select(StorageSpellRow).where(
            StorageSpellRow.machine_id == machine_id, StorageSpellRow.put_away_on <= on
        )
    ).all()
    return [
        RecordedEntry(
            area=Area.STORAGE,
            entry_id=row.id,
            day=row.put_away_on,
            entered_by="",
            superseded=False,
            until=row.woken_on,
            note=row.off_or_open or row.note,
        )
        for row in rows
    ]
