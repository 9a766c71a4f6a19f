"""Pictures as the file keeps them: JPEG, shrunk, without a word of where or with what."""

from __future__ import annotations

# A picture of 1600 pixels is some 300 kB; nothing larger than this is kept.
MOST_PICTURE_BYTES = 2 * 2**20
# All pictures together: written out as text they still leave room in what can be taken in.
MOST_PICTURES_BYTES = 320 * 2**20
LONGEST_EDGE = 4000
LEAST_PICTURE_BYTES = 100
JPEG_BEGINS = b"\xff\xd8\xff"
JPEG_ENDS = b"\xff\xd9"

_FRAMES = frozenset({*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC})
_SCAN, _END = 0xDA, 0xD9
# Where cameras write where, when and with what: 1 (also of phones' own), 2 to 13.
_TELLING = frozenset(range(0xE1, 0xEE))


def jpeg_size(data: bytes) -> tuple[int, int]:
    """Width and height of a JPEG, in pixels, from its own head.

    Raises ValueError for what is no JPEG, breaks off, or tells more than the picture.
    """
    if not data.startswith(JPEG_BEGINS) or not data.endswith(JPEG_ENDS):
        raise ValueError("no whole JPEG")
    at, size = 2, (0, 0)
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            raise ValueError("no marker")
        marker = data[at + 1]
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if marker in _TELLING or marker == _END or length < 2:
            raise ValueError("not a bare picture")
        if marker in _FRAMES and at + 9 <= len(data):
            high = int.from_bytes(data[at + 5 : at + 7], "big")
            size = (int.from_bytes(data[at + 7 : at + 9], "big"), high)
        if marker == _SCAN:
            break
        at += 2 + length
    if not all(1 <= edge <= LONGEST_EDGE for edge in size):
        raise ValueError("no size")
    return size
