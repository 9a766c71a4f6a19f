"""A row of photos on a page, each with its day and words beneath it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.sheets.lettering import Style, compose
from app.sheets.pages import Block
from app.sheets.surface import HAIR, Surface, write

# How high a row may be, tried in turn until the page has room for it.
HEIGHTS = (46.0, 36.0)
CAPTION = Style(size=9, leading=1.25)
_GAP = 4.0
_LOWEST, _WIDEST = 0.4, 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperPhoto:
    """A picture and what is said beneath it. `shape`: its width over its height."""

    jpeg: bytes
    said: str
    shape: float


def photo_row(photos: Sequence[PaperPhoto], width: float, tallest: float) -> Block:
    """All of them side by side, equally high, no higher than `tallest` millimetres."""
    shapes = [min(_WIDEST, max(_LOWEST, photo.shape)) for photo in photos]
    room = width - _GAP * (len(photos) - 1)
    height = min(tallest, room / sum(shapes))
    # A caption may be wider than a tall picture, while the row has room.
    least = min(room / len(photos), 40.0)
    columns = [max(shape * height, least) for shape in shapes]
    if sum(columns) > room:
        columns = [shape * height for shape in shapes]
    captions = [
        compose(photo.said, CAPTION, column, 3)
        for photo, column in zip(photos, columns, strict=True)
    ]

    def draw(surface: Surface, left: float, top: float) -> None:
        x = left
        for photo, column, said in zip(photos, columns, captions, strict=True):
            wide = min(column, height * photo.shape)
            tall = wide / photo.shape
            surface.image(photo.jpeg, x, top, wide, tall)
            surface.box(x, top, wide, tall, HAIR)
            write(surface, said, x, top + height + 0.8)
            x += column + _GAP

    return Block(
        height=height + 0.8 + max(said.height for said in captions) + 1.4,
        draw=draw,
        shortened=any(said.shortened for said in captions),
    )
