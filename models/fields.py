"""Single values on their way in, refused in words before the database would refuse them."""

from __future__ import annotations

from datetime import date

from models.errors import Refused, RefusedCode
from models.tables.base import FIRST_DAY, LAST_DAY, MOST, NAME_LENGTH


def plain_text(field: str, value: str, *, most: int = NAME_LENGTH, least: int = 0) -> str:
    """The text without outer blanks. Raises Refused when it is too long, empty though it must
    not be, or holds what is no text: control characters, halves of surrogate pairs.

    Line ends and tabs are allowed where there is room for more than a name.
    """
    kept = value.strip()
    if len(kept) > most:
        raise Refused(RefusedCode.TOO_LONG, field=field, length=len(kept), most=most)
    if len(kept) < least:
        raise Refused(RefusedCode.NOTHING_GIVEN, field=field)
    allowed = "\n\t" if most > NAME_LENGTH else ""
    for position, sign in enumerate(kept):
        control = sign < " " or "\x7f" <= sign < "\xa0"
        if (control and sign not in allowed) or "\ud800" <= sign <= "\udfff":
            raise Refused(RefusedCode.NOT_PLAIN_TEXT, field=field, position=position)
    return kept


def whole(field: str, value: int, low: int = 0, high: int = MOST) -> int:
    """The number. Raises Refused when it lies outside `low`..`high`."""
    if not low <= value <= high:
        shown = min(max(value, -(10**18)), 10**18)
        raise Refused(RefusedCode.OUT_OF_RANGE, field=field, value=shown, low=low, high=high)
    return value


def day(field: str, value: date, *, first: date = FIRST_DAY, today: date | None = None) -> date:
    """The day. Raises Refused when it lies before `first`, after `today` or out of the file's
    reach."""
    if not FIRST_DAY <= value <= LAST_DAY:
        raise Refused(
            RefusedCode.DAY_OUT_OF_RANGE, field=field, day=value, first=FIRST_DAY, last=LAST_DAY
        )
    if value < first:
        raise Refused(RefusedCode.DAY_TOO_EARLY, field=field, day=value, first=first)
    if today is not None and value > today:
        raise Refused(RefusedCode.DAY_AHEAD, field=field, day=value, today=today)
    return value
