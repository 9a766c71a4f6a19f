"""Hour meters: what can be true of them, and totals that were accepted."""

from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest

from models.acts.hours import AcceptHours, Lower, ReadHours, ReplaceMeter, SetMeter
from models.errors import RefusedCode
from models.tables.hours import HoursReadingRow, InferredPointRow, MeterRow
from models.words import InferredFrom
from schedules.facts import ItemSort, Past
from schedules.units import Typed, Unit, hours
from tests.models.acts.shed import CAME, LONG, Shed

HOUR = 3600
THEN = date(2024, 3, 1)


def read(day: date, shown_hours: int, **given: Any) -> ReadHours:
    return ReadHours(machine_id=1, day=day, shown_seconds=shown_hours * HOUR, **given)


def totals(shed: Shed) -> list[tuple[date, int]]:
    readings = shed.item(ItemSort.MACHINE).hours.readings
    return [(reading.day, reading.seconds // HOUR) for reading in readings]


def used(bare: Shed) -> Shed:
    """A machine with a past: nobody knows how long it ran before it came."""
    bare.add_place()
    bare.add_machine(past=Past.UNKNOWN)
    return bare


def test_the_first_reading_of_a_new_machine_counts_from_the_day_it_came(shed: Shed):
    shed.run(read(THEN, 40))
    assert totals(shed) == [(THEN, 40)]
    (meter,) = shed.rows(MeterRow)
    assert (meter.from_on, meter.start_seconds) == (CAME, 0)


def test_typed_words_are_kept_beside_the_seconds(shed: Shed):
    typed = Typed(stored=5400, amount=Fraction(3, 2), unit=Unit.HOUR, text="1 1/2 h")
    shed.run(ReadHours(machine_id=1, day=THEN, shown_seconds=5400, typed=typed, note="dirty"))
    (row,) = shed.rows(HoursReadingRow)
    assert (row.typed_text, row.typed_amount, row.typed_unit) == ("1 1/2 h", "3/2", "h")
    with pytest.raises(ValueError, match="typed"):
        shed.household.need_writer().run(
            ReadHours(machine_id=1, day=THEN, shown_seconds=5401, typed=typed), moment=shed.moment
        )


def test_a_used_machine_shows_its_total_whatever_the_order_of_entry(bare: Shed):
    shed = used(bare)
    for day, shown in ((THEN, 400), (THEN + timedelta(60), 410), (date(2021, 1, 1), 350)):
        shed.run(read(day, shown))
    assert totals(shed) == [(date(2021, 1, 1), 350), (THEN, 400), (THEN + timedelta(60), 410)]


@pytest.mark.parametrize(
    ("shown", "day", "code", "values"),
    [
        (39, THEN + timedelta(9), RefusedCode.LOWER_THAN_BEFORE, {"before": hours(40 * HOUR)}),
        (51, THEN + timedelta(9), RefusedCode.HIGHER_THAN_AFTER, {"after": hours(50 * HOUR)}),
        (41, THEN - timedelta(1), RefusedCode.HIGHER_THAN_AFTER, {"day": THEN}),
        (49, THEN + timedelta(21), RefusedCode.LOWER_THAN_BEFORE, {}),
        (98_000, THEN + timedelta(21), RefusedCode.MORE_THAN_THE_DAYS, {"most": hours(172_800)}),
        (10**9, THEN + timedelta(21), RefusedCode.OUT_OF_RANGE, {}),
        (-1, THEN, RefusedCode.OUT_OF_RANGE, {}),
        (45, CAME - timedelta(1), RefusedCode.DAY_TOO_EARLY, {"first": CAME}),
        (45, date(2025, 11, 26), RefusedCode.DAY_AHEAD, {}),
    ],
)
def test_a_reading_lies_between_its_neighbours(
    shed: Shed, shown: int, day: date, code: RefusedCode, values: dict[str, object]
):
    shed.run(read(THEN, 40))
    shed.run(read(THEN + timedelta(20), 50))
    shed.refuses(read(day, shown), code, **values)
    shed.run(read(THEN + timedelta(9), 45))


def test_the_same_reading_twice_is_fine(shed: Shed):
    shed.run(read(THEN, 40))
    shed.run(read(THEN, 40))
    assert totals(shed) == [(THEN, 40), (THEN, 40)]


def test_before_it_came_new_nothing_was_shown(shed: Shed):
    shed.refuses(read(THEN, 2**30), RefusedCode.OUT_OF_RANGE)
    shed.refuses(read(CAME, 49), RefusedCode.MORE_THAN_THE_DAYS, since=CAME)
    shed.refuses(read(THEN, 40, note=LONG), RefusedCode.TOO_LONG)
    assert shed.rows(MeterRow) == []


def test_a_meter_that_rolled_over(bare: Shed):
    shed = used(bare)
    shed.run(read(THEN, 995))
    late = THEN + timedelta(30)
    shed.refuses(read(late, 5), RefusedCode.LOWER_THAN_BEFORE)
    shed.run(read(late, 5, lower=Lower.ROLLED_OVER))
    shed.run(read(late + timedelta(1), 7))
    assert totals(shed) == [(THEN, 995), (late, 1005), (late + timedelta(1), 1007)]
    assert shed.rows(MeterRow)[0].modulus_seconds == 1000 * HOUR


def test_where_it_turns_over_can_be_said(bare: Shed):
    shed = used(bare)
    shed.run(read(THEN, 95))
    late = THEN + timedelta(300)
    shed.refuses(
        read(late, 5, lower=Lower.ROLLED_OVER, modulus_seconds=90 * HOUR),
        RefusedCode.OUT_OF_RANGE,
    )
    shed.run(read(late, 5, lower=Lower.ROLLED_OVER, modulus_seconds=1000 * HOUR))
    assert totals(shed)[-1] == (late, 1005)
    shed.refuses(SetMeter(machine_id=1, day=late, modulus_seconds=None), RefusedCode.NOTHING_GIVEN)
    shed.refuses(
        SetMeter(machine_id=1, day=late, modulus_seconds=95 * HOUR), RefusedCode.OUT_OF_RANGE
    )
    shed.run(SetMeter(machine_id=1, day=late, modulus_seconds=10_000 * HOUR))


def test_a_rollover_takes_no_more_time_than_there_was(bare: Shed):
    shed = used(bare)
    shed.run(read(THEN, 900))
    shed.refuses(
        read(THEN + timedelta(1), 5, lower=Lower.ROLLED_OVER), RefusedCode.MORE_THAN_THE_DAYS
    )


def test_a_meter_that_was_replaced_goes_on_from_the_old_ones_total(shed: Shed):
    shed.run(read(THEN, 40))
    late = THEN + timedelta(30)
    shed.run(read(late, 3, lower=Lower.REPLACED))
    assert totals(shed)[-1] == (late, 43)
    shed.run(read(late + timedelta(1), 4))
    assert totals(shed)[-1] == (late + timedelta(1), 44)
    shed.run(read(date(2022, 1, 1), 12))
    assert totals(shed)[0] == (date(2022, 1, 1), 12)


def test_why_it_is_lower_counts_only_for_the_latest(shed: Shed):
    shed.run(read(THEN, 40))
    shed.run(read(THEN + timedelta(20), 50))
    for lower in Lower:
        shed.refuses(read(THEN + timedelta(9), 5, lower=lower), RefusedCode.LOWER_THAN_BEFORE)


def test_replacing_a_meter_on_a_day_both_were_read(shed: Shed):
    shed.refuses(
        ReplaceMeter(machine_id=1, day=THEN, old_shown_seconds=0),
        RefusedCode.NO_METER,
        name="Red one",
    )
    shed.run(read(THEN, 40))
    day = THEN + timedelta(30)
    change = ReplaceMeter(
        machine_id=1, day=day, old_shown_seconds=45 * HOUR, new_shown_seconds=2 * HOUR
    )
    shed.run(change)
    shed.run(read(day + timedelta(5), 6))
    assert totals(shed)[-2:] == [(day, 45), (day + timedelta(5), 49)]
    shed.refuses(
        ReplaceMeter(machine_id=1, day=THEN, old_shown_seconds=45 * HOUR),
        RefusedCode.DAY_TOO_EARLY,
    )


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"old_shown_seconds": 39 * HOUR}, RefusedCode.LOWER_THAN_BEFORE),
        ({"old_shown_seconds": 4000 * HOUR}, RefusedCode.MORE_THAN_THE_DAYS),
        ({"new_shown_seconds": -1}, RefusedCode.OUT_OF_RANGE),
        ({"rollovers": 2}, RefusedCode.OUT_OF_RANGE),
        ({"modulus_seconds": 0}, RefusedCode.OUT_OF_RANGE),
        ({"day": THEN - timedelta(1)}, RefusedCode.DAY_TOO_EARLY),
        ({"machine_id": 7}, RefusedCode.NOT_THERE),
    ],
)
def test_replacings_that_make_no_sense(shed: Shed, given: dict[str, Any], code: RefusedCode):
    shed.run(read(THEN, 40))
    wanted = {
        "machine_id": 1,
        "day": THEN + timedelta(30),
        "old_shown_seconds": 45 * HOUR,
        **given,
    }
    shed.refuses(ReplaceMeter(**wanted), code)


def accept(total_hours: int, day: date = THEN, **given: Any) -> AcceptHours:
    wanted = {"inferred_from": InferredFrom.FUEL, "spread_seconds": HOUR, **given}
    return AcceptHours(machine_id=1, day=day, total_seconds=total_hours * HOUR, **wanted)


def test_an_accepted_total_holds_for_machine_and_engine(shed: Shed):
    shed.run(accept(30))
    for item in shed.machine().items:
        (point,) = item.hours.inferred
        assert (point.day, point.seconds, point.accepted_on) == (THEN, 30 * HOUR, shed.today)
    assert len(shed.rows(InferredPointRow)) == 2


def test_another_machines_meter_says_nothing_of_this_one(shed: Shed):
    shed.add_machine(name="Blue one")
    shed.run(ReadHours(machine_id=2, day=date(2022, 1, 1), shown_seconds=500 * HOUR))
    shed.run(accept(30))


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (accept(19), RefusedCode.LOWER_THAN_BEFORE),
        (accept(21, date(2022, 1, 1)), RefusedCode.HIGHER_THAN_AFTER),
        (accept(-1), RefusedCode.OUT_OF_RANGE),
        (accept(25, spread_seconds=-1), RefusedCode.OUT_OF_RANGE),
        (accept(25, date(2026, 1, 1)), RefusedCode.DAY_AHEAD),
        (accept(25, note="\x00"), RefusedCode.NOT_PLAIN_TEXT),
    ],
)
def test_totals_that_cannot_be_accepted(shed: Shed, act: AcceptHours, code: RefusedCode):
    shed.run(read(date(2023, 1, 1), 20))
    shed.refuses(act, code)


def test_an_accepted_total_fits_into_the_days_since_what_is_known(shed: Shed):
    shed.run(read(THEN - timedelta(days=2), 20))
    shed.refuses(
        accept(20 + 72 + 1),
        RefusedCode.MORE_THAN_THE_DAYS,
        ran=hours(73 * HOUR),
        most=hours(72 * HOUR),
        since=THEN - timedelta(days=2),
    )
    shed.run(accept(20 + 72))
    later = THEN + timedelta(days=1)
    shed.refuses(accept(92 + 49, later), RefusedCode.MORE_THAN_THE_DAYS, since=THEN)
    shed.run(accept(92 + 4, later))


def test_a_total_before_a_reading_leaves_days_enough_for_the_rest(shed: Shed):
    shed.run(read(THEN, 2_000))
    before = THEN - timedelta(days=9)
    shed.refuses(accept(1_700, before), RefusedCode.MORE_THAN_THE_DAYS, since=before)
    shed.run(accept(1_800, before))


def test_where_nothing_is_known_any_total_may_be_accepted(bare: Shed):
    bare.add_place()
    bare.add_machine(past=Past.UNKNOWN)
    bare.run(accept(90_000))
