"""What paper asks of the file beside the facts: what lies on the shelf, what is noted to know."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.tables.answers import DetailRow
from models.tables.stores import ShelfPartRow


def read_shelf(session: Session) -> Mapping[str, int]:
    """How many pieces of each part lie ready, by the catalogue's code, all specifications."""
    rows = session.execute(
        select(ShelfPartRow.part_code, func.sum(ShelfPartRow.quantity)).group_by(
            ShelfPartRow.part_code
        )
    )
    return {code: int(quantity) for code, quantity in rows}


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfPart:
    """A part that lies ready: the catalogue's code, which sort of it, how many, where."""

    part: str
    name: str
    spec: str
    quantity: int
    spot: str
    note: str


def read_shelf_parts(session: Session) -> tuple[ShelfPart, ...]:
    """Every part of the shelf, by name; those that are used up, too."""
    rows = session.scalars(select(ShelfPartRow).order_by(ShelfPartRow.name, ShelfPartRow.spec))
    return tuple(
        ShelfPart(
            part=row.part_code,
            name=row.name,
            spec=row.spec,
            quantity=row.quantity,
            spot=row.spot,
            note=row.note,
        )
        for row in rows
    )


def read_details(session: Session) -> Mapping[int, Mapping[str, str]]:
    """What was noted to know at each machine, by machine and the detail's code."""
    found: dict[int, dict[str, str]] = defaultdict(dict)
    rows = session.execute(select(DetailRow.machine_id, DetailRow.detail_code, DetailRow.text))
    for machine, code, text in rows:
        found[machine][code] = text
    return found
