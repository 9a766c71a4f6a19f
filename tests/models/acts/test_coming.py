"""The day a machine came, said anew."""

from datetime import date, timedelta

import pytest

from models.acts.coming import ChangeComing
from models.acts.hours import ReadHours
from models.acts.machines import EngineGiven, MoveMachine
from models.acts.uses import LogUse
from models.errors import RefusedCode
from models.tables.hours import MeterRow
from schedules.facts import ItemSort, Past
from tests.models.acts.shed import CAME, Shed

EARLIER, LATER = date(2018, 5, 1), date(2021, 3, 1)


@pytest.mark.parametrize("day", [EARLIER, LATER])
def test_what_came_with_it_moves_along(shed: Shed, day: date):
    shed.run(ChangeComing(machine_id=1, came_on=day))
    facts = shed.machine(on=day)
    assert {item.came_on for item in facts.items} == {day}
    assert [item.sort for item in facts.items] == [ItemSort.MACHINE, ItemSort.ENGINE]
    assert len(facts.vessels) == 2
    assert facts.place == "Lean-to"


def test_a_meter_goes_on_counting_from_the_day_it_came(shed: Shed):
    shed.run(ReadHours(machine_id=1, day=date(2024, 1, 1), shown_seconds=36_000))
    shed.run(ChangeComing(machine_id=1, came_on=EARLIER))
    assert shed.rows(MeterRow)[0].from_on == EARLIER
    shed.run(ReadHours(machine_id=1, day=EARLIER + timedelta(days=1), shown_seconds=3_600))
    readings = shed.item(ItemSort.MACHINE).hours.readings
    assert [reading.seconds for reading in readings] == [3_600, 36_000]


def test_it_did_not_come_after_what_was_entered_for_it(shed: Shed):
    shed.run(LogUse(machine_id=1, day=date(2020, 6, 1)))
    shed.refuses(
        ChangeComing(machine_id=1, came_on=date(2020, 6, 2)),
        RefusedCode.DAY_OUT_OF_RANGE,
        last=date(2020, 6, 1),
    )
    shed.run(ChangeComing(machine_id=1, came_on=date(2020, 6, 1)))


def test_nor_on_or_after_the_day_it_was_moved(shed: Shed):
    cellar = shed.add_place("Cellar")
    shed.run(MoveMachine(machine_id=1, place_id=cellar, on=date(2020, 6, 1)))
    shed.refuses(ChangeComing(machine_id=1, came_on=date(2020, 6, 1)), RefusedCode.DAY_OUT_OF_RANGE)
    shed.run(ChangeComing(machine_id=1, came_on=date(2020, 5, 31)))


def test_an_older_engine_stays_as_old_as_it_is(bare: Shed):
    bare.add_place()
    built = date(2019, 1, 1)
    bare.add_machine(engine=EngineGiven(came_on=built, past=Past.UNKNOWN))
    bare.refuses(ChangeComing(machine_id=1, came_on=EARLIER), RefusedCode.DAY_TOO_EARLY)
    bare.run(ChangeComing(machine_id=1, came_on=built))
    assert bare.item(ItemSort.ENGINE).came_on == built


@pytest.mark.parametrize(
    ("day", "code"),
    [
        (CAME, RefusedCode.NOTHING_CHANGED),
        (date(2026, 1, 1), RefusedCode.DAY_AHEAD),
        (date(1899, 1, 1), RefusedCode.DAY_OUT_OF_RANGE),
    ],
)
def test_days_that_make_no_sense(standing: Shed, day: date, code: RefusedCode):
    standing.refuses(ChangeComing(machine_id=1, came_on=day), code)
    standing.refuses(ChangeComing(machine_id=9, came_on=LATER), RefusedCode.NOT_THERE)


def test_hours_that_would_not_fit_into_the_days_left(shed: Shed):
    shed.run(ReadHours(machine_id=1, day=date(2020, 2, 15), shown_seconds=20 * 86_400))
    shed.refuses(
        ChangeComing(machine_id=1, came_on=date(2020, 2, 14)), RefusedCode.MORE_THAN_THE_DAYS
    )
