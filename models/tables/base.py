"""What all tables share: names of constraints, columns that guard themselves, stamps.

Every column carries a named CHECK made from its type, so that a file cannot hold what the program
would not write: text no longer than stated and without NUL (which the undo journal could not
keep), whole numbers within their range, days that exist. Numbers with a fraction are never stored.
The guards are SQLite's words; on another server its own types would stand in.

Columns are made by `plain_text`, `code`, `choice`, `whole`, `yes`, `day`, `instant`, `picture`,
`link` and by nothing else. Classes end in `Row`, so that they are not taken for the facts of the
same name. There are no relationships: reads are explicit, and no row can load another by itself.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any, ClassVar

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Dialect,
    Enum,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
)
from sqlalchemy.engine.interfaces import ExecutionContext
from sqlalchemy.orm import DeclarativeBase, Mapped, MappedColumn, mapped_column
from sqlalchemy.types import TypeDecorator

NAME_LENGTH = 200
CODE_LENGTH = 64
NOTE_LENGTH = 10_000
FIRST_DAY = date(1900, 1, 1)
LAST_DAY = date(2199, 12, 31)
MOST = 10**15

CONVENTION = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}

STAMPS = "stamps"

# Named conditions over a whole row, on top of what each column guards by itself.
Guards = tuple[tuple[str, str], ...]


@dataclass(slots=True)
class Stamps:
    """Where a new row gets its uid and its instant from; the writer lays it on its connection.

    A uid is reckoned from the household, the instant and a count of all rows ever made in the
    file: no chance, no clock, and two copies that part company do not meet again in one uid.
    """

    household: uuid.UUID
    now: datetime
    count: int

    def uid(self) -> str:
        """The next uid."""
        self.count += 1
        return str(uuid.uuid5(self.household, f"{self.now.isoformat()}|{self.count}"))


class Instant(TypeDecorator[datetime]):
    """An instant in UTC, stored as text without a zone."""

    impl = DateTime
    cache_ok = True

    def process_bind_param(
        self,
        value: datetime | None,
        dialect: Dialect,  # noqa: ARG002  (SQLAlchemy hands it)
    ) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("an instant needs its zone")
        return value.astimezone(UTC).replace(tzinfo=None)

    def process_result_value(
        self,
        value: datetime | None,
        dialect: Dialect,  # noqa: ARG002  (SQLAlchemy hands it)
    ) -> datetime | None:
        return None if value is None else value.replace(tzinfo=UTC)


def _stamps(context: ExecutionContext) -> Stamps:
    found = context.root_connection.info.get(STAMPS)
    if not isinstance(found, Stamps):
        raise TypeError("rows are made by the writer alone")
    return found


def _next_uid(context: ExecutionContext) -> str:
    return _stamps(context).uid()


def _now(context: ExecutionContext) -> datetime:
    return _stamps(context).now


def _values(words: type[StrEnum]) -> list[str]:
    return [member.value for member in words]


class Base(DeclarativeBase):
    """Parent of every table: a number that is never used twice, and a uid known to other files."""

    metadata = MetaData(naming_convention=CONVENTION)

    id: Mapped[int] = mapped_column(Integer, primary_key=True, sort_order=-2)
    uid: Mapped[str] = mapped_column(
        String(CODE_LENGTH),
        default=_next_uid,
        unique=True,
        sort_order=-1,
        info={"least": 1},
    )

    guards: ClassVar[Guards] = ()

    def __init_subclass__(cls, **kw: Any) -> None:
        super().__init_subclass__(**kw)
        table: Table[Any] | None = cls.__dict__.get("__table__")
        if table is None:
            return
        table.dialect_options["sqlite"]["autoincrement"] = True
        _guard_columns(table)
        for parent in cls.__mro__:
            for name, condition in parent.__dict__.get("guards", ()):
                table.append_constraint(CheckConstraint(condition, name=name))


def plain_text(most: int = NAME_LENGTH, *, least: int = 0) -> MappedColumn[Any]:
    """Text of at most `most` characters, empty by default unless it needs `least`."""
    kept: dict[str, Any] = {} if least else {"default": ""}
    return mapped_column(String(most), nullable=False, info={"least": least}, **kept)


def code(*, null: bool = False) -> MappedColumn[Any]:
    """A code of the catalogue."""
    return mapped_column(String(CODE_LENGTH), nullable=null, info={"least": 1})


def choice(words: type[StrEnum], *, null: bool = False) -> MappedColumn[Any]:
    """One of the members of an enum, stored as its value."""
    kind = Enum(
        words,
        native_enum=False,
        create_constraint=False,
        length=CODE_LENGTH,
        values_callable=_values,
    )
    return mapped_column(kind, nullable=null)


def whole(
    low: int = 0, high: int = MOST, *, null: bool = False, default: int | None = None
) -> MappedColumn[Any]:
    """A whole number from `low` to `high`."""
    kept: dict[str, Any] = {} if default is None else {"default": default}
    return mapped_column(Integer, nullable=null, info={"low": low, "high": high}, **kept)


def picture(least: int, most: int, begins: bytes) -> MappedColumn[Any]:
    """A picture of `least` to `most` bytes that begins with the bytes of its kind."""
    limits = {"low": least, "high": most, "begins": begins}
    return mapped_column(LargeBinary, nullable=False, info=limits)


def yes(*, null: bool = False, default: bool | None = False) -> MappedColumn[Any]:
    """Yes or no."""
    kept: dict[str, Any] = {} if null or default is None else {"default": default}
    return mapped_column(Boolean(create_constraint=False), nullable=null, **kept)


def day(*, null: bool = False) -> MappedColumn[Any]:
    """A day of the calendar."""
    return mapped_column(Date, nullable=null)


def instant() -> MappedColumn[Any]:
    """The instant of the act that made the row."""
    return mapped_column(Instant, default=_now)


def link(
    target: str, ondelete: str, *, null: bool = False, unique: bool = False
) -> MappedColumn[Any]:
    """The id of a row of another table. CASCADE: a part of it; RESTRICT: its history."""
    kept: dict[str, Any] = {"unique": True} if unique else {"index": True}
    return mapped_column(
        Integer, ForeignKey(f"{target}.id", ondelete=ondelete), nullable=null, **kept
    )


def _guard_columns(table: Table[Any]) -> None:
    for column in table.columns:
        condition = _condition(column)
        if column.nullable:
            condition = f"{column.name} IS NULL OR ({condition})"
        guard = CheckConstraint(condition, name=column.name).ddl_if(dialect="sqlite")
        table.append_constraint(guard)


def _condition(column: Column[Any]) -> str:
    name, kind = column.name, column.type
    if isinstance(kind, Enum):
        words = ", ".join(f"'{word}'" for word in kind.enums)
        return f"typeof({name}) = 'text' AND {name} IN ({words})"
    if isinstance(kind, LargeBinary):
        begins: bytes = column.info["begins"]
        return (
            f"typeof({name}) = 'blob' AND length({name}) BETWEEN {column.info['low']}"
            f" AND {column.info['high']}"
            f" AND substr({name}, 1, {len(begins)}) = X'{begins.hex().upper()}'"
        )
    if isinstance(kind, String):
        return (
            f"typeof({name}) = 'text' AND length({name}) BETWEEN {column.info['least']}"
            f" AND {kind.length} AND instr({name}, char(0)) = 0"
        )
    if isinstance(kind, Boolean):
        return f"typeof({name}) = 'integer' AND {name} IN (0, 1)"
    if isinstance(kind, Date):
        return (
            f"typeof({name}) = 'text' AND {name} BETWEEN '{FIRST_DAY}' AND '{LAST_DAY}'"
            f" AND {name} IS date({name}, '+0 days')"
        )
    if isinstance(kind, Instant):
        pattern = "-".join(("_" * 4, "_" * 2, "_" * 2)) + " " + ":".join(("_" * 2,) * 3)
        return f"typeof({name}) = 'text' AND {name} LIKE '{pattern}.{'_' * 6}'"
    if column.primary_key or column.foreign_keys:
        return f"typeof({name}) = 'integer' AND {name} >= 1"
    return (
        f"typeof({name}) = 'integer'"
        f" AND {name} BETWEEN {column.info['low']} AND {column.info['high']}"
    )
