"""Uses: that a machine was out, how long if anybody knows, and how it went."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.report import report
from models.acts.rows import day_of, machine_of
from models.acts.typed import typed_columns
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.entries import in_force
from models.tables.hours import DAY_SECONDS, UseRow
from models.words import RunOutcome
from schedules.units import Typed, hours

MOST_A_DAY = 24  # uses of a day without a clock: each is reckoned at the kind's usual time
MOST_USES = 1000
MOST_PINS = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class LogUse:
    """A machine was used `count` times on a day; `run_seconds` in all, if anybody noted it."""

    machine_id: int
    day: date
    run_seconds: int | None = None
    typed: Typed | None = None
    count: int = 1
    outcome: RunOutcome = RunOutcome.RAN
    pins_used: int = 0
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        self._check(session, corrects)
        row = UseRow(
            machine_id=machine.number,
            happened_on=self.day,
            run_seconds=self.run_seconds,
            count=whole("count", self.count, 1, MOST_USES),
            outcome=self.outcome,
            pins_used=whole("pins_used", self.pins_used, 0, MOST_PINS),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
            corrects_id=corrects,
            entered_by=hand(session),
            **typed_columns(self.typed, self.run_seconds),
        )
        session.add(row)
        session.flush()
        return report(
            ActCode.LOG_USE,
            (Area.MACHINES, machine.number),
            (Area.USES, row.id),
            name=machine.name,
            day=self.day,
        )

    def _check(self, session: Session, corrects: int | None) -> None:
        """No day has more than 24 hours; what did not start did not run."""
        if self.run_seconds is None:
            whole("count", self.count, 1, MOST_A_DAY)
            return
        most = 0 if self.outcome is RunOutcome.DID_NOT else DAY_SECONDS
        whole("run_seconds", self.run_seconds, 0, most)
        others: int | None = session.scalar(
            select(func.sum(UseRow.run_seconds)).where(
                in_force(UseRow),
                UseRow.machine_id == self.machine_id,
                UseRow.happened_on == self.day,
                UseRow.id != (corrects or 0),
            )
        )
        together = self.run_seconds + (others or 0)
        if together > DAY_SECONDS:
            raise Refused(RefusedCode.MORE_THAN_THE_DAY, ran=hours(together), day=self.day)
