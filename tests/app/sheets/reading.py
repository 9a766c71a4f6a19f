"""Reading a PDF back as a person sees it: words with their places, page by page."""

from __future__ import annotations

from ctypes import byref, c_double
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium

POINT = 25.4 / 72


@dataclass(frozen=True)
class Word:
    """A word on a page; millimetres from its top left corner."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True)
class Page:
    """A page: its size in millimetres, its words as they were written, and its text."""

    width: float
    height: float
    words: tuple[Word, ...]
    text: str


def pages(data: bytes) -> list[Page]:
    made = pypdfium2.PdfDocument(data)
    try:
        return [_page(made, number) for number in range(len(made))]
    finally:
        made.close()


def _page(made: pypdfium2.PdfDocument, number: int) -> Page:
    """The letters of a page in the order they were drawn, put together where nothing parts them."""
    page = made[number]
    width, height = page.get_size()
    letters = page.get_textpage()
    words: list[Word] = []
    current = ""
    field = ink = (0.0, 0.0, 0.0, 0.0)
    for place in range(letters.count_chars()):
        letter = chr(pdfium.FPDFText_GetUnicode(letters.raw, place))
        blank = pdfium.FPDFText_IsGenerated(letters.raw, place) == 1 or letter.isspace()
        here = (0.0, 0.0, 0.0, 0.0) if blank else _field(letters.raw, place)
        if current and (blank or not _follows(field, here)):
            words.append(_word(current, ink, height))
            current = ""
        if blank:
            continue
        mark = _ink(letters.raw, place)
        ink = _around(ink, mark) if current else mark
        field = _around(field, here) if current else here
        current += letter
    if current:
        words.append(_word(current, ink, height))
    return Page(width * POINT, height * POINT, tuple(words), " ".join(word.text for word in words))


Box = tuple[float, float, float, float]
"""Left, bottom, right, top; points from the lower left."""


def _around(box: Box, other: Box) -> Box:
    return (
        min(box[0], other[0]),
        min(box[1], other[1]),
        max(box[2], other[2]),
        max(box[3], other[3]),
    )


def _follows(field: Box, here: Box) -> bool:
    """On the same line, of the same size, and no further off than a thin space."""
    return abs(field[1] - here[1]) < 0.5 and -1.5 < here[0] - field[2] < 1.5


def _field(letters: object, place: int) -> Box:
    """What a letter takes up in its line, whatever its ink."""
    field = pdfium.FS_RECTF()
    pdfium.FPDFText_GetLooseCharBox(letters, place, byref(field))
    return field.left, field.bottom, field.right, field.top


def _ink(letters: object, place: int) -> Box:
    left, right, bottom, top = c_double(), c_double(), c_double(), c_double()
    pdfium.FPDFText_GetCharBox(letters, place, byref(left), byref(right), byref(bottom), byref(top))
    return left.value, bottom.value, right.value, top.value


def _word(text: str, ink: Box, height: float) -> Word:
    left, bottom, right, top = ink
    return Word(
        text, left * POINT, (height - top) * POINT, right * POINT, (height - bottom) * POINT
    )


def document(data: bytes) -> str:
    """All words of a document, in the order they were drawn."""
    return " ".join(page.text for page in pages(data))


def outside(page: Page, margin: float, *, slack: float = 0.3) -> list[Word]:
    """Words whose ink leaves the margins by more than `slack` millimetres."""
    return [
        word
        for word in page.words
        if word.left < margin - slack
        or word.right > page.width - margin + slack
        or word.top < margin - slack
        or word.bottom > page.height - margin + slack
    ]


def overlaps(page: Page) -> list[tuple[str, str]]:
    """Pairs of words whose ink lies on each other by more than 0.2 mm both ways."""
    found: list[tuple[str, str]] = []
    words = sorted(page.words, key=lambda word: word.top)
    for number, word in enumerate(words):
        for other in words[number + 1 :]:
            if other.top > word.bottom:
                break
            across = min(word.right, other.right) - max(word.left, other.left)
            down = min(word.bottom, other.bottom) - max(word.top, other.top)
            if across > 0.2 and down > 0.2:
                found.append((word.text, other.text))
    return found
