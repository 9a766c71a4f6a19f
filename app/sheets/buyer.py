"""The page for the buyer: what is known about a machine, what is not, and what it needs next.

One page, whatever its past. When the past is longer than the page, the oldest lines give way and
the page says how many.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from app.sheets.labels import Words
from app.sheets.lettering import Face, Style, Text, compose
from app.sheets.pages import Block, Folio, Frame, air, print_blocks, stacked
from app.sheets.photos import HEIGHTS, PaperPhoto, photo_row
from app.sheets.pieces import (
    FOOT_HEIGHT,
    LABEL,
    ROW,
    SECTION,
    SMALL,
    STEP,
    Fact,
    Foot,
    Tick,
    answers_block,
    facts_block,
    foot_block,
    record_head,
    rule_line,
    text_block,
    write_in,
)
from app.sheets.surface import (
    BOX,
    HAIR,
    HEAD,
    MARGIN,
    SIZES,
    Paper,
    PdfSurface,
    Placed,
    Size,
    Surface,
    write,
)
from app.wording.languages import msg

CELL = Style(size=10.5, leading=1.28, heavy=Face.SEMIBOLD)
_FEWEST = 3
# Photos were chosen by hand: the oldest lines give way to them down to so many, not further.
_BESIDE_PHOTOS = 6
_TIGHT = (1.0, 0.94, 0.88, 0.82, 0.76, 0.7, 0.62, 0.54, 0.46, 0.38)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A reading: what, what was found, where it would be worn, and the day."""

    day: str
    what: str
    found: Text
    worn_when: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """A piece of work, newest first on the page."""

    day: str
    what: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What it needs next; `by` a day, or words such as *when it is used again*."""

    by: str
    what: str
    because: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyerSheet:
    """All that the page says, worded. `spent` is there only when the owner wants it told."""

    machine: str
    kind: str
    icon: str
    state: str
    known: tuple[Fact, ...]
    unknown: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    measured: tuple[Measured, ...] = ()
    done: tuple[Done, ...] = ()
    spent: tuple[Fact, ...] = ()
    needs: tuple[Need, ...] = ()
    handed_over: tuple[str, ...] = ()
    photos: tuple[PaperPhoto, ...] = ()
    household: str = ""
    printed: str = ""


def draw(sheets: Sequence[BuyerSheet], *, paper: Paper, language: str, words: Words) -> bytes:
    """The pages as one PDF, one a machine."""
    names = ", ".join(sheet.machine for sheet in sheets)
    title = words(msg("What is known about it")) + (f": {names}" if 0 < len(names) <= 120 else "")
    surface = PdfSurface(title=title, language=language)
    for sheet in sheets:
        _print(surface, sheet, SIZES[paper], words)
    if not sheets:
        surface.page(SIZES[paper])
    return surface.finished()


def _print(surface: Surface, sheet: BuyerSheet, size: Size, words: Words) -> None:
    width = size.width - 2 * MARGIN
    room = size.height - 2 * MARGIN - FOOT_HEIGHT - _head(sheet, width, words).height
    body, tight = _fitted(sheet, width, room, words)

    def head(_number: int) -> Block:
        return _head(sheet, width, words)

    def foot(folio: Folio) -> Block:
        short = words(msg("… shortened here, whole in the program")) if folio.shortened else ""
        return foot_block(
            Foot(
                first=words(msg("Told as the owner kept it; no promise that it stays so.")),
                notes=(short,),
                who=" · ".join(part for part in (sheet.household, sheet.printed) if part),
                page=words(msg("page {page} of {pages}"), page=folio.number, pages=folio.count),
            ),
            width,
        )

    frame = Frame(size=size, head=head, foot=foot)
    print_blocks(surface, [_scaled(body, tight)], frame, sheet.machine[:60])


def _fitted(
    sheet: BuyerSheet, width: float, room: float, words: Words
) -> tuple[list[Block], float]:
    """The body with as much of the past as the page holds; set smaller only as a last resort."""
    most = max(len(sheet.done), len(sheet.measured), _FEWEST)
    for tallest in HEIGHTS if sheet.photos else ():
        pictured = _at_most(sheet, (min(_BESIDE_PHOTOS, most), most), width, room, words, tallest)
        if pictured is not None:
            return pictured, 1.0
    for tight in _TIGHT:
        body = _at_most(sheet, (_FEWEST, most), width / tight, room / tight, words)
        if body is not None:
            return body, tight
    raise ValueError("the page for the buyer does not fit")


def _at_most(
    sheet: BuyerSheet,
    between: tuple[int, int],
    width: float,
    room: float,
    words: Words,
    tallest: float = 0.0,
) -> list[Block] | None:
    """The body with as many lines of the past as there is room for; None when not the fewest."""
    low, high = between
    while low < high:
        middle = (low + high + 1) // 2
        if _height(_body(sheet, middle, width, words, tallest)) <= room:
            low = middle
        else:
            high = middle - 1
    body = _body(sheet, low, width, words, tallest)
    return body if _height(body) <= room else None


def _height(blocks: list[Block]) -> float:
    return sum(block.height for block in blocks)


def _scaled(body: list[Block], tight: float) -> Block:
    whole = stacked(body)

    def draw_body(surface: Surface, left: float, top: float) -> None:
        whole.draw(Placed(surface, left, top, tight), 0.0, 0.0)

    return replace(whole, height=whole.height * tight, draw=draw_body)


# -- the page ---------------------------------------------------------------------------------


def _head(sheet: BuyerSheet, width: float, words: Words) -> Block:
    title = words(msg("What is known about it, and what is not"))
    return record_head(sheet.machine, sheet.kind, sheet.icon, title, width)


def _body(
    sheet: BuyerSheet, most: int, width: float, words: Words, tallest: float = 0.0
) -> list[Block]:
    body: list[Block] = [text_block(sheet.state, STEP, width, most=4), air(1.6)]
    body += [facts_block(sheet.known, width, columns=3), air(0.6)]
    body += _unknown(sheet, width, words)
    if sheet.faults:
        body += [_title(words(msg("Open faults")), width)]
        body += [text_block(fault, CELL, width, most=3) for fault in sheet.faults]
        body += [air(1.4)]
    body += _photos(sheet.photos, width, tallest, words)
    body += _measured(sheet, most, width, words)
    body += _done(sheet, most, width, words)
    if sheet.spent:
        body += [_title(words(msg("Spent on it")), width)]
        body += [facts_block(sheet.spent, width, columns=3), air(0.6)]
    body += _needs(sheet, width, words)
    body += _handing_over(sheet, width, words)
    return body


def _photos(
    photos: Sequence[PaperPhoto], width: float, tallest: float, words: Words
) -> list[Block]:
    if not photos:
        return []
    if not tallest:
        left_out = msg("Photos: {n}. There is no room for them here; they are in the program.")
        return [text_block(words(left_out, n=len(photos)), SMALL, width), air(1.0)]
    return [_title(words(msg("Photos")), width), air(0.8), photo_row(photos, width, tallest)]


def _title(text: str, width: float) -> Block:
    return stacked([rule_line(width, HAIR, below=0.8), text_block(text, SECTION, width)])


def _unknown(sheet: BuyerSheet, width: float, words: Words) -> list[Block]:
    """What nobody knows, each behind a dashed empty box."""
    if not sheet.unknown:
        return []
    column = width / 2
    set_lines = [compose(text, CELL, column - 9, 3) for text in sheet.unknown]
    rows = [set_lines[at : at + 2] for at in range(0, len(set_lines), 2)]
    talls = [max(line.height for line in row) + 0.6 for row in rows]

    def draw_unknown(surface: Surface, left: float, top: float) -> None:
        y = top
        for row, tall in zip(rows, talls, strict=True):
            for place, line in enumerate(row):
                x = left + place * column
                _dashed(surface, x, y + (CELL.line - 3.2) / 2, 3.2)
                write(surface, line, x + 5.5, y)
            y += tall

    return [
        _title(words(msg("Not known")), width),
        Block(
            height=sum(talls),
            draw=draw_unknown,
            shortened=any(line.shortened for line in set_lines),
        ),
        air(1.4),
    ]


def _dashed(surface: Surface, left: float, top: float, side: float) -> None:
    corners = ((0, 0, 1, 0), (1, 0, 1, 1), (1, 1, 0, 1), (0, 1, 0, 0))
    for x, y, x2, y2 in corners:
        surface.line(
            left + x * side, top + y * side, left + x2 * side, top + y2 * side, BOX, (0.8, 0.8)
        )


def _measured(sheet: BuyerSheet, most: int, width: float, words: Words) -> list[Block]:
    if not sheet.measured:
        return []
    heads = (
        words(msg("day")),
        words(msg("measured")),
        words(msg("found")),
        words(msg("worn when")),
    )
    rows = [(row.day, row.what, row.found, row.worn_when) for row in sheet.measured[:most]]
    return [
        _title(words(msg("Measured")), width),
        _table(heads, rows, (0.15, 0.37, 0.18, 0.30), width),
        *_left_out(len(sheet.measured) - most, width, words),
        air(1.4),
    ]


def _done(sheet: BuyerSheet, most: int, width: float, words: Words) -> list[Block]:
    if not sheet.done:
        return []
    rows = [(row.day, row.what, row.note) for row in sheet.done[:most]]
    return [
        _title(words(msg("Done")), width),
        _table((), rows, (0.15, 0.55, 0.30), width),
        *_left_out(len(sheet.done) - most, width, words),
        air(1.4),
    ]


def _left_out(count: int, width: float, words: Words) -> list[Block]:
    if count <= 0:
        return []
    return [text_block(words(msg("and {n} earlier, in the record"), n=count), SMALL, width)]


def _needs(sheet: BuyerSheet, width: float, words: Words) -> list[Block]:
    if sheet.needs:
        rows = [(row.by, row.what, row.because) for row in sheet.needs]
        told = _table((), rows, (0.15, 0.47, 0.38), width)
    else:
        told = text_block(words(msg("Nothing is due that is known of.")), CELL, width)
    return [_title(words(msg("What it needs next")), width), told, air(1.6)]


def _table(
    heads: Sequence[str], rows: Sequence[Sequence[Text]], shares: Sequence[float], width: float
) -> Block:
    """Rows of text in columns, each as high as its highest cell."""
    set_rows = [
        [compose(cell, CELL, width * share - 3, 2) for cell, share in zip(row, shares, strict=True)]
        for row in rows
    ]
    head_cells = [
        compose(head, LABEL, width * share - 3, 1)
        for head, share in zip(heads, shares, strict=False)
    ]
    head_tall = LABEL.line if heads else 0.0
    talls = [max(cell.height for cell in row) + 0.5 for row in set_rows]

    def draw_table(surface: Surface, left: float, top: float) -> None:
        y = top
        for row, tall in zip([head_cells, *set_rows], [head_tall, *talls], strict=True):
            x = left
            for cell, share in zip(row, shares, strict=False):
                write(surface, cell, x, y)
                x += width * share
            y += tall

    return Block(
        height=head_tall + sum(talls),
        draw=draw_table,
        shortened=any(cell.shortened for row in set_rows for cell in row),
    )


def _handing_over(sheet: BuyerSheet, width: float, words: Words) -> list[Block]:
    """What goes with it, and who signs."""

    def draw_signed(surface: Surface, left: float, top: float) -> None:
        parts = (words(msg("Owner")), words(msg("Buyer")), words(msg("Date")), words(msg("Hours")))
        quarter = width / 4
        for place, label in enumerate(parts):
            write_in(surface, label, left + place * quarter, top, quarter - 4)

    body = [rule_line(width, HEAD, below=1.6)]
    if sheet.handed_over:
        body.append(answers_block([Tick(word=thing) for thing in sheet.handed_over], width))
    body.append(Block(height=ROW + 1.0, draw=draw_signed))
    return [stacked(body)]
