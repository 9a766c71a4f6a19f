"""Searches for a fault, as the engine and a room take them: steps in order, finds counted."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from models.tables.entries import in_force
from models.tables.searches import SearchRow, SearchStepRow
from models.tables.stores import PaymentRow
from models.tables.work import FaultRow
from models.words import PaymentSort, SearchDoing, SearchEnd
from schedules.fault_facts import BLANK

SPENT_ON = (PaymentSort.PART, PaymentSort.CONSUMABLE, PaymentSort.WORKSHOP)


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchStep:
    """One step. `subject` and `answer` are codes of the fault model; `place`: which cure."""

    step_id: int
    doing: SearchDoing
    day: date
    subject: str
    answer: str
    place: int
    minutes: int | None
    text: str
    withdrawn: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """One search with all its steps, oldest first. `spent_cents`: paid for the machine's repair
    since it began."""

    search_id: int
    machine_id: int
    fault_id: int | None
    fault_text: str
    symptom: str
    begun_on: date
    paused_on: date | None
    waits_for: str
    closed_on: date | None
    ending: SearchEnd | None
    cause: str | None
    teaches: bool
    stop_minutes: int | None
    stop_cents: int | None
    note: str
    steps: tuple[SearchStep, ...]
    spent_cents: int

    @property
    def standing(self) -> tuple[SearchStep, ...]:
        """The steps that hold."""
        return tuple(one for one in self.steps if not one.withdrawn)


@dataclass(frozen=True, slots=True, kw_only=True)
class Find:
    """A cause that was found, and whether it counts for the odds."""

    search_id: int
    machine_id: int
    symptom: str
    cause: str
    day: date
    teaches: bool


def read_searches(
    session: Session, *, on: date, machine_id: int | None = None, only_open: bool = False
) -> tuple[Search, ...]:
    """Searches begun by the day, the newest first. Three queries."""
    chosen = select(SearchRow, FaultRow.text).outerjoin(FaultRow, FaultRow.id == SearchRow.fault_id)
    chosen = chosen.where(SearchRow.begun_on <= on)
    if machine_id is not None:
        chosen = chosen.where(SearchRow.machine_id == machine_id)
    if only_open:
        chosen = chosen.where(SearchRow.closed_on.is_(None))
    rows = [(row, text) for row, text in session.execute(chosen.order_by(SearchRow.id.desc()))]
    steps = _steps(session, [row.id for row, _ in rows])
    spent = _spent(session, [row for row, _ in rows])
    return tuple(
        Search(
            search_id=row.id,
            machine_id=row.machine_id,
            fault_id=row.fault_id,
            fault_text=text or "",
            symptom=row.symptom_code,
            begun_on=row.begun_on,
            paused_on=row.paused_on,
            waits_for=row.waits_for,
            closed_on=row.closed_on,
            ending=row.ending,
            cause=row.cause_code,
            teaches=row.teaches,
            stop_minutes=row.stop_minutes,
            stop_cents=row.stop_cents,
            note=row.note,
            steps=tuple(steps[row.id]),
            spent_cents=spent[row.id],
        )
        for row, text in rows
    )


def _steps(session: Session, searches: list[int]) -> dict[int, list[SearchStep]]:
    found: dict[int, list[SearchStep]] = defaultdict(list)
    chosen = select(SearchStepRow).where(SearchStepRow.search_id.in_(searches))
    for row in session.scalars(chosen.order_by(SearchStepRow.id)):
        found[row.search_id].append(
            SearchStep(
                step_id=row.id,
                doing=row.doing,
                day=row.done_on,
                subject=row.subject_code or "",
                answer=row.answer_code or "",
                place=row.place,
                minutes=row.minutes,
                text=row.text,
                withdrawn=row.withdrawn,
            )
        )
    return found


def _spent(session: Session, rows: list[SearchRow]) -> dict[int, int]:
    found: dict[int, int] = defaultdict(int)
    if not rows:
        return found
    paid = session.execute(
        select(PaymentRow.machine_id, PaymentRow.happened_on, PaymentRow.cents).where(
            PaymentRow.machine_id.in_({row.machine_id for row in rows}),
            PaymentRow.sort.in_(SPENT_ON),
            in_force(PaymentRow),
        )
    ).all()
    for row in rows:
        found[row.id] = sum(
            cents
            for machine, day, cents in paid
            if machine == row.machine_id
            and day >= row.begun_on
            and (row.closed_on is None or day <= row.closed_on)
        )
    return found


def read_told(session: Session, *, machine_id: int, tools: frozenset[str]) -> Mapping[str, str]:
    """Facts once told: of this machine, and of the tools of the household. The newest counts;
    that nobody could tell is no fact."""
    rows = session.execute(
        select(SearchStepRow.subject_code, SearchStepRow.answer_code)
        .join(SearchRow, SearchRow.id == SearchStepRow.search_id)
        .where(
            SearchStepRow.doing == SearchDoing.TOLD,
            SearchStepRow.withdrawn.is_(False),
            or_(SearchRow.machine_id == machine_id, SearchStepRow.subject_code.in_(tools)),
        )
        .order_by(SearchStepRow.id)
    )
    return {fact: value for fact, value in rows if fact and value not in (None, "", BLANK)}


def read_finds(session: Session) -> tuple[Find, ...]:
    """Every cause that was ever found, the newest first."""
    rows = session.scalars(
        select(SearchRow)
        .where(SearchRow.cause_code.is_not(None), SearchRow.closed_on.is_not(None))
        .order_by(SearchRow.closed_on.desc(), SearchRow.id.desc())
    )
    return tuple(
        Find(
            search_id=row.id,
            machine_id=row.machine_id,
            symptom=row.symptom_code,
            cause=row.cause_code or "",
            day=row.closed_on or row.begun_on,
            teaches=row.teaches,
        )
        for row in rows
    )


def count_finds(finds: tuple[Find, ...], symptom: str) -> Mapping[str, int]:
    """How often each cause of a symptom was found, as far as the finds count."""
    return Counter(one.cause for one in finds if one.teaches and one.symptom == symptom)
