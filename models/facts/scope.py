"""Which part of the file is read: the whole, or a few machines with all that belongs to them."""

from __future__ import annotations

from typing import Any

from sqlalchemy import ColumnElement, select, true
from sqlalchemy.orm import InstrumentedAttribute, Session

from models.tables.machines import FittingRow

Ids = frozenset[int] | None


def among(column: InstrumentedAttribute[Any], ids: Ids) -> ColumnElement[bool]:
    """Rows of these ids; None: every row."""
    return true() if ids is None else column.in_(ids)


def sharing_units(session: Session, machines: frozenset[int]) -> frozenset[int]:
    """The machines, and those a unit of theirs is or was on as well: on which of them it stands
    is known only from all of them."""
    theirs = select(FittingRow.item_id).where(FittingRow.machine_id.in_(machines))
    others = session.scalars(select(FittingRow.machine_id).where(FittingRow.item_id.in_(theirs)))
    return machines | frozenset(others)
