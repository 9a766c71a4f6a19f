"""The only way to write: one act is one transaction is one undo step."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Generator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Protocol

from sqlalchemy import CheckConstraint, Connection, Engine
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from models.changes import ActLabel, Area, Changes
from models.engines import sqlite_faults_told
from models.errors import Trouble, TroubleCode
from models.journal import Journal, Step
from models.moment import Moment
from models.tables.base import STAMPS, Stamps
from models.tables.schema import ENTRY_TABLES, TABLES

HOUSEHOLDS = uuid.UUID("6d1c5b1e-6a0f-5b52-9f3c-2f6d1b0a7c11")  # drawn once, for our uids


class Act(Protocol):
    """Something a user does: a frozen dataclass that refuses bad input before the database."""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Do it, and tell what changed. Raises Refused. Never commits."""
        ...


class Writer:
    """Runs acts on the one connection that writes. Holds the undo steps of this sitting."""

    def __init__(self, path: Path, engine: Engine) -> None:
        self._path = path
        self._engine = engine
        self._journal = Journal(TABLES, ENTRY_TABLES)
        self._identity = _identity(path)
        self.is_checked = False
        with sqlite_faults_told(path), engine.connect() as connection:
            self._journal.lay(connection)
            version: int = connection.exec_driver_sql("PRAGMA data_version").scalar_one()
            connection.commit()
        # Our own commits leave this number alone; it moves when somebody else writes.
        self._data_version = version
        self._reload_all = False

    @property
    def undo_label(self) -> ActLabel | None:
        """What undo would take back."""
        step = self._journal.last_done
        return None if step is None else step.changes.label

    @property
    def redo_label(self) -> ActLabel | None:
        """What redo would do again."""
        step = self._journal.last_undone
        return None if step is None else step.changes.label

    def run(self, act: Act, *, moment: Moment) -> Changes:
        """Carry out an act, whole or not at all. Raises Refused, Trouble."""
        with self._transaction(moment) as session:
            changes = act.run(session, moment)
            session.flush()
            step = self._journal.collect(session.connection(), changes)
        self._journal.push(step)
        if self._reload_all:
            self._reload_all = False
            return replace(changes, areas=frozenset(Area))
        return changes

    def undo(self, *, moment: Moment) -> Changes | None:
        """Take the last act back; None when there is none.

        Raises Trouble; CHANGED_ELSEWHERE when somebody else wrote to the file since: then no step
        is left, and everything is to be read anew.
        """
        return self._step(lambda: self._journal.last_done, self._journal.move_back, moment)

    def redo(self, *, moment: Moment) -> Changes | None:
        """Do the last act undone again; None when there is none. Raises Trouble as undo does."""
        return self._step(lambda: self._journal.last_undone, self._journal.move_on, moment)

    def check(self) -> None:
        """Look the file through, once a sitting and at the latest before the first act.

        Raises Trouble DAMAGED.
        """
        if self.is_checked:
            return
        look_through(self._path, self._engine, guards=False)
        self.is_checked = True

    def _step(
        self,
        wanted: Callable[[], Step | None],
        move: Callable[[Step | None], None],
        moment: Moment,
    ) -> Changes | None:
        if wanted() is None:
            return None
        try:
            with self._transaction(moment) as session:
                step = wanted()  # gone by now if somebody else wrote to the file
                if step is None:
                    self._reload_all = False
                    raise Trouble(TroubleCode.CHANGED_ELSEWHERE, path=str(self._path))
                back = self._journal.take_back(session.connection(), step)
        except IntegrityError as error:
            raise Trouble(TroubleCode.UNDO_FAILED, detail=str(error.orig)) from error
        move(back)
        return step.changes

    @contextmanager
    def _transaction(self, moment: Moment) -> Generator[Session]:
        """A session in its transaction, committed at the end or rolled back."""
        if moment.ahead:
            raise Trouble(TroubleCode.LOOKING_AHEAD, day=moment.today)
        if _identity(self._path) != self._identity:
            raise Trouble(TroubleCode.SWAPPED, path=str(self._path))
        self.check()
        with (
            sqlite_faults_told(self._path),
            Session(self._engine, expire_on_commit=False) as session,
            session.begin(),
        ):
            connection = session.connection()
            if not self._journal.is_laid(connection):
                raise RuntimeError("a trigger of the journal is gone")
            self._look_for_foreign_hand(connection)
            connection.info[STAMPS] = _stamps(connection, moment)
            yield session

    def _look_for_foreign_hand(self, connection: Connection) -> None:
        """When somebody else wrote to the file, no step of ours is to be trusted any more."""
        found: int = connection.exec_driver_sql("PRAGMA data_version").scalar_one()
        if found != self._data_version:
            self._journal.clear()
            self._reload_all = True
        self._data_version = found


def look_through(path: Path, engine: Engine, *, guards: bool) -> None:
    """SQLite's whole check and every link; `guards`: the CHECKs too, by our own hand.

    The quick check is no quicker here and does not see an index that leads astray. SQLite looks
    at CHECKs itself, but not in a file it may not write to. Raises Trouble DAMAGED.
    """
    with sqlite_faults_told(path), engine.connect() as connection:
        said = connection.exec_driver_sql("PRAGMA integrity_check(1)").scalar_one()
        if said == "ok":
            said = _loose_link(connection) or said
        if said == "ok" and guards:
            said = _broken_guard(connection) or said
        connection.rollback()
    if said != "ok":
        raise Trouble(TroubleCode.DAMAGED, path=str(path), detail=str(said))


def _loose_link(connection: Connection) -> str | None:
    found = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    return None if found is None else f"loose link in {found[0]} to {found[2]}"


def _broken_guard(connection: Connection) -> str | None:
    """A table with a row that its guards would not take."""
    for table in TABLES:
        guards = [
            str(constraint.sqltext)
            for constraint in table.constraints
            if isinstance(constraint, CheckConstraint)
        ]
        kept = " AND ".join(f"({guard})" for guard in guards)
        broken = f"SELECT 1 FROM {table.name} WHERE NOT ({kept}) LIMIT 1"  # noqa: S608
        if connection.exec_driver_sql(broken).first() is not None:
            return f"guard broken in {table.name}"
    return None


def _stamps(connection: Connection, moment: Moment) -> Stamps:
    household = connection.exec_driver_sql("SELECT uid FROM household").scalar_one()
    count = connection.exec_driver_sql("SELECT total(seq) FROM sqlite_sequence").scalar_one()
    return Stamps(uuid.uuid5(HOUSEHOLDS, household), moment.now, int(count))


def _identity(path: Path) -> tuple[int, int]:
    """Which file the name leads to."""
    try:
        found = path.stat()
    except FileNotFoundError:
        return (0, 0)
    return (found.st_dev, found.st_ino)
