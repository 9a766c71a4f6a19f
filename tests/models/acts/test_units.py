"""Engines, packs and batteries: on one machine, then on another."""

from datetime import date
from typing import Any

import pytest

from models.acts.plate import Plate
from models.acts.units import AddUnit, ChangeUnit, FitUnit, RetireUnit, TakeOffUnit
from models.changes import Area
from models.errors import RefusedCode
from models.tables.machines import FittingRow, ItemRow
from models.writer import Act
from schedules.facts import ItemSort, Past
from tests.models.acts.shed import BATTERY_TOOL, LONG, Shed, number_of

CAME, OFF, ON = date(2022, 3, 1), date(2023, 5, 1), date(2023, 5, 2)
ENGINE = 2


def add_unit(shed: Shed, sort: ItemSort = ItemSort.ENGINE, **given: Any) -> int:
    wanted = {"name": "Spare", "came_on": CAME, **given}
    return number_of(shed.run(AddUnit(sort=sort, **wanted)), Area.UNITS)


def test_an_engine_is_swapped(shed: Shed):
    spare = add_unit(shed, start_seconds=36_000, plate=Plate(serial="A1"))
    shed.refuses(
        FitUnit(unit_id=spare, machine_id=1, on=ON), RefusedCode.STILL_FITTED, name="Red one"
    )
    shed.run(TakeOffUnit(unit_id=ENGINE, machine_id=1, on=OFF))
    changes = shed.run(FitUnit(unit_id=spare, machine_id=1, on=ON))
    assert changes.ids == {(Area.UNITS, spare), (Area.MACHINES, 1)}
    engine = shed.item(ItemSort.ENGINE)
    assert (engine.item_id, engine.hours.at_start) == (spare, 36_000)
    assert shed.machine(on=date(2023, 4, 30)).items[1].item_id == ENGINE
    assert len(shed.machine(on=OFF).items) == 1


def test_an_engine_is_on_one_machine_a_pack_on_several(shed: Shed):
    other = shed.add_machine(BATTERY_TOOL, name="Trimmer")
    third = shed.add_machine(BATTERY_TOOL, name="Blower")
    shed.refuses(
        FitUnit(unit_id=ENGINE, machine_id=other, on=ON),
        RefusedCode.STILL_FITTED,
        machine="Red one",
    )
    pack = add_unit(shed, ItemSort.PACK, machine_id=other)
    shed.run(FitUnit(unit_id=pack, machine_id=third, on=ON))
    shed.refuses(FitUnit(unit_id=pack, machine_id=third, on=ON), RefusedCode.STILL_FITTED)
    assert len([row for row in shed.rows(FittingRow) if row.item_id == pack]) == 2


def test_a_new_unit_begins_at_nil_and_can_be_changed(shed: Shed):
    spare = add_unit(shed, past=Past.NEW)
    assert shed.rows(ItemRow)[-1].start_seconds == 0
    shed.run(ChangeUnit(unit_id=spare, name="Old heart", start_seconds=None, past=Past.UNKNOWN))
    assert (shed.rows(ItemRow)[-1].name, shed.rows(ItemRow)[-1].start_seconds) == (
        "Old heart",
        None,
    )
    shed.refuses(ChangeUnit(unit_id=spare), RefusedCode.NOTHING_CHANGED)


def test_a_unit_that_is_gone_is_off_its_machine(shed: Shed):
    changes = shed.run(RetireUnit(unit_id=ENGINE, on=ON, why="seized"))
    assert (Area.MACHINES, 1) in changes.ids
    assert len(shed.machine().items) == 1
    shed.refuses(RetireUnit(unit_id=ENGINE, on=ON), RefusedCode.RETIRED)
    spare = add_unit(shed)
    shed.run(FitUnit(unit_id=spare, machine_id=1, on=ON))


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (AddUnit(sort=ItemSort.MACHINE, name="X", came_on=CAME), RefusedCode.UNKNOWN_CODE),
        (AddUnit(sort=ItemSort.PACK, name="", came_on=CAME), RefusedCode.NOTHING_GIVEN),
        (AddUnit(sort=ItemSort.PACK, name=LONG, came_on=CAME), RefusedCode.TOO_LONG),
        (
            AddUnit(sort=ItemSort.PACK, name="X", came_on=date(2026, 1, 1)),
            RefusedCode.DAY_AHEAD,
        ),
        (
            AddUnit(sort=ItemSort.PACK, name="X", came_on=CAME, start_seconds=-1),
            RefusedCode.OUT_OF_RANGE,
        ),
        (
            AddUnit(sort=ItemSort.PACK, name="X", came_on=date(2019, 1, 1), machine_id=1),
            RefusedCode.DAY_TOO_EARLY,
        ),
        (AddUnit(sort=ItemSort.PACK, name="X", came_on=CAME, machine_id=9), RefusedCode.NOT_THERE),
        (FitUnit(unit_id=9, machine_id=1, on=ON), RefusedCode.NOT_THERE),
        (FitUnit(unit_id=1, machine_id=1, on=ON), RefusedCode.NOT_THERE),
        (TakeOffUnit(unit_id=1, machine_id=1, on=ON), RefusedCode.NOT_THERE),
        (TakeOffUnit(unit_id=ENGINE, machine_id=9, on=ON), RefusedCode.NOT_THERE),
        (
            TakeOffUnit(unit_id=ENGINE, machine_id=1, on=date(2019, 1, 1)),
            RefusedCode.DAY_TOO_EARLY,
        ),
        (TakeOffUnit(unit_id=ENGINE, machine_id=1, on=date(2026, 1, 1)), RefusedCode.DAY_AHEAD),
        (RetireUnit(unit_id=ENGINE, on=date(2019, 1, 1)), RefusedCode.DAY_TOO_EARLY),
        (RetireUnit(unit_id=ENGINE, on=ON, why=LONG), RefusedCode.TOO_LONG),
        (ChangeUnit(unit_id=ENGINE, plate=Plate(code="\x00")), RefusedCode.NOT_PLAIN_TEXT),
    ],
)
def test_units_that_make_no_sense(standing: Shed, act: Act, code: RefusedCode):
    standing.refuses(act, code)


def test_what_is_not_on_cannot_be_taken_off(shed: Shed):
    spare = add_unit(shed)
    shed.refuses(
        TakeOffUnit(unit_id=spare, machine_id=1, on=ON),
        RefusedCode.NOT_FITTED,
        name="Spare",
        machine="Red one",
    )
