"""The day and the instant at which something is asked or done; both enter at the door."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime


@dataclass(frozen=True, slots=True)
class Moment:
    """`today` in the household's own calendar, `now` in UTC. Raises ValueError for another zone.

    `ahead`: the day is one that has not come yet. It can be asked about; nothing can be entered.
    """

    today: date
    now: datetime
    ahead: bool = False

    def __post_init__(self) -> None:
        if self.now.tzinfo is not UTC:
            raise ValueError("now is an instant in UTC")
