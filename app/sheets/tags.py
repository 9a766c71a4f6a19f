"""Tags for cans and tanks: what is in them, since when, and until when it may be run.

66 by 120 millimetres, two corners cut, a hole of 6; six on a sheet, or each on a page of its own
size. Black and white; the dates are the largest thing on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from app.sheets.figures import Go, circle
from app.sheets.labels import Words
from app.sheets.lettering import Face, Style, compose
from app.sheets.pieces import Caution, alert_sign
from app.sheets.surface import (
    BOX,
    FRAME,
    HAIR,
    HEAD,
    SIZES,
    Ink,
    Paper,
    PdfSurface,
    Placed,
    Size,
    Surface,
    write,
)
from app.wording.languages import msg
from schedules.facts import Severity

WIDTH, HEIGHT = 66.0, 120.0
ACROSS, DOWN = 3, 2
_CORNER, _HOLE, _MARGIN, _AROUND = 8.0, 6.0, 5.0, 5.0
_ROOM = WIDTH - 2 * _MARGIN
_COLUMN = 24.0
_LEAST_ROW = 6.6
_SIGN = 4.0

NAME = Style(size=12, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.15)
FUEL = Style(size=22, face=Face.BOLD, leading=1.1)
LABEL = Style(size=9.5, leading=1.2)
VALUE = Style(size=11, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.2)
LEAD = Style(size=11, leading=1.2)
DATE = Style(size=22, face=Face.BOLD, leading=1.1)
NOT = Style(size=11, face=Face.BOLD, leading=1.1)
TEXT = Style(size=9, leading=1.2)
SIGNAL = Style(size=10, face=Face.BOLD, leading=1.2)
FOOT = Style(size=8.5, leading=1.2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag:
    """One tag, worded. A fact without a value is a line to write on. `until_lead` stands over the
    large date `until`; `after` says what is done past it; `instead` stands where there is no date.
    """

    name: str
    fuel: str
    sort: str
    facts: tuple[tuple[str, str], ...]
    until_lead: str
    until: str
    after: str
    not_for: str
    caution: Caution
    foot: tuple[str, str]


def draw(
    tags: Sequence[Tag], *, paper: Paper, language: str, words: Words, single: bool = False
) -> bytes:
    """The tags as one PDF: six a page, or a page of its own size each."""
    names = ", ".join(tag.name for tag in tags)
    title = words(msg("Tags for cans and tanks")) + (f": {names}" if 0 < len(names) <= 120 else "")
    surface = PdfSurface(title=title, language=language)
    if single:
        for tag in tags:
            surface.page(Size(WIDTH + 2 * _AROUND, HEIGHT + 2 * _AROUND))
            surface.mark(tag.name[:60], 0)
            draw_tag(Placed(surface, _AROUND, _AROUND, 1.0), tag, words)
    else:
        _sheet(surface, tags, SIZES[paper], words)
    return surface.finished()


def _sheet(surface: Surface, tags: Sequence[Tag], size: Size, words: Words) -> None:
    """Side by side, so that one cut parts two."""
    left = (size.width - ACROSS * WIDTH) / 2
    top = (size.height - DOWN * HEIGHT) / 2
    each = ACROSS * DOWN
    for number, tag in enumerate(tags):
        place = number % each
        if not place:
            surface.page(size)
        surface.mark(tag.name[:60], 0)
        row, column = divmod(place, ACROSS)
        at = Placed(surface, left + column * WIDTH, top + row * HEIGHT, 1.0)
        draw_tag(at, tag, words)
    if not tags:
        surface.page(size)


def draw_tag(surface: Surface, tag: Tag, words: Words) -> None:
    """One tag with its upper left corner at nought."""
    _edge(surface, words)
    y = _MARGIN + _HOLE + 3.0
    name = compose(tag.name, NAME, _ROOM, 2)
    write(surface, name, _MARGIN, y)
    y += name.height + 0.8
    surface.line(_MARGIN, y, WIDTH - _MARGIN, y, HEAD)
    y = _fuel(surface, tag, y + 1.2)
    for label, value in tag.facts:
        y = _fact(surface, label, value, y)
    y += 1.6
    lead = compose(tag.until_lead, LEAD, _ROOM, 2)
    write(surface, lead, _MARGIN, y)
    y += lead.height
    large = _fitting(tag.until, DATE, _ROOM, _SMALLEST) or replace(DATE, size=_SMALLEST)
    until = compose(tag.until, large, _ROOM, 1)
    write(surface, until, _MARGIN, y)
    y += until.height
    after = compose(tag.after, LABEL, _ROOM, 3)
    write(surface, after, _MARGIN, y)
    foot = HEIGHT - _MARGIN - FOOT.line
    not_for = compose(tag.not_for, NOT, _ROOM, 2)
    y = _caution(surface, tag.caution, foot - 1.2)
    if tag.not_for:
        write(surface, not_for, _MARGIN, y - not_for.height - 1.4)
    near, far = (compose(part, FOOT, _ROOM * 0.62, 1) for part in tag.foot)
    write(surface, near, _MARGIN, foot)
    write(surface, far, 0.0, foot, right=WIDTH - _MARGIN)


def _fuel(surface: Surface, tag: Tag, y: float) -> float:
    sort = compose(tag.sort, FUEL, _ROOM, 1)
    room = _ROOM - (sort.width + 3.0 if tag.sort else 0.0)
    size = FUEL.size
    fuel = compose(tag.fuel, FUEL, room, 2)
    while fuel.width > room or len(fuel.lines) > 1:
        size -= 1
        if size < _SMALLEST:
            break
        fuel = compose(tag.fuel, Style(size=size, face=Face.BOLD, leading=1.1), room, 2)
    high = max(fuel.height, sort.height)
    write(surface, fuel, _MARGIN, y + high - fuel.height)
    write(surface, sort, 0.0, y, right=WIDTH - _MARGIN)
    return y + high + 1.0


_SMALLEST = 13


def _fitting(text: str, style: Style, room: float, least: float) -> Style | None:
    """As large as goes on one line; None where even the least is too large."""
    size = style.size
    while size >= least:
        smaller = replace(style, size=size)
        if len(compose(text, smaller, room, 2).lines) == 1:
            return smaller
        size -= 0.5
    return None


def _fact(surface: Surface, label: str, value: str, y: float) -> float:
    """A label with its value, or with a line to write on."""
    said = compose(label, LABEL, _COLUMN - 1.0, 2)
    if value:
        room = _ROOM - _COLUMN
        shown = compose(value, _fitting(value, VALUE, room, LABEL.size) or VALUE, room, 2)
        high = max(said.height, shown.height, 5.0)
        write(surface, said, _MARGIN, y + (VALUE.line - LABEL.line) / 2)
        write(surface, shown, _MARGIN + _COLUMN, y)
        return y + high + 0.5
    write(surface, said, _MARGIN, y + _LEAST_ROW - LABEL.line)
    surface.line(_MARGIN + _COLUMN, y + _LEAST_ROW, WIDTH - _MARGIN, y + _LEAST_ROW, HAIR)
    return y + _LEAST_ROW + 0.8


def _caution(surface: Surface, caution: Caution, bottom: float) -> float:
    """The caution, whole, standing on `bottom`; where it begins comes back."""
    text = compose(caution.text, TEXT, _ROOM - 4.0)
    word = compose(caution.word, SIGNAL, _ROOM - 4.0, 1)
    head, high = word.height + 1.0, text.height + 2.0
    top = bottom - head - high
    half = FRAME / 2
    surface.box(
        _MARGIN + half, top + half, _ROOM - FRAME, head + high - FRAME, FRAME, solid=Ink.WHITE
    )
    surface.box(_MARGIN, top, _ROOM, head, 0, solid=Ink.BLACK)
    x = _MARGIN + 2.0
    if caution.signal is not Severity.NOTICE:
        alert_sign(surface, x, top + 0.9, _SIGN)
        x += _SIGN + 1.4
    write(surface, word, x, top + 0.5, ink=Ink.WHITE)
    write(surface, text, _MARGIN + 2.0, top + head + 0.8)
    return top


def _edge(surface: Surface, words: Words) -> None:
    points = (
        (_CORNER, 0.0),
        (WIDTH - _CORNER, 0.0),
        (WIDTH, _CORNER),
        (WIDTH, HEIGHT),
        (0.0, HEIGHT),
        (0.0, _CORNER),
    )
    path = (
        (Go.MOVE, points[0]),
        *((Go.LINE, point) for point in points[1:]),
        (Go.CLOSE, ()),
    )
    surface.shape(path, BOX)
    middle = _MARGIN - 1.0 + _HOLE / 2
    surface.shape(circle(WIDTH / 2, middle, _HOLE / 2), BOX, solid=Ink.WHITE)
    hole = compose(words(msg("hole")), FOOT, 20, 1)
    write(surface, hole, WIDTH / 2 + _HOLE, middle - FOOT.line / 2)
