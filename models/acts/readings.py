"""Measurements: an amount or a thing seen, taken for a task of a machine."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.known import limit_of, task_of, unknown
from models.acts.report import report
from models.acts.rows import Machine, day_of, item_for, machine_of, machines_of
from models.acts.typed import typed_columns
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.work import LimitReadingRow
from models.words import Side
from schedules.facts import Direction, LimitFacts
from schedules.units import LARGEST_STORED, Typed, Unit

# What can be true of anything in a shed, in stored units: our judgement, and wide.
_SENSE: Mapping[Unit, tuple[int, int]] = {
    Unit.SECOND: (0, 10**9),
    Unit.DAY: (0, 36_500),
    Unit.MONTH: (0, 1_200),
    Unit.MICROLITRE: (0, 10**9),
    Unit.MICROMETRE: (0, 10**8),
    Unit.PASCAL: (0, 10**8),
    Unit.MILLIVOLT: (0, 10**6),
    Unit.MILLINEWTON: (0, 10**8),
    Unit.MILLINEWTON_METRE: (0, 10**7),
    Unit.MILLIDEGREE_CELSIUS: (-90_000, 1_500_000),
    Unit.MILLIGRAM: (0, 10**10),
    Unit.PERMILLE: (0, 1_000),
    Unit.CENT: (0, 10**11),
    Unit.COUNT: (0, 10**6),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One measurement: `amount` in the limit's stored unit, or `seen` for an event.

    `after_work`: taken after the part was worked on. `item_id` names one of several like units.
    """

    task: str
    limit: str
    amount: int | None = None
    seen: bool | None = None
    side: Side | None = None
    typed: Typed | None = None
    after_work: bool = False
    item_id: int | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A measurement on a day, without other work."""

    machine_id: int
    day: date
    measured: Measured

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        # What was measured with a record of work goes on falling with it.
        first = None if corrects is None else session.get_one(LimitReadingRow, corrects)
        row = enter_reading(
            session,
            machine,
            self.measured,
            day=self.day,
            corrects=corrects,
            work_id=None if first is None else first.work_id,
        )
        return report(
            ActCode.MEASURE,
            (Area.MACHINES, machine.number),
            *((Area.MACHINES, number) for number in machines_of(session, [row.item_id])),
            (Area.READINGS, row.id),
            name=machine.name,
            limit=row.limit_code,
            day=self.day,
        )


def enter_reading(
    session: Session,
    machine: Machine,
    measured: Measured,
    *,
    day: date,
    corrects: int | None,
    work_id: int | None = None,
) -> LimitReadingRow:
    """Put the measurement into the file. Raises Refused."""
    task = task_of(machine.kind, measured.task)
    limit = limit_of(task, measured.limit)
    _check(limit, measured)
    row = LimitReadingRow(
        item_id=item_for(session, machine, task.item, day, measured.item_id).id,
        work_id=work_id,
        happened_on=day,
        task_code=task.code,
        limit_code=limit.code,
        amount=measured.amount,
        seen=measured.seen,
        after_work=measured.after_work,
        side=measured.side,
        note=plain_text("note", measured.note, most=NOTE_LENGTH),
        corrects_id=corrects,
        entered_by=hand(session),
        **typed_columns(measured.typed, measured.amount),
    )
    session.add(row)
    session.flush()
    return row


def _check(limit: LimitFacts, measured: Measured) -> None:
    """The one answer that the limit asks for, within what can be true."""
    if limit.direction is Direction.EVENT:
        if measured.seen is None or measured.amount is not None:
            raise Refused(RefusedCode.READING_NEEDS_SEEN, limit=limit.code)
    elif measured.amount is None or measured.seen is not None:
        raise Refused(RefusedCode.READING_NEEDS_AMOUNT, limit=limit.code)
    else:
        low, high = _SENSE.get(limit.unit, (0, LARGEST_STORED))
        whole("amount", measured.amount, low, high)
    if measured.side is not None and not limit.both_sides:
        raise unknown("side", measured.side)
