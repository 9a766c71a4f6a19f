"""Who may write: a small file beside the household's, held while it is open for writing.

On one computer the system's own lock on that file tells whether its holder still lives, whatever
number its process has; it falls away with the process. From another computer, over a share or
through a synced folder, only what the file says can be read: host, process, since when. Then
whoever opens is told, may read, and may take over in so many words.
"""

from __future__ import annotations

import errno
import json
import os
import socket
import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Self

from models.disk import trouble_of_system
from models.errors import Trouble, TroubleCode
from models.moment import Moment

LONGEST_NOTE = 4096


@dataclass(frozen=True, slots=True, kw_only=True)
class Holder:
    """Who holds the lock. `since` is an ISO instant; empty and 0 when the file does not say."""

    host: str = ""
    pid: int = 0
    since: str = ""


class FileLock:
    """The lock, held until it is released or the process ends."""

    def __init__(self, path: Path, handle: int) -> None:
        self.path = path
        self._handle: int | None = handle

    @classmethod
    def take(cls, household: Path, *, moment: Moment, take_over: bool = False) -> Self:
        """Take the lock for the household's file. `take_over` breaks one of another computer.

        Raises Trouble IN_USE with the holder, READ_ONLY where no file can be made beside it.
        """
        path = lock_path(household)
        handle = _open_to_hold(path, household)
        try:
            holder = _read(handle)
            elsewhere = holder is not None and holder.host != socket.gethostname()
            if not _hold(handle) or (elsewhere and not take_over):
                raise _in_use(household, holder or Holder())
            if not _is_still(path, handle):
                raise _in_use(household, holder_of(household) or Holder())
            _write(handle, moment)
        except OSError as error:
            os.close(handle)
            raise trouble_of_system(error, household) from error
        except Trouble:
            os.close(handle)
            raise
        return cls(path, handle)

    def release(self) -> None:
        """Give the lock up; a second time does nothing."""
        if self._handle is None:
            return
        if _is_still(self.path, self._handle):
            self.path.unlink(missing_ok=True)
        os.close(self._handle)
        self._handle = None


def take_over(household: Path, *, moment: Moment) -> None:
    """Break the lock that another computer left on the household's file, so that it opens as ever.

    Nothing happens where there is none. Raises Trouble, IN_USE where its holder lives here.
    """
    if lock_path(household).exists():
        FileLock.take(household, moment=moment, take_over=True).release()


def lock_path(household: Path) -> Path:
    """Where the lock of a household's file lies."""
    return household.with_name(f"{household.name}.lock")


def holder_of(household: Path) -> Holder | None:
    """Who holds the file, as far as the lock says; None without a lock."""
    try:
        handle = os.open(lock_path(household), os.O_RDONLY)
    except OSError:
        return None
    try:
        return _read(handle) or Holder()
    finally:
        os.close(handle)


def _open_to_hold(path: Path, household: Path) -> int:
    try:
        return os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o644)
    except OSError as error:
        raise trouble_of_system(error, household) from error


def _in_use(household: Path, holder: Holder) -> Trouble:
    """By whom and since which day, in UTC; as one of whom nothing is known where the lock does not
    say both."""
    try:
        since = datetime.fromisoformat(holder.since).date()
    except ValueError:
        since = None
    if since is None or not holder.host.strip():
        return Trouble(TroubleCode.IN_USE_SOMEWHERE, path=str(household))
    return Trouble(TroubleCode.IN_USE, path=str(household), host=holder.host, since=since)


def _read(handle: int) -> Holder | None:
    """What the lock says. None when it is empty or cannot be understood: whoever made it died
    before saying a word, or it is no lock of ours."""
    os.lseek(handle, 0, os.SEEK_SET)
    try:
        said: Any = json.loads(os.read(handle, LONGEST_NOTE))
        return Holder(host=str(said["host"]), pid=int(said["pid"]), since=str(said["since"]))
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def _write(handle: int, moment: Moment) -> None:
    said = {
        "host": socket.gethostname(),
        "pid": os.getpid(),
        "since": moment.now.isoformat(timespec="seconds"),
    }
    os.ftruncate(handle, 0)
    os.lseek(handle, 0, os.SEEK_SET)
    os.write(handle, json.dumps(said).encode())
    os.fsync(handle)


def _is_still(path: Path, handle: int) -> bool:
    """Whether the name still leads to the file held: a holder unlinks it as it lets go."""
    try:
        found = path.stat()
    except FileNotFoundError:
        return False
    return os.path.samestat(found, os.fstat(handle))


if sys.platform == "win32":
    import msvcrt

    _FAR_BEHIND = 1 << 20  # what is locked cannot be read there, so lock beyond what is said

    def _hold(handle: int) -> bool:
        os.lseek(handle, _FAR_BEHIND, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _hold(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            if error.errno in {errno.EWOULDBLOCK, errno.EACCES}:
                return False
            if error.errno in {errno.ENOLCK, errno.ENOTSUP, errno.ENOSYS}:
                return _holder_is_gone(handle)
            raise
        return True

    def _holder_is_gone(handle: int) -> bool:
        """On a file system without locks: ask for the process by its number."""
        holder = _read(handle)
        if holder is None or holder.pid <= 0:
            return True
        try:
            os.kill(holder.pid, 0)
        except ProcessLookupError:
            return True
        except PermissionError:
            return False
        return holder.pid == os.getpid()
