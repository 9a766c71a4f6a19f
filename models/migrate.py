"""From an older format to the newest, in one transaction, with every row counted.

A table rebuilt while foreign keys are on loses its children without a word, and no check finds it
afterwards. So the keys are off before the transaction begins, the rows of each table are counted
before and after each revision (one that means to lose some names the table in `MAY_LOSE`), and
the links are checked at the end.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, create_engine, event
from sqlalchemy.pool import StaticPool

from models.engines import GUARDS, connect, sqlite_faults_told
from models.errors import Trouble, TroubleCode
from models.header import APPLICATION_ID
from models.migrations.formats import Formats, schema_digest, schema_rows
from models.tables.schema import Base

_VERSION_TABLE = (
    "CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL,"
    " CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num))"
)
_KEYS_OFF = (
    *GUARDS,
    "PRAGMA journal_mode=DELETE",
    "PRAGMA synchronous=FULL",
    "PRAGMA foreign_keys=OFF",
)


def lay_newest(connection: Connection, formats: Formats) -> None:
    """Make the newest format's tables in an empty file, without running a revision."""
    Base.metadata.create_all(connection)
    connection.exec_driver_sql(_VERSION_TABLE)
    connection.exec_driver_sql(
        "INSERT INTO alembic_version VALUES (?)", (formats.revision(formats.newest),)
    )
    connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
    connection.exec_driver_sql(f"PRAGMA user_version={formats.newest}")


def check_schema(connection: sqlite3.Connection, path: Path, number: int, formats: Formats) -> None:
    """Raise Trouble STRANGE_SCHEMA unless the file has the schema of its format and nothing more:
    a trigger or view from a stranger would run with our rights."""
    if schema_digest(connection) != formats.digest(number):
        name = _strange(connection, number, formats)
        raise Trouble(TroubleCode.STRANGE_SCHEMA, path=str(path), name=name)


def migrate(path: Path, found: int, formats: Formats) -> None:
    """Bring a file of format `found` to the newest. The caller has backed it up and holds the
    lock. Raises Trouble; then the file is as it was."""
    engine = create_engine(
        "sqlite://",
        creator=lambda: connect(path, mode="rw", pragmas=_KEYS_OFF),
        poolclass=StaticPool,
    )
    event.listen(engine, "begin", _begin_exclusive)
    try:
        with sqlite_faults_told(path), engine.begin() as connection:
            for number in range(found + 1, formats.newest + 1):
                _advance(connection, path, number, formats)
            loose = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
            if loose is not None:
                raise Trouble(
                    TroubleCode.MIGRATION_BROKE_LINKS, path=str(path), table=str(loose[0])
                )
            connection.exec_driver_sql(f"PRAGMA user_version={formats.newest}")
    finally:
        engine.dispose()


def _advance(connection: Connection, path: Path, number: int, formats: Formats) -> None:
    before = _counts(connection)
    may_lose = _run_revision(connection, formats.revision(number), formats)
    after = _counts(connection)
    for table, count in before.items():
        if after.get(table, 0) < count and table not in may_lose:
            raise Trouble(
                TroubleCode.MIGRATION_LOST_ROWS,
                path=str(path),
                table=table,
                before=count,
                after=after.get(table, 0),
            )


def _run_revision(connection: Connection, revision: str, formats: Formats) -> frozenset[str]:
    """Run one revision on the connection; returns the tables it may lose rows of."""
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(formats.scripts).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, revision)
    script = ScriptDirectory.from_config(config).get_revision(revision)
    declared: Any = getattr(script.module, "MAY_LOSE", ())
    return frozenset(declared)


def _counts(connection: Connection) -> dict[str, int]:
    named = connection.exec_driver_sql(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%'"
        " ESCAPE '\\' AND name <> 'alembic_version'"
    )
    tables = [row[0] for row in named.all()]
    return {
        table: connection.exec_driver_sql(f'SELECT count(*) FROM "{table}"').scalar_one()  # noqa: S608
        for table in tables
    }


def _begin_exclusive(connection: Connection) -> None:
    connection.exec_driver_sql("BEGIN EXCLUSIVE")


def _strange(connection: sqlite3.Connection, number: int, formats: Formats) -> str:
    """The name of something that should not be there, or should."""
    found = schema_rows(connection)
    if number == formats.newest:
        with create_engine("sqlite://").begin() as fresh:
            lay_newest(fresh, formats)
            raw = fresh.connection.driver_connection
            if isinstance(raw, sqlite3.Connection):
                return min(name for _kind, name, _text in found ^ schema_rows(raw))
    foreign = [name for kind, name, _text in found if kind not in {"table", "index"}]
    return min(foreign, default="")
