"""Parts that work used up, taken off the shelf they lay on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.changes import Area
from models.tables.stores import ShelfPartRow
from models.tables.work import WorkLineRow

MOST_LYING = 100_000

# A part's code and what was said of it, by which two sorts of it are told apart.
Used = Mapping[tuple[str, str], int]


def used_with(session: Session, work_id: int | None) -> Counter[tuple[str, str]]:
    """What the lines of a record used up; of none, nothing."""
    used: Counter[tuple[str, str]] = Counter()
    for code, said, quantity in session.execute(
        select(WorkLineRow.part_code, WorkLineRow.part_text, WorkLineRow.quantity).where(
            WorkLineRow.work_id == (work_id or 0)
        )
    ):
        if code is not None:
            used[code, said] += quantity
    return used


def take_off(session: Session, used: Used) -> list[tuple[Area, int]]:
    """Take so many off the shelf; below nil: put them back. Returns what was touched.

    Which one is meant: the sort of that name, or the only sort there is. What does not lie there
    was bought on the way; no more comes off than there is.
    """
    touched: list[tuple[Area, int]] = []
    for (code, said), quantity in used.items():
        row = _meant(session, code, said) if quantity else None
        if row is None:
            continue
        left = min(MOST_LYING, max(0, row.quantity - quantity))
        if left != row.quantity:
            row.quantity = left
            touched.append((Area.STORES, row.id))
    return touched


def _meant(session: Session, code: str, said: str) -> ShelfPartRow | None:
    rows = session.scalars(select(ShelfPartRow).where(ShelfPartRow.part_code == code)).all()
    named = [row for row in rows if said and row.spec.casefold() == said.casefold()]
    found = named or rows
    return found[0] if len(found) == 1 else None
