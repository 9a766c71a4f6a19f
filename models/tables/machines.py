"""Machines and the things hours and tasks hang on; where they stood, what was fitted to them."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from models.tables.base import NOTE_LENGTH, Base, Guards, choice, code, day, link, plain_text, whole
from models.tables.entries import Plated
from schedules.facts import ItemSort, Past


class ItemRow(Plated, Base):
    """What hours, tasks and wear hang on: a machine itself, or a unit that can be fitted to one.

    `start_seconds`: its run time in all on the day it came, NULL when nobody knows.
    `retired_on`: the first day it was no longer there.
    """

    __tablename__ = "item"
    guards: ClassVar[Guards] = (("retired_later", "retired_on IS NULL OR retired_on >= came_on"),)

    sort: Mapped[ItemSort] = choice(ItemSort)
    name: Mapped[str] = plain_text(least=1)
    came_on: Mapped[date] = day()
    past: Mapped[Past] = choice(Past)
    start_seconds: Mapped[int | None] = whole(null=True)
    retired_on: Mapped[date | None] = day(null=True)
    retired_why: Mapped[str] = plain_text()
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class MachineRow(Base):
    """A machine: an item of sort machine with a kind of the catalogue."""

    __tablename__ = "machine"

    item_id: Mapped[int] = link("item", "RESTRICT", unique=True)
    kind_code: Mapped[str] = code()


class MachinePlaceRow(Base):
    """The machine stands at the place from this day on; `spot` says where in it."""

    __tablename__ = "machine_place"
    __table_args__ = (UniqueConstraint("machine_id", "from_on"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    place_id: Mapped[int] = link("place", "RESTRICT")
    from_on: Mapped[date] = day()
    spot: Mapped[str] = plain_text()


class FittingRow(Base):
    """A unit on a machine from `from_on` on; `off_on` is the first day it was off again.

    A pack may be fitted to several machines at once, anything else to one.
    """

    __tablename__ = "fitting"
    guards: ClassVar[Guards] = (("off_later", "off_on IS NULL OR off_on >= from_on"),)

    item_id: Mapped[int] = link("item", "CASCADE")
    machine_id: Mapped[int] = link("machine", "CASCADE")
    from_on: Mapped[date] = day()
    off_on: Mapped[date | None] = day(null=True)
