"""The recipes keep their promises: members, areas, settings and steps are named as they are."""

from __future__ import annotations

import re
from dataclasses import fields
from enum import StrEnum
from fractions import Fraction
from pathlib import Path

import pytest

from app.cli.parser import COMMANDS, SHEETS
from app.sheets.starting import SORTS
from models.changes import Area
from models.facts.settings import HouseholdSettings
from models.words import SheetSort
from resources.loader import load_catalogue
from schedules.facts import (
    ItemSort,
    MachineState,
    Mark,
    PairSort,
    Phase,
    Policy,
    Severity,
    TaskState,
)

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
ORDER = (
    "Run it, test it",
    "Map of the house",
    "A click from end to end",
    "Add a machine kind",
    "Add a task",
    "Add a room",
    "Change the schema",
    "Add a sheet",
    "Words we use",
    "Decisions",
    "How we review",
)
LARGEST_PICTURE = 250_000


def section(title: str) -> str:
    """What stands under a heading, up to the next of its rank."""
    found = re.search(
        rf"^(#+) (?:\d+\. )?{re.escape(title)}\n(.*?)(?=^\1 |\Z)",
        DEVELOPERS,
        re.MULTILINE | re.DOTALL,
    )
    assert found is not None, title
    return found.group(2)


def coded(text: str) -> set[str]:
    """Everything set as code, single words of it."""
    return {word for code in re.findall(r"`([^`]+)`", text) for word in re.split(r"[ |]+", code)}


def test_the_sections_stand_in_their_order() -> None:
    heads = re.findall(r"^## \d+\. (.+)$", DEVELOPERS, re.MULTILINE)
    assert tuple(heads) == ORDER


@pytest.mark.parametrize(
    ("title", "members"),
    [
        ("Add a machine kind", Mark),
        ("Add a machine kind", PairSort),
        ("Add a task", Phase),
        ("Add a task", ItemSort),
        ("Add a task", Severity),
        ("Add a room", Area),
        ("Add a sheet", SheetSort),
        ("Words we use", MachineState),
        ("Words we use", TaskState),
    ],
)
def test_a_recipe_names_every_member_it_is_about(title: str, members: type[StrEnum]) -> None:
    assert {str(member) for member in members} <= coded(section(title).replace(", ", " "))


def test_every_setting_is_named_with_its_default() -> None:
    text = section("Settings")
    named = coded(text)
    assert {field.name for field in fields(HouseholdSettings)} <= named
    rows = {
        name: default
        for names, defaults in re.findall(r"^\| (`[a-z_`, ]+`) \| ([^|]+) \|", text, re.MULTILINE)
        for name, default in zip(
            re.findall(r"`([a-z_]+)`", names), defaults.strip().split(", "), strict=True
        )
    }
    assert {name: Fraction(default) for name, default in rows.items()} == {
        field.name: Fraction(getattr(Policy(), field.name)) for field in fields(Policy)
    }


def test_every_command_and_sheet_is_named_in_both() -> None:
    assert set(COMMANDS) <= coded(section("Commands"))
    assert set(SHEETS) <= coded(section("Add a sheet"))
    shown = re.findall(r"^firstpull .*$", README, re.MULTILINE)
    for command in COMMANDS:
        assert any(re.search(rf"\b{command}\b", line) for line in shown), command
    for sheet in SHEETS:
        assert any(re.search(rf"\b{sheet}\b", line) for line in shown), sheet


def test_the_readme_calls_what_is_tried() -> None:
    """Both lines of the README, and nothing of the set-up that they do not say."""
    tried = re.findall(
        r"python3 app/setup_env\.py[ a-z-]*", (ROOT / ".ci" / "run").read_text("utf-8")
    )
    written = re.findall(r"`(python3 app/setup_env\.py[ a-z-]*)`", README)
    assert sorted(written) == sorted(line.strip() for line in tried)
    windows = re.findall(r"`py app\\setup_env\.py([ a-z-]*)`", README)
    assert sorted(windows) == sorted(
        line.removeprefix("python3 app/setup_env.py") for line in written
    )


def test_modules_that_are_called_by_name_are_there() -> None:
    for name in re.findall(r"-m (tests\.[a-z_]+|app\.[a-z_.]+)", README + DEVELOPERS):
        place = ROOT.joinpath(*name.split("."))
        assert place.with_suffix(".py").is_file() or (place / "__main__.py").is_file(), name


def test_every_kind_went_through_the_whole_recipe() -> None:
    catalogue = load_catalogue()
    assert set(SORTS) == set(catalogue.kinds)
    for kind in catalogue.kinds.values():
        assert (ROOT / "resources" / "icons" / f"{kind.icon}.svg").is_file()
        assert (ROOT / "resources" / "catalogue" / f"kind-{kind.code.lower()}.toml").is_file()


def test_pictures_are_small_and_shown() -> None:
    shown = set(re.findall(r"\(resources/pictures/([a-z-]+\.png)\)", README))
    assert {"shed-light.png", "shed-dark.png"} <= shown
    for path in (ROOT / "resources" / "pictures").iterdir():
        assert path.name in shown
        assert path.stat().st_size < LARGEST_PICTURE, path.name
