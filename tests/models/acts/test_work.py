"""Work: lines find the thing they are about, close jobs, and carry hours and measurements."""

from datetime import date
from typing import Any

import pytest

from models.acts.jobs import NoteJob
from models.acts.readings import Measured
from models.acts.units import AddUnit
from models.acts.work import LineGiven, PassOver, RecordWork
from models.changes import ActCode, Area
from models.errors import RefusedCode
from models.tables.work import LimitReadingRow, WorkLineRow, WorkRow
from models.words import LineOutcome
from schedules.facts import Doing, ItemSort, TaskCode
from tests.models.acts.shed import BATTERY_TOOL, LONG, Shed, number_of

DAY = date(2025, 10, 4)


def record(*lines: LineGiven, **given: Any) -> RecordWork:
    return RecordWork(**{"machine_id": 1, "day": DAY, "lines": lines, **given})


def test_each_line_hangs_on_the_thing_its_task_is_about(shed: Shed):
    shed.run(
        record(
            LineGiven(task="S2-01", part="shear-pin", quantity=2, cents=900),
            LineGiven(task="E4-07", outcome=LineOutcome.REPLACED, note="gap 0.76"),
            minutes=45,
            cents=0,
            by_whom="Ada",
            note="squeals\nwhen wet",
        )
    )
    machine, engine = shed.item(ItemSort.MACHINE), shed.item(ItemSort.ENGINE)
    assert machine.doings == (Doing(code=TaskCode("S2-01"), day=DAY),)
    assert engine.doings == (Doing(code=TaskCode("E4-07"), day=DAY, replaced=True),)
    (work,) = shed.rows(WorkRow)
    assert (work.minutes, work.cents, work.by_whom) == (45, 0, "Ada")
    assert [line.quantity for line in shed.rows(WorkLineRow)] == [2, 0]


def test_a_failed_check_and_its_mending(shed: Shed):
    shed.run(record(LineGiven(task="S2-15", outcome=LineOutcome.FAILED)))
    assert [check.code for check in shed.machine().failed_checks] == ["S2-15"]
    shed.run(record(LineGiven(task="S2-15"), day=date(2025, 10, 5)))
    assert shed.machine().failed_checks == ()


def test_what_was_not_done_is_no_doing(shed: Shed):
    shed.run(record(LineGiven(task="S2-02", outcome=LineOutcome.NOT_DONE)))
    assert shed.item(ItemSort.MACHINE).doings == ()


def test_passing_over_makes_one_record_of_assumptions(shed: Shed):
    changes = shed.run(PassOver(machine_id=1, day=DAY, tasks=("S2-02", "E4-02", "S2-02")))
    assert changes.label.code is ActCode.PASS_OVER
    assert shed.item(ItemSort.MACHINE).doings == (
        Doing(code=TaskCode("S2-02"), day=DAY, assumed=True),
    )
    assert len(shed.rows(WorkRow)) == 1
    assert len(shed.rows(WorkLineRow)) == 2
    shed.refuses(PassOver(machine_id=1, day=DAY, tasks=()), RefusedCode.NOTHING_GIVEN)


def test_hours_and_measurements_come_along(shed: Shed):
    measured = Measured(task="S2-06", limit="L20", amount=2_100, after_work=True)
    changes = shed.run(record(LineGiven(task="S2-06"), measured=(measured,), shown_seconds=36_000))
    assert {Area.WORK, Area.READINGS, Area.HOURS, Area.MACHINES} == changes.areas
    item = shed.item(ItemSort.MACHINE)
    assert [reading.amount for reading in item.readings] == [2_100]
    assert [reading.seconds for reading in item.hours.readings] == [36_000]
    assert {row.work_id for row in shed.rows(LimitReadingRow)} == {1}
    shed.refuses(
        record(LineGiven(task="S2-06"), shown_seconds=35_000), RefusedCode.LOWER_THAN_BEFORE
    )


def test_a_job_is_done_once(shed: Shed):
    job = number_of(
        shed.run(NoteJob(machine_id=1, text="squeals when wet", noted_on=DAY)), Area.JOBS
    )
    other = shed.add_machine(name="Blue one")
    did = LineGiven(job_id=job)
    shed.refuses(record(did, machine_id=other), RefusedCode.NOT_THERE, what="job")
    shed.refuses(record(did, day=date(2025, 10, 3)), RefusedCode.DAY_TOO_EARLY)
    shed.refuses(record(did, did), RefusedCode.CLOSED_ALREADY)
    shed.run(record(LineGiven(job_id=job, outcome=LineOutcome.NOT_DONE)))
    assert len(shed.machine().jobs) == 1
    shed.run(record(did))
    assert shed.machine().jobs == ()
    shed.refuses(record(did), RefusedCode.CLOSED_ALREADY, what="job", id=job)


def test_one_of_two_packs_is_named(bare: Shed):
    bare.add_place()
    bare.add_machine(BATTERY_TOOL)
    packs = [
        number_of(
            bare.run(
                AddUnit(sort=ItemSort.PACK, name=name, came_on=date(2022, 1, 1), machine_id=1)
            ),
            Area.UNITS,
        )
        for name in ("left", "right")
    ]
    bare.run(record(LineGiven(task="LI-01"), LineGiven(task="LI-01", item_id=packs[1])))
    assert [line.item_id for line in bare.rows(WorkLineRow)] == packs
    bare.add_machine(BATTERY_TOOL, name="other")
    bare.refuses(
        record(LineGiven(task="LI-01", item_id=packs[1]), machine_id=2), RefusedCode.NOT_FITTED
    )
    bare.refuses(record(LineGiven(task="LI-01", item_id=99)), RefusedCode.NOT_THERE)


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (record(), RefusedCode.NOTHING_GIVEN),
        (record(LineGiven()), RefusedCode.NOTHING_GIVEN),
        (record(LineGiven(task="MW-01")), RefusedCode.UNKNOWN_CODE),
        (record(LineGiven(task="")), RefusedCode.UNKNOWN_CODE),
        (record(LineGiven(task="x" * 5_000)), RefusedCode.UNKNOWN_CODE),
        (record(LineGiven(task="S2-01", part="unobtainium")), RefusedCode.UNKNOWN_CODE),
        (record(LineGiven(task="S2-01", quantity=-1)), RefusedCode.OUT_OF_RANGE),
        (record(LineGiven(task="S2-01", cents=-1)), RefusedCode.OUT_OF_RANGE),
        (record(LineGiven(task="S2-01", note=LONG)), RefusedCode.TOO_LONG),
        (record(LineGiven(job_id=5)), RefusedCode.NOT_THERE),
        (record(LineGiven(task="S2-01"), minutes=-1), RefusedCode.OUT_OF_RANGE),
        (record(LineGiven(task="S2-01"), cents=10**12), RefusedCode.OUT_OF_RANGE),
        (record(LineGiven(task="S2-01"), by_whom="\x00"), RefusedCode.NOT_PLAIN_TEXT),
        (record(LineGiven(task="S2-01"), note=LONG), RefusedCode.TOO_LONG),
        (record(LineGiven(task="S2-01"), sheet_id=3), RefusedCode.NOT_THERE),
        (record(LineGiven(task="S2-01"), machine_id=3), RefusedCode.NOT_THERE),
        (record(LineGiven(task="S2-01"), day=date(2025, 11, 26)), RefusedCode.DAY_AHEAD),
        (record(LineGiven(task="S2-01"), day=date(2019, 1, 1)), RefusedCode.DAY_TOO_EARLY),
        (record(LineGiven(task="S2-01"), shown_seconds=-1), RefusedCode.OUT_OF_RANGE),
        (
            record(measured=(Measured(task="S2-06", limit="L20"),)),
            RefusedCode.READING_NEEDS_AMOUNT,
        ),
    ],
)
def test_records_that_make_no_sense(standing: Shed, act: RecordWork, code: RefusedCode):
    standing.refuses(act, code)
