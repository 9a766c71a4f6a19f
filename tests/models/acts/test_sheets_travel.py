"""A sheet taken in by another household names the machines it was printed for."""

import json
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from models.acts.jobs import NoteJob
from models.acts.sheets import EnterSheet, PrintSheet, SheetLine, read_lines
from models.errors import Refused, RefusedCode
from models.exchange.fleet import export_fleet, parse_fleet
from models.file import create_household
from models.moment import Moment
from models.tables.machines import ItemRow, MachineRow
from models.tables.stores import SheetRow
from models.tables.work import JobRow, WorkLineRow, WorkRow
from models.words import Paper, SheetSort
from tests.models.acts.conftest import furnished
from tests.models.acts.shed import THROWER, Shed

DAY = date(2025, 11, 25)
BELTS = ("S2-01",)


@pytest.fixture
def other(tmp_path: Path, moment: Moment) -> Iterator[Shed]:
    """Another household: it has two machines already, and a sheet that is out."""
    later = Moment(moment.today, moment.now + timedelta(hours=1))
    path = tmp_path / "other.firstpull"
    with create_household(path, name="Another", moment=later) as household:
        shed = furnished(Shed(household, later))
        shed.add_machine(name="Its second")
        yield shed


def printed(*lines: SheetLine, **given: Any) -> PrintSheet:
    return PrintSheet(sort=SheetSort.PRESEASON, paper=Paper.A4, lines=lines, **given)


def sent(shed: Shed) -> dict[str, Any]:
    with shed.household.read() as session:
        return json.loads(export_fleet(session))


def take(shed: Shed, fleet: dict[str, Any]) -> None:
    act = parse_fleet(json.dumps(fleet).encode(), kinds={THROWER})
    shed.household.need_writer().run(act, moment=shed.moment)


def booked_on(shed: Shed) -> set[str]:
    """Names of the machines that have work."""
    names = {row.id: row.name for row in shed.rows(ItemRow)}
    items = {row.id: row.item_id for row in shed.rows(MachineRow)}
    return {names[items[row.machine_id]] for row in shed.rows(WorkRow)}


def with_a_sheet(shed: Shed) -> int:
    """Prints one for the second machine, with a job; returns its number."""
    shed.add_machine(name="Far one")
    shed.run(NoteJob(machine_id=2, text="squeals", noted_on=DAY))
    shed.run(printed(SheetLine(machine_id=2, tasks=BELTS), SheetLine(machine_id=2, job_id=1)))
    return shed.rows(SheetRow)[-1].number


def of_old(fleet: dict[str, Any]) -> dict[str, Any]:
    """As exports were: with the numbers of rows."""
    machines = {row["uid"]: number for number, row in enumerate(fleet["machine"], 1)}
    jobs = {row["uid"]: number for number, row in enumerate(fleet["job"], 1)}
    for sheet in fleet["sheet"]:
        sheet["lines"] = json.dumps(
            [
                {
                    "machine_id": machines[line["machine"]],
                    "tasks": line["tasks"],
                    "job_id": line["job"] and jobs[line["job"]],
                    "text": line["text"],
                }
                for line in json.loads(sheet["lines"])
            ]
        )
    return fleet


@pytest.mark.parametrize("written", [lambda fleet: fleet, of_old], ids=["today", "of old"])
def test_its_work_is_booked_on_the_machine_it_was_printed_for(
    shed: Shed, other: Shed, written: Callable[[dict[str, Any]], dict[str, Any]]
):
    number = with_a_sheet(shed)
    take(other, written(sent(shed)))
    other.run(EnterSheet(number=number, day=DAY))
    assert booked_on(other) == {"Far one"}
    assert {row.job_id for row in other.rows(WorkLineRow)} == {None, other.rows(JobRow)[0].id}


def test_what_travels_holds_no_row_numbers(shed: Shed):
    with_a_sheet(shed)
    fleet = sent(shed)
    lines = json.loads(fleet["sheet"][0]["lines"])
    assert [line["machine"] for line in lines] == [fleet["machine"][1]["uid"]] * 2
    assert [line["job"] for line in lines] == [None, fleet["job"][0]["uid"]]


def test_an_older_export_that_leaves_a_doubt_gives_no_lines(shed: Shed, other: Shed):
    shed.add_machine(name="Far one")
    shed.run(printed(SheetLine(machine_id=2, tasks=BELTS), machine_ids=(1, 2)))
    number = shed.rows(SheetRow)[-1].number
    take(other, of_old(sent(shed)))
    other.refuses(EnterSheet(number=number, day=DAY), RefusedCode.NOTHING_GIVEN)


def test_a_number_that_is_out_here_already_is_not_given_to_another(shed: Shed, other: Shed):
    number = with_a_sheet(shed)
    other.run(printed(SheetLine(machine_id=1, tasks=BELTS)))
    assert other.rows(SheetRow)[0].number == number
    take(other, sent(shed))
    here, came = other.rows(SheetRow)
    assert (here.number, came.number) == (number, number + 1)
    other.run(EnterSheet(number=number, day=DAY))
    assert "Far one" not in booked_on(other)
    take(other, sent(shed))  # known by now: it keeps what it has
    assert [row.number for row in other.rows(SheetRow)] == [number, number + 1]


def test_one_entered_elsewhere_does_not_hide_one_that_is_out(shed: Shed, other: Shed):
    number = with_a_sheet(shed)
    shed.run(EnterSheet(number=number, day=DAY))
    other.run(printed(SheetLine(machine_id=1, tasks=BELTS)))
    take(other, sent(shed))
    assert {row.number for row in other.rows(SheetRow)} == {number}
    other.run(EnterSheet(number=number, day=DAY))


def test_what_came_in_is_passed_over_by_the_next_printing(shed: Shed, other: Shed):
    fleet = sent(shed)
    with_a_sheet(shed)
    fleet = sent(shed)
    fleet["sheet"][0]["number"] = 4127
    take(other, fleet)
    other.run(printed(SheetLine(machine_id=1, tasks=BELTS)))
    assert other.rows(SheetRow)[-1].number == 4128


def test_an_entered_sheet_stays_entered_whatever_comes_in(shed: Shed):
    number = with_a_sheet(shed)
    fleet = sent(shed)
    shed.run(EnterSheet(number=number, day=DAY))
    take(shed, fleet)
    shed.refuses(EnterSheet(number=number, day=DAY), RefusedCode.CLOSED_ALREADY)
    assert len(read_lines(shed.rows(SheetRow)[0].lines)) == 2


def lines(*each: object) -> str:
    return json.dumps(each)


LINE = {"machine": "m", "tasks": [], "job": None, "text": ""}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("nonsense", RefusedCode.IMPORT_FIELD),
        ("{}", RefusedCode.IMPORT_FIELD),
        ("[" * 50_000, RefusedCode.IMPORT_FIELD),
        (lines(1), RefusedCode.IMPORT_FIELD),
        (lines({**LINE, "machine": 1}), RefusedCode.IMPORT_FIELD),
        (lines({**LINE, "tasks": [1]}), RefusedCode.IMPORT_FIELD),
        (lines({**LINE, "text": "\ud800"}), RefusedCode.IMPORT_FIELD),
        (lines({**LINE, "text": "\0"}), RefusedCode.IMPORT_FIELD),
        (lines({**LINE, "machine": "gone"}), RefusedCode.IMPORT_LINK),
        (lines({**LINE, "job": "gone"}), RefusedCode.IMPORT_LINK),
    ],
)
def test_lines_that_name_nothing_are_refused(shed: Shed, other: Shed, text: str, code: RefusedCode):
    with_a_sheet(shed)
    fleet = sent(shed)
    fleet["sheet"][0]["lines"] = text.replace('"m"', json.dumps(fleet["machine"][1]["uid"]))
    with pytest.raises(Refused) as caught:
        take(other, fleet)
    assert caught.value.code is code
    assert dict(caught.value.values)["where"] == "sheet[0]"
    assert other.rows(SheetRow) == []
