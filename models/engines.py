"""Doors to the file: one connection that writes, others that only read, and what SQLite's faults
mean.

`journal_mode=DELETE` with `synchronous=FULL`, not WAL: one file at rest, safe in a folder that is
copied or synced behind our back, and free of the race that write-ahead logs had up to SQLite
3.51.2. The driver's own transactions are switched off (`isolation_level=None`) and BEGIN is spoken
by us: with the driver's defaults a failed change of the schema stayed half done.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import ConnectionPoolEntry, QueuePool, StaticPool

from models.errors import Trouble, TroubleCode

BUSY_MS = 5000
# Strangers' SQL never runs with more trust than its own text deserves, pages are checked as they
# are read, and what is put by for undo stays in memory, where a full disk does not reach it.
GUARDS = (
    "PRAGMA trusted_schema=OFF",
    "PRAGMA cell_size_check=ON",
    "PRAGMA temp_store=MEMORY",
    "PRAGMA mmap_size=0",
    f"PRAGMA busy_timeout={BUSY_MS}",
)
FOR_WRITING = (
    *GUARDS,
    "PRAGMA journal_mode=DELETE",
    "PRAGMA synchronous=FULL",
    "PRAGMA foreign_keys=ON",
    "PRAGMA recursive_triggers=ON",
)
FOR_READING = (*GUARDS, "PRAGMA query_only=ON")

# REPLACE deletes rows by the back door; ON CONFLICT DO UPDATE says what it does.
_REPLACES = re.compile(r"\s*(REPLACE|(INSERT|UPDATE)\s+OR\s+REPLACE)\b", re.IGNORECASE)

_MEANINGS: dict[int, TroubleCode] = {
    sqlite3.SQLITE_FULL: TroubleCode.DISK_FULL,
    sqlite3.SQLITE_IOERR: TroubleCode.DISK_FAILED,
    sqlite3.SQLITE_READONLY: TroubleCode.READ_ONLY,
    sqlite3.SQLITE_BUSY: TroubleCode.BUSY,
    sqlite3.SQLITE_LOCKED: TroubleCode.BUSY,
    sqlite3.SQLITE_CORRUPT: TroubleCode.DAMAGED,
    sqlite3.SQLITE_NOTADB: TroubleCode.NOT_A_DATABASE,
    sqlite3.SQLITE_CANTOPEN: TroubleCode.NO_PERMISSION,
    sqlite3.SQLITE_PERM: TroubleCode.NO_PERMISSION,
    sqlite3.SQLITE_AUTH: TroubleCode.NO_PERMISSION,
}
_WITH_DETAIL = frozenset({TroubleCode.DISK_FAILED, TroubleCode.DAMAGED})


def connect(path: Path, *, mode: str, pragmas: tuple[str, ...]) -> sqlite3.Connection:
    """A bare connection. `mode`: ro, rw or rwc, as in SQLite's file URIs."""
    uri = f"{path.absolute().as_uri()}?mode={mode}"
    connection = sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False)
    for pragma in pragmas:
        connection.execute(pragma)
    return connection


def writing_engine(path: Path) -> Engine:
    """The one connection that writes; each transaction takes the write lock at its start."""
    engine = create_engine(
        "sqlite://",
        creator=lambda: connect(path, mode="rw", pragmas=FOR_WRITING),
        poolclass=StaticPool,
    )
    event.listen(engine, "begin", _begin_immediate)
    event.listen(engine, "before_cursor_execute", _refuse_replace)
    return engine


def reading_engine(path: Path) -> Engine:
    """Connections that cannot write; a transaction sees one state of the file throughout.

    Not mode=ro: SQLite must be able to clear up after somebody who was cut off, and does not look
    at CHECKs in a file opened so. Where the file cannot be written it opens it to read by itself.
    """
    engine = create_engine(
        "sqlite://",
        creator=lambda: connect(path, mode="rw", pragmas=GUARDS),
        poolclass=QueuePool,
        pool_size=3,
    )
    event.listen(engine, "connect", _only_query)
    event.listen(engine, "begin", _begin)
    return engine


@contextmanager
def sqlite_faults_told(path: Path) -> Generator[None]:
    """What the world did to SQLite inside the block is raised as Trouble; our own faults pass."""
    try:
        yield
    except DBAPIError as error:
        meant = trouble_of(error.orig, path)
        if meant is None:
            raise
        raise meant from error
    except sqlite3.Error as error:
        meant = trouble_of(error, path)
        if meant is None:
            raise
        raise meant from error
    except UnicodeDecodeError as error:  # text of the schema that is none
        raise Trouble(TroubleCode.DAMAGED, path=str(path), detail=str(error)) from error


def trouble_of(error: BaseException | None, path: Path) -> Trouble | None:
    """What a fault of SQLite means, or None when it is a fault of the program."""
    number = getattr(error, "sqlite_errorcode", None)
    if isinstance(error, sqlite3.OperationalError) and "decode to UTF-8" in str(error):
        number = sqlite3.SQLITE_CORRUPT  # the driver says so, not SQLite
    if not isinstance(number, int):
        return None
    meant = _MEANINGS.get(number & 0xFF)
    if meant is None:
        return None
    if meant in _WITH_DETAIL:
        return Trouble(meant, path=str(path), detail=str(error))
    return Trouble(meant, path=str(path))


def _begin_immediate(connection: Connection) -> None:
    connection.exec_driver_sql("BEGIN IMMEDIATE")


def _begin(connection: Connection) -> None:
    connection.exec_driver_sql("BEGIN")


def _only_query(connection: DBAPIConnection, _record: ConnectionPoolEntry) -> None:
    cursor = connection.cursor()
    cursor.execute("PRAGMA query_only=ON")
    cursor.close()


def _refuse_replace(
    _connection: Connection,
    _cursor: object,
    statement: str,
    _parameters: object,
    _context: object,
    _many: bool,  # noqa: FBT001  (SQLAlchemy hands it)
) -> None:
    if _REPLACES.match(statement):
        raise ValueError("rows are never replaced; say ON CONFLICT DO UPDATE")
