"""The sheet to work from before the season: one machine a sheet, in the order of the work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.sheets.labels import Words
from app.sheets.lettering import Composed, Run, Text, Voice, compose, strong
from app.sheets.pages import Block, Folio, Frame, air, gathered, print_blocks, stacked
from app.sheets.pieces import (
    BIG_BOX,
    DIGITS,
    LABEL,
    MARKS,
    PROTECT,
    ROW,
    SECOND,
    SECTION,
    SMALL_BOX,
    STEP,
    TITLE,
    Caution,
    Fact,
    Foot,
    RuleUnit,
    caution_block,
    facts_block,
    foot_block,
    labelled,
    rule_line,
    ruler,
    text_block,
    tick_box,
    write_in,
    writing_lines,
)
from app.sheets.steps import FOUND, NAME, WHAT, Step, caution_before, found_left, step_rows
from app.sheets.surface import (
    HEAD,
    MARGIN,
    SIZES,
    Ink,
    Paper,
    PdfSurface,
    Size,
    Surface,
    draw_icon,
    write,
)
from app.wording.languages import msg

_ICON = 15.0
_GUTTER = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """Steps under one state of the machine. With a `tick`, the state itself is ticked off.

    A caution with a box of its own is a large panel, any other a low one.
    """

    title: str = ""
    tick: str = ""
    cautions: tuple[Caution, ...] = ()
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Buying:
    """What is to be bought; `label` says by when."""

    label: str
    things: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Why steps stand here, or what limits rest on: the ground, and the steps it holds for."""

    ground: str
    steps: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PreSeasonSheet:
    """All that one machine's sheet says, worded. `number`: four digits."""

    number: str
    machine: str
    kind: str
    icon: str
    place: str
    start: Text
    facts: tuple[Fact, ...] = ()
    buying: tuple[Buying, ...] = ()
    bring: tuple[str, ...] = ()
    last_time: str = ""
    stages: tuple[Stage, ...] = ()
    grounds: tuple[Ground, ...] = ()
    marks: tuple[str, ...] = ()
    household: str = ""
    printed: str = ""
    rule: RuleUnit = RuleUnit.MILLIMETRE


def draw(sheets: Sequence[PreSeasonSheet], *, paper: Paper, language: str, words: Words) -> bytes:
    """The sheets as one PDF; each begins on a page of its own and counts its own pages."""
    names = ", ".join(sheet.machine for sheet in sheets)
    title = words(msg("Before the season")) + (f": {names}" if 0 < len(names) <= 120 else "")
    surface = PdfSurface(title=title, language=language)
    for sheet in sheets:
        _print(surface, sheet, SIZES[paper], words)
    if not sheets:
        surface.page(SIZES[paper])
    return surface.finished()


def _print(surface: Surface, sheet: PreSeasonSheet, size: Size, words: Words) -> None:
    width = size.width - 2 * MARGIN

    def head(number: int) -> Block:
        return _head(sheet, width, words) if number == 1 else _short_head(sheet, width, words)

    def foot(folio: Folio) -> Block:
        return foot_block(_foot(sheet, folio, words), width)

    frame = Frame(size=size, head=head, foot=foot)
    mark = f"{sheet.number}  {sheet.machine[:60]}"
    print_blocks(surface, blocks(sheet, width, words), frame, mark)


def _foot(sheet: PreSeasonSheet, folio: Folio, words: Words) -> Foot:
    page = words(msg("page {page} of {pages}"), page=folio.number, pages=folio.count)
    if folio.number < folio.count:
        page = f"{page} · {words(msg('turn over'))}"
    return Foot(
        first=words(msg("Your machine’s own manual goes before this sheet.")),
        notes=(
            *sheet.marks,
            words(msg("the rule is true when printed at 100 %")) if folio.number == 1 else "",
            words(msg("… shortened here, whole in the program")) if folio.shortened else "",
        ),
        who=" · ".join(part for part in (sheet.household, sheet.printed) if part),
        page=page,
    )


# -- heads ------------------------------------------------------------------------------------


def _head(sheet: PreSeasonSheet, width: float, words: Words) -> Block:
    label = compose(words(msg("sheet")), LABEL, 40, 1)
    digits = compose(sheet.number, DIGITS, 60, 1)
    left = _ICON + 4.5 if sheet.icon else 0.0
    room = width - left - digits.width - 6
    name = compose(sheet.machine, TITLE, room, 2)
    about = compose(" · ".join(part for part in (sheet.kind, sheet.place) if part), SECOND, room, 2)
    start = compose(sheet.start, STEP, room, 3)
    tall = max(name.height + about.height + start.height, _ICON, label.height + digits.height)
    rule = ruler(width, sheet.rule)

    def draw_head(surface: Surface, x: float, top: float) -> None:
        draw_icon(surface, sheet.icon, x - 1.2, top, _ICON)
        y = top
        for line in (name, about, start):
            write(surface, line, x + left, y)
            y += line.height
        write(surface, label, x, top, right=x + width)
        write(surface, digits, x, top + label.height - 1.0, right=x + width)
        rule.draw(surface, x, top + tall + 2.6)

    return Block(
        height=tall + 2.6 + rule.height + 1.6,
        draw=draw_head,
        shortened=name.shortened or about.shortened or start.shortened,
    )


def _short_head(sheet: PreSeasonSheet, width: float, words: Words) -> Block:
    digits = compose(sheet.number, TITLE, 40, 1)
    room = width - digits.width - 6
    name = compose(
        (Run(sheet.machine, Voice.STRONG), Run(f"  {words(msg('before the season'))}")),
        NAME,
        room,
        1,
    )

    def draw_head(surface: Surface, x: float, top: float) -> None:
        write(surface, name, x, top + (digits.height - name.height) / 2)
        write(surface, digits, x, top, right=x + width)
        surface.line(x, top + digits.height + 1.4, x + width, top + digits.height + 1.4, HEAD)

    return Block(height=digits.height + 4.0, draw=draw_head)


# -- the body ---------------------------------------------------------------------------------


def blocks(sheet: PreSeasonSheet, width: float, words: Words) -> list[Block]:
    """The body of a sheet, from the facts to the grounds, as blocks to be laid on pages."""
    body: list[Block] = []
    if sheet.facts:
        body += [facts_block(sheet.facts, width, columns=3), air(1.0)]
    body += _ready(sheet, width, words)
    number = 0
    for stage in sheet.stages:
        rows = _stage_head(stage, width)
        if not number:
            rows += _columns(width, words)
        rows += step_rows(stage.steps, number + 1, width)
        number += len(stage.steps)
        body += gathered(rows) if stage.tick else rows
    body.append(rule_line(width, HEAD, below=2.0))
    body += _closing(width, words)
    body += _grounds(sheet, width, words)
    return body


def _ready(sheet: PreSeasonSheet, width: float, words: Words) -> list[Block]:
    """What to buy, what to bring, what was written last time."""
    body: list[Block] = []
    for buying in sheet.buying:
        body += [_buying(buying, width), air(1.2)]
    if sheet.bring:
        body += [labelled(words(msg("Bring")), ", ".join(sheet.bring), width), air(1.2)]
    if sheet.last_time:
        said = f"“{sheet.last_time}”"
        body += [labelled(words(msg("Last time")), said, width), air(1.2)]
    return [*body, air(1.6)] if body else []


def _buying(buying: Buying, width: float) -> Block:
    """A day, and a small box before each thing to buy by then."""
    column = 30.0
    label = compose(buying.label, STEP, column - 2)
    room = width - column
    things = [compose(thing, SECOND, room - SMALL_BOX - 2, 3) for thing in buying.things]
    places: list[tuple[float, float]] = []
    x = y = 0.0
    pitch = max(SMALL_BOX + 1.2, SECOND.line)
    row = pitch
    for thing in things:
        need = SMALL_BOX + 1.8 + thing.width + 5
        if x and x + need - 5 > room:
            x, y, row = 0.0, y + row, pitch
        places.append((x, y))
        row = max(row, thing.height + 1.0)
        x += need
    tall = max(label.height, y + row)

    def draw_buying(surface: Surface, left: float, top: float) -> None:
        write(surface, label, left, top)
        for thing, (dx, dy) in zip(things, places, strict=True):
            tick_box(surface, left + column + dx, top + dy, SMALL_BOX)
            write(surface, thing, left + column + dx + SMALL_BOX + 1.8, top + dy)

    return Block(height=tall, draw=draw_buying, shortened=any(thing.shortened for thing in things))


def _columns(width: float, words: Words) -> list[Block]:
    what = compose(words(msg("in this order")), LABEL, 60, 1)
    found = compose(words(msg("limit, and what you found")), LABEL, FOUND, 1)

    def draw_columns(surface: Surface, left: float, top: float) -> None:
        surface.line(left, top, left + width, top, HEAD)
        write(surface, what, left + WHAT, top + 0.8)
        write(surface, found, left + found_left(width), top + 0.8)

    return [Block(height=LABEL.line + 1.2, draw=draw_columns, keep=True)]


def _stage_head(stage: Stage, width: float) -> list[Block]:
    body: list[Block] = []
    if stage.title or stage.tick:
        body += [air(1.2), _divider(stage, width)]
    for caution in stage.cautions:
        if caution.tick:
            body += [air(0.8), caution_block(caution, width), air(1.4)]
        else:
            body += caution_before(caution, width)
    return body


def _divider(stage: Stage, width: float) -> Block:
    """The line across the sheet before the machine is put into another state."""
    tick = compose(stage.tick, PROTECT, width - BIG_BOX - 3) if stage.tick else None
    title = compose(stage.title, SECTION, width) if stage.title else None
    tall = (title.height if title else 0.0) + (max(BIG_BOX, tick.height) + 1.0 if tick else 0.0)

    def draw_divider(surface: Surface, left: float, top: float) -> None:
        surface.box(left, top, width, 0.9, 0, solid=Ink.BLACK)
        y = top + 1.8
        if title:
            write(surface, title, left, y)
            y += title.height + 0.6
        if tick:
            tick_box(surface, left, y, BIG_BOX)
            shift = max(0.0, (BIG_BOX - tick.height) / 2)
            write(surface, tick, left + BIG_BOX + 3, y + shift)

    return Block(height=tall + 4.4, draw=draw_divider, keep=True)


def _closing(width: float, words: Words) -> list[Block]:
    """Who did it and when, the exceptions, and room for what else was seen."""

    def draw_done(surface: Surface, left: float, top: float) -> None:
        third = width / 3
        for place, label in enumerate(
            (words(msg("Done by")), words(msg("Date")), words(msg("Hours now")))
        ):
            write_in(surface, label, left + place * third, top, third - 5)

    def draw_exceptions(surface: Surface, left: float, top: float) -> None:
        write_in(surface, words(msg("All done except steps")), left, top, width)

    first = [
        Block(height=ROW + 1.5, draw=draw_done),
        Block(height=ROW + 1.0, draw=draw_exceptions),
    ]
    seen = text_block(words(msg("What else I saw")), STEP, width)
    lines = writing_lines(2, width, pitch=9.0, most=8)

    def tall(block: Block) -> Block:
        return stacked([*first, air(1.2), seen, block])

    def stretch(height: float) -> Block:
        if lines.stretch is None:
            return tall(lines)
        return tall(lines.stretch(height - tall(lines).height + lines.height))

    whole = tall(lines)
    return [
        Block(height=whole.height, draw=whole.draw, stretch=stretch),
        air(2.0),
    ]


def _grounds(sheet: PreSeasonSheet, width: float, words: Words) -> list[Block]:
    """Why each step is here, and what its limit rests on: two columns of source type."""
    if not sheet.grounds:
        return []
    column = (width - _GUTTER) / 2
    texts = [
        compose((strong(ground.ground), Run(f" {ground.steps}")), MARKS, column)
        for ground in sheet.grounds
    ]
    columns = _shared_out(texts, 2)
    tall = max(sum(text.height + 0.6 for text in part) for part in columns)

    def draw_grounds(surface: Surface, left: float, top: float) -> None:
        for place, part in enumerate(columns):
            y = top
            for text in part:
                write(surface, text, left + place * (column + _GUTTER), y)
                y += text.height + 0.6

    def parts(_room: float) -> tuple[Block, ...]:
        return tuple(
            text_block(f"{ground.ground} {ground.steps}", MARKS, width) for ground in sheet.grounds
        )

    return [
        text_block(words(msg("Why, and who says so")), STEP, width, keep=True),
        Block(height=tall, draw=draw_grounds, parts=parts),
    ]


def _shared_out(texts: list[Composed], count: int) -> tuple[list[Composed], ...]:
    """Texts in reading order over columns of about the same height."""
    columns: list[list[Composed]] = [[] for _ in range(count)]
    whole = sum(text.height for text in texts)
    used = 0.0
    for text in texts:
        columns[min(count - 1, int(used / whole * count))].append(text)
        used += text.height
    return tuple(columns)
