"""Season windows, hemispheres and meters against values worked out apart from the program.

Sources: the definition of meteorological seasons by NOAA's National Centers for Environmental
Information (winter is December to February north, June to August south); 49 USC 32704 as the
model for a replaced meter (the reading before and the day are kept).
"""

from __future__ import annotations

from datetime import date

import pytest

from schedules.facts import MonthDay, Window
from schedules.meters import MeterSegment, looks_rolled_over, meter_total
from schedules.seasons import Calendar, in_window, southern
from schedules.units import Dimension, UnitSystem, parse_amount

SNOW = Window(MonthDay(11, 1), MonthDay(3, 31))
WINTER = Window(MonthDay(12, 1), MonthDay(2, 29))


def window(first: tuple[int, int], last: tuple[int, int]) -> Window:
    return Window(MonthDay(*first), MonthDay(*last))


@pytest.mark.parametrize(
    ("day", "inside"),
    [
        (date(2025, 10, 31), False),
        (date(2025, 11, 1), True),
        (date(2025, 12, 31), True),
        (date(2026, 1, 1), True),
        (date(2026, 3, 31), True),
        (date(2026, 4, 1), False),
        (date(2028, 2, 29), True),
    ],
)
def test_methods_5_3_a_window_over_the_turn_of_the_year(day: date, inside: bool) -> None:
    assert in_window(SNOW, day) is inside


@pytest.mark.parametrize(
    ("day", "year", "length"),
    [
        (date(2025, 12, 31), 2025, 151),
        (date(2026, 1, 1), 2025, 151),
        (date(2026, 11, 1), 2026, 151),
        (date(2028, 1, 1), 2027, 152),
    ],
)
def test_methods_5_3_a_season_is_named_for_the_year_it_starts_in(
    day: date, year: int, length: int
) -> None:
    calendar = Calendar((SNOW,))
    place = calendar.containing(day.toordinal())
    assert place is not None
    season = calendar.season(place)
    assert season.year == year
    assert (season.last - season.first).days + 1 == length


@pytest.mark.parametrize(
    ("north", "south"),
    [
        (SNOW, window((5, 1), (9, 30))),
        (window((11, 15), (4, 30)), window((5, 15), (10, 31))),
        (window((4, 1), (10, 31)), window((10, 1), (4, 30))),
        (window((8, 31), (2, 28)), window((2, 29), (8, 28))),
    ],
)
def test_methods_5_3_the_south_is_six_months_on(north: Window, south: Window) -> None:
    assert southern(north) == south


def test_methods_5_3_winter_is_june_to_august_in_the_south() -> None:
    assert southern(WINTER) == window((6, 1), (8, 31))


def seconds(hours: str) -> int:
    typed = parse_amount(hours, Dimension.TIME, system=UnitSystem.METRIC, decimal_comma=False)
    return typed.stored


def test_methods_5_3_a_meter_that_rolled_over() -> None:
    rolled = MeterSegment(
        start=seconds("9998.5"), end=seconds("3.2"), rollovers=1, modulus=seconds("10000")
    )
    assert meter_total([rolled]) == seconds("4.7")
    assert looks_rolled_over(seconds("9998.5"), seconds("3.2"), seconds("10000"))
    assert not looks_rolled_over(seconds("412.6"), 0, seconds("10000"))


def test_methods_5_3_a_meter_that_was_replaced() -> None:
    old = MeterSegment(start=0, end=seconds("412.6"))
    new = MeterSegment(start=0, end=seconds("37.4"))
    assert meter_total([old, new]) == seconds("450")


def test_methods_5_3_a_lower_reading_is_never_taken_silently() -> None:
    with pytest.raises(ValueError):
        meter_total([MeterSegment(start=seconds("412.6"), end=seconds("37.4"))])
