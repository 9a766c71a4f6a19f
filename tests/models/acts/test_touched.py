"""Changes name every machine that an act touches: a thing that moved or is shared, fuel that was
drawn on since."""

from dataclasses import dataclass
from datetime import date

from sqlalchemy import update
from sqlalchemy.orm import Session

from models.acts.corrections import CorrectEntry, StrikeEntry
from models.acts.fuel import AddVessel, Fill, Pour
from models.acts.hours import ReadHours, ReplaceMeter, SetMeter
from models.acts.machines import BringBackMachine, RetireMachine
from models.acts.readings import Measure, Measured
from models.acts.stores import Pay
from models.acts.units import AddUnit, ChangeUnit, FitUnit, RetireUnit, TakeOffUnit
from models.acts.work import LineGiven, RecordWork
from models.changes import Area, Changes
from models.moment import Moment
from models.tables.hours import MeterRow
from models.words import PaymentSort
from models.writer import Act
from schedules.facts import FuelSort, ItemSort, Past, VesselSort
from tests.models.acts.shed import BATTERY_TOOL, MOWER, Shed, number_of

CAME, THEN, MOVED, SINCE = (
    date(2022, 3, 1),
    date(2022, 4, 1),
    date(2023, 5, 1),
    date(2023, 6, 1),
)
ENGINE, HOUR = 2, 3600


def machines(changes: Changes) -> set[int]:
    return {number for area, number in changes.ids if area is Area.MACHINES}


def touches(shed: Shed, act: Act, *numbers: int) -> None:
    assert machines(shed.run(act)) == set(numbers)


def with_swapped_engines(shed: Shed) -> int:
    """The engine of the thrower (1) goes to the mower; returns the mower."""
    mower = shed.add_machine(MOWER, name="Grass", past=Past.UNKNOWN)
    own = next(i.item_id for i in shed.machine(mower).items if i.sort is ItemSort.ENGINE)
    shed.run(RecordWork(machine_id=1, day=THEN, lines=(LineGiven(task="E4-02"),)))
    measured = Measured(task="E4-07", limit="L01", amount=700)
    shed.run(Measure(machine_id=1, day=THEN, measured=measured))
    shed.run(TakeOffUnit(unit_id=own, machine_id=mower, on=MOVED))
    shed.run(TakeOffUnit(unit_id=ENGINE, machine_id=1, on=MOVED))
    touches(shed, FitUnit(unit_id=ENGINE, machine_id=mower, on=MOVED), 1, mower)
    return mower


def test_an_engine_that_moved_touches_both_machines(shed: Shed):
    mower = with_swapped_engines(shed)
    both = (1, mower)
    measured = Measured(task="E4-07", limit="L01", amount=710)
    touches(
        shed, CorrectEntry(entry_id=1, by=Measure(machine_id=1, day=THEN, measured=measured)), *both
    )
    lines = (LineGiven(task="E4-02"),)
    touches(shed, RecordWork(machine_id=mower, day=SINCE, lines=lines), *both)
    again = RecordWork(machine_id=mower, day=SINCE, lines=lines, minutes=5)
    touches(shed, CorrectEntry(entry_id=2, by=again), *both)
    touches(shed, StrikeEntry(area=Area.WORK, entry_id=1), *both)
    touches(shed, ChangeUnit(unit_id=ENGINE, start_seconds=HOUR), *both)
    paid = Pay(day=SINCE, sort=PaymentSort.PART, cents=5, unit_id=ENGINE)
    touches(shed, paid, *both)
    touches(shed, StrikeEntry(area=Area.MONEY, entry_id=1), *both)
    touches(shed, TakeOffUnit(unit_id=ENGINE, machine_id=mower, on=SINCE), *both)


@dataclass(frozen=True)
class HangOnTheEngine:
    """Every meter hangs on the engine, as in a household that was taken in."""

    changes: Changes

    def run(self, session: Session, moment: Moment) -> Changes:
        session.execute(update(MeterRow).values(item_id=ENGINE))
        return self.changes


def test_a_meter_of_an_engine_touches_every_machine_it_served(shed: Shed):
    mower = with_swapped_engines(shed)
    both = (1, mower)
    read = shed.run(ReadHours(machine_id=mower, day=SINCE, shown_seconds=90 * HOUR))
    shed.household.need_writer().run(HangOnTheEngine(read), moment=shed.moment)
    later = date(2023, 7, 1)
    touches(shed, ReadHours(machine_id=mower, day=later, shown_seconds=91 * HOUR), *both)
    touches(shed, SetMeter(machine_id=mower, day=later, modulus_seconds=3_600_000), *both)
    lines = (LineGiven(task="MW-01"),)
    work = RecordWork(machine_id=mower, day=later, lines=lines, shown_seconds=92 * HOUR)
    touches(shed, work, *both)
    touches(shed, ReplaceMeter(machine_id=mower, day=later, old_shown_seconds=92 * HOUR), *both)


def test_a_pack_touches_all_it_serves(bare: Shed):
    bare.add_place()
    for name in ("Trimmer", "Blower"):
        bare.add_machine(BATTERY_TOOL, name=name)
    added = AddUnit(sort=ItemSort.PACK, name="Pack", came_on=CAME, machine_id=1)
    pack = number_of(bare.run(added), Area.UNITS)
    touches(bare, FitUnit(unit_id=pack, machine_id=2, on=CAME), 1, 2)
    touches(bare, RetireMachine(machine_id=1, on=SINCE), 1, 2)
    touches(bare, BringBackMachine(machine_id=1), 1, 2)
    touches(bare, TakeOffUnit(unit_id=pack, machine_id=1, on=MOVED), 1, 2)
    touches(bare, RetireUnit(unit_id=pack, on=SINCE), 1, 2)


def test_an_older_fill_of_a_can_touches_what_was_drawn_from_it_since(shed: Shed):
    mower = shed.add_machine(MOWER, name="Grass")
    can = number_of(
        shed.run(
            AddVessel(
                name="Can", sort=VesselSort.CAN, capacity_ul=20_000_000, came_on=CAME, place_id=1
            )
        ),
        Area.FUEL,
    )
    tank = next(v.vessel_id for v in shed.machine(mower).vessels if v.sort is VesselSort.TANK)
    fill = Fill(vessel_id=can, day=THEN, sort=FuelSort.E10, volume_ul=9_000_000)
    touches(shed, fill)
    pour = Pour(vessel_id=can, to_vessel_id=tank, day=MOVED, volume_ul=500_000)
    touches(shed, pour, mower)
    older = Fill(vessel_id=can, day=THEN, sort=FuelSort.E5, volume_ul=9_000_000)
    touches(shed, CorrectEntry(entry_id=1, by=older), mower)
    touches(shed, Fill(vessel_id=can, day=SINCE, sort=FuelSort.E5, volume_ul=1_000_000))
    touches(shed, StrikeEntry(area=Area.FUEL, entry_id=2), mower)
