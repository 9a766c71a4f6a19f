"""Entries: what people put in. They are only ever added to; a correction stands beside the first.

A row that names another in `corrects_id` takes its place; when it is also `struck`, the entry is
withdrawn and nothing takes its place (the row repeats what it strikes). An entry is corrected at
most once: whoever corrects again corrects the correction. An entry made together with a work
record (`work_id`) falls with it.
"""

from __future__ import annotations

from datetime import date, datetime
from functools import cache
from typing import Any, ClassVar

from sqlalchemy import ColumnElement, ForeignKey, Integer, and_, exists, or_
from sqlalchemy.orm import Mapped, aliased, declared_attr, mapped_column

from models.tables.base import Base, Guards, day, instant, plain_text, yes
from schedules.units import LONGEST_TEXT

LONGEST_AMOUNT = 100


class Entry:
    """The columns of every entry: the day it happened, the instant and hand that entered it."""

    guards: ClassVar[Guards] = (
        ("strikes", "struck = 0 OR corrects_id IS NOT NULL"),
        ("corrects_earlier", "corrects_id IS NULL OR corrects_id < id"),
    )

    id: Mapped[int]
    happened_on: Mapped[date] = day()
    entered_at: Mapped[datetime] = instant()
    entered_by: Mapped[str] = plain_text()
    struck: Mapped[bool] = yes()

    @declared_attr
    @classmethod
    def corrects_id(cls) -> Mapped[int | None]:
        """The entry whose place this one takes."""
        own = f"{cls.__tablename__}.id"  # type: ignore[attr-defined]
        return mapped_column(Integer, ForeignKey(own, ondelete="RESTRICT"), unique=True)


class Measured:
    """What was typed, beside what is stored: the words, the exact amount, the unit meant."""

    typed_text: Mapped[str] = plain_text(LONGEST_TEXT)
    typed_amount: Mapped[str] = plain_text(LONGEST_AMOUNT)
    typed_unit: Mapped[str] = plain_text(LONGEST_TEXT)


class Plated:
    """A type plate as it reads; a machine has one and its engine another."""

    plate_maker: Mapped[str] = plain_text()
    plate_model: Mapped[str] = plain_text()
    plate_type: Mapped[str] = plain_text()
    plate_serial: Mapped[str] = plain_text()
    plate_code: Mapped[str] = plain_text()
    plate_built: Mapped[str] = plain_text()


@cache
def in_force(entry: type[Any]) -> ColumnElement[bool]:
    """The condition under which rows of an entry class count: neither struck nor corrected, nor
    made together with a work record that is."""
    later = aliased(entry)
    counts = and_(entry.struck.is_(False), ~exists().where(later.corrects_id == entry.id))
    if not hasattr(entry, "work_id"):
        return counts
    # By name, since the class that is meant stands above this module.
    work, correction = (Base.metadata.tables["work"].alias() for _ in range(2))
    fallen = exists().where(
        work.c.id == entry.work_id,
        or_(work.c.struck.is_(True), exists().where(correction.c.corrects_id == work.c.id)),
    )
    return and_(counts, ~fallen)
