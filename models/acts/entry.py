"""What every entry does: take the place of the one it corrects, and say who entered it."""

from __future__ import annotations

from typing import TypeVar

from sqlalchemy import inspect, select
from sqlalchemy.orm import Mapper, Session

from models.acts.rows import row_of
from models.errors import Refused, RefusedCode
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow
from models.tables.hours import HoursReadingRow, InferredPointRow, UseRow
from models.tables.household import HouseholdRow
from models.tables.stores import PaymentRow
from models.tables.trials import TrialValueRow
from models.tables.work import LimitReadingRow, WorkRow

_STAMPED = frozenset({"id", "uid", "entered_at", "entered_by", "struck", "corrects_id"})


EntryRow = (
    WorkRow
    | LimitReadingRow
    | HoursReadingRow
    | InferredPointRow
    | UseRow
    | FuelEventRow
    | PaymentRow
    | TrialValueRow
)

E = TypeVar("E", bound=EntryRow)


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
