"""Which machines and cans the file knows, so that they can be read some at a time."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.facts.fuel import read_vessels
from models.facts.places import read_places
from models.tables.fuel import VesselRow
from models.tables.machines import MachineRow
from resources.loader import Catalogue
from schedules.facts import MachineId, VesselFacts, VesselId


def read_machine_ids(session: Session) -> tuple[MachineId, ...]:
    """Every machine that was ever entered, in that order; some may be gone by now."""
    return tuple(MachineId(number) for number in session.scalars(select(MachineRow.id)))


def read_can_ids(session: Session) -> tuple[VesselId, ...]:
    """Every can there ever was: a vessel that belongs to no machine."""
    rows = session.scalars(select(VesselRow.id).where(VesselRow.machine_id.is_(None)))
    return tuple(VesselId(number) for number in rows)


def read_cans_among(
    session: Session, *, on: date, catalogue: Catalogue, only: Iterable[VesselId]
) -> tuple[VesselFacts, ...]:
    """Those of these cans that are there on the day, without the fuel of any other."""
    return read_vessels(
        session,
        on=on,
        places=read_places(session, catalogue=catalogue),
        place_of={},
        only=VesselRow.id.in_([int(number) for number in only]),
    )
