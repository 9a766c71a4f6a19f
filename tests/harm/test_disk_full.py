"""The disk is full: an act is done whole or not at all, it is told, and once there is room again
the same act goes through."""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, closing, contextmanager
from pathlib import Path

import pytest

from models.backup import backup_folder, list_backups
from models.dump import digest
from models.engines import FOR_READING, connect
from models.errors import Trouble, TroubleCode
from models.exchange.fleet import write_fleet
from models.file import Household, create_household, open_household
from models.moment import Moment
from models.writer import Act
from tests.models.small_acts import AddMachine, LogUse, RenameAll
from tests.models.whole_household import FillEverything

FULL = {TroubleCode.DISK_FULL, TroubleCode.DISK_FAILED}
SIZE = 4 * 2**20


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of four megabytes. Skipped where none can be mounted."""
    folder = tmp_path / "small"
    folder.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", str(folder)]
    try:
        mounted = subprocess.run(mount, capture_output=True, check=False).returncode == 0
    except FileNotFoundError:
        mounted = False
    if not mounted:
        pytest.skip("no disk can be mounted here; the limit on file sizes is tried instead")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)


def held(path: Path) -> str:
    # Not mode=ro: after a write that failed half way, the next look clears up.
    with closing(connect(path, mode="rw", pragmas=FOR_READING)) as raw:
        assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        return digest(raw)


@contextmanager
def only_left(folder: Path, spare: int) -> Iterator[None]:
    """Nothing but so many bytes are left on the disk of the folder."""
    ballast = folder / "ballast"
    free = os.statvfs(folder).f_bavail * os.statvfs(folder).f_frsize
    ballast.write_bytes(b"x" * max(free - spare, 0))
    try:
        yield
    finally:
        ballast.unlink()


@contextmanager
def no_file_longer(limit: int) -> Iterator[None]:
    """The system lets no file of this process grow past the limit."""
    import resource

    old = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, old[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, old)


ACTS: tuple[Act, ...] = (
    LogUse(number=0, note="x" * 9000),
    AddMachine(name="Another"),
    RenameAll(note="y" * 9000),
    FillEverything(),
)


def act_under(
    household: Household, moment: Moment, act: Act, narrow: AbstractContextManager[None]
) -> TroubleCode | None:
    """Run an act in narrow conditions; what kept it from being done, when it was kept from it.

    Then nothing of it was done; and once there is room again it is.
    """
    writer = household.need_writer()
    before, label = held(household.path), writer.undo_label
    code = None
    with narrow:
        try:
            writer.run(act, moment=moment)
        except Trouble as trouble:
            code = trouble.code
    if code is not None:
        assert held(household.path) == before
        assert writer.undo_label == label
        writer.run(act, moment=moment)
    assert held(household.path) != before
    writer.undo(moment=moment)
    assert held(household.path) == before
    return code


def test_at_every_point_an_act_is_whole_or_not_at_all(small_disk: Path, moment: Moment):
    path = small_disk / "shed.firstpull"
    codes: list[TroubleCode | None] = []
    with create_household(path, name="Our shed", moment=moment) as household:
        writer = household.need_writer()
        for number in range(8):
            writer.run(AddMachine(name=f"No. {number}"), moment=moment)
        for point in range(24):
            act = ACTS[point % len(ACTS)]
            codes.append(act_under(household, moment, act, only_left(small_disk, point * 4096)))
    assert set(codes) == {None, TroubleCode.DISK_FULL}
    assert [file.name for file in small_disk.iterdir()] == [path.name]


def test_undo_needs_room_too_and_waits_for_it(small_disk: Path, moment: Moment):
    path = small_disk / "shed.firstpull"
    with create_household(path, name="Our shed", moment=moment) as household:
        writer = household.need_writer()
        writer.run(AddMachine(name="Red one"), moment=moment)
        before = held(path)
        writer.run(FillEverything(), moment=moment)
        after = held(path)
        with only_left(small_disk, 0), pytest.raises(Trouble) as caught:
            writer.undo(moment=moment)
        assert caught.value.code is TroubleCode.DISK_FULL
        assert held(path) == after
        writer.undo(moment=moment)
        assert held(path) == before


@pytest.mark.parametrize("spare", [0, 4096, 5 * 4096, 40 * 4096])
def test_copies_that_do_not_fit_leave_nothing_behind(small_disk: Path, moment: Moment, spare: int):
    path = small_disk / "shed.firstpull"
    with create_household(path, name="Our shed", moment=moment) as household:
        household.need_writer().run(FillEverything(), moment=moment)
        first = household.back_up(moment=moment)

        def export() -> None:
            with household.read() as session:
                write_fleet(session, small_disk / "out")

        makers: tuple[Callable[[], object], ...] = (
            lambda: household.back_up(moment=moment),
            lambda: household.back_up_daily(moment=moment),
            lambda: create_household(small_disk / "b.firstpull", name="B", moment=moment),
            export,
        )
        with only_left(small_disk, spare):
            for make in makers[: 4 if spare <= 4096 else 3]:
                with pytest.raises(Trouble) as caught:
                    make()
                assert caught.value.code in FULL
        assert [backup.path for backup in list_backups(path)] == [first]
        assert len(list(backup_folder(path).iterdir())) == 2
        assert not (small_disk / "b.firstpull").exists()
        assert not [file for file in small_disk.rglob("*") if file.name.endswith(".part")]
        household.back_up(moment=moment)


def test_no_room_for_the_lock_leaves_reading(small_disk: Path, moment: Moment):
    path = small_disk / "shed.firstpull"
    create_household(path, name="Our shed", moment=moment).close()
    with only_left(small_disk, 0), open_household(path, moment=moment) as household:
        assert household.notice is not None
        assert household.notice.code is TroubleCode.DISK_FULL
        with household.read():
            pass
    open_household(path, moment=moment).close()


@pytest.mark.skipif(sys.platform == "win32", reason="no such limit")
def test_a_file_that_may_not_grow_stays_whole(household: Household, moment: Moment):
    writer = household.need_writer()
    for number in range(8):
        writer.run(AddMachine(name=f"No. {number}"), moment=moment)
    size = household.path.stat().st_size
    codes: set[TroubleCode | None] = set()
    for point in range(6):
        act = ACTS[point % len(ACTS)]
        codes.add(act_under(household, moment, act, no_file_longer(size + point * 4096)))
    assert codes & FULL
    with no_file_longer(8192), pytest.raises(Trouble) as caught:
        household.back_up(moment=moment)
    assert caught.value.code in FULL
    assert not list(backup_folder(household.path).iterdir())
