"""Every look can be read: contrast reckoned and measured on what is painted, rooms whole at twice
the size."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest
from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QAction, QColor, QImage
from PySide6.QtWidgets import QAbstractButton, QLabel, QScrollArea, QToolButton, QWidget

from app.fleet.machines import YEAR_COLUMN
from app.fuel.view import FuelView
from app.pieces import look
from app.pieces.drawn import LETTERS, Chart
from app.pieces.leaf import Leaf
from app.season.view import SeasonView
from tests.screens.conftest import Shed
from tests.screens.test_season_room import bring

GROUNDS = ("paper", "sheet", "ledge", "wash")
TEXTS = ("ink", "pencil", "blue", "spruce", "ochre", "madder")
LEAST_TEXT, LEAST_MARK = 7.0, 3.0


def _light(colour: QColor) -> float:
    """Relative luminance (WCAG 2.2)."""

    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(part) for part in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: QColor, other: QColor) -> float:
    lights = sorted((_light(one), _light(other)))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


@pytest.mark.parametrize("name", look.LOOKS)
def test_every_text_and_mark_stands_out_from_every_ground(name: str) -> None:
    colours = look.LOOKS[name]
    for ground, text in product(GROUNDS, TEXTS):
        found = contrast(colours.colour(ground), colours.colour(text))
        assert found >= LEAST_TEXT, (ground, text)
    for ground in GROUNDS:
        assert contrast(colours.colour(ground), colours.colour("rule")) >= LEAST_MARK, ground
    assert contrast(colours.colour("ink"), colours.colour("sheet")) >= LEAST_TEXT


def test_the_room_never_asks_for_more_width_than_a_small_screen_has(shed: Shed) -> None:
    for scale in (1.0, 1.5, 2.0):
        look.apply(look.program(), look.LIGHT, scale=scale)
        shed.view.restyle()
        shed.bot.wait(1)
        assert shed.window.minimumSizeHint().width() <= 1366, scale
    look.apply(look.program(), look.LIGHT)


def _dress(shed: Shed, name: str, scale: float = 1.0) -> None:
    for action in shed.window.findChildren(QAction):
        if action.data() in (("look", name), ("scale", str(scale))):
            action.trigger()


def _painted(picture: QImage, room: QRect) -> tuple[QColor, QColor]:
    """The ground of a part of the picture, and the colour on it that stands out most."""
    part = picture.copy(room).convertToFormat(QImage.Format.Format_RGB32)
    found = Counter(memoryview(part.constBits()).cast("I"))
    ground = QColor.fromRgb(found.most_common(1)[0][0])
    others = (QColor.fromRgb(one) for one, times in found.items() if times > 1)
    return ground, max(others, key=lambda one: contrast(ground, one))


def _words(room: QWidget) -> list[QLabel | QAbstractButton]:
    """Whatever says something and is seen whole."""
    found = [*room.findChildren(QLabel), *room.findChildren(QAbstractButton)]
    return [
        one
        for one in found
        if one.isVisible() and one.text() and one.visibleRegion().boundingRect() == one.rect()
    ]


@pytest.mark.parametrize("name", look.LOOKS)
def test_words_and_marks_stand_out_as_they_are_painted(shed: Shed, name: str) -> None:
    bring(shed, "K02", "Red one")
    _dress(shed, name)
    window, table = shed.window, shed.view.machine_table
    for way in ("fleet", "machine"):
        window.actions_by_name[way].trigger()
        shed.bot.wait(1)
        picture, words = window.grab().toImage(), _words(window)
        assert len(words) > 5, way
        for one in words:
            room = QRect(one.mapTo(window, QPoint()), one.size())
            inside = 4 if isinstance(one, QAbstractButton) else 0  # a frame is no letter
            ground, ink = _painted(picture, room.adjusted(inside, inside, -inside, -inside))
            assert contrast(ground, ink) >= LEAST_TEXT, (way, one.text())
    window.actions_by_name["fleet"].trigger()
    shed.bot.wait(1)
    picture, cell = (
        table.viewport().grab().toImage(),
        table.visualRect(table.model().index(0, YEAR_COLUMN)),
    )
    half, marks = look.PEG, table.pegs()
    assert marks
    for peg in marks:
        at = QRect(cell.left() + round(peg.x) - half, cell.top(), 2 * half, cell.height())
        assert contrast(*_painted(picture, at.intersected(cell))) >= LEAST_MARK, peg
    _dress(shed, "light")


def test_a_low_room_with_large_letters_still_shows_work(shed: Shed) -> None:
    bring(shed, "K02", "Red one")
    _dress(shed, "light", 2.0)
    shed.window.resize(1024, 640)
    shed.window.actions_by_name["machine"].trigger()
    shed.bot.wait(1)
    room = shed.window.machine_view
    table = room.task_table
    seen = table.viewport().visibleRegion().boundingRect()
    assert seen.height() >= table.fontMetrics().height()
    assert table.height() >= 2 * table.rowHeight(0)  # the room scrolls; the list has rows in it
    assert room.standing.text()
    _dress(shed, "light")
    shed.window.resize(1440, 900)
    shed.bot.wait(1)
    assert room.standing.isVisible()
    assert not room.standing.visibleRegion().isEmpty()


def test_a_small_room_with_large_letters_cuts_neither_menus_nor_answers(shed: Shed) -> None:
    bring(shed, "K02", "Red one")
    window = shed.window
    window.show_whose("The shed behind the house at Larkmere", made_up=False)
    _dress(shed, "light", 2.0)
    window.resize(1024, 640)
    window.actions_by_name["season"].trigger()
    shed.bot.wait(1)
    more = window.menuBar().findChild(QToolButton, "qt_menubar_ext_button")
    assert more is None or not more.isVisible()  # every menu stands there
    room = window.rooms.currentWidget()
    assert isinstance(room, SeasonView)
    boxes = [box for choice in room.choices.values() for box in choice.choices.values()]
    assert boxes
    for box in boxes:
        assert box.width() >= box.sizeHint().width(), box.currentText()
    window.actions_by_name["fuel_room"].trigger()
    shed.bot.wait(1)
    fuel = window.rooms.currentWidget()
    assert isinstance(fuel, FuelView)
    for side in (fuel.lists, fuel.detail):
        assert 2 * side.height() > fuel.height(), side
    _dress(shed, "light")
    window.resize(1440, 900)
    shed.bot.wait(1)
    assert window.whose.isVisible()


def test_a_leaf_wraps_and_a_chart_keeps_its_letters_however_large_they_are(shed: Shed) -> None:
    for scale in (1.0, 2.0):
        _dress(shed, "light", scale)
        shed.window.actions_by_name["help_year"].trigger()
        leaf = shed.window.findChildren(Leaf)[-1]
        area = leaf.findChildren(QScrollArea)[0]
        shed.bot.wait(1)
        assert area.horizontalScrollBar().maximum() == 0, scale
        leaf.close()
        chart, told = Chart(90), list[float]()
        shed.bot.addWidget(chart)
        chart.show_chart(lambda _surface, width, told=told: told.append(width), "")
        for width in (700, 2400):
            chart.resize(width, chart.heightForWidth(width))
            chart.grab()
            assert chart.height() <= 90 * LETTERS * scale
        assert told[-2] < told[-1]
    _dress(shed, "light")
