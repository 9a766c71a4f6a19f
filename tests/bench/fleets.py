"""Fleets of any size: the made-up shed over and over, records and all, copied inside the file.

For measuring only. Places, settings and the shelf are not copied; every other row is, with all its
numbers moved on by the same stride, so that each copy is a shed of its own.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import date
from pathlib import Path

from models.tables.schema import TABLES
from sample_db.build import build_sample

MACHINES = 12
_STRIDE = 100_000
_ONCE = frozenset(
    {
        "household",
        "unit_choice",
        "policy_figure",
        "place",
        "place_month",
        "place_season",
        "place_window",
        "shelf_part",
    }
)


def build_fleet(path: Path, *, machines: int, on: date) -> None:
    """A file with at least so many machines, the next multiple of twelve."""
    build_sample(path, on=on)
    copies = -(-machines // MACHINES) - 1
    if copies < 1:
        return
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA synchronous=OFF")
        connection.execute("PRAGMA journal_mode=MEMORY")
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("BEGIN")
        connection.execute("CREATE TEMP TABLE copy (n INTEGER PRIMARY KEY)")
        connection.executemany("INSERT INTO copy VALUES (?)", ((n,) for n in range(1, copies + 1)))
        for statement in _copying():
            connection.execute(statement)
        connection.execute("COMMIT")
        connection.execute("PRAGMA journal_mode=DELETE")
        loose = connection.execute("PRAGMA foreign_key_check").fetchone()
        if loose is not None:
            raise RuntimeError(f"a copy points nowhere: {loose}")


def _copying() -> list[str]:
    statements: list[str] = []
    for table in TABLES:
        if table.name in _ONCE:
            continue
        columns: list[str] = []
        for column in table.columns:
            targets = {key.column.table.name for key in column.foreign_keys}
            if column.primary_key or targets - _ONCE:
                columns.append(f"t.{column.name} + copy.n * {_STRIDE}")
            elif column.name == "uid":
                columns.append("t.uid || '-' || copy.n")
            else:
                columns.append(f"t.{column.name}")
        names = ", ".join(column.name for column in table.columns)
        source = f'SELECT {", ".join(columns)} FROM "{table.name}" AS t CROSS JOIN copy'  # noqa: S608
        statements.append(f'INSERT INTO "{table.name}" ({names}) {source} WHERE t.id < {_STRIDE}')
    return statements
