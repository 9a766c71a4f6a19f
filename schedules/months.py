"""Month arithmetic that clamps: anchor + k months, never stepping from the last result.

Source of the rule and its checks: the published behaviour of calendar libraries that clamp
(31 January + 1 month is the last day of February); the tests compare with dateutil.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date


def add_months(day: date, months: int) -> date:
    """The same day of the month `months` on, or the month's last day when it is shorter.

    Raises ValueError outside the years 1 to 9999.
    """
    total = day.year * 12 + day.month - 1 + months
    year, month = divmod(total, 12)
    month += 1
    if day.day <= 28:
        return date(year, month, day.day)
    return date(year, month, min(day.day, monthrange(year, month)[1]))
