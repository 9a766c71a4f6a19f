"""The card that hangs on the machine: how to start it, for anyone, and what to try if it will not.

Two sides. Folded: both on one sheet turned sideways, the front on the right, so that it hangs as a
small card with both sides printed. Full: a page a side, everything larger.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from app.sheets.figures import circle
from app.sheets.labels import Words
from app.sheets.lettering import Face, Run, Style, Text, Voice, compose
from app.sheets.pages import Block, air, lay_out
from app.sheets.pieces import (
    BIG_BOX,
    BODY,
    LABEL,
    MARKS,
    STEP,
    Caution,
    Fact,
    caution_block,
    facts_block,
    rule_line,
    text_block,
    tick_box,
)
from app.sheets.plot import PlotRows
from app.sheets.plots import plots_block
from app.sheets.surface import (
    BOX,
    HAIR,
    HEAD,
    SIZES,
    Paper,
    PdfSurface,
    Placed,
    Size,
    Surface,
    draw_icon,
    write,
)
from app.wording.languages import msg

MARGIN = 11.0
_HOLE = 6.0
_ICON = 17.0
NAME = Style(size=27, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.1)
CARD_STEP = Style(size=14, leading=1.28, heavy=Face.BOLD)
CARD_HEAD = Style(size=15, face=Face.BOLD, leading=1.3)
ASK = Style(size=12.5, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.22)
_LOG_PITCH = 7.4
_PLOT, _PLOT_SCALE = 44.0, 0.8
# A front grows into its room; a side is set smaller when its words do not fit, since nothing is
# ever left out of a card.
_LARGER = (1.2, 1.15, 1.1, 1.05)
_SMALLER = tuple(1.0 - 0.04 * step for step in range(22))


class CardForm(StrEnum):
    """How large the card is."""

    FOLDED = "folded"
    FULL = "full"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A whole question to answer by looking, and what to do about it."""

    ask: str
    remedy: Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """A table to write in; `shares` are the columns' parts of the width."""

    title: str
    columns: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """All that a machine's card says, worded; a fact without a value is a blank."""

    machine: str
    kind: str
    icon: str
    place: str
    before: tuple[Caution, ...]
    steps: tuple[Text, ...]
    give_up: Text
    after: tuple[Caution, ...] = ()
    questions: tuple[Question, ...] = ()
    branches: tuple[Text, ...] = ()
    fire: tuple[Caution, ...] = ()
    where: tuple[Fact, ...] = ()
    facts: tuple[Fact, ...] = ()
    each_time: Text = ""
    putting_away: Text = ""
    plot: PlotRows | None = None
    log: Log | None = None
    ring: tuple[Fact, ...] = ()
    printed: str = ""


def draw(
    cards: Sequence[Card],
    *,
    paper: Paper,
    language: str,
    words: Words,
    form: CardForm = CardForm.FOLDED,
) -> bytes:
    """The cards as one PDF: a turned page each when folded, two pages each when full."""
    names = ", ".join(card.machine for card in cards)
    title = words(msg("How to start it")) + (f": {names}" if 0 < len(names) <= 120 else "")
    surface = PdfSurface(title=title, language=language)
    size = SIZES[paper]
    for card in cards:
        if form is CardForm.FOLDED:
            _folded(surface, card, size.turned(), words)
        else:
            _full(surface, card, size, words)
    if not cards:
        surface.page(size)
    return surface.finished()


def _folded(surface: Surface, card: Card, size: Size, words: Words) -> None:
    half = Size(size.width / 2, size.height)
    surface.page(size)
    surface.mark(card.machine[:60], 0)
    surface.line(half.width, 4, half.width, size.height - 4, HAIR, (2.0, 2.0))
    left, right = (Placed(surface, start, 0.0, 1.0) for start in (0.0, half.width))
    _side(left, half, _backs(card, words), words)
    _side(right, half, _fronts(card, words), words)


def _full(surface: Surface, card: Card, size: Size, words: Words) -> None:
    scale = size.height / size.width
    half = Size(size.width / scale, size.height / scale)
    on = Placed(surface, 0.0, 0.0, scale)
    surface.page(size)
    surface.mark(card.machine[:60], 0)
    _side(on, half, _fronts(card, words), words)
    surface.page(size)
    _side(on, half, _backs(card, words), words)


Way = tuple[float, Callable[[float], list[Block]]]
"""A scale, and what is set at it into a width."""


def _fronts(card: Card, words: Words) -> list[Way]:
    return [(scale, lambda width: front(card, width, words)) for scale in _LARGER + _SMALLER]


def _backs(card: Card, words: Words) -> list[Way]:
    """The course of a part is shown while everything stays large enough beside it."""
    bare: list[Way] = [(scale, lambda width: back(card, width, words)) for scale in _SMALLER]
    if card.plot is None:
        return bare
    large = [scale for scale in _SMALLER if scale >= _PLOT_SCALE]
    whole: list[Way] = [(at, lambda width: back(card, width, words, plot=True)) for at in large]
    return whole + bare


def _side(surface: Surface, half: Size, ways: Sequence[Way], words: Words) -> None:
    """One side within its half page, set smaller when its words need it."""
    top = MARGIN + _HOLE + 1.0
    width, room = half.width - 2 * MARGIN, half.height - MARGIN - top
    middle = half.width / 2
    for scale, blocks in ways:
        body = blocks(width / scale)
        if sum(block.height for block in body) <= room / scale:
            (page,) = lay_out(body, lambda _page, scale=scale: room / scale)
            inner = Placed(surface, MARGIN, top, scale)
            for block, place in page:
                block.draw(inner, 0.0, place)
            break
    else:
        raise ValueError("the words of a card do not fit its side")
    hole = MARGIN - 2 + _HOLE / 2
    surface.shape(circle(middle, hole, _HOLE / 2), BOX)
    write(surface, compose(words(msg("hole")), MARKS, 20, 1), middle + _HOLE, hole - MARKS.line / 2)


# -- the front --------------------------------------------------------------------------------


def front(card: Card, width: float, words: Words) -> list[Block]:
    """Name, what can kill, the steps, and when to stop pulling."""
    body = [_name(card, width), air(2.5)]
    body.append(text_block(words(msg("How to start it, for anyone")), CARD_HEAD, width, keep=True))
    body.append(air(0.8))
    for caution in card.before:
        body += [caution_block(caution, width), air(2.0)]
    for number, step in enumerate(card.steps, start=1):
        body += [_step(str(number), step, width), air(1.1)]
    if card.give_up:
        body += [air(0.6), text_block(card.give_up, ASK, width), air(1.6)]
    for caution in card.after:
        body += [air(0.8), caution_block(caution, width)]
    return body


def _name(card: Card, width: float) -> Block:
    left = _ICON + 4 if card.icon else 0.0
    name = compose(card.machine, NAME, width - left, 2)
    about = compose(
        " · ".join(part for part in (card.kind, card.place) if part), BODY, width - left, 2
    )
    tall = max(_ICON, name.height + about.height)

    def draw_name(surface: Surface, x: float, top: float) -> None:
        draw_icon(surface, card.icon, x - 1.3, top, _ICON)
        write(surface, name, x + left, top - 1.0)
        write(surface, about, x + left, top - 1.0 + name.height)
        surface.line(x, top + tall + 1.5, x + width, top + tall + 1.5, HEAD)

    return Block(height=tall + 1.5, draw=draw_name, shortened=name.shortened or about.shortened)


def _step(number: str, step: Text, width: float) -> Block:
    digits = compose((Run(number, Voice.STRONG),), CARD_STEP, 10, 1)
    text = compose(step, CARD_STEP, width - 9.5)

    def draw_step(surface: Surface, left: float, top: float) -> None:
        write(surface, digits, left, top)
        write(surface, text, left + 9.5, top)

    return Block(height=text.height, draw=draw_step)


# -- the back ---------------------------------------------------------------------------------


def back(card: Card, width: float, words: Words, *, plot: bool = False) -> list[Block]:
    """What to try if it will not start, what fits, how a part wears, and a log to write in."""
    body: list[Block] = []
    if card.questions:
        body.append(text_block(words(msg("If it will not start")), CARD_HEAD, width, keep=True))
        body += [part for ask in card.questions for part in (_question(ask, width), air(1.0))]
    for caution in card.fire:
        body += [air(0.4), caution_block(caution, width, small=True), air(1.2)]
    for branch in card.branches:
        body += [text_block(branch, BODY, width), air(0.9)]
    for facts, columns in ((card.where, 2), (card.facts, 3)):
        if facts:
            body += [rule_line(width, HEAD, above=0.8, below=1.2)]
            body.append(facts_block(facts, width, columns=columns))
    said = [text for text in (card.each_time, card.putting_away) if text]
    if said:
        body.append(rule_line(width, HEAD, above=0.8, below=1.2))
        body += [part for text in said for part in (text_block(text, BODY, width), air(0.7))]
    if plot and card.plot is not None:
        body += [rule_line(width, HEAD, above=0.8, below=0.6)]
        body.append(plots_block([card.plot], width, _PLOT))
    if card.log:
        body += [rule_line(width, HEAD, above=0.8, below=1.0), _log(card.log, 3, width)]
    if card.ring:
        body += [air(1.6), facts_block(card.ring, width, columns=len(card.ring))]
    manual = words(msg("The machine’s own manual goes before this card."))
    said_last = " · ".join(part for part in (manual, card.printed) if part)
    body += [air(0.8), text_block(said_last, MARKS, width)]
    return body


def _question(question: Question, width: float) -> Block:
    column = (width - BIG_BOX - 3) * 0.46
    ask = compose(question.ask, ASK, column - 3)
    remedy = compose(question.remedy, BODY, width - BIG_BOX - 3 - column)
    tall = max(BIG_BOX, ask.height, remedy.height)

    def centred(height: float) -> float:
        return max(0.0, (BIG_BOX - height) / 2)

    def draw_question(surface: Surface, left: float, top: float) -> None:
        tick_box(surface, left, top, BIG_BOX)
        x = left + BIG_BOX + 3
        write(surface, ask, x, top + centred(ask.height))
        write(surface, remedy, x + column, top + centred(remedy.height))

    return Block(height=tall, draw=draw_question)


def _log(log: Log, count: int, width: float) -> Block:
    """A table with room to write; it takes what height its side has left."""
    whole = sum(share for _, share in log.columns)
    title = compose(log.title, STEP, width, 1)
    names = [compose(name, LABEL, width * share / whole - 2, 1) for name, share in log.columns]
    head = title.height + LABEL.line + 0.6

    def draw_log(surface: Surface, left: float, top: float) -> None:
        write(surface, title, left, top)
        x = left
        bottom = top + head + count * _LOG_PITCH
        for place, (name, (_, share)) in enumerate(zip(names, log.columns, strict=True)):
            write(surface, name, x + (1.5 if place else 0.0), top + title.height)
            if place:
                surface.line(x, top + title.height + 0.8, x, bottom, HAIR)
            x += width * share / whole
        for row in range(count + 1):
            y = top + head + row * _LOG_PITCH
            surface.line(left, y, left + width, y, HAIR)

    def stretch(height: float) -> Block:
        return _log(log, max(count, min(14, int((height - head) / _LOG_PITCH))), width)

    height = head + count * _LOG_PITCH
    return Block(height=height, draw=draw_log, stretch=stretch)
