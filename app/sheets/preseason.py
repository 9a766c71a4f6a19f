"""The sheet to work from before the season: one machine a sheet, in the order of the work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from app.sheets.labels import Words
from app.sheets.lettering import Run, Text, Voice, compose, runs
from app.sheets.pages import Block, Folio, Frame, air, pages_needed, print_blocks, stacked
from app.sheets.pieces import (
    BIG_BOX,
    DIGITS,
    LABEL,
    LEGEND,
    MARKS,
    ROW,
    SECOND,
    STEP,
    TITLE,
    Caution,
    Fact,
    Foot,
    RuleUnit,
    foot_block,
    lettered_cautions,
    rule_line,
    ruler,
    text_block,
    tick_box,
    ticked_panel,
    write_in,
    writing_lines,
)
from app.sheets.plot import PlotRows
from app.sheets.plots import plots_block
from app.sheets.steps import NAME, WHAT_STYLE, Step, step_rows
from app.sheets.surface import (
    HEAD,
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

MARGIN = 12.0
_ICON = 14.0
_TOGETHER = 10
"""Texts of cautions that stand together before their steps."""
_PLOT_HEIGHTS, _PLOTS = (44.0, 36.0), 2
_LINE = 7.0
"""Height of a line to write a sentence on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """Steps under one state of the machine. With a `tick`, the state itself is ticked off.

    A caution with a box of its own holds throughout the stage, in a panel; the texts of all others
    stand together, numbered, before the first step, and each step points to its own.
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
class PreSeasonSheet:
    """All that one machine's sheet says, worded. `number`: four digits.

    `plots`: courses of wear that made a day of the sheet, shown while they cost no page of their
    own. `about`: what the sheet is, after the name on later pages and before it in the title;
    empty for the season. `listed`: things to be had or bought instead of steps to be worked
    through. `elsewhere`: where what was left out to save pages can be read; `later`: work that is
    named only, without a box.
    """

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
    sources: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    household: str = ""
    printed: str = ""
    plots: tuple[PlotRows, ...] = ()
    rule: RuleUnit = RuleUnit.MILLIMETRE
    about: str = ""
    listed: bool = False
    elsewhere: str = ""
    later: tuple[str, ...] = ()


def draw(sheets: Sequence[PreSeasonSheet], *, paper: Paper, language: str, words: Words) -> bytes:
    """The sheets as one PDF; each begins on a page of its own and counts its own pages."""
    names = ", ".join(sheet.machine for sheet in sheets)
    about = next((sheet.about for sheet in sheets if sheet.about), "")
    title = about or words(msg("Before the season"))
    title += f": {names}" if 0 < len(names) <= 120 else ""
    surface = PdfSurface(title=title, language=language)
    for sheet in sheets:
        _print(surface, sheet, SIZES[paper], words)
    if not sheets:
        surface.page(SIZES[paper])
    return surface.finished()


def pages_of(sheet: PreSeasonSheet, *, paper: Paper, words: Words) -> int:
    """On how many pages the sheet would stand."""
    size = SIZES[paper]
    return pages_needed(blocks(sheet, size.width - 2 * MARGIN, words), _frame(sheet, size, words))


def _frame(sheet: PreSeasonSheet, size: Size, words: Words) -> Frame:
    width = size.width - 2 * MARGIN

    def head(number: int) -> Block:
        return _head(sheet, width, words) if number == 1 else _short_head(sheet, width, words)

    def foot(folio: Folio) -> Block:
        return foot_block(_foot(sheet, folio, words), width, close=True)

    return Frame(size=size, head=head, foot=foot, margin=MARGIN)


def _print(surface: Surface, sheet: PreSeasonSheet, size: Size, words: Words) -> None:
    width, frame = size.width - 2 * MARGIN, _frame(sheet, size, words)
    mark = f"{sheet.number}  {sheet.machine[:60]}"
    print_blocks(surface, _with_plots(sheet, frame, width, words), frame, mark)


def _with_plots(sheet: PreSeasonSheet, frame: Frame, width: float, words: Words) -> list[Block]:
    """The body, with the courses of wear while they need no further page."""
    bare = blocks(sheet, width, words)
    if not sheet.plots:
        return bare
    pages = pages_needed(bare, frame)
    for height in _PLOT_HEIGHTS:
        plots = plots_block(sheet.plots[:_PLOTS], width, height)
        whole = blocks(sheet, width, words, shown=(plots, air(0.6)))
        if pages_needed(whole, frame) == pages:
            return whole
    return bare


def _foot(sheet: PreSeasonSheet, folio: Folio, words: Words) -> Foot:
    page = words(msg("page {page} of {pages}"), page=folio.number, pages=folio.count)
    if folio.number < folio.count:
        page = f"{page} · {words(msg('turn over'))}"
    return Foot(
        first=words(msg("Your machine’s own manual goes before this sheet.")),
        notes=(
            *sheet.marks,
            words(msg("… shortened here, whole in the program")) if folio.shortened else "",
        ),
        who=" · ".join(part for part in (sheet.household, sheet.printed) if part),
        page=page,
    )


# -- heads ------------------------------------------------------------------------------------


def _head(sheet: PreSeasonSheet, width: float, words: Words) -> Block:
    label = compose(words(msg("sheet")) if sheet.number else "", LABEL, 40, 1)
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
        rule.draw(surface, x, top + tall + 1.2)

    return Block(
        height=tall + 1.2 + rule.height + 0.8,
        draw=draw_head,
        shortened=name.shortened or about.shortened or start.shortened,
    )


def _short_head(sheet: PreSeasonSheet, width: float, words: Words) -> Block:
    digits = compose(sheet.number, TITLE, 40, 1)
    room = width - digits.width - 6
    name = compose(
        (
            Run(sheet.machine, Voice.STRONG),
            Run(f"  {sheet.about or words(msg('before the season'))}"),
        ),
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


def blocks(
    sheet: PreSeasonSheet, width: float, words: Words, *, shown: Sequence[Block] = ()
) -> list[Block]:
    """The body of a sheet, from the facts to the sources, as blocks to be laid on pages.
    `shown`: what stands after the last step."""
    body = _ready(sheet, width, words)
    body += stage_blocks(sheet.stages, width, words, listed=sheet.listed)
    if sheet.later:
        named = (Run(words(msg("For another day")), Voice.STRONG), Run("\u00a0\u00a0"))
        body += [air(0.8), text_block((*named, Run(" · ".join(sheet.later))), LEGEND, width)]
    if sheet.elsewhere:
        body.append(text_block(sheet.elsewhere, MARKS, width))
    body.append(rule_line(width, HEAD, below=0.6))
    body += shown
    if not sheet.listed:
        body += _closing(width, words)
    if sheet.sources:
        said = words(msg("Published: {sources}."), sources="; ".join(sheet.sources))
        body.append(text_block(said, MARKS, width))
    return body


def stage_blocks(
    stages: Sequence[Stage], width: float, words: Words, first: int = 1, *, listed: bool = False
) -> list[Block]:
    """Stages one after the other, their steps numbered from `first`.

    Law: the whole text of a caution stands before the first step it belongs to, and before each
    its signal word and figure, or in its own stage the panel that is ticked off.
    """
    letters = lettered(stages)
    said: set[Caution] = set()
    body: list[Block] = []
    number = first
    for stage in stages:
        rows = _stage_head(stage, width, said)
        ticked = {caution.text for caution in stage.cautions if caution.tick}
        pointed = {c: letter for c, letter in letters.items() if c.text not in ticked}
        for new, steps in _portions(stage, pointed, said):
            rows += _legend(new, pointed, width)
            if number == first and not listed:
                rows.append(_key(width, words))
            rows += step_rows(steps, number, width, pointed)
            number += len(steps)
        body += rows
    return body


def lettered(stages: Sequence[Stage]) -> dict[Caution, str]:
    """The figure of each caution, in the order they are first needed; those that are ticked off in
    a panel need none in the stage of that panel. Letters stand for what a limit rests on."""
    found: dict[Caution, str] = {}
    for stage in stages:
        ticked = {caution.text for caution in stage.cautions if caution.tick}
        for caution in _needed(stage):
            if caution.text not in ticked and caution not in found:
                found[caution] = str(len(found) + 1)
    return found


def _needed(stage: Stage) -> list[Caution]:
    return [*stage.cautions, *(caution for step in stage.steps for caution in step.cautions)]


def _portions(
    stage: Stage, letters: Mapping[Caution, str], said: set[Caution]
) -> list[tuple[list[Caution], list[Step]]]:
    """The steps in portions, each behind the cautions that are new in it: a few at a time, so that
    a text stands near its step and no page is left empty for a block of them."""

    def unsaid(cautions: Sequence[Caution]) -> list[Caution]:
        new = [c for c in dict.fromkeys(cautions) if c in letters and c not in said]
        said.update(new)
        return new

    found: list[tuple[list[Caution], list[Step]]] = [(unsaid(stage.cautions), [])]
    for step in stage.steps:
        new = unsaid(step.cautions)
        held, steps = found[-1]
        if new and steps and len(held) + len(new) > _TOGETHER:
            found.append(([], []))
            held, steps = found[-1]
        held += new
        steps.append(step)
    return found


def _legend(new: Sequence[Caution], letters: Mapping[Caution, str], width: float) -> list[Block]:
    """The texts of cautions that were not told yet."""
    if not new:
        return []
    return [air(0.8), *lettered_cautions([(letters[c], c) for c in new], width), air(0.6)]


def _ready(sheet: PreSeasonSheet, width: float, words: Words) -> list[Block]:
    """What it is, what to buy, what to bring, what was written last time."""
    lines: list[tuple[str, Text]] = []
    if sheet.facts:
        lines.append((words(msg("Machine")), _facts(sheet.facts)))
    lines += [(buying.label, " · ".join(buying.things)) for buying in sheet.buying]
    if sheet.bring:
        lines.append((words(msg("Bring")), ", ".join(sheet.bring)))
    if sheet.last_time:
        lines.append((words(msg("Last time")), f"“{sheet.last_time}”"))
    body: list[Block] = []
    for label, text in lines:
        said = (Run(label, Voice.STRONG), Run("\u00a0\u00a0"), *runs(text))
        body += [text_block(said, LEGEND, width, most=12), air(0.3)]
    return [*body, air(0.6)] if body else []


def _facts(facts: Sequence[Fact]) -> Text:
    said: list[Run] = []
    for fact in facts:
        said += [Run(" · ")] if said else []
        said += [Run(f"{fact.label}\u00a0"), *runs(fact.value or "______")]
    return tuple(said)


def _key(width: float, words: Words) -> Block:
    """How the rows are read, over the first of them."""
    said = compose(
        words(
            msg(
                "Small box: look. Large box: work. Circle or write what you found. The figure "
                "behind a signal word leads to its text."
            )
        ),
        MARKS,
        width,
    )

    def draw_key(surface: Surface, left: float, top: float) -> None:
        surface.line(left, top, left + width, top, HEAD)
        write(surface, said, left, top + 0.5)

    return Block(height=said.height + 0.6, draw=draw_key, keep=True)


def _stage_head(stage: Stage, width: float, said: set[Caution]) -> list[Block]:
    body: list[Block] = []
    if stage.title or stage.tick:
        body += [air(0.8), _divider(stage, width)]
    for caution in stage.cautions:
        if caution.tick:
            body += [air(0.4), ticked_panel(caution, width, again=caution in said)]
            said.add(caution)
    return body


def _divider(stage: Stage, width: float) -> Block:
    """The line across the sheet before the machine is put into another state."""
    title = compose(stage.title, STEP, width) if stage.title else None
    start = title.width + 5.0 if title and stage.tick else 0.0
    tick = compose(stage.tick, STEP, width - start - BIG_BOX - 2.5) if stage.tick else None
    tall = max(title.height if title else 0.0, max(BIG_BOX, tick.height) if tick else 0.0)

    def draw_divider(surface: Surface, left: float, top: float) -> None:
        surface.box(left, top, width, 0.9, 0, solid=Ink.BLACK)
        y = top + 1.7
        if title:
            write(surface, title, left, y + (max(0.0, (BIG_BOX - title.height) / 2) if tick else 0))
        if tick:
            tick_box(surface, left + start, y, BIG_BOX)
            shift = max(0.0, (BIG_BOX - tick.height) / 2)
            write(surface, tick, left + start + BIG_BOX + 2.5, y + shift)

    return Block(height=tall + 2.4, draw=draw_divider, keep=True)


def _closing(width: float, words: Words) -> list[Block]:
    """Who did it and when, the exceptions, and room for what else was seen."""

    def draw_done(surface: Surface, left: float, top: float) -> None:
        third = width / 3
        for place, label in enumerate(
            (words(msg("Done by")), words(msg("Date")), words(msg("Hours now")))
        ):
            write_in(surface, label, left + place * third, top, third - 5, style=WHAT_STYLE)

    def draw_seen(surface: Surface, left: float, top: float) -> None:
        half = width / 2
        for place, label in enumerate(
            (words(msg("All done except steps")), words(msg("What else I saw")))
        ):
            write_in(surface, label, left + place * half, top, half - 3, style=WHAT_STYLE)

    first = [Block(height=_LINE, draw=draw) for draw in (draw_done, draw_seen)]
    whole = stacked(first)

    def stretch(height: float) -> Block:
        count = min(6, int((height - whole.height) / ROW))
        return stacked([*first, writing_lines(count, width, pitch=ROW)]) if count > 0 else whole

    return [Block(height=whole.height, draw=whole.draw, stretch=stretch)]
