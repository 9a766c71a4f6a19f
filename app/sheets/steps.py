"""Steps of work as rows: a box, a number, what to do, what to find, and when to stop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from app.sheets.lettering import Face, Run, Style, Text, Voice, compose, reckoned, runs
from app.sheets.pages import Block, stacked
from app.sheets.pieces import (
    BIG_BOX,
    LEGEND,
    SMALL_BOX,
    Answer,
    Caution,
    answer_width,
    draw_answer,
    tick_box,
    write_tagged,
    writes,
)
from app.sheets.surface import HAIR, STOP, Ink, Surface, write

WHAT = 14.8
"""Where the words of a step begin."""

WHAT_STYLE = Style(size=10.5, face=Face.SEMIBOLD, heavy=Face.BOLD, leading=1.18)
STOP_STYLE = Style(size=10.5, face=Face.BOLD, heavy=Face.BOLD, leading=1.18)
NAME = Style(size=12)
"""A machine's name in a short head."""

_PAD = 0.6
_PITCH = 5.6
"""Height of a line that has something to write on."""

# How a thing is done, or put back, stands whole: rather another page than a line too few. Only
# what no page could hold with all else of its step is shortened.
_MOST_HOW = 36
_BETWEEN = 5.0
_COLUMNS = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What to find: the limit, the letter of what it rests on, words to circle and blanks."""

    limit: Text = ""
    mark: str = ""
    answers: tuple[Answer, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of work; `minutes` may be empty. A `look` has a small box, work a large one.

    `cautions` are all that belong to it; `stop` is the whole sentence that says when not to use
    the machine. `asks`: what is found answers a question, so that it stands beneath how it is done.
    """

    what: Text
    how: Text = ""
    findings: tuple[Finding, ...] = ()
    stop: str = ""
    minutes: str = ""
    cautions: tuple[Caution, ...] = ()
    look: bool = False
    asks: bool = False


def step_rows(
    steps: Sequence[Step], first: int, width: float, letters: Mapping[Caution, str]
) -> list[Block]:
    """The steps in order, numbered from `first`, each with the letters of its cautions before it.

    Two neighbours share a row where that is lower than a row each and leaves no word out, the left
    one first.
    """
    half = (width - _COLUMNS) / 2
    alone = [_row(step, first + n, width, letters) for n, step in enumerate(steps)]
    narrow = [_row(step, first + n, half, letters) for n, step in enumerate(steps)]
    # The lowest way to set all steps from each place on, from the last one back.
    lowest = [0.0] * (len(steps) + 2)
    paired = [False] * len(steps)
    for place in range(len(steps) - 1, -1, -1):
        lowest[place] = alone[place].height + lowest[place + 1]
        if place + 1 < len(steps) and not _cut(alone, narrow, place):
            both = max(narrow[place].height, narrow[place + 1].height) + lowest[place + 2]
            if both < lowest[place]:
                lowest[place], paired[place] = both, True
    body: list[Block] = []
    place = 0
    while place < len(steps):
        if paired[place]:
            row = _beside(narrow[place], narrow[place + 1], half)
            place += 2
        else:
            row = alone[place]
            place += 1
        body.append(_underlined(row, width) if place < len(steps) else row)
    return body


def _cut(alone: Sequence[Block], narrow: Sequence[Block], place: int) -> bool:
    """Whether half the width would leave words out that the whole has room for."""
    both = zip(alone[place : place + 2], narrow[place : place + 2], strict=True)
    return any(half.shortened and not whole.shortened for whole, half in both)


def _underlined(row: Block, width: float) -> Block:
    def draw(surface: Surface, left: float, top: float) -> None:
        row.draw(surface, left, top)
        surface.line(left, top + row.height, left + width, top + row.height, HAIR)

    return Block(height=row.height, draw=draw, shortened=row.shortened)


def _beside(one: Block, other: Block, half: float) -> Block:
    tall = max(one.height, other.height)

    def draw(surface: Surface, left: float, top: float) -> None:
        one.draw(surface, left, top)
        other.draw(surface, left + half + _COLUMNS, top)

    return Block(height=tall, draw=draw, shortened=one.shortened or other.shortened)


def pointers(cautions: Sequence[Caution], letters: Mapping[Caution, str]) -> str:
    """The signal words with the letters of their texts, the gravest first as they came."""
    found: dict[str, list[str]] = {}
    for caution in cautions:
        letter = letters.get(caution, "")
        if letter and letter not in found.setdefault(caution.word, []):
            found[caution.word].append(letter)
    return "  ".join("\u00a0".join((word, *named)) for word, named in found.items() if named)


def _row(step: Step, number: int, width: float, letters: Mapping[Caution, str]) -> Block:
    """Pointers and name, what is found on the same line or beneath, how, and when to stop."""
    room = width - WHAT
    box = SMALL_BOX if step.look else BIG_BOX
    tags = pointers(step.cautions, letters)
    said: list[Run] = [Run(tags, Voice.STRONG), Run("\u00a0\u00a0")] if tags else []
    said += runs(step.what)
    if step.minutes:
        said.append(reckoned(f" {step.minutes}"))
    what = compose(tuple(said), WHAT_STYLE, room, 8)
    start = room if step.asks else what.lines[-1].width + _BETWEEN
    found, beside = _findings(step.findings, room, start)
    how = compose(step.how, LEGEND, room, _MOST_HOW) if step.how else None
    stop = compose(step.stop, STOP_STYLE, room - 3) if step.stop else None
    # A line with something to write on is higher than one of type alone.
    found_top = what.height - (WHAT_STYLE.line if beside else 0.0)
    how_top = max(what.height, found_top + found.height)
    stop_top = how_top + (how.height if how else 0.0)
    if step.asks:
        how_top = what.height
        found_top = how_top + (how.height if how else 0.0)
        stop_top = found_top + found.height
    tall = max(box, stop_top + (stop.height + 0.5 if stop else 0.0))
    digits = compose(str(number), WHAT_STYLE, 12, 1)

    def draw(surface: Surface, left: float, top: float) -> None:
        y = top + _PAD
        tick_box(surface, left, y, box)
        write(surface, digits, left, y, right=left + WHAT - 1.4)
        write_tagged(surface, what, left + WHAT, y)
        found.draw(surface, left + WHAT, y + found_top)
        if how:
            write(surface, how, left + WHAT, y + how_top)
        if stop:
            bar = y + stop_top + 0.6
            surface.box(left + WHAT, bar, STOP, stop.height - 0.6, 0, solid=Ink.BLACK)
            write(surface, stop, left + WHAT + 3, y + stop_top)

    return Block(
        height=tall + 2 * _PAD,
        draw=draw,
        shortened=what.shortened or (how is not None and how.shortened) or found.shortened,
    )


def _findings(findings: Sequence[Finding], width: float, start: float) -> tuple[Block, bool]:
    """Limits with their blanks, side by side as they fit; whether the first stands at `start` on
    the line of the step's name."""
    lines: list[list[tuple[float, Block]]] = [[]]
    x, beside = start, False
    for finding in findings:
        block, need = _finding(finding, width)
        if x + need > width and (lines[-1] or len(lines) == 1):
            lines.append([])
            x = 0.0
        if len(lines) == 1:
            beside = True
        lines[-1].append((x, block))
        x += need + _BETWEEN
    if not beside:
        lines = lines[1:]
    return stacked([_side_by_side(line) for line in lines]), beside


def _side_by_side(line: Sequence[tuple[float, Block]]) -> Block:
    def draw(surface: Surface, left: float, top: float) -> None:
        for x, block in line:
            block.draw(surface, left + x, top)

    return Block(height=max((block.height for _, block in line), default=0.0), draw=draw)


def _finding(finding: Finding, width: float) -> tuple[Block, float]:
    """One limit with its answers behind it, or beneath it where the line is too short."""
    answers = sum(answer_width(answer) + 2.0 for answer in finding.answers) - 2.0
    limit = compose(_marked(finding), LEGEND, width, 6) if finding.limit else None
    indent = limit.lines[-1].width + 2.0 if limit else 0.0
    above = (len(limit.lines) - 1) * LEGEND.line if limit else 0.0
    if limit and indent + answers > width:
        above, indent = above + LEGEND.line, 0.0
    words = max((line.width for line in limit.lines), default=0.0) if limit else 0.0

    def draw(surface: Surface, left: float, top: float) -> None:
        if limit:
            write(surface, limit, left, top + (WHAT_STYLE.line - LEGEND.line) / 2)
        x = left + indent
        for answer in finding.answers:
            draw_answer(surface, answer, x, top + above)
            x += answer_width(answer) + 2.0

    blanks = any(writes(answer) for answer in finding.answers)
    tall = above + (_PITCH if blanks else WHAT_STYLE.line)
    return Block(height=tall, draw=draw), max(words, indent + answers)


def _marked(finding: Finding) -> Text:
    """A limit with the letter of what it rests on, held to its last word."""
    if not finding.mark:
        return finding.limit
    return (*runs(finding.limit), Run(f"\u00a0({finding.mark})"))
