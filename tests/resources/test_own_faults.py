"""Fault models of a household's own: the recipe's example is taken, and what is wrong is said."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from resources.fault_models import load_fault_models
from resources.own_faults import faults_beside, own_folder, parse_own_faults
from schedules.fault_facts import SymptomId

ROOT = Path(__file__).resolve().parents[2]


def example() -> str:
    """The model that the recipe gives whole."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    recipe = text.split("### Add a fault model of your own\n", maxsplit=1)[1]
    found = re.search(r"```toml\n(.*?)```", recipe, re.DOTALL)
    assert found is not None
    return found.group(1)


def test_the_recipe_s_example_stands_after_ours():
    own = parse_own_faults({"lamp.toml": example()})
    assert own.problems == ()
    assert [*own.models.models][:-1] == [*load_fault_models().models]
    model = own.models.models[SymptomId("H1")]
    assert model.is_own
    assert not any(one.is_own for one in load_fault_models().models.values())


def swapped(before: str, after: str) -> str:
    assert before in example(), before
    return example().replace(before, after, 1)


@pytest.mark.parametrize(
    ("before", "after", "key", "problem"),
    [
        ('code = "H1"', 'code = "S1F"', "code", "like H1"),
        ('code = "H1"', 'code = "H12345"', "code", "like H1"),
        ("odds = 45", "odds = 44", "cause", "sum to 99"),
        ("[0.03, 0.97]", "[0.03, 0.96]", "test[wiggle].rows.rest", "sums to 0.99"),
        ("[0.8, 0.2]", "[1.0, 0.0]", "test[wiggle].rows.LW", "between"),
        ("rows.LB = [0.03, 0.97]", "rows.LB = [0.9, 0.1]", "swap", "tells nothing apart"),
        ('["C-STOP"]', "[]", "test[swap].cautions", "no test is without"),
        ('["C-STOP"]', '["C-NIX"]', "test[swap].cautions", "C-NIX"),
        ('kinds = ["K01", "K02"]', 'kinds = ["K99"]', "kinds", "K99"),
        ('kinds = ["K01", "K02"]', "kinds = []", "kinds", "is missing"),
        ("handover = 45", "handover = 45\nspeed = 1", "speed", "unknown key"),
        ("handover = 45", "handover = 99999", "handover", "out of all measure"),
        ("minutes = 2", "minutes = 1e999", "", "out of all measure"),
        ("minutes = 2", "minutes = 1e-99999999", "", "out of all measure"),
        ("minutes = 2", "minutes = 20000.5", "minutes", "more than"),
        ("days = 10", "days = -1", "cause[LC].cures", "days"),
        ('opening = "shroud"', 'opening = "shroud"\ngoes_on = "H7"', "cause[LC].goes_on", "H7"),
        ('title = "Headlamp', 'title = "' + "x" * 200, "title", "longer"),
        ("stays dark", "stays\\ndark", "title", "one line"),
        ('title = "Headlamp stays dark"', "title = [[[", "", "is no TOML"),
        ("stays dark", "stays \\u0000", "title", "one line"),
    ],
)
def test_what_is_wrong_is_named_and_stops_nothing_else(
    before: str, after: str, key: str, problem: str
):
    other = swapped('code = "H1"', 'code = "H2"')
    own = parse_own_faults({"bad.toml": swapped(before, after), "good.toml": other})
    assert [one.file for one in own.problems] == ["bad.toml"]
    assert own.problems[0].key == key
    assert problem in own.problems[0].problem
    assert [code for code in own.models.models if code.startswith("H")] == ["H2"]


def test_the_same_code_twice_and_goals_that_fall_away():
    goes = swapped('opening = "shroud"', 'opening = "shroud"\ngoes_on = "H2"')
    second = swapped('code = "H1"', 'code = "H2"').replace(
        'opening = "shroud"', 'opening = "shroud"\ngoes_on = "H3"', 1
    )
    own = parse_own_faults({"a.toml": goes, "b.toml": second, "c.toml": example()})
    assert {one.file for one in own.problems} == {"a.toml", "b.toml", "c.toml"}
    assert own.models.models == load_fault_models().models


def test_the_folder_beside_the_file_is_read_anew_when_it_changes(tmp_path: Path):
    file = tmp_path / "shed.firstpull"
    assert faults_beside(file).models is load_fault_models()
    folder = own_folder(file)
    folder.mkdir()
    assert folder.name == "shed-faults"
    (folder / "lamp.toml").write_text(example(), "utf-8")
    (folder / "odd.toml").write_bytes(b"\xff\xfe")
    (folder / "deep.toml").write_text("a = " + "[" * 3000, "utf-8")
    (folder / "long.toml").write_text("#" * 300_000, "utf-8")
    (folder / "folder.toml").mkdir()
    (folder / "gone.toml").symlink_to(tmp_path / "nowhere")
    if hasattr(os, "mkfifo"):
        os.mkfifo(folder / "pipe.toml")
    own = faults_beside(file)
    assert SymptomId("H1") in own.models.models
    assert {one.file for one in own.problems} - {"pipe.toml"} == {
        "gone.toml",
        "odd.toml",
        "deep.toml",
        "long.toml",
        "folder.toml",
    }
    (folder / "lamp.toml").unlink()
    assert SymptomId("H1") not in faults_beside(file).models.models


def test_every_file_beyond_the_hundredth_is_told(tmp_path: Path):
    folder = own_folder(tmp_path / "shed.firstpull")
    folder.mkdir()
    for n in range(102):
        (folder / f"f{n:03}.toml").touch()
    own = faults_beside(tmp_path / "shed.firstpull")
    assert [one.file for one in own.problems if "left out" in one.problem] == [
        "f100.toml",
        "f101.toml",
    ]
