"""Measurements of one part become a day to plan by, inside the due engine. Worked by hand.

Use is even: 365.25 h a year over twelve months of 1/12, always in season, so that the hours of a
day are 365.25/12 over the days of its month. The readings give the hours themselves.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from schedules.facts import (
    Direction,
    Doing,
    GovernedBy,
    HoursFacts,
    HoursReading,
    ItemFacts,
    ItemId,
    ItemSort,
    KindCode,
    KindFacts,
    LimitCode,
    LimitFacts,
    LimitReading,
    MachineFacts,
    MachineId,
    Past,
    Policy,
    Rule,
    TaskCode,
    TaskFacts,
    TaskSort,
    TaskVerdict,
    WearAxis,
    WearRate,
)
from schedules.plan import judge_machine
from schedules.series import series_of
from schedules.units import Unit
from schedules.wear import NoForecast, outlook

HOUR = 3600
CAME = date(2024, 1, 1)
PADDLE = LimitFacts(
    code=LimitCode("L1"),
    name="rubber left",
    how="ruler",
    direction=Direction.AT_LEAST,
    unit=Unit.MICROMETRE,
    low=17_000,
    wears=WearAxis.HOURS,
)
# 20.0 mm new; five readings whose line comes to 17.0 mm at 43.18 h, at 41.03 h at the earliest.
SERIES = ((0, 20_000), (5, 19_600), (12, 19_200), (18, 18_700), (26, 18_200))


def day_at(hours: int) -> date:
    return CAME + timedelta(days=10 * hours)


def reading(hours: int, amount: int, *, after: bool = False) -> LimitReading:
    return LimitReading(
        code=TaskCode("T"),
        limit=LimitCode("L1"),
        day=day_at(hours),
        amount=amount,
        after_work=after,
    )


TASK = TaskFacts(
    code=TaskCode("T"),
    name="T",
    how="",
    sort=TaskSort.CONDITION,
    rule=Rule(limits=(LimitCode("L1"),)),
    look_minutes=5,
    do_minutes=30,
)


def machine(*readings: LimitReading, doings: tuple[Doing, ...] = ()) -> MachineFacts:
    item = ItemFacts(
        item_id=ItemId(1),
        sort=ItemSort.MACHINE,
        came_on=CAME,
        past=Past.NEW,
        hours=HoursFacts(
            at_start=0,
            readings=tuple(
                HoursReading(day=one.day, seconds=(one.day - CAME).days * HOUR // 10)
                for one in readings
            ),
            year_seconds=365 * HOUR + HOUR // 4,
            month_shares=(Fraction(1, 12),) * 12,
        ),
        tasks=(TASK,),
        doings=doings,
        readings=readings,
    )
    kind = KindFacts(
        code=KindCode("K00"),
        name="",
        windows=(),
        year_seconds=HOUR,
        use_seconds=HOUR,
        use_word="",
        shape="",
        tasks=(TASK,),
        fuel="",
        icon="",
    )
    return MachineFacts(
        machine_id=MachineId(1),
        name="the red one",
        kind=kind,
        place="",
        south=False,
        came_on=CAME,
        past=Past.NEW,
        items=(item,),
    )


def verdict(facts: MachineFacts, on: date, limit: LimitFacts = PADDLE) -> TaskVerdict:
    said = judge_machine(facts, on=on, policy=Policy(), limits={limit.code: limit})
    return said.tasks[0]


def test_five_readings_set_the_day_to_plan_by() -> None:
    """The fifth was taken on 17 September at 26 h. 15.03 h more at 1.0147 h a day in September
    (13 days to its end: 13.19 h) and .9819 in October: 1.84 h, the second day: 2 October."""
    found = verdict(machine(*(reading(*one) for one in SERIES)), date(2024, 9, 18))
    assert (found.due, found.governed_by) == (date(2024, 10, 2), GovernedBy.READING)


def test_readings_of_one_day_carry_no_day() -> None:
    found = verdict(machine(*(reading(*one) for one in SERIES[:1])), date(2024, 9, 18))
    assert found.due is None


def test_a_new_part_starts_a_new_series() -> None:
    """Renewed on the day of the fifth reading: one reading of the new part carries nothing."""
    renewed = Doing(code=TaskCode("T"), day=day_at(26), replaced=True)
    readings = [reading(*one) for one in SERIES]
    fresh = reading(26, 20_000, after=True)
    found = verdict(machine(*readings, fresh, doings=(renewed,)), date(2024, 9, 18))
    assert found.due is None


def test_a_part_that_is_as_good_as_new_after_work_starts_a_new_series() -> None:
    """Turned round, not renewed: less worn than before by more than readings differ. By hand:
    20.0 mm at 26 h, 19.6, 19.2 at 31, 36 h: 0.08 mm an hour, 17.0 at 63.5 h exactly, 27.5 h on at
    an hour a day."""
    old = [reading(*one) for one in SERIES]
    turned = reading(26, 20_000, after=True)
    later = (reading(31, 19_600), reading(36, 19_200))
    found = verdict(machine(*old, turned, *later), date(2025, 1, 5))
    assert found.due is not None
    assert (found.due - day_at(36)).days == pytest.approx(27.5, abs=1.5)
    noise = reading(26, 18_900, after=True)
    assert len(series_of((*old, noise), TASK, PADDLE, ())) == 5
    assert len(series_of((*old, turned, *later), TASK, PADDLE, ())) == 3


def test_what_was_worn_when_it_was_first_measured_has_no_day_to_come() -> None:
    known = WearRate(rate=Fraction(60), deviation=Fraction(10), reading_error=Fraction(100))
    for amount in (17_000, 16_000):
        found = outlook(
            [(Fraction(5), Fraction(amount))], limit=replace(PADDLE, wear=known), known=known
        )
        assert found.no_forecast is NoForecast.WORN


def test_one_reading_and_a_known_rate() -> None:
    """20.0 mm at 26 h; 3 mm at 60 ± 10 um an hour: the 5 % that wear fastest lose 76.45 um an
    hour and come to it 39.24 h on, 40 days at about one an hour a day."""
    known = WearRate(rate=Fraction(60), deviation=Fraction(10), reading_error=Fraction(100))
    limit = replace(PADDLE, wear=known)
    found = verdict(machine(reading(26, 20_000)), date(2024, 9, 18), limit)
    assert found.due is not None
    assert 38 <= (found.due - day_at(26)).days <= 41


def test_what_time_ages_is_foreseen_in_days() -> None:
    """Ten a hundred days from 1,000; the limit, 900, on day 1,000."""
    limit = replace(PADDLE, low=900, wears=WearAxis.DAYS)
    ages = [(0, 1000), (10, 990), (20, 980), (30, 970)]
    found = verdict(machine(*(reading(*one) for one in ages)), date(2024, 11, 1), limit)
    assert found.due == CAME + timedelta(days=1000)


def test_a_measurement_that_does_not_wear_foresees_nothing() -> None:
    limit = replace(PADDLE, wears=None)
    found = verdict(machine(*(reading(*one) for one in SERIES)), date(2024, 9, 18), limit)
    assert found.due is None
