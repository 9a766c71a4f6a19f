"""The tag on the handle of a machine that is put away: what is off or open, what comes first.

Cut out along its edge, 66 by 120 mm, two corners off, a hole for a string; nine on a page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.sheets.figures import circle, polygon
from app.sheets.labels import Words
from app.sheets.lettering import Composed, Face, Style, compose
from app.sheets.pieces import SMALL_BOX, tick_box
from app.sheets.surface import (
    BOX,
    HAIR,
    HEAD,
    SIZES,
    Paper,
    PdfSurface,
    Size,
    Surface,
    draw_icon,
    write,
)
from app.wording.languages import msg

WIDE, TALL = 66.0, 120.0
_CORNER = 11.0
_HOLE = 3.0
FIRST = msg("FIRST, WHEN IT COMES OUT")
_PAD = 5.0
_GAP = 2.0
_ICON = 10.0
NAME = Style(size=15, face=Face.BOLD, leading=1.12)
STATE = Style(size=11.5, face=Face.BOLD, leading=1.18)
HEADING = Style(size=10.5, face=Face.BOLD, leading=1.25)
LINE = Style(size=10, leading=1.2)
SMALL = Style(size=8.5, leading=1.2)
# What does not fit is set smaller: nothing that is off or open is ever left out.
_SCALES = tuple(1.0 - 0.05 * step for step in range(13))


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredTag:
    """All that the tag says, worded. `off`: what is off, shut or open, and where it hangs; `first`:
    what comes first when it is got out; `to_do`: what was left for the off-season. `on_bench`: it
    stopped half way instead, and `first` is what it goes on with."""

    machine: str
    icon: str
    stored: str
    state: str
    off: tuple[str, ...]
    first: tuple[str, ...]
    to_do: tuple[str, ...]
    foot: str
    on_bench: bool = False


def draw(tags: Sequence[StoredTag], *, paper: Paper, language: str, words: Words) -> bytes:
    """The tags as one PDF, as many to a page as it holds."""
    names = ", ".join(tag.machine for tag in tags)
    bench = bool(tags) and all(tag.on_bench for tag in tags)
    title = words(msg("Bench tags") if bench else msg("Stored tags")) + (
        f": {names}" if 0 < len(names) <= 120 else ""
    )
    surface = PdfSurface(title=title, language=language)
    size = SIZES[paper]
    across = int((size.width - 2 * _GAP) // WIDE)
    down = int((size.height - 2 * _GAP) // TALL)
    for place, tag in enumerate(tags):
        here = place % (across * down)
        if not here:
            surface.page(size)
        row, column = divmod(here, across)
        left, top = _corner(size, across, down)
        _tag(surface, tag, left + column * WIDE, top + row * TALL, words)
    if not tags:
        surface.page(size)
    return surface.finished()


def _corner(size: Size, across: int, down: int) -> tuple[float, float]:
    return (size.width - across * WIDE) / 2, (size.height - down * TALL) / 2


def _tag(surface: Surface, tag: StoredTag, left: float, top: float, words: Words) -> None:
    right, bottom = left + WIDE, top + TALL
    edge = [
        (left + _CORNER, top),
        (right - _CORNER, top),
        (right, top + _CORNER),
        (right, bottom),
        (left, bottom),
        (left, top + _CORNER),
    ]
    surface.shape(polygon(*edge), BOX)
    surface.shape(circle(left + WIDE / 2, top + 8.0, _HOLE), HAIR)
    y = top + 14.0
    surface.line(left + _PAD, y, right - _PAD, y, HEAD)
    foot = compose(tag.foot, SMALL, WIDE - 2 * _PAD)
    room = bottom - 2.5 - foot.height - y - 2.0
    write(surface, foot, left + _PAD, bottom - 2.5 - foot.height)
    for scale in _SCALES:
        laid = _Laid(tag, words, scale)
        if laid.height <= room:
            break
    else:
        raise ValueError("a tag cannot hold all that is off or open")
    laid.draw(surface, left + _PAD, y + 2.0)


class _Laid:
    """The words of a tag at a scale."""

    def __init__(self, tag: StoredTag, words: Words, scale: float) -> None:
        wide = WIDE - 2 * _PAD
        self._icon = tag.icon
        indent = _ICON + 2.0 if tag.icon else 0.0
        self._box = SMALL_BOX * max(scale, 0.8)
        self._indent = indent
        self._name = compose(tag.machine, _sized(NAME, scale), wide - indent, 3)
        self._stored = compose(tag.stored, _sized(LINE, scale), wide - indent)
        self._state = compose(tag.state, _sized(STATE, scale), wide - 4.0) if tag.state else None
        self._groups = [
            self._group(words(head), lines, scale, wide, boxed=boxed)
            for head, lines, boxed in (
                (msg("OFF OR OPEN NOW"), tag.off, False),
                (msg("IT GOES ON WITH") if tag.on_bench else FIRST, tag.first, True),
                (msg("LEFT TO DO"), tag.to_do, False),
            )
            if lines
        ]

    def _group(
        self, head: str, lines: tuple[str, ...], scale: float, wide: float, *, boxed: bool
    ) -> tuple[Composed, list[Composed], bool]:
        indent = self._box + 2.0 if boxed else 0.0
        style = _sized(LINE, scale)
        return (
            compose(head, _sized(HEADING, scale), wide),
            [compose(line, style, wide - indent) for line in lines],
            boxed,
        )

    @property
    def height(self) -> float:
        """Millimetres that it all takes."""
        head = max(self._name.height + self._stored.height, _ICON if self._icon else 0.0)
        state = self._state.height + 5.0 if self._state else 0.0
        return head + state + sum(self._tall(group) for group in self._groups)

    def _tall(self, group: tuple[Composed, list[Composed], bool]) -> float:
        head, lines, boxed = group
        least = self._box + 0.8 if boxed else 0.0
        return 1.8 + head.height + sum(max(line.height, least) for line in lines)

    def draw(self, surface: Surface, left: float, top: float) -> None:
        """Draw it from its top left corner."""
        draw_icon(surface, self._icon, left, top, _ICON)
        write(surface, self._name, left + self._indent, top)
        write(surface, self._stored, left + self._indent, top + self._name.height)
        y = top + max(self._name.height + self._stored.height, _ICON if self._icon else 0.0)
        if self._state:
            y += 1.5
            surface.box(left, y, WIDE - 2 * _PAD, self._state.height + 2.0, HEAD)
            write(surface, self._state, left + 2.0, y + 1.0)
            y += self._state.height + 3.5
        for head, lines, boxed in self._groups:
            y += 1.8
            write(surface, head, left, y)
            y += head.height
            for line in lines:
                if boxed:
                    tick_box(surface, left, y + 0.2, self._box)
                    write(surface, line, left + self._box + 2.0, y + 0.4)
                    y += max(line.height, self._box + 0.8)
                else:
                    write(surface, line, left, y)
                    y += line.height


def _sized(style: Style, scale: float) -> Style:
    return Style(size=style.size * scale, face=style.face, heavy=style.heavy, leading=style.leading)
