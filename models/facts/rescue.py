"""What a machine cost and what was ever wrong with it, put right or not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.tables.entries import in_force
from models.tables.machines import ItemRow, MachineRow
from models.tables.stores import PaymentRow
from models.tables.work import FaultRow
from models.words import PaymentSort


@dataclass(frozen=True, slots=True, kw_only=True)
class Paid:
    """One payment in force, in cents of the household's currency."""

    day: date
    sort: PaymentSort
    cents: int
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """Something that was or is wrong; `closed_how`: how it went."""

    text: str
    since: date
    closed_on: date | None
    closed_how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RescueRecord:
    """The story of a machine beside its work and measurements."""

    note: str
    paid: tuple[Paid, ...]
    wrong: tuple[Wrong, ...]


def read_rescue(session: Session, *, machine_id: int, on: date) -> RescueRecord:
    """Up to the day, oldest first. Three queries."""
    note = session.scalar(
        select(ItemRow.note)
        .join(MachineRow, MachineRow.item_id == ItemRow.id)
        .where(MachineRow.id == machine_id)
    )
    paid = session.scalars(
        select(PaymentRow)
        .where(
            PaymentRow.machine_id == machine_id,
            PaymentRow.happened_on <= on,
            in_force(PaymentRow),
        )
        .order_by(PaymentRow.happened_on, PaymentRow.id)
    )
    wrong = session.scalars(
        select(FaultRow)
        .where(FaultRow.machine_id == machine_id, FaultRow.since_on <= on)
        .order_by(FaultRow.since_on, FaultRow.id)
    )
    return RescueRecord(
        note=note or "",
        paid=tuple(
            Paid(day=row.happened_on, sort=row.sort, cents=row.cents, text=row.text or row.shop)
            for row in paid
        ),
        wrong=tuple(
            Wrong(
                text=row.text,
                since=row.since_on,
                closed_on=row.closed_on
                if row.closed_on is not None and row.closed_on <= on
                else None,
                closed_how=row.closed_how,
            )
            for row in wrong
        ),
    )
