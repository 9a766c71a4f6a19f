"""The documents say what is there: paths exist, commands, areas and sorts are named."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.cli.parser import build_parser
from app.wording.tongue import Tongue
from models.words import SheetSort

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PRINTED = (SheetSort.PRESEASON, SheetSort.CARD, SheetSort.BUYER)
FOLDERS = ("app", "models", "schedules", "resources", "tests", "sample_db")


def named_paths(text: str) -> list[str]:
    found = re.findall(r"`((?:{})/[A-Za-z0-9_./-]*)`".format("|".join(FOLDERS)), text)
    return [path for path in found if "NN" not in path]


@pytest.mark.parametrize("path", sorted(set(named_paths(README) + named_paths(DEVELOPERS))))
def test_every_path_that_is_named_exists(path: str) -> None:
    assert (ROOT / path).exists()


def test_pictures_and_links_lead_somewhere() -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", README):
        assert (ROOT / target).is_file(), target


def test_the_two_lines_are_the_ones_that_are_tried() -> None:
    tried = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    for line in ("python3 app/setup_env.py --test", "python3 app/setup_env.py"):
        assert f"`{line}`" in README
        assert line in tried


def test_every_command_is_in_the_readme() -> None:
    parser = build_parser(Tongue("en_GB"), lambda: "0")
    commands = re.search(r"\{([a-z,]+)\}", parser.format_usage() + parser.format_help())
    names = commands.group(1).split(",") if commands else []
    actions = [action for action in parser._actions if action.choices]
    names += [str(name) for action in actions for name in action.choices or ()]
    assert names
    for name in names:
        assert re.search(rf"\b{name}\b", README), name


def test_every_printed_sheet_is_named() -> None:
    for sort in PRINTED:
        assert str(sort) in README


def test_the_readme_opens_with_the_job_in_one_paragraph() -> None:
    title, _, rest = README.partition("\n\n")
    assert title == "# Firstpull"
    assert len(rest.split("\n\n")[0]) > 200


def test_every_room_and_folder_stands_on_the_map() -> None:
    for folder in ("app", "models", "schedules", "resources"):
        for path in (ROOT / folder).iterdir():
            if path.is_dir() and (path / "__init__.py").exists() and folder != "resources":
                assert f"{folder}/{path.name}/" in DEVELOPERS, path
