"""What an act that changes things says of a field it leaves alone."""

from __future__ import annotations

from enum import Enum
from typing import Any, Final, TypeVar

from sqlalchemy import inspect

from models.errors import Refused, RefusedCode
from models.tables.base import Base

T = TypeVar("T")


class Keep(Enum):
    """Leave the field as it is; None stands for *no longer known*."""

    KEEP = "keep"


KEEP: Final = Keep.KEEP


def kept(wanted: T | Keep, now: T) -> T:
    """The value wanted, or the one there is now."""
    return now if isinstance(wanted, Keep) else wanted


def as_it_is(row: Base) -> dict[str, Any]:
    """What stands in the columns of a row, to be held against what stands there later."""
    return {attribute.key: attribute.value for attribute in inspect(row).attrs}


def refuse_unchanged(row: Base, before: dict[str, Any]) -> None:
    """Raises Refused NOTHING_CHANGED when the row is as it was."""
    if as_it_is(row) == before:
        raise Refused(RefusedCode.NOTHING_CHANGED)
