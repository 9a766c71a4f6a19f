"""Pictures as the file keeps them: JPEG, shrunk, without a word of where or with what."""

from __future__ import annotations

# A picture of 1600 pixels is some 300 kB; nothing larger than this is kept.
MOST_PICTURE_BYTES = 2 * 2**20
# All pictures together: written out as text they still leave room in what can be taken in.
MOST_PICTURES_BYTES = 320 * 2**20
LONGEST_EDGE = 4000
LEAST_PICTURE_BYTES = 100
JPEG_BEGINS = b"\xff\xd8\xff"

_FILL = 0xFF
_FRAMES = frozenset({0xC0, 0xC1, 0xC2})  # baseline, extended, progressive
_SCAN, _END, _NAME = 0xDA, 0xD9, 0xE0
_NAME_BYTES = 16  # JFIF without a small picture of its own
# All that a picture needs: tables, frame, restarts, scans. Cameras write where, when and with
# what into the others, and anybody may hide anything in a comment.
_BARE = _FRAMES | {0xC4, 0xDB, 0xDD, _SCAN, _NAME}


def jpeg_size(data: bytes) -> tuple[int, int]:
    """Width and height of a JPEG, in pixels, from its own head (ITU-T T.81 annex B, JFIF 1.02).

    Raises ValueError for what is no JPEG, breaks off, goes on after its end, or carries more
    than the picture.
    """
    if not data.startswith(JPEG_BEGINS):
        raise ValueError("no JPEG")
    at, size = 2, (0, 0)
    while (marker := _marker(data, at)) != _END:
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if marker not in _BARE or length < 2 or (marker == _NAME and length != _NAME_BYTES):
            raise ValueError("not a bare picture")
        if marker in _FRAMES:
            high = int.from_bytes(data[at + 5 : at + 7], "big")
            size = (int.from_bytes(data[at + 7 : at + 9], "big"), high)
        at += 2 + length
        if marker == _SCAN:
            at = _scan_end(data, at)
    if at + 2 != len(data):
        raise ValueError("something after the end")
    if not all(1 <= edge <= LONGEST_EDGE for edge in size):
        raise ValueError("no size")
    return size


def _marker(data: bytes, at: int) -> int:
    if at + 2 > len(data) or data[at] != _FILL:
        raise ValueError("no marker")
    return data[at + 1]


def _scan_end(data: bytes, at: int) -> int:
    """Where the dots of a scan end: at the next marker that is no restart and no stuffed zero."""
    while (at := data.find(b"\xff", at)) >= 0 and at + 1 < len(data):
        if data[at + 1] != 0 and not 0xD0 <= data[at + 1] <= 0xD7:
            return at
        at += 2
    raise ValueError("breaks off")
