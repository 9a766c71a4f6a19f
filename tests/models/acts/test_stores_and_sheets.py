"""The shelf, money, and sheets that come back."""

from datetime import date
from typing import Any

import pytest

from models.acts.jobs import NoteJob
from models.acts.sheets import EnterSheet, PrintSheet, SheetException, SheetLine, read_lines
from models.acts.stores import Pay, StockPart
from models.changes import Area
from models.errors import RefusedCode
from models.tables.stores import PaymentRow, SheetMachineRow, SheetRow, ShelfPartRow
from models.tables.work import WorkLineRow, WorkRow
from models.words import LineOutcome, Paper, PaymentSort, SheetSort
from models.writer import Act
from tests.models.acts.shed import LONG, Shed

DAY = date(2025, 11, 25)


def test_parts_on_the_shelf_are_counted_anew(bare: Shed):
    bare.run(StockPart(part="shear-pin", quantity=4, spec="1/4 x 1-3/4", spot="hook 3"))
    bare.run(StockPart(part="shear-pin", quantity=2, spec="5/16"))
    bare.run(
        StockPart(part="shear-pin", quantity=1, spec="1/4 x 1-3/4", spot="hook 3", name="pins")
    )
    rows = bare.rows(ShelfPartRow)
    assert [(row.spec, row.quantity) for row in rows] == [("1/4 x 1-3/4", 1), ("5/16", 2)]
    assert rows[0].name == "pins"
    assert rows[1].name
    bare.refuses(StockPart(part="shear-pin", quantity=2, spec="5/16"), RefusedCode.NOTHING_CHANGED)


def test_a_payment_may_be_older_than_the_machine(shed: Shed):
    shed.run(
        Pay(
            day=date(2019, 12, 1),
            sort=PaymentSort.BOUGHT,
            cents=45_000,
            machine_id=1,
            unit_id=2,
            shop="the mill shop",
        )
    )
    (row,) = shed.rows(PaymentRow)
    assert (row.cents, row.machine_id, row.item_id) == (45_000, 1, 2)


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (StockPart(part="unobtainium", quantity=1), RefusedCode.UNKNOWN_CODE),
        (StockPart(part="shear-pin", quantity=-1), RefusedCode.OUT_OF_RANGE),
        (StockPart(part="shear-pin", quantity=1, spec=LONG), RefusedCode.TOO_LONG),
        (StockPart(part="shear-pin", quantity=1, note="\x00"), RefusedCode.NOT_PLAIN_TEXT),
        (Pay(day=date(2026, 1, 1), sort=PaymentSort.FUEL, cents=1), RefusedCode.DAY_AHEAD),
        (Pay(day=date(1899, 1, 1), sort=PaymentSort.FUEL, cents=1), RefusedCode.DAY_OUT_OF_RANGE),
        (Pay(day=DAY, sort=PaymentSort.FUEL, cents=-1), RefusedCode.OUT_OF_RANGE),
        (Pay(day=DAY, sort=PaymentSort.FUEL, cents=10**12), RefusedCode.OUT_OF_RANGE),
        (Pay(day=DAY, sort=PaymentSort.FUEL, cents=1, machine_id=8), RefusedCode.NOT_THERE),
        (Pay(day=DAY, sort=PaymentSort.FUEL, cents=1, unit_id=1), RefusedCode.NOT_THERE),
        (Pay(day=DAY, sort=PaymentSort.FUEL, cents=1, text=LONG), RefusedCode.TOO_LONG),
    ],
)
def test_stores_that_make_no_sense(standing: Shed, act: Act, code: RefusedCode):
    standing.refuses(act, code)


def sheet(*lines: SheetLine, **given: Any) -> PrintSheet:
    return PrintSheet(**{"sort": SheetSort.PRESEASON, "paper": Paper.A4, "lines": lines, **given})


WALK_ROUND = SheetLine(machine_id=1, tasks=("S2-01", "S2-02"), text="walk round “quoted” 🌨")
PLUG = SheetLine(machine_id=1, tasks=("E4-07",), text="plug")


def test_a_sheet_keeps_what_stood_on_it(shed: Shed):
    shed.add_machine(name="Blue one")
    shed.run(sheet(WALK_ROUND, PLUG, machine_ids=(2,)))
    (row,) = shed.rows(SheetRow)
    assert read_lines(row.lines) == (WALK_ROUND, PLUG)
    assert row.printed_on == shed.today
    assert {each.machine_id for each in shed.rows(SheetMachineRow)} == {1, 2}


def test_numbers_go_up_come_round_and_spare_sheets_still_out(shed: Shed):
    for _ in range(3):
        shed.run(sheet(PLUG))
    first, second, third = (row.number for row in shed.rows(SheetRow))
    assert (second, third) == (first + 1, first + 2)
    assert 1000 <= first <= 9999


def test_numbers_come_round_again(shed: Shed, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("models.acts.sheets.FIRST_NUMBER", 9997)
    for _ in range(3):
        shed.run(sheet(PLUG))
    shed.run(EnterSheet(number=9999, day=DAY))
    shed.run(sheet(PLUG))
    numbers = [row.number for row in shed.rows(SheetRow)]
    assert sorted(numbers[:3]) == [9997, 9998, 9999]
    assert numbers[3] == 9999
    shed.run(sheet(PLUG))
    assert len(shed.rows(SheetRow)) == 5


def test_the_whole_sheet_is_ticked_then_the_exceptions(shed: Shed):
    shed.add_machine(name="Blue one")
    shed.run(NoteJob(machine_id=2, text="squeals", noted_on=DAY))
    squeals = SheetLine(machine_id=2, job_id=1, text="squeals")
    shed.run(sheet(WALK_ROUND, PLUG, squeals))
    number = shed.rows(SheetRow)[0].number
    changes = shed.run(
        EnterSheet(
            number=number,
            day=DAY,
            exceptions=(SheetException(place=1, outcome=LineOutcome.NOT_DONE, note="seized"),),
            by_whom="Ada",
            minutes=55,
        )
    )
    assert {(Area.MACHINES, 1), (Area.MACHINES, 2), (Area.JOBS, 1)} <= changes.ids
    assert [(row.machine_id, row.minutes) for row in shed.rows(WorkRow)] == [(1, 55), (2, None)]
    assert [line.outcome for line in shed.rows(WorkLineRow)] == [
        LineOutcome.DONE,
        LineOutcome.DONE,
        LineOutcome.NOT_DONE,
        LineOutcome.DONE,
    ]
    assert shed.machine(2).jobs == ()
    assert shed.rows(SheetRow)[0].entered_on == shed.today
    shed.refuses(EnterSheet(number=number, day=DAY), RefusedCode.CLOSED_ALREADY, id=number)


def test_sheets_that_make_no_sense(shed: Shed):
    shed.refuses(sheet(SheetLine(machine_id=9)), RefusedCode.NOT_THERE)
    shed.refuses(sheet(machine_ids=(9,)), RefusedCode.NOT_THERE)
    shed.refuses(sheet(SheetLine(machine_id=1, tasks=("MW-01",))), RefusedCode.UNKNOWN_CODE)
    shed.refuses(sheet(SheetLine(machine_id=1, job_id=4)), RefusedCode.NOT_THERE)
    shed.refuses(sheet(SheetLine(machine_id=1, text="\x00")), RefusedCode.NOT_PLAIN_TEXT)
    shed.run(sheet())
    number = shed.rows(SheetRow)[0].number
    shed.refuses(EnterSheet(number=number, day=DAY), RefusedCode.NOTHING_GIVEN)
    shed.run(sheet(PLUG))
    plug = number + 1
    beyond = (SheetException(place=1, outcome=LineOutcome.FAILED),)
    shed.refuses(EnterSheet(number=plug, day=DAY, exceptions=beyond), RefusedCode.OUT_OF_RANGE)
    shed.refuses(EnterSheet(number=plug, day=date(2025, 11, 24)), RefusedCode.DAY_TOO_EARLY)
    shed.refuses(EnterSheet(number=plug, day=date(2025, 11, 26)), RefusedCode.DAY_AHEAD)
    shed.refuses(EnterSheet(number=plug, day=DAY, minutes=-1), RefusedCode.OUT_OF_RANGE)
    for nobody in (0, 999, 5555, 10_000, 10**30):
        shed.refuses(EnterSheet(number=nobody, day=DAY), RefusedCode.NOT_THERE, what="sheet")


def test_a_number_is_not_given_again_when_a_printing_is_undone(shed: Shed):
    shed.run(sheet(PLUG))
    shed.run(sheet(PLUG))
    undone = shed.rows(SheetRow)[-1].number
    assert shed.household.need_writer().undo(moment=shed.moment) is not None
    shed.run(sheet(PLUG))
    assert shed.rows(SheetRow)[-1].number == undone + 1


@pytest.mark.parametrize(
    "kept",
    [
        "[1]",
        "{}",
        "null",
        "nonsense",
        '[{"codes": ["S2-05"]}]',
        "[" * 100_000,
        '[{"machine_id": true, "tasks": [], "job_id": null, "text": ""}]',
        '[{"machine_id": 1, "tasks": 5, "job_id": null, "text": ""}]',
    ],
)
def test_lines_that_say_something_else_are_none(kept: str):
    assert read_lines(kept) == ()
