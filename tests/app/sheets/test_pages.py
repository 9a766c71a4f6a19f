from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.sheets.pages import Block, air, gathered, lay_out
from app.sheets.pieces import text_block, writing_lines

ROOM = 100.0


def block(height: float, *, keep: bool = False) -> Block:
    return Block(height=height, draw=lambda _surface, _left, _top: None, keep=keep)


def room(_page: int) -> float:
    return ROOM


@given(st.lists(st.tuples(st.floats(min_value=0.5, max_value=ROOM), st.booleans()), max_size=40))
def test_every_block_stands_once_in_order_inside_its_page(rows: list[tuple[float, bool]]):
    blocks = [block(height, keep=keep) for height, keep in rows]
    laid = lay_out(blocks, room)
    assert [id(part) for page in laid for part, _ in page] == [id(part) for part in blocks]
    for page in laid:
        below = 0.0
        for part, top in page:
            assert top >= below - 1e-6
            below = top + part.height
        assert below <= ROOM + 1e-6


def test_a_head_goes_with_what_it_heads():
    laid = lay_out([block(90), block(5, keep=True), block(20)], room)
    assert [len(page) for page in laid] == [1, 2]


def test_what_fills_a_page_alone_does_not_wait_for_ever():
    laid = lay_out([block(80, keep=True), block(80, keep=True), block(80)], room)
    assert [len(page) for page in laid] == [1, 1, 1]


def test_a_stage_moves_to_a_page_of_its_own_when_that_holds_it():
    stage = gathered([block(20), block(20), block(20)])
    assert [len(page) for page in lay_out([block(60), *stage], room)] == [1, 3]
    large = gathered([block(60), block(60)])
    assert [len(page) for page in lay_out([block(30), *large], room)] == [2, 1]


def test_a_text_longer_than_a_page_goes_on():
    long = text_block("word " * 4000, text_style(), 100)
    laid = lay_out([block(50), long], room)
    assert len(laid) > 2
    assert all(top + part.height <= ROOM + 1e-6 for page in laid for part, top in page)


def test_what_fits_no_page_is_refused():
    with pytest.raises(ValueError, match="fits no page"):
        lay_out([block(ROOM + 1)], room)


def test_lines_to_write_on_take_what_is_left():
    laid = lay_out([block(40), writing_lines(2, 50, pitch=9, most=12), air(2)], room)
    (page,) = laid
    assert page[1][0].height == pytest.approx(54)
    assert page[2][1] + 2 <= ROOM


def text_style():
    from app.sheets.pieces import BODY

    return BODY
