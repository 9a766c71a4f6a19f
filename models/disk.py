"""What we do to files besides SQLite, and what the system's faults with them mean."""

from __future__ import annotations

import errno
import os
from collections.abc import Generator
from contextlib import contextmanager, suppress
from pathlib import Path

from models.errors import Trouble, TroubleCode

_FORBIDDEN = frozenset({errno.EROFS, errno.EACCES, errno.EPERM})
_NO_ROOM = frozenset({errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)})


def trouble_of_system(error: OSError, path: Path) -> Trouble:
    """What a fault of the system with a file means."""
    if error.errno in _FORBIDDEN:
        return Trouble(TroubleCode.READ_ONLY, path=str(path))
    if error.errno in _NO_ROOM:
        return Trouble(TroubleCode.DISK_FULL, path=str(path))
    if error.errno == errno.ELOOP:
        return Trouble(TroubleCode.LINK_LOOP, path=str(path))
    if error.errno == errno.ENOENT:
        return Trouble(TroubleCode.NO_FILE, path=str(path))
    return Trouble(TroubleCode.DISK_FAILED, path=str(path), detail=error.strerror or "")


def trouble_of_writing(error: OSError, path: Path) -> Trouble:
    """What a fault of the system means for a file that was to be written, new or anew."""
    if error.errno == errno.ENOENT or (error.errno == errno.ENOTDIR and not path.is_dir()):
        return Trouble(TroubleCode.NO_FOLDER, path=str(path))
    if error.errno in (errno.EISDIR, errno.ENOTEMPTY) or path.is_dir():
        return Trouble(TroubleCode.NOT_A_FILE, path=str(path))
    if error.errno in _FORBIDDEN:
        return Trouble(TroubleCode.NOT_TO_BE_WRITTEN, path=str(path))
    return trouble_of_system(error, path)


@contextmanager
def told_of(path: Path, part: Path) -> Generator[None]:
    """Trouble with a half file inside the block is told of the file that it was to become: that
    is the name somebody knows."""
    try:
        yield
    except Trouble as trouble:
        values = dict(trouble.values)
        if values.get("path") != str(part):
            raise
        raise Trouble(trouble.code, **{**values, "path": str(path)}) from trouble


def make_folder(folder: Path) -> None:
    """Make a folder with those above it, if it is not there. Raises Trouble."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise trouble_of_writing(error, folder) from error


def make_empty(path: Path) -> None:
    """Make a new empty file, never through a link, in place of a half one of the same name.

    Raises OSError.
    """
    path.unlink(missing_ok=True)
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o644))


def remove_quietly(path: Path) -> None:
    """Remove a half file if it is there and can be; what failed before is what is told."""
    with suppress(OSError):
        path.unlink(missing_ok=True)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file that has its name only once every byte is on the disk. Raises OSError."""
    part = path.with_name(f".{path.name}.part")
    try:
        make_empty(part)
        with part.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
        sync_folder(path.parent)
    finally:
        remove_quietly(part)


def sync_file(path: Path) -> None:
    """Wait until a file's bytes are on the disk."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sync_folder(folder: Path) -> None:
    """Wait until a folder's names are on the disk, where the system can."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
