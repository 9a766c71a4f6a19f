"""Storage sheets that come back: every line ticked on paper answers its step, in one going."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy.orm import Session

from models.acts.report import report
from models.acts.runs import AnswerStep, BeginRun, FinishRun
from models.acts.sheets import SheetLine, read_lines, sheet_of
from models.acts.work import RecordWork
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.moment import Moment

# How a printed step is kept: what it said, and its code in brackets.
_KEPT = re.compile(r"(.*) \[([A-Z][A-Z0-9]*-[0-9]+)\]", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredStep:
    """A step as it stood on a storage sheet; `machine_id` is the first of those it is for."""

    machine_id: int
    code: str
    title: str
    tasks: tuple[str, ...] = ()

    def line(self) -> SheetLine:
        """As the file keeps it."""
        text = f"{self.title} [{self.code}]"
        return SheetLine(machine_id=self.machine_id, tasks=self.tasks, text=text)


def stored_steps(kept: str) -> tuple[StoredStep, ...]:
    """The steps of a storage sheet, in their order; none of one that an older version printed."""
    found: list[StoredStep] = []
    for line in read_lines(kept):
        match = _KEPT.fullmatch(line.text)
        if match is not None:
            title, code = match.groups()
            found.append(
                StoredStep(machine_id=line.machine_id, code=code, title=title, tasks=line.tasks)
            )
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class EnterRunSheet:
    """What a storage sheet says, entered as one step to undo.

    `run_id`: the run it belongs to; None: `begin` begins it. The `answers`, and `finish`, count for
    that run whatever run they name. `work`: what was ticked and stands on no list any more.
    """

    number: int
    day: date
    run_id: int | None = None
    begin: BeginRun | None = None
    answers: tuple[AnswerStep, ...] = ()
    work: tuple[RecordWork, ...] = ()
    finish: FinishRun | None = None

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; CLOSED_ALREADY when it was entered before."""
        sheet = sheet_of(session, self.number)
        if sheet.entered_on is not None:
            raise Refused(RefusedCode.CLOSED_ALREADY, what="sheet", id=sheet.number)
        checked_day("day", self.day, first=sheet.printed_on, today=moment.today)
        touched: set[tuple[Area, int]] = {(Area.SHEETS, sheet.id)}
        run_id = self.run_id
        if run_id is None and self.begin is not None:
            begun = self.begin.run(session, moment)
            run_id = next(number for area, number in begun.ids if area is Area.RUNS)
            touched |= begun.ids
        if run_id is None and (self.answers or self.finish is not None):
            raise Refused(RefusedCode.NOTHING_GIVEN, field="steps")
        for answer in self.answers:
            touched |= replace(answer, run_id=run_id or 0).run(session, moment).ids
        for work in self.work:
            touched |= replace(work, sheet_id=sheet.id).run(session, moment).ids
        if self.finish is not None:
            touched |= replace(self.finish, run_id=run_id or 0).run(session, moment).ids
        sheet.entered_on = moment.today
        return report(ActCode.ENTER_SHEET, *sorted(touched), name=str(sheet.number))
