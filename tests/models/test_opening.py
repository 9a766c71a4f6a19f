"""What is opened, what is refused, what is only read; and that refusing changes nothing."""

import json
import os
import shutil
import socket
import sqlite3
import struct
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import select

from models.errors import Refused, RefusedCode, Trouble, TroubleCode
from models.file import Household, create_household, open_household
from models.header import APPLICATION_ID, read_header
from models.lock import holder_of, lock_path, take_over
from models.migrations.formats import SHIPPED
from models.moment import Moment
from models.tables.household import HouseholdRow
from models.words import Paper
from schedules.units import UnitSystem
from tests.models.small_acts import AddMachine, AddPlace

POSIX = pytest.mark.skipif(os.name != "posix", reason="pipes and devices are named so on POSIX")


def other_sqlite(path: Path) -> None:
    with closing(sqlite3.connect(path)) as raw:
        raw.execute("CREATE TABLE item (id INTEGER)")
        raw.commit()


def with_head(change: Callable[[bytearray], None]) -> Callable[[Path], None]:
    def make(path: Path) -> None:
        with closing(sqlite3.connect(path)) as raw:
            raw.execute(f"PRAGMA application_id={APPLICATION_ID}")
            raw.execute(f"PRAGMA user_version={SHIPPED.newest}")
            raw.execute("CREATE TABLE item (id INTEGER)")
            raw.commit()
        data = bytearray(path.read_bytes())
        change(data)
        path.write_bytes(data)

    return make


def set_int(at: int, value: int) -> Callable[[bytearray], None]:
    return lambda data: struct.pack_into(">i", data, at, value)


def written(data: bytes) -> Callable[[Path], None]:
    def make(path: Path) -> None:
        path.write_bytes(data)

    return make


def linked_round(path: Path) -> None:
    path.symlink_to(path.with_name("other"))
    path.with_name("other").symlink_to(path)


def head_only() -> bytes:
    head = bytearray(b"SQLite format 3\0" + struct.pack(">HBBBBBB", 4096, 1, 1, 0, 64, 32, 32))
    head += b"\0" * (4096 - len(head))
    struct.pack_into(">i", head, 60, SHIPPED.newest)
    struct.pack_into(">I", head, 68, APPLICATION_ID)
    struct.pack_into(">i", head, 44, 4)
    struct.pack_into(">i", head, 56, 1)
    head[100] = 13
    struct.pack_into(">H", head, 105, 4096)
    return bytes(head)


HEAD_ONLY = head_only()

REFUSED = {
    "nothing": (lambda _path: None, TroubleCode.NO_FILE),
    "folder": (lambda path: path.mkdir(), TroubleCode.NOT_A_FILE),
    "pipe": (os.mkfifo, TroubleCode.NOT_A_FILE),
    "device": (lambda path: path.symlink_to("/dev/zero"), TroubleCode.NOT_A_FILE),
    "silent_device": (lambda path: path.symlink_to("/dev/null"), TroubleCode.NOT_A_FILE),
    "dead_link": (lambda path: path.symlink_to("gone"), TroubleCode.NO_FILE),
    "circle": (linked_round, TroubleCode.LINK_LOOP),
    "empty": (written(b""), TroubleCode.EMPTY_FILE),
    "one_byte": (written(b"S"), TroubleCode.NOT_A_DATABASE),
    "text": (written(b"Dear diary, the thrower would not start.\n" * 9), None),
    "html": (written(b"<!DOCTYPE html><html>" + b" " * 200), None),
    "zip": (written(b"PK\x03\x04" + b"\0" * 200), None),
    "pdf": (written(b"%PDF-1.7\n" + b"\0" * 200), None),
    "json": (written(b'{"schema": 1}' + b" " * 200), None),
    "picture": (written(b"\x89PNG\r\n\x1a\n" + b"\0" * 200), None),
    "zeroes": (written(b"\0" * 4096), None),
    "only_the_magic": (written(b"SQLite format 3\0"), TroubleCode.NOT_A_DATABASE),
    "head_cut": (written(b"SQLite format 3\0" + b"\0" * 83), TroubleCode.NOT_A_DATABASE),
    "head_of_zeroes": (written(b"SQLite format 3\0" + b"\0" * 84), TroubleCode.NOT_OURS),
    "other_sqlite": (other_sqlite, TroubleCode.NOT_OURS),
    "other_application": (with_head(set_int(68, 0x0F055112)), TroubleCode.NOT_OURS),
    "negative_application": (with_head(set_int(68, -1)), TroubleCode.NOT_OURS),
    "no_format": (with_head(set_int(60, 0)), TroubleCode.NOT_OURS),
    "negative_format": (with_head(set_int(60, -3)), TroubleCode.NOT_OURS),
    "newer": (with_head(set_int(60, SHIPPED.newest + 1)), TroubleCode.NEWER),
    "far_newer": (with_head(set_int(60, 2**31 - 1)), TroubleCode.NEWER),
    "our_head_other_tables": (with_head(lambda _data: None), TroubleCode.STRANGE_SCHEMA),
    "our_head_only": (written(HEAD_ONLY), TroubleCode.STRANGE_SCHEMA),
    "file_as_folder": (lambda _path: None, TroubleCode.NO_FILE),
}


def state_of(folder: Path) -> dict[str, bytes | str]:
    return {
        path.name: path.read_bytes() if path.is_file() and not path.is_symlink() else "other"
        for path in folder.iterdir()
        if not path.is_fifo()
    }


@POSIX
@pytest.mark.parametrize("name", REFUSED)
def test_what_is_not_ours_is_refused_and_left_alone(tmp_path: Path, moment: Moment, name: str):
    make, code = REFUSED[name]
    path = tmp_path / "shed.firstpull"
    make(path)
    if name == "file_as_folder":
        (tmp_path / "file").write_bytes(b"x")
        path = tmp_path / "file" / "shed.firstpull"
    before = state_of(tmp_path)
    for write in (True, False):
        with pytest.raises(Trouble) as caught:
            open_household(path, moment=moment, write=write)
        assert caught.value.code is (code or TroubleCode.NOT_A_DATABASE)
    assert state_of(tmp_path) == before


@pytest.mark.skipif(os.name != "posix", reason="a NUL in a name is refused by POSIX")
def test_a_name_no_file_can_have_is_refused(moment: Moment):
    with pytest.raises(Trouble):
        open_household(Path("a\0b"), moment=moment)


HOSTILE = {
    "trigger": "CREATE TRIGGER nice AFTER INSERT ON item BEGIN DELETE FROM work; END",
    "view": "CREATE VIEW nice AS SELECT * FROM item",
    "table": "CREATE TABLE nice (x)",
    "virtual_table": "CREATE VIRTUAL TABLE nice USING fts5(x)",
    "index": "CREATE INDEX nice ON item (name)",
    "index_of_words": "CREATE INDEX nice ON item (abs(id))",
    "column": "ALTER TABLE item ADD COLUMN nice TEXT DEFAULT 'x'",
    "generated_column": "ALTER TABLE item ADD COLUMN nice AS (hex(name))",
    "table_gone": "DROP TABLE payment",
    "index_gone": "DROP INDEX ix_payment_machine_id",
    "table_renamed": "ALTER TABLE payment RENAME TO payments",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_schema_that_is_not_the_formats_own_is_refused(
    household_path: Path, moment: Moment, name: str
):
    create_household(household_path, name="Our shed", moment=moment).close()
    with closing(sqlite3.connect(household_path)) as raw:
        raw.execute(HOSTILE[name])
        raw.commit()
    before = household_path.read_bytes()
    with pytest.raises(Trouble) as caught:
        open_household(household_path, moment=moment)
    assert caught.value.code is TroubleCode.STRANGE_SCHEMA
    assert dict(caught.value.values)["name"]
    assert household_path.read_bytes() == before
    assert not lock_path(household_path).exists()


def test_what_sqlite_keeps_for_itself_is_not_strange(household_path: Path, moment: Moment):
    with create_household(household_path, name="Our shed", moment=moment) as household:
        household.need_writer().run(AddMachine(name="Red one"), moment=moment)
    with closing(sqlite3.connect(household_path)) as raw:
        raw.execute("ANALYZE")
        raw.execute("VACUUM")
        raw.execute("PRAGMA journal_mode=WAL")
        raw.commit()
    with open_household(household_path, moment=moment) as household:
        household.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
    assert sorted(path.name for path in household_path.parent.iterdir()) == [household_path.name]


def test_a_new_household_is_whole_and_says_what_it_is(household_path: Path, moment: Moment):
    made = create_household(
        household_path,
        name="  Our shed ",
        moment=moment,
        paper=Paper.LETTER,
        unit_system=UnitSystem.US,
        currency="USD",
    )
    with made:
        with made.read() as session:
            row = session.scalars(select(HouseholdRow)).one()
        assert (row.name, row.paper, row.currency) == ("Our shed", Paper.LETTER, "USD")
        assert read_header(household_path, newest=SHIPPED.newest).format == SHIPPED.newest
        assert made.notice is None
    assert [path.name for path in household_path.parent.iterdir()] == [household_path.name]


@pytest.mark.parametrize("there", ["file", "folder", "dead_link"])
def test_nothing_is_created_over_another(household_path: Path, moment: Moment, there: str):
    if there == "file":
        household_path.write_bytes(b"mine")
    elif there == "folder":
        household_path.mkdir()
    else:
        household_path.symlink_to("gone")
    before = state_of(household_path.parent)
    with pytest.raises(Trouble) as caught:
        create_household(household_path, name="Our shed", moment=moment)
    assert caught.value.code is TroubleCode.FILE_EXISTS
    assert state_of(household_path.parent) == before


def test_a_new_household_needs_its_folder_and_a_name(tmp_path: Path, moment: Moment):
    with pytest.raises(Trouble) as trouble:
        create_household(tmp_path / "no" / "shed.firstpull", name="x", moment=moment)
    assert trouble.value.code is TroubleCode.NO_FOLDER
    with pytest.raises(Refused) as refused:
        create_household(tmp_path / "shed.firstpull", name=" ", moment=moment)
    assert refused.value.code is RefusedCode.NOTHING_GIVEN
    with pytest.raises(Refused):
        create_household(tmp_path / "shed.firstpull", name="x" * 10_000, moment=moment)
    assert not list(tmp_path.iterdir())


def test_odd_names_of_files_are_no_odd_files(tmp_path: Path, moment: Moment):
    for name in ("a b?c=d#e%41&mode=ro.firstpull", "größe 🦌.firstpull", "'quoted\".firstpull"):
        path = tmp_path / name
        create_household(path, name="Our shed", moment=moment).close()
        with open_household(path, moment=moment) as household:
            household.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
    assert len(list(tmp_path.iterdir())) == 3


def test_a_link_leads_to_the_one_file_and_its_one_lock(
    household: Household, tmp_path: Path, moment: Moment
):
    link = tmp_path / "link.firstpull"
    link.symlink_to(household.path)
    with open_household(link, moment=moment) as second:
        assert second.path == household.path
        assert second.writer is None


def test_a_second_opener_is_told_who_has_it_and_may_read(household: Household, moment: Moment):
    household.need_writer().run(AddMachine(name="Red one"), moment=moment)
    with open_household(household.path, moment=moment) as second:
        assert second.writer is None
        assert second.notice is not None
        values = dict(second.notice.values)
        assert second.notice.code is TroubleCode.IN_USE
        assert values["host"] == socket.gethostname()
        assert values["since"] == moment.now.date()
        with second.read() as session:
            assert session.scalars(select(HouseholdRow.name)).all() == ["Our shed"]
        with pytest.raises(Trouble) as caught:
            second.need_writer()
        assert caught.value is second.notice
    assert lock_path(household.path).exists()
    household.close()
    assert not lock_path(household.path).exists()
    with open_household(household.path, moment=moment) as third:
        assert third.writer is not None


def test_who_only_reads_takes_no_lock(household_path: Path, moment: Moment):
    create_household(household_path, name="Our shed", moment=moment).close()
    with open_household(household_path, moment=moment, write=False) as household:
        assert household.writer is None
        assert household.notice is None
        assert holder_of(household_path) is None


HOLDER = """
import sys
from datetime import UTC, date, datetime
from pathlib import Path
from models.file import open_household
from models.moment import Moment
moment = Moment(date(2025, 11, 25), datetime(2025, 11, 25, 9, 30, tzinfo=UTC))
household = open_household(Path(sys.argv[1]), moment=moment)
print("held" if household.writer else "not held", flush=True)
sys.stdin.read()
"""


def test_a_killed_holder_leaves_no_lock_that_counts(household_path: Path, moment: Moment):
    create_household(household_path, name="Our shed", moment=moment).close()
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(household_path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with open_household(household_path, moment=moment) as second:
            assert second.notice is not None
            assert (held := holder_of(household_path)) is not None
            assert held.pid == holder.pid
        holder.kill()
        holder.wait()
    assert lock_path(household_path).exists()
    with open_household(household_path, moment=moment) as third:
        assert third.writer is not None
    assert not lock_path(household_path).exists()


def test_a_lock_of_another_computer_holds_until_it_is_taken_over(
    household_path: Path, moment: Moment
):
    create_household(household_path, name="Our shed", moment=moment).close()
    said = '{"host": "attic", "pid": 1, "since": "2025-11-24T20:00:00+00:00"}'
    lock_path(household_path).write_text(said)
    with open_household(household_path, moment=moment) as second:
        assert second.notice is not None
        values = dict(second.notice.values)
        assert (values["host"], values["since"]) == ("attic", date(2025, 11, 24))
    assert lock_path(household_path).read_text() == said
    with open_household(household_path, moment=moment, take_over=True) as third:
        third.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
        with open_household(household_path, moment=moment, take_over=True) as fourth:
            assert fourth.writer is None  # the living are not taken over from
    assert not lock_path(household_path).exists()


@pytest.mark.parametrize(
    "said", [b"", b"{", b"null", b"[]", b'{"host": 1}', b"\xff" * 9000, b"[" * 4000]
)
def test_a_lock_that_says_nothing_does_not_hold(household_path: Path, moment: Moment, said: bytes):
    create_household(household_path, name="Our shed", moment=moment).close()
    lock_path(household_path).write_bytes(said)
    with open_household(household_path, moment=moment) as household:
        assert household.writer is not None


def test_a_lock_is_not_followed_elsewhere(household_path: Path, moment: Moment, tmp_path: Path):
    create_household(household_path, name="Our shed", moment=moment).close()
    victim = tmp_path / "victim.txt"
    victim.write_text("dear")
    lock_path(household_path).symlink_to(victim)
    with open_household(household_path, moment=moment) as household:
        assert household.writer is None
        assert household.notice is not None
        assert household.notice.code is TroubleCode.LINK_LOOP
    assert victim.read_text() == "dear"


def test_what_somebody_cut_off_left_is_swept_away(household_path: Path, moment: Moment):
    with create_household(household_path, name="Our shed", moment=moment) as household:
        made = household.back_up(moment=moment)
    for name in (".shed.firstpull.new.part", ".shed.firstpull.restore.part"):
        household_path.with_name(name).write_bytes(b"half")
    for name in (f".{made.name}.part", f".{made.name}.part-journal", "gone.firstpull.sha256"):
        made.with_name(name).write_bytes(b"half")
    open_household(household_path, moment=moment, write=False).close()
    assert made.with_name(f".{made.name}.part").exists()  # who only reads sweeps nothing
    open_household(household_path, moment=moment).close()
    assert {path.name for path in household_path.parent.iterdir()} == {
        household_path.name,
        made.parent.name,
    }
    assert {path.name for path in made.parent.iterdir()} == {made.name, f"{made.name}.sha256"}


def test_a_copy_is_a_file_of_its_own(household: Household, tmp_path: Path, moment: Moment):
    household.need_writer().run(AddMachine(name="Red one"), moment=moment)
    copy = tmp_path / "copy.firstpull"
    shutil.copyfile(household.path, copy)
    with open_household(copy, moment=moment) as second:
        assert second.writer is not None


def test_head_and_format_agree_with_what_sqlite_says(household: Household):
    with closing(sqlite3.connect(household.path)) as raw:
        assert raw.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert raw.execute("PRAGMA user_version").fetchone() == (SHIPPED.newest,)
    head = read_header(household.path, newest=SHIPPED.newest)
    assert head.size == household.path.stat().st_size


@pytest.mark.parametrize(("host", "since"), [("", "2025-11-24T20:00:00+00:00"), ("attic", "then")])
def test_a_lock_that_does_not_say_whose_it_is_is_told_without(
    household_path: Path, moment: Moment, host: str, since: str
):
    create_household(household_path, name="Our shed", moment=moment).close()
    said = json.dumps({"host": host, "pid": 1, "since": since})
    lock_path(household_path).write_text(said)
    with open_household(household_path, moment=moment) as second:
        assert second.notice is not None
        assert second.notice.code is TroubleCode.IN_USE_SOMEWHERE
    take_over(household_path, moment=moment)
    assert not lock_path(household_path).exists()


def test_nobody_is_taken_over_from_who_has_it_open_here(household: Household, moment: Moment):
    with pytest.raises(Trouble) as caught:
        take_over(household.path, moment=moment)
    assert caught.value.code is TroubleCode.IN_USE
    assert lock_path(household.path).exists()
