"""Measurements: an amount or a thing seen, taken for a task of a machine."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.known import limit_of, task_of, unknown
from models.acts.report import report
from models.acts.rows import Machine, day_of, item_for, machine_of, machines_of
from models.acts.typed import typed_columns
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import plain_text
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.entries import in_force
from models.tables.work import LimitReadingRow, WorkLineRow, WorkRow
from models.words import LineOutcome, Side
from schedules.facts import Direction, LimitFacts
from schedules.units import LARGEST_STORED, Quantity, Typed, Unit

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

    `after_work`: taken after the part was worked on. `sure`: looked at again, and so it is.
    `item_id` names one of several like units.
    """

    task: str
    limit: str
    amount: int | None = None
    seen: bool | None = None
    side: Side | None = None
    typed: Typed | None = None
    after_work: bool = False
    item_id: int | None = None
    sure: bool = False
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
        if not self.measured.sure:
            _doubt(session, machine, self.measured, day=self.day, corrects=corrects)
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


# How far off a slip may lie from exactly 25.4 or 10 times what was found before.
_NEAR = Fraction(1, 5)


def _doubt(
    session: Session, machine: Machine, measured: Measured, *, day: date, corrects: int | None
) -> None:
    """Raises Refused for what is likely a slip, by what else was measured of this part: the same
    again on one day, inches taken for millimetres, a point that slipped, a part that grew, or that
    would have been more worn than it was found later."""
    task = task_of(machine.kind, measured.task)
    limit = limit_of(task, measured.limit)
    _check(limit, measured)
    amount = measured.amount
    if amount is None or limit.direction is Direction.EVENT:
        return
    item = item_for(session, machine, task.item, day, measured.item_id)
    rows = session.scalars(
        select(LimitReadingRow)
        .where(
            LimitReadingRow.item_id == item.id,
            LimitReadingRow.limit_code == limit.code,
            LimitReadingRow.task_code == task.code,
            LimitReadingRow.amount.is_not(None),
            LimitReadingRow.id != (corrects or 0),
            in_force(LimitReadingRow),
        )
        .order_by(LimitReadingRow.happened_on, LimitReadingRow.id)
    ).all()
    alike = [row for row in rows if row.side is measured.side]
    before = [row for row in alike if row.happened_on <= day]
    later = [row for row in alike if row.happened_on > day]
    _doubt_slip(limit, measured, before, later, day)
    renewed = _renewed_on(session, item.id)
    series = [row for row in before if renewed is None or row.happened_on > renewed]
    if series and _grew(limit, measured, worst := _most_worn(limit, series)):
        raise Refused(RefusedCode.READING_WRONG_WAY, limit=limit.code, day=worst.happened_on)
    if later and not later[0].after_work and (renewed is None or renewed < day):
        after = later[0].amount or 0
        if limit.is_back(amount, after):
            day_after = later[0].happened_on
            raise Refused(RefusedCode.READING_WORN_BEFORE, limit=limit.code, day=day_after)


def _doubt_slip(
    limit: LimitFacts,
    measured: Measured,
    before: Sequence[LimitReadingRow],
    later: Sequence[LimitReadingRow],
    day: date,
) -> None:
    """Raises Refused for a figure that lies off by a factor, or that stands there already."""
    amount = measured.amount or 0
    for row in before:
        if (row.happened_on, row.amount, row.after_work) == (day, amount, measured.after_work):
            raise Refused(RefusedCode.READING_TWICE, limit=limit.code, day=day)
    near = before[-1] if before else later[0] if later else None
    if near is None:
        if _is_far(limit, amount):
            raise Refused(RefusedCode.READING_FAR, limit=limit.code)
        return
    code = _slip(amount, near.amount or 0, lengths=limit.unit is Unit.MICROMETRE)
    if code is not None:
        raise Refused(code, limit=limit.code, day=near.happened_on)
    if _is_far(limit, amount) and not _is_far(limit, near.amount or 0):
        raise Refused(RefusedCode.READING_FAR, limit=limit.code)


def _most_worn(limit: LimitFacts, alike: Sequence[LimitReadingRow]) -> LimitReadingRow:
    """The most worn that the part was ever found since it was last worked on: it may not come
    back by small steps either, each within the error of a reading."""
    worked = max((place for place, row in enumerate(alike) if row.after_work), default=0)
    series = alike[worked:]
    worn = max if limit.direction is Direction.AT_MOST else min
    return worn(series, key=lambda row: row.amount or 0)


# What a reading is held against that none before it bears out: our judgement.
_FAR = 8
_HELD = frozenset(
    {Unit.MICROMETRE, Unit.MILLIVOLT, Unit.PASCAL, Unit.MILLINEWTON, Unit.MILLINEWTON_METRE}
)


def _is_far(limit: LimitFacts, amount: int) -> bool:
    """Whether a reading lies so far above the limit that the unit or the point slipped."""
    bound = limit.high if limit.high is not None else limit.low
    return bound is not None and limit.unit in _HELD and amount > _FAR * bound


def _slip(amount: int, before: int, *, lengths: bool) -> RefusedCode | None:
    if amount <= 0 or before <= 0:
        return None
    ratio = Fraction(max(amount, before), min(amount, before))
    for factor, code in (
        (Fraction(254, 10), RefusedCode.READING_OF_INCHES),
        (Fraction(10), RefusedCode.READING_TEN_TIMES),
    ):
        if abs(ratio / factor - 1) <= _NEAR and (lengths or factor == 10):
            return code
    return None


def _renewed_on(session: Session, item: int) -> date | None:
    """The last day anything was renewed on the thing; nobody can say that it was not this part."""
    return session.scalar(
        select(func.max(WorkRow.happened_on))
        .join(WorkLineRow, WorkLineRow.work_id == WorkRow.id)
        .where(
            WorkLineRow.item_id == item,
            WorkLineRow.outcome == LineOutcome.REPLACED,
            in_force(WorkRow),
        )
    )


def _grew(limit: LimitFacts, measured: Measured, last: LimitReadingRow) -> bool:
    """Whether a part that only wears away would be less worn than it was."""
    return not measured.after_work and limit.is_back(last.amount or 0, measured.amount or 0)


def _check(limit: LimitFacts, measured: Measured) -> None:
    """The one answer that the limit asks for, within what can be true."""
    if limit.direction is Direction.EVENT:
        if measured.seen is None or measured.amount is not None:
            raise Refused(RefusedCode.READING_NEEDS_SEEN, limit=limit.code)
    elif measured.amount is None or measured.seen is not None:
        raise Refused(RefusedCode.READING_NEEDS_AMOUNT, limit=limit.code)
    else:
        low, high = _SENSE.get(limit.unit, (0, LARGEST_STORED))
        if not low <= measured.amount <= high:
            shown = (
                Quantity(Fraction(each), limit.unit)
                for each in (min(measured.amount, LARGEST_STORED), low, high)
            )
            named = dict(zip(("value", "low", "high"), shown, strict=True))
            raise Refused(RefusedCode.OUT_OF_RANGE, field="amount", **named)
    if measured.side is not None and not limit.both_sides:
        raise unknown("side", measured.side)
