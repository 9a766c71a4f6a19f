"""A household's file, opened: one door to write, one to read.

Order of opening: what kind of thing it is, its head (ours? which format?), the lock, its schema,
and if it is older a backup and the migration; pages, links and guards are checked at the latest
before the first act. Whatever stands against writing but not against reading opens the file for
reading, and `notice` says why.
"""

from __future__ import annotations

import os
import uuid
from collections.abc import Generator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Self

from sqlalchemy import insert
from sqlalchemy.orm import Session

from models.backup import (
    BEFORE_FORMAT,
    back_up,
    back_up_daily,
    sweep_backups,
)
from models.disk import (
    make_empty,
    remove_quietly,
    sync_file,
    sync_folder,
    told_of,
    trouble_of_writing,
)
from models.engines import (
    GUARDS,
    connect,
    reading_engine,
    sqlite_faults_told,
    writing_engine,
)
from models.errors import Trouble, TroubleCode
from models.fields import plain_text
from models.header import read_header, real_path
from models.lock import FileLock
from models.migrate import check_schema, lay_newest, migrate
from models.migrations.formats import SHIPPED, Formats
from models.moment import Moment
from models.tables.household import HouseholdRow
from models.words import Language, Paper
from models.writer import HOUSEHOLDS, Act, Writer, look_through
from schedules.units import UnitSystem

# What keeps from writing, but not from reading.
_MAY_STILL_READ = frozenset(
    {
        TroubleCode.IN_USE,
        TroubleCode.IN_USE_SOMEWHERE,
        TroubleCode.READ_ONLY,
        TroubleCode.DISK_FULL,
        TroubleCode.DISK_FAILED,
        TroubleCode.LINK_LOOP,  # the lock's own name leads elsewhere
    }
)


class Household:
    """An open file. `writer` is None when it may only be read; then `notice` says why, unless
    nothing more was asked for."""

    def __init__(
        self, path: Path, *, lock: FileLock | None, notice: Trouble | None, formats: Formats
    ) -> None:
        self.path = path
        self.notice = notice
        self._lock = lock
        self._formats = formats
        self._reading = reading_engine(path)
        self._writing = None if lock is None else writing_engine(path)
        self.writer: Writer | None = None
        if self._writing is not None:
            self.writer = Writer(path, self._writing)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @contextmanager
    def read(self) -> Generator[Session]:
        """A session that cannot write and sees one state of the file. Close it before an act:
        an open read holds up our own commit. Raises Trouble."""
        with sqlite_faults_told(self.path), Session(self._reading) as session:
            try:
                yield session
            except (LookupError, ValueError, TypeError):
                # A word no enum knows, a day that is none: damage speaks up in odd places.
                session.close()
                self.check()
                raise

    def need_writer(self) -> Writer:
        """The writer. Raises the notice that keeps from writing."""
        if self.writer is not None:
            return self.writer
        raise self.notice or Trouble(TroubleCode.READ_ONLY, path=str(self.path))

    def check(self) -> None:
        """Look the file through, whether it may be written to or not. Raises Trouble DAMAGED.

        Once that went well, the first act need not do it again.
        """
        look_through(self.path, self._reading, guards=self.writer is None)
        if self.writer is not None:
            self.writer.is_checked = True

    def back_up(self, *, moment: Moment) -> Path:
        """A backup because somebody asked for one."""
        return back_up(self.path, moment=moment, formats=self._formats)

    def back_up_daily(self, *, moment: Moment) -> Path | None:
        """The day's backup, if the file changed and there is none yet."""
        return back_up_daily(self.path, moment=moment, formats=self._formats)

    def close(self) -> None:
        """Let go of the file and of the lock."""
        self._reading.dispose()
        if self._writing is not None:
            self._writing.dispose()
        if self._lock is not None:
            self._lock.release()
        self.writer = None


def create_household(
    path: Path,
    *,
    name: str,
    moment: Moment,
    language: Language = Language.BRITISH,
    paper: Paper = Paper.A4,
    unit_system: UnitSystem = UnitSystem.METRIC,
    currency: str = "GBP",
    first: Act | None = None,
    formats: Formats = SHIPPED,
) -> Household:
    """Make a new file and open it. It has its name only once it is whole.

    `first` is carried out before it has its name: when that fails, no file has come into being.
    Raises Refused for the name or the act, Trouble FILE_EXISTS, NO_FOLDER or what the disk says.
    """
    row: dict[str, object] = {
        "id": 1,
        "uid": "",
        "name": plain_text("name", name, least=1),
        "language": language,
        "paper": paper,
        "unit_system": unit_system,
        "currency": currency,
    }
    row["uid"] = str(uuid.uuid5(HOUSEHOLDS, f"{row['name']}|{moment.now.isoformat()}"))
    if moment.ahead:
        raise Trouble(TroubleCode.LOOKING_AHEAD, day=moment.today)
    if os.path.lexists(path):
        raise Trouble(TroubleCode.FILE_EXISTS, path=str(path))
    if not path.parent.is_dir():
        raise Trouble(TroubleCode.NO_FOLDER, path=str(path.parent))
    part = path.with_name(f".{path.name}.new.part")
    try:
        make_empty(part)
        with told_of(path, part):
            _fill(part, row, formats)
            if first is not None:
                _do_first(part, first, moment)
        sync_file(part)
        _name_it(part, path)
        sync_folder(path.parent)
    except FileExistsError as error:
        raise Trouble(TroubleCode.FILE_EXISTS, path=str(path)) from error
    except OSError as error:
        raise trouble_of_writing(error, path) from error
    finally:
        remove_quietly(part)
        remove_quietly(part.with_name(f"{part.name}-journal"))
    return open_household(path, moment=moment, formats=formats)


def open_household(
    path: Path,
    *,
    moment: Moment,
    write: bool = True,
    take_over: bool = False,
    formats: Formats = SHIPPED,
) -> Household:
    """Open a household's file. `take_over`: break a lock that another computer left.

    Raises Trouble when it cannot even be read.
    """
    real = real_path(path)
    read_header(real, newest=formats.newest)
    lock, notice = None, None
    if write and moment.ahead:
        notice = Trouble(TroubleCode.LOOKING_AHEAD, day=moment.today)
    elif write:
        try:
            lock = FileLock.take(real, moment=moment, take_over=take_over)
        except Trouble as trouble:
            if trouble.code not in _MAY_STILL_READ:
                raise
            notice = trouble
    if lock is not None and not _is_writable(real):
        lock.release()
        lock, notice = None, Trouble(TroubleCode.READ_ONLY, path=str(real))
    opened = False
    try:
        _make_ready(real, moment, formats, writable=lock is not None)
        household = Household(real, lock=lock, notice=notice, formats=formats)
        opened = True
    finally:
        if lock is not None and not opened:
            lock.release()
    return household


def _make_ready(path: Path, moment: Moment, formats: Formats, *, writable: bool) -> None:
    """Check the schema; bring an older file to the newest format."""
    if writable:
        _sweep(path)
    with sqlite_faults_told(path), closing(connect(path, mode="rw", pragmas=GUARDS)) as raw:
        # Again, now that SQLite has cleared up after whoever was cut off.
        (found,) = raw.execute("PRAGMA user_version").fetchone()
        if not 1 <= found <= formats.newest:
            known = formats.newest
            raise Trouble(TroubleCode.NEWER, path=str(path), found=found, known=known)
        check_schema(raw, path, found, formats)
        if writable and path.with_name(f"{path.name}-journal").exists():
            # Left by somebody killed before his journal counted: the end of the next transaction
            # that would write clears it away, and taken back it leaves the file as it was.
            raw.execute("BEGIN IMMEDIATE")
            raw.execute(f"PRAGMA user_version={found}")
            raw.execute("ROLLBACK")
    if found == formats.newest:
        return
    if not writable:
        raise Trouble(
            TroubleCode.OLDER_NOT_WRITABLE, path=str(path), found=found, known=formats.newest
        )
    back_up(path, moment=moment, kind=f"{BEFORE_FORMAT}-{formats.newest}", formats=formats)
    migrate(path, found, formats)


def _sweep(path: Path) -> None:
    """Remove what an interrupted creation, backup or restoring left half done; we hold the lock."""
    halves = [path.with_name(f".{path.name}.{why}.part") for why in ("new", "restore")]
    for half in halves:
        remove_quietly(half)
        remove_quietly(half.with_name(f"{half.name}-journal"))
    sweep_backups(path)


def _is_writable(path: Path) -> bool:
    try:
        os.close(os.open(path, os.O_RDWR))
    except OSError:
        return False
    return True


def _fill(part: Path, row: dict[str, object], formats: Formats) -> None:
    engine = writing_engine(part)
    try:
        with sqlite_faults_told(part), engine.begin() as connection:
            lay_newest(connection, formats)
            connection.execute(insert(HouseholdRow).values(row))
    finally:
        engine.dispose()


def _do_first(part: Path, act: Act, moment: Moment) -> None:
    engine = writing_engine(part)
    try:
        Writer(part, engine).run(act, moment=moment)
    finally:
        engine.dispose()


def _name_it(part: Path, path: Path) -> None:
    """Give the file its name, never over another that came meanwhile."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        if os.path.lexists(path):
            raise FileExistsError(path) from None
        part.replace(path)
