"""What a fault sheet says, entered as one step: each printed test with what was seen, each cure
with whether it helped, what came off and still lies there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.report import report
from models.acts.searches import AnswerTest, NoteStep, TryCure
from models.acts.sheets import SheetLine, read_lines, sheet_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import whole
from models.moment import Moment
from models.tables.searches import SearchRow
from models.tables.stores import SheetRow
from models.words import SearchDoing, SheetSort

HELPED = "helped"
# How a printed step is kept: its number, what it said, and in brackets what it is about.
_KEPT = re.compile(r"(\d+) (.*) \[([A-Za-z0-9]+) ([^/\]]+)(?:/(\d+))?\]", re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStep:
    """A numbered step of a fault sheet. `place`: which cure of the cause; None: it is a test."""

    machine_id: int
    number: str
    title: str
    symptom: str
    subject: str
    place: int | None

    def line(self) -> SheetLine:
        """As the file keeps it."""
        about = self.subject if self.place is None else f"{self.subject}/{self.place}"
        text = f"{self.number} {self.title} [{self.symptom} {about}]"
        return SheetLine(machine_id=self.machine_id, text=text)


def printed_steps(kept: str) -> tuple[PrintedStep, ...]:
    """The steps of a fault sheet; none of a sheet that an older version printed."""
    found: list[PrintedStep] = []
    for line in read_lines(kept):
        match = _KEPT.fullmatch(line.text)
        if match is not None:
            number, title, symptom, subject, place = match.groups()
            found.append(
                PrintedStep(
                    machine_id=line.machine_id,
                    number=number,
                    title=title,
                    symptom=symptom,
                    subject=subject,
                    place=None if place is None else int(place),
                )
            )
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class EnterFaultSheet:
    """The steps that were reached, each by its place on the sheet (the first is 0) with the code
    of what was ticked; what came off, in order. One step of undo for all of it."""

    number: int
    day: date
    seen: tuple[tuple[int, str], ...] = ()
    left_off: tuple[str, ...] = ()

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; CLOSED_ALREADY when the sheet was entered, or its search has ended."""
        sheet = sheet_of(session, self.number)
        if sheet.entered_on is not None:
            raise Refused(RefusedCode.CLOSED_ALREADY, what="sheet", id=sheet.number)
        checked_day("day", self.day, first=sheet.printed_on, today=moment.today)
        steps = printed_steps(sheet.lines) if sheet.sort is SheetSort.FAULTS else ()
        if not steps or not (self.seen or self.left_off):
            raise Refused(RefusedCode.NOTHING_GIVEN, field="lines")
        search = search_of(session, steps[0], printed_on=sheet.printed_on)
        touched: set[tuple[Area, int]] = {(Area.SHEETS, sheet.id)}
        for place, outcome in sorted(self.seen):
            whole("place", place, 0, len(steps) - 1)
            touched |= self._enter(session, moment, search, steps[place], outcome)
        for text in self.left_off:
            act = NoteStep(search_id=search.id, doing=SearchDoing.LEFT_OFF, on=self.day, text=text)
            touched |= act.run(session, moment).ids
        sheet.entered_on = moment.today
        return report(ActCode.ENTER_SHEET, *sorted(touched), name=str(sheet.number))

    def _enter(
        self, session: Session, moment: Moment, search: SearchRow, step: PrintedStep, outcome: str
    ) -> frozenset[tuple[Area, int]]:
        act = (
            AnswerTest(search_id=search.id, reading=step.subject, outcome=outcome, on=self.day)
            if step.place is None
            else TryCure(
                search_id=search.id,
                cause=step.subject,
                place=step.place,
                helped=outcome == HELPED,
                on=self.day,
            )
        )
        try:
            return act.run(session, moment).ids
        except Refused as refused:
            if refused.code is RefusedCode.NOTHING_CHANGED:  # it was said on the screen, too
                return frozenset()
            raise


def search_of(session: Session, step: PrintedStep, *, printed_on: date) -> SearchRow:
    """The search a step belongs to, never one begun after the sheet was printed. Raises Refused
    CLOSED_ALREADY when it has ended."""
    found = session.scalars(
        select(SearchRow)
        .where(
            SearchRow.machine_id == step.machine_id,
            SearchRow.symptom_code == step.symptom,
            SearchRow.begun_on <= printed_on,
        )
        .order_by(SearchRow.closed_on.is_(None).desc(), SearchRow.id.desc())
        .limit(1)
    ).first()
    if found is None or found.closed_on is not None:
        number = 0 if found is None else found.id
        raise Refused(RefusedCode.CLOSED_ALREADY, what="search", id=number)
    return found


def steps_of(session: Session, number: int) -> tuple[SheetRow, tuple[PrintedStep, ...]]:
    """A fault sheet with its steps. Raises Refused NOT_THERE."""
    sheet = sheet_of(session, number)
    return sheet, printed_steps(sheet.lines)
