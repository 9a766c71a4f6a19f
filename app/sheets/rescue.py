"""The rescue page: what came in, what was found, done, measured, spent, and what it needs next.

One page from the record, for who keeps it or who buys it. When the record is longer than the
page, the oldest lines give way and the page says how many.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from app.sheets.labels import Words
from app.sheets.lettering import Face, Style, compose
from app.sheets.pages import Block, Folio, Frame, air, print_blocks, stacked
from app.sheets.photos import HEIGHTS, PaperPhoto, photo_row
from app.sheets.pieces import (
    FOOT_HEIGHT,
    SECTION,
    SMALL,
    STEP,
    Fact,
    Foot,
    facts_block,
    foot_block,
    record_head,
    rule_line,
    text_block,
)
from app.sheets.plot import PlotRows
from app.sheets.plots import plots_block
from app.sheets.surface import (
    HAIR,
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

_PLOT = 62.0
_FEWEST, _BESIDE_PHOTOS = 3, 5
# Set smaller only as a last resort.
_TIGHT = tuple(1.0 - 0.06 * step for step in range(11))
CELL = Style(size=10.5, leading=1.28, heavy=Face.SEMIBOLD)
Row = tuple[str, str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class RescueSheet:
    """All that the page says, worded. A row is (day, what, how it went)."""

    machine: str
    kind: str
    icon: str
    state: str
    came: tuple[Fact, ...]
    found: tuple[Row, ...] = ()
    done: tuple[Row, ...] = ()
    measured: tuple[Row, ...] = ()
    compared: tuple[str, ...] = ()
    plot: PlotRows | None = None
    spent: tuple[Fact, ...] = ()
    needs: tuple[Row, ...] = ()
    photos: tuple[PaperPhoto, ...] = ()
    household: str = ""
    printed: str = ""


def draw(sheets: Sequence[RescueSheet], *, paper: Paper, language: str, words: Words) -> bytes:
    """The pages as one PDF, one a machine."""
    surface = PdfSurface(title=words(msg("From wreck to work")), language=language)
    for sheet in sheets:
        _print(surface, sheet, SIZES[paper], words)
    if not sheets:
        surface.page(SIZES[paper])
    return surface.finished()


def _print(surface: Surface, sheet: RescueSheet, size: Size, words: Words) -> None:
    width = size.width - 2 * MARGIN
    head_block = _head(sheet, width, words)
    room = size.height - 2 * MARGIN - FOOT_HEIGHT - head_block.height

    def foot(folio: Folio) -> Block:
        short = words(msg("… shortened here, whole in the program")) if folio.shortened else ""
        return foot_block(
            Foot(
                first=words(msg("Told as the record has it; no promise that it stays so.")),
                notes=(short,),
                who=" · ".join(part for part in (sheet.household, sheet.printed) if part),
                page=words(msg("page {page} of {pages}"), page=folio.number, pages=folio.count),
            ),
            width,
        )

    frame = Frame(size=size, head=lambda _number: head_block, foot=foot)
    print_blocks(surface, _fitted(sheet, width, room, words), frame, sheet.machine[:60])


def _fitted(sheet: RescueSheet, width: float, room: float, words: Words) -> list[Block]:
    """As much of the record as one page holds. The drawing gives way before the last lines do, and
    photos, which were chosen by hand, after it."""
    longest = max(len(sheet.found), len(sheet.done), len(sheet.measured), _FEWEST)
    heights = HEIGHTS if sheet.photos else ()
    ways = [(True, tallest) for tallest in heights] + [(False, tallest) for tallest in heights]
    ways += [(True, 0.0), (False, 0.0)]
    for plot, tallest in ways:
        fewest = min(_BESIDE_PHOTOS, longest) if tallest else _FEWEST
        for most in range(longest, fewest - 1, -1):
            body = _body(sheet, most, width, words, plot=plot, tallest=tallest)
            if sum(block.height for block in body) <= room:
                return body
    for tight in _TIGHT:
        body = _body(sheet, _FEWEST, width / tight, words, plot=False, tallest=0.0)
        if sum(block.height for block in body) <= room / tight:
            return [_scaled(body, tight)]
    raise ValueError("the rescue page does not fit")


def _scaled(body: list[Block], tight: float) -> Block:
    whole = stacked(body)

    def draw_body(surface: Surface, left: float, top: float) -> None:
        whole.draw(Placed(surface, left, top, tight), 0.0, 0.0)

    return replace(whole, height=whole.height * tight, draw=draw_body)


def _head(sheet: RescueSheet, width: float, words: Words) -> Block:
    title = words(msg("From wreck to work: its record"))
    return record_head(sheet.machine, sheet.kind, sheet.icon, title, width)


def _body(
    sheet: RescueSheet, most: int, width: float, words: Words, *, plot: bool, tallest: float
) -> list[Block]:
    body = [text_block(sheet.state, STEP, width, most=4), air(1.6)]
    body += [_title(words(msg("What came in")), width), facts_block(sheet.came, width, columns=3)]
    if sheet.photos and tallest:
        body += [air(1.0), photo_row(sheet.photos, width, tallest)]
    elif sheet.photos:
        left_out = msg("Photos: {n}. There is no room for them here; they are in the program.")
        body.append(text_block(words(left_out, n=len(sheet.photos)), SMALL, width))
    for heading, rows in (
        (msg("What was found"), sheet.found),
        (msg("What was done"), sheet.done),
        (msg("Measured, first and last"), sheet.measured),
    ):
        body += _section(words(heading), rows, most, width, words)
    if sheet.compared:
        body += [_title(words(msg("Before and after")), width)]
        body += [text_block(line, CELL, width, most=4) for line in sheet.compared]
    if sheet.plot is not None and plot:
        body += [air(1.0), plots_block([sheet.plot], width, _PLOT)]
    if sheet.spent:
        body += [
            _title(words(msg("Spent on it")), width),
            facts_block(sheet.spent, width, columns=3),
        ]
    needs = sheet.needs or (("", words(msg("Nothing is due that is known of.")), ""),)
    body += _section(words(msg("What it needs next")), needs, len(needs), width, words)
    return body


def _title(text: str, width: float) -> Block:
    return stacked([air(1.2), rule_line(width, HAIR, below=0.8), text_block(text, SECTION, width)])


def _section(
    heading: str, rows: Sequence[Row], most: int, width: float, words: Words
) -> list[Block]:
    if not rows:
        return []
    body = [_title(heading, width), *(_row(row, width) for row in rows[:most])]
    left = len(rows) - most
    if left > 0:
        body.append(text_block(words(msg("and {n} more, in the record"), n=left), SMALL, width))
    return body


def _row(row: Row, width: float) -> Block:
    shares = (0.15, 0.47, 0.38)
    cells = [
        compose(cell, CELL, width * share - 3, 3) for cell, share in zip(row, shares, strict=True)
    ]

    def draw_row(surface: Surface, left: float, top: float) -> None:
        x = left
        for cell, share in zip(cells, shares, strict=True):
            write(surface, cell, x, top)
            x += width * share

    return Block(
        height=max(cell.height for cell in cells) + 0.5,
        draw=draw_row,
        shortened=any(cell.shortened for cell in cells),
    )
