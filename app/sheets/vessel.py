"""A can, tank or bowl drawn to its level, and the bands of a vessel along the days.

One language of textures for lots and bands, so that both are told in black and white: plain is
good, dots are to be used first, strokes are stale, a net is to be drained, dashes are unknown.
The area of a vessel is its volume, the same for all; very small ones are drawn larger.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import sqrt

from app.sheets.figures import Go, Path
from app.sheets.lettering import Face, Style, compose, measure
from app.sheets.surface import BOX, GRADUATION, HAIR, HEAD, Ink, Surface, write
from schedules.facts import Band, VesselSort

SIDE = 12.5
"""Millimetres of one side of a litre."""
LEAST_SIDE, MOST_SIDE = 13.0, 58.0
SCALE_ROOM = 13.0
"""Room at the left for the figures of the scale."""
CAP, LIP, STUB = 4.5, 2.6, 2.4
_PITCH = 2.1
_EDGE = 1.7
_TICK = 1.4

FIGURE = Style(size=8.5, leading=1.1)
PLATE = Style(size=8.5, face=Face.SEMIBOLD, leading=1.15)
WORD = Style(size=9.5, face=Face.SEMIBOLD, leading=1.15)
QUIET = Style(size=9.5, leading=1.15)


class Texture(Enum):
    """How fuel is drawn."""

    PLAIN = "plain"
    DOTS = "dots"
    STROKES = "strokes"
    NET = "net"
    DASHES = "dashes"


TEXTURES = {
    Band.GOOD: Texture.PLAIN,
    Band.USE_FIRST: Texture.DOTS,
    Band.BURN: Texture.STROKES,
    Band.DRAIN: Texture.NET,
    Band.NOT_FOR_THIS: Texture.NET,
    Band.LOOK_FIRST: Texture.DASHES,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """Fuel of one lot: its part of the whole vessel, oldest below. `label`: its plate."""

    part: float
    texture: Texture
    treated: bool = False
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselFigure:
    """A vessel as it is drawn. `marks`: figures of its scale, each at a part of its height;
    `said`: what stands in it when it is empty, or when nobody knows how much there is."""

    sort: VesselSort
    litres: float
    layers: tuple[Layer, ...] = ()
    marks: tuple[tuple[float, str], ...] = ()
    said: str = ""

    @property
    def side(self) -> float:
        """Width and height of its body, millimetres."""
        return min(MOST_SIDE, max(LEAST_SIDE, SIDE * sqrt(self.litres)))

    @property
    def width(self) -> float:
        """Of all that is drawn, millimetres."""
        return SCALE_ROOM + self.side + 2.0

    @property
    def height(self) -> float:
        """Of all that is drawn, millimetres."""
        return CAP + LIP + self.side + STUB


def draw_vessel(surface: Surface, figure: VesselFigure, left: float, bottom: float) -> None:
    """Draw it standing on `bottom`, its scale beginning at `left`."""
    side, floor = figure.side, bottom - STUB
    x, top = left + SCALE_ROOM, floor - figure.side
    _layers(surface, figure, x, floor)
    wide = max((measure(word, QUIET.face, QUIET.size) for word in figure.said.split()), default=0)
    if figure.said and wide <= side - 2:  # it stands beneath, too
        said = compose(figure.said, QUIET, side - 2, 3)
        write(surface, said, x + (side - said.width) / 2, floor - side / 2 - said.height / 2)
    surface.shape(_outline(figure.sort, x, top, side), HEAD)
    if figure.sort is not VesselSort.CAN:
        surface.line(x + side / 2, floor, x + side / 2, floor + STUB, HEAD)
    for part, text in figure.marks:
        y = floor - part * side
        surface.line(x - _TICK, y, x, y, BOX)
        number = compose(text, FIGURE, SCALE_ROOM - _TICK, 1)
        at_lip = figure.sort is not VesselSort.CAN and part > 0.99
        high = y - number.height * (1.05 if at_lip else 0.5)
        write(surface, number, left, high, right=x - _TICK - 0.6)


def _outline(sort: VesselSort, x: float, top: float, side: float) -> Path:
    """A can has shoulders and a cap, a tank open lips, a bowl is round below."""
    right, floor = x + side, top + side
    if sort is VesselSort.CAN:
        cap = side * 0.28
        start = x + side * 0.46
        neck = top - LIP
        points = (
            (x, floor),
            (x, top),
            (start, neck),
            (start, neck - CAP / 2),
            (start + cap, neck - CAP / 2),
            (start + cap, neck),
            (right, top),
            (right, floor),
        )
        return (
            (Go.MOVE, points[0]),
            *((Go.LINE, point) for point in points[1:]),
            (Go.CLOSE, ()),
        )
    lip = min(2.5, side / 6)
    points = (
        (x - lip, top),
        (x, top),
        (x, floor),
        (right, floor),
        (right, top),
        (right + lip, top),
    )
    return ((Go.MOVE, points[0]), *((Go.LINE, point) for point in points[1:]))


def _layers(surface: Surface, figure: VesselFigure, x: float, floor: float) -> None:
    side, below = figure.side, floor
    for layer in figure.layers:
        high = layer.part * side
        top = below - high
        surface.box(x, top, side, high, 0, solid=Ink.WHITE)
        texture(surface, layer.texture, x, top, side, high)
        surface.line(x, top, x + side, top, BOX)
        if layer.treated:
            surface.box(x + side - _EDGE, top, _EDGE, high, 0, solid=Ink.BLACK)
        _plate(surface, layer.label, x + 1.2, top, high, side - _EDGE - 2.4)
        below = top


def _plate(surface: Surface, label: str, x: float, top: float, high: float, room: float) -> None:
    """The label, on a ground of its own; left out where it does not fit: the table has it, too."""
    said = compose(label, PLATE, 200, 1)
    if not label or said.width + 1.6 > room or said.height + 0.8 > high:
        return
    y = top + (high - said.height) / 2
    surface.box(x, y - 0.3, said.width + 1.6, said.height + 0.6, HAIR, solid=Ink.WHITE)
    write(surface, said, x + 0.8, y)


# -- textures ---------------------------------------------------------------------------------


def texture(
    surface: Surface, sort: Texture, x: float, top: float, width: float, high: float
) -> None:
    """Fill a rectangle."""
    match sort:
        case Texture.PLAIN:
            return
        case Texture.DOTS:
            _dots(surface, x, top, width, high)
        case Texture.DASHES:
            for row in _steps(high, _PITCH * 1.2):
                surface.line(x, top + row, x + width, top + row, GRADUATION, (1.6, 1.2))
        case Texture.STROKES | Texture.NET:
            _strokes(surface, x, top, width, high, rising=True)
            if sort is Texture.NET:
                _strokes(surface, x, top, width, high, rising=False)


def _steps(length: float, pitch: float) -> list[float]:
    """Places within a length, the same distance apart."""
    count = int(length / pitch)
    return [pitch * (at + 0.5) for at in range(count)] or [length / 2]


def _dots(surface: Surface, x: float, top: float, width: float, high: float) -> None:
    for number, row in enumerate(_steps(high, _PITCH)):
        shift = _PITCH / 2 if number % 2 else 0.0
        for across in _steps(width, _PITCH * 1.4):
            at = x + across + shift
            if at < x + width:
                surface.line(at, top + row, at + 0.02, top + row, 0.55)


def _strokes(
    surface: Surface, x: float, top: float, width: float, high: float, *, rising: bool
) -> None:
    """Slanted lines, cut at the edges of the rectangle."""
    at = _PITCH / 2
    while at < width + high:
        # From the left or lower edge to the upper or right one, in a frame that begins at nought.
        start = (0.0, at) if at <= high else (at - high, high)
        end = (at, 0.0) if at <= width else (width, at - width)
        ends = [start, end]
        if not rising:
            ends = [(width - across, down) for across, down in ends]
        (ax, ay), (bx, by) = ends
        surface.line(x + ax, top + ay, x + bx, top + by, GRADUATION)
        at += _PITCH


# -- the line of days -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Days of one band, as parts of the whole line; `band` None: it was empty."""

    start: float
    end: float
    band: Band | None
    word: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLine:
    """The past and the coming bands of a vessel. `today` and `months`: parts of the line."""

    stretches: tuple[Stretch, ...]
    today: float
    months: tuple[tuple[float, str], ...] = ()
    today_said: str = ""


LINE_WIDTH, LINE_HEIGHT = 100.0, 21.0
_BAR = 6.0


def draw_days(surface: Surface, line: DayLine, left: float, top: float, width: float) -> None:
    """Draw it: today above, words over the bands where there is room, months below."""
    bar = top + 9.0
    last_word = left
    for stretch in line.stretches:
        x, wide = left + stretch.start * width, (stretch.end - stretch.start) * width
        if stretch.band is None:
            surface.line(x, bar + _BAR, x + wide, bar + _BAR, HAIR)
        else:
            surface.box(x, bar, wide, _BAR, HAIR, solid=Ink.WHITE)
            texture(surface, TEXTURES[stretch.band], x, bar, wide, _BAR)
        word = compose(stretch.word, WORD, 60, 1)
        if word.width <= left + width - max(x, last_word) and x >= last_word:
            write(surface, word, x, bar - word.height - 0.2)
            last_word = x + word.width + 2.0
    _months(surface, line.months, left, bar + _BAR, width)
    x = left + line.today * width
    surface.line(x, bar - 0.6, x, bar + _BAR + 1.4, 0.8)
    today = compose(line.today_said, QUIET, 40, 1)
    at = min(max(left, x - today.width / 2), left + width - today.width)
    write(surface, today, at, top - 0.6)


def _months(
    surface: Surface, months: Sequence[tuple[float, str]], left: float, y: float, width: float
) -> None:
    free = left
    for part, name in months:
        x = left + part * width
        surface.line(x, y, x, y + 1.4, GRADUATION)
        said = compose(name, FIGURE, 30, 1)
        if x >= free and x + said.width <= left + width:
            write(surface, said, x, y + 1.6)
            free = x + said.width + 1.5
