"""Before and after: a trial begun, how it was on each side, values measured, the end of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.known import unknown
from models.acts.report import report
from models.acts.rows import Machine, day_of, machine_of, row_of
from models.acts.typed import typed_columns
from models.acts.work import LineGiven, RecordWork, is_open
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.trials import TrialConditionRow, TrialRow, TrialValueRow
from models.tables.work import JobRow
from models.words import TrialSide
from resources.protocols import Protocol, load_protocols
from schedules.facts import KindCode
from schedules.units import Typed

MOST_VALUES = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginTrial:
    """A comparison by a protocol of the machine's kind. `job`: what the job that waits for the
    after-side says; it stands until the trial is closed."""

    machine_id: int
    protocol: str
    day: date
    job: str
    rough: bool = False
    work: str = ""
    reference: str = ""
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        protocol = protocol_of(machine, self.protocol)
        day_of(machine.item, "day", self.day, moment.today)
        job = JobRow(
            machine_id=machine.number,
            text=plain_text("text", self.job, least=1),
            noted_on=self.day,
            waits_for=plain_text("work", self.work),
        )
        session.add(job)
        session.flush()
        row = TrialRow(
            machine_id=machine.number,
            job_id=job.id,
            protocol_code=protocol.code,
            begun_on=self.day,
            rough=self.rough,
            work=plain_text("work", self.work),
            reference=plain_text("reference", self.reference),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(row)
        session.flush()
        return _report(ActCode.BEGIN_TRIAL, row, machine, (Area.JOBS, job.id))


@dataclass(frozen=True, slots=True, kw_only=True)
class SetConditions:
    """How it was on one side; answers: (condition, value). An answer given again is changed."""

    trial_id: int
    side: TrialSide
    answers: tuple[tuple[str, str], ...]

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; NOTHING_CHANGED when every answer was so already."""
        row, machine, protocol = _open_trial(session, self.trial_id)
        asked = protocol.conditions_for(KindCode(machine.row.kind_code))
        known = {
            one.condition_code: one
            for one in session.scalars(
                select(TrialConditionRow).where(
                    TrialConditionRow.trial_id == row.id, TrialConditionRow.side == self.side
                )
            )
        }
        changed = False
        for code, answer in self.answers:
            if code not in asked:
                raise unknown("condition", code)
            condition = load_protocols().conditions[code]
            if answer not in {value for value, _ in condition.answers}:
                raise unknown("answers", answer)
            there = known.get(code)
            if there is None:
                session.add(
                    TrialConditionRow(
                        trial_id=row.id, side=self.side, condition_code=code, answer=answer
                    )
                )
                changed = True
            elif there.answer != answer:
                there.answer = answer
                changed = True
        if not changed:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        return _report(ActCode.TRIAL_CONDITIONS, row, machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """One value in the protocol's stored unit, and as it was typed."""

    amount: int
    typed: Typed | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AddValues:
    """Values of one side, measured on a day. `of_reference`: on the machine beside it."""

    trial_id: int
    side: TrialSide
    day: date
    values: tuple[Value, ...]
    of_reference: bool = False
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, machine, protocol = _open_trial(session, self.trial_id)
        checked_day("day", self.day, first=row.begun_on, today=moment.today)
        day_of(machine.item, "day", self.day, moment.today)
        if not self.values:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="values")
        whole("count", len(self.values), 1, MOST_VALUES)
        if self.of_reference and not row.reference:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="reference")
        for value in self.values:
            whole("values", value.amount, 1, protocol.most)
            session.add(
                TrialValueRow(
                    trial_id=row.id,
                    side=self.side,
                    of_reference=self.of_reference,
                    happened_on=self.day,
                    amount=value.amount,
                    note=plain_text("note", self.note, most=NOTE_LENGTH),
                    entered_by=hand(session),
                    **typed_columns(value.typed, value.amount),
                )
            )
        session.flush()
        return _report(ActCode.TRIAL_VALUES, row, machine)


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseTrial:
    """Nothing more is measured: the job that waited is done, or dropped for a reason."""

    trial_id: int
    day: date
    why: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused CLOSED_ALREADY."""
        row, machine, _ = _open_trial(session, self.trial_id)
        checked_day("day", self.day, first=row.begun_on, today=moment.today)
        row.closed_on = self.day
        touched: list[tuple[Area, int]] = []
        job = None if row.job_id is None else session.get(JobRow, row.job_id)
        if job is not None and is_open(session, job):
            touched.append((Area.JOBS, job.id))
            if self.why:
                job.dropped_on = self.day
                job.dropped_why = plain_text("why", self.why, least=1)
            else:
                done = RecordWork(
                    machine_id=machine.number, day=self.day, lines=(LineGiven(job_id=job.id),)
                )
                touched += done.run(session, moment).ids
        session.flush()
        return _report(ActCode.CLOSE_TRIAL, row, machine, *touched)


def protocol_of(machine: Machine, code: str) -> Protocol:
    """A protocol for machines of that kind. Raises Refused UNKNOWN_CODE."""
    found = load_protocols().protocols.get(code)
    if found is None or KindCode(machine.row.kind_code) not in found.kinds:
        raise unknown("protocol", code)
    return found


def _open_trial(session: Session, number: int) -> tuple[TrialRow, Machine, Protocol]:
    row = row_of(session, TrialRow, number, "trial")
    if row.closed_on is not None:
        raise Refused(RefusedCode.CLOSED_ALREADY, what="trial", id=number)
    machine = machine_of(session, row.machine_id)
    return row, machine, protocol_of(machine, row.protocol_code)


def _report(code: ActCode, row: TrialRow, machine: Machine, *touched: tuple[Area, int]) -> Changes:
    return report(
        code,
        (Area.TRIALS, row.id),
        (Area.MACHINES, machine.number),
        *touched,
        name=machine.name,
        protocol=row.protocol_code,
    )
