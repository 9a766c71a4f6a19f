"""Printed sheets: what stood on each, so that four digits lead back to it."""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any, cast

from sqlalchemy import func, select, text
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
_FIELDS = {"machine_id", "tasks", "job_id", "text"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """A line with a box to tick: tasks of a machine, or a job; what it said."""

    machine_id: int
    tasks: tuple[str, ...] = ()
    job_id: int | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintSheet:
    """A sheet was printed; it gets the next number that no sheet had before it."""

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
        kept = json.dumps([asdict(line) for line in self.lines], ensure_ascii=False)
        place, number = next_place(session)
        row = SheetRow(
            id=place,
            number=number,
            sort=self.sort,
            paper=self.paper,
            printed_on=moment.today,
            lines=plain_text("lines", kept, most=LONGEST_LINES),
        )
        session.add(row)
        session.flush()
        session.add_all(SheetMachineRow(sheet_id=row.id, machine_id=each) for each in machines)
        return report(
            ActCode.PRINT_SHEET,
            (Area.SHEETS, row.id),
            *((Area.MACHINES, machine) for machine in machines),
            name=str(number),
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


def next_place(session: Session) -> tuple[int, int]:
    """The row and the number of the next sheet, passing over the numbers of those still out.

    A number is bound to its row, and a row number is never given twice, not even when the
    printing is undone: the paper may hang in the shed all the same. Only past the last number do
    they come round.
    """
    span = LAST_NUMBER - FIRST_NUMBER + 1
    last = session.scalar(text("SELECT seq FROM sqlite_sequence WHERE name = 'sheet'")) or 0
    lap = last // span * span
    # Sheets that were taken in may have brought greater numbers with them.
    greatest = session.scalar(select(func.max(SheetRow.number)).where(SheetRow.id > lap))
    if greatest is not None:
        last = max(last, lap + greatest - FIRST_NUMBER + 1)
    out = set(session.scalars(select(SheetRow.number).where(SheetRow.entered_on.is_(None))))
    for row in range(last + 1, last + 1 + span):
        number = FIRST_NUMBER + (row - 1) % span
        if number not in out:
            return row, number
    return last + 1, FIRST_NUMBER + last % span


def sheet_of(session: Session, number: int) -> SheetRow:
    """The sheet of a number that is still out, else the newest. Raises Refused NOT_THERE."""
    found = None
    if FIRST_NUMBER <= number <= LAST_NUMBER:
        found = session.scalars(
            select(SheetRow)
            .where(SheetRow.number == number)
            .order_by(SheetRow.entered_on.is_(None).desc(), SheetRow.id.desc())
            .limit(1)
        ).first()
    if found is None:
        shown = min(max(number, -LARGEST_ID), LARGEST_ID)
        raise Refused(RefusedCode.NOT_THERE, what="sheet", id=shown)
    return found


def read_lines(kept: str) -> tuple[SheetLine, ...]:
    """The lines of a sheet from what is kept of them; none where that says something else."""
    try:
        return lines_of(kept)
    except ValueError:
        return ()


def lines_of(kept: str) -> tuple[SheetLine, ...]:
    """The same. Raises ValueError where it says something else."""
    try:
        said: Any = json.loads(kept)
    except RecursionError:
        raise ValueError("lines") from None
    if not isinstance(said, list):
        raise ValueError("lines")  # noqa: TRY004  (told as one with the others)
    return tuple(_line_of(each) for each in cast("list[Any]", said))


def _line_of(said: Any) -> SheetLine:
    if not isinstance(said, dict) or set(cast("dict[str, Any]", said)) != _FIELDS:
        raise ValueError("lines")
    line = cast("dict[str, Any]", said)
    tasks = line["tasks"]
    words = [line["text"], *cast("list[Any]", tasks)] if isinstance(tasks, list) else [None]
    rows = [line["machine_id"], *([] if line["job_id"] is None else [line["job_id"]])]
    if not all(isinstance(word, str) for word in words) or not all(
        type(row) is int and 1 <= row <= LARGEST_ID for row in rows
    ):
        raise ValueError("lines")
    return SheetLine(
        machine_id=line["machine_id"],
        tasks=tuple(cast("list[str]", tasks)),
        job_id=line["job_id"],
        text=line["text"],
    )
