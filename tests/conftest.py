"""What tests stand on: a fixed day, a household in a temporary file, no window, a silent log."""

from __future__ import annotations

import logging
import os
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

# Before anything imports Qt: no test may open a window on somebody's desk.
os.environ["QT_QPA_PLATFORM"] = os.environ.get("FIRSTPULL_TEST_PLATFORM", "offscreen")

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from models.file import Household
    from models.moment import Moment

TODAY = date(2025, 11, 25)
NOW = datetime(2025, 11, 25, 9, 30, tzinfo=UTC)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write what is made now over the stored examples, to be looked at and committed",
    )


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "warns(*loggers): warnings of these loggers are expected")


# What takes longest begins first, so that no core stands idle at the end.
LONGEST_FIRST = ("tests/architecture", "tests/screens", "tests/app/cli", "tests/models")


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    def rank(item: pytest.Item) -> int:
        return next(
            (n for n, folder in enumerate(LONGEST_FIRST) if item.nodeid.startswith(folder)),
            len(LONGEST_FIRST),
        )

    items.sort(key=rank)


@pytest.fixture
def update_golden(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--update-golden"))


@pytest.fixture(scope="session")
def today() -> date:
    return TODAY


@pytest.fixture(scope="session")
def moment() -> Moment:
    from models.moment import Moment

    return Moment(TODAY, NOW)


@pytest.fixture
def household_path(tmp_path: Path) -> Path:
    return tmp_path / "shed.firstpull"


@pytest.fixture(scope="session")
def empty_household(tmp_path_factory: pytest.TempPathFactory, moment: Moment) -> Path:
    """A household nobody put anything into, closed, to be copied."""
    from models.file import create_household  # loads SQLAlchemy, which few tests need

    path = tmp_path_factory.mktemp("empty") / "shed.firstpull"
    create_household(path, name="Our shed", moment=moment).close()
    return path


@pytest.fixture(scope="session")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> Callable[[date], Path]:
    """The made-up shed of a day, closed, to be copied: made once for all who run tests here."""
    own = tmp_path_factory.getbasetemp()
    folder = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own

    def of_day(on: date) -> Path:
        path = folder / f"made-up-{on}.firstpull"
        if not path.exists():
            from sample_db.build import build_sample  # loads SQLAlchemy, which few tests need

            made = own / path.name
            build_sample(made, on=on)
            made.replace(path)
        return path

    return of_day


@pytest.fixture
def household(empty_household: Path, household_path: Path, moment: Moment) -> Iterator[Household]:
    from models.file import open_household

    shutil.copyfile(empty_household, household_path)
    with open_household(household_path, moment=moment) as opened:
        yield opened


@pytest.fixture(autouse=True)
def no_unexpected_warning(request: pytest.FixtureRequest) -> Iterator[None]:
    """A record of WARNING or above that no test asked for fails it.

    A test that expects some says so with `@pytest.mark.warns("logger.name")`.
    """
    expected = {name for mark in request.node.iter_markers("warns") for name in mark.args}
    seen: list[logging.LogRecord] = []
    handler = _Collector(seen)
    logging.getLogger().addHandler(handler)
    yield
    logging.getLogger().removeHandler(handler)
    unexpected = [f"{r.name}: {r.getMessage()}" for r in seen if r.name not in expected]
    assert not unexpected


class _Collector(logging.Handler):
    def __init__(self, seen: list[logging.LogRecord]) -> None:
        super().__init__(logging.WARNING)
        self._seen = seen

    def emit(self, record: logging.LogRecord) -> None:
        self._seen.append(record)
