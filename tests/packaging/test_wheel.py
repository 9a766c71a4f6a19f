"""What is handed out works away from the source tree, and holds all of it but the tests."""

import os
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
STATED = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
PACKAGES = ["app", "models", "schedules", "resources", "sample_db"]
VERSION = STATED["project"]["version"]
# Sets up a checkout; from an installed copy there is none. Pictures are for the README.
LEFT_OUT = ("app/setup_env.py", "resources/pictures/")
# What a desktop leaves lying in the folders it shows.
NOT_OURS = {".DS_Store", "Thumbs.db"}

START = """
import sys
sys.path.insert(0, {target!r})
from app.__main__ import main
try:
    code = main({arguments!r})
except SystemExit as end:
    code = end.code
strangers = sorted(
    name for name, module in sys.modules.items()
    if name.split(".")[0] in {packages!r}
    and not (getattr(module, "__file__", None) or {target!r}).startswith({target!r})
)
print("from elsewhere:", strangers)
sys.exit(code)
"""


def run(*command: str | Path, cwd: Path, **more: str) -> subprocess.CompletedProcess[str]:
    told = subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env={**os.environ, **more},
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 0, told.stdout + told.stderr
    return told


def tree_files() -> set[str]:
    return {
        file.relative_to(ROOT).as_posix()
        for package in PACKAGES
        for file in (ROOT / package).rglob("*")
        if file.is_file() and file.suffix != ".pyc" and file.name not in NOT_OURS
    }


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, cwd=ROOT)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def target(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("installed")
    pip = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index"]
    run(*pip, "--target", folder, wheel, cwd=folder, PIP_USER="0")
    return folder


@pytest.fixture(scope="module")
def held(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def test_the_wheel_holds_the_whole_tree_and_nothing_else(held: set[str]):
    inside = {name for name in held if ".dist-info/" not in name}
    assert inside == {name for name in tree_files() if not name.startswith(LEFT_OUT)}


def test_the_wheel_holds_no_tests_and_its_licence(held: set[str]):
    assert not [name for name in held if name.startswith("tests/")]
    assert f"firstpull-{VERSION}.dist-info/licenses/LICENSE" in held


def test_every_resource_and_every_migration_is_inside(held: set[str]):
    kept = [
        file.relative_to(ROOT).as_posix()
        for folder in ("resources", "models/migrations")
        for file in sorted((ROOT / folder).rglob("*"))
        if file.is_file() and "__pycache__" not in file.parts
    ]
    assert not [name for name in kept if name not in held and not name.startswith(LEFT_OUT)]


def test_every_package_says_that_it_is_typed(held: set[str]):
    assert not [package for package in PACKAGES if f"{package}/py.typed" not in held]


def test_it_starts_away_from_the_tree(target: Path, tmp_path: Path):
    source = START.format(target=str(target), arguments=["--version"], packages=PACKAGES)
    told = run(sys.executable, "-I", "-c", source, cwd=tmp_path)
    assert told.stdout.splitlines() == [f"firstpull {VERSION}", "from elsewhere: []"]


def test_it_starts_as_a_module_away_from_the_tree(target: Path, tmp_path: Path):
    command = (sys.executable, "-m", "app", "--version")
    told = run(*command, cwd=tmp_path, PYTHONPATH=str(target))
    assert told.stdout == f"firstpull {VERSION}\n"


def test_every_module_of_the_installed_copy_loads(target: Path, tmp_path: Path):
    names = [
        ".".join(file.relative_to(target).with_suffix("").parts)
        for package in PACKAGES
        for file in sorted((target / package).rglob("*.py"))
        # Revisions are run by alembic, inside a migration.
        if "migrations" not in file.parts and not file.name.startswith("__")
    ]
    source = (
        "import importlib, sys\n"
        f"sys.path.insert(0, {str(target)!r})\n"
        f"for name in {names!r}:\n"
        "    module = importlib.import_module(name)\n"
        f"    assert module.__file__.startswith({str(target)!r}), module.__file__\n"
        "print(len(sys.modules))\n"
    )
    run(sys.executable, "-I", "-c", source, cwd=tmp_path)


def test_the_console_script_leads_to_the_door(wheel: Path):
    with zipfile.ZipFile(wheel) as archive:
        points = archive.read(f"firstpull-{VERSION}.dist-info/entry_points.txt").decode()
    assert points.split() == ["[console_scripts]", "firstpull", "=", "app.__main__:main"]
