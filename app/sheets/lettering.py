"""Letters on paper: which faces there are, what can be printed, and where lines end.

Everything a person typed is drawn as it stands, never read as markup. What no face can show is
replaced by something a reader can see, because a sheet that silently loses a letter lies. Words
are measured before they are set, so nothing runs past its column.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache
from importlib.resources import files
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reportlab.pdfbase.ttfonts import TTFont

POINT = 25.4 / 72
"""Millimetres in a point."""

CAPITAL = 0.698
"""Height of a capital, in sizes: the same in all our faces."""

REPLACEMENT = "\ufffd"
ELLIPSIS = "…"

_SPACES = {"\t": " ", "\u00a0": "\u00a0", "\u202f": "\u00a0", "\u2007": "\u00a0"}
_BREAKS = {"\u2028", "\u2029", "\x0b", "\x0c", "\x85"}
# They choose how the sign before them looks and say nothing of their own.
_DROPPED = {0x200D, *range(0xFE00, 0xFE10), *range(0x1F3FB, 0x1F400)}
_AFTER = re.compile(r"(?<=[-/_;@])")


class Face(StrEnum):
    """The weights we use; each is a file beside its licence."""

    REGULAR = "Regular"
    MEDIUM = "Medium"
    SEMIBOLD = "SemiBold"
    BOLD = "Bold"
    ITALIC = "Italic"


class Voice(StrEnum):
    """How a word is said: plainly, with weight, or reckoned and therefore leaning."""

    PLAIN = "plain"
    STRONG = "strong"
    RECKONED = "reckoned"


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text in one voice."""

    text: str
    voice: Voice = Voice.PLAIN


Text = str | tuple[Run, ...]
"""Words ready to be set: a plain string, or stretches of different voice."""


def strong(text: str) -> Run:
    return Run(text, Voice.STRONG)


def reckoned(text: str) -> Run:
    return Run(text, Voice.RECKONED)


def starred(text: str) -> tuple[Run, ...]:
    """Our own fixed words with `*weight*` between stars. Never for what a person typed."""
    return tuple(
        Run(part, Voice.STRONG if odd % 2 else Voice.PLAIN)
        for odd, part in enumerate(text.split("*"))
        if part
    )


def runs(text: Text) -> tuple[Run, ...]:
    return (Run(text),) if isinstance(text, str) else text


def plain(text: Text) -> str:
    """The words without their voices."""
    return text if isinstance(text, str) else "".join(run.text for run in text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """`size` in points; `leading` in sizes; `heavy` is the face of strong words."""

    size: float
    face: Face = Face.REGULAR
    heavy: Face = Face.SEMIBOLD
    leading: float = 1.3

    @property
    def line(self) -> float:
        """Height of a line, millimetres."""
        return self.size * self.leading * POINT

    @property
    def capital(self) -> float:
        """Height of a capital, millimetres."""
        return self.size * CAPITAL * POINT

    def face_of(self, voice: Voice) -> Face:
        if voice is Voice.STRONG:
            return self.heavy
        return Face.ITALIC if voice is Voice.RECKONED else self.face


@dataclass(frozen=True, slots=True)
class Piece:
    """Letters of one face within a line, `left` millimetres from its beginning."""

    text: str
    face: Face
    left: float


@dataclass(frozen=True, slots=True)
class Line:
    """One line as it will stand; `width` in millimetres."""

    pieces: tuple[Piece, ...]
    width: float


@dataclass(frozen=True, slots=True)
class Composed:
    """Text broken into lines. `shortened`: an ellipsis stands for what did not fit."""

    lines: tuple[Line, ...]
    style: Style
    shortened: bool = False

    @property
    def height(self) -> float:
        return len(self.lines) * self.style.line

    @property
    def width(self) -> float:
        return max((line.width for line in self.lines), default=0.0)


# -- faces ------------------------------------------------------------------------------------


@cache
def font(face: Face) -> TTFont:
    """The face, loaded from its file once; only the letters used end up in a document."""
    from reportlab.pdfbase.ttfonts import TTFont

    data = files("resources").joinpath("fonts", f"IBMPlexSans-{face.value}.ttf").read_bytes()
    return TTFont(f"Sheet-{face.value}", BytesIO(data), asciiReadable=False, shapable=False)


@cache
def _widths(face: Face) -> dict[int, float]:
    """Advance of each letter the face holds, in thousandths of the size."""
    held = font(face).face
    return {code: float(held.charWidths.get(code, held.defaultWidth)) for code in held.charToGlyph}


def measure(text: str, face: Face, size: float) -> float:
    """Width in millimetres of text that has been made legible."""
    widths = _widths(face)
    return sum(widths.get(ord(letter), 600.0) for letter in text) * size * POINT / 1000


# -- what can be printed ----------------------------------------------------------------------


def legible(text: str) -> str:
    """The text with whatever cannot be seen made visible. Line ends stay, other controls show.

    A picture sign the faces lack becomes its name in brackets, a letter of a script they lack the
    replacement sign, an invisible control its number. Law: legible(legible(x)) == legible(x).
    """
    if text.isascii() and text.isprintable():
        return text
    unified = unicodedata.normalize("NFC", text.replace("\r\n", "\n").replace("\r", "\n"))
    shown: list[str] = []
    marked = False
    for letter in unified:
        mark = unicodedata.category(letter) == "Mn"
        # A pile of marks would climb into the line above.
        shown.append(REPLACEMENT if mark and marked else _seen(letter))
        marked = mark
    return "".join(shown)


@cache
def _seen(letter: str) -> str:
    code = ord(letter)
    if letter == "\n" or letter in _BREAKS:
        return "\n"
    if letter in _SPACES:
        return _SPACES[letter]
    if code in _DROPPED:
        return ""
    category = unicodedata.category(letter)
    if category == "Zs":
        return " "
    if category.startswith("C"):
        return f"[U+{code:04X}]"
    # Two letters in one sign would not be found by who searches for the two.
    if code in _widths(Face.REGULAR) and not 0xFB00 <= code <= 0xFB06:
        return letter
    plainer = unicodedata.normalize("NFKD", letter)
    if plainer != letter and all(ord(other) in _widths(Face.REGULAR) for other in plainer):
        return plainer
    name = unicodedata.name(letter, "")
    return f"[{name.lower()}]" if category == "So" and name else REPLACEMENT


# -- where lines end --------------------------------------------------------------------------

_Word = list[tuple[str, Face]]


@lru_cache(maxsize=2048)
def compose(text: Text, style: Style, width: float, most: int | None = None) -> Composed:
    """Break text into lines no wider than `width` millimetres, at most `most` of them.

    Lines end at spaces; a no-break space holds a figure to its unit. A word wider than the column
    is broken where it must be. Law: without `most` no letter is lost.
    """
    lines: list[Line] = []
    current: list[tuple[str, Face]] = []
    used = 0.0
    for word in _words(text, style):
        if word is None:
            lines.append(_line(current, style))
            current, used = [], 0.0
            continue
        for part in _fitting(word, style, width):
            room = _width_of(part, style)
            space = measure(" ", part[0][1], style.size) if current else 0.0
            if current and used + space + room > width + 1e-6:
                lines.append(_line(current, style))
                current, used, space = [], 0.0, 0.0
            if current:
                current.append((" ", current[-1][1]))
            current.extend(part)
            used += space + room
        if most is not None and len(lines) > most:
            break
    lines.append(_line(current, style))
    if most is not None and len(lines) > most:
        return Composed((*lines[: most - 1], _cut(lines[most - 1], style, width)), style, True)
    return Composed(tuple(lines), style)


def _words(text: Text, style: Style) -> Iterator[_Word | None]:
    """Words as stretches of faces; None stands for the end of a line."""
    word: _Word = []
    for run in runs(text):
        face = style.face_of(run.voice)
        for part in re.split(r"([ \n]+)", legible(run.text)):
            if part.strip(" \n"):
                word.append((part, face))
            elif part:
                if word:
                    yield word
                    word = []
                for _ in range(min(part.count("\n"), 2)):
                    yield None
    if word:
        yield word


def _fitting(word: _Word, style: Style, width: float) -> Iterator[_Word]:
    """The word itself, or its pieces when no line can hold it."""
    if _width_of(word, style) <= width:
        yield word
        return
    part: _Word = []
    used = 0.0
    for text, face in word:
        for bit in _AFTER.split(text):
            for chunk in [bit] if measure(bit, face, style.size) <= width else list(bit):
                room = measure(chunk, face, style.size)
                if part and used + room > width:
                    yield part
                    part, used = [], 0.0
                part.append((chunk, face))
                used += room
    if part:
        yield part


def _width_of(word: _Word, style: Style) -> float:
    return sum(measure(text, face, style.size) for text, face in word)


def _line(parts: list[tuple[str, Face]], style: Style) -> Line:
    pieces: list[Piece] = []
    left = 0.0
    for text, face in parts:
        if pieces and pieces[-1].face is face:
            pieces[-1] = Piece(pieces[-1].text + text, face, pieces[-1].left)
        else:
            pieces.append(Piece(text, face, left))
        left += measure(text, face, style.size)
    # A no-break space has done its work once the line stands; searching finds a plain one.
    return Line(
        tuple(Piece(piece.text.replace("\u00a0", " "), piece.face, piece.left) for piece in pieces),
        left,
    )


def _cut(line: Line, style: Style, width: float) -> Line:
    parts = [(piece.text, piece.face) for piece in line.pieces]
    room = width - measure(ELLIPSIS, style.face, style.size)
    while parts and _width_of(parts, style) > room:
        text, face = parts.pop()
        if len(text) > 1:
            parts.append((text[:-1], face))
    return _line([*parts, (ELLIPSIS, parts[-1][1] if parts else style.face)], style)
