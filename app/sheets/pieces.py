"""The pieces a sheet is made of: boxes, blanks, cautions, the rule, foot lines."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from app.sheets.figures import Go, Step, circle, polygon
from app.sheets.lettering import Composed, Face, Run, Style, Text, Voice, compose, measure
from app.sheets.pages import Block, stacked
from app.sheets.surface import BOX, FRAME, GRADUATION, HAIR, HEAD, Ink, Surface, draw_icon, write
from schedules.facts import Severity

BIG_BOX = 8.0
SMALL_BOX = 5.0
BLANK = 16.0
RECORD_ICON = 15.0
GAP = 3.2
"""Between answers that share a line."""

ROW = 8.0
"""Height of a line to write on, and of an 8 mm box."""

WRITING = 6.6
"""Room above a line for what a hand writes."""

ANSWER_TEXT = 2.1
"""Where the words of a line of answers begin, beneath its top."""

TITLE = Style(size=17, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.2)
DIGITS = Style(size=34, face=Face.BOLD, leading=1.0)
STEP = Style(size=12, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.25)
SECOND = Style(size=11, leading=1.3)
BODY = Style(size=11.5, leading=1.32)
PROTECT = Style(size=13, face=Face.BOLD, heavy=Face.BOLD, leading=1.25)
SIGNAL = Style(size=15, face=Face.BOLD, leading=1.2)
SIGNAL_SMALL = Style(size=11.5, face=Face.BOLD, leading=1.2)
SECTION = Style(size=13, face=Face.BOLD, leading=1.3)
LABEL = Style(size=10, leading=1.3)
VALUE = Style(size=12, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.3)
SMALL = Style(size=9.5, leading=1.32)
MARKS = Style(size=8.5, leading=1.25)
LEGEND = Style(size=9.5, face=Face.REGULAR, heavy=Face.BOLD, leading=1.18)
LINE_HEAD = Style(size=9.5, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.2)
"""Type of a sheet for the garage where it stands close: limits, how, cautions."""


# -- boxes, blanks, answers -------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A line to write on; `label` before it (left, right, cold), `unit` behind it."""

    label: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A small box before a word; `heavy` for the word that means trouble."""

    word: str
    heavy: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Words of which one is circled."""

    words: tuple[str, ...]


Answer = Blank | Tick | Choice
LINE = 15.0
"""A line for a figure in a close row."""


def writes(answer: Answer) -> bool:
    """Whether a hand needs the room of a written line for it."""
    return isinstance(answer, Blank)


def answer_width(answer: Answer) -> float:
    """How wide an answer in a close row is, millimetres."""
    match answer:
        case Choice():
            return _circled(answer).width
        case Tick():
            return SMALL_BOX + 1.3 + compose(answer.word, LEGEND, 60).width
        case Blank():
            label = compose(answer.label, LEGEND, 40).width + 1.2 if answer.label else 0.0
            unit = compose(answer.unit, LEGEND, 30).width + 1.0 if answer.unit else 0.0
            return label + LINE + unit


def draw_answer(surface: Surface, answer: Answer, x: float, top: float) -> None:
    """An answer in a close row, on the base line of the step's name beside it."""
    text_top = top + 0.3
    match answer:
        case Choice():
            write(surface, _circled(answer), x, text_top)
        case Tick():
            tick_box(surface, x, top, SMALL_BOX)
            write(surface, compose(answer.word, LEGEND, 60, 1), x + SMALL_BOX + 1.3, text_top)
        case Blank():
            if answer.label:
                label = compose(answer.label, LEGEND, 40, 1)
                write(surface, label, x, text_top)
                x += label.width + 1.2
            base = text_top + (LEGEND.line + LEGEND.capital) / 2 + 0.5
            surface.line(x, base, x + LINE, base, HAIR)
            if answer.unit:
                write(surface, compose(answer.unit, LEGEND, 30, 1), x + LINE + 1.0, text_top)


def _circled(choice: Choice) -> Composed:
    said = "   /   ".join(word.replace(" ", "\u00a0") for word in choice.words)
    return compose(said.replace(" ", "\u00a0"), LEGEND, 120, 1)


def tick_box(surface: Surface, left: float, top: float, side: float) -> None:
    """An empty box whose outer edges are `side` apart."""
    surface.box(left + BOX / 2, top + BOX / 2, side - BOX, side - BOX, BOX, solid=Ink.WHITE)


def lines_of_answers(answers: Sequence[Answer], width: float) -> tuple[tuple[Answer, ...], ...]:
    """Answers as they share lines of `width` millimetres."""
    lines: list[list[Answer]] = []
    used = 0.0
    for answer in answers:
        need = _answer_width(answer)
        if lines and used + GAP + need <= width:
            lines[-1].append(answer)
            used += GAP + need
        else:
            lines.append([answer])
            used = need
    return tuple(tuple(line) for line in lines)


def answers_block(answers: Sequence[Answer], width: float) -> Block:
    """Boxes and blanks in rows a pencil has room for."""
    lines = lines_of_answers(answers, width)

    def draw(surface: Surface, left: float, top: float) -> None:
        for number, line in enumerate(lines):
            x = left
            for answer in line:
                _draw_answer(surface, answer, x, top + number * ROW)
                x += _answer_width(answer) + GAP

    return Block(height=len(lines) * ROW, draw=draw)


def _answer_width(answer: Answer) -> float:
    if isinstance(answer, Choice):
        return _circled(answer).width
    if isinstance(answer, Tick):
        return SMALL_BOX + 1.3 + compose(answer.word, _tick_style(answer), 60).width
    label = compose(answer.label, SECOND, 40).width + 1.5 if answer.label else 0.0
    unit = compose(answer.unit, SECOND, 30).width + 1.2 if answer.unit else 0.0
    return label + BLANK + unit


def _tick_style(answer: Tick) -> Style:
    return STEP if answer.heavy else SECOND


def _draw_answer(surface: Surface, answer: Answer, x: float, top: float) -> None:
    """All words of a line of answers share one base line, boxes and blanks sit on it."""
    text_top = top + ANSWER_TEXT
    if isinstance(answer, Choice):
        write(surface, _circled(answer), x, text_top)
        return
    if isinstance(answer, Tick):
        style = _tick_style(answer)
        tick_box(surface, x, text_top + (SECOND.line - SMALL_BOX) / 2, SMALL_BOX)
        word = compose(answer.word, style, 60, 1)
        shift = (SECOND.line - style.line) / 2
        write(surface, word, x + SMALL_BOX + 1.3, text_top + shift)
        return
    if answer.label:
        label = compose(answer.label, SECOND, 40, 1)
        write(surface, label, x, text_top)
        x += label.width + 1.5
    surface.line(x, top + ROW - 1.5, x + BLANK, top + ROW - 1.5, HAIR)
    if answer.unit:
        write(surface, compose(answer.unit, SECOND, 30, 1), x + BLANK + 1.2, text_top)


# -- text -------------------------------------------------------------------------------------


def text_block(
    text: Text,
    style: Style,
    width: float,
    *,
    indent: float = 0.0,
    most: int | None = None,
    keep: bool = False,
) -> Block:
    """A paragraph. Without `most` it may be parted by lines when no page can hold it."""
    return _lines_block(compose(text, style, width - indent, most), indent, keep=keep)


def _lines_block(composed: Composed, indent: float, *, keep: bool = False) -> Block:
    def draw(surface: Surface, left: float, top: float) -> None:
        write(surface, composed, left + indent, top)

    def parts(room: float) -> tuple[Block, ...]:
        each = max(1, int(room / composed.style.line))
        return tuple(
            _lines_block(Composed(composed.lines[at : at + each], composed.style), indent)
            for at in range(0, len(composed.lines), each)
        )

    return Block(
        height=composed.height,
        draw=draw,
        keep=keep,
        parts=parts,
        shortened=composed.shortened,
    )


def labelled(
    label: str,
    text: Text,
    width: float,
    *,
    column: float = 30.0,
    style: Style = BODY,
    head: Style = STEP,
) -> Block:
    """A bold label with its text beside it."""
    name = compose(label, head, column - 2)
    body = compose(text, style, width - column, 12)
    shift = max(0.0, (head.line - style.line) / 2)

    def draw(surface: Surface, left: float, top: float) -> None:
        write(surface, name, left, top)
        write(surface, body, left + column, top + shift)

    height = max(name.height, body.height + shift)
    return Block(height=height, draw=draw, shortened=body.shortened)


def rule_line(width: float, weight: float, *, above: float = 0.0, below: float = 0.0) -> Block:
    def draw(surface: Surface, left: float, top: float) -> None:
        surface.line(left, top + above, left + width, top + above, weight)

    return Block(height=above + below, draw=draw, keep=True)


def writing_lines(count: int, width: float, *, pitch: float = 9.0, most: int = 12) -> Block:
    """Lines to write on; they fill what their page has left, up to `most`."""

    def draw(surface: Surface, left: float, top: float) -> None:
        for number in range(1, count + 1):
            y = top + number * pitch - 1.0
            surface.line(left, y, left + width, y, HAIR)

    def stretch(height: float) -> Block:
        return writing_lines(max(count, min(most, int(height / pitch))), width, pitch=pitch)

    return Block(height=count * pitch, draw=draw, stretch=stretch if count < most else None)


def write_in(
    surface: Surface, label: str, left: float, top: float, width: float, *, style: Style = STEP
) -> None:
    """A label and a line to write on, together `width` wide and `ROW` high."""
    word = compose(label, style, width - BLANK / 2, 1)
    write(surface, word, left, top + ROW - style.line - 0.4)
    start = left + word.width + 2 if label else left
    surface.line(start, top + ROW - 1.6, left + width, top + ROW - 1.6, HAIR)


# -- cautions ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """`word` is the signal word as it is said here; `tick` is what its own box confirms."""

    signal: Severity
    word: str
    text: str
    tick: str = ""


def caution_block(caution: Caution, width: float, *, small: bool = False) -> Block:
    """A caution panel (ANSI Z535 signal word, triangle unless a notice), black and white.

    Law: its text is never shortened; where no page can hold it, it goes on under its word again.
    """
    style = SECOND if small else BODY
    cell = _cell_width(caution, small=small) if small else 0.0
    inner = width - cell - 6.5
    words = compose(caution.text, style, inner)
    tick = compose(caution.tick, STEP, inner - BIG_BOX - 2.5) if caution.tick else None
    return _panel(caution, words, tick, width, small=small)


def _panel(
    caution: Caution, words: Composed, tick: Composed | None, width: float, *, small: bool
) -> Block:
    cell = _cell_width(caution, small=small) if small else 0.0
    head = 0.0 if small else 8.6
    pad = 1.1 if small else 2.0
    tick_height = max(BIG_BOX, tick.height) + 1.8 if tick else 0.0
    height = max(head + pad * 2 + words.height + tick_height, 8.0)

    def draw(surface: Surface, left: float, top: float) -> None:
        half = FRAME / 2
        surface.box(left + half, top + half, width - FRAME, height - FRAME, FRAME)
        if small:
            surface.box(left, top, cell, height, 0, solid=Ink.BLACK)
            _signal(surface, caution, left + 2.2, top, 8.0, SIGNAL_SMALL)
        else:
            surface.box(left, top, width, head, 0, solid=Ink.BLACK)
            _signal(surface, caution, left + 3.5, top, head, SIGNAL)
        start = left + cell + 3.5
        y = top + head + pad
        if small and len(words.lines) == 1:
            y = top + (height - words.height - tick_height) / 2
        write(surface, words, start, y)
        if tick:
            y += words.height + 1.2
            tick_box(surface, start, y, BIG_BOX)
            shift = max(0.0, (BIG_BOX - tick.height) / 2)
            write(surface, tick, start + BIG_BOX + 2.5, y + shift)

    def parts(room: float) -> tuple[Block, ...]:
        each = max(1, int((room - head - pad * 2 - tick_height - 4) / words.style.line))
        pieces = [
            Composed(words.lines[at : at + each], words.style)
            for at in range(0, len(words.lines), each)
        ]
        return tuple(
            _panel(caution, piece, tick if piece is pieces[-1] else None, width, small=small)
            for piece in pieces
        )

    return Block(height=height, draw=draw, keep=True, parts=parts)


def write_tagged(surface: Surface, composed: Composed, left: float, top: float) -> None:
    """Write lines whose bold pieces are signal words: white on black, the rest black on white."""
    style = composed.style
    for number, line in enumerate(composed.lines):
        base = top + number * style.line + (style.line + style.capital) / 2
        for piece in line.pieces:
            ink = Ink.BLACK
            if piece.face is Face.BOLD:
                ink = Ink.WHITE
                wide = measure(piece.text.rstrip(), piece.face, style.size) + 1.6
                down = base - style.line / 2 - style.capital / 2 + 0.25
                surface.box(
                    left + piece.left - 0.8, down, wide, style.line - 0.5, 0, solid=Ink.BLACK
                )
            if piece.text.strip():
                surface.letters(left + piece.left, base, piece.text, piece.face, style.size, ink)


def lettered_cautions(cautions: Sequence[tuple[str, Caution]], width: float) -> list[Block]:
    """Each caution whole, with its sign, signal word and the letter steps point to; two columns.

    Law: no text is shortened; one that is longer than a column can bear stands in a panel.
    """
    column = width if len(cautions) == 1 else (width - 4.0) / 2
    entries = [(caution, _lettered(letter, caution, column)) for letter, caution in cautions]
    low = [entry for _, entry in entries if entry.height <= 40.0]
    body = [
        caution_block(caution, width, small=True)
        for caution, entry in entries
        if entry.height > 40.0
    ]
    if low:
        body.append(_two_columns(low, column))
    return body


def _two_columns(entries: Sequence[Block], column: float) -> Block:
    whole = sum(entry.height for entry in entries)
    # The left column takes as many as keep the higher of the two lowest.
    heights = [entry.height for entry in entries]
    cut = min(
        range(len(entries) + 1), key=lambda at: max(sum(heights[:at]), whole - sum(heights[:at]))
    )
    columns = [part for part in (entries[: max(cut, 1)], entries[max(cut, 1) :]) if part]
    tall = max(sum(entry.height for entry in part) for part in columns)

    def draw(surface: Surface, left: float, top: float) -> None:
        for place, part in enumerate(columns):
            y = top
            for entry in part:
                entry.draw(surface, left + place * (column + 4.0), y)
                y += entry.height

    def parts(_room: float) -> tuple[Block, ...]:
        return tuple(_two_columns(entries[at : at + 2], column) for at in range(0, len(entries), 2))

    return Block(height=tall, draw=draw, keep=True, parts=parts if len(entries) > 2 else None)


def _lettered(letter: str, caution: Caution, width: float) -> Block:
    """A caution as a paragraph; its sign stands in the room that blanks keep before its word."""
    sign = caution.signal is not Severity.NOTICE
    room = "\u00a0" * 5 if sign else ""
    tag = Run(f"{room}{caution.word}\u00a0{letter}", Voice.STRONG)
    words = compose((tag, Run(f"\u00a0\u00a0{caution.text}")), LEGEND, width - 0.8)

    def draw(surface: Surface, left: float, top: float) -> None:
        write_tagged(surface, words, left + 0.8, top)
        if sign:
            alert_sign(surface, left + 0.8, top + 0.45, 3.6)

    return Block(height=words.height + 0.7, draw=draw)


_TICKED = 62.0
"""Room for what the box of a low panel confirms."""


def ticked_panel(caution: Caution, width: float, *, again: bool) -> Block:
    """What holds throughout, with its box beside it; `again`: its text stands above already."""
    tick_room = width - 40.0 if again else _TICKED
    cell = _cell_width(caution, small=True)
    words = compose("" if again else caution.text, LEGEND, width - cell - tick_room - BIG_BOX - 9.0)
    tick = compose(caution.tick, LINE_HEAD, tick_room - 3.0)
    height = max(words.height, tick.height, BIG_BOX) + 2.2
    if height > 40.0:
        return caution_block(caution, width, small=True)

    def draw(surface: Surface, left: float, top: float) -> None:
        half = FRAME / 2
        surface.box(left + half, top + half, width - FRAME, height - FRAME, FRAME)
        surface.box(left, top, cell, height, 0, solid=Ink.BLACK)
        _signal(surface, caution, left + 2.2, top, height, SIGNAL_SMALL)
        write(surface, words, left + cell + 2.5, top + (height - words.height) / 2)
        x = left + cell + 3.0 if again else left + width - tick_room - BIG_BOX - 2.5
        tick_box(surface, x, top + (height - BIG_BOX) / 2, BIG_BOX)
        write(surface, tick, x + BIG_BOX + 2.0, top + (height - tick.height) / 2)

    return Block(height=height, draw=draw, keep=True)


def _cell_width(caution: Caution, *, small: bool) -> float:
    sign = 0.0 if caution.signal is Severity.NOTICE else 6.8
    word = compose(caution.word, SIGNAL_SMALL if small else SIGNAL, 60)
    return 2.2 + sign + word.width + 2.6


def _signal(
    surface: Surface, caution: Caution, x: float, top: float, height: float, style: Style
) -> None:
    if caution.signal is not Severity.NOTICE:
        side = style.size * 0.43
        alert_sign(surface, x, top + (height - side * 0.87) / 2, side)
        x += side + 1.8
    write(
        surface,
        compose(caution.word, style, 60, 1),
        x,
        top + (height - style.line) / 2,
        ink=Ink.WHITE,
    )


def alert_sign(surface: Surface, left: float, top: float, side: float) -> None:
    """The safety alert sign: white, with its stroke and dot in black."""
    tall = side * 0.87
    middle = left + side / 2
    outline = polygon((middle, top), (left + side, top + tall), (left, top + tall))
    surface.shape(outline, 0, solid=Ink.WHITE)
    stroke = polygon(
        (middle - side * 0.06, top + tall * 0.34),
        (middle + side * 0.06, top + tall * 0.34),
        (middle + side * 0.035, top + tall * 0.68),
        (middle - side * 0.035, top + tall * 0.68),
    )
    surface.shape(stroke, 0, solid=Ink.BLACK)
    surface.shape(circle(middle, top + tall * 0.82, side * 0.062), 0, solid=Ink.BLACK)


# -- the rule ---------------------------------------------------------------------------------


class RuleUnit(StrEnum):
    """What the rule under a head is divided into."""

    MILLIMETRE = "mm"
    INCH = "in"


def ruler(width: float, unit: RuleUnit) -> Block:
    """A true rule as long as the sheet is wide: printed at 100 % it measures."""
    pitch, long, middle = (1.0, 10, 5) if unit is RuleUnit.MILLIMETRE else (25.4 / 16, 16, 8)
    step = 10 if unit is RuleUnit.MILLIMETRE else 1
    count = int(width / pitch + 1e-6)

    def tall(number: int) -> float:
        if number % long == 0:
            return 3.6
        if number % middle == 0:
            return 2.7
        return 1.3 if unit is RuleUnit.INCH and number % 2 else 1.9

    def draw(surface: Surface, left: float, top: float) -> None:
        surface.line(left, top, left + width, top, HEAD)
        graduation: list[Step] = []
        for number in range(count + 1):
            x = left + number * pitch
            graduation += [(Go.MOVE, (x, top)), (Go.LINE, (x, top + tall(number)))]
        surface.shape(tuple(graduation), GRADUATION)
        for number in range(0, count + 1, long):
            x = left + number * pitch
            figure = str(number // long * step) if number else unit.value
            if x + 7 < left + width:
                write(surface, compose(figure, MARKS, 12), x + 0.8, top + 2.2)

    return Block(height=2.2 + MARKS.line, draw=draw)


# -- facts, foot ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """A named value; without one, a blank to fill in by hand."""

    label: str
    value: Text = ""


def facts_block(facts: Sequence[Fact], width: float, *, columns: int = 4) -> Block:
    """Named values side by side, in rows; a missing one is a line to write on."""
    rows = [facts[at : at + columns] for at in range(0, len(facts), columns)]
    return stacked([_facts_row(row, width, columns) for row in rows])


def _facts_row(facts: Sequence[Fact], width: float, columns: int) -> Block:
    column = width / columns
    room = column - 4
    set_facts = [
        (
            compose(fact.label, LABEL, room, 1),
            compose(fact.value, VALUE, room, 3) if fact.value else None,
        )
        for fact in facts
    ]
    tall = max(value.height if value else WRITING for _, value in set_facts)

    def draw(surface: Surface, left: float, top: float) -> None:
        for number, (label, value) in enumerate(set_facts):
            x = left + number * column
            write(surface, label, x, top)
            if value:
                write(surface, value, x, top + LABEL.line)
            else:
                y = top + LABEL.line + WRITING - 0.4
                surface.line(x, y, x + room, y, HAIR)

    return Block(
        height=LABEL.line + tall + 1.6,
        draw=draw,
        shortened=any(
            label.shortened or (value is not None and value.shortened) for label, value in set_facts
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot:
    """The lines at the foot of a page, already worded: `first` heavy, the notes behind it."""

    first: str
    notes: tuple[str, ...] = ()
    who: str = ""
    page: str = ""


FOOT_HEIGHT = 2.6 + 3 * SMALL.line


def foot_block(foot: Foot, width: float, *, close: bool = False) -> Block:
    """Always `FOOT_HEIGHT` high, so that pages have room before their count is known; a `close`
    one in smaller type is as high as its lines."""
    style = MARKS if close else SMALL
    notes = " · ".join(note for note in foot.notes if note)
    said = (Run(foot.first, Voice.STRONG), Run(f" {notes}" if notes else ""))
    above = compose(said, style, width, 2)
    page = compose((Run(foot.page, Voice.STRONG),), style, 80, 1)
    who = compose(foot.who, style, width - page.width - 6, 1)
    height = above.height + style.line + 2.0 if close else FOOT_HEIGHT

    def draw(surface: Surface, left: float, top: float) -> None:
        y = top + height - above.height - style.line
        surface.line(left, y - 1.2, left + width, y - 1.2, HAIR)
        write(surface, above, left, y)
        y += above.height
        write(surface, who, left, y)
        write(surface, page, left, y, right=left + width)

    return Block(height=height, draw=draw)


def record_head(machine: str, kind: str, icon: str, title: str, width: float) -> Block:
    """The head of a page that tells of one machine: its picture, its name, what the page is."""
    left = RECORD_ICON + 4.5 if icon else 0.0
    name = compose(machine, TITLE, width - left, 2)
    about = compose(kind, SECOND, width - left, 2)
    what = compose(title, STEP, width - left, 1)
    tall = max(name.height + about.height + what.height, RECORD_ICON)

    def draw_head(surface: Surface, x: float, top: float) -> None:
        draw_icon(surface, icon, x - 1.2, top, RECORD_ICON)
        y = top
        for line in (name, about, what):
            write(surface, line, x + left, y)
            y += line.height
        surface.line(x, top + tall + 2.0, x + width, top + tall + 2.0, HEAD)

    return Block(height=tall + 4.0, draw=draw_head, shortened=name.shortened or about.shortened)
