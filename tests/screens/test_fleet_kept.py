"""After an entry: one calm line, the machine in sight; one count; mended where it is broken."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QDate, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QScrollArea

from app.pieces import look
from app.pieces.tiles import Tiles
from schedules.facts import MachineState
from tests.conftest import TODAY
from tests.screens.conftest import Shed

THINGS = "28 things"


def day(text: str) -> QDate:
    return QDate.fromString(text, "yyyy-MM-dd")


def add(shed: Shed, **more: object) -> None:
    shed.act("add")
    shed.fill(**{"kind": "K02", "name": "Red one", "came_on": day("2024-04-02"), **more})
    assert shed.keep() == ""
    shed.put_by()


def several(shed: Shed, count: int = 12) -> None:
    shed.stand(*(f"Machine {number:02}" for number in range(1, count + 1)))
    shed.bot.waitUntil(lambda: len(shed.view.machines.rows) == count)


def in_sight(shed: Shed) -> bool:
    table = shed.view.machine_table
    top = table.rowViewportPosition(table.row())
    return top >= 0 and top + table.rowHeight(table.row()) <= table.viewport().height() + 1


def test_what_was_kept_is_said_calmly_with_the_key_that_takes_it_back(shed: Shed) -> None:
    add(shed)
    shed.act("hours")
    shed.fill(shown="41.5")
    assert shed.keep() == ""
    notice = shed.view.notice
    assert notice.text() == "Kept for Red one: hours read. Ctrl+Z takes it back."
    assert notice.property("role") == "head"
    shed.window.actions_by_name["undo"].trigger()
    assert notice.text().startswith("Taken back: hours read: Red one.")
    assert notice.text().endswith("enters it again.")
    shed.window.actions_by_name["undo"].trigger()
    shed.window.actions_by_name["undo"].trigger()
    assert "machine" in notice.text()


def test_it_is_said_in_the_room_of_the_machine_too(shed: Shed) -> None:
    add(shed)
    shed.window.actions_by_name["machine"].trigger()
    shed.act("hours")
    shed.fill(shown="41.5")
    assert shed.keep() == ""
    notice = shed.window.machine_view.notice
    assert notice.isVisible()
    assert notice.property("role") == "head"
    assert "Ctrl+Z" in notice.text()


@pytest.mark.parametrize("size", [(1024, 640), (1440, 900)])
def test_the_machine_entered_is_the_one_in_sight(shed: Shed, size: tuple[int, int]) -> None:
    shed.window.resize(*size)
    several(shed)
    table = shed.view.machine_table
    for row in (11, 0):
        table.selectRow(row)
        name = shed.view.machines.rows[row].name
        form = shed.act("use")
        assert form.findChildren(type(shed.view.notice))[0].text() == f"It was used · {name}"
        shed.fill(run="0.5")
        assert shed.keep() == ""
        shed.bot.wait(1)
        line = table.line(table.row())
        assert line is not None
        assert line.name == name
        assert in_sight(shed)
    shed.act("line")
    shed.fill(line="machine 12 ran 0.8 h yesterday")
    assert shed.keep() == ""
    shed.bot.wait(1)
    line = table.line(table.row())
    assert line is not None
    assert line.name == "Machine 12"
    assert in_sight(shed)


def test_what_is_left_of_the_first_going_over_is_counted_once(shed: Shed) -> None:
    shed.act("add")
    shed.fill(kind="K02", name="Red one")
    assert shed.keep() == ""
    assert THINGS in shed.form.page.lead
    shed.put_by()
    assert THINGS in shed.view.headline.text()
    row = shed.view.machines.rows[0]
    assert row.ground_text == f"first going-over: {THINGS}"
    assert THINGS in shed.room.going_over.text()
    assert THINGS in shed.room.standing.text()


def test_a_fault_is_put_right_from_the_row_it_stands_in(shed: Shed) -> None:
    add(shed)
    strip = shed.view.strip
    assert not strip.mended.isVisible()
    shed.window.actions_by_name["mended"].trigger()
    assert shed.view.notice.text() == "Nothing is noted as wrong with Red one."
    for text in ("chute is bent", "pin is gone"):
        shed.act("note_fault")
        shed.fill(text=text, stops_use=True)
        assert shed.keep() == ""
    assert shed.view.machines.rows[0].state is MachineState.DOWN
    for left in ("chute is bent", "pin is gone"):
        assert strip.mended.isVisible()
        shed.bot.wait(1)  # it gets its place
        shed.bot.mouseClick(strip.mended, Qt.MouseButton.LeftButton)
        tiles = shed.form.widget("fault")
        assert isinstance(tiles, Tiles)
        if len(tiles.tiles) > 1:
            assert "Press" in shed.keep()
            tiles.choose(next(tile.value for tile in tiles.tiles if tile.text() == left))
        shed.fill(text="bent back")
        assert shed.keep() == ""
    assert not strip.mended.isVisible()
    assert shed.view.machines.rows[0].state is not MachineState.DOWN


def test_a_refusal_brings_its_field_in_sight_before_any_key_answers_it(shed: Shed) -> None:
    shed.window.resize(1024, 640)
    shed.window.activateWindow()
    shed.bot.waitUntil(shed.window.isActiveWindow)
    form = shed.act("add")
    form.later_button.click()
    shed.bot.wait(1)
    form.widget("spot").setFocus()
    area = next(iter(form.findChildren(QScrollArea)))
    area.verticalScrollBar().setValue(area.verticalScrollBar().maximum())
    QTest.keyClick(form.widget("spot"), Qt.Key.Key_Return)
    assert "picture" in shed.said()
    tiles = form.widget("kind")
    assert isinstance(tiles, Tiles)
    focused = look.program().focusWidget()
    assert focused is tiles.tiles[0]
    for seen in (tiles.tiles[0], form._refusals["kind"]):
        top = seen.mapTo(area.viewport(), QPoint(0, 0)).y()
        assert top >= 0
        assert top + seen.height() <= area.viewport().height()
    assert tiles.value() == ""


def test_a_use_on_the_day_it_came_is_never_lost_silently(shed: Shed) -> None:
    add(shed, came_on=QDate(TODAY.year, TODAY.month, TODAY.day))
    shed.act("use")
    shed.fill(run="0.8")
    assert shed.keep() == ""
    assert shed.form.page.key == "first_day"
    assert "would add no hours" in shed.form.page.lead
    shed.pick("earlier")
    assert shed.form.page.key == "came"
    assert shed.keep() == ""
    assert shed.form.page.key == "use"
    assert shed.form.answers()["run"] == "0.8"
    assert shed.keep() == ""
    assert shed.open_form is None
    assert "0.8" in shed.room.hours.text()


def test_it_may_be_noted_without_hours(shed: Shed) -> None:
    add(shed, came_on=QDate(TODAY.year, TODAY.month, TODAY.day))
    shed.act("use")
    assert shed.keep() == ""
    shed.pick("keep")
    assert shed.open_form is None
    assert any(row.area == "uses" for row in shed.room.records.rows)


def test_a_measurement_says_at_once_what_it_means(shed: Shed) -> None:
    add(shed, kind="K01")
    form = shed.act("measure")
    chooser = form.widget("limit")
    assert isinstance(chooser, QComboBox)
    values = [str(chooser.itemData(place)) for place in range(chooser.count())]
    bar = next(one for one in values if one.endswith("|L14"))
    shed.fill(limit=bar, found="12 mm")
    assert shed.keep() == ""
    said = shed.view.notice.text().replace("\u00a0", " ")
    assert "12 mm. Worn when:" in said
    assert "It is not so far yet." in said
    shed.act("measure")
    shed.fill(limit=bar, found="0.1 mm")
    assert shed.keep() == ""
    assert "that is past its limit" in shed.view.notice.text()
