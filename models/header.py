"""The first hundred bytes of a file: is it ours, and which format? Asked before SQLite sees it."""

from __future__ import annotations

import os
import stat
import struct
from dataclasses import dataclass
from pathlib import Path

from models.disk import trouble_of_system
from models.errors import Trouble, TroubleCode

APPLICATION_ID = 0x4650756C  # "FPul"
_MAGIC = b"SQLite format 3\x00"
_LENGTH = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """What the head of a household's file says. `change_counter` moves with every commit."""

    format: int
    change_counter: int
    size: int

    @property
    def mark(self) -> str:
        """Differs after any commit, and tells two states of a file apart."""
        return f"{self.change_counter}-{self.size}"


def real_path(path: Path) -> Path:
    """The file a name leads to, through links. Raises Trouble for what is no plain file.

    The kind of thing is asked before it is opened: opening a pipe would wait for ever.
    """
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise Trouble(TroubleCode.NOT_A_FILE, path=str(path))
        return path.resolve()
    except NotADirectoryError as error:
        raise Trouble(TroubleCode.NO_FILE, path=str(path)) from error
    except PermissionError as error:
        raise Trouble(TroubleCode.NO_PERMISSION, path=str(path)) from error
    except OSError as error:
        raise trouble_of_system(error, path) from error
    except (RuntimeError, ValueError) as error:  # a circle of links; NUL in the name
        raise Trouble(TroubleCode.LINK_LOOP, path=str(path)) from error


def read_header(path: Path, *, newest: int) -> Header:
    """The head of a plain file. Raises Trouble when it is not ours or newer than `newest`."""
    try:
        with path.open("rb") as file:
            head = file.read(_LENGTH)
            size = os.fstat(file.fileno()).st_size
    except PermissionError as error:
        raise Trouble(TroubleCode.NO_PERMISSION, path=str(path)) from error
    except OSError as error:
        raise trouble_of_system(error, path) from error
    if not head:
        raise Trouble(TroubleCode.EMPTY_FILE, path=str(path))
    if len(head) < _LENGTH or not head.startswith(_MAGIC):
        raise Trouble(TroubleCode.NOT_A_DATABASE, path=str(path))
    (counter,) = struct.unpack_from(">I", head, 24)
    (found,) = struct.unpack_from(">i", head, 60)
    (application,) = struct.unpack_from(">I", head, 68)
    if application != APPLICATION_ID or found < 1:
        raise Trouble(TroubleCode.NOT_OURS, path=str(path))
    if found > newest:
        raise Trouble(TroubleCode.NEWER, path=str(path), found=found, known=newest)
    return Header(format=found, change_counter=counter, size=size)
