"""What stands on the plates: a machine and the things fitted to it, as they are written down."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.tables.machines import FittingRow, ItemRow, MachinePlaceRow, MachineRow
from models.tables.work import StorageSpellRow
from schedules.facts import ItemSort, Past


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateFacts:
    """One thing with its plate; `fitted_on`: since when it is on this machine, None for the
    machine itself."""

    item_id: int
    sort: ItemSort
    name: str
    came_on: date
    past: Past
    maker: str
    model: str
    type: str
    serial: str
    code: str
    built: str
    note: str
    fitted_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gone:
    """A machine that is no longer here."""

    machine_id: int
    name: str
    on: date
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a machine stands: the place and the spot in it."""

    place_id: int
    spot: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """The spell in storage a machine is in: since when, until when, what is off or open."""

    since_on: date
    planned_last: date | None
    off_or_open: str
    note: str


def read_rest(session: Session, *, machine_id: int, on: date) -> Rest | None:
    """The spell the machine is in on the day; None when it is in use."""
    row = session.scalars(
        select(StorageSpellRow)
        .where(
            StorageSpellRow.machine_id == machine_id,
            StorageSpellRow.put_away_on <= on,
            or_(StorageSpellRow.woken_on.is_(None), StorageSpellRow.woken_on > on),
        )
        .order_by(StorageSpellRow.put_away_on.desc())
        .limit(1)
    ).first()
    if row is None:
        return None
    return Rest(
        since_on=row.put_away_on,
        planned_last=row.planned_last,
        off_or_open=row.off_or_open,
        note=row.note,
    )


def read_spares(session: Session, *, on: date) -> tuple[PlateFacts, ...]:
    """Units that are here on the day and may be fitted: those on nothing, and packs, which may be
    on several machines at once."""
    fitted = (
        select(FittingRow.item_id)
        .where(FittingRow.from_on <= on, or_(FittingRow.off_on.is_(None), FittingRow.off_on > on))
        .scalar_subquery()
    )
    rows = session.scalars(
        select(ItemRow)
        .where(
            ItemRow.sort != ItemSort.MACHINE,
            ItemRow.came_on <= on,
            or_(ItemRow.retired_on.is_(None), ItemRow.retired_on > on),
            or_(ItemRow.sort == ItemSort.PACK, ItemRow.id.not_in(fitted)),
        )
        .order_by(ItemRow.id)
    )
    return tuple(_facts(item, None) for item in rows)


def read_plates(session: Session, *, machine_id: int, on: date) -> tuple[PlateFacts, ...]:
    """The machine first, then what is fitted to it on the day; empty when it is not there."""
    own = session.scalars(
        select(ItemRow)
        .join(MachineRow, MachineRow.item_id == ItemRow.id)
        .where(MachineRow.id == machine_id)
    ).first()
    if own is None:
        return ()
    fitted = session.execute(
        select(ItemRow, FittingRow.from_on)
        .join(FittingRow, FittingRow.item_id == ItemRow.id)
        .where(
            FittingRow.machine_id == machine_id,
            FittingRow.from_on <= on,
            or_(FittingRow.off_on.is_(None), FittingRow.off_on > on),
        )
        .order_by(ItemRow.id)
    ).all()
    return (_facts(own, None), *(_facts(item, from_on) for item, from_on in fitted))


def _facts(item: ItemRow, fitted_on: date | None) -> PlateFacts:
    return PlateFacts(
        item_id=item.id,
        sort=item.sort,
        name=item.name,
        came_on=item.came_on,
        past=item.past,
        maker=item.plate_maker,
        model=item.plate_model,
        type=item.plate_type,
        serial=item.plate_serial,
        code=item.plate_code,
        built=item.plate_built,
        note=item.note,
        fitted_on=fitted_on,
    )


def read_standing(session: Session, *, machine_id: int, on: date) -> Standing | None:
    """Where the machine stands on the day."""
    row = session.execute(
        select(MachinePlaceRow.place_id, MachinePlaceRow.spot)
        .where(MachinePlaceRow.machine_id == machine_id, MachinePlaceRow.from_on <= on)
        .order_by(MachinePlaceRow.from_on.desc())
        .limit(1)
    ).first()
    return None if row is None else Standing(place_id=row[0], spot=row[1])


def read_gone(session: Session, *, on: date) -> tuple[Gone, ...]:
    """The machines that are gone by the day, the latest first."""
    rows = session.execute(
        select(MachineRow.id, ItemRow.name, ItemRow.retired_on, ItemRow.retired_why)
        .join(ItemRow, ItemRow.id == MachineRow.item_id)
        .where(ItemRow.retired_on <= on)
        .order_by(ItemRow.retired_on.desc(), MachineRow.id)
    ).all()
    return tuple(
        Gone(machine_id=number, name=name, on=day, why=why)
        for number, name, day, why in rows
        if day is not None
    )
