"""Copies to fall back on: whole, checked, thinned out with time, and never in the way."""

import os
import shutil
import sqlite3
import struct
from collections.abc import Callable
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import pytest

from models.backup import (
    back_up,
    back_up_daily,
    backup_folder,
    list_backups,
    restore,
    verify_backup,
    write_backup,
)
from models.dump import canonical_lines, digest
from models.engines import GUARDS, connect
from models.errors import Trouble, TroubleCode
from models.file import Household, open_household
from models.lock import lock_path
from models.migrations.formats import SHIPPED
from models.moment import Moment
from tests.models.small_acts import AddMachine, AddPlace, LogUse, Rename


def lines_of(path: Path) -> list[str]:
    with closing(connect(path, mode="ro", pragmas=GUARDS)) as connection:
        return list(canonical_lines(connection))


def on(moment: Moment, days: int) -> Moment:
    return Moment(moment.today + timedelta(days=days), moment.now + timedelta(days=days))


@pytest.fixture
def filled(household: Household, moment: Moment) -> Household:
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    for number in range(5):
        writer.run(AddMachine(name=f"Machine {number}"), moment=moment)
        writer.run(LogUse(number=number, note="ran well"), moment=moment)
    return household


def test_a_backup_is_the_file(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    assert made.parent == backup_folder(filled.path)
    assert lines_of(made) == lines_of(filled.path)
    assert verify_backup(made) == SHIPPED.newest
    assert {path.suffix for path in made.parent.iterdir()} == {".firstpull", ".sha256"}
    said = made.with_name(f"{made.name}.sha256").read_text().split()[0]
    with closing(connect(filled.path, mode="ro", pragmas=GUARDS)) as connection:
        assert said == digest(connection)


def test_a_second_backup_of_a_day_stands_beside_the_first(filled: Household, moment: Moment):
    first = filled.back_up(moment=moment)
    filled.need_writer().run(AddPlace(name="Cellar"), moment=moment)
    second = filled.back_up(moment=moment)
    assert first != second
    assert lines_of(first) != lines_of(second)
    assert [backup.path for backup in list_backups(filled.path)] == [second, first]
    assert {backup.kind for backup in list_backups(filled.path)} == {"asked"}


def test_the_daily_one_is_made_on_change_and_once_a_day(filled: Household, moment: Moment):
    assert filled.back_up_daily(moment=moment) is not None
    assert filled.back_up_daily(moment=on(moment, 1)) is None
    filled.need_writer().run(AddPlace(name="Cellar"), moment=moment)
    assert filled.back_up_daily(moment=moment) is None
    assert filled.back_up_daily(moment=on(moment, 1)) is not None
    assert len(list_backups(filled.path)) == 2


def test_seven_days_four_weeks_twelve_months_are_kept(filled: Household, moment: Moment):
    asked = filled.back_up(moment=moment)
    first = date(2024, 1, 1)
    source = filled.back_up_daily(moment=Moment(first, moment.now))
    assert source is not None
    # The rest of two years is laid as copies: what is tried is which are let go.
    days = [first + timedelta(days=n) for n in range(1, 730)]
    for day in days:
        for suffix in ("", ".sha256"):
            name = source.name.replace(str(first), str(day)) + suffix
            shutil.copyfile(source.with_name(source.name + suffix), source.with_name(name))
    filled.need_writer().run(AddPlace(name="Cellar"), moment=moment)
    last = first + timedelta(days=730)
    filled.back_up_daily(moment=Moment(last, moment.now))
    kept = {b.day for b in list_backups(filled.path) if b.kind == "daily"}
    days = [first, *days, last]
    newest_of_month = {(day.year, day.month): day for day in days}
    newest_of_week = {day.isocalendar()[:2]: day for day in days}
    wanted = set(days[-7:])
    wanted |= set(list(newest_of_week.values())[-4:])
    wanted |= set(list(newest_of_month.values())[-12:])
    assert kept == wanted
    assert asked.exists()
    digests = {p.name for p in source.parent.glob("*.sha256")}
    assert digests == {f"{b.path.name}.sha256" for b in list_backups(filled.path)}


def flip_bit(path: Path, wanted: bytes) -> None:
    data = bytearray(path.read_bytes())
    at = data.rindex(wanted)
    data[at] ^= 1
    path.write_bytes(data)


def test_a_bit_that_fell_over_is_seen(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    flip_bit(made, b"ran well")
    with closing(sqlite3.connect(made)) as raw:
        assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)  # SQLite sees nothing
    with pytest.raises(Trouble) as caught:
        verify_backup(made)
    assert caught.value.code is TroubleCode.BACKUP_DIFFERS


def make_newer(path: Path) -> None:
    data = bytearray(path.read_bytes())
    struct.pack_into(">i", data, 60, SHIPPED.newest + 1)
    path.write_bytes(data)


@pytest.mark.parametrize(
    ("spoil", "code"),
    [
        (lambda p: p.write_bytes(p.read_bytes()[:8192]), None),
        (lambda p: p.write_bytes(b""), TroubleCode.EMPTY_FILE),
        (lambda p: p.unlink(), TroubleCode.NO_FILE),
        (lambda p: p.with_name(f"{p.name}.sha256").unlink(), TroubleCode.NO_DIGEST),
        (lambda p: p.with_name(f"{p.name}.sha256").write_bytes(b"\xff"), TroubleCode.NO_DIGEST),
        (lambda p: p.with_name(f"{p.name}.sha256").write_bytes(b""), TroubleCode.NO_DIGEST),
        (make_newer, TroubleCode.NEWER),
    ],
)
def test_nothing_is_put_back_that_was_not_checked(
    filled: Household, moment: Moment, spoil: Callable[[Path], None], code: TroubleCode | None
):
    made = filled.back_up(moment=moment)
    filled.need_writer().run(AddPlace(name="Cellar"), moment=moment)
    filled.close()
    before = filled.path.read_bytes()
    spoil(made)
    with pytest.raises(Trouble) as caught:
        restore(filled.path, made, moment=moment)
    assert code is None or caught.value.code is code
    assert filled.path.read_bytes() == before
    assert not lock_path(filled.path).exists()


def test_what_is_put_back_is_the_backup_and_the_old_file_is_kept(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    old = lines_of(made)
    filled.need_writer().run(Rename(number=0, name="Blue one"), moment=moment)
    changed = lines_of(filled.path)
    filled.close()
    kept = restore(filled.path, made, moment=moment)
    assert lines_of(filled.path) == old
    assert kept is not None
    assert lines_of(kept) == changed
    assert verify_backup(kept) == SHIPPED.newest
    with open_household(filled.path, moment=moment) as again:
        again.need_writer().run(AddPlace(name="Cellar"), moment=moment)
    restore(filled.path, kept, moment=moment)
    assert lines_of(filled.path) == changed


def test_a_file_in_use_is_not_exchanged(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    with pytest.raises(Trouble) as caught:
        restore(filled.path, made, moment=moment)
    assert caught.value.code is TroubleCode.IN_USE
    filled.need_writer().run(AddPlace(name="Cellar"), moment=moment)


def test_a_file_that_is_gone_comes_back(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    filled.close()
    filled.path.unlink()
    assert restore(filled.path, made, moment=moment) is None
    assert lines_of(filled.path) == lines_of(made)


def test_a_damaged_file_is_kept_as_it_is(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    filled.close()
    broken = filled.path.read_bytes()[:20_000]
    filled.path.write_bytes(broken)
    kept = restore(filled.path, made, moment=moment)
    assert kept is not None
    assert kept.read_bytes() == broken
    assert lines_of(filled.path) == lines_of(made)


def test_the_journal_of_the_old_file_is_not_played_into_the_new(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    filled.close()
    journal = filled.path.with_name(f"{filled.path.name}-journal")
    with closing(sqlite3.connect(filled.path, isolation_level=None)) as raw:
        raw.execute("PRAGMA cache_size=1")
        raw.execute("PRAGMA cache_spill=1")
        raw.execute("BEGIN IMMEDIATE")
        raw.execute("UPDATE item SET note = hex(randomblob(4000))")
        hot, body = journal.read_bytes(), filled.path.read_bytes()
        raw.execute("ROLLBACK")
    filled.path.write_bytes(body)
    journal.write_bytes(hot)
    committed = lines_of(made)
    kept = restore(filled.path, made, moment=moment)
    assert not journal.exists()
    assert kept is not None
    assert lines_of(kept) == committed
    assert lines_of(filled.path) == lines_of(made)


def test_a_journal_beside_a_file_beyond_reading_goes_with_it(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    filled.close()
    filled.path.write_bytes(b"no file of ours any more" * 400)
    journal = filled.path.with_name(f"{filled.path.name}-journal")
    journal.write_bytes(b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7" + bytes(4088))
    kept = restore(filled.path, made, moment=moment)
    assert kept is not None
    assert not journal.exists()
    assert kept.with_name(f"{kept.name}-journal").exists()
    assert lines_of(filled.path) == lines_of(made)


def test_a_backup_that_fails_leaves_nothing(filled: Household, moment: Moment):
    folder = backup_folder(filled.path)
    folder.write_bytes(b"a file where the folder should be")
    with pytest.raises(Trouble):
        filled.back_up(moment=moment)
    folder.unlink()
    with closing(sqlite3.connect(filled.path, isolation_level=None)) as raw:
        raw.execute("INSERT INTO machine VALUES (900, 'loose', 901, 'K02')")
    with pytest.raises(Trouble) as caught:
        filled.back_up(moment=moment)
    assert caught.value.code is TroubleCode.DAMAGED
    assert not list(folder.iterdir())


def test_a_leftover_half_backup_is_no_backup(filled: Household, moment: Moment):
    made = filled.back_up(moment=moment)
    part = made.with_name(f".{made.name}.part")
    part.write_bytes(b"half")
    target = made.with_name("again.firstpull")
    write_backup(filled.path, target)
    target.with_name("shed-2025-99-99-asked.firstpull").write_bytes(b"no such day")
    assert [backup.path for backup in list_backups(filled.path)] == [made]


@pytest.mark.skipif(os.name != "posix", reason="links")
def test_a_backup_is_not_written_through_a_link(filled: Household, moment: Moment, tmp_path: Path):
    victim = tmp_path / "victim"
    victim.write_text("dear")
    made = back_up(filled.path, moment=moment)
    target = made.with_name("again.firstpull")
    target.with_name(f".{target.name}.part").symlink_to(victim)
    target.symlink_to(victim)
    write_backup(filled.path, target)
    assert victim.read_text() == "dear"
    assert not target.is_symlink()


def test_daily_backups_while_it_is_written_are_each_some_committed_state(
    filled: Household, moment: Moment
):
    states = {tuple(lines_of(filled.path))}
    writer = filled.need_writer()
    for number in range(10):
        made = back_up_daily(filled.path, moment=on(moment, number))
        assert made is not None
        assert tuple(lines_of(made)) in states
        writer.run(Rename(number=number, name=f"Name {number}"), moment=moment)
        states.add(tuple(lines_of(filled.path)))


def test_the_dump_says_the_same_for_the_same_and_else_another(tmp_path: Path):
    def dumped(*statements: str) -> list[str]:
        path = tmp_path / "dump.db"
        path.unlink(missing_ok=True)
        with closing(sqlite3.connect(path, isolation_level=None)) as raw:
            for statement in statements:
                raw.execute(statement)
            return list(canonical_lines(raw))

    table = "CREATE TABLE t (id INTEGER PRIMARY KEY AUTOINCREMENT, a, b)"
    turned = "CREATE TABLE t (b, id INTEGER PRIMARY KEY AUTOINCREMENT, a)"
    one = dumped(table, "INSERT INTO t VALUES (1, 'x', 2)", "INSERT INTO t VALUES (2, 'y', 3)")
    assert one == dumped(
        turned,
        "INSERT INTO t (id, a, b) VALUES (3, 'z', 0)",
        "INSERT INTO t (id, a, b) VALUES (2, 'y', 3)",
        "INSERT INTO t (id, a, b) VALUES (1, 'x', 2)",
        "DELETE FROM t WHERE id = 3",
        "VACUUM",
    )
    values = ["1", "'1'", "1.0", "x'31'", "NULL", "''", "x''", "'NULL'", "0.1", "9e999", "true"]
    texts = {v: str(dumped(table, f"INSERT INTO t (a) VALUES ({v})")) for v in values}  # noqa: S608
    assert len(set(texts.values())) == len(values) - 1  # true is 1
    assert texts["true"] == texts["1"]
    assert dumped(table) != dumped(table, "PRAGMA user_version=2")
