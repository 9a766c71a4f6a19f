"""Style and types, judged by the tools at the versions pyproject.toml pins."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

pytestmark = pytest.mark.lint


def satisfy(*arguments: str) -> None:
    """Fails with all that the tool has to say about the tree."""
    told = subprocess.run(
        [sys.executable, "-m", *arguments],
        cwd=ROOT,
        # Without it pyright looks for a newer release of itself on each run.
        env={**os.environ, "PYRIGHT_PYTHON_IGNORE_WARNINGS": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    if told.returncode:
        pytest.fail(f"{' '.join(arguments[:2])}\n{told.stdout}", pytrace=False)


def test_ruff_finds_nothing():
    satisfy("ruff", "check", "--output-format", "concise")


def test_everything_is_formatted():
    satisfy("ruff", "format", "--check", "--output-format", "concise")


PRODUCT = ("app", "models", "schedules", "resources", "sample_db")


@pytest.mark.timeout(400)
@pytest.mark.parametrize(
    "folders", [PRODUCT, pytest.param(("tests",), marks=pytest.mark.long)], ids=["product", "tests"]
)
def test_pyright_finds_nothing(folders: tuple[str, ...]):
    satisfy("pyright", "--pythonpath", sys.executable, *folders)
