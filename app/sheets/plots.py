"""Courses of wear as a block of a page, side by side."""

from __future__ import annotations

from collections.abc import Sequence

from app.sheets.pages import Block
from app.sheets.plot import PlotRows, draw_plot
from app.sheets.surface import Surface

_GAP = 4.0


def plots_block(plots: Sequence[PlotRows], width: float, height: float) -> Block:
    """All of them in one row of so many millimetres."""
    column = (width - _GAP * (len(plots) - 1)) / len(plots)

    def draw(surface: Surface, left: float, top: float) -> None:
        for place, rows in enumerate(plots):
            x = left + place * (column + _GAP)
            draw_plot(surface, rows, left=x, top=top, width=column, height=height)

    return Block(height=height, draw=draw)
