"""Money and the shelf: payments, parts that lie ready; printed sheets that can come back."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy import String, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from models.tables.base import NOTE_LENGTH, Base, Guards, choice, code, day, link, plain_text, whole
from models.tables.entries import Entry
from models.words import Paper, PaymentSort, SheetSort

LONGEST_LINES = 1_000_000


class PaymentRow(Entry, Base):
    """Money paid, or got for a thing sold, in cents of the household's currency."""

    __tablename__ = "payment"

    machine_id: Mapped[int | None] = link("machine", "RESTRICT", null=True)
    item_id: Mapped[int | None] = link("item", "RESTRICT", null=True)
    sort: Mapped[PaymentSort] = choice(PaymentSort)
    cents: Mapped[int] = whole(0, 10**11)
    shop: Mapped[str] = plain_text()
    text: Mapped[str] = plain_text()
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class ShelfPartRow(Base):
    """A part that lies ready. `part_code` is the catalogue's, `spec` tells two of it apart."""

    __tablename__ = "shelf_part"
    __table_args__ = (UniqueConstraint("part_code", "spec"),)

    part_code: Mapped[str] = code()
    name: Mapped[str] = plain_text(least=1)
    spec: Mapped[str] = plain_text()
    quantity: Mapped[int] = whole(0, 100_000)
    spot: Mapped[str] = plain_text()
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class SheetRow(Base):
    """A printed page: four large digits lead back to it. `lines` is what stood on it, as JSON.

    Numbers come round again; the newest sheet of a number is meant.
    """

    __tablename__ = "sheet"
    guards: ClassVar[Guards] = (
        ("entered_later", "entered_on IS NULL OR entered_on >= printed_on"),
    )

    number: Mapped[int] = whole(1000, 9999)
    sort: Mapped[SheetSort] = choice(SheetSort)
    paper: Mapped[Paper] = choice(Paper)
    printed_on: Mapped[date] = day()
    entered_on: Mapped[date | None] = day(null=True)
    lines: Mapped[str] = mapped_column(
        String(LONGEST_LINES), nullable=False, default="[]", info={"least": 2}
    )


class SheetMachineRow(Base):
    """A machine that stands on a sheet."""

    __tablename__ = "sheet_machine"
    __table_args__ = (UniqueConstraint("sheet_id", "machine_id"),)

    sheet_id: Mapped[int] = link("sheet", "CASCADE")
    machine_id: Mapped[int] = link("machine", "CASCADE")
