"""Everything a file holds as lines of text that are the same for the same contents, and their
digest. SQLite does not see a bit that fell over on the disk; this does.

Left out is what says nothing: the order of pages, the numbers SQLite keeps for itself.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterator
from typing import Any


def canonical_lines(connection: sqlite3.Connection) -> Iterator[str]:
    """One line for the format, one a table, one a row; tables by name, rows by id."""
    (found,) = connection.execute("PRAGMA user_version").fetchone()
    yield _line(["format", found])
    tables = connection.execute(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%'"
        " ESCAPE '\\' ORDER BY name"
    ).fetchall()
    for (table,) in tables:
        quoted = table.replace('"', '""')
        columns = sorted(row[1] for row in connection.execute(f'PRAGMA table_info("{quoted}")'))
        yield _line(["table", table, columns])
        wanted = ", ".join(f'"{column}"' for column in columns)
        order = "id" if "id" in columns else wanted
        for row in connection.execute(f'SELECT {wanted} FROM "{quoted}" ORDER BY {order}'):  # noqa: S608
            yield _line([_plain(value) for value in row])


def digest(connection: sqlite3.Connection) -> str:
    """SHA-256 of the lines, in hexadecimal."""
    summed = hashlib.sha256()
    for line in canonical_lines(connection):
        summed.update(line.encode())
        summed.update(b"\n")
    return summed.hexdigest()


def _line(values: list[Any]) -> str:
    return json.dumps(values, separators=(",", ":"))


def _plain(value: Any) -> Any:
    """Numbers and text stay; what JSON cannot tell apart is named."""
    if isinstance(value, bytes):
        return {"bytes": value.hex()}
    if isinstance(value, float):
        return {"real": value.hex()}
    return value
