"""Searches for a fault that were begun and are not over, paused or not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.facts.scope import Ids, among
from models.tables.searches import SearchRow
from models.tables.work import FaultRow


@dataclass(frozen=True, slots=True, kw_only=True)
class BegunSearch:
    """A search that is open. `text`: what the machine does, "" when nobody said."""

    machine_id: int
    begun_on: date
    is_paused: bool
    text: str = ""


def read_begun(session: Session, *, machines: Ids = None) -> dict[int, BegunSearch]:
    """The newest open search of each machine that has one. One query."""
    chosen = (
        select(SearchRow, FaultRow.text)
        .outerjoin(FaultRow, FaultRow.id == SearchRow.fault_id)
        .where(SearchRow.closed_on.is_(None), among(SearchRow.machine_id, machines))
        .order_by(SearchRow.id)
    )
    return {
        row.machine_id: BegunSearch(
            machine_id=row.machine_id,
            begun_on=row.begun_on,
            is_paused=row.paused_on is not None,
            text=text or "",
        )
        for row, text in session.execute(chosen)
    }
