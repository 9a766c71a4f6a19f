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
_PITCH = 4.2
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
        _limit(surface, rows, field)
    for renewal in rows.renewals:
        x, _ = field.at((renewal.at, 0))
        surface.line(x, field.top, x, field.top + field.height, 0.25, (0.6, 0.6))
        wide = measure(legible(renewal.text), Face.ITALIC, SMALL)
        left = x + 0.8 if x + 0.8 + wide < field.left + field.width else x - 0.8 - wide
        for base in _free_rows(rows, field, left, left + wide, 1, low=True):
            _say_clear(surface, renewal.text, left, base, Face.ITALIC)
    _flags(surface, rows, field)
    for reading in rows.readings:
        surface.shape(_dot(*field.at(reading)), 0, solid=Ink.BLACK)


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


def _limit(surface: Surface, rows: PlotRows, field: _Field) -> None:
    limit = rows.limit
    if limit is None:
        return
    _, y = field.at((0, limit.at))
    surface.line(field.left, y, field.left + field.width, y, 0.6, (2.4, 1.2))
    wide = measure(legible(limit.text), Face.SEMIBOLD, SMALL)
    strokes = [field.at((one.at, 0))[0] for one in (*rows.flags, *rows.renewals)]
    places = [field.left + 1.0, field.left + field.width - wide - 1.0]
    places.append((places[0] + places[1]) / 2)
    clear = [x for x in places if not any(x - 0.5 < at < x + wide + 0.5 for at in strokes)]
    base = _limit_base(limit, field)
    _say_clear(surface, limit.text, (clear or places)[0], base, Face.SEMIBOLD)


def _limit_base(limit: Tick, field: _Field) -> float:
    """Beneath the line, or above it where there is no room beneath."""
    _, y = field.at((0, limit.at))
    return y - 1.2 if limit.at < 0.12 else y + 3.4


def _flags(surface: Surface, rows: PlotRows, field: _Field) -> None:
    """Each flag a stroke up from the axis, its words at the left of the first stroke, so that none
    is crossed by another's, and in a row that neither the limit nor its words run through."""
    strokes = [field.at((flag.at, 0))[0] for flag in rows.flags]
    if not strokes:
        return
    faces = [Face.SEMIBOLD if flag.strong else Face.REGULAR for flag in rows.flags]
    wide = [
        measure(legible(flag.text), face, SMALL)
        for flag, face in zip(rows.flags, faces, strict=True)
    ]
    right = min(strokes) - 1.0
    if right - max(wide) < field.left:
        right = max(strokes) + 1.0 + max(wide)
    bases = _free_rows(rows, field, right - max(wide), right, len(strokes))
    for n, (flag, x, base) in enumerate(zip(rows.flags, strokes, bases, strict=False)):
        surface.line(x, base - 2.4, x, field.top + field.height, 0.4 if flag.strong else 0.2)
        left = right - wide[n] if right < x + 1 else right - max(wide)
        if left < min(strokes) < x:
            surface.line(min(strokes), base - 1.0, x, base - 1.0, 0.2)
        _say_clear(surface, flag.text, left, base, faces[n])


def _free_rows(
    rows: PlotRows, field: _Field, left: float, right: float, count: int, *, low: bool = False
) -> list[float]:
    """Base lines, from the top downwards, of so many rows that keep clear of the limit, and as far
    as may be of what is drawn between `left` and `right`; `low`: taken from the bottom."""
    bases = [field.top + 3.4 + _PITCH * row for row in range(int((field.height - 2) / _PITCH))]
    if rows.limit is not None:
        _, line = field.at((0, rows.limit.at))
        said = _limit_base(rows.limit, field)
        above, below = min(line - 0.6, said - 2.6), max(line + 0.6, said + 0.8)
        bases = [base for base in bases if base + 0.8 < above or base - 2.6 > below]
    drawn = [field.at(spot) for spot in (*rows.readings, *rows.line, *rows.upper, *rows.lower)]

    def met(base: float) -> int:
        return sum(left - 1 < x < right + 1 and base - 3.5 < y < base + 1.6 for x, y in drawn)

    return sorted(sorted(reversed(bases) if low else bases, key=met)[:count])


def _say_clear(surface: Surface, text: str, x: float, base: float, face: Face) -> None:
    """Words on a ground of their own, so that no line runs through them."""
    wide = measure(legible(text), face, SMALL)
    surface.box(x - 0.4, base - 2.5, wide + 0.8, 3.3, 0, solid=Ink.WHITE)
    _say(surface, text, x, base, face, SMALL)


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
