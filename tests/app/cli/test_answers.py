from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from models.acts.household import ChangeSettings
from models.moment import Moment
from schedules.facts import (
    Band,
    FuelClock,
    GovernedBy,
    HoursBasis,
    MachineState,
    TaskState,
    VesselSort,
)
from schedules.reasons import ReasonCode
from tests.app.cli.conftest import ODD, SCHEMAS, Run


def due(firstpull: Run, shed: Path, *more: str) -> Any:
    return firstpull("due", "--file", shed, "--on", "2025-11-25", "--json", *more).data


def grounds(ground: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield ground
    for child in ground["children"]:
        yield from grounds(child)


def test_what_is_due_has_the_shape_it_is_promised(
    firstpull: Run, shed: Path, holds: Callable[[str, Any], None]
):
    data = due(firstpull, shed)
    holds("due", data)
    assert [machine["kind"] for machine in data["machines"]] == ["K01", "K04", "K14"]
    assert data["machines"][1]["name"] == ODD
    assert data["machines"][1]["state"] == "unknown"
    for machine in data["machines"]:
        assert machine["tasks"]
        for task in machine["tasks"]:
            assert (task["due"] is None) == (task["days_left"] is None)
            assert task["hours_left"] is None or round(task["hours_left"], 2) == task["hours_left"]


def test_every_answer_says_what_it_rests_on(firstpull: Run, shed: Path):
    data = due(firstpull, shed)
    tasks = [task for machine in data["machines"] for task in machine["tasks"]]
    for task in tasks:
        for ground in grounds(task["reason"]):
            assert ground["text"]
            if ground["source"] is not None:
                assert ground["source"] in task["sources"]
    assert any(task["sources"] for task in tasks)


def test_the_schema_knows_every_code(holds: Callable[[str, Any], None]):
    schema = json.loads((SCHEMAS / "due.schema.json").read_text())["$defs"]
    wanted: dict[type[StrEnum], list[str]] = {
        ReasonCode: schema["reason"]["properties"]["code"]["enum"],
        TaskState: schema["task"]["properties"]["state"]["enum"],
        GovernedBy: schema["task"]["properties"]["governed_by"]["enum"],
        MachineState: schema["machine"]["properties"]["state"]["enum"],
        HoursBasis: schema["machine"]["properties"]["hours"]["properties"]["basis"]["enum"],
        Band: schema["vessel"]["properties"]["band"]["enum"],
        FuelClock: schema["vessel"]["properties"]["governed_by"]["enum"],
        VesselSort: schema["vessel"]["properties"]["sort"]["enum"],
    }
    for enum, codes in wanted.items():
        assert codes == [member.value for member in enum]
    fuel = json.loads((SCHEMAS / "fuel.schema.json").read_text())["$defs"]
    assert fuel["vessel"] == schema["vessel"]
    assert fuel["lot"] == schema["lot"]
    assert fuel["reason"] == schema["reason"]


def test_a_schema_refuses_what_was_not_promised(
    firstpull: Run, shed: Path, holds: Callable[[str, Any], None]
):
    data = due(firstpull, shed)
    data["machines"][0]["state"] = "shiny"
    with pytest.raises(jsonschema.ValidationError):
        holds("due", data)


def test_the_list_for_people_is_by_machine_and_worst_first(firstpull: Run, shed: Path):
    said = firstpull("due", "--file", shed, "--on", "2025-11-25")
    assert said.code == 1
    lines = said.out.splitlines()
    assert lines[0].startswith("Tue 25 Nov 2025: 3 machines, ")
    heads = [line for line in lines[1:] if line and not line.startswith(" ")]
    assert heads[0].startswith(f"How {ODD} is, nobody can say yet")
    assert heads[1] == ("Red one is usable, but the fuel in it is old: drain it, do not run on it.")
    assert heads[2] == "Washer is ready."
    assert "nobody knows the last time of" in said.out
    assert "  single-stage snow thrower, number 1, Lean-to, about " in said.out
    assert "None" not in said.out


@pytest.mark.parametrize("columns", [80, 50])
def test_no_line_is_wider_than_the_terminal(
    firstpull: Run, shed: Path, columns: int, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("COLUMNS", str(columns))
    for more in ([], ["--why"]):
        said = firstpull("due", "--file", shed, "--on", "2025-11-25", *more)
        assert max(map(len, said.out.splitlines())) <= columns


def test_of_many_unknown_things_a_few_are_named_and_why_tells_all(firstpull: Run, shed: Path):
    short = firstpull("due", "--file", shed, "--on", "2025-11-25").out
    told = " ".join(short.split())
    assert "With --why each is told." in told
    (counted,) = re.findall(r"([0-9]+) things nobody knows the last time of, as (.*?)\. With", told)
    assert int(counted[0]) > 3
    assert counted[1].count("; ") == 2
    full = firstpull("due", "--file", shed, "--on", "2025-11-25", "--why").out
    assert "things nobody knows" not in full


def test_why_says_more_and_names_sources(firstpull: Run, shed: Path):
    short = firstpull("due", "--file", shed, "--on", "2025-11-25")
    long = firstpull("due", "--file", shed, "--on", "2025-11-25", "--why")
    assert len(long.out.splitlines()) > 2 * len(short.out.splitlines())
    assert "Counted from Fri 1 Sept 2023, when it came." in long.out


def test_a_day_before_there_was_anything_knows_nothing(firstpull: Run, shed: Path):
    said = firstpull("due", "--file", shed, "--on", "2020-01-01")
    assert (said.code, said.out) == (0, "Wed 1 Jan 2020: no machine is entered yet.\n")


def test_fuel_has_the_shape_it_is_promised(
    firstpull: Run, shed: Path, holds: Callable[[str, Any], None]
):
    said = firstpull("fuel", "--file", shed, "--on", "2025-11-25", "--json")
    holds("fuel", said.data)
    assert said.code == 1
    stale = [vessel for vessel in said.data["vessels"] if vessel["band"] == "drain"]
    assert stale
    lot = stale[0]["lots"][0]
    assert lot["bought"] == "2024-04-01"
    assert lot["age_days"] == 603
    assert lot["ethanol"] == 0.1
    assert lot["ageing"] > 1
    inside = {v["id"]: v for m in due(firstpull, shed)["machines"] for v in m["fuel"]}
    assert {vessel["id"]: vessel for vessel in said.data["vessels"]} == inside


def test_fuel_for_people(firstpull: Run, shed: Path):
    said = firstpull("fuel", "--file", shed, "--on", "2025-11-25", "--why")
    assert said.code == 1
    assert "drain it, do not run on it" in said.out
    assert "bought 1 Apr 2024" in said.out
    assert "Red one, tank, 750\u00a0mL: drain it, do not run on it." in said.out


def test_a_household_reads_its_own_units(firstpull: Run, shed: Path, moment: Moment):
    from models.file import open_household
    from models.words import Language
    from schedules.units import UnitSystem

    with open_household(shed, moment=moment) as opened:
        opened.need_writer().run(
            ChangeSettings(language=Language.AMERICAN, unit_system=UnitSystem.US), moment=moment
        )
    said = firstpull("fuel", "--file", shed, "--on", "2025-11-25")
    assert "fl\u00a0oz" in said.out or "\u00a0gal" in said.out
    assert "gas, up to 10% alcohol" in said.out
    due_text = firstpull("due", "--file", shed, "--on", "2025-11-25").out
    assert "single-stage snow thrower (snow blower)" in due_text


def test_the_same_question_has_the_same_answer(firstpull: Run, shed: Path):
    before = shed.read_bytes()
    assert due(firstpull, shed) == due(firstpull, shed)
    assert shed.read_bytes() == before


def test_an_export_with_a_loose_end_is_refused_and_begins_nothing(
    firstpull: Run, shed: Path, tmp_path: Path
):
    firstpull("export", tmp_path, "--file", shed)
    source = tmp_path / "fleet.json"
    fleet = json.loads(source.read_text())
    fleet["machine"][0]["item"] = "nowhere"
    source.write_text(json.dumps(fleet))
    file = tmp_path / "new.firstpull"
    said = firstpull("import", source, "--file", file)
    assert said.code == 3
    assert "“item” points to nowhere" in said.err
    assert not file.exists()


def test_a_fleet_from_outside_gives_the_same_answers(firstpull: Run, shed: Path, tmp_path: Path):
    firstpull("export", tmp_path, "--file", shed)
    other = tmp_path / "other.firstpull"
    said = firstpull("import", tmp_path / "fleet.json", "--file", other)
    assert (said.code, "3 machines taken in." in said.out) == (0, True)
    assert due(firstpull, other) == due(firstpull, shed)
