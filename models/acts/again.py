"""An entry as the act that would enter it again, so that a correction changes what it names and
leaves the rest: parts, measurements and the reading of the meter that hang on a record of work."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import select
from sqlalchemy.orm import Session

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
)
from models.acts.readings import Measured
from models.acts.work import LineGiven, RecordWork
from models.tables.fuel import FuelEventRow
from models.tables.hours import HoursReadingRow
from models.tables.work import LimitReadingRow, WorkLineRow, WorkRow
from models.words import FuelDoing
from schedules.facts import Gone


def work_again(session: Session, number: int) -> RecordWork | None:
    """A record of work with all that hangs on it; None for one that is not a machine's."""
    row = session.get(WorkRow, number)
    if row is None or row.machine_id is None:
        return None
    lines = session.scalars(
        select(WorkLineRow).where(WorkLineRow.work_id == number).order_by(WorkLineRow.id)
    ).all()
    readings = session.scalars(
        select(LimitReadingRow)
        .where(LimitReadingRow.work_id == number, LimitReadingRow.struck.is_(False))
        .order_by(LimitReadingRow.id)
    ).all()
    shown = session.scalars(
        select(HoursReadingRow.shown_seconds)
        .where(HoursReadingRow.work_id == number, HoursReadingRow.struck.is_(False))
        .order_by(HoursReadingRow.id.desc())
    ).first()
    return RecordWork(
        machine_id=row.machine_id,
        day=row.happened_on,
        lines=tuple(_line(line) for line in lines),
        measured=tuple(_measured(reading) for reading in _latest(readings)),
        by_whom=row.by_whom,
        minutes=row.minutes,
        cents=row.cents,
        shown_seconds=shown,
        sheet_id=row.sheet_id,
        note=row.note,
    )


def _latest(rows: Sequence[LimitReadingRow]) -> list[LimitReadingRow]:
    """Those that no later one took the place of."""
    gone = {row.corrects_id for row in rows}
    return [row for row in rows if row.id not in gone]


def _line(row: WorkLineRow) -> LineGiven:
    return LineGiven(
        task=row.task_code,
        job_id=row.job_id,
        outcome=row.outcome,
        item_id=row.item_id if row.task_code is not None else None,
        part=row.part_code,
        part_text=row.part_text,
        quantity=row.quantity,
        cents=row.cents,
        note=row.note,
    )


def _measured(row: LimitReadingRow) -> Measured:
    return Measured(
        task=row.task_code,
        limit=row.limit_code,
        amount=row.amount,
        seen=row.seen,
        side=row.side,
        after_work=row.after_work,
        item_id=row.item_id,
        note=row.note,
    )


def fuel_again(session: Session, number: int) -> FuelAct | None:
    """What happened to the fuel of a vessel; None when it is not there."""
    row = session.get(FuelEventRow, number)
    if row is None:
        return None
    vessel, day, volume, note = row.vessel_id, row.happened_on, row.volume_ul, row.note
    match row.doing:
        case FuelDoing.BOUGHT | FuelDoing.FOUND if row.fuel_sort is not None:
            return Fill(
                vessel_id=vessel,
                day=day,
                sort=row.fuel_sort,
                volume_ul=volume,
                to_brim=row.to_brim,
                bought_on=row.bought_on,
                age_known=row.bought_on is not None,
                ethanol_permille=row.ethanol_permille,
                oil_ratio=row.oil_ratio,
                stabilised=row.stabilised_on is not None,
                cents=row.cents,
                note=note,
            )
        case FuelDoing.FILLED:
            return TopUp(
                vessel_id=vessel,
                day=day,
                volume_ul=volume,
                sort=row.fuel_sort,
                bought_on=row.bought_on,
                note=note,
            )
        case FuelDoing.POURED if row.to_vessel_id is not None:
            return Pour(
                vessel_id=vessel,
                to_vessel_id=row.to_vessel_id,
                day=day,
                volume_ul=volume,
                note=note,
            )
        case FuelDoing.DRAINED | FuelDoing.BURNT | FuelDoing.SPILLED | FuelDoing.DISPOSED:
            gone = Gone(str(row.doing))
            return Drain(vessel_id=vessel, day=day, volume_ul=volume, gone=gone, note=note)
        case FuelDoing.LEVEL:
            return SetLevel(
                vessel_id=vessel, day=day, volume_ul=volume or 0, missing=row.gone, note=note
            )
        case FuelDoing.OILED:
            return AddOil(vessel_id=vessel, day=day, volume_ul=volume or 0, note=note)
        case FuelDoing.TREATED:
            return Stabilise(vessel_id=vessel, day=day, dose_ul=row.dose_ul, note=note)
        case FuelDoing.LOOKED if row.look is not None:
            return LookAtFuel(vessel_id=vessel, day=day, look=row.look, note=note)
        case _:
            return None
