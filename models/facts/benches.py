"""Machines on the bench: lists and searches that stopped half way, what is off or open there."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.facts.scope import Ids, among
from models.tables.runs import LeftOffRow, RunMachineRow, RunRow
from models.tables.searches import SearchRow, SearchStepRow
from models.tables.work import StorageSpellRow
from models.words import SearchDoing
from schedules.sitting_facts import LeftCode, RunSort


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose:
    """Something off, drained, shut or open; `code` "": in words of somebody's own. `kept`: where it
    hangs or lies."""

    code: LeftCode
    text: str = ""
    kept: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchFacts:
    """A machine on the bench. `since`: the day it stopped, None when nothing runs there and
    something was only left off; `run_id` 0: no list was begun; `symptom`: of a search."""

    machine_id: int
    since: date | None
    waits_for: str
    loose: tuple[Loose, ...]
    run_id: int = 0
    sort: RunSort | None = None
    symptom: str = ""


def read_benches(session: Session, *, machines: Ids = None) -> dict[int, BenchFacts]:
    """Machines in a list that was begun, in a search that is paused, with something off in one
    that runs, or awake with something off or open. Five queries, however many there are."""
    found: dict[int, BenchFacts] = {}
    loose = _left_off(session, machines)
    taken = _taken_off(session, machines)
    for row in session.scalars(
        select(SearchRow).where(
            SearchRow.paused_on.is_not(None),
            SearchRow.closed_on.is_(None),
            among(SearchRow.machine_id, machines),
        )
    ):
        found[row.machine_id] = BenchFacts(
            machine_id=row.machine_id,
            since=row.paused_on,
            waits_for=row.waits_for,
            loose=(*taken.get(row.machine_id, ()), *loose.get(row.machine_id, ())),
            symptom=row.symptom_code,
        )
    for machine, run in session.execute(
        select(RunMachineRow.machine_id, RunRow)
        .join(RunRow, RunRow.id == RunMachineRow.run_id)
        .where(RunRow.finished_on.is_(None), among(RunMachineRow.machine_id, machines))
    ):
        paused = found.get(machine)
        found[machine] = BenchFacts(
            machine_id=machine,
            since=run.left_on or run.begun_on,
            waits_for=run.waits_for or ("" if paused is None else paused.waits_for),
            loose=(*taken.get(machine, ()), *loose.get(machine, ())),
            run_id=run.id,
            sort=run.sort,
            symptom="" if paused is None else paused.symptom,
        )
    asleep = _asleep(session, loose.keys() - found.keys())
    for machine in sorted((taken.keys() | loose.keys() - asleep) - found.keys()):
        here = () if machine in asleep else loose.get(machine, ())
        found[machine] = BenchFacts(
            machine_id=machine, since=None, waits_for="", loose=(*taken.get(machine, ()), *here)
        )
    return found


def _left_off(session: Session, machines: Ids) -> dict[int, tuple[Loose, ...]]:
    found: dict[int, tuple[Loose, ...]] = {}
    for row in session.scalars(
        select(LeftOffRow)
        .where(LeftOffRow.back_on.is_(None), among(LeftOffRow.machine_id, machines))
        .order_by(LeftOffRow.id)
    ):
        one = Loose(code=LeftCode(row.left_code), kept=row.kept)
        found[row.machine_id] = (*found.get(row.machine_id, ()), one)
    return found


def _taken_off(session: Session, machines: Ids) -> dict[int, tuple[Loose, ...]]:
    """What came off in a search that runs, the last one first: so it goes back."""
    found: dict[int, tuple[Loose, ...]] = {}
    for machine, text in session.execute(
        select(SearchRow.machine_id, SearchStepRow.text)
        .join(SearchStepRow, SearchStepRow.search_id == SearchRow.id)
        .where(
            SearchRow.closed_on.is_(None),
            SearchStepRow.doing == SearchDoing.LEFT_OFF,
            SearchStepRow.withdrawn.is_(False),
            among(SearchRow.machine_id, machines),
        )
        .order_by(SearchStepRow.id.desc())
    ):
        one = Loose(code=LeftCode(""), text=text)
        found[machine] = (*found.get(machine, ()), one)
    return found


def _asleep(session: Session, machines: set[int]) -> set[int]:
    return set(
        session.scalars(
            select(StorageSpellRow.machine_id).where(
                StorageSpellRow.machine_id.in_(machines), StorageSpellRow.woken_on.is_(None)
            )
        )
    )
