"""Searches for a fault: begun, answered, changed, paused, closed with the cause that was found."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.known import unknown
from models.acts.report import report
from models.acts.rows import day_of, machine_of, row_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.searches import SearchRow, SearchStepRow
from models.tables.work import FaultRow
from models.words import SearchDoing, SearchEnd
from resources.fault_models import load_fault_models
from resources.own_faults import faults_beside
from schedules.fault_facts import (
    BLANK,
    OWN,
    CauseId,
    FactId,
    FaultModel,
    FaultTest,
    ReadingId,
    SymptomId,
)

MOST_MINUTES = 100_000
MOST_CENTS = 10**11
# What is said of a reading takes the place of what was said of it before.
READINGS = (SearchDoing.SEEN, SearchDoing.TESTED)
CURES = (SearchDoing.TRIED, SearchDoing.TRIED_BEFORE, SearchDoing.CURED)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginSearch:
    """Begin to look for what is wrong. `fault_id`: the fault noted for it; None notes one.
    `seen`: readings and their outcomes; `tried`: causes and which of their cures, in vain."""

    machine_id: int
    symptom: str
    on: date
    text: str = ""
    fault_id: int | None = None
    seen: tuple[tuple[str, str], ...] = ()
    tried: tuple[tuple[str, int], ...] = ()

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "on", self.on, moment.today)
        model = model_of(session, self.symptom)
        row = SearchRow(
            machine_id=machine.number,
            fault_id=self._fault(session, machine.number, model),
            symptom_code=str(model.symptom_id),
            begun_on=self.on,
            waits_for="",
            teaches=False,
            note="",
        )
        session.add(row)
        session.flush()
        for reading, outcome in self.seen:
            _check_outcome(model, reading, outcome)
            _add(session, row, SearchDoing.SEEN, self.on, reading, outcome)
        for cause, place in self.tried:
            _check_cure(model, cause, place)
            _add(session, row, SearchDoing.TRIED_BEFORE, self.on, cause, place=place)
        return _report(ActCode.BEGIN_SEARCH, row, machine.name)

    def _fault(self, session: Session, number: int, model: FaultModel) -> int:
        if self.fault_id is not None:
            fault = row_of(session, FaultRow, self.fault_id, "fault")
            if fault.machine_id != number:
                raise Refused(RefusedCode.NOT_THERE, what="fault", id=self.fault_id)
            if fault.closed_on is not None:
                raise Refused(RefusedCode.CLOSED_ALREADY, what="fault", id=self.fault_id)
            return fault.id
        text = plain_text("text", self.text) or model.title
        fault = FaultRow(machine_id=number, text=text, since_on=self.on, stops_use=False, note="")
        session.add(fault)
        session.flush()
        return fault.id


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerTest:
    """What a test showed, or a question's answer (`noticed`). `outcome` BLANK: it was done, and
    nobody is sure what it showed. A new answer takes the old one's place; the old one stays on
    record."""

    search_id: int
    reading: str
    outcome: str
    on: date
    noticed: bool = False
    minutes: int | None = None

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        model = model_of(session, row.symptom_code)
        found = _check_outcome(model, self.reading, self.outcome)
        checked_day("on", self.on, first=row.begun_on, today=moment.today)
        noticed = self.noticed or not isinstance(found, FaultTest)
        doing = SearchDoing.SEEN if noticed else SearchDoing.TESTED
        before = _standing(session, row, self.reading, READINGS)
        if any(one.answer_code == self.outcome and one.doing is doing for one in before):
            raise Refused(RefusedCode.NOTHING_CHANGED)
        for one in (*before, *_standing(session, row, self.reading, (SearchDoing.CANNOT,))):
            one.withdrawn = True
        _wake(row)
        minutes = None if self.minutes is None else whole("minutes", self.minutes, 0, MOST_MINUTES)
        _add(session, row, doing, self.on, self.reading, self.outcome, minutes=minutes)
        return _report(ActCode.ANSWER_TEST, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class CannotTest:
    """A test that cannot be done now; another is looked for."""

    search_id: int
    reading: str
    on: date

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        _reading(model_of(session, row.symptom_code), self.reading)
        checked_day("on", self.on, first=row.begun_on, today=moment.today)
        if _standing(session, row, self.reading, (SearchDoing.CANNOT,)):
            raise Refused(RefusedCode.NOTHING_CHANGED)
        _add(session, row, SearchDoing.CANNOT, self.on, self.reading)
        return _report(ActCode.ANSWER_TEST, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class TryCure:
    """A cure was done, the same test made again, the machine tried: it helped, or it did not. That
    it did not help after all takes the place of that it did."""

    search_id: int
    cause: str
    place: int
    helped: bool
    on: date
    before: bool = False
    minutes: int | None = None

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        _check_cure(model_of(session, row.symptom_code), self.cause, self.place)
        checked_day("on", self.on, first=row.begun_on, today=moment.today)
        doing = SearchDoing.TRIED_BEFORE if self.before else SearchDoing.TRIED
        if self.helped:
            doing = SearchDoing.CURED
        standing = _standing(session, row, self.cause, CURES)
        same = [one for one in standing if one.place == self.place]
        if any(one.doing is doing for one in same) or (same and self.helped):
            raise Refused(RefusedCode.NOTHING_CHANGED)
        for one in same:
            one.withdrawn = True
        _wake(row)
        minutes = None if self.minutes is None else whole("minutes", self.minutes, 0, MOST_MINUTES)
        _add(session, row, doing, self.on, self.cause, place=self.place, minutes=minutes)
        return _report(ActCode.TRY_CURE, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class TellFact:
    """A fact of the machine or of the tools at hand, kept for every search to come. `value` BLANK:
    nobody can tell now, and this search does not ask again; so is what the file knows and this
    search counts put aside."""

    search_id: int
    fact: str
    value: str
    on: date

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        known = load_fault_models().facts.get(FactId(self.fact))
        counted = {shift.subject for shift in model_of(session, row.symptom_code).shifts}
        if known is None and self.fact not in counted:
            raise unknown("fact", self.fact)
        if self.value not in {BLANK, *(value for value, _ in (known.values if known else ()))}:
            raise unknown(self.fact, self.value)
        checked_day("on", self.on, first=row.begun_on, today=moment.today)
        before = _standing(session, row, self.fact, (SearchDoing.TOLD,))
        if any(one.answer_code == self.value for one in before):
            raise Refused(RefusedCode.NOTHING_CHANGED)
        for one in before:
            one.withdrawn = True
        _add(session, row, SearchDoing.TOLD, self.on, self.fact, self.value)
        return _report(ActCode.ANSWER_TEST, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteStep:
    """A part left off (its `text`), everything closed up, or the long going-over done with."""

    search_id: int
    doing: SearchDoing
    on: date
    text: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        if self.doing not in (SearchDoing.LEFT_OFF, SearchDoing.SHUT, SearchDoing.OVER):
            raise unknown("doing", self.doing)
        checked_day("on", self.on, first=row.begun_on, today=moment.today)
        least = 1 if self.doing is SearchDoing.LEFT_OFF else 0
        text = plain_text("text", self.text, least=least)
        _add(session, row, self.doing, self.on, text=text)
        return _report(ActCode.ANSWER_TEST, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeBackStep:
    """A step does not hold: an answer that was wrong, a part that is back on. It stays on record,
    and what follows from the rest is worked out anew."""

    step_id: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused CLOSED_ALREADY, NOTHING_CHANGED."""
        step = row_of(session, SearchStepRow, self.step_id, "step")
        row, name = _open_search(session, step.search_id)
        if step.withdrawn:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        step.withdrawn = True
        return _report(ActCode.TAKE_BACK_STEP, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class PauseSearch:
    """It lies on the bench and waits for something; `waits_for` empty: it goes on, and what could
    not be done before is asked for again."""

    search_id: int
    on: date
    waits_for: str

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        checked_day("on", self.on, first=row.begun_on, today=moment.today)
        waits_for = plain_text("waits_for", self.waits_for)
        paused_on = self.on if waits_for else None
        if (row.paused_on, row.waits_for) == (paused_on, waits_for):
            raise Refused(RefusedCode.NOTHING_CHANGED)
        row.paused_on, row.waits_for = paused_on, waits_for
        if not waits_for:
            for step in _set_aside(session, row):
                step.withdrawn = True
        return _report(ActCode.PAUSE_SEARCH, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class StopWhen:
    """Where to stop: minutes and cents; None: no such line."""

    search_id: int
    minutes: int | None
    cents: int | None

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        minutes = None if self.minutes is None else whole("minutes", self.minutes, 0, MOST_MINUTES)
        cents = None if self.cents is None else whole("cents", self.cents, 0, MOST_CENTS)
        if (row.stop_minutes, row.stop_cents) == (minutes, cents):
            raise Refused(RefusedCode.NOTHING_CHANGED)
        row.stop_minutes, row.stop_cents = minutes, cents
        return _report(ActCode.PAUSE_SEARCH, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseSearch:
    """It ended. A search that ends well closes its fault, too, with `how`. `cause`: what it was;
    `teaches`: it was made sure of, and counts for this household's odds."""

    search_id: int
    on: date
    ending: SearchEnd
    cause: str | None = None
    teaches: bool = False
    how: str = ""
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row, name = _open_search(session, self.search_id)
        checked_day("on", self.on, first=row.begun_on, today=moment.today)
        if self.cause is not None:
            _cause(model_of(session, row.symptom_code), self.cause)
        row.closed_on, row.ending = self.on, self.ending
        row.cause_code = self.cause
        row.teaches = self.teaches and self.cause is not None
        row.note = plain_text("note", self.note, most=NOTE_LENGTH)
        _wake(row)
        if self.ending in (SearchEnd.CURED, SearchEnd.WORKS):
            _close_fault(session, row, self.on, plain_text("how", self.how))
        return _report(ActCode.CLOSE_SEARCH, row, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class CountFind:
    """Whether what was found counts for this household's odds."""

    search_id: int
    counts: bool

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = row_of(session, SearchRow, self.search_id, "search")
        if row.cause_code is None or row.closed_on is None:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="cause")
        if row.teaches == self.counts:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        row.teaches = self.counts
        return _report(ActCode.CLOSE_SEARCH, row, machine_of(session, row.machine_id).name)


# -- codes of the models ----------------------------------------------------------------------


def model_of(session: Session, symptom: str) -> FaultModel:
    """The model of a symptom, ours or one beside the file. Raises Refused UNKNOWN_CODE."""
    found = load_fault_models().models.get(SymptomId(symptom))
    if found is None and symptom.startswith(OWN):
        beside = session.connection().exec_driver_sql("PRAGMA database_list").first()
        path = Path("" if beside is None else beside[2])
        found = faults_beside(path).models.models.get(SymptomId(symptom)) if path.name else None
    if found is None:
        raise unknown("symptom", symptom)
    return found


def _reading(model: FaultModel, code: str) -> object:
    try:
        return model.reading(ReadingId(code))
    except KeyError:
        raise unknown("test", code) from None


def _check_outcome(model: FaultModel, reading: str, outcome: str) -> object:
    found = _reading(model, reading)
    outcomes = {one.outcome_id for one in model.reading(ReadingId(reading)).outcomes}
    if outcome not in outcomes | {BLANK}:
        raise unknown("outcome", outcome)
    return found


def _cause(model: FaultModel, code: str) -> None:
    try:
        model.cause(CauseId(code))
    except KeyError:
        raise unknown("cause", code) from None


def _check_cure(model: FaultModel, cause: str, place: int) -> None:
    _cause(model, cause)
    whole("cure", place, 0, len(model.cause(CauseId(cause)).cures) - 1)


# -- rows -------------------------------------------------------------------------------------


def _open_search(session: Session, number: int) -> tuple[SearchRow, str]:
    row = row_of(session, SearchRow, number, "search")
    if row.closed_on is not None:
        raise Refused(RefusedCode.CLOSED_ALREADY, what="search", id=number)
    return row, machine_of(session, row.machine_id).name


def _standing(
    session: Session, row: SearchRow, subject: str, doings: tuple[SearchDoing, ...]
) -> list[SearchStepRow]:
    """Steps about something that were not taken back."""
    return list(
        session.scalars(
            select(SearchStepRow).where(
                SearchStepRow.search_id == row.id,
                SearchStepRow.subject_code == subject,
                SearchStepRow.doing.in_(doings),
                SearchStepRow.withdrawn.is_(False),
            )
        )
    )


def _set_aside(session: Session, row: SearchRow) -> list[SearchStepRow]:
    """Tests that could not be done when they were asked for."""
    return list(
        session.scalars(
            select(SearchStepRow).where(
                SearchStepRow.search_id == row.id,
                SearchStepRow.doing == SearchDoing.CANNOT,
                SearchStepRow.withdrawn.is_(False),
            )
        )
    )


def _add(
    session: Session,
    row: SearchRow,
    doing: SearchDoing,
    on: date,
    subject: str | None = None,
    answer: str | None = None,
    *,
    place: int = 0,
    minutes: int | None = None,
    text: str = "",
) -> None:
    session.add(
        SearchStepRow(
            search_id=row.id,
            doing=doing,
            done_on=on,
            subject_code=subject,
            answer_code=answer,
            place=place,
            minutes=minutes,
            text=text,
            withdrawn=False,
        )
    )
    session.flush()


def _wake(row: SearchRow) -> None:
    """Whoever goes on does not wait any more."""
    row.paused_on, row.waits_for = None, ""


def _close_fault(session: Session, row: SearchRow, on: date, how: str) -> None:
    fault = None if row.fault_id is None else session.get(FaultRow, row.fault_id)
    if fault is not None and fault.closed_on is None:
        fault.closed_on = max(on, fault.since_on)
        fault.closed_how = how


def _report(code: ActCode, row: SearchRow, name: str) -> Changes:
    touched = [(Area.SEARCHES, row.id), (Area.MACHINES, row.machine_id)]
    if row.fault_id is not None:
        touched.append((Area.FAULTS, row.fault_id))
    return report(code, *touched, name=name)
