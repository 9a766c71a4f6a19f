"""Corrections: the first stays, what is true counts, and a meter stays possible."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from sqlalchemy import select

from models.acts.corrections import CorrectEntry, Correcting, StrikeEntry, WithdrawHours
from models.acts.fuel import Drain, Fill
from models.acts.hours import AcceptHours, Lower, ReadHours
from models.acts.jobs import NoteJob
from models.acts.readings import Measure, Measured
from models.acts.stores import Pay
from models.acts.uses import LogUse
from models.acts.work import LineGiven, RecordWork
from models.changes import Area
from models.errors import RefusedCode
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow
from models.tables.hours import HoursReadingRow, InferredPointRow, UseRow
from models.tables.stores import PaymentRow
from models.tables.work import LimitReadingRow, WorkRow
from models.words import InferredFrom, PaymentSort
from schedules.facts import FuelSort, ItemSort, Past
from tests.models.acts.shed import Shed

DAY = date(2025, 10, 4)
HOUR = 3600


def counting(shed: Shed, table: type[Any]) -> list[Any]:
    with shed.household.read() as session:
        return list(session.scalars(select(table).where(in_force(table)).order_by(table.id)))


def work(*tasks: str, **given: Any) -> RecordWork:
    lines = tuple(LineGiven(task=task) for task in tasks)
    return RecordWork(**{"machine_id": 1, "day": DAY, "lines": lines, **given})


def use(seconds: int) -> LogUse:
    return LogUse(machine_id=1, day=DAY, run_seconds=seconds)


def read(shown: int, day: date = DAY, **given: Any) -> ReadHours:
    return ReadHours(machine_id=1, day=day, shown_seconds=shown * HOUR, **given)


def measure(amount: int) -> Measure:
    measured = Measured(task="S2-06", limit="L20", amount=amount)
    return Measure(machine_id=1, day=DAY, measured=measured)


def fill(volume_ul: int) -> Fill:
    return Fill(vessel_id=1, day=DAY, sort=FuelSort.E5, volume_ul=volume_ul)


def pay(cents: int) -> Pay:
    return Pay(day=DAY, sort=PaymentSort.PART, cents=cents, machine_id=1)


def work_of(minutes: int) -> RecordWork:
    return work("S2-01", minutes=minutes)


ENTRIES: list[tuple[Area, type[Any], str, Callable[[int], Correcting]]] = [
    (Area.WORK, WorkRow, "minutes", work_of),
    (Area.READINGS, LimitReadingRow, "amount", measure),
    (Area.HOURS, HoursReadingRow, "shown_seconds", read),
    (Area.USES, UseRow, "run_seconds", use),
    (Area.FUEL, FuelEventRow, "volume_ul", fill),
    (Area.MONEY, PaymentRow, "cents", pay),
]


@pytest.mark.parametrize(("area", "table", "figure", "entry"), ENTRIES)
def test_an_entry_is_corrected_corrected_again_and_struck(
    shed: Shed,
    area: Area,
    table: type[Any],
    figure: str,
    entry: Callable[[int], Correcting],
):
    factor = HOUR if area is Area.HOURS else 1
    shed.run(entry(1_000))
    shed.run(CorrectEntry(entry_id=1, by=entry(900)))
    shed.refuses(CorrectEntry(entry_id=1, by=entry(1)), RefusedCode.ALREADY_CORRECTED, id=1)
    shed.refuses(StrikeEntry(area=area, entry_id=1), RefusedCode.ALREADY_CORRECTED)
    changes = shed.run(CorrectEntry(entry_id=2, by=entry(950)))
    assert (Area.MACHINES, 1) in changes.ids
    assert [getattr(row, figure) for row in counting(shed, table)] == [950 * factor]
    changes = shed.run(StrikeEntry(area=area, entry_id=3))
    assert (Area.MACHINES, 1) in changes.ids
    assert counting(shed, table) == []
    for gone in (3, 4):
        shed.refuses(StrikeEntry(area=area, entry_id=gone), RefusedCode.ALREADY_CORRECTED)
    shed.refuses(StrikeEntry(area=area, entry_id=5), RefusedCode.NOT_THERE)
    rows = shed.rows(table)
    assert [getattr(row, figure) for row in rows] == [v * factor for v in (1_000, 900, 950, 950)]
    assert [(row.corrects_id, row.struck) for row in rows] == [
        (None, False),
        (1, False),
        (2, False),
        (3, True),
    ]


def test_only_entries_can_be_struck(standing: Shed):
    standing.refuses(StrikeEntry(area=Area.JOBS, entry_id=1), RefusedCode.UNKNOWN_CODE)
    standing.refuses(CorrectEntry(entry_id=0, by=use(1)), RefusedCode.NOT_THERE)


def test_a_correction_is_checked_as_if_the_first_were_not_there(shed: Shed):
    shed.run(use(80_000))
    shed.run(CorrectEntry(entry_id=1, by=use(86_400)))
    shed.refuses(CorrectEntry(entry_id=2, by=use(86_401)), RefusedCode.OUT_OF_RANGE)
    shed.run(read(40))
    shed.run(CorrectEntry(entry_id=1, by=read(4, DAY - timedelta(9))))
    assert [row.shown_seconds for row in counting(shed, HoursReadingRow)] == [4 * HOUR]


def test_a_first_reading_that_was_mistyped_does_not_bind_the_meter(bare: Shed):
    bare.add_place()
    bare.add_machine(past=Past.UNKNOWN)
    bare.run(read(9_000))
    bare.run(CorrectEntry(entry_id=1, by=read(900)))
    bare.run(read(901, DAY + timedelta(5)))
    bare.run(StrikeEntry(area=Area.HOURS, entry_id=2))
    bare.run(read(890, DAY))
    assert [r.seconds // HOUR for r in bare.item(ItemSort.MACHINE).hours.readings] == [890, 901]


def test_a_rollover_is_not_struck_from_under_what_follows(bare: Shed):
    bare.add_place()
    bare.add_machine(past=Past.UNKNOWN)
    bare.run(read(995))
    bare.run(read(5, DAY + timedelta(20), lower=Lower.ROLLED_OVER))
    bare.run(read(7, DAY + timedelta(21)))
    bare.refuses(StrikeEntry(area=Area.HOURS, entry_id=2), RefusedCode.LOWER_THAN_BEFORE)
    bare.refuses(CorrectEntry(entry_id=2, by=read(996, DAY)), RefusedCode.HIGHER_THAN_AFTER)
    bare.run(StrikeEntry(area=Area.HOURS, entry_id=3))
    bare.run(StrikeEntry(area=Area.HOURS, entry_id=2))


def test_what_was_read_and_measured_falls_with_its_record(shed: Shed):
    measured = Measured(task="S2-06", limit="L20", amount=2_100)
    shed.run(work("S2-06", measured=(measured,), shown_seconds=40 * HOUR))
    shed.run(CorrectEntry(entry_id=1, by=work("S2-06", shown_seconds=30 * HOUR)))
    item = shed.item(ItemSort.MACHINE)
    assert item.readings == ()
    assert [reading.seconds for reading in item.hours.readings] == [30 * HOUR]
    shed.refuses(StrikeEntry(area=Area.READINGS, entry_id=1), RefusedCode.ALREADY_CORRECTED)
    shed.run(StrikeEntry(area=Area.WORK, entry_id=2))
    assert shed.item(ItemSort.MACHINE).hours.readings == ()
    assert shed.item(ItemSort.MACHINE).doings == ()


def test_a_corrected_reading_still_falls_with_its_record(shed: Shed):
    measured = Measured(task="S2-06", limit="L20", amount=2_100)
    shed.run(work("S2-06", measured=(measured,), shown_seconds=40 * HOUR))
    shed.run(CorrectEntry(entry_id=1, by=measure(1_900)))
    shed.run(CorrectEntry(entry_id=1, by=read(39)))
    assert [row.amount for row in counting(shed, LimitReadingRow)] == [1_900]
    shed.run(StrikeEntry(area=Area.WORK, entry_id=1))
    assert counting(shed, LimitReadingRow) == []
    assert counting(shed, HoursReadingRow) == []


def test_a_job_is_open_again_when_the_record_that_did_it_is_struck(shed: Shed):
    shed.run(NoteJob(machine_id=1, text="squeals", noted_on=DAY))
    did = work(lines=(LineGiven(job_id=1),))
    shed.run(did)
    shed.run(CorrectEntry(entry_id=1, by=did))
    assert shed.machine().jobs == ()
    shed.run(StrikeEntry(area=Area.WORK, entry_id=2))
    assert len(shed.machine().jobs) == 1


def test_fuel_is_as_if_it_had_been_so_from_the_first(shed: Shed):
    shed.run(fill(2_000_000))
    shed.run(Drain(vessel_id=1, day=DAY, volume_ul=500_000))
    shed.run(CorrectEntry(entry_id=1, by=fill(1_000_000)))
    with shed.household.read():
        pass
    assert len(counting(shed, FuelEventRow)) == 2


def test_an_entry_moves_to_the_machine_it_was_meant_for(shed: Shed):
    other = shed.add_machine(name="Blue one")
    shed.run(use(600))
    meant = LogUse(machine_id=other, day=DAY, run_seconds=600)
    changes = shed.run(CorrectEntry(entry_id=1, by=meant))
    assert {(Area.MACHINES, 1), (Area.MACHINES, other)} <= changes.ids
    assert shed.machine(1).uses == ()
    assert len(shed.machine(other).uses) == 1


def test_an_accepted_total_is_withdrawn_from_machine_and_engine(shed: Shed):
    accept = AcceptHours(
        machine_id=1, day=DAY, total_seconds=HOUR, inferred_from=InferredFrom.OTHER
    )
    other = shed.add_machine(name="Blue one")
    shed.run(accept)
    shed.run(
        AcceptHours(machine_id=other, day=DAY, total_seconds=HOUR, inferred_from=InferredFrom.OTHER)
    )
    shed.run(WithdrawHours(point_id=1))
    assert {item.hours.inferred for item in shed.machine(1).items} == {()}
    assert all(item.hours.inferred for item in shed.machine(other).items)
    shed.refuses(WithdrawHours(point_id=2), RefusedCode.ALREADY_CORRECTED)
    shed.refuses(WithdrawHours(point_id=99), RefusedCode.NOT_THERE)
    assert len(counting(shed, InferredPointRow)) == 2
