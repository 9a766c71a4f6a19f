"""What an act that changes things says of a field it leaves alone."""

from __future__ import annotations

from enum import Enum
from typing import Final, TypeVar

T = TypeVar("T")


class Keep(Enum):
    """Leave the field as it is; None stands for *no longer known*."""

    KEEP = "keep"


KEEP: Final = Keep.KEEP


def kept(wanted: T | Keep, now: T) -> T:
    """The value wanted, or the one there is now."""
    return now if isinstance(wanted, Keep) else wanted
