"""The course of a wearing part: readings, line, band, limit and days, on the one surface.

Black and white: readings are dots, the line is solid, its band two thin lines, the limit heavy and
dashed, renewals upright strokes, *expected* and *plan by* flags with their day.
"""

from __future__ import annotations

from dataclasses import dataclass

from app.sheets.figures import Go, Path
from app.sheets.lettering import Face, legible, measure
from app.sheets.surface import Ink, Surface

TYPE = 8.0
SMALL = 7.0
DOT = 0.9
_LEFT, _RIGHT, _TOP, _BOTTOM = 20.0, 6.0, 9.0, 10.0
Spot = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A figure on an axis; `at` from 0 (left, bottom) to 1."""

    at: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """Where the part is worn, as expected or at the earliest. `strong`: the one to plan by."""

    at: float
    text: str
    strong: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlotRows:
    """All that is drawn, worded, in shares of the field (0 to 1, from the bottom left)."""

    title: str
    across: str
    upright: str
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    readings: tuple[Spot, ...]
    line: tuple[Spot, ...] = ()
    upper: tuple[Spot, ...] = ()
    lower: tuple[Spot, ...] = ()
    limit: Tick | None = None
    renewals: tuple[Tick, ...] = ()
    flags: tuple[Flag, ...] = ()


@dataclass(frozen=True, slots=True)
class _Field:
    """The field inside the axes, millimetres."""

    left: float
    top: float
    width: float
    height: float

    def at(self, spot: Spot) -> Spot:
        return self.left + spot[0] * self.width, self.top + (1 - spot[1]) * self.height


def draw_plot(
    surface: Surface, rows: PlotRows, *, left: float, top: float, width: float, height: float
) -> None:
    """Draw it into a rectangle of the surface, millimetres."""
    field = _Field(left + _LEFT, top + _TOP, width - _LEFT - _RIGHT, height - _TOP - _BOTTOM)
    _say(surface, rows.title, left, top + 4.0, Face.SEMIBOLD, TYPE + 1)
    _axes(surface, rows, field)
    for course, weight in ((rows.upper, 0.15), (rows.lower, 0.15), (rows.line, 0.4)):
        _course(surface, course, field, weight)
    if rows.limit is not None:
        _limit(surface, rows.limit, field)
    for renewal in rows.renewals:
        x, _ = field.at((renewal.at, 0))
        surface.line(x, field.top, x, field.top + field.height, 0.25, (0.6, 0.6))
        _say(surface, renewal.text, x + 0.8, field.top + field.height - 1.2, Face.ITALIC, SMALL)
    for reading in rows.readings:
        surface.shape(_dot(*field.at(reading)), 0, solid=Ink.BLACK)
    _flags(surface, rows.flags, field)


def _axes(surface: Surface, rows: PlotRows, field: _Field) -> None:
    bottom = field.top + field.height
    surface.line(field.left, field.top, field.left, bottom, 0.3)
    surface.line(field.left, bottom, field.left + field.width, bottom, 0.3)
    taken = field.left - 99
    for tick in rows.x_ticks:
        x, _ = field.at((tick.at, 0))
        surface.line(x, bottom, x, bottom + 1.2, 0.2)
        wide = measure(legible(tick.text), Face.REGULAR, SMALL)
        start = min(x - wide / 2, field.left + field.width - wide)
        if start > taken + 1:
            _say(surface, tick.text, start, bottom + 4.4, Face.REGULAR, SMALL)
            taken = start + wide
    for tick in rows.y_ticks:
        _, y = field.at((0, tick.at))
        surface.line(field.left - 1.2, y, field.left, y, 0.2)
        wide = measure(legible(tick.text), Face.REGULAR, SMALL)
        _say(surface, tick.text, field.left - 2 - wide, y + 0.9, Face.REGULAR, SMALL)
    wide = measure(legible(rows.across), Face.REGULAR, SMALL)
    _say(surface, rows.across, field.left + field.width - wide, bottom + 8.4, Face.REGULAR, SMALL)
    _say(surface, rows.upright, field.left + 0.8, field.top - 1.4, Face.REGULAR, SMALL)


def _course(surface: Surface, spots: tuple[Spot, ...], field: _Field, weight: float) -> None:
    inside = [field.at(spot) for spot in spots if -0.001 <= spot[1] <= 1.001]
    if len(inside) < 2:
        return
    path: Path = (
        (Go.MOVE, inside[0]),
        *((Go.LINE, spot) for spot in inside[1:]),
    )
    surface.shape(path, weight)


def _limit(surface: Surface, limit: Tick, field: _Field) -> None:
    _, y = field.at((0, limit.at))
    surface.line(field.left, y, field.left + field.width, y, 0.6, (2.4, 1.2))
    low = limit.at < 0.12
    _say(
        surface,
        limit.text,
        field.left + 1.0,
        y - 1.2 if low else y + 3.4,
        Face.SEMIBOLD,
        SMALL,
    )


def _flags(surface: Surface, flags: tuple[Flag, ...], field: _Field) -> None:
    # Every text ends before the first of them, so that none is crossed by another's stroke.
    first = min((field.at((flag.at, 0))[0] for flag in flags), default=field.left)
    for number, flag in enumerate(flags):
        x, _ = field.at((flag.at, 0))
        bottom = field.top + field.height
        surface.line(x, field.top + 1 + 4.2 * number, x, bottom, 0.4 if flag.strong else 0.2)
        face = Face.SEMIBOLD if flag.strong else Face.REGULAR
        wide = measure(legible(flag.text), face, SMALL)
        left = first - wide - 1.0
        if left < field.left:
            left = max(field.at((other.at, 0))[0] for other in flags) + 1.0
        elif x > first:
            surface.line(
                first, field.top + 2.4 + 4.2 * number, x, field.top + 2.4 + 4.2 * number, 0.2
            )
        _say(surface, flag.text, left, field.top + 3.4 + 4.2 * number, face, SMALL)


def _dot(x: float, y: float) -> Path:
    """A circle of four curves."""
    r, k = DOT, DOT * 0.5523
    return (
        (Go.MOVE, (x + r, y)),
        (Go.CURVE, (x + r, y + k, x + k, y + r, x, y + r)),
        (Go.CURVE, (x - k, y + r, x - r, y + k, x - r, y)),
        (Go.CURVE, (x - r, y - k, x - k, y - r, x, y - r)),
        (Go.CURVE, (x + k, y - r, x + r, y - k, x + r, y)),
        (Go.CLOSE, ()),
    )


def _say(surface: Surface, text: str, x: float, base: float, face: Face, size: float) -> None:
    surface.letters(x, base, legible(text), face, size, Ink.BLACK)
