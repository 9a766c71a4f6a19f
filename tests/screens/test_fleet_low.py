"""A low window with large letters: the list first, the rest a press away; out again, or not."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QDate, Qt
from PySide6.QtWidgets import QDateEdit, QLineEdit

from app.pieces import look
from tests.screens.conftest import Shed

LOW = (1024, 640)


@pytest.fixture
def large(shed: Shed) -> Iterator[Shed]:
    for name in ("Red one", "Blue one", "Green one"):
        shed.act("add")
        shed.fill(kind="K02", name=name, came_on=QDate(2024, 4, 2))
        assert shed.keep() == ""
        shed.put_by()
    shed.window.show_whose("Shed", made_up=True)
    look.apply(look.program(), look.LIGHT, scale=2.0)
    shed.view.restyle()
    shed.window.resize(*LOW)
    shed.bot.wait(1)
    yield shed
    look.apply(look.program(), look.LIGHT)


def test_two_machines_and_every_button_in_a_low_room(large: Shed) -> None:
    view, table = large.view, large.view.machine_table
    assert (large.window.width(), large.window.height()) == LOW
    table.scrollToTop()
    room = table.viewport().height()
    ends = [table.rowViewportPosition(row) + table.rowHeight(row) for row in range(3)]
    assert sum(end <= room for end in ends) >= 2, (room, ends)
    assert large.window.banner.height() < 2 * large.window.banner.fontMetrics().lineSpacing()
    large.bot.mouseClick(view.fold.button, Qt.MouseButton.LeftButton)
    large.bot.wait(1)
    assert large.window.height() <= LOW[1]
    assert view.headline.isVisible()
    assert view.headline.height() >= view.headline.heightForWidth(view.headline.width())
    asked = (*view.time.buttons.values(), view.filters.search, view.filters.more)
    for widget in asked:
        assert widget.isVisible()
        assert view.rect().contains(widget.mapTo(view, widget.rect().bottomRight()))
    large.bot.keyClick(view.filters.search, Qt.Key.Key_Down)
    assert table.isVisible()
    large.window.actions_by_name["find"].trigger()
    large.bot.keyClicks(view.filters.search, "blue")
    large.bot.keyClick(view.filters.search, Qt.Key.Key_Return)
    assert [row.name for row in view.machines.rows] == ["Blue one"]
    assert table.isVisible()


def test_a_day_does_not_touch_the_edge_of_its_field(shed: Shed) -> None:
    shed.act("add")
    field = shed.form.widget("came_on")
    assert isinstance(field, QDateEdit)
    inner = field.findChild(QLineEdit)
    assert isinstance(inner, QLineEdit)
    assert inner.textMargins().left() >= look.GAP


@pytest.mark.parametrize("act", ["hours", "use"])
def test_one_that_is_put_away_and_ran_is_asked_after(shed: Shed, act: str) -> None:
    shed.act("add")
    shed.fill(kind="K04", name="Green one", past="new", came_on=QDate(2024, 4, 2))
    assert shed.keep() == ""
    shed.put_by()
    shed.act("store")
    assert shed.keep() == ""
    shed.act(act)
    shed.fill(**({"shown": "41.5"} if act == "hours" else {"run": "0.5"}))
    assert shed.keep() == ""
    assert shed.form.page.key == "out_again"
    shed.pick("out")
    assert shed.open_form is None
    shed.act("store")
    assert shed.form.page.key == "store"
