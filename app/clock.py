"""The day and the instant, read once at the door and handed down."""

from __future__ import annotations

from datetime import UTC, date, datetime

from models.moment import Moment


def moment(on: date | None = None) -> Moment:
    """Now. `on`: the day asked about instead of today; the instant stays that of now."""
    today = date.today()
    day = today if on is None else on
    return Moment(day, datetime.now(UTC), ahead=day > today)
