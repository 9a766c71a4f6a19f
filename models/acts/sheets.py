"""Printed sheets: what stood on each, so that four digits lead back to it."""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import asdict, dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.known import task_of
from models.acts.report import report
from models.acts.rows import LARGEST_ID, machine_of, row_of
from models.acts.work import LineGiven, RecordWork
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.stores import LONGEST_LINES, SheetMachineRow, SheetRow
from models.tables.work import JobRow
from models.words import LineOutcome, Paper, SheetSort

FIRST_NUMBER, LAST_NUMBER = 1000, 9999


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """A line with a box to tick: tasks of a machine, or a job; what it said."""

    machine_id: int
    tasks: tuple[str, ...] = ()
    job_id: int | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintSheet:
    """A sheet was printed; it gets the next number that no sheet still out has."""

    sort: SheetSort
    paper: Paper
    lines: tuple[SheetLine, ...] = ()
    machine_ids: tuple[int, ...] = ()

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machines = dict.fromkeys((*self.machine_ids, *(line.machine_id for line in self.lines)))
        found = [machine_of(session, number) for number in machines]
        kinds = {machine.number: machine.kind for machine in found}
        for line in self.lines:
            plain_text("text", line.text, most=LONGEST_LINES)
            for task in line.tasks:
                task_of(kinds[line.machine_id], task)
            if line.job_id is not None:
                row_of(session, JobRow, line.job_id, "job")
        text = json.dumps([asdict(line) for line in self.lines], ensure_ascii=False)
        row = SheetRow(
            number=next_number(session),
            sort=self.sort,
            paper=self.paper,
            printed_on=moment.today,
            lines=plain_text("lines", text, most=LONGEST_LINES),
        )
        session.add(row)
        session.flush()
        session.add_all(SheetMachineRow(sheet_id=row.id, machine_id=each) for each in machines)
        return report(
            ActCode.PRINT_SHEET,
            (Area.SHEETS, row.id),
            *((Area.MACHINES, number) for number in machines),
            name=str(row.number),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetException:
    """A line, by its place on the sheet (the first is 0), that went otherwise than done."""

    place: int
    outcome: LineOutcome
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class EnterSheet:
    """The whole sheet of that number is ticked, but for the exceptions: one record of work for
    each machine.

    `minutes` is the time for all of it, and goes to the first machine's record.
    """

    number: int
    day: date
    exceptions: tuple[SheetException, ...] = ()
    by_whom: str = ""
    minutes: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; CLOSED_ALREADY when it was entered before."""
        sheet = sheet_of(session, self.number)
        if sheet.entered_on is not None:
            raise Refused(RefusedCode.CLOSED_ALREADY, what="sheet", id=sheet.number)
        checked_day("day", self.day, first=sheet.printed_on, today=moment.today)
        lines = read_lines(sheet.lines)
        if not lines:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="lines")
        for each in self.exceptions:
            whole("place", each.place, 0, len(lines) - 1)
        touched: set[tuple[Area, int]] = {(Area.SHEETS, sheet.id)}
        minutes = self.minutes
        for machine, given in self._by_machine(lines).items():
            work = RecordWork(
                machine_id=machine,
                day=self.day,
                lines=tuple(given),
                by_whom=self.by_whom,
                minutes=minutes,
                sheet_id=sheet.id,
                note=self.note,
            )
            touched |= work.run(session, moment).ids
            minutes = None
        sheet.entered_on = moment.today
        return report(ActCode.ENTER_SHEET, *sorted(touched), name=str(sheet.number))

    def _by_machine(self, lines: tuple[SheetLine, ...]) -> dict[int, list[LineGiven]]:
        otherwise = {each.place: each for each in self.exceptions}
        found: dict[int, list[LineGiven]] = defaultdict(list)
        for place, line in enumerate(lines):
            said = otherwise.get(place)
            outcome = LineOutcome.DONE if said is None else said.outcome
            note = "" if said is None else said.note
            for task in line.tasks:
                found[line.machine_id].append(LineGiven(task=task, outcome=outcome, note=note))
            if line.job_id is not None:
                given = LineGiven(job_id=line.job_id, outcome=outcome, note=note)
                found[line.machine_id].append(given)
        return found


def next_number(session: Session) -> int:
    """The number after the newest sheet's, passing over those of sheets that are still out."""
    rows = session.execute(
        select(SheetRow.number, SheetRow.entered_on).order_by(SheetRow.id.desc())
    ).all()
    span = LAST_NUMBER - FIRST_NUMBER + 1
    out = {number for number, entered in rows if entered is None}
    start = rows[0][0] - FIRST_NUMBER + 1 if rows else 1
    for step in range(span):
        number = FIRST_NUMBER + (start + step) % span
        if number not in out:
            return number
    return FIRST_NUMBER + start % span


def sheet_of(session: Session, number: int) -> SheetRow:
    """The newest sheet of a number. Raises Refused NOT_THERE."""
    found = None
    if FIRST_NUMBER <= number <= LAST_NUMBER:
        found = session.scalars(
            select(SheetRow).where(SheetRow.number == number).order_by(SheetRow.id.desc()).limit(1)
        ).first()
    if found is None:
        shown = min(max(number, -LARGEST_ID), LARGEST_ID)
        raise Refused(RefusedCode.NOT_THERE, what="sheet", id=shown)
    return found


def read_lines(text: str) -> tuple[SheetLine, ...]:
    """The lines of a sheet from what is kept of them."""
    return tuple(
        SheetLine(
            machine_id=line["machine_id"],
            tasks=tuple(line["tasks"]),
            job_id=line["job_id"],
            text=line["text"],
        )
        for line in json.loads(text)
    )
