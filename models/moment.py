"""The day and the instant at which something is asked or done; both enter at the door."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime


@dataclass(frozen=True, slots=True)
class Moment:
    """`today` in the household's own calendar, `now` in UTC. Raises ValueError for another zone."""

    today: date
    now: datetime

    def __post_init__(self) -> None:
        if self.now.tzinfo is not UTC:
            raise ValueError("now is an instant in UTC")
