"""Month arithmetic and recurrence against what others publish.

Sources: the documented behaviour of python-dateutil's relativedelta (clamps to the month's end);
the Gregorian leap-year rule; RFC 5545 section 3.8.5.3, whose examples are printed with their dates.
"""

from __future__ import annotations

from calendar import isleap
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import islice

import pytest
from dateutil.relativedelta import relativedelta
from dateutil.rrule import rrulestr

from schedules.months import add_months


@pytest.mark.parametrize(
    ("anchor", "months", "expected"),
    [
        (date(2023, 1, 31), 1, date(2023, 2, 28)),
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2024, 8, 31), 6, date(2025, 2, 28)),
        (date(2024, 3, 31), -1, date(2024, 2, 29)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2096, 2, 29), 48, date(2100, 2, 28)),
        (date(2024, 1, 31), 2, date(2024, 3, 31)),
        # printed in the documentation of two other date libraries that clamp
        (date(2007, 3, 31), 1, date(2007, 4, 30)),
        (date(2011, 1, 30), 1, date(2011, 2, 28)),
    ],
)
def test_methods_5_1_months_clamp(anchor: date, months: int, expected: date) -> None:
    assert add_months(anchor, months) == expected
    assert anchor + relativedelta(months=months) == expected


def test_methods_5_1_twelve_steps_from_one_anchor_do_not_drift() -> None:
    steps = [add_months(date(2023, 1, 31), k) for k in range(13)]
    assert [f"{step:%m-%d}" for step in steps] == [
        *("01-31", "02-28", "03-31", "04-30", "05-31", "06-30", "07-31"),
        *("08-31", "09-30", "10-31", "11-30", "12-31", "01-31"),
    ]
    # stepping from the last result does
    assert add_months(add_months(date(2024, 1, 31), 1), 1) == date(2024, 3, 29)


def test_methods_5_1_every_day_of_eight_years_as_the_oracle_has_it() -> None:
    day = date(2096, 1, 1)  # across 2100, which is no leap year
    while day.year < 2104:
        for months in (-13, -1, 1, 2, 6, 11, 12, 24, 36):
            assert add_months(day, months) == day + relativedelta(months=months)
        day += timedelta(days=1)


@pytest.mark.parametrize(
    ("year", "leap"),
    [(1900, False), (2000, True), (2023, False), (2024, True), (2100, False), (2400, True)],
)
def test_methods_5_1_leap_years(year: int, leap: bool) -> None:
    assert isleap(year) is leap
    last = date(year, 2, 29 if leap else 28)
    assert add_months(date(year, 1, 31), 1) == last


RFC_5545 = [
    (
        date(1997, 9, 2),
        "DAILY;INTERVAL=10;COUNT=5",
        "1997: 9-2 9-12 9-22 10-2 10-12",
    ),
    (
        date(1997, 9, 2),
        "WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
        "1997: 9-2 9-4 9-16 9-18 9-30 10-2 10-14 10-16",
    ),
    (
        date(1997, 9, 7),
        "MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU",
        "1997: 9-7 9-28 11-2 11-30 1998: 1-4 1-25 3-1 3-29 5-3 5-31",
    ),
    (
        date(1997, 9, 22),
        "MONTHLY;COUNT=6;BYDAY=-2MO",
        "1997: 9-22 10-20 11-17 12-22 1998: 1-19 2-16",
    ),
    (
        date(1997, 9, 28),
        "MONTHLY;BYMONTHDAY=-3",
        "1997: 9-28 10-29 11-28 12-29 1998: 1-29 2-26",
    ),
    (
        date(1997, 9, 2),
        "MONTHLY;COUNT=10;BYMONTHDAY=2,15",
        "1997: 9-2 9-15 10-2 10-15 11-2 11-15 12-2 12-15 1998: 1-2 1-15",
    ),
    (
        date(1997, 9, 30),
        "MONTHLY;COUNT=10;BYMONTHDAY=1,-1",
        "1997: 9-30 10-1 10-31 11-1 11-30 12-1 12-31 1998: 1-1 1-31 2-1",
    ),
    (
        date(1997, 6, 10),
        "YEARLY;COUNT=10;BYMONTH=6,7",
        "1997: 6-10 7-10 1998: 6-10 7-10 1999: 6-10 7-10 2000: 6-10 7-10 2001: 6-10 7-10",
    ),
    (
        date(1997, 3, 10),
        "YEARLY;INTERVAL=2;COUNT=10;BYMONTH=1,2,3",
        "1997: 3-10 1999: 1-10 2-10 3-10 2001: 1-10 2-10 3-10 2003: 1-10 2-10 3-10",
    ),
    (
        date(1997, 1, 1),
        "YEARLY;INTERVAL=3;COUNT=10;BYYEARDAY=1,100,200",
        "1997: 1-1 4-10 7-19 2000: 1-1 4-9 7-18 2003: 1-1 4-10 7-19 2006: 1-1",
    ),
    (
        date(1997, 9, 13),
        "MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13",
        "1997: 9-13 10-11 11-8 12-13 1998: 1-10 2-7 3-7 4-11 5-9 6-13",
    ),
    (
        date(2007, 1, 15),
        "MONTHLY;BYMONTHDAY=15,30;COUNT=5",
        "2007: 1-15 1-30 2-15 3-15 3-30",
    ),
]


def printed(dates: str) -> Iterator[date]:
    year = 0
    for word in dates.split():
        if word.endswith(":"):
            year = int(word[:-1])
        else:
            month, day = word.split("-")
            yield date(year, int(month), int(day))


@pytest.mark.parametrize(("start", "rule", "dates"), RFC_5545)
def test_methods_5_2_rfc_5545_examples(start: date, rule: str, dates: str) -> None:
    expected = list(printed(dates))
    moments = rrulestr(f"FREQ={rule}", dtstart=datetime(start.year, start.month, start.day, 9))
    assert [moment.date() for moment in islice(moments, len(expected))] == expected


def test_methods_5_2_months_and_years_counted_from_the_anchor_are_the_rfcs() -> None:
    """Where no month is too short, anchor + k months is what a MONTHLY or YEARLY rule yields."""
    anchor = date(1997, 6, 10)
    ours = sorted(add_months(anchor, 12 * year + month) for year in range(5) for month in (0, 1))
    assert ours == list(printed(RFC_5545[7][2]))
    # the last day of each month: an anchor on the 31st clamps where BYMONTHDAY=-1 counts back
    ends = [add_months(date(1997, 8, 31), k) for k in range(1, 6)]
    firsts_and_ends = list(printed(RFC_5545[6][2]))
    assert ends == [day for day in firsts_and_ends if day.day != 1]


def test_methods_5_2_a_rule_skips_where_months_clamp() -> None:
    """Why a calendar file must never be given MONTHLY for a day after the 28th."""
    start = datetime(2024, 1, 31)
    skipping = [moment.date() for moment in islice(rrulestr("FREQ=MONTHLY", dtstart=start), 5)]
    assert skipping == list(printed("2024: 1-31 3-31 5-31 7-31 8-31"))
    rule = "FREQ=MONTHLY;BYMONTHDAY=28,29,30,31;BYSETPOS=-1"
    clamping = [moment.date() for moment in islice(rrulestr(rule, dtstart=start), 24)]
    assert clamping == [add_months(start.date(), k) for k in range(24)]
    leap = [m.date() for m in islice(rrulestr("FREQ=YEARLY", dtstart=datetime(2024, 2, 29)), 3)]
    assert [day.year for day in leap] == [2024, 2028, 2032]
    assert add_months(date(2024, 2, 29), 12) == date(2025, 2, 28)
