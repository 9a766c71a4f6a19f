"""From a picture as a camera makes it to the one that is kept: small, upright, bare.

Shrunk to 1600 dots along its longer edge, turned the right way up, as JPEG, and painted onto
fresh paper, so that nothing is left of where, when and with what it was taken.
"""

from __future__ import annotations

import stat
import struct
from dataclasses import dataclass
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QColorSpace, QImage, QImageReader, QImageWriter, QPainter

from models.disk import trouble_of_system
from models.errors import Refused, RefusedCode

EDGE = 1600
MOST_FILE_BYTES = 60 * 10**6
MOST_EDGE = 20_000
# What is aimed at; a picture of 1600 dots rarely needs more.
WANTED_BYTES = 700_000
QUALITIES = (85, 75, 65, 50, 35)
_JPEG, _PNG = b"\xff\xd8", b"\x89PNG"
_SCAN, _FILL = b"\xff\xda", 0xFF
# What the button and the watched folder name; nothing that draws, links or moves.
_SORTS = frozenset({b"jpeg", b"jpg", b"png", b"webp", b"bmp", b"gif"})
_EXIF, _TAKEN, _CHANGED = 0x8769, 0x9003, 0x0132


@dataclass(frozen=True, slots=True)
class Shrunk:
    """A picture ready to be kept, and the day it was taken as far as the file tells."""

    jpeg: bytes
    day: date | None


def shrunk_file(path: Path) -> Shrunk:
    """The picture in a file. Raises Refused PHOTO_*, Trouble."""
    data = picture_bytes(path)
    return Shrunk(shrunk(data), _taken(data) or _written(path))


def picture_bytes(path: Path) -> bytes:
    """What is in a file that may be a picture: a file as such, no pipe, not as large as a film.

    Raises Refused PHOTO_NOT_A_PICTURE, PHOTO_TOO_LARGE, Trouble.
    """
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise Refused(RefusedCode.PHOTO_NOT_A_PICTURE)
        if found.st_size > MOST_FILE_BYTES:
            raise Refused(RefusedCode.PHOTO_TOO_LARGE, bytes=found.st_size, most=MOST_FILE_BYTES)
        return path.read_bytes()
    except OSError as error:
        raise trouble_of_system(error, path) from error


def _taken(data: bytes) -> date | None:
    """The day the camera wrote into the picture (Exif 2.32: DateTimeOriginal, else DateTime)."""
    from PIL import Image

    try:
        with Image.open(BytesIO(data), formats=("JPEG", "PNG", "WEBP")) as image:
            exif = image.getexif()
            said = exif.get_ifd(_EXIF).get(_TAKEN) or exif.get(_CHANGED)
            year, month, day = str(said)[:10].split(":")
            return date(int(year), int(month), int(day))
    except Image.DecompressionBombError:
        return None  # a telephone's largest: it was shrunk all the same
    except (OSError, SyntaxError, ValueError, TypeError, KeyError, IndexError, struct.error):
        return None  # nothing there, or nothing that can be read: the file's own day stands


def _written(path: Path) -> date | None:
    try:
        return datetime.fromtimestamp(path.stat().st_mtime, tz=UTC).astimezone().date()
    except (OSError, OverflowError, ValueError):
        return None


def shrunk(data: bytes) -> bytes:
    """The picture that is kept. Raises Refused PHOTO_*."""
    if not data:
        raise Refused(RefusedCode.PHOTO_EMPTY)
    return _as_jpeg(_opened(data))


def _opened(data: bytes) -> QImage:
    kept = QByteArray(data)
    buffer = QBuffer(kept)
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    reader.setDecideFormatFromContent(True)
    reader.setAutoTransform(True)
    size = reader.size()
    if bytes(reader.format().data()) not in _SORTS or not reader.canRead() or not size.isValid():
        raise Refused(RefusedCode.PHOTO_NOT_A_PICTURE)
    if max(size.width(), size.height()) > MOST_EDGE:
        raise Refused(
            RefusedCode.PHOTO_TOO_WIDE, width=size.width(), height=size.height(), most=MOST_EDGE
        )
    if max(size.width(), size.height()) > EDGE:
        small = size.scaled(QSize(EDGE, EDGE), Qt.AspectRatioMode.KeepAspectRatio)
        reader.setScaledSize(small.expandedTo(QSize(1, 1)))
    image = QImage() if _breaks_off(data) else reader.read()
    if image.isNull():
        raise Refused(RefusedCode.PHOTO_BROKEN)
    return image


def _breaks_off(data: bytes) -> bool:
    """Whether the end of the picture is missing: what reads it fills the rest with grey."""
    if data.startswith(_JPEG):
        return data.find(b"\xff\xd9", _first_scan(data)) < 0
    end = data.rfind(b"IEND")
    return data.startswith(_PNG) and (end < 0 or len(data) < end + 8)


def _first_scan(data: bytes) -> int:
    """Where the picture itself begins, past the small one that cameras put before it."""
    at = 2
    while at + 4 <= len(data) and data[at] == _FILL:
        if data[at + 1] == _FILL:  # any number of these may stand before a marker
            at += 1
            continue
        if data[at : at + 2] == _SCAN:
            return at
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
    return len(data)


def _as_jpeg(image: QImage) -> bytes:
    if image.colorSpace().isValid():
        image.convertToColorSpace(QColorSpace(QColorSpace.NamedColorSpace.SRgb))
    bare = QImage(image.size(), QImage.Format.Format_RGB32)
    bare.fill(Qt.GlobalColor.white)
    painter = QPainter(bare)
    painter.drawImage(0, 0, image)
    painter.end()
    jpeg = b""
    for quality in QUALITIES:
        made = QByteArray()
        buffer = QBuffer(made)
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        writer = QImageWriter(buffer, QByteArray(b"jpeg"))
        writer.setQuality(quality)
        if not writer.write(bare):
            raise Refused(RefusedCode.PHOTO_BROKEN)
        jpeg = bytes(made.data())
        if len(jpeg) <= WANTED_BYTES:
            break
    return jpeg


def small(jpeg: bytes, edge: int) -> QImage:
    """A picture that is kept, no larger than `edge` dots; an empty one when it cannot be read."""
    kept = QByteArray(jpeg)
    buffer = QBuffer(kept)
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    reader.setAutoTransform(True)
    size = reader.size()
    if size.isValid() and max(size.width(), size.height()) > edge:
        wanted = size.scaled(QSize(edge, edge), Qt.AspectRatioMode.KeepAspectRatio)
        reader.setScaledSize(wanted.expandedTo(QSize(1, 1)))
    return reader.read()
