"""Columns as JSON has them: what goes out, and what is taken back in.

A link goes out under the name of its column without `_id`, as the uid of the row it leads to. A
picture goes out as base64: one file carries everything, and out, in and out again is the same.
"""

from __future__ import annotations

import base64
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import Boolean, Column, Date, Enum, Integer, LargeBinary, String

from models.pictures import jpeg_size
from models.tables.base import FIRST_DAY, LAST_DAY, Instant


def field_name(column: Column[Any]) -> str:
    """What a column is called in JSON."""
    return column.name.removesuffix("_id") if column.foreign_keys else column.name


def link_target(column: Column[Any]) -> str | None:
    """The table a link leads to; None for a column that is no link."""
    for key in column.foreign_keys:
        return key.target_fullname.split(".")[0]
    return None


def outgoing(value: Any) -> Any:
    """A column's value as JSON takes it."""
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, bytes):
        return base64.b64encode(value).decode()
    return value


def incoming(column: Column[Any], value: Any) -> Any:
    """The column's value for what JSON said. Raises ValueError when the column would not take it.

    Links are told apart by the caller.
    """
    if value is None:
        if not column.nullable:
            raise ValueError(column.name)
        return None
    return _taken(column, value)


def _taken(column: Column[Any], value: Any) -> Any:
    kind = column.type
    if isinstance(kind, Enum):
        return _word(kind, value)
    if isinstance(kind, LargeBinary):
        return _picture(value, column.info["low"], column.info["high"])
    if isinstance(kind, String):
        return _text(value, column.info["least"], kind.length or 0)
    if isinstance(kind, Boolean) and isinstance(value, bool):
        return value
    if isinstance(kind, Date) and isinstance(value, str):
        return _day(value)
    if isinstance(kind, Instant) and isinstance(value, str):
        return _instant(value)
    if isinstance(kind, Integer) and isinstance(value, int) and not isinstance(value, bool):
        return _whole(value, column.info["low"], column.info["high"])
    raise ValueError(column.name)


def _word(kind: Enum, value: Any) -> Any:
    words = kind.enum_class
    if words is None or not isinstance(value, str):
        raise ValueError(value)
    return words(value)


def _text(value: Any, least: int, most: int) -> str:
    if not isinstance(value, str) or not least <= len(value) <= most or "\0" in value:
        raise ValueError(value)
    value.encode()  # refuses halves of surrogate pairs
    return value


def _picture(value: Any, least: int, most: int) -> bytes:
    if not isinstance(value, str) or len(value) > most // 3 * 4 + 8:
        raise ValueError(value)
    found = base64.b64decode(value, validate=True)
    if not least <= len(found) <= most or base64.b64encode(found).decode() != value:
        raise ValueError(len(found))
    jpeg_size(found)
    return found


def _whole(value: int, low: int, high: int) -> int:
    if not low <= value <= high:
        raise ValueError(value)
    return value


def _day(value: str) -> date:
    found = date.fromisoformat(value)
    if found.isoformat() != value or not FIRST_DAY <= found <= LAST_DAY:
        raise ValueError(value)
    return found


def _instant(value: str) -> datetime:
    found = datetime.fromisoformat(value)
    if found.tzinfo is None or not FIRST_DAY <= found.date() <= LAST_DAY:
        raise ValueError(value)
    return found.astimezone(UTC)
