"""Blocks onto pages: nothing is cut, a block is never parted unless a whole page cannot hold it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from app.sheets.surface import MARGIN, Size, Surface

Draw = Callable[[Surface, float, float], None]
"""Draws with its top left corner at the given place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Something of a known height, millimetres.

    `keep`: never the last thing on its page. `parts`: the same content in lower pieces, for the
    case that no page can hold it. `stretch`: draws with whatever height its page has left.
    `shortened`: an ellipsis in it stands for more. `group`: height of this and the blocks after it
    that had better share a page.
    """

    height: float
    draw: Draw
    keep: bool = False
    parts: Callable[[float], tuple[Block, ...]] | None = None
    stretch: Callable[[float], Block] | None = None
    shortened: bool = False
    group: float = 0.0


@dataclass(frozen=True, slots=True)
class Folio:
    """A page of a sheet: its number from 1, how many there are, whether anything was shortened."""

    number: int
    count: int
    shortened: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What stands on each page of a sheet: its head (by page, from 1) and its foot."""

    size: Size
    head: Callable[[int], Block]
    foot: Callable[[Folio], Block]
    margin: float = MARGIN


Laid = tuple[tuple[Block, float], ...]


def air(height: float) -> Block:
    return Block(height=height, draw=lambda _surface, _left, _top: None, keep=True)


def stacked(blocks: Sequence[Block]) -> Block:
    """Blocks beneath one another as one that stays together."""

    def draw(surface: Surface, left: float, top: float) -> None:
        for block in blocks:
            block.draw(surface, left, top)
            top += block.height

    return Block(
        height=sum(block.height for block in blocks),
        draw=draw,
        shortened=any(block.shortened for block in blocks),
    )


def gathered(blocks: Sequence[Block]) -> list[Block]:
    """The blocks, to share a page where one has the room."""
    first, *rest = blocks
    return [replace(first, group=sum(block.height for block in blocks)), *rest]


def lay_out(blocks: Sequence[Block], room: Callable[[int], float]) -> tuple[Laid, ...]:
    """Place blocks on pages with `room` millimetres each (pages counted from 1).

    Law: every block, or every part of it, stands on exactly one page, in order, inside the room.
    """
    pages: list[list[tuple[Block, float]]] = [[]]
    used = 0.0
    waiting = list(blocks)
    while waiting:
        block = waiting[0]
        free = room(len(pages)) - used
        if pages[-1] and free < block.group <= room(len(pages) + 1):
            pages.append([])
            used = 0.0
            continue
        if _chain(waiting) <= free or (not pages[-1] and block.height <= free):
            waiting.pop(0)
            pages[-1].append((block, used))
            used += block.height
        elif not pages[-1] and block.parts is not None:
            waiting[:1] = block.parts(free)
        elif not pages[-1]:
            raise ValueError(f"a block of {block.height:.0f} mm fits no page and has no parts")
        else:
            pages.append([])
            used = 0.0
    return tuple(_stretched(page, room(number)) for number, page in enumerate(pages, start=1))


def _chain(waiting: Sequence[Block]) -> float:
    """Height of the first block and of those that must stand with it."""
    height = 0.0
    for block in waiting:
        height += block.height
        if not block.keep:
            break
    return height


def _stretched(page: list[tuple[Block, float]], room: float) -> Laid:
    if not page:
        return ()
    last, top = page[-1]
    spare = room - top - last.height
    laid: list[tuple[Block, float]] = []
    moved = 0.0
    for block, place in page:
        grown = block
        if block.stretch is not None and spare > 0:
            grown = block.stretch(block.height + spare)
            spare = 0.0
        laid.append((grown, place + moved))
        moved += grown.height - block.height
    return tuple(laid)


def pages_needed(blocks: Sequence[Block], frame: Frame) -> int:
    """On how many pages these blocks would stand."""
    return len(lay_out(blocks, _room(blocks, frame)))


def _room(blocks: Sequence[Block], frame: Frame) -> Callable[[int], float]:
    """Millimetres between head and foot, by page."""
    shortened = frame.head(1).shortened or any(block.shortened for block in blocks)
    foot_height = frame.foot(Folio(1, 1, shortened)).height
    inside = frame.size.height - 2 * frame.margin - foot_height
    return lambda number: inside - frame.head(number).height


def print_blocks(surface: Surface, blocks: Sequence[Block], frame: Frame, mark: str) -> int:
    """Draw a sheet of as many pages as it needs; returns how many. `mark`: its bookmark."""
    top, bottom = frame.margin, frame.size.height - frame.margin
    shortened = frame.head(1).shortened or any(block.shortened for block in blocks)
    pages = lay_out(blocks, _room(blocks, frame))
    for number, page in enumerate(pages, start=1):
        surface.page(frame.size)
        if number == 1:
            surface.mark(mark, 0)
        head = frame.head(number)
        head.draw(surface, frame.margin, top)
        for block, place in page:
            block.draw(surface, frame.margin, top + head.height + place)
        foot = frame.foot(Folio(number, len(pages), shortened))
        foot.draw(surface, frame.margin, bottom - foot.height)
    return len(pages)
