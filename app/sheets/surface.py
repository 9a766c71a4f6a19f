# pyright: reportUnknownMemberType=false
# (the canvas leaves many of its arguments untyped)
"""The one drawing surface: millimetres from the top left corner, ink and paper.

Everything drawn on a sheet goes through `Surface`, so that the same drawing can be shown by
another backend than the one here, which writes PDF. Text reaches it measured and legible; each
piece is written as letters, so it can be searched and copied.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, StrEnum
from functools import cache, lru_cache
from io import BytesIO
from typing import Protocol

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from app.sheets.figures import GRID, Go, Path, icon, placed
from app.sheets.lettering import POINT, Composed, Face, font, legible
from app.sheets.pictures import for_paper

# Pages as bytes instead of as printable letters: a fifth smaller.
rl_config.useA85 = 0


class Paper(StrEnum):
    """ISO 216 and ANSI/ASME Y14.1."""

    A4 = "a4"
    LETTER = "letter"


@dataclass(frozen=True, slots=True)
class Size:
    """A page, millimetres."""

    width: float
    height: float

    def turned(self) -> Size:
        return Size(self.height, self.width)


SIZES = {Paper.A4: Size(210.0, 297.0), Paper.LETTER: Size(215.9, 279.4)}
MARGIN = 16.0

# Weights of lines, millimetres.
GRADUATION = 0.18
HAIR = 0.2
BOX = 0.35
HEAD = 0.5
FRAME = 0.6
STOP = 1.4


class Ink(Enum):
    """Black first: nothing on paper is told by a colour. WASH is the one grey, under text."""

    BLACK = 0.0
    PENCIL = 0.35
    WASH = 0.92
    WHITE = 1.0


class Surface(Protocol):
    """Where a sheet is drawn. Lengths in millimetres, sizes of type in points."""

    def page(self, size: Size) -> None:
        """Begin a page."""
        ...

    def mark(self, title: str, level: int) -> None:
        """Let a reader jump to this page by its title."""
        ...

    def letters(self, x: float, base: float, text: str, face: Face, size: float, ink: Ink) -> None:
        """Write legible text whose base line is at `base`."""
        ...

    def line(
        self, x: float, y: float, x2: float, y2: float, weight: float, dash: tuple[float, ...] = ()
    ) -> None: ...

    def shape(self, path: Path, weight: float, *, solid: Ink | None = None) -> None:
        """Draw a path with round ends; `weight` 0 draws no outline."""
        ...

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        weight: float,
        *,
        solid: Ink | None = None,
    ) -> None:
        """Draw a rectangle whose edge runs on the given sides; `weight` 0 draws no outline."""
        ...

    def image(self, jpeg: bytes, x: float, y: float, width: float, height: float) -> None:
        """Paint a JPEG into a rectangle; a picture that is broken leaves its frame empty."""
        ...


@dataclass(frozen=True, slots=True)
class Placed:
    """A part of a surface, made larger and moved: what is drawn on it lands there."""

    on: Surface
    left: float
    top: float
    scale: float

    def page(self, size: Size) -> None:
        self.on.page(size)

    def mark(self, title: str, level: int) -> None:
        self.on.mark(title, level)

    def letters(self, x: float, base: float, text: str, face: Face, size: float, ink: Ink) -> None:
        k = self.scale
        self.on.letters(self.left + x * k, self.top + base * k, text, face, size * k, ink)

    def line(
        self, x: float, y: float, x2: float, y2: float, weight: float, dash: tuple[float, ...] = ()
    ) -> None:
        k = self.scale
        ends = (self.left + x * k, self.top + y * k, self.left + x2 * k, self.top + y2 * k)
        self.on.line(*ends, weight * k, tuple(part * k for part in dash))

    def shape(self, path: Path, weight: float, *, solid: Ink | None = None) -> None:
        moved = placed(path, self.left, self.top, self.scale)
        self.on.shape(moved, weight * self.scale, solid=solid)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        weight: float,
        *,
        solid: Ink | None = None,
    ) -> None:
        k = self.scale
        corner = (self.left + x * k, self.top + y * k)
        self.on.box(*corner, width * k, height * k, weight * k, solid=solid)

    def image(self, jpeg: bytes, x: float, y: float, width: float, height: float) -> None:
        k = self.scale
        self.on.image(jpeg, self.left + x * k, self.top + y * k, width * k, height * k)


class PdfSurface:
    """Writes a PDF: faces embedded, real text, title and language set, no author, no clock.

    Law: the same drawing gives the same bytes.
    """

    def __init__(self, *, title: str, language: str) -> None:
        self._bytes = BytesIO()
        # Called with the language as BCP 47 wants it: en-GB, not en_GB.
        self._canvas = Canvas(
            self._bytes,
            pageCompression=1,
            invariant=1,
            lang=language.replace("_", "-"),
            initialFontName=_registered(Face.REGULAR),  # pyright: ignore[reportArgumentType] (the stub says float)
        )
        self._canvas.setTitle(legible(title))
        self._canvas.setAuthor("")
        self._canvas.setSubject("")
        self._canvas.setCreator("Firstpull")
        self._canvas.setProducer("Firstpull")
        self._canvas.setViewerPreference("DisplayDocTitle", "true")
        self._height = 0.0
        self._begun = False
        self._marks = 0
        # What the page already holds to; saying it again would only make the document longer.
        self._weight = self._grey = -1.0
        self._dash: tuple[float, ...] = ()

    def page(self, size: Size) -> None:
        if self._begun:
            self._canvas.showPage()
        self._begun = True
        self._height = size.height
        self._canvas.setPageSize((size.width / POINT, size.height / POINT))
        self._weight = self._grey = -1.0
        self._dash = ()
        self._canvas.setLineCap(1)
        self._canvas.setLineJoin(1)

    def mark(self, title: str, level: int) -> None:
        self._marks += 1
        key = f"mark-{self._marks}"
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(legible(title), key, level)

    def letters(self, x: float, base: float, text: str, face: Face, size: float, ink: Ink) -> None:
        self._canvas.setFont(_registered(face), size)
        self._fill(ink)
        self._canvas.drawString(_points(x), _points(self._height - base), text)

    def line(
        self, x: float, y: float, x2: float, y2: float, weight: float, dash: tuple[float, ...] = ()
    ) -> None:
        self._stroke(weight, dash)
        flip = self._height
        self._canvas.line(*map(_points, (x, flip - y, x2, flip - y2)))

    def shape(self, path: Path, weight: float, *, solid: Ink | None = None) -> None:
        drawn = _outline(path, self._height)
        if weight:
            self._stroke(weight, ())
        if solid is not None:
            self._fill(solid)
        self._canvas.drawPath(drawn, stroke=int(weight > 0), fill=int(solid is not None))

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        weight: float,
        *,
        solid: Ink | None = None,
    ) -> None:
        if weight:
            self._stroke(weight, ())
        if solid is not None:
            self._fill(solid)
        self._canvas.rect(
            *map(_points, (x, self._height - y - height, width, height)),
            stroke=int(weight > 0),
            fill=int(solid is not None),
        )

    def image(self, jpeg: bytes, x: float, y: float, width: float, height: float) -> None:
        from reportlab.lib.utils import ImageReader  # it takes long, and few pages have pictures

        small = for_paper(jpeg, width, height)
        if small is None:
            self.box(x, y, width, height, HAIR)
            return
        x, y, width, height = map(_points, (x, self._height - y - height, width, height))
        self._canvas.drawImage(ImageReader(BytesIO(small)), x, y, width, height)

    def finished(self) -> bytes:
        """The document; nothing can be drawn after it."""
        self._canvas.save()
        return self._bytes.getvalue()

    def _stroke(self, weight: float, dash: tuple[float, ...]) -> None:
        if weight != self._weight:
            self._weight = weight
            self._canvas.setLineWidth(_points(weight))
        if dash != self._dash:
            self._dash = dash
            self._canvas.setDash([_points(part) for part in dash])

    def _fill(self, ink: Ink) -> None:
        if ink.value != self._grey:
            self._grey = ink.value
            self._canvas.setFillGray(ink.value)


def _points(length: float) -> float:
    """Millimetres as points, to a hundredth: finer than any printer, shorter to write down."""
    return round(length / POINT, 2)


@lru_cache(maxsize=256)
def _outline(path: Path, height: float) -> PDFPathObject:
    """A path as the writer keeps it, on a page of so many millimetres. The rule and the icons come
    again on each sheet, and writing out their numbers takes longer than anything else on it."""
    drawn = PDFPathObject()
    for go, numbers in path:
        flat = tuple(
            _points(height - number if place % 2 else number)
            for place, number in enumerate(numbers)
        )
        match go:
            case Go.MOVE:
                drawn.moveTo(*flat)
            case Go.LINE:
                drawn.lineTo(*flat)
            case Go.CURVE:
                drawn.curveTo(*flat)
            case Go.CLOSE:
                drawn.close()
    return drawn


@cache
def _registered(face: Face) -> str:
    """The name the writer knows a face by."""
    held = font(face)
    pdfmetrics.registerFont(held)
    return held.fontName


# -- what is drawn with these few strokes ----------------------------------------------------


def write(
    surface: Surface,
    composed: Composed,
    left: float,
    top: float,
    *,
    ink: Ink = Ink.BLACK,
    right: float | None = None,
) -> None:
    """Write composed lines downwards from `top`; with `right`, each ends there instead."""
    style = composed.style
    for number, line in enumerate(composed.lines):
        base = top + number * style.line + (style.line + style.capital) / 2
        start = left if right is None else right - line.width
        for piece in line.pieces:
            if piece.text.strip():
                surface.letters(start + piece.left, base, piece.text, piece.face, style.size, ink)


def draw_icon(surface: Surface, name: str, left: float, top: float, side: float) -> None:
    """Draw an icon in a square of `side` millimetres; an unknown name draws nothing."""
    scale = side / GRID
    for stroke in icon(name):
        path = placed(stroke.path, left, top, scale)
        surface.shape(path, stroke.weight * scale, solid=Ink.BLACK if stroke.solid else None)
