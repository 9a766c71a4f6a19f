"""Steps of work as rows: a box, a number, what to do, what to find, and when to stop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.sheets.lettering import Run, Style, Text, compose, runs
from app.sheets.pages import Block, air, stacked
from app.sheets.pieces import (
    ANSWER_TEXT,
    BIG_BOX,
    LABEL,
    SECOND,
    STEP,
    Answer,
    Caution,
    answers_block,
    answers_width,
    caution_block,
    stop_line,
    tick_box,
)
from app.sheets.surface import HAIR, Surface, write

WHAT = 19.0
"""Where the words of a step begin."""

FOUND = 60.0
MINUTES = 20.0
_NUMBER = 10.5
_TOP = 1.4
_BOTTOM = 1.2
_TOGETHER = 2
"""Steps that may share a row, and cautions that may stand before one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What to find: the limit, the letter of what it rests on, boxes and blanks for the answer."""

    limit: Text = ""
    mark: str = ""
    answers: tuple[Answer, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of work; `minutes` may be empty.

    `cautions` stand before it; `stop` is the whole sentence that says when not to use the machine.
    """

    what: Text
    how: Text = ""
    findings: tuple[Finding, ...] = ()
    stop: str = ""
    minutes: str = ""
    cautions: tuple[Caution, ...] = ()


def found_left(width: float) -> float:
    """Where the column of findings begins."""
    return width - MINUTES - FOUND


def caution_before(caution: Caution, width: float) -> list[Block]:
    """A low panel that stays with what comes after it."""
    return [air(0.8), caution_block(caution, width, small=True), air(0.6)]


def step_rows(steps: Sequence[Step], first: int, width: float) -> list[Block]:
    """The steps in order, numbered from `first`, each behind its cautions.

    Two neighbours that ask for nothing but a tick share a row, the left one first.
    """
    body: list[Block] = []
    place = 0
    while place < len(steps):
        here = steps[place : place + _TOGETHER]
        if not _share(here, width):
            here = here[:1]
        cautions = [caution for step in here for caution in step.cautions]
        for caution in cautions:
            body += caution_before(caution, width)
        number = first + place
        place += len(here)
        line = place < len(steps) and not steps[place].cautions
        row = _row(here[0], number, width) if len(here) == 1 else _pair(here, number, width)
        body.append(_underlined(row, width) if line else row)
    return body


def _underlined(row: Block, width: float) -> Block:
    def draw(surface: Surface, left: float, top: float) -> None:
        row.draw(surface, left, top)
        surface.line(left, top + row.height, left + width, top + row.height, HAIR)

    return Block(height=row.height, draw=draw, shortened=row.shortened)


# -- two that share a row ---------------------------------------------------------------------


def _share(steps: Sequence[Step], width: float) -> bool:
    """Only ticks, short names, and no more cautions than may stand together."""
    if len(steps) < _TOGETHER or sum(len(step.cautions) for step in steps) > _TOGETHER:
        return False
    room = width / 2 - WHAT - MINUTES
    return all(
        not (step.how or step.findings or step.stop)
        and len(compose(step.what, STEP, room).lines) <= 2
        for step in steps
    )


def _pair(steps: Sequence[Step], number: int, width: float) -> Block:
    halves = [_half(step, number + place, width / 2) for place, step in enumerate(steps)]

    def draw(surface: Surface, left: float, top: float) -> None:
        for place, half in enumerate(halves):
            half.draw(surface, left + place * width / 2, top)

    return Block(height=max(half.height for half in halves), draw=draw)


def _half(step: Step, number: int, width: float) -> Block:
    what = compose(step.what, STEP, width - WHAT - MINUTES, 2)
    minutes = compose(step.minutes, LABEL, MINUTES, 1)
    tall = max(BIG_BOX, what.height)
    shift = max(0.0, (BIG_BOX - what.height) / 2)

    def draw(surface: Surface, left: float, top: float) -> None:
        _box_and_number(surface, number, left, top + _TOP, shift)
        write(surface, what, left + WHAT, top + _TOP + shift)
        write(surface, minutes, left, top + _TOP + shift + 0.4, right=left + width - 4)

    return Block(height=_TOP + tall + _BOTTOM, draw=draw)


def _box_and_number(surface: Surface, number: int, left: float, top: float, shift: float) -> None:
    tick_box(surface, left, top, BIG_BOX)
    write(surface, compose(str(number), STEP, 12, 1), left + _NUMBER, top + shift)


# -- a row of its own -------------------------------------------------------------------------


def _row(step: Step, number: int, width: float) -> Block:
    """What on the left, what is found on the right, and how, limits and stop along beneath."""
    beside = step.findings if len(step.findings) == 1 else _only_ticks(step.findings)
    beneath = [finding for finding in step.findings if finding not in beside]
    head = _head(step, beside, number, width)
    parts = [head]
    parts += [_along(finding, width) for finding in beneath]
    if step.stop:
        parts += [air(0.6), _shifted(stop_line(step.stop, width - WHAT), WHAT)]
    whole = stacked([air(_TOP), *parts, air(_BOTTOM)])
    return Block(height=whole.height, draw=whole.draw, shortened=whole.shortened)


def _only_ticks(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    return tuple(finding for finding in findings if not finding.limit)


def _shifted(block: Block, by: float) -> Block:
    def draw(surface: Surface, left: float, top: float) -> None:
        block.draw(surface, left + by, top)

    return Block(height=block.height, draw=draw, shortened=block.shortened)


def _head(step: Step, beside: Sequence[Finding], number: int, width: float) -> Block:
    room = found_left(width) - WHAT - 4
    what = compose(step.what, STEP, room if beside else width - WHAT - MINUTES, 6)
    found = stacked([_found(finding) for finding in beside])
    # How it is done goes beneath its name, or along the whole row where that is hardly higher.
    narrow = compose(step.how, SECOND, room, 14)
    wide = compose(step.how, SECOND, width - WHAT, 10)
    tall_narrow = max(BIG_BOX, what.height + narrow.height, found.height)
    tall_wide = max(BIG_BOX - 1.5, what.height + 0.6, found.height) + wide.height
    short = len(narrow.lines) == 1
    how = narrow if short or tall_wide > tall_narrow + 1.5 else wide
    tall = max(BIG_BOX, what.height, found.height)
    if step.how:
        tall = tall_wide if how is wide else tall_narrow
    how_top = tall - wide.height if how is wide else what.height
    minutes = compose(step.minutes, LABEL, MINUTES, 1)
    shift = 0.0 if step.how else max(0.0, (BIG_BOX - what.height) / 2)

    def draw(surface: Surface, left: float, top: float) -> None:
        _box_and_number(surface, number, left, top, shift)
        write(surface, what, left + WHAT, top + shift)
        found.draw(surface, left + found_left(width), top + shift)
        write(surface, minutes, left, top + shift + 0.4, right=left + width)
        if step.how:
            write(surface, how, left + WHAT, top + how_top)

    return Block(
        height=tall,
        draw=draw,
        shortened=what.shortened or how.shortened or found.shortened,
    )


def _found(finding: Finding) -> Block:
    """The limit, and beside or beneath it the boxes and blanks for what is found.

    Its first words stand on the base line of the step's name.
    """
    limit = compose(_marked(finding), SECOND, FOUND, 8)
    down = (STEP.line - SECOND.line) / 2
    answers = answers_block(finding.answers, FOUND)
    indent = limit.width + 4 if finding.limit else 0.0
    beside = len(limit.lines) == 1 and indent + answers_width(finding.answers) <= FOUND
    apart = bool(finding.limit) and not beside
    shift = limit.height - 0.4 if apart else down - ANSWER_TEXT

    def draw(surface: Surface, left: float, top: float) -> None:
        write(surface, limit, left, top + down)
        answers.draw(surface, left + (indent if beside else 0.0), top + shift)

    tall = max(shift + answers.height, limit.height + down)
    return Block(height=tall, draw=draw, shortened=limit.shortened)


def _along(finding: Finding, width: float) -> Block:
    """One of several findings: its limit under the step's name, its blanks in their column."""
    limit = compose(_marked(finding), SECOND, found_left(width) - WHAT - 4, 4)
    answers = answers_block(finding.answers, FOUND)
    tall = max(answers.height, limit.height + ANSWER_TEXT - 1.0)

    def draw(surface: Surface, left: float, top: float) -> None:
        write(surface, limit, left + WHAT, top + ANSWER_TEXT - 1.0)
        answers.draw(surface, left + found_left(width), top - 1.0)

    return Block(height=tall - 0.6, draw=draw, shortened=limit.shortened)


def _marked(finding: Finding) -> Text:
    """A limit with the letter of what it rests on, held to its last word."""
    if not finding.mark:
        return finding.limit
    return (*runs(finding.limit), Run(f"\u00a0({finding.mark})"))


NAME = Style(size=12)
"""A machine's name in a short head."""
