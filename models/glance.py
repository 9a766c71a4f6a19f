"""The last computed picture, for the first paint: read in a few milliseconds, with sqlite3 alone.

A cache. It may be deleted at any time, and anything odd about it makes it count as not there: the
rooms then show themselves as soon as the real answer is computed. `key` ties it to one state of
the household's file (`glance_key`), `on` to the day asked about.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

_SCHEMA = 2
_KEY_AT, _KEY_LENGTH = 24, 4  # SQLite's change counter in the head of a file


@dataclass(frozen=True, slots=True, kw_only=True)
class GlanceRow:
    """One machine as it was shown last. `sentence` is data for the words, as JSON takes it."""

    machine_id: int
    name: str
    kind: str
    place: str
    state: str
    sentence: Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """The picture: which state of the file it is of, for which day, its rows in order, and what
    stands over them (`head`, as JSON takes it)."""

    key: str
    on: date
    rows: tuple[GlanceRow, ...]
    head: Any = None


def glance_key(household: Path) -> str:
    """Differs after any commit to the household's file; empty when it cannot be read."""
    try:
        with household.open("rb") as file:
            head = file.read(_KEY_AT + _KEY_LENGTH)
        size = household.stat().st_size
    except OSError:
        return ""
    return f"{head[_KEY_AT:].hex()}-{size}"


def write_glance(
    path: Path, rows: Iterable[GlanceRow], *, key: str, on: date, head: object = None
) -> bool:
    """Keep the picture; False when there is no room for it or no way to write it."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.unlink(missing_ok=True)
        with closing(sqlite3.connect(path, isolation_level=None)) as cache:
            cache.execute("PRAGMA journal_mode=OFF")
            cache.execute("PRAGMA synchronous=OFF")
            cache.execute("BEGIN")
            cache.execute(
                "CREATE TABLE glance (schema INTEGER, file_key TEXT, day TEXT, head TEXT)"
            )
            cache.execute(
                "CREATE TABLE machine (place_in_order INTEGER PRIMARY KEY, id INTEGER,"
                " name TEXT, kind TEXT, place TEXT, state TEXT, sentence TEXT)"
            )
            cache.execute(
                "INSERT INTO glance VALUES (?, ?, ?, ?)",
                (_SCHEMA, key, on.isoformat(), json.dumps(head)),
            )
            cache.executemany(
                "INSERT INTO machine VALUES (NULL, ?, ?, ?, ?, ?, ?)",
                (
                    (r.machine_id, r.name, r.kind, r.place, r.state, json.dumps(r.sentence))
                    for r in rows
                ),
            )
            cache.execute("COMMIT")
    except (OSError, sqlite3.Error):
        with suppress(OSError):
            path.unlink(missing_ok=True)
        return False
    return True


def read_glance(path: Path) -> Glance | None:
    """The picture kept last; None when there is none that can be read."""
    if not path.is_file():
        return None
    uri = f"{path.absolute().as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(uri, uri=True)) as cache:
            cache.execute("PRAGMA trusted_schema=OFF")
            schema, key, on = cache.execute("SELECT schema, file_key, day FROM glance").fetchone()
            if schema != _SCHEMA:
                return None
            (head,) = cache.execute("SELECT head FROM glance").fetchone()
            found = cache.execute(
                "SELECT id, name, kind, place, state, sentence FROM machine ORDER BY place_in_order"
            ).fetchall()
        return Glance(
            key=str(key),
            on=date.fromisoformat(on),
            rows=tuple(map(_row, found)),
            head=json.loads(head),
        )
    except (sqlite3.Error, ValueError, TypeError, RecursionError):
        return None


def _row(found: tuple[Any, ...]) -> GlanceRow:
    machine_id, name, kind, place, state, sentence = found
    return GlanceRow(
        machine_id=int(machine_id),
        name=str(name),
        kind=str(kind),
        place=str(place),
        state=str(state),
        sentence=json.loads(sentence),
    )
