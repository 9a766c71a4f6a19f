"""The calendar of the twin: months, windows, in season or not, seasons as runs of days."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from schedules.facts import MonthDay, Window

ONE = timedelta(days=1)
LONGEST = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
# One leap year among four.
FOUR_YEARS = (2021, 2022, 2023, 2024)
COMMON = 2023


def each_day(first: date, last: date) -> Iterator[date]:
    day = first
    while day <= last:
        yield day
        day += ONE


def is_leap(year: int) -> bool:
    return (year % 4 == 0 and year % 100 != 0) or year % 400 == 0


def month_length(year: int, month: int) -> int:
    return 28 if month == 2 and not is_leap(year) else LONGEST[month - 1]


def mean_month_length(month: int) -> Fraction:
    return Fraction(113, 4) if month == 2 else Fraction(LONGEST[month - 1])


def add_months(day: date, months: int) -> date:
    """Months on, clamped to the length of the month arrived in."""
    count = day.year * 12 + day.month - 1 + months
    year, month = count // 12, count % 12 + 1
    return date(year, month, min(day.day, month_length(year, month)))


def half_a_year_on(of_day: MonthDay) -> MonthDay:
    month = (of_day.month + 5) % 12 + 1
    longest = LONGEST[month - 1]
    was_last = of_day.day == LONGEST[of_day.month - 1]
    return MonthDay(month, longest if was_last else min(of_day.day, longest))


def move_south(window: Window) -> Window:
    return Window(half_a_year_on(window.first), half_a_year_on(window.last))


def place_first(of_day: MonthDay, year: int) -> date:
    if of_day == MonthDay(2, 29) and not is_leap(year):
        return date(year, 3, 1)
    return date(year, of_day.month, of_day.day)


def place_last(of_day: MonthDay, year: int) -> date:
    return date(year, of_day.month, min(of_day.day, month_length(year, of_day.month)))


def in_window(window: Window, day: date) -> bool:
    first = place_first(window.first, day.year)
    last = place_last(window.last, day.year)
    if window.last < window.first:
        return day >= first or day <= last
    return first <= day <= last


def has_a_day(window: Window) -> bool:
    return any(in_window(window, day) for day in each_day(date(COMMON, 1, 1), date(COMMON, 12, 31)))


def fill_gaps(year: list[bool], gap_days: int) -> list[bool]:
    """Runs of days left out, shorter than the gap, are filled; also round the turn of the year."""
    filled = list(year)
    for start in range(len(year)):
        if year[start] or not year[start - 1]:
            continue
        length = 0
        while not year[(start + length) % len(year)]:
            length += 1
        if length < gap_days:
            for step in range(length):
                filled[(start + step) % len(year)] = True
    return filled


@dataclass(frozen=True)
class Run:
    """One season: its days."""

    first: date
    last: date

    @property
    def third(self) -> int:
        return ((self.last - self.first).days + 1) // 3

    @property
    def length(self) -> int:
        return (self.last - self.first).days + 1

    @property
    def middle_first(self) -> date:
        return self.first + timedelta(days=self.third)

    @property
    def middle_last(self) -> date:
        return self.first + timedelta(days=2 * self.third - 1)

    @property
    def last_third_first(self) -> date:
        return self.first + timedelta(days=2 * self.third)


@dataclass
class YearPattern:
    """Which days of every year are in season. `common` is None where there is no season."""

    windows: tuple[Window, ...]
    common: dict[tuple[int, int], bool] | None
    seen: dict[date, bool] = field(default_factory=dict)

    @property
    def has_season(self) -> bool:
        return self.common is not None

    def in_season(self, day: date) -> bool:
        if self.common is None:
            return True
        if day not in self.seen:
            self.seen[day] = self._look(self.common, day)
        return self.seen[day]

    def _look(self, common: dict[tuple[int, int], bool], day: date) -> bool:
        if (day.month, day.day) != (2, 29):
            return common[day.month, day.day]
        within = any(in_window(window, day) for window in self.windows)
        return within or (common[2, 28] and common[3, 1])


def year_pattern(windows: tuple[Window, ...], gap_days: int) -> YearPattern:
    kept = tuple(window for window in windows if has_a_day(window))
    days = list(each_day(date(COMMON, 1, 1), date(COMMON, 12, 31)))
    year = [any(in_window(window, day) for window in kept) for day in days]
    if not any(year):
        return YearPattern(kept, None)
    filled = fill_gaps(year, gap_days)
    if all(filled):
        return YearPattern(kept, None)
    return YearPattern(kept, {(d.month, d.day): x for d, x in zip(days, filled, strict=True)})


def seasons_between(pattern: YearPattern, first: date, last: date) -> list[Run]:
    """The whole seasons that lie between two days, none cut off."""
    runs: list[Run] = []
    start: date | None = None
    for day in each_day(first, last):
        if not pattern.in_season(day):
            if start is not None:
                runs.append(Run(start, day - ONE))
            start = None
        elif start is None and day > first and not pattern.in_season(day - ONE):
            start = day
    return runs


def mean_days_of_month(pattern: YearPattern, month: int) -> Fraction:
    days = 0
    for year in FOUR_YEARS:
        for day in range(1, month_length(year, month) + 1):
            days += pattern.in_season(date(year, month, day))
    return Fraction(days, 4)


def mean_days_of_year(pattern: YearPattern) -> Fraction:
    return sum((mean_days_of_month(pattern, month) for month in range(1, 13)), Fraction(0))
