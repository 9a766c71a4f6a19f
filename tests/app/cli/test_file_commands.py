import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from models.backup import list_backups
from models.file import Household, create_household
from models.moment import Moment
from models.words import Language
from tests.app.cli.conftest import Run


@pytest.fixture
def shed(household: Household) -> Path:
    """A household with nothing in it, closed."""
    household.close()
    return household.path


def test_an_empty_household_has_nothing_due(
    firstpull: Run, shed: Path, holds: Callable[[str, Any], None]
):
    said = firstpull("due", "--file", shed, "--on", "2025-11-25")
    assert (said.code, said.err) == (0, "")
    assert said.out == "Tue 25 Nov 2025: no machine is entered yet.\n"
    data = firstpull("due", "--file", shed, "--on", "2025-11-25", "--json").data
    assert data == {"schema": 1, "on": "2025-11-25", "machines": []}
    holds("due", data)


def test_an_empty_household_has_no_fuel(
    firstpull: Run, shed: Path, holds: Callable[[str, Any], None]
):
    said = firstpull("fuel", "--file", shed)
    assert (said.code, said.out) == (0, "No can and no tank is entered yet.\n")
    data = firstpull("fuel", "--file", shed, "--on", "2025-11-25", "--json").data
    assert data == {"schema": 1, "on": "2025-11-25", "vessels": []}
    holds("fuel", data)


def test_a_household_speaks_its_own_language(firstpull: Run, tmp_path: Path, moment: Moment):
    path = tmp_path / "shed.firstpull"
    create_household(path, name="Shed", moment=moment, language=Language.AMERICAN).close()
    said = firstpull("due", "--file", path, "--on", "2025-11-25")
    assert said.out.startswith("Tue, Nov 25, 2025:")


def test_a_check_asks_for_a_backup_and_is_content_with_one(
    firstpull: Run, shed: Path, holds: Callable[[str, Any], None]
):
    first = firstpull("check", "--file", shed)
    assert first.code == 1
    assert "no backup of it yet" in first.out
    made = firstpull("backup", "--file", shed, "--json")
    assert made.code == 0
    holds("done", made.data)
    (backup,) = list_backups(shed)
    assert made.data["paths"] == [str(backup.path)]
    second = firstpull("check", "--file", shed, "--json")
    assert second.code == 0
    holds("done", second.data)


def test_a_backup_that_rotted_is_found(firstpull: Run, shed: Path):
    firstpull("backup", "--file", shed)
    (backup,) = list_backups(shed)
    data = bytearray(backup.path.read_bytes())
    place = data.index(b"Our shed")
    data[place] ^= 1
    backup.path.write_bytes(data)
    said = firstpull("check", "--file", shed)
    assert said.code == 1
    assert "cannot be relied on" in said.out
    before = shed.read_bytes()
    refused = firstpull("restore", "--file", shed)
    assert refused.code == 3
    assert shed.read_bytes() == before


def test_a_backup_is_put_back_and_what_stood_there_is_kept(
    firstpull: Run, shed: Path, holds: Callable[[str, Any], None]
):
    nothing = firstpull("restore", "--file", shed)
    assert nothing.code == 3
    assert "no backup" in nothing.err
    firstpull("backup", "--file", shed)
    whole = shed.read_bytes()
    shed.write_bytes(whole[:-1000])
    shed.unlink()
    said = firstpull("restore", "--file", shed, "--json")
    assert said.code == 0
    holds("done", said.data)
    assert firstpull("due", "--file", shed).code == 0
    again = firstpull("restore", "--file", shed)
    assert again.code == 0
    assert "is kept as" in again.out
    listed = firstpull("restore", "--file", shed, "--list")
    assert len(listed.out.splitlines()) == 2


def test_a_household_goes_out_and_comes_in_again(
    firstpull: Run, shed: Path, tmp_path: Path, holds: Callable[[str, Any], None]
):
    out = tmp_path / "out"
    said = firstpull("export", out, "--file", shed, "--json")
    assert said.code == 0
    holds("done", said.data)
    (written,) = said.data["paths"]
    other = tmp_path / "other.firstpull"
    taken = firstpull("import", written, "--file", other)
    assert taken.code == 0
    assert "begun" in taken.out
    firstpull("export", tmp_path / "again", "--file", other)
    assert (tmp_path / "again" / "fleet.json").read_bytes() == Path(written).read_bytes()


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff\xfe", b'{"schema": 99}'])
def test_what_is_no_export_is_refused_and_begins_nothing(
    firstpull: Run, tmp_path: Path, content: bytes
):
    source, file = tmp_path / "fleet.json", tmp_path / "new.firstpull"
    source.write_bytes(content)
    said = firstpull("import", source, "--file", file)
    assert said.code == 3
    assert len(said.err.splitlines()) == 1
    assert "Nothing was taken in" in said.err
    assert not file.exists()


def test_a_file_that_is_open_elsewhere_can_be_asked_but_not_changed(
    firstpull: Run, household: Household, tmp_path: Path
):
    assert firstpull("due", "--file", household.path).code == 0
    assert firstpull("backup", "--file", household.path).code == 0
    firstpull("export", tmp_path, "--file", household.path)
    said = firstpull("import", tmp_path / "fleet.json", "--file", household.path)
    assert said.code == 3
    assert "is open elsewhere" in said.err
    assert firstpull("restore", "--file", household.path).code == 3


def test_a_folder_that_cannot_be_written_to_is_a_sentence(
    firstpull: Run, shed: Path, tmp_path: Path
):
    (tmp_path / "in the way").write_text("")
    said = firstpull("export", tmp_path / "in the way", "--file", shed)
    assert said.code == 3
    assert len(said.err.splitlines()) == 1


AHEAD = ("--on", "2199-12-01")


def test_looking_ahead_takes_nothing_in(firstpull: Run, shed: Path, tmp_path: Path):
    firstpull("export", tmp_path, "--file", shed)
    before = shed.read_bytes()
    for file in (shed, tmp_path / "new.firstpull"):
        said = firstpull("import", tmp_path, "--file", file, *AHEAD)
        assert said.code == 3
        assert "1 Dec 2199 has not come yet" in said.err
    assert shed.read_bytes() == before
    assert not (tmp_path / "new.firstpull").exists()


def test_a_backup_bears_the_day_it_was_made_on(firstpull: Run, shed: Path):
    said = firstpull("backup", "--file", shed, *AHEAD)
    assert said.code == 0
    assert "2199" not in said.out
    assert firstpull("restore", "--file", shed, *AHEAD).code == 0


def test_an_import_that_meets_trouble_begins_nothing(firstpull: Run, shed: Path, tmp_path: Path):
    firstpull("export", tmp_path, "--file", shed)
    folder = tmp_path / "there"
    folder.mkdir()
    probe = (
        "import resource, signal, sys\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "from app.__main__ import main\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (450_000, 450_000))\n"
        "sys.exit(main(sys.argv[1:]))\n"
    )
    said = subprocess.run(
        [sys.executable, "-c", probe, "import", tmp_path, "--file", folder / "new.firstpull"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert said.returncode == 3
    assert str(folder / "new.firstpull") in said.stderr
    assert ".part" not in said.stderr
    assert "rror" not in said.stderr
    assert list(folder.iterdir()) == []


def test_a_file_that_another_computer_left_open_is_taken_over(
    firstpull: Run, shed: Path, tmp_path: Path
):
    firstpull("export", tmp_path, "--file", shed)
    lock = shed.with_name(f"{shed.name}.lock")
    lock.write_text('{"host": "attic", "pid": 4711, "since": "2025-11-24T20:00:00+00:00"}')
    said = firstpull("import", tmp_path, "--file", shed)
    assert said.code == 3
    assert "“attic”, since Mon 24 Nov 2025" in said.err
    assert "--take-over" in said.err
    assert "4711" not in said.err
    assert firstpull("import", tmp_path, "--file", shed, "--take-over").code == 0
    assert not lock.exists()


def test_what_stood_there_is_kept_before_an_export_is_taken_in(
    firstpull: Run, shed: Path, tmp_path: Path
):
    firstpull("export", tmp_path, "--file", shed)
    said = firstpull("import", tmp_path, "--file", shed)
    (listed,) = firstpull("restore", "--list", "--file", shed, "--json").data["paths"]
    assert f"is kept as {listed}" in said.out.replace("\n", " ")
