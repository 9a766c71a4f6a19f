"""Undo and redo: temporary triggers that write down the inverse of each row change.

Decision: below the acts, not beside them. An `undo()` for every act is written twice and drifts;
hooks of the mapper miss bulk statements and the database's own cascades. Triggers see every row,
whoever changed it, and die with the connection. What they cannot keep (NUL in text, infinite
numbers) no column takes; REPLACE is refused at the door.

The same triggers hold entries to their word: nothing but undo and redo changes or removes one.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any

from sqlalchemy import Connection, Table

from models.changes import Changes

MOST_STEPS = 1000
# All steps together keep no more statements than this; a taking-in of a whole fleet may be larger
# than memory should hold, and then cannot be undone.
MOST_STATEMENTS = 1_000_000

_SET_UP = (
    "CREATE TEMP TABLE undo_log (seq INTEGER PRIMARY KEY, statement TEXT NOT NULL)",
    "CREATE TEMP TABLE undo_state (undoing INTEGER NOT NULL)",
    "INSERT INTO undo_state VALUES (0)",
)
_ONLY_ADDED_TO = "entries are only added to"


@dataclass(frozen=True, slots=True)
class Step:
    """What one act did, as the statements that take it back, in the order they are run."""

    changes: Changes
    statements: tuple[str, ...]


class Journal:
    """The steps of this sitting, and the triggers that write them."""

    def __init__(self, tables: Iterable[Table[Any]], entries: frozenset[str]) -> None:
        self._triggers = _triggers(tuple(tables), entries)
        self._done: deque[Step] = deque()
        self._undone: deque[Step] = deque()

    @property
    def trigger_count(self) -> int:
        """How many triggers there must be."""
        return len(self._triggers)

    @property
    def last_done(self) -> Step | None:
        """The step that undo would take back."""
        return self._done[-1] if self._done else None

    @property
    def last_undone(self) -> Step | None:
        """The step that redo would do again."""
        return self._undone[-1] if self._undone else None

    def lay(self, connection: Connection) -> None:
        """Lay the triggers on the connection that writes; after any change of the schema, since
        a table rebuilt loses them without a word."""
        for statement in _SET_UP:
            connection.exec_driver_sql(statement)
        # In the same transaction, but past what is weighed for each statement: they are many.
        raw = connection.connection.cursor()
        for statement in self._triggers:
            raw.execute(statement)
        raw.close()

    def is_laid(self, connection: Connection) -> bool:
        """Whether every trigger is still there."""
        counted = connection.exec_driver_sql(
            "SELECT count(*) FROM temp.sqlite_schema WHERE type = 'trigger'"
        )
        return counted.scalar_one() == self.trigger_count

    def collect(self, connection: Connection, changes: Changes) -> Step | None:
        """Take what was written down since the last time as a step; None when nothing was."""
        logged = connection.exec_driver_sql("SELECT statement FROM undo_log ORDER BY seq DESC")
        statements = tuple(row[0] for row in logged.all())
        connection.exec_driver_sql("DELETE FROM undo_log")
        return Step(changes, statements) if statements else None

    def take_back(self, connection: Connection, step: Step) -> Step | None:
        """Run a step's statements; what takes that back in turn is the step returned."""
        connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
        connection.exec_driver_sql("UPDATE undo_state SET undoing = 1")
        for statement in step.statements:
            connection.exec_driver_sql(statement)
        connection.exec_driver_sql("UPDATE undo_state SET undoing = 0")
        return self.collect(connection, step.changes)

    def push(self, step: Step | None) -> None:
        """A new act was done: it can be undone, and what was undone cannot be done again."""
        if step is None:
            return
        self._undone.clear()
        self._keep(self._done, step)

    def move_back(self, step: Step | None) -> None:
        """The last act was undone; `step` does it again."""
        self._done.pop()
        if step is not None:
            self._keep(self._undone, step)

    def move_on(self, step: Step | None) -> None:
        """The last act undone was done again; `step` undoes it."""
        self._undone.pop()
        if step is not None:
            self._keep(self._done, step)

    def clear(self) -> None:
        """Forget every step: the file was changed by somebody else."""
        self._done.clear()
        self._undone.clear()

    def _keep(self, steps: deque[Step], step: Step) -> None:
        steps.append(step)
        while len(steps) > MOST_STEPS or _size(steps) > MOST_STATEMENTS:
            steps.popleft()


def _size(steps: Iterable[Step]) -> int:
    return sum(len(step.statements) for step in steps)


@cache
def _triggers(tables: tuple[Table[Any], ...], entries: frozenset[str]) -> tuple[str, ...]:
    """All of them, worked out once for every file that is opened."""
    return tuple(
        trigger
        for table in tables
        for trigger in (*_logging(table), *(_keeping(table) if table.name in entries else ()))
    )


def _logging(table: Table[Any]) -> tuple[str, str, str]:
    """Triggers that write down DELETE for an insert, UPDATE for an update, INSERT for a delete."""
    # Names are those of our own tables and columns, values pass through quote().
    name = table.name
    columns = [column.name for column in table.columns]
    values = " || ',' || ".join(f"quote(OLD.{column})" for column in columns)
    pairs = " || ',' || ".join(f"'{column}=' || quote(OLD.{column})" for column in columns)
    into = f'"{name}" ({", ".join(columns)})'
    # An update that says what was there already is nothing to undo.
    moved = "WHEN " + " OR ".join(f"OLD.{column} IS NOT NEW.{column}" for column in columns)
    undo_insert = f"'DELETE FROM \"{name}\" WHERE id=' || NEW.id"  # noqa: S608
    undo_update = f"'UPDATE \"{name}\" SET ' || {pairs} || ' WHERE id=' || NEW.id"  # noqa: S608
    undo_delete = f"'INSERT INTO {into} VALUES (' || {values} || ')'"  # noqa: S608
    return (
        _trigger(f"log_insert_{name}", f'AFTER INSERT ON main."{name}"', undo_insert),
        _trigger(f"log_update_{name}", f'AFTER UPDATE ON main."{name}" {moved}', undo_update),
        _trigger(f"log_delete_{name}", f'BEFORE DELETE ON main."{name}"', undo_delete),
    )


def _trigger(name: str, when: str, statement: str) -> str:
    logged = f"INSERT INTO undo_log (statement) VALUES ({statement})"  # noqa: S608
    return f'CREATE TEMP TRIGGER "{name}" {when} BEGIN {logged}; END'


def _keeping(table: Table[Any]) -> tuple[str, str]:
    """Triggers that refuse to change or remove a row outside undo and redo."""
    only = "WHEN (SELECT undoing FROM undo_state) = 0"
    refuse = f"BEGIN SELECT RAISE(ABORT, '{_ONLY_ADDED_TO}'); END"
    name = table.name
    return (
        f'CREATE TEMP TRIGGER "keep_update_{name}" BEFORE UPDATE ON main."{name}" {only} {refuse}',
        f'CREATE TEMP TRIGGER "keep_delete_{name}" BEFORE DELETE ON main."{name}" {only} {refuse}',
    )
