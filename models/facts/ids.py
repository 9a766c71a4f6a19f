"""Which machines the file knows, so that they can be read some at a time."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.tables.machines import MachineRow
from schedules.facts import MachineId


def read_machine_ids(session: Session) -> tuple[MachineId, ...]:
    """Every machine that was ever entered, in that order; some may be gone by now."""
    return tuple(MachineId(number) for number in session.scalars(select(MachineRow.id)))
