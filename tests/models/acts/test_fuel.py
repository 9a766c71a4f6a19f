"""Fuel: four taps are enough; nothing goes in or out that cannot have been there."""

from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from models.acts.again import fuel_again
from models.acts.fuel import (
    AddOil,
    AddVessel,
    ChangeVessel,
    Drain,
    Fill,
    LookAtFuel,
    Pour,
    Refill,
    SetLevel,
    Stabilise,
    TopUp,
)
from models.changes import Area
from models.errors import RefusedCode
from models.facts.fuel import read_accounts
from models.tables.fuel import FuelEventRow
from models.writer import Act
from schedules.facts import (
    FuelSort,
    FuelUse,
    Gone,
    Look,
    LotFacts,
    Shelter,
    VesselFacts,
    VesselId,
    VesselSort,
)
from schedules.units import Typed, Unit
from tests.models.acts.shed import BATTERY_TOOL, LONG, Shed, number_of

LITRE = 1_000_000
DAY = date(2025, 9, 1)
LATER = date(2025, 10, 1)
TANK, BOWL = 1, 2


def add_can(shed: Shed, name: str = "Can by the door", **given: Any) -> int:
    wanted = {"capacity_ul": 5 * LITRE, "came_on": date(2021, 5, 1), "place_id": 1, **given}
    return number_of(shed.run(AddVessel(name=name, sort=VesselSort.CAN, **wanted)), Area.FUEL)


def tank(shed: Shed) -> VesselFacts:
    return shed.machine().vessels[0]


def test_filled_topped_up_half_drained(shed: Shed):
    shed.run(Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E10))
    assert [(lot.bought_on, lot.volume_ul) for lot in tank(shed).lots] == [(DAY, 3 * LITRE)]
    shed.run(SetLevel(vessel_id=TANK, day=DAY, volume_ul=LITRE))
    shed.run(TopUp(vessel_id=TANK, day=DAY))
    assert [(lot.bought_on, lot.volume_ul) for lot in tank(shed).lots] == [
        (DAY, LITRE),
        (None, 2 * LITRE),
    ]
    shed.run(Drain(vessel_id=TANK, day=DAY))
    assert tank(shed).lots == ()


def test_all_that_can_be_said_of_a_filling(shed: Shed):
    can = add_can(shed, burns=FuelUse.TWO_STROKE, shelter=Shelter.INDOOR, note="red")
    typed = Typed(stored=3_785_412, amount=Fraction(1), unit=Unit.US_GALLON, text="1")
    shed.run(
        Fill(
            vessel_id=can,
            day=DAY,
            sort=FuelSort.PREMIX,
            volume_ul=3_785_412,
            typed=typed,
            to_brim=True,
            bought_on=date(2025, 8, 30),
            ethanol_permille=0,
            oil_ratio=50,
            stabilised=True,
            cents=499,
            note="at the corner",
        )
    )
    (found,) = shed.cans()
    assert found.lots == (
        LotFacts(
            bought_on=date(2025, 8, 30),
            volume_ul=3_785_412,
            sort=FuelSort.PREMIX,
            stabilised_on=DAY,
            since=DAY,
            ethanol_permille=0,
            oil_ul=3_785_412 // 51,
        ),
    )
    (row,) = shed.rows(FuelEventRow)
    assert (row.oil_ratio, row.cents, row.typed_unit, row.to_brim) == (50, 499, "us_gal", True)


def test_fuel_of_which_nobody_knows_the_age(shed: Shed):
    shed.run(Fill(vessel_id=TANK, day=DAY, sort=FuelSort.UNKNOWN, age_known=False))
    assert tank(shed).lots[0].bought_on is None


def test_pouring_keeps_the_sum(shed: Shed):
    can = add_can(shed)
    shed.run(Fill(vessel_id=can, day=DAY, sort=FuelSort.E5, volume_ul=4 * LITRE))
    changes = shed.run(Pour(vessel_id=can, to_vessel_id=TANK, day=DAY, volume_ul=LITRE))
    assert {(Area.FUEL, can), (Area.FUEL, TANK), (Area.MACHINES, 1)} == changes.ids
    assert tank(shed).lots[0].volume_ul == LITRE
    assert shed.cans()[0].lots[0].volume_ul == 3 * LITRE
    shed.refuses(
        Pour(vessel_id=can, to_vessel_id=TANK, day=DAY, volume_ul=3 * LITRE + 1),
        RefusedCode.NO_ROOM,
        room_ul=3 * LITRE,
    )
    shed.run(SetLevel(vessel_id=can, day=DAY, volume_ul=LITRE))
    shed.refuses(
        Pour(vessel_id=can, to_vessel_id=TANK, day=DAY, volume_ul=LITRE + 1),
        RefusedCode.NOT_SO_MUCH,
        held_ul=LITRE,
    )


def test_all_of_a_full_can_does_not_go_into_a_tank(shed: Shed):
    can = add_can(shed)
    shed.run(Fill(vessel_id=can, day=DAY, sort=FuelSort.E5, volume_ul=4 * LITRE))
    everything = Pour(vessel_id=can, to_vessel_id=TANK, day=DAY)
    shed.refuses(
        everything, RefusedCode.NO_ROOM, volume_ul=4 * LITRE, room_ul=3 * LITRE, vessel="Red one"
    )
    shed.run(SetLevel(vessel_id=can, day=DAY, volume_ul=2 * LITRE))
    shed.run(everything)
    assert tank(shed).lots[0].volume_ul == 2 * LITRE


def test_a_fill_leaves_no_more_in_the_tank_than_it_holds(shed: Shed):
    for day, volume in ((DAY, 2), (LATER, 2)):
        shed.run(Fill(vessel_id=TANK, day=day, sort=FuelSort.E5, volume_ul=volume * LITRE))
    lots = [(lot.bought_on, lot.volume_ul) for lot in tank(shed).lots]
    assert lots == [(DAY, LITRE), (LATER, 2 * LITRE)]


def test_emptied_and_filled_anew_is_one_step(shed: Shed):
    shed.run(Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E10))
    fresh = Fill(vessel_id=TANK, day=LATER, sort=FuelSort.E5, volume_ul=LITRE)
    shed.run(Refill(fill=fresh, gone=Gone.DISPOSED))
    assert [(lot.bought_on, lot.volume_ul) for lot in tank(shed).lots] == [(LATER, LITRE)]
    shed.household.need_writer().undo(moment=shed.moment)
    assert [(lot.bought_on, lot.volume_ul) for lot in tank(shed).lots] == [(DAY, 3 * LITRE)]
    wrong = Fill(vessel_id=TANK, day=LATER, sort=FuelSort.E5, volume_ul=9 * LITRE)
    shed.refuses(Refill(fill=wrong), RefusedCode.NO_ROOM)
    assert [(lot.bought_on, lot.volume_ul) for lot in tank(shed).lots] == [(DAY, 3 * LITRE)]


def test_treating_and_looking(shed: Shed):
    shed.run(Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E10))
    shed.run(Stabilise(vessel_id=TANK, day=DAY, dose_ul=5_000))
    shed.run(LookAtFuel(vessel_id=TANK, day=DAY, look=Look.SHARP_CLEAR))
    assert tank(shed).lots[0].stabilised_on == DAY
    assert [look.look for look in tank(shed).looks] == [Look.SHARP_CLEAR]
    assert shed.rows(FuelEventRow)[1].dose_ul == 5_000


def test_where_it_went_is_kept_and_the_sum_is_true(shed: Shed):
    can = add_can(shed)
    shed.run(Fill(vessel_id=can, day=DAY, sort=FuelSort.E5, volume_ul=4 * LITRE))
    for gone, volume in ((Gone.SPILLED, 100_001), (Gone.DISPOSED, 500_000), (Gone.DRAINED, 7)):
        shed.run(Drain(vessel_id=can, day=DAY, volume_ul=volume, gone=gone))
    shed.run(Pour(vessel_id=can, to_vessel_id=TANK, day=DAY, volume_ul=LITRE))
    shed.run(Drain(vessel_id=TANK, day=LATER, volume_ul=300_000, gone=Gone.BURNT))
    shed.run(AddOil(vessel_id=can, day=LATER, volume_ul=40_000))
    shed.run(SetLevel(vessel_id=can, day=LATER, volume_ul=2 * LITRE, missing=Gone.LOST))
    with shed.household.read() as session:
        accounts = read_accounts(session, on=LATER)
    ours = accounts[VesselId(can)]
    assert (ours.spilled_ul, ours.disposed_ul, ours.drained_ul) == (100_001, 500_000, 7)
    assert (ours.oil_ul, ours.lost_ul) == (40_000, 439_992)
    assert ours.held_ul == sum(lot.volume_ul for lot in shed.cans()[0].lots) == 2 * LITRE
    assert accounts[VesselId(TANK)].burnt_ul == 300_000


def test_a_level_says_what_became_of_the_rest(shed: Shed):
    shed.run(Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5))
    for missing, field in (
        (None, "burnt_ul"),
        (Gone.LOST, "lost_ul"),
        (Gone.SPILLED, "spilled_ul"),
    ):
        shed.run(SetLevel(vessel_id=TANK, day=LATER, volume_ul=LITRE, missing=missing))
        with shed.household.read() as session:
            account = read_accounts(session, on=LATER)[VesselId(TANK)]
            again = fuel_again(session, shed.rows(FuelEventRow)[-1].id)
        assert getattr(account, field) == 2 * LITRE
        assert isinstance(again, SetLevel)
        assert again.missing is missing
        shed.household.need_writer().undo(moment=shed.moment)


def test_what_cannot_have_become_of_it(shed: Shed):
    shed.run(Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5))
    shed.refuses(Drain(vessel_id=TANK, day=DAY, gone=Gone.LOST), RefusedCode.UNKNOWN_CODE)
    shed.refuses(AddOil(vessel_id=TANK, day=DAY, volume_ul=0), RefusedCode.OUT_OF_RANGE)
    shed.refuses(AddOil(vessel_id=TANK, day=DAY, volume_ul=4 * LITRE), RefusedCode.NO_ROOM)
    shed.refuses(
        Drain(vessel_id=TANK, day=DAY, volume_ul=4 * LITRE, gone=Gone.SPILLED),
        RefusedCode.NOT_SO_MUCH,
    )


def test_a_second_tank_and_a_changed_one(shed: Shed):
    extra = AddVessel(
        name="spare tank",
        sort=VesselSort.TANK,
        capacity_ul=LITRE,
        came_on=DAY,
        machine_id=1,
        place_id=1,
    )
    number = number_of(shed.run(extra), Area.FUEL)
    shed.run(ChangeVessel(vessel_id=number, capacity_ul=2 * LITRE, name="aux"))
    assert (shed.machine().vessels[2].capacity_ul, shed.machine().vessels[2].name) == (
        2 * LITRE,
        "aux",
    )
    shed.run(ChangeVessel(vessel_id=number, retired_on=date(2025, 10, 1)))
    assert len(shed.machine().vessels) == 2
    shed.refuses(
        Fill(vessel_id=number, day=date(2025, 10, 1), sort=FuelSort.E0), RefusedCode.RETIRED
    )
    shed.refuses(ChangeVessel(vessel_id=number), RefusedCode.NOTHING_CHANGED)


CAN: dict[str, Any] = {
    "name": "Can",
    "sort": VesselSort.CAN,
    "capacity_ul": LITRE,
    "came_on": DAY,
    "place_id": 1,
}


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"name": " "}, RefusedCode.NOTHING_GIVEN),
        ({"name": LONG}, RefusedCode.TOO_LONG),
        ({"capacity_ul": 0}, RefusedCode.OUT_OF_RANGE),
        ({"capacity_ul": 10**11}, RefusedCode.OUT_OF_RANGE),
        ({"came_on": date(2026, 1, 1)}, RefusedCode.DAY_AHEAD),
        ({"place_id": None}, RefusedCode.NOTHING_GIVEN),
        ({"place_id": 9}, RefusedCode.NOT_THERE),
        ({"sort": VesselSort.TANK}, RefusedCode.NOTHING_GIVEN),
        ({"sort": VesselSort.TANK, "machine_id": 9}, RefusedCode.NOT_THERE),
        (
            {"sort": VesselSort.TANK, "machine_id": 1, "came_on": date(2019, 1, 1)},
            RefusedCode.DAY_TOO_EARLY,
        ),
        ({"note": "\x00"}, RefusedCode.NOT_PLAIN_TEXT),
    ],
)
def test_vessels_that_make_no_sense(standing: Shed, given: dict[str, Any], code: RefusedCode):
    standing.refuses(AddVessel(**{**CAN, **given}), code)


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (Fill(vessel_id=9, day=DAY, sort=FuelSort.E5), RefusedCode.NOT_THERE),
        (Fill(vessel_id=TANK, day=date(2026, 1, 1), sort=FuelSort.E5), RefusedCode.DAY_AHEAD),
        (Fill(vessel_id=TANK, day=date(2019, 1, 1), sort=FuelSort.E5), RefusedCode.DAY_TOO_EARLY),
        (
            Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, bought_on=date(2025, 9, 2)),
            RefusedCode.DAY_AHEAD,
        ),
        (
            Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, bought_on=date(1899, 1, 1)),
            RefusedCode.DAY_OUT_OF_RANGE,
        ),
        (
            Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, volume_ul=0),
            RefusedCode.OUT_OF_RANGE,
        ),
        (
            Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, volume_ul=3 * LITRE + 1),
            RefusedCode.NO_ROOM,
        ),
        (
            Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, ethanol_permille=1001),
            RefusedCode.OUT_OF_RANGE,
        ),
        (Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, oil_ratio=0), RefusedCode.OUT_OF_RANGE),
        (Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, cents=-1), RefusedCode.OUT_OF_RANGE),
        (Fill(vessel_id=TANK, day=DAY, sort=FuelSort.E5, note=LONG), RefusedCode.TOO_LONG),
        (TopUp(vessel_id=TANK, day=DAY, volume_ul=-1), RefusedCode.OUT_OF_RANGE),
        (TopUp(vessel_id=TANK, day=DAY, bought_on=date(2025, 9, 2)), RefusedCode.DAY_AHEAD),
        (Pour(vessel_id=TANK, to_vessel_id=TANK, day=DAY), RefusedCode.SAME_VESSEL),
        (Pour(vessel_id=TANK, to_vessel_id=9, day=DAY), RefusedCode.NOT_THERE),
        (Pour(vessel_id=TANK, to_vessel_id=BOWL, day=DAY, volume_ul=5), RefusedCode.NOT_SO_MUCH),
        (Drain(vessel_id=TANK, day=DAY, volume_ul=4 * LITRE), RefusedCode.NOT_SO_MUCH),
        (Drain(vessel_id=TANK, day=DAY, volume_ul=5, gone=Gone.BURNT), RefusedCode.NOT_SO_MUCH),
        (Stabilise(vessel_id=TANK, day=DAY, dose_ul=-1), RefusedCode.OUT_OF_RANGE),
        (Stabilise(vessel_id=TANK, day=date(2026, 1, 1)), RefusedCode.DAY_AHEAD),
        (LookAtFuel(vessel_id=0, day=DAY, look=Look.LAYERS), RefusedCode.NOT_THERE),
        (SetLevel(vessel_id=TANK, day=DAY, volume_ul=-1), RefusedCode.OUT_OF_RANGE),
        (SetLevel(vessel_id=TANK, day=DAY, volume_ul=3 * LITRE + 1), RefusedCode.NO_ROOM),
        (ChangeVessel(vessel_id=9, name="X"), RefusedCode.NOT_THERE),
        (ChangeVessel(vessel_id=TANK, retired_on=date(2019, 1, 1)), RefusedCode.DAY_TOO_EARLY),
        (ChangeVessel(vessel_id=TANK, retired_on=date(2026, 1, 1)), RefusedCode.DAY_AHEAD),
        (ChangeVessel(vessel_id=TANK, place_id=9), RefusedCode.NOT_THERE),
    ],
)
def test_what_cannot_happen_to_fuel(standing: Shed, act: Act, code: RefusedCode):
    standing.refuses(act, code)


def test_a_can_always_stands_somewhere(shed: Shed):
    can = add_can(shed)
    shed.refuses(ChangeVessel(vessel_id=can, place_id=None), RefusedCode.NOTHING_GIVEN)


def test_a_battery_tool_has_no_fuel_left_in_it(shed: Shed):
    number = shed.add_machine(BATTERY_TOOL)
    assert shed.machine(number).vessels == ()
