"""A file or folder that may not be written: it opens to be read, says why, and nothing moves."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from models.file import create_household
from models.moment import Moment
from tests.models.small_acts import AddMachine

ROOT = Path(__file__).resolve().parents[2]

# Runs as a user to whom nothing here belongs: root may write whatever the modes say.
LOOK = """
import os, sys, hashlib
from datetime import UTC, date, datetime
from pathlib import Path
from sqlalchemy import select
from models.backup import back_up
from models.errors import Trouble, TroubleCode
from models.file import create_household, open_household
from models.moment import Moment
from models.tables.machines import ItemRow
path = Path(sys.argv[1])
if hasattr(os, "getuid") and os.getuid() == 0 and sys.argv[2] == "nobody":
    os.setgid(65534)
    os.setuid(65534)
def state():
    return [(p.name, p.stat().st_mtime_ns, p.read_bytes() if p.is_file() else b"")
            for p in sorted(path.parent.iterdir())]
try:
    with path.open("r+b"):
        file_writable = True
except OSError:
    file_writable = False
try:
    probe = path.with_name("probe")
    probe.touch()
    probe.unlink()
    folder_writable = True
except OSError:
    folder_writable = False
assert not (file_writable and folder_writable), "the test itself is wrong: it can be written"
before = state()
moment = Moment(date(2025, 11, 25), datetime(2025, 11, 25, 9, 30, tzinfo=UTC))
with open_household(path, moment=moment) as household:
    assert household.writer is None
    assert household.notice.code is TroubleCode.READ_ONLY, household.notice
    with household.read() as session:
        assert session.scalars(select(ItemRow.name)).first() == "Red one"
    try:
        household.need_writer()
    except Trouble as trouble:
        assert trouble.code is TroubleCode.READ_ONLY
    else:
        raise AssertionError("it gave a writer")
    if not folder_writable:
        for make in (lambda: household.back_up(moment=moment),
                     lambda: create_household(path.with_name("new"), name="x", moment=moment)):
            try:
                make()
            except Trouble as trouble:
                assert trouble.code.value in ("read_only", "not_to_be_written"), trouble
            else:
                raise AssertionError("it wrote")
assert state() == before
print("looked")
"""


@pytest.fixture
def shelf(moment: Moment) -> Iterator[Path]:
    """A folder that everybody may look into (pytest's own is for its user alone)."""
    folder = Path(tempfile.mkdtemp(prefix="shelf-"))
    folder.chmod(0o755)
    path = folder / "shed.firstpull"
    with create_household(path, name="Our shed", moment=moment) as household:
        household.need_writer().run(AddMachine(name="Red one"), moment=moment)
    path.chmod(0o644)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


def look(path: Path, user: str = "nobody") -> None:
    seen = subprocess.run(
        [sys.executable, "-c", LOOK, str(path), user],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), *sys.path])},
        capture_output=True,
        text=True,
        check=False,
    )
    assert seen.stdout == "looked\n", seen.stderr


POSIX = pytest.mark.skipif(os.name != "posix", reason="modes mean something else there")


@POSIX
@pytest.mark.parametrize(("file_mode", "folder_mode"), [(0o444, 0o555), (0o444, 0o777)])
def test_modes_that_forbid_writing(shelf: Path, file_mode: int, folder_mode: int):
    path = shelf / "shed.firstpull"
    path.chmod(file_mode)
    shelf.chmod(folder_mode)
    look(path)


@POSIX
def test_a_file_that_may_be_written_in_a_folder_that_may_not(shelf: Path):
    path = shelf / "shed.firstpull"
    path.chmod(0o666)
    shelf.chmod(0o555)
    look(path)


@POSIX
def test_a_lock_left_where_nothing_can_be_made(shelf: Path):
    """A holder that died in a folder since closed: the lock can be neither taken nor removed."""
    lock = shelf / "shed.firstpull.lock"
    lock.write_text('{"host": "attic", "pid": 1, "since": "2025-11-24T20:00:00+00:00"}')
    lock.chmod(0o444)
    (shelf / "shed.firstpull").chmod(0o444)
    shelf.chmod(0o555)
    look(shelf / "shed.firstpull")


@POSIX
def test_a_disk_mounted_to_be_read(shelf: Path):
    bind = ["mount", "--bind", str(shelf), str(shelf)]
    try:
        bound = subprocess.run(bind, capture_output=True, check=False).returncode == 0
    except FileNotFoundError:
        bound = False
    if not bound:
        pytest.skip("nothing can be mounted here")
    try:
        subprocess.run(["mount", "-o", "remount,ro,bind", str(shelf)], check=True)
        look(shelf / "shed.firstpull", "root")
    finally:
        subprocess.run(["umount", "-l", str(shelf)], check=True)
