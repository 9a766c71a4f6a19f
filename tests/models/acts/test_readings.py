"""Measurements: one answer, in the range of the real, for a task that asks for it."""

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from models.acts.readings import Measure, Measured
from models.acts.work import LineGiven, RecordWork
from models.errors import Refused, RefusedCode
from models.tables.work import LimitReadingRow
from models.words import LineOutcome, Side
from schedules.facts import ItemSort
from schedules.units import Quantity, Typed, Unit
from tests.models.acts.shed import LONG, Shed

DAY = date(2025, 10, 4)


def measure(task: str, limit: str, *, day: date = DAY, **given: Any) -> Measure:
    return Measure(machine_id=1, day=day, measured=Measured(task=task, limit=limit, **given))


def test_an_amount_with_what_was_typed(shed: Shed):
    typed = Typed(stored=1588, amount=Fraction(1, 16), unit=Unit.INCH, text="1/16")
    shed.run(measure("S2-06", "L20", amount=1588, typed=typed, note="worn on one side"))
    (reading,) = shed.item(ItemSort.MACHINE).readings
    assert (reading.code, reading.limit, reading.amount) == ("S2-06", "L20", 1588)
    (row,) = shed.rows(LimitReadingRow)
    assert (row.typed_text, row.typed_amount, row.typed_unit) == ("1/16", "1/16", "in")


def test_of_two_sides_the_worse_counts(shed: Shed):
    shed.run(measure("S2-11", "L28", amount=120_000, side=Side.LEFT))
    shed.run(measure("S2-11", "L28", amount=90_000, side=Side.RIGHT))
    (reading,) = shed.item(ItemSort.MACHINE).readings
    assert reading.amount == 90_000


def test_a_thing_seen_on_the_engine(shed: Shed):
    shed.run(measure("E4-09", "L55", seen=False))
    (reading,) = shed.item(ItemSort.ENGINE).readings
    assert reading.seen is False


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (measure("S2-06", "L20"), RefusedCode.READING_NEEDS_AMOUNT),
        (measure("S2-06", "L20", seen=True), RefusedCode.READING_NEEDS_AMOUNT),
        (measure("S2-06", "L20", seen=True, amount=5), RefusedCode.READING_NEEDS_AMOUNT),
        (measure("S2-05", "L15"), RefusedCode.READING_NEEDS_SEEN),
        (measure("S2-05", "L15", amount=5), RefusedCode.READING_NEEDS_SEEN),
        (measure("S2-06", "L20", amount=-1), RefusedCode.OUT_OF_RANGE),
        (measure("S2-06", "L20", amount=10**9), RefusedCode.OUT_OF_RANGE),
        (measure("E4-19", "L07", amount=1_001), RefusedCode.OUT_OF_RANGE),
        (measure("S2-06", "L15", seen=True), RefusedCode.UNKNOWN_CODE),
        (measure("S2-06", "L99", amount=1), RefusedCode.UNKNOWN_CODE),
        (measure("X", "L20", amount=1), RefusedCode.UNKNOWN_CODE),
        (measure("S2-06", "L20", amount=1, side=Side.LEFT), RefusedCode.UNKNOWN_CODE),
        (measure("S2-06", "L20", amount=1, note=LONG), RefusedCode.TOO_LONG),
        (measure("S2-06", "L20", amount=1, day=date(2026, 1, 1)), RefusedCode.DAY_AHEAD),
        (measure("S2-06", "L20", amount=1, day=date(2019, 1, 1)), RefusedCode.DAY_TOO_EARLY),
    ],
)
def test_measurements_that_make_no_sense(standing: Shed, act: Measure, code: RefusedCode):
    standing.refuses(act, code)


def test_a_likely_slip_is_asked_about_before_it_is_kept(shed: Shed):
    first, then = date(2024, 1, 10), date(2024, 3, 10)
    shed.run(measure("S2-06", "L20", amount=4000, day=first))
    cases = (
        (4000, first, RefusedCode.READING_TWICE),
        (157, then, RefusedCode.READING_OF_INCHES),
        (101_600, then, RefusedCode.READING_OF_INCHES),
        (400, then, RefusedCode.READING_TEN_TIMES),
        (5500, then, RefusedCode.READING_WRONG_WAY),
    )
    for amount, day, code in cases:
        shed.refuses(measure("S2-06", "L20", amount=amount, day=day), code, limit="L20", day=first)
    shed.run(measure("S2-06", "L20", amount=3600, day=then))
    shed.run(measure("S2-06", "L20", amount=5500, day=then, sure=True))


@pytest.mark.parametrize(
    ("task", "limit", "amount"),
    [("S2-10", "L13", 152_400), ("S2-06", "L20", 101_600)],
)
def test_a_first_reading_far_from_its_figure_is_asked_about(
    shed: Shed, task: str, limit: str, amount: int
):
    shed.refuses(measure(task, limit, amount=amount), RefusedCode.READING_FAR, limit=limit)
    shed.run(measure(task, limit, amount=amount, sure=True))


def test_a_gap_does_not_close_by_itself(shed: Shed):
    """No error of a reading is known of it: a ruler's is taken, 0.3 mm, and three times that."""
    first, then = date(2024, 1, 10), date(2024, 3, 10)
    shed.run(measure("S2-10", "L13", amount=4800, day=first))
    closed = measure("S2-10", "L13", amount=3800, day=then)
    shed.refuses(closed, RefusedCode.READING_WRONG_WAY, limit="L13", day=first)
    shed.run(measure("S2-10", "L13", amount=4000, day=then))
    shed.run(measure("S2-10", "L13", amount=1500, day=then, after_work=True))
    far = measure("S2-10", "L13", amount=152_000, day=date(2024, 5, 10))
    shed.refuses(far, RefusedCode.READING_FAR, limit="L13")


def test_what_is_entered_late_has_to_fit_what_was_found_after_it(shed: Shed):
    first, between, last = date(2024, 1, 10), date(2024, 2, 10), date(2024, 3, 10)
    shed.run(measure("S2-06", "L20", amount=4000, day=last))
    slipped = measure("S2-06", "L20", amount=400, day=first)
    shed.refuses(slipped, RefusedCode.READING_TEN_TIMES, limit="L20", day=last)
    shed.run(measure("S2-06", "L20", amount=4800, day=first))
    worn = measure("S2-06", "L20", amount=2000, day=between)
    shed.refuses(worn, RefusedCode.READING_WORN_BEFORE, limit="L20", day=last)
    line = LineGiven(task="S2-06", outcome=LineOutcome.REPLACED)
    shed.run(RecordWork(machine_id=1, day=date(2024, 2, 20), lines=(line,)))
    shed.run(worn)


def test_beyond_sense_is_said_in_its_own_unit(shed: Shed):
    with pytest.raises(Refused) as refused:
        shed.run(measure("S2-06", "L20", amount=10**9))
    assert dict(refused.value.values)["high"] == Quantity(Fraction(10**8), Unit.MICROMETRE)


def test_a_part_that_was_renewed_may_be_thicker(shed: Shed):
    first, then = date(2024, 1, 10), date(2024, 3, 10)
    shed.run(measure("S2-06", "L20", amount=2000, day=first))
    line = LineGiven(task="S2-06", outcome=LineOutcome.REPLACED)
    shed.run(RecordWork(machine_id=1, day=then, lines=(line,)))
    shed.run(measure("S2-06", "L20", amount=4000, day=then, after_work=True))
    shed.run(measure("S2-06", "L20", amount=4000, day=date(2024, 4, 10)))
    grown = measure("S2-06", "L20", amount=5500, day=date(2024, 5, 10))
    shed.refuses(grown, RefusedCode.READING_WRONG_WAY, limit="L20", day=date(2024, 4, 10))


def test_a_volt_is_never_an_inch(shed: Shed):
    shed.run(measure("S2-11", "L28", amount=120_000, day=date(2024, 1, 10)))
    shed.run(measure("S2-11", "L28", amount=4_724, day=date(2024, 2, 10)))


def test_a_part_does_not_come_back_by_small_steps(shed: Shed):
    """Each step lies within the error of a reading; together they would be a thicker part."""
    shed.run(measure("S2-06", "L20", amount=4000, day=date(2024, 1, 10)))
    refused = None
    for month, amount in ((2, 4250), (3, 4500), (4, 4750), (5, 5000), (6, 5250), (7, 5500)):
        act = measure("S2-06", "L20", amount=amount, day=date(2024, month, 10))
        try:
            shed.run(act)
        except Refused as answer:
            refused = answer
            break
    assert refused is not None
    assert refused.code is RefusedCode.READING_WRONG_WAY
    assert dict(refused.values)["day"] == date(2024, 1, 10)
