"""The columns guard themselves: whatever the program would not write, the file does not take."""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import (
    CheckConstraint,
    Column,
    Date,
    Enum,
    ForeignKeyConstraint,
    Integer,
    LargeBinary,
    String,
)
from sqlalchemy.orm import configure_mappers

from models.engines import FOR_WRITING, connect
from models.file import create_household
from models.moment import Moment
from models.tables.base import Base, Instant
from models.tables.schema import ENTRY_TABLES, SUBJECTS, TABLES

COLUMNS = [
    pytest.param(table, column, id=f"{table.name}.{column.name}")
    for table in TABLES
    for column in table.columns
    if not column.primary_key
]


@pytest.fixture(scope="module")
def raw(tmp_path_factory: pytest.TempPathFactory, moment: Moment) -> Iterator[sqlite3.Connection]:
    path = tmp_path_factory.mktemp("tables") / "shed.firstpull"
    create_household(path, name="Our shed", moment=moment).close()
    with closing(connect(path, mode="rw", pragmas=FOR_WRITING)) as connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("DELETE FROM household")
        yield connection


def good(column: Column[Any]) -> Any:
    """A value the column takes."""
    kind = column.type
    if column.nullable:
        return None
    if isinstance(kind, Enum):
        return kind.enums[0]
    if isinstance(kind, String):
        return "x" * max(column.info["least"], 1)
    if isinstance(kind, Date):
        return "2025-02-28"
    if isinstance(kind, Instant):
        return "2025-02-28 12:00:00.000000"
    if column.foreign_keys:
        return 1
    if isinstance(kind, LargeBinary):
        return column.info["begins"] + bytes(column.info["low"])
    return column.info.get("low", 0)


def bad(column: Column[Any]) -> list[Any]:
    """Values it must not take."""
    kind = column.type
    found: list[Any] = [b"\x01", 0.5, float("inf")]
    if isinstance(kind, Enum):
        found += ["", kind.enums[0].upper(), "x" * 65]
    elif isinstance(kind, String):
        found = [b"\x01", "a\0b", "\0", "x" * ((kind.length or 0) + 1)]
        found += [""] if column.info["least"] else []
    elif isinstance(kind, Date):
        found += ["2025-02-29", "2025-2-3", "now", "", "1899-12-31", "2200-01-01", 20250228]
        found += ["2025-02-28 ", "2025-02-28 12:00:00"]
    elif isinstance(kind, Instant):
        found += ["2025-02-28", "2025-02-28 12:00:00", "2025-02-28T12:00:00.000000", 1]
    elif column.foreign_keys:
        found += [0, -1, "one"]
    elif isinstance(kind, LargeBinary):
        begins = column.info["begins"]
        found += ["x" * 300, bytes(300), begins, begins + bytes(column.info["high"]), 1]
    elif isinstance(kind, Integer):
        found += [column.info["low"] - 1, column.info["high"] + 1, "many", 2**63 - 1]
    else:
        found += [2, -1, "yes"]
    return found if column.nullable else [None, *found]


def insert(raw: sqlite3.Connection, table: Any, values: dict[str, Any]) -> None:
    names = ", ".join(values)
    marks = ", ".join("?" for _ in values)
    into = f"INSERT INTO {table.name} ({names}) VALUES ({marks})"  # noqa: S608  (our own names)
    raw.execute(into, tuple(values.values()))


def a_row(table: Any) -> dict[str, Any]:
    """A row that satisfies the guards of the whole row as well."""
    values = {column.name: good(column) for column in table.columns if not column.primary_key}
    fitting = {
        "household": {"id": 1, "currency": "EUR"},
        "fuel_event": {"doing": "burnt"},
        "work_line": {"task_code": "S2-05"},
        "limit_reading": {"amount": 5},
        "search_step": {"subject_code": "gate"},
        "sheet": {"lines": "[]"},
        "vessel": {"sort": "can"},
    }
    return values | fitting.get(table.name, {})


@pytest.mark.parametrize(("table", "column"), COLUMNS)
def test_a_column_takes_what_it_should_and_nothing_else(
    raw: sqlite3.Connection, table: Any, column: Column[Any]
):
    raw.execute("BEGIN")
    try:
        insert(raw, table, a_row(table))
        raw.execute(f"DELETE FROM {table.name}")  # noqa: S608  (our own names)
        for value in bad(column):
            with pytest.raises((sqlite3.IntegrityError, OverflowError)):
                insert(raw, table, a_row(table) | {column.name: value})
    finally:
        raw.execute("ROLLBACK")


@pytest.mark.parametrize(
    ("table", "values"),
    [
        ("household", {"id": 2}),
        ("household", {"currency": "EU"}),
        ("item", {"came_on": "2025-02-02", "retired_on": "2025-02-01"}),
        ("fitting", {"from_on": "2025-02-02", "off_on": "2025-02-01"}),
        ("meter", {"from_on": "2025-02-02", "ended_on": "2025-02-01", "end_seconds": 5}),
        ("meter", {"from_on": "2025-02-02", "ended_on": "2025-02-03"}),
        ("meter", {"end_seconds": 5}),
        ("place_window", {"first_month": 2, "first_day": 30}),
        ("place_window", {"last_month": 4, "last_day": 31}),
        ("use", {"struck": 1}),
        ("use", {"id": 5, "corrects_id": 5}),
        ("use", {"id": 5, "corrects_id": 6}),
        ("work_line", {"task_code": None, "job_id": None}),
        ("limit_reading", {"amount": None, "seen": None}),
        ("limit_reading", {"amount": 5, "seen": 1}),
        ("job", {"noted_on": "2025-02-02", "dropped_on": "2025-02-01", "dropped_why": "x"}),
        ("job", {"noted_on": "2025-02-02", "dropped_on": "2025-02-02", "dropped_why": ""}),
        ("fault", {"since_on": "2025-02-02", "closed_on": "2025-02-01"}),
        ("fault", {"since_on": "2025-02-02", "put_off_on": "2025-02-01"}),
        ("search", {"begun_on": "2025-02-02", "paused_on": "2025-02-01"}),
        ("search", {"begun_on": "2025-02-02", "closed_on": "2025-02-01", "ending": "works"}),
        ("search", {"closed_on": None, "ending": "works"}),
        ("search", {"teaches": 1, "cause_code": None}),
        ("search_step", {"doing": "tested", "subject_code": None}),
        ("run", {"begun_on": "2025-02-02", "finished_on": "2025-02-01"}),
        ("run", {"begun_on": "2025-02-02", "left_on": "2025-02-01"}),
        ("run_step", {"answer": "done", "answered_on": None}),
        ("run_step", {"answer": "cannot", "answered_on": "2025-02-01", "why": ""}),
        ("left_off", {"since_on": "2025-02-02", "back_on": "2025-02-01"}),
        ("storage_spell", {"put_away_on": "2025-02-02", "woken_on": "2025-02-01"}),
        ("storage_spell", {"put_away_on": "2025-02-02", "planned_last": "2025-02-01"}),
        ("vessel", {"sort": "can", "machine_id": 1}),
        ("vessel", {"sort": "tank", "machine_id": None}),
        ("fuel_event", {"doing": "poured", "to_vessel_id": None}),
        ("fuel_event", {"doing": "poured", "vessel_id": 1, "to_vessel_id": 1}),
        ("fuel_event", {"doing": "burnt", "to_vessel_id": 2}),
        ("fuel_event", {"doing": "bought", "fuel_sort": None}),
        ("fuel_event", {"doing": "looked"}),
        ("fuel_event", {"doing": "burnt", "look": "layers"}),
        ("sheet", {"printed_on": "2025-02-02", "entered_on": "2025-02-01"}),
        ("sheet", {"number": 999}),
    ],
)
def test_a_row_that_makes_no_sense_is_not_taken(
    raw: sqlite3.Connection, table: str, values: dict[str, Any]
):
    named = Base.metadata.tables[table]
    raw.execute("BEGIN")
    try:
        with pytest.raises(sqlite3.IntegrityError, match="CHECK"):
            insert(raw, named, a_row(named) | values)
    finally:
        raw.execute("ROLLBACK")


def test_an_entry_is_corrected_at_most_once(raw: sqlite3.Connection):
    use = Base.metadata.tables["use"]
    raw.execute("BEGIN")
    try:
        for number, corrects in ((1, None), (2, 1)):
            insert(raw, use, a_row(use) | {"uid": str(number), "corrects_id": corrects})
        with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
            insert(raw, use, a_row(use) | {"uid": "3", "corrects_id": 1})
    finally:
        raw.execute("ROLLBACK")


def test_every_constraint_has_a_name_and_every_link_says_what_goes_with_it():
    for table in TABLES:
        for constraint in table.constraints:
            assert constraint.name, table.name
            if isinstance(constraint, ForeignKeyConstraint):
                assert constraint.ondelete in {"CASCADE", "RESTRICT", "SET NULL"}
        guarded = {str(c.name) for c in table.constraints if isinstance(c, CheckConstraint)}
        assert {f"ck_{table.name}_{column.name}" for column in table.columns} <= guarded
        assert table.dialect_options["sqlite"]["autoincrement"] is True
        assert table.columns["uid"].unique


def test_history_is_never_swept_away_with_what_it_is_about():
    assert len(ENTRY_TABLES) == 8
    for table in TABLES:
        for key in table.foreign_key_constraints:
            if table.name in ENTRY_TABLES:
                assert key.ondelete == "RESTRICT", table.name


def test_no_row_can_load_another_by_itself():
    configure_mappers()
    assert not [m.class_ for m in Base.registry.mappers if list(m.relationships)]


def test_every_class_is_a_row_and_every_file_of_tables_is_known():
    names = [mapper.class_.__name__ for mapper in Base.registry.mappers]
    assert all(name.endswith("Row") for name in names)
    folder = Path(SUBJECTS[0].__file__ or "").parent
    with_tables = {p.stem for p in folder.glob("*.py") if "__tablename__ =" in p.read_text()}
    assert with_tables == {subject.__name__.rsplit(".", 1)[1] for subject in SUBJECTS}


def test_statements_that_replace_rows_are_written_nowhere():
    folder = Path(SUBJECTS[0].__file__ or "").parents[1]
    found = [
        path.name
        for path in folder.rglob("*.py")
        if path.name != "engines.py"
        and re.search(r"\bOR\s+REPLACE\b|or_replace|prefix_with", path.read_text(), re.IGNORECASE)
    ]
    assert not found
