from __future__ import annotations

import math
from importlib.resources import files

import pytest

from app.sheets.figures import GRID, Go, circle, icon, placed, read_path
from resources.loader import load_catalogue

NAMES = sorted(
    entry.name.removesuffix(".svg")
    for entry in files("resources").joinpath("icons").iterdir()
    if entry.name.endswith(".svg")
)


@pytest.mark.parametrize("name", NAMES)
def test_every_icon_can_be_drawn_inside_its_grid(name: str):
    strokes = icon(name)
    assert strokes
    for stroke in strokes:
        for _, numbers in stroke.path:
            assert all(0 <= number <= GRID for number in numbers)


def test_every_kind_of_machine_has_an_icon():
    kinds = {f"k{number:02}" for number in range(1, 19)}
    assert kinds <= set(NAMES)
    assert {kind.icon for kind in load_catalogue().kinds.values()} <= set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_what_bites_is_solid(name: str):
    # The acts *clean* and *drain* hold nothing that cuts.
    assert name in {"act-clean", "act-drain"} or any(stroke.solid for stroke in icon(name))


def test_an_unknown_icon_draws_nothing():
    assert icon("k99") == ()
    assert icon("../sources") == ()


def test_lines_curves_and_closing_are_read():
    assert read_path("M1 2l3-1H9v2.5z") == (
        (Go.MOVE, (1, 2)),
        (Go.LINE, (4, 1)),
        (Go.LINE, (9, 1)),
        (Go.LINE, (9, 3.5)),
        (Go.CLOSE, ()),
    )


def test_numbers_that_touch_are_parted():
    assert read_path("M.5.5-1-2") == ((Go.MOVE, (0.5, 0.5)), (Go.LINE, (-1, -2)))


@pytest.mark.parametrize(("large", "sweep"), [(0, 0), (0, 1), (1, 0), (1, 1)])
def test_an_arc_ends_where_it_should_and_keeps_its_radius(large: int, sweep: int):
    steps = read_path(f"M10 10A5 5 0 {large} {sweep} 13 14")
    assert steps[-1][1][-2:] == pytest.approx((13, 14))
    turn = (len(steps) - 1) * math.pi / 2
    assert (turn > math.pi) == bool(large)


@pytest.mark.parametrize("text", ["M1 2 Q3 4 5 6", "M1 2 S1 2 3 4", "M1;2"])
def test_what_we_do_not_draw_is_refused(text: str):
    with pytest.raises(ValueError, match="no path"):
        read_path(text)


def test_a_placed_path_is_moved_and_enlarged():
    moved = placed(circle(0, 0, 1), 10, 20, 2)
    assert moved[0] == (Go.MOVE, (12, 20))
