"""What every entry does: take the place of the one it corrects, and say who entered it."""

from __future__ import annotations

from typing import Protocol, TypeVar

from sqlalchemy import inspect, select
from sqlalchemy.orm import Mapper, Session

from models.acts.rows import row_of
from models.changes import Changes
from models.errors import Refused, RefusedCode
from models.moment import Moment
from models.tables.base import Base
from models.tables.entries import Entry, in_force
from models.tables.household import HouseholdRow

_STAMPED = frozenset({"id", "uid", "entered_at", "entered_by", "struck", "corrects_id"})


class EntryRow(Entry, Base):
    """The mapped classes that are entries, as far as all are alike."""

    __abstract__ = True


E = TypeVar("E", bound=EntryRow)


class EntryAct(Protocol):
    """An act that makes one entry, and can make it in the place of another."""

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Make the entry; `corrects` is the id of the one whose place it takes."""
        ...


def hand(session: Session) -> str:
    """Who enters things in this household."""
    return session.get_one(HouseholdRow, 1).person


def entry_of(session: Session, table: type[E], number: int, what: str) -> E:
    """An entry that counts. Raises Refused NOT_THERE, ALREADY_CORRECTED when it does not any more:
    corrected, struck out, or fallen with its record."""
    row = row_of(session, table, number, what)
    if session.scalar(select(table.id).where(table.id == number, in_force(table))) is None:
        raise Refused(RefusedCode.ALREADY_CORRECTED, what=what, id=number)
    return row


def struck_copy(session: Session, row: E) -> E:
    """A row that strikes the entry out: it repeats it and nothing takes its place."""
    table = type(row)
    mapper: Mapper[E] = inspect(table)
    values = {
        attribute.key: getattr(row, attribute.key)
        for attribute in mapper.column_attrs
        if attribute.key not in _STAMPED
    }
    return table(**values, struck=True, corrects_id=row.id, entered_by=hand(session))
