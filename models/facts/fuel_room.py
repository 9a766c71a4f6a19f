"""What the fuel room asks of the file beside what everybody asks: cards, entries, days past."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.changes import Area
from models.facts.fleet import read_fleet
from models.facts.fuel import read_vessels
from models.facts.places import read_places
from models.facts.records import RecordedEntry
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow, VesselRow
from models.tables.machines import ItemRow, MachineRow
from models.tables.places import PlaceRow
from resources.loader import Catalogue
from schedules.facts import FuelSort, FuelUse, MachineId, Shelter, VesselFacts, VesselId, VesselSort

IN, OUT = "in", "out"
"""Which way a pour went, in `RecordedEntry.side`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselCard:
    """What a vessel is: its place if it is a can, its machine if it is not."""

    vessel_id: int
    name: str
    sort: VesselSort
    capacity_ul: int
    burns: FuelUse
    machine_id: int | None
    machine: str
    place_id: int | None
    place: str
    shelter: Shelter | None
    came_on: date
    note: str
    last_sort: FuelSort | None = None


def read_cards(session: Session, *, on: date) -> tuple[VesselCard, ...]:
    """Every vessel there is on the day, in three queries. `last_sort`: of what went in last."""
    last: dict[int, FuelSort] = {
        vessel: sort
        for vessel, sort in session.execute(
            select(FuelEventRow.vessel_id, FuelEventRow.fuel_sort)
            .where(
                in_force(FuelEventRow),
                FuelEventRow.happened_on <= on,
                FuelEventRow.fuel_sort.is_not(None),
            )
            .order_by(FuelEventRow.happened_on, FuelEventRow.id)
        )
        if sort is not None
    }
    rows = session.execute(
        select(VesselRow, ItemRow.name, PlaceRow.name)
        .outerjoin(MachineRow, MachineRow.id == VesselRow.machine_id)
        .outerjoin(ItemRow, ItemRow.id == MachineRow.item_id)
        .outerjoin(PlaceRow, PlaceRow.id == VesselRow.place_id)
        .where(
            VesselRow.came_on <= on,
            or_(VesselRow.retired_on.is_(None), VesselRow.retired_on > on),
        )
        .order_by(VesselRow.id)
    ).all()
    return tuple(
        VesselCard(
            vessel_id=row.id,
            name=row.name,
            sort=row.sort,
            capacity_ul=row.capacity_ul,
            burns=row.burns,
            machine_id=row.machine_id,
            machine=machine or "",
            place_id=row.place_id,
            place=place or "",
            shelter=row.shelter,
            came_on=row.came_on,
            note=row.note,
            last_sort=last.get(row.id),
        )
        for row, machine, place in rows
    )


def read_fuel_entries(session: Session, *, vessel_id: int, on: date) -> tuple[RecordedEntry, ...]:
    """Every entry about the vessel up to the day, newest first; what was corrected too."""
    rows = session.scalars(
        select(FuelEventRow).where(
            or_(FuelEventRow.vessel_id == vessel_id, FuelEventRow.to_vessel_id == vessel_id),
            FuelEventRow.happened_on <= on,
        )
    ).all()
    rows = [row for row in rows if not row.struck]
    numbers = [row.id for row in rows]
    counting = set(
        session.scalars(
            select(FuelEventRow.id).where(FuelEventRow.id.in_(numbers), in_force(FuelEventRow))
        )
    )
    named = session.execute(select(VesselRow.id, VesselRow.name)).all()
    names: dict[int, str] = {row.id: row.name for row in named}
    found = [
        RecordedEntry(
            area=Area.FUEL,
            entry_id=row.id,
            day=row.happened_on,
            entered_by=row.entered_by,
            superseded=row.id not in counting,
            corrects=row.corrects_id is not None,
            fuel_doing=row.doing,
            volume_ul=row.volume_ul,
            vessel=_other(row, vessel_id, names),
            side=IN if row.to_vessel_id == vessel_id else OUT,
            cents=row.cents,
            note=row.note,
        )
        for row in rows
    ]
    return tuple(sorted(found, key=lambda entry: (-entry.day.toordinal(), -entry.entry_id)))


def _other(row: FuelEventRow, vessel_id: int, names: dict[int, str]) -> str:
    """The other vessel of a pour."""
    if row.to_vessel_id is None:
        return ""
    return names.get(row.vessel_id if row.to_vessel_id == vessel_id else row.to_vessel_id, "")


def read_course(
    session: Session, card: VesselCard, *, since: date, on: date, catalogue: Catalogue, most: int
) -> tuple[tuple[date, VesselFacts | None], ...]:
    """The vessel as it stood after each day something happened to it, the last `most` of them and
    none before `since`, and as it stands on the day itself."""
    days = sorted(
        set(
            session.scalars(
                select(FuelEventRow.happened_on)
                .where(
                    in_force(FuelEventRow),
                    or_(
                        FuelEventRow.vessel_id == card.vessel_id,
                        FuelEventRow.to_vessel_id == card.vessel_id,
                    ),
                    FuelEventRow.happened_on > since,
                    FuelEventRow.happened_on <= on,
                )
                .distinct()
            )
        )
    )[-most:]
    asked = sorted({max(since, card.came_on), *days, on})
    return tuple((day, _stood(session, card, day, catalogue)) for day in asked)


def _stood(
    session: Session, card: VesselCard, day: date, catalogue: Catalogue
) -> VesselFacts | None:
    if card.machine_id is not None:
        machine = MachineId(card.machine_id)
        fleet = read_fleet(session, on=day, catalogue=catalogue, only=frozenset({machine}))
        found = tuple(vessel for facts in fleet for vessel in facts.vessels)
    else:
        found = read_vessels(
            session,
            on=day,
            places=read_places(session, catalogue=catalogue),
            place_of={},
            only=VesselRow.id == card.vessel_id,
        )
    wanted = VesselId(card.vessel_id)
    return next((vessel for vessel in found if vessel.vessel_id == wanted), None)
