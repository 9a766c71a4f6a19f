"""Copies to fall back on: made by SQLite's own backup, checked after writing and before use.

Beside the household's file lies a folder of them. Each has a small file beside it with the digest
of everything it holds, since SQLite itself does not see a bit that fell over.
"""

from __future__ import annotations

import re
import shutil
import sqlite3
from collections.abc import Callable, Hashable, Iterable
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from models.disk import (
    make_empty,
    remove_quietly,
    sync_file,
    sync_folder,
    trouble_of_system,
    write_whole,
)
from models.dump import digest
from models.engines import GUARDS, connect, sqlite_faults_told
from models.errors import Trouble, TroubleCode
from models.header import read_header, real_path
from models.lock import FileLock
from models.migrations.formats import SHIPPED, Formats
from models.moment import Moment

DAYS_KEPT, WEEKS_KEPT, MONTHS_KEPT = 7, 4, 12
DAILY, ASKED, BEFORE_RESTORE, BEFORE_FORMAT = "daily", "asked", "before-restore", "before-format"
DAMAGED = "damaged"
_NAME = re.compile(
    r".*-(?P<day>\d{4}-\d\d-\d\d)"
    rf"-(?P<kind>{DAILY}|{ASKED}|{BEFORE_RESTORE}|{DAMAGED}|{BEFORE_FORMAT}(?=-\d))"
    r"(-\d+){0,2}"
)
_FAST = (*GUARDS, "PRAGMA journal_mode=OFF", "PRAGMA synchronous=OFF")


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """A backup in the folder: its day, why it was made, its size in bytes, when it was written
    by the file system's clock (to order those of one day)."""

    path: Path
    day: date
    kind: str
    size: int
    written_ns: int


def backup_folder(path: Path) -> Path:
    """The folder beside a household's file that holds its backups."""
    return path.with_name(f"{path.stem}-backups")


def list_backups(path: Path) -> tuple[Backup, ...]:
    """The backups of a household's file, newest first."""
    folder = backup_folder(path)
    files = folder.glob(f"*{path.suffix}") if folder.is_dir() else ()
    found = [backup for file in files if (backup := _as_backup(file)) is not None]
    return tuple(sorted(found, key=lambda backup: (backup.day, backup.written_ns), reverse=True))


def back_up(path: Path, *, moment: Moment, kind: str = ASKED, formats: Formats = SHIPPED) -> Path:
    """Make a backup of a household's file; returns it. Raises Trouble, leaving nothing half."""
    if moment.ahead:  # a backup bears the day it was made on
        raise Trouble(TroubleCode.LOOKING_AHEAD, day=moment.today)
    folder = backup_folder(path)
    number = 0
    while True:
        tail = f"-{number}" if number else ""
        target = folder / f"{path.stem}-{moment.today}-{kind}{tail}{path.suffix}"
        if not target.exists():
            break
        number += 1
    try:
        folder.mkdir(exist_ok=True)
        write_backup(path, target, formats=formats)
    except OSError as error:
        raise trouble_of_system(error, target) from error
    return target


def back_up_daily(path: Path, *, moment: Moment, formats: Formats = SHIPPED) -> Path | None:
    """Today's backup, if the file changed since the newest daily one; then let old ones go.

    A backup is let go only after a newer one was checked.
    """
    daily = [backup for backup in list_backups(path) if backup.kind == DAILY]
    mark = read_header(path, newest=formats.newest).mark
    if daily and _read_digest(daily[0].path)[1] == mark:
        return None
    if daily and daily[0].day == moment.today:
        return None
    made = back_up(path, moment=moment, kind=DAILY, formats=formats)
    for old in _let_go([backup for backup in list_backups(path) if backup.kind == DAILY]):
        old.path.unlink(missing_ok=True)
        _digest_path(old.path).unlink(missing_ok=True)
    return made


def write_backup(source: Path, target: Path, *, formats: Formats = SHIPPED) -> None:
    """Copy a household's file, check the copy, and only then give it its name."""
    mark = read_header(source, newest=formats.newest).mark
    part = target.with_name(f".{target.name}.part")
    try:
        make_empty(part)
        with sqlite_faults_told(target):
            with (
                closing(connect(source, mode="ro", pragmas=GUARDS)) as here,
                closing(connect(part, mode="rw", pragmas=_FAST)) as there,
            ):
                here.backup(there)
            with closing(connect(part, mode="ro", pragmas=GUARDS)) as copy:
                summed = _checked_digest(copy, source)
        sync_file(part)
        _write_digest(target, summed, mark)
        part.replace(target)
        sync_folder(target.parent)
    finally:
        remove_quietly(part)


def machines_in(path: Path) -> int | None:
    """How many machines a household's file or a copy of it holds; None when it cannot be read."""
    try:
        with sqlite_faults_told(path), closing(connect(path, mode="ro", pragmas=GUARDS)) as held:
            (count,) = held.execute("SELECT count(*) FROM machine").fetchone()
    except (Trouble, sqlite3.Error):
        return None
    return int(count)


def verify_backup(backup: Path, *, formats: Formats = SHIPPED) -> int:
    """Check a backup against its digest; returns its format. Raises Trouble."""
    path = real_path(backup)
    found = read_header(path, newest=formats.newest).format
    with sqlite_faults_told(path), closing(connect(path, mode="ro", pragmas=GUARDS)) as copy:
        summed = _checked_digest(copy, path)
    if _read_digest(backup)[0] != summed:
        raise Trouble(TroubleCode.BACKUP_DIFFERS, path=str(backup))
    return found


def restore(path: Path, backup: Path, *, moment: Moment, formats: Formats = SHIPPED) -> Path | None:
    """Put a checked backup in the place of the household's file; returns where that was kept.

    Nobody may have the file open. Raises Trouble; then the file is as it was.
    """
    if moment.ahead:
        raise Trouble(TroubleCode.LOOKING_AHEAD, day=moment.today)
    verify_backup(backup, formats=formats)
    lock = FileLock.take(path, moment=moment)
    part = path.with_name(f".{path.name}.restore.part")
    try:
        kept = _keep(path, moment, formats) if path.exists() else None
        make_empty(part)
        shutil.copyfile(backup, part)
        sync_file(part)
        if part.read_bytes() != backup.read_bytes():
            raise Trouble(TroubleCode.BACKUP_DIFFERS, path=str(backup))
        journal = _journal_path(path)
        if journal.exists():  # of the old file: it would be played back into the new one
            journal.replace(_journal_path(kept or part))
        part.replace(path)
        sync_folder(path.parent)
    except OSError as error:
        raise trouble_of_system(error, path) from error
    finally:
        remove_quietly(part)
        lock.release()
    return kept


def sweep_backups(path: Path) -> None:
    """Remove half backups and digests without one, left by somebody cut off."""
    folder = backup_folder(path)
    if not folder.is_dir():
        return
    halves = list(folder.glob(".*.part*"))
    lonely = [one for one in folder.glob("*.sha256") if not one.with_suffix("").exists()]
    for left in (*halves, *lonely):
        remove_quietly(left)


def _keep(path: Path, moment: Moment, formats: Formats) -> Path:
    """The file as it is, as a backup; one too damaged for that byte by byte, with its journal."""
    try:
        read_header(path, newest=formats.newest)  # what is not ours, SQLite does not touch
        with suppress(sqlite3.Error), closing(connect(path, mode="rw", pragmas=GUARDS)) as old:
            old.execute("SELECT count(*) FROM sqlite_schema")  # clears up after whoever was cut off
        return back_up(path, moment=moment, kind=BEFORE_RESTORE, formats=formats)
    except Trouble as trouble:
        if trouble.code in {TroubleCode.DISK_FULL, TroubleCode.READ_ONLY}:
            raise
    folder = backup_folder(path)
    folder.mkdir(exist_ok=True)
    number = 1
    while (kept := folder / f"{path.stem}-{moment.today}-{DAMAGED}-{number}{path.suffix}").exists():
        number += 1
    shutil.copyfile(path, kept)
    sync_file(kept)
    return kept


def _as_backup(file: Path) -> Backup | None:
    match = _NAME.fullmatch(file.stem)
    if match is None or file.name.startswith("."):
        return None
    try:
        day = date.fromisoformat(match["day"])
    except ValueError:
        return None
    there = file.stat()
    return Backup(
        path=file,
        day=day,
        kind=match["kind"],
        size=there.st_size,
        written_ns=there.st_mtime_ns,
    )


def _journal_path(path: Path) -> Path:
    return path.with_name(f"{path.name}-journal")


def _digest_path(backup: Path) -> Path:
    return backup.with_name(f"{backup.name}.sha256")


def _write_digest(backup: Path, summed: str, mark: str) -> None:
    write_whole(_digest_path(backup), f"{summed}  {backup.name}\n{mark}\n".encode())


def _read_digest(backup: Path) -> tuple[str, str]:
    """The digest, and the mark of the file it was made from. Raises Trouble NO_DIGEST."""
    try:
        first, mark = _digest_path(backup).read_text(encoding="utf-8").splitlines()[:2]
        return first.split()[0], mark
    except (OSError, ValueError, IndexError) as error:
        raise Trouble(TroubleCode.NO_DIGEST, path=str(backup)) from error


def _checked_digest(connection: sqlite3.Connection, path: Path) -> str:
    (said,) = connection.execute("PRAGMA integrity_check(1)").fetchone()
    loose = connection.execute("PRAGMA foreign_key_check").fetchone()
    if said != "ok" or loose is not None:
        detail = said if loose is None else f"{loose[0]}: {loose[2]}"
        raise Trouble(TroubleCode.DAMAGED, path=str(path), detail=str(detail))
    return digest(connection)


def _let_go(daily: Iterable[Backup]) -> list[Backup]:
    """Those that are neither among the newest days, nor the newest of a recent week or month."""
    newest_first = sorted(daily, key=lambda backup: backup.path.name, reverse=True)
    kept = {backup.path for backup in newest_first[:DAYS_KEPT]}
    kept |= _newest_of_each(newest_first, lambda day: day.isocalendar()[:2], WEEKS_KEPT)
    kept |= _newest_of_each(newest_first, lambda day: (day.year, day.month), MONTHS_KEPT)
    return [backup for backup in newest_first if backup.path not in kept]


def _newest_of_each(
    newest_first: Iterable[Backup], span: Callable[[date], Hashable], most: int
) -> set[Path]:
    first: dict[Hashable, Path] = {}
    for backup in newest_first:
        first.setdefault(span(backup.day), backup.path)
    return set(list(first.values())[:most])
