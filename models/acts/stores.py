"""What lies on the shelf, and what was paid."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.keep import as_it_is, refuse_unchanged
from models.acts.known import catalogue, part_of
from models.acts.report import report
from models.acts.rows import machine_of, machines_of, unit_of
from models.changes import ActCode, Area, Changes
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.stores import PaymentRow, ShelfPartRow
from models.words import PaymentSort

MOST_CENTS = 10**11
MOST_PARTS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPart:
    """So many of a part lie ready now. `part` is a code of the catalogue, `spec` tells two sorts
    of it apart; `name` empty: as it is called already, or in the catalogue."""

    part: str
    quantity: int
    spec: str = ""
    name: str = ""
    spot: str = ""
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        code = part_of(self.part)
        spec = plain_text("spec", self.spec)
        name = plain_text("name", self.name)
        quantity = whole("quantity", self.quantity, 0, MOST_PARTS)
        row = session.scalars(
            select(ShelfPartRow).where(ShelfPartRow.part_code == code, ShelfPartRow.spec == spec)
        ).first()
        if row is None:
            row = ShelfPartRow(part_code=code, spec=spec, name=catalogue().parts[code].name)
            session.add(row)
        before = as_it_is(row)
        row.name = name or row.name
        row.quantity = quantity
        row.spot = plain_text("spot", self.spot)
        row.note = plain_text("note", self.note, most=NOTE_LENGTH)
        refuse_unchanged(row, before)
        session.flush()
        return report(ActCode.STOCK, (Area.STORES, row.id), name=row.name, quantity=quantity)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pay:
    """Money paid, or got for a thing sold. It may be older than the machine and outlive it."""

    day: date
    sort: PaymentSort
    cents: int
    machine_id: int | None = None
    unit_id: int | None = None
    shop: str = ""
    text: str = ""
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        touched: list[tuple[Area, int]] = []
        name = plain_text("text", self.text)
        if self.machine_id is not None:
            machine = machine_of(session, self.machine_id)
            touched.append((Area.MACHINES, machine.number))
            name = name or machine.name
        if self.unit_id is not None:
            unit = unit_of(session, self.unit_id)
            touched.append((Area.UNITS, unit.id))
            touched += [(Area.MACHINES, number) for number in machines_of(session, [unit.id])]
            name = name or unit.name
        row = PaymentRow(
            happened_on=checked_day("day", self.day, today=moment.today),
            machine_id=self.machine_id,
            item_id=self.unit_id,
            sort=self.sort,
            cents=whole("cents", self.cents, 0, MOST_CENTS),
            shop=plain_text("shop", self.shop),
            text=plain_text("text", self.text),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
            corrects_id=corrects,
            entered_by=hand(session),
        )
        session.add(row)
        session.flush()
        return report(ActCode.PAY, (Area.MONEY, row.id), *touched, name=name, day=self.day)
