from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import resources
from app.__main__ import main
from models.acts.machines import AddMachine, FuelLeft
from models.acts.places import AddPlace
from models.acts.uses import LogUse
from models.changes import Area, Changes
from models.file import Household
from models.moment import Moment
from schedules.facts import FuelSort, Past


@dataclass(frozen=True, slots=True)
class Said:
    """How a call of the program ended and what it said."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        return json.loads(self.out)


Run = Callable[..., Said]
ODD = "{0} %s <b>№ 1</b>"
SCHEMAS = Path(resources.__file__).parent / "schemas"


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The user's folders are the test's own, the language is British."""
    home = tmp_path / "home"
    for name in ("XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(home / name.lower()))
    monkeypatch.setenv("LC_ALL", "en_GB.UTF-8")
    return home


@pytest.fixture
def firstpull(capsys: pytest.CaptureFixture[str]) -> Run:
    """Calls the program as the command line does."""

    def run(*arguments: object) -> Said:
        capsys.readouterr()
        try:
            code = main([str(argument) for argument in arguments])
        except SystemExit as end:  # the parser leaves this way
            code = end.code if isinstance(end.code, int) else 1
        out, err = capsys.readouterr()
        return Said(int(code), out, err)

    return run


@pytest.fixture
def holds() -> Callable[[str, Any], None]:
    """Holds an answer to the shipped schema."""

    def check(name: str, data: Any) -> None:
        schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text())
        jsonschema.Draft202012Validator.check_schema(schema)
        jsonschema.validate(data, schema, jsonschema.Draft202012Validator)

    return check


def number_of(changes: Changes, area: Area) -> int:
    return min(number for found, number in changes.ids if found is area)


@pytest.fixture
def shed(household: Household, moment: Moment) -> Path:
    """A place with a thrower that came new, a mower nobody knows, and a new washer."""
    writer = household.need_writer()
    placed = writer.run(AddPlace(name="Lean-to", climate="nordic"), moment=moment)
    place = number_of(placed, Area.PLACES)
    for name, kind, came, past in (
        ("Red one", "K01", date(2023, 9, 1), Past.NEW),
        (ODD, "K04", date(2024, 5, 1), Past.UNKNOWN),
        ("Washer", "K14", date(2025, 11, 1), Past.NEW),
    ):
        added = writer.run(
            AddMachine(
                name=name,
                kind=kind,
                place_id=place,
                came_on=came,
                past=past,
                fuel_left=FuelLeft.YES if kind != "K14" else FuelLeft.NO,
                bought_on=date(2024, 4, 1) if kind != "K14" else None,
                fuel_sort=FuelSort.E10,
            ),
            moment=moment,
        )
        machine = number_of(added, Area.MACHINES)
    use = LogUse(machine_id=machine, day=date(2025, 11, 20), run_seconds=1800)
    writer.run(use, moment=moment)
    household.close()
    return household.path
