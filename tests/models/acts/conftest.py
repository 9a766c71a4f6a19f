from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from models.file import Household, open_household
from models.moment import Moment
from tests.models.acts.shed import IN_MEMORY, Shed


@pytest.fixture
def household_path(tmp_path: Path) -> Iterator[Path]:
    with _folder(tmp_path) as folder:
        yield folder / "shed.firstpull"


@pytest.fixture
def bare(household: Household, moment: Moment) -> Shed:
    """A household with nothing in it."""
    return Shed(household, moment)


@pytest.fixture(scope="session")
def furnished_household(
    empty_household: Path, tmp_path_factory: pytest.TempPathFactory, moment: Moment
) -> Path:
    """Furnished once, closed, to be copied."""
    path = tmp_path_factory.mktemp("furnished") / "shed.firstpull"
    shutil.copyfile(empty_household, path)
    with open_household(path, moment=moment) as household:
        furnished(Shed(household, moment))
    return path


@pytest.fixture
def shed(furnished_household: Path, household_path: Path, moment: Moment) -> Iterator[Shed]:
    """One place (1) and one two-stage thrower (1), new in 2020."""
    shutil.copyfile(furnished_household, household_path)
    with open_household(household_path, moment=moment) as household:
        yield Shed(household, moment)


@pytest.fixture(scope="module")
def standing(
    furnished_household: Path, tmp_path_factory: pytest.TempPathFactory, moment: Moment
) -> Iterator[Shed]:
    """The same for all tests of a file that only hear refusals."""
    with _folder(tmp_path_factory.mktemp("standing")) as folder:
        path = folder / "shed.firstpull"
        shutil.copyfile(furnished_household, path)
        with open_household(path, moment=moment) as household:
            yield Shed(household, moment)


@contextmanager
def _folder(other: Path) -> Iterator[Path]:
    if not os.access(IN_MEMORY, os.W_OK):
        yield other
        return
    with tempfile.TemporaryDirectory(dir=IN_MEMORY) as folder:
        yield Path(folder)


def furnished(bare: Shed) -> Shed:
    bare.add_place()
    bare.add_machine()
    return bare
