"""The made-up household: looks right on any day, shows every state, is the same each time."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path
from shutil import copyfile

import pytest
from sqlalchemy import event

from models.dump import digest
from models.facts.fleet import read_cans, read_fleet
from models.facts.settings import read_settings
from models.file import Household, open_household
from models.tables.schema import ENTRY_TABLES
from resources.loader import load_catalogue
from sample_db.battery import BLOWER, MOWER
from sample_db.build import build_sample
from sample_db.chronicle import moment_of
from schedules.facts import (
    Band,
    HoursBasis,
    ItemSort,
    MachineFacts,
    MachineId,
    MachineState,
    MachineVerdict,
    TaskState,
)
from schedules.fuel import judge_vessel
from schedules.plan import judge_machine

AUTUMN = date(2026, 10, 27)
# A leap day, a new year's day, the last day of each big season.
TRICKY = (date(2024, 2, 29), pytest.param(date(2028, 10, 31), marks=pytest.mark.long))
Judged = list[tuple[MachineFacts, MachineVerdict]]


def build(folder: Path, on: date) -> Path:
    path = folder / f"shed-{on}.firstpull"
    build_sample(path, on=on)
    return path


def judged(household: Household, on: date) -> Judged:
    catalogue = load_catalogue()
    with household.read() as session:
        policy = read_settings(session).policy
        fleet = read_fleet(session, on=on, catalogue=catalogue)
    limits = catalogue.limits
    return [(one, judge_machine(one, on=on, policy=policy, limits=limits)) for one in fleet]


def judged_file(path: Path, on: date) -> Judged:
    with open_household(path, moment=moment_of(on), write=False) as household:
        return judged(household, on)


@pytest.fixture(scope="module")
def autumn_path(tmp_path_factory: pytest.TempPathFactory, made_up: Callable[[date], Path]) -> Path:
    path = tmp_path_factory.mktemp("autumn") / "shed.firstpull"
    copyfile(made_up(AUTUMN), path)
    return path


@pytest.fixture(scope="module")
def autumn(autumn_path: Path) -> Iterator[Household]:
    with open_household(autumn_path, moment=moment_of(AUTUMN), write=False) as household:
        yield household


def states(found: Judged) -> dict[MachineState, list[str]]:
    by_state: dict[MachineState, list[str]] = {}
    for facts, verdict in found:
        by_state.setdefault(verdict.state, []).append(facts.name)
    return by_state


def test_twelve_machines_of_twelve_kinds_at_two_places(autumn: Household):
    fleet = [facts for facts, _ in judged(autumn, AUTUMN)]
    assert len(fleet) == len({facts.kind.code for facts in fleet}) == 12
    assert len({facts.place.split(",")[0] for facts in fleet}) == 2
    assert not any(facts.south for facts in fleet)


def test_every_state_of_machine_and_task_is_there(autumn: Household):
    found = judged(autumn, AUTUMN)
    assert set(states(found)) == set(MachineState)
    assert {task.state for _, verdict in found for task in verdict.tasks} == set(TaskState)


def test_hours_rest_on_everything_they_can_rest_on(autumn: Household):
    found = judged(autumn, AUTUMN)
    bases = {verdict.hours.basis for _, verdict in found}
    assert {
        HoursBasis.METER,
        HoursBasis.ESTIMATED,
        HoursBasis.INFERRED,
        HoursBasis.SINCE_IT_CAME,
    } <= bases


def test_what_a_shed_has_is_there(autumn: Household):
    found = judged(autumn, AUTUMN)
    assert any(facts.own_figures for facts, _ in found)
    assert any(fault.put_off for facts, _ in found for fault in facts.faults)
    assert any(fault.stops_use for facts, _ in found for fault in facts.faults)
    assert any(job.waits_for for facts, _ in found for job in facts.jobs)
    assert any(item.sort is ItemSort.STARTER_BATTERY for facts, _ in found for item in facts.items)
    assert sum(len(facts.storage) for facts, _ in found) > 12
    with autumn.read() as session:
        cans = read_cans(session, on=AUTUMN, catalogue=load_catalogue())
    assert any(lot.bought_on is None for can in cans for lot in can.lots)
    assert {judge_vessel(can, on=AUTUMN).band for can in cans} >= {Band.GOOD, Band.DRAIN}


def test_an_entry_is_corrected_and_both_stay(autumn_path: Path):
    with closing(sqlite3.connect(autumn_path)) as connection:
        corrected = connection.execute(
            "SELECT first.run_seconds, second.run_seconds FROM use AS second"
            " JOIN use AS first ON first.id = second.corrects_id"
        ).fetchall()
    assert len(corrected) == 1
    first, second = corrected[0]
    assert first == 10 * second


def test_a_pack_of_two_machines_is_asked_for_once(autumn: Household):
    by_name = {facts.name: (facts, verdict) for facts, verdict in judged(autumn, AUTUMN)}
    mower, blower = by_name[MOWER][0], by_name[BLOWER][0]
    assert [item.sort for item in mower.items] == [ItemSort.MACHINE, ItemSort.PACK]
    assert [item.sort for item in blower.items] == [ItemSort.MACHINE]
    codes = [task.code for task in by_name[BLOWER][1].tasks if task.code.startswith("LI-")]
    assert codes == ["LI-01"]  # looked at before each use, whichever tool it is in
    with_pack = {task.code for task in by_name[MOWER][1].tasks}
    assert {"LI-01", "LI-02", "LI-03", "LI-04", "LI-05"} <= with_pack


def test_nothing_is_entered_before_it_happened_or_after_the_day(autumn_path: Path):
    with closing(sqlite3.connect(autumn_path)) as connection:
        for table in sorted(ENTRY_TABLES):
            rows = connection.execute(
                f'SELECT happened_on, date(entered_at) FROM "{table}"'  # noqa: S608
            ).fetchall()
            for happened, entered in rows:
                assert happened <= entered <= AUTUMN.isoformat(), table
        (moments,) = connection.execute("SELECT count(DISTINCT entered_at) FROM work").fetchone()
    assert moments > 60


def test_same_day_same_household(autumn_path: Path, tmp_path: Path):
    def summed(path: Path) -> str:
        with closing(sqlite3.connect(path)) as connection:
            return digest(connection)

    assert summed(build(tmp_path, AUTUMN)) == summed(autumn_path)


def test_its_own_past_can_be_asked_about(autumn: Household):
    """Whatever was true then is what the file says of then: twelve days of it."""
    for days in range(0, 900, 75):
        on = AUTUMN - timedelta(days=days)
        assert len(judged(autumn, on)) >= 6


@pytest.mark.parametrize("days", [0, 200])
def test_one_machine_is_read_as_it_stands_in_the_whole(autumn: Household, days: int):
    on, catalogue = AUTUMN - timedelta(days=days), load_catalogue()
    with autumn.read() as session:
        fleet = read_fleet(session, on=on, catalogue=catalogue)
        for one in fleet:
            only = frozenset({one.machine_id})
            assert read_fleet(session, on=on, catalogue=catalogue, only=only) == (one,)
        some = frozenset(one.machine_id for one in fleet[::3])
        assert read_fleet(session, on=on, catalogue=catalogue, only=some) == fleet[::3]


def test_reading_one_machine_walks_through_no_table_of_records(autumn: Household):
    """By the plan, not by the clock: only places, which are few, are read from end to end."""
    asked: list[tuple[str, Sequence[object]]] = []

    def note(_c: object, _d: object, statement: str, given: Sequence[object], *_: object) -> None:
        asked.append((statement, given))

    event.listen(autumn._reading, "before_cursor_execute", note)
    only = frozenset({MachineId(6)})
    with autumn.read() as session:
        read_fleet(session, on=AUTUMN, catalogue=load_catalogue(), only=only)
    event.remove(autumn._reading, "before_cursor_execute", note)
    walked: set[str] = set()
    with closing(sqlite3.connect(autumn.path)) as connection:
        for statement, given in asked:
            if statement.lstrip().upper().startswith(("SELECT", "WITH")):
                plan = connection.execute(f"EXPLAIN QUERY PLAN {statement}", given)
                walked |= {row[3].split()[1] for row in plan if row[3].startswith("SCAN")}
    assert len(asked) > 20
    assert walked <= {"place", "place_month", "place_season", "place_window", "drunk_from"}


@pytest.mark.parametrize("on", TRICKY, ids=str)
def test_it_looks_right_on_tricky_days(on: date, tmp_path: Path):
    assert_looks_right(judged_file(build(tmp_path, on), on))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(30))
def test_it_looks_right_on_any_day(seed: int, tmp_path: Path):
    on = date(2024, 1, 1) + timedelta(days=random.Random(seed).randrange(12 * 365))
    assert_looks_right(judged_file(build(tmp_path, on), on))


def assert_looks_right(found: Judged):
    assert len(found) == 12
    by_state = states(found)
    assert set(by_state) == set(MachineState)
    assert "Generator" in by_state[MachineState.FIT]
    asked = [task.state for _, verdict in found for task in verdict.tasks]
    assert {TaskState.NOT_KNOWN, TaskState.OVERDUE, TaskState.CLEAR} <= set(asked)
    # Machines that are looked after do not drown in arrears.
    looked_after = [
        verdict
        for _, verdict in found
        if verdict.state not in (MachineState.DOWN, MachineState.UNKNOWN)
    ]
    for verdict in looked_after:
        late = [task.code for task in verdict.tasks if task.state is TaskState.OVERDUE]
        assert len(late) <= 6, (MachineId(verdict.machine_id), late)
        assert not any(task.safety for task in verdict.tasks if task.code in late)
    ids = [MachineId(verdict.machine_id) for _, verdict in found]
    assert ids == sorted(ids)
