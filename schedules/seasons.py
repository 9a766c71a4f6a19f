"""Season windows and the seasons they make, exactly, for either hemisphere.

A window is a pair of month-days, both inside. Windows that overlap, touch or leave fewer than
`gap_days` days between them (counted in common years) are one; if less than that is left out of
the year there is no season at all and every day is in season. Days are proleptic Gregorian
ordinals (`date.toordinal`) inside, so that counting is plain whole-number work.

Decision: one calendar a distinct set of windows, built once and shared by every machine that has
it. A day-by-day walk is simpler, and stands in the tests as a second opinion.
"""

from __future__ import annotations

from bisect import bisect_right
from calendar import isleap, monthrange
from datetime import date
from fractions import Fraction
from functools import lru_cache

from schedules.facts import MonthDay, Season, SeasonPart, Window

FIRST_YEAR = 1900
LAST_YEAR = 2199
FOREVER = date(LAST_YEAR, 12, 31).toordinal()
_COMMON_YEAR = 2023
_LEAP_YEAR = 2024
_COMMON_DAYS = 365


def last_of_month(month: int) -> int:
    """Last day of the month of the year without a year: February has 29."""
    return monthrange(_LEAP_YEAR, month)[1]


def check_month_day(month_day: MonthDay) -> None:
    """Raise ValueError unless the month-day exists in a leap year."""
    if not 1 <= month_day.month <= 12 or not 1 <= month_day.day <= last_of_month(month_day.month):
        raise ValueError(f"no such day of the year: {month_day.month}-{month_day.day}")


def _ordinal(month_day: MonthDay, year: int, *, first: bool) -> int:
    """The day in that year: 29 February of a common year is 1 March as a first day, else 28."""
    if month_day == MonthDay(2, 29) and not isleap(year):
        return date(year, 3, 1).toordinal() if first else date(year, 2, 28).toordinal()
    return date(year, month_day.month, month_day.day).toordinal()


def wraps(window: Window) -> bool:
    """Whether the window runs over the turn of the year."""
    return window.last < window.first


def in_window(window: Window, day: date) -> bool:
    """Whether the day lies in the window of its year. Both ends are inside."""
    number = day.toordinal()
    first = _ordinal(window.first, day.year, first=True)
    last = _ordinal(window.last, day.year, first=False)
    if wraps(window):
        return number >= first or number <= last
    return first <= number <= last


def southern(window: Window) -> Window:
    """The catalogue's window six months on, for a place south of the equator.

    The last day of a month stays the last of its month (29 February is one, 28 is not); any other
    day is clamped to the month it lands in. Twice is not always the window again.
    """
    return Window(_six_months_on(window.first), _six_months_on(window.last))


def _six_months_on(month_day: MonthDay) -> MonthDay:
    month = (month_day.month + 5) % 12 + 1
    end = last_of_month(month)
    if month_day.day == last_of_month(month_day.month):
        return MonthDay(month, end)
    return MonthDay(month, min(month_day.day, end))


def thirds(first: int, last: int) -> tuple[int, int, int]:
    """First day of the middle third, its last day, first day of the last third (ordinals)."""
    third = (last - first + 1) // 3
    return first + third, first + 2 * third - 1, first + 2 * third


def merged(windows: tuple[Window, ...], gap_days: int) -> tuple[Window, ...]:
    """The windows with overlaps, touches and gaps under `gap_days` closed; empty: no season.

    Raises ValueError for a month-day that does not exist.
    """
    january = date(_COMMON_YEAR, 1, 1).toordinal()
    inside = [False] * _COMMON_DAYS
    firsts: dict[int, MonthDay] = {}
    lasts: dict[int, MonthDay] = {}
    for window in windows:
        check_month_day(window.first)
        check_month_day(window.last)
        first = _ordinal(window.first, _COMMON_YEAR, first=True) - january
        last = _ordinal(window.last, _COMMON_YEAR, first=False) - january
        if not wraps(window) and last < first:
            continue  # 29 February alone: a common year has no day of it
        span = (last - first) % _COMMON_DAYS + 1
        for step in range(span):
            inside[(first + step) % _COMMON_DAYS] = True
        firsts[first] = min(window.first, firsts.get(first, window.first))
        lasts[last] = max(window.last, lasts.get(last, window.last))
    if not any(inside):
        return ()
    _close_gaps(inside, gap_days)
    if all(inside):
        return ()
    return tuple(sorted(_runs(inside, firsts, lasts), key=lambda window: window.first))


def _close_gaps(inside: list[bool], gap_days: int) -> None:
    starts = [i for i in range(_COMMON_DAYS) if not inside[i] and inside[i - 1]]
    for start in starts:
        length = 0
        while not inside[(start + length) % _COMMON_DAYS]:
            length += 1
        if length < gap_days:
            for step in range(length):
                inside[(start + step) % _COMMON_DAYS] = True


def _runs(
    inside: list[bool], firsts: dict[int, MonthDay], lasts: dict[int, MonthDay]
) -> list[Window]:
    runs: list[Window] = []
    for start in range(_COMMON_DAYS):
        if inside[start] and not inside[start - 1]:
            end = start
            while inside[(end + 1) % _COMMON_DAYS]:
                end = (end + 1) % _COMMON_DAYS
            runs.append(Window(firsts[start], lasts[end]))
    return runs


class Calendar:
    """The seasons of a set of merged windows, 1900 to 2199, by whole-number days.

    Without windows (`has_seasons` false) every day is in season. Seasons are numbered through in
    time; `number` of a season less `base` is its place in `firsts` and `lasts`.
    """

    __slots__ = ("base", "firsts", "gap_firsts", "gap_lasts", "lasts", "per_year", "windows")

    def __init__(self, windows: tuple[Window, ...]) -> None:
        self.windows = windows
        self.per_year = len(windows)
        self.base = FIRST_YEAR * max(self.per_year, 1)
        self.firsts: list[int] = []
        self.lasts: list[int] = []
        for year in range(FIRST_YEAR, LAST_YEAR + 1):
            for window in windows:
                end_year = year + 1 if wraps(window) else year
                self.firsts.append(_ordinal(window.first, year, first=True))
                self.lasts.append(_ordinal(window.last, end_year, first=False))
        # The off-season runs: one after each season, up to the day before the next.
        self.gap_firsts = [last + 1 for last in self.lasts[:-1]]
        self.gap_lasts = [first - 1 for first in self.firsts[1:]]

    @property
    def has_seasons(self) -> bool:
        """Whether there is a season at all."""
        return self.per_year > 0

    def started(self, day: int) -> int:
        """Place of the last season that has started by the day, -1 before the first."""
        return bisect_right(self.firsts, day) - 1

    def containing(self, day: int) -> int | None:
        """Place of the season the day lies in; None off season."""
        place = self.started(day)
        return place if place >= 0 and day <= self.lasts[place] else None

    def in_season(self, day: int) -> bool:
        """Whether the day is in season."""
        return not self.has_seasons or self.containing(day) is not None

    def days_in_season(self, after: int, upto: int) -> int:
        """How many of the days after `after`, up to and including `upto`, are in season."""
        if not self.has_seasons:
            return max(0, upto - after)
        total = 0
        place = max(0, self.started(after))
        while place < len(self.firsts) and self.firsts[place] <= upto:
            low = max(self.firsts[place], after + 1)
            high = min(self.lasts[place], upto)
            total += max(0, high - low + 1)
            place += 1
        return total

    def season(self, place: int) -> Season:
        """The season at that place, as a fact."""
        year = FIRST_YEAR + place // self.per_year
        part = SeasonPart.ONLY
        if self.per_year > 1:
            part = SeasonPart.FIRST if place % self.per_year == 0 else SeasonPart.SECOND
        return Season(
            number=self.base + place,
            first=date.fromordinal(self.firsts[place]),
            last=date.fromordinal(self.lasts[place]),
            year=year,
            part=part,
        )

    def month_days(self) -> tuple[Fraction, ...]:
        """Mean days in season of each month over four years with one leap day, January first."""
        counts = [0] * 12
        start, end = date(2021, 1, 1).toordinal(), date(2024, 12, 31).toordinal()
        for day in range(start, end + 1):
            if self.in_season(day):
                counts[date.fromordinal(day).month - 1] += 1
        return tuple(Fraction(count, 4) for count in counts)


@lru_cache(maxsize=512)
def calendar_of(windows: tuple[Window, ...], gap_days: int) -> Calendar:
    """The shared calendar of these windows. Raises ValueError for a day that does not exist."""
    return Calendar(merged(windows, gap_days))


def windows_of(
    catalogue: tuple[Window, ...], own: tuple[Window, ...] | None, *, south: bool
) -> tuple[Window, ...]:
    """The windows in force: the household's own as they are, else the catalogue's for the place."""
    if own is not None:
        return own
    return tuple(southern(window) for window in catalogue) if south else catalogue
