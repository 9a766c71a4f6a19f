"""The day in a line as people type it: “3 days ago”, “last Saturday”, “12 Dec”, “12/11”.

A day that is not understood is said to be so; it never becomes today.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

_MONTHS = (
    ("january", "jan"),
    ("february", "feb"),
    ("march", "mar"),
    ("april", "apr"),
    ("may", "may"),
    ("june", "jun"),
    ("july", "jul"),
    ("august", "aug"),
    ("september", "sep"),
    ("october", "oct"),
    ("november", "nov"),
    ("december", "dec"),
)
_MONTH_OF = {name: place for place, names in enumerate(_MONTHS, start=1) for name in names}
_MONTH_OF["sept"] = 9
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WEEKDAY_OF = {
    **{name: place for place, name in enumerate(_WEEKDAYS)},
    **{name[:3]: place for place, name in enumerate(_WEEKDAYS)},
}
_COUNTS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_NUMBERS = {"a": 1, **{name: place for place, name in enumerate(_COUNTS, start=1)}}

# A figure that is whole: not the middle of another, and no amount with a unit behind it.
_START = r"(?<![\w.,:/+\-−–—£$€])"
_END = r"(?!\w)(?![.,:/\-][0-9])(?!\s*(?:h|hrs?|hours?|m|mins?|minutes?|£|\$|€|%)(?!\w))"
_MONTH = "|".join(sorted(_MONTH_OF, key=len, reverse=True))
_YEAR = rf"(?:,?\s+(?P<year>(?:19|20)[0-9]{{2}}){_END})?"
_PART = r"(?:\s+(?:morning|afternoon|evening|night)\b)?"

_NAMED = re.compile(
    rf"\b(?:(?P<before>(?:the\s+)?day\s+before\s+yesterday)|(?P<yesterday>yesterday)|"
    rf"(?P<today>today|tonight|this\s+(?:morning|afternoon|evening)))\b{_PART}",
    re.IGNORECASE,
)
_AGO = re.compile(
    rf"{_START}(?P<n>[0-9]{{1,3}}|{'|'.join(_NUMBERS)})\s+(?P<unit>days?|weeks?)\s+ago\b",
    re.IGNORECASE,
)
_WEEKDAY = re.compile(
    rf"\b(?:(?P<how>last|on|on\s+last)\s+(?P<name>{'|'.join(_WEEKDAY_OF)})"
    rf"|(?P<bare>{'|'.join(_WEEKDAYS)}))\b{_PART}",
    re.IGNORECASE,
)
_ISO = re.compile(rf"{_START}(?P<y>[0-9]{{4}})-(?P<m>[0-9]{{2}})-(?P<d>[0-9]{{2}}){_END}")
_DAY_MONTH = re.compile(
    rf"{_START}(?P<day>[0-9]{{1,2}})(?:st|nd|rd|th)?\s+(?:of\s+)?(?P<month>{_MONTH})\b\.?{_YEAR}",
    re.IGNORECASE,
)
_MONTH_DAY = re.compile(
    rf"\b(?P<month>{_MONTH})\b\.?\s+(?:the\s+)?(?P<day>[0-9]{{1,2}})(?:st|nd|rd|th)?{_END}{_YEAR}",
    re.IGNORECASE,
)
_FIGURES = re.compile(
    rf"{_START}(?P<a>[0-9]{{1,2}})(?P<sign>[/.\-])(?P<b>[0-9]{{1,2}})"
    rf"(?P=sign)(?P<year>[0-9]{{4}}|[0-9]{{2}}){_END}"
    rf"|{_START}(?P<c>[0-9]{{1,2}})/(?P<d>[0-9]{{1,2}}){_END}",
)
_LOOKS_LIKE = re.compile(
    rf"\b(?:{_MONTH}|{'|'.join(name + 's?' for name in _WEEKDAYS)}|mon|tue|tues|wed|thu|thur|thurs"
    r"|fri|sat|sun|yesterday|today|tomorrow|tonight|ago|days?|weeks?|weekends?|fortnights?"
    r"|months?|years?|morning|afternoon|evening|night|noon|midday|easter|christmas"
    r"|(?:last|this|next|in|in\s+the)\s+(?:spring|summer|autumn|fall|winter|season)"
    r"|last\s+time|earlier|recently|the\s+other\s+day)\b",
    re.IGNORECASE,
)


def read_day(line: str, today: date, *, month_first: bool) -> tuple[str, date] | None:
    """The line without its day, and the day; today where none is said, None where it is not
    understood. `month_first`: 12/11 is the eleventh of December."""
    found: set[date] = set()
    for pattern in (_NAMED, _AGO, _ISO, _FIGURES, _DAY_MONTH, _MONTH_DAY, _WEEKDAY):
        while match := pattern.search(line):
            day = _day(pattern, match, today, month_first=month_first)
            if day is None:
                return None
            found.add(day)
            line = f"{line[: match.start()]} {line[match.end() :]}"
    if len(found) > 1 or _LOOKS_LIKE.search(line):
        return None
    return line, found.pop() if found else today


def _day(
    pattern: re.Pattern[str], match: re.Match[str], today: date, *, month_first: bool
) -> date | None:
    if pattern is _NAMED:
        back = 2 if match["before"] else 1 if match["yesterday"] else 0
        return _back(today, back)
    if pattern is _AGO:
        n = _NUMBERS.get(match["n"].casefold())
        count = int(match["n"]) if n is None else n
        return _back(today, count * (7 if match["unit"].casefold().startswith("week") else 1))
    if pattern is _WEEKDAY:
        return _weekday(match, today)
    if pattern is _ISO:
        return _date(int(match["y"]), int(match["m"]), int(match["d"]))
    if pattern is _FIGURES:
        first, second = match["a"] or match["c"], match["b"] or match["d"]
        month, day = (first, second) if month_first else (second, first)
        return _latest(int(month), int(day), match["year"], today)
    return _latest(_MONTH_OF[match["month"].casefold()], int(match["day"]), match["year"], today)


def _weekday(match: re.Match[str], today: date) -> date | None:
    """The latest such day before today; on the day itself only “last” says which one is meant."""
    said = (match["name"] or match["bare"]).casefold()
    back = (today.weekday() - _WEEKDAY_OF[said]) % 7
    before = match.string[: match.start()].casefold().split()[-1:]
    if before in (["next"], ["this"], ["every"], ["before"], ["after"], ["since"], ["until"]):
        return None
    if back == 0 and "last" not in (match["how"] or "").casefold():
        return None
    return _back(today, back or 7)


def _latest(month: int, day: int, year: str | None, today: date) -> date | None:
    """That day in that year; without one the last such day, at most a year ago."""
    if year is not None:
        return _date(int(year) if len(year) == 4 else 2000 + int(year), month, day)
    return next((one for one in _both(month, day, today) if one <= today), None)


def _both(month: int, day: int, today: date) -> Iterator[date]:
    for year in (today.year, today.year - 1):
        found = _date(year, month, day)
        if found is not None:
            yield found


def _back(today: date, days: int) -> date | None:
    try:
        return today - timedelta(days=days)
    except OverflowError:
        return None


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
