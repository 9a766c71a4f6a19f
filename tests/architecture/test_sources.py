"""Rules about the source text that no linter knows."""

import ast
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("app", "models", "schedules", "resources", "sample_db")
LONGEST_FUNCTION = 60
LONGEST_CLASS = 400

# The door reads the day, the moment, the language; the clock is what it hands on.
CLOCK_READERS = {"app/__main__.py", "app/clock.py"}
CLOCK_READS = {
    "date.today",
    "datetime.today",
    "datetime.now",
    "datetime.utcnow",
    "time.time",
    "time.time_ns",
    "time.localtime",
    "time.gmtime",
    "time.ctime",
    "QDate.currentDate",
    "QTime.currentTime",
    "QDateTime.currentDateTime",
    "QDateTime.currentDateTimeUtc",
    "QDateTime.currentMSecsSinceEpoch",
    "QDateTime.currentSecsSinceEpoch",
}
CLOCK_NAMES = {read.rsplit(".", 1)[1] for read in CLOCK_READS} - {"time", "now", "today"}

# The last net, and the edge of a thread.
CATCH_ALL = {"app/errors.py", "app/worker.py"}

# Of the standard library, what would tie a computation to this machine, this moment or a file.
NOT_FOR_COMPUTING = {
    "io",
    "locale",
    "os",
    "pathlib",
    "secrets",
    "shelve",
    "socket",
    "sqlite3",
    "subprocess",
    "tempfile",
    "threading",
    "time",
    "urllib",
    "uuid",
}
NO_SUBJECT = {"util", "utils", "helper", "helpers", "common", "manager", "managers", "misc"}


def sources(*packages: str) -> Iterator[tuple[str, str]]:
    for package in packages:
        for file in sorted((ROOT / package).rglob("*.py")):
            yield file.relative_to(ROOT).as_posix(), file.read_text(encoding="utf-8")


def imported_roots(source: str) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add((node.module or "").split(".")[0] if not node.level else "a relative import")
    return found


def foreign_imports(source: str) -> list[str]:
    allowed = (set(sys.stdlib_module_names) - NOT_FOR_COMPUTING) | {"dateutil", "schedules"}
    return sorted(imported_roots(source) - allowed)


def clock_reads(source: str) -> list[str]:
    found: list[str] = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Attribute):
            continue
        owner = ast.unparse(node.value).rsplit(".", 1)[-1]
        if f"{owner}.{node.attr}" in CLOCK_READS or node.attr in CLOCK_NAMES:
            found.append(f"line {node.lineno}: {owner}.{node.attr}")
    return found


def catch_alls(source: str) -> list[str]:
    found: list[str] = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.ExceptHandler):
            continue
        caught = "BaseException" if node.type is None else ast.unparse(node.type)
        if {"Exception", "BaseException"} & set(caught.strip("()").split(", ")):
            found.append(f"line {node.lineno}: except {caught}")
    return found


def too_long(source: str) -> list[str]:
    found: list[str] = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            allowed = LONGEST_FUNCTION
        elif isinstance(node, ast.ClassDef):
            allowed = LONGEST_CLASS
        else:
            continue
        lines = (node.end_lineno or node.lineno) - node.lineno + 1
        if lines > allowed:
            found.append(f"{node.name} has {lines} lines, allowed are {allowed}")
    return found


def against(
    rule: Callable[[str], list[str]], *packages: str, except_in: set[str] | None = None
) -> list[str]:
    return [
        f"{name}: {finding}"
        for name, source in sources(*packages)
        if name not in (except_in or set())
        for finding in rule(source)
    ]


def test_computing_rests_on_the_standard_library_and_dateutil():
    assert not against(foreign_imports, "schedules")


def test_only_the_door_reads_the_clock():
    assert not against(clock_reads, *PACKAGES, except_in=CLOCK_READERS)


def test_only_two_files_catch_everything():
    assert not against(catch_alls, *PACKAGES, except_in=CATCH_ALL)


def test_functions_and_classes_stay_short():
    # A revision is a list of statements, written once and never read for its flow.
    found = against(too_long, *PACKAGES)
    assert not [finding for finding in found if not finding.startswith("models/migrations/")]


def test_files_are_named_for_a_subject():
    names = [*sources(*PACKAGES, "tests")]
    assert not [name for name, _ in names if {*Path(name).parts, Path(name).stem} & NO_SUBJECT]


def test_packages_do_nothing_when_imported():
    full = [f"{package}/__init__.py" for package in PACKAGES]
    assert not [name for name in full if (ROOT / name).read_text(encoding="utf-8").strip()]


def test_only_widgets_ask_for_milder_types():
    milder = [name for name, source in sources(*PACKAGES) if "# pyright: standard" in source]
    assert not [
        name
        for name in milder
        if name != "app/window.py" and not name.endswith("/view.py") and "/pieces/" not in name
    ]
    assert not [name for name, source in sources(*PACKAGES) if "# pyright: basic" in source]


@pytest.mark.parametrize(
    ("rule", "source"),
    [
        (foreign_imports, "import numpy"),
        (foreign_imports, "def late():\n    from os import path"),
        (foreign_imports, "from . import facts"),
        (clock_reads, "import datetime\nday = datetime.date.today()"),
        (clock_reads, "from datetime import datetime\nread = datetime.now"),
        (clock_reads, "import time\nmoment = time.time()"),
        (clock_reads, "from PySide6 import QtCore\nQtCore.QDate.currentDate()"),
        (catch_alls, "try:\n    pass\nexcept Exception:\n    pass"),
        (catch_alls, "try:\n    pass\nexcept (ValueError, BaseException):\n    pass"),
        (catch_alls, "try:\n    pass\nexcept:\n    pass"),
        (too_long, "def walk():\n" + "    step()\n" * LONGEST_FUNCTION),
        (too_long, "class Shed:\n" + "    door = 1\n" * LONGEST_CLASS),
    ],
)
def test_each_rule_sees_a_trespass(rule: Callable[[str], list[str]], source: str):
    assert rule(source)
