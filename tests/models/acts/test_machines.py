"""Machines: the least that people give, moving, letting go, taking out again."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import pytest
from sqlalchemy.orm import Session

from models.acts.fuel import Fill, SetLevel
from models.acts.hours import ReadHours
from models.acts.machines import (
    AddMachine,
    BringBackMachine,
    ChangeMachine,
    EngineGiven,
    FuelLeft,
    MoveMachine,
    RemoveMachine,
    RetireMachine,
)
from models.acts.plate import Plate
from models.acts.report import report
from models.acts.uses import LogUse
from models.changes import ActCode, Area, Changes
from models.errors import RefusedCode
from models.moment import Moment
from models.tables.fuel import FuelEventRow, VesselRow
from models.tables.machines import FittingRow, ItemRow, MachineRow
from models.tables.runs import LeftOffRow, NotYetRow
from models.words import FuelDoing
from schedules.facts import Band, FuelSort, ItemSort, Past, VesselSort
from schedules.fuel import judge_vessel
from schedules.units import hours
from tests.models.acts.shed import BATTERY_TOOL, CAME, LONG, MOWER, SAW, THROWER, Shed


def test_kind_name_place_and_day_are_enough(bare: Shed):
    bare.add_place()
    number = bare.add_machine(MOWER, name="Grass 🌱", past=Past.UNKNOWN, spot="left")
    facts = bare.machine(number)
    assert (facts.name, facts.kind.code, facts.place) == ("Grass 🌱", MOWER, "Lean-to, left")
    assert [item.sort for item in facts.items] == [ItemSort.MACHINE, ItemSort.ENGINE]
    assert {item.hours.at_start for item in facts.items} == {None}
    assert [vessel.sort for vessel in facts.vessels] == [VesselSort.TANK, VesselSort.BOWL]
    assert all(task.item is ItemSort.ENGINE for task in facts.items[1].tasks)


def test_a_new_machine_begins_at_nil(shed: Shed):
    assert {item.hours.at_start for item in shed.machine().items} == {0}


def test_a_saw_has_no_bowl_and_a_battery_tool_no_engine(bare: Shed):
    bare.add_place()
    saw = bare.machine(bare.add_machine(SAW))
    assert [vessel.sort for vessel in saw.vessels] == [VesselSort.TANK]
    tool = bare.machine(bare.add_machine(BATTERY_TOOL))
    assert [item.sort for item in tool.items] == [ItemSort.MACHINE]
    assert tool.vessels == ()


def test_an_engine_may_be_older_and_a_battery_comes_along(bare: Shed):
    bare.add_place()
    engine = EngineGiven(
        came_on=date(2012, 3, 1), past=Past.UNKNOWN, start_seconds=7200, plate=Plate(maker="Boreas")
    )
    bare.add_machine(engine=engine, battery=True, plate=Plate(model="Drift 24"))
    found = {item.sort: item for item in bare.machine().items}
    assert found[ItemSort.ENGINE].came_on == date(2012, 3, 1)
    assert found[ItemSort.ENGINE].hours.at_start == 7200
    assert ItemSort.STARTER_BATTERY in found
    rows = bare.rows(ItemRow)
    assert (rows[0].plate_model, rows[1].plate_maker) == ("Drift 24", "Boreas")


@pytest.mark.parametrize("past", [Past.NEW, Past.UNKNOWN])
def test_what_the_meter_shows_now_is_its_total(bare: Shed, past: Past):
    bare.add_place()
    bare.add_machine(past=past, shown_seconds=360_000)
    for item in bare.machine().items:
        assert [(r.day, r.seconds) for r in item.hours.readings] == [(bare.today, 360_000)]


def test_fuel_that_was_left_in_is_half_a_tank_of_unknown_age(bare: Shed):
    bare.add_place()
    ran = date(2025, 3, 2)
    bare.add_machine(fuel_left=FuelLeft.YES, last_ran_on=ran, tank_ul=2_000_000)
    (lot,) = bare.machine().vessels[0].lots
    assert (lot.bought_on, lot.volume_ul, lot.since) == (None, 1_000_000, ran)
    assert lot.sort is FuelSort.UNKNOWN
    assert bare.rows(FuelEventRow)[0].typed_text == FuelLeft.YES


def test_fuel_nobody_knows_of_stays_unknown_until_somebody_looks(bare: Shed):
    bare.add_place()
    bare.add_machine(fuel_left=FuelLeft.DONT_KNOW, tank_ul=2_000_000)
    assert bare.rows(FuelEventRow)[0].volume_ul is None
    tank = bare.machine().vessels[0]
    assert [lot.amount_known for lot in tank.lots] == [False]
    assert judge_vessel(tank, on=bare.today).band is Band.LOOK_FIRST
    bare.run(Fill(vessel_id=1, day=bare.today, sort=FuelSort.E5, volume_ul=1_500_000))
    assert judge_vessel(bare.machine().vessels[0], on=bare.today).band is Band.LOOK_FIRST
    bare.run(SetLevel(vessel_id=1, day=bare.today, volume_ul=0))
    assert bare.machine().vessels[0].lots == ()


def test_fuel_whose_day_is_known(bare: Shed):
    bare.add_place()
    bought = date(2025, 2, 1)
    bare.add_machine(fuel_left=FuelLeft.YES, bought_on=bought, fuel_sort=FuelSort.E5)
    (lot,) = bare.machine().vessels[0].lots
    assert (lot.bought_on, lot.sort) == (bought, FuelSort.E5)


def test_an_empty_tank_is_empty_and_the_day_is_kept(bare: Shed):
    bare.add_place()
    bare.add_machine(fuel_left=FuelLeft.NO)
    assert bare.rows(FuelEventRow) == []
    bare.add_machine(fuel_left=FuelLeft.NO, last_ran_on=date(2025, 3, 2))
    assert bare.machine(2).vessels[0].lots == ()
    (event,) = bare.rows(FuelEventRow)
    assert (event.doing, event.happened_on) == (FuelDoing.LEVEL, date(2025, 3, 2))


GOOD: dict[str, Any] = {"name": "Blue one", "kind": THROWER, "place_id": 1, "came_on": CAME}


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"name": ""}, RefusedCode.NOTHING_GIVEN),
        ({"name": LONG}, RefusedCode.TOO_LONG),
        ({"name": "a\x00b"}, RefusedCode.NOT_PLAIN_TEXT),
        ({"name": "\ud800"}, RefusedCode.NOT_PLAIN_TEXT),
        ({"kind": "K99"}, RefusedCode.UNKNOWN_CODE),
        ({"kind": ""}, RefusedCode.UNKNOWN_CODE),
        ({"place_id": 9}, RefusedCode.NOT_THERE),
        ({"came_on": date(2025, 11, 26)}, RefusedCode.DAY_AHEAD),
        ({"came_on": date(1899, 12, 31)}, RefusedCode.DAY_OUT_OF_RANGE),
        ({"came_on": date.max}, RefusedCode.DAY_OUT_OF_RANGE),
        ({"start_seconds": -1}, RefusedCode.OUT_OF_RANGE),
        ({"start_seconds": 10**40}, RefusedCode.OUT_OF_RANGE),
        ({"shown_seconds": -1}, RefusedCode.OUT_OF_RANGE),
        ({"shown_seconds": 10, "start_seconds": 20}, RefusedCode.LOWER_THAN_BEFORE),
        ({"shown_seconds": 10**9, "past": Past.NEW}, RefusedCode.MORE_THAN_THE_DAYS),
        ({"tank_ul": -5}, RefusedCode.OUT_OF_RANGE),
        ({"bowl_ul": 0}, RefusedCode.OUT_OF_RANGE),
        ({"last_ran_on": date(2026, 1, 1)}, RefusedCode.DAY_AHEAD),
        ({"bought_on": date(1700, 1, 1)}, RefusedCode.DAY_OUT_OF_RANGE),
        ({"engine": EngineGiven(came_on=date(2021, 1, 1))}, RefusedCode.DAY_AHEAD),
        ({"engine": EngineGiven(came_on=date(1850, 1, 1))}, RefusedCode.DAY_OUT_OF_RANGE),
        ({"engine": EngineGiven(start_seconds=-1)}, RefusedCode.OUT_OF_RANGE),
        ({"plate": Plate(serial="\x07")}, RefusedCode.NOT_PLAIN_TEXT),
        ({"note": LONG}, RefusedCode.TOO_LONG),
        ({"spot": "x" * 201}, RefusedCode.TOO_LONG),
    ],
)
def test_a_machine_that_makes_no_sense_is_refused(
    standing: Shed, given: dict[str, Any], code: RefusedCode
):
    standing.refuses(AddMachine(**{**GOOD, **given}), code)


def test_renaming_takes_along_what_is_named_after_it(shed: Shed):
    shed.run(ChangeMachine(machine_id=1, name="Old red", note="two\nlines"))
    assert {row.name for row in shed.rows(ItemRow)} == {"Old red"}
    assert {row.name for row in shed.rows(VesselRow)} == {"Old red"}
    shed.refuses(ChangeMachine(machine_id=1, name="Old red"), RefusedCode.NOTHING_CHANGED)
    shed.refuses(ChangeMachine(machine_id=1, name=" "), RefusedCode.NOTHING_GIVEN)
    shed.refuses(ChangeMachine(machine_id=2, name="X"), RefusedCode.NOT_THERE)


def test_run_time_at_the_start_said_later_leaves_the_meters_total(bare: Shed):
    bare.add_place()
    bare.add_machine(past=Past.UNKNOWN)
    bare.run(ReadHours(machine_id=1, day=date(2024, 1, 1), shown_seconds=400_000))
    bare.refuses(
        ChangeMachine(machine_id=1, start_seconds=500_000),
        RefusedCode.HIGHER_THAN_AFTER,
        after=hours(400_000),
    )
    for start in (100_000, 200_000, None, 0):
        bare.run(ChangeMachine(machine_id=1, start_seconds=start))
        item = bare.item(ItemSort.MACHINE)
        assert item.hours.at_start == start
        assert [reading.seconds for reading in item.hours.readings] == [400_000]


def test_moving_from_a_day_on(shed: Shed):
    cellar = shed.add_place("Cellar")
    moved = date(2023, 5, 1)
    shed.run(MoveMachine(machine_id=1, place_id=cellar, on=moved, spot="back"))
    assert shed.machine().place == "Cellar, back"
    assert shed.machine(on=moved - timedelta(days=1)).place == "Lean-to"
    shed.run(MoveMachine(machine_id=1, place_id=1, on=moved))
    assert shed.machine(on=moved).place == "Lean-to"


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({}, RefusedCode.NOTHING_CHANGED),
        ({"place_id": 7}, RefusedCode.NOT_THERE),
        ({"on": date(2019, 12, 31)}, RefusedCode.DAY_TOO_EARLY),
        ({"on": date(2025, 11, 26)}, RefusedCode.DAY_AHEAD),
    ],
)
def test_moves_that_make_no_sense(standing: Shed, given: dict[str, Any], code: RefusedCode):
    wanted = {"machine_id": 1, "place_id": 1, "on": date(2022, 1, 1), **given}
    standing.refuses(MoveMachine(**wanted), code)


def test_a_machine_that_is_gone_takes_no_entries_from_that_day_on(shed: Shed):
    sold = date(2024, 6, 1)
    shed.run(RetireMachine(machine_id=1, on=sold, why="sold"))
    with shed.household.read():
        pass
    shed.refuses(LogUse(machine_id=1, day=sold), RefusedCode.RETIRED, day=sold)
    shed.run(LogUse(machine_id=1, day=sold - timedelta(days=1)))
    shed.refuses(RetireMachine(machine_id=1, on=sold), RefusedCode.RETIRED)
    shed.run(BringBackMachine(machine_id=1))
    shed.refuses(BringBackMachine(machine_id=1), RefusedCode.NOTHING_CHANGED)
    shed.refuses(RetireMachine(machine_id=1, on=date(2019, 1, 1)), RefusedCode.DAY_TOO_EARLY)
    shed.refuses(RetireMachine(machine_id=1, on=date(2026, 1, 1)), RefusedCode.DAY_AHEAD)


def test_only_a_machine_without_records_is_removed(shed: Shed):
    number = shed.add_machine(MOWER, battery=True)
    shed.run(RemoveMachine(machine_id=number))
    assert [row.id for row in shed.rows(MachineRow)] == [1]
    assert {row.machine_id for row in shed.rows(FittingRow)} == {1}
    assert len(shed.rows(ItemRow)) == 2
    shed.run(LogUse(machine_id=1, day=shed.today))
    shed.refuses(RemoveMachine(machine_id=1), RefusedCode.HAS_RECORDS, name="Red one")


@dataclass(frozen=True)
class Put:
    """Puts a row for machine 1."""

    row: Callable[[int], Any]

    def run(self, session: Session, moment: Moment) -> Changes:
        session.add(self.row(1))
        return report(ActCode.CHANGE_MACHINE, (Area.MACHINES, 1), name="Red one")


@pytest.mark.parametrize(
    "row",
    [
        lambda number: LeftOffRow(
            machine_id=number, left_code="fuel-cock", since_on=date(2025, 4, 1)
        ),
        lambda number: NotYetRow(machine_id=number, said_on=date(2025, 4, 1)),
    ],
)
def test_what_is_off_it_and_what_was_answered_are_records(shed: Shed, row: Callable[[int], Any]):
    shed.household.need_writer().run(Put(row), moment=shed.moment)
    shed.refuses(RemoveMachine(machine_id=1), RefusedCode.HAS_RECORDS, name="Red one")


@pytest.mark.parametrize(
    "given",
    [{"fuel_left": FuelLeft.YES}, {"shown_seconds": 3600}],
)
def test_what_was_found_in_it_is_a_record(shed: Shed, given: dict[str, Any]):
    number = shed.add_machine(**given)
    shed.refuses(RemoveMachine(machine_id=number), RefusedCode.HAS_RECORDS)


def test_fuel_poured_in_is_a_record(shed: Shed):
    shed.run(Fill(vessel_id=1, day=shed.today, sort=FuelSort.E0))
    shed.refuses(RemoveMachine(machine_id=1), RefusedCode.HAS_RECORDS)
