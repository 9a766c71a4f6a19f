"""The first ten minutes, counted: from an empty shed to a machine with a plan, and back."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QWidget

from app.faults.view import FaultView
from app.pieces import look
from app.pieces.tiles import Picks, Tile, Tiles
from models.facts.searches import read_searches
from tests.conftest import TODAY
from tests.screens.conftest import Shed

MOST_CLICKS = 12


class Counter(QObject):
    """Counts presses of the mouse, wherever they land."""

    def __init__(self) -> None:
        super().__init__()
        self.clicks = 0

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.MouseButtonPress and watched.isWidgetType():
            self.clicks += 1
        return False


@pytest.fixture
def counter() -> Iterator[Counter]:
    counter = Counter()
    look.program().installEventFilter(counter)
    yield counter
    look.program().removeEventFilter(counter)


def click(shed: Shed, widget: QWidget) -> None:
    shed.bot.waitUntil(widget.isVisible)
    shed.bot.mouseClick(widget, Qt.MouseButton.LeftButton)


def tile(shed: Shed, field: str, value: str) -> Tile:
    tiles = shed.form.widget(field)
    assert isinstance(tiles, Tiles)
    return next(one for one in tiles.tiles if one.value == value)


def way(shed: Shed, value: str) -> QWidget:
    picks = shed.form.widget("way")
    assert isinstance(picks, Picks)
    return next(one for one in picks.buttons if one.property("value") == value)


def answer(shed: Shed, kind: str, name: str) -> None:
    click(shed, tile(shed, "kind", kind))
    field = shed.form.widget("name")
    assert isinstance(field, QLineEdit)
    click(shed, field)
    shed.bot.keyClicks(field, name)
    click(shed, tile(shed, "past", "unknown"))
    click(shed, tile(shed, "ran", "years"))
    click(shed, tile(shed, "fuel_left", "dont_know"))
    click(shed, shed.form.done_button)


def test_one_machine_that_runs_has_its_plan_in_a_few_clicks(shed: Shed, counter: Counter) -> None:
    click(shed, shed.view.first_button)
    answer(shed, "K02", "Red one")
    click(shed, way(shed, "look"))
    room = shed.window.machine_view
    assert room.name.text() == "Red one"
    assert "28 things" in room.going_over.text()
    assert len(room.tasks.rows) > 20
    assert 0 < counter.clicks <= MOST_CLICKS, counter.clicks


def test_one_that_will_not_start_leads_to_the_first_thing_to_look_at(
    shed: Shed, counter: Counter
) -> None:
    click(shed, shed.view.first_button)
    answer(shed, "K02", "Red one")
    click(shed, way(shed, "find_why-years"))
    room = shed.window.rooms.currentWidget()
    assert isinstance(room, FaultView)
    form = room.form
    assert form is not None
    assert form.answers()["Q-PARK"] == "years"  # said a page before, not asked again
    for question in ("Q-COUGH", "Q-SMELL", "Q-CORD"):
        tiles = form.widget(question)
        assert isinstance(tiles, Tiles)
        click(shed, tiles.tiles[0])
    click(shed, form.done_button)
    assert room.card.isVisible()
    assert counter.clicks <= MOST_CLICKS, counter.clicks
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        (search,) = read_searches(session, on=TODAY, machine_id=1)
        faults = session.connection().exec_driver_sql("SELECT text FROM fault").scalars().all()
    seen = {one.subject: one.answer for one in search.steps}
    assert seen["Q-PARK"] == "years"
    assert faults == ["Four-stroke engine will not start"]


def test_what_was_said_only_in_part_is_asked_only_for_the_rest(shed: Shed) -> None:
    shed.act("add")
    shed.fill(kind="K01", ran="lately", fuel_left="yes")
    shed.keep()
    shed.pick("find_why-quit,days")
    room = shed.window.rooms.currentWidget()
    assert isinstance(room, FaultView)
    assert room.form is not None
    tiles = room.form.widget("Q-PARK")
    assert isinstance(tiles, Tiles)
    assert [one.value for one in tiles.tiles] == ["quit", "days", ""]
    assert room.form.answers()["Q-PARK"] == ""


def test_nine_wrecks_one_after_another(shed: Shed, counter: Counter) -> None:
    click(shed, shed.view.first_button)
    for number in range(9):
        answer(shed, f"K{number + 1:02}", f"Wreck {number + 1}")
        click(shed, way(shed, "add"))
    shed.put_by()
    shed.bot.waitUntil(lambda: len(shed.view.machines.rows) == 9, timeout=30_000)
    assert counter.clicks <= 9 * 8


def test_by_keys_alone(shed: Shed) -> None:
    shed.window.activateWindow()
    shed.bot.waitUntil(shed.window.isActiveWindow)
    shed.window.actions_by_name["add"].trigger()
    shed.bot.waitUntil(lambda: tile(shed, "kind", "K02").x() > 0)

    def focus() -> QWidget:
        widget = look.program().focusWidget()
        assert widget is not None
        return widget

    assert focus() is tile(shed, "kind", "K01")
    QTest.keyClick(focus(), Qt.Key.Key_Space)
    QTest.keyClick(focus(), Qt.Key.Key_Right)
    QTest.keyClick(focus(), Qt.Key.Key_Tab)
    QTest.keyClicks(focus(), "Red one")
    QTest.keyClick(focus(), Qt.Key.Key_Return)
    assert shed.form.page.key == "what_now"
    QTest.keyClick(focus(), Qt.Key.Key_Tab)
    QTest.keyClick(focus(), Qt.Key.Key_Return)
    room = shed.window.machine_view
    assert shed.window.rooms.currentWidget() is room
    assert room.where.text().startswith("two-stage snow thrower")


def test_the_made_up_shed_is_a_click_away_and_a_click_gone(shed: Shed, counter: Counter) -> None:
    before = shed.path.read_bytes()
    click(shed, shed.view.sample_button)
    assert shed.view.waiting.isVisible()  # in words
    shed.bot.waitUntil(lambda: len(shed.view.machines.rows) == 12, timeout=60_000)
    assert not shed.view.waiting.isVisible()
    assert shed.window.banner.isVisible()
    assert counter.clicks == 1
    click(shed, shed.window.home_button)
    assert counter.clicks == 2
    assert shed.path.read_bytes() == before
    shed.bot.waitUntil(shed.view.first_button.isVisible)
