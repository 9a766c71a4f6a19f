"""The machine room used by hand: plates, questions, figures of the manual, back again."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QDate, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QListWidget, QPushButton, QWidget

from app.machine.state import FigureLine
from app.machine.view import MachineView
from app.pieces import look
from app.pieces.nameplate import NamePlate
from tests.screens.conftest import Shed, put
from tests.screens.test_entry import add


def enter(shed: Shed, **more: object) -> MachineView:
    """Add a machine and go into its room by what was answered."""
    add(shed, **more)
    shed.pick("look")
    room = shed.window.machine_view
    assert shed.window.rooms.currentWidget() is room
    return room


def keep(shed: Shed, room: MachineView) -> str:
    form = room.form
    assert form is not None
    shed.bot.mouseClick(form.done_button, Qt.MouseButton.LeftButton)
    if room.form is None:
        return ""
    return " ".join(label.text() for label in form._refusals.values() if label.text())


def act(shed: Shed, room: MachineView, name: str, **answers: object) -> None:
    room.actWanted.emit(name)
    assert room.form is not None, room.notice.text()
    for field, value in answers.items():
        put(shed.bot, room.form.widget(field), value)


def small(room: MachineView) -> list[str]:
    """Buttons that are too small to be hit, or for their words."""
    return [
        button.text()
        for button in room.findChildren(QPushButton)
        if button.isVisible()
        and (
            button.height() < 44
            or button.width() < button.fontMetrics().horizontalAdvance(button.text())
        )
    ]


def figures(room: MachineView, task: str) -> tuple[FigureLine, ...]:
    assert room._state is not None
    return room._state.figures[task]


def test_machine_and_engine_have_a_plate_each(shed: Shed) -> None:
    room = enter(shed)
    plates = room.findChildren(NamePlate)
    assert [plate.accessibleName() for plate in plates] == ["The machine", "Engine"]
    assert "Not read yet: Maker, Model" in plates[1].accessibleDescription()
    shed.bot.mouseClick(plates[1].fill_button, Qt.MouseButton.LeftButton)
    assert room.form is not None
    put(shed.bot, room.form.widget("model"), "V 208")
    assert keep(shed, room) == ""
    assert "Model: V 208" in room.findChildren(NamePlate)[1].accessibleDescription()


def test_hours_say_what_they_rest_on(shed: Shed) -> None:
    room = enter(shed)
    assert "no meter was read yet" in room.hours_ground.text()
    act(shed, room, "hours", shown="31.4", day=QDate(2025, 10, 10))
    assert keep(shed, room) == ""
    assert "10 Oct 2025" in room.hours_ground.text()


def test_a_feature_is_asked_once(shed: Shed) -> None:
    room = enter(shed)
    answers = [
        button for button in room.findChildren(QPushButton) if button.property("answer") is not None
    ]
    assert answers
    asked = answers[0].property("answer")[0]
    shed.bot.mouseClick(answers[0], Qt.MouseButton.LeftButton)
    left = [
        button.property("answer")[0]
        for button in room.findChildren(QPushButton)
        if button.property("answer") is not None
    ]
    assert asked not in left
    act(shed, room, "built", **{asked: "not-sure"})
    assert keep(shed, room) == ""


def test_the_machines_own_manual_stands_in_the_catalogues_place(shed: Shed) -> None:
    room = enter(shed)
    keys = [task.key for task in room.tasks.rows]
    room.task_table.choose(keys.index("E4-02"))
    assert any("Hours between" in each.name for each in figures(room, "E4-02"))
    act(shed, room, "figure-E4-02/E4-02|run_seconds", value="abc", page="14")
    assert "h" in keep(shed, room)
    assert room.form is not None
    put(shed.bot, room.form.widget("value"), "25 h")
    assert keep(shed, room) == ""
    figure = next(f for f in figures(room, "E4-02") if f.key == "E4-02|run_seconds")
    assert (figure.whose, figure.amount.replace("\u00a0", " ")) == ("your manual, page 14", "25 h")
    act(shed, room, "figure-E4-02/E4-02|run_seconds", way="back")
    assert keep(shed, room) == ""
    figure = next(f for f in figures(room, "E4-02") if f.key == "E4-02|run_seconds")
    assert "manual" not in figure.whose


def test_the_looks_are_entered_in_one_go(shed: Shed) -> None:
    room = enter(shed)
    assert "28 things" in room.going_over.text()
    act(shed, room, "looks")
    assert keep(shed, room) == "Tick at least one thing."  # nobody has looked at anything yet
    assert room.form is not None
    tasks = room.form.widget("tasks")
    assert isinstance(tasks, QListWidget)
    codes = [tasks.item(row).data(Qt.ItemDataRole.UserRole) for row in range(19)]
    put(shed.bot, tasks, tuple(codes))
    assert keep(shed, room) == ""
    assert not room.going_over.isVisible()


def test_what_is_waited_for_stands_on_the_bench(shed: Shed) -> None:
    room = enter(shed)
    act(shed, room, "job", text="new belt", waits_for="the belt from the mill shop")
    assert keep(shed, room) == ""
    assert "waiting for the belt from the mill shop: new belt" in room.waiting.text()


def test_menus_act_on_the_machine_that_is_open_and_escape_goes_back(shed: Shed) -> None:
    room = enter(shed)
    shed.window.actions_by_name["note_fault"].trigger()
    assert room.form is not None
    assert room.form.page.key == "fault"
    shed.bot.keyClick(room.form, Qt.Key.Key_Escape)
    assert room.form is None
    shed.bot.keyClick(room, Qt.Key.Key_Escape)
    assert shed.window.rooms.currentWidget() is shed.view
    shed.window.actions_by_name["machine"].trigger()
    assert shed.window.rooms.currentWidget() is room


def test_a_machine_that_is_gone_leaves_its_room(shed: Shed) -> None:
    room = enter(shed)
    act(shed, room, "gone")
    assert keep(shed, room) == ""
    assert shed.window.rooms.currentWidget() is shed.view


@pytest.mark.long
def test_everything_is_named_large_enough_and_whole_at_twice_the_size(shed: Shed) -> None:
    room = enter(shed)
    for look_in_force, scale in ((look.LIGHT, 1.0), (look.DARK, 1.0), (look.LIGHT, 2.0)):
        look.apply(look.program(), look_in_force, scale=scale)
        room.restyle()
        for widget in room.findChildren(QWidget):
            if not widget.isVisible() or widget.focusPolicy() == Qt.FocusPolicy.NoFocus:
                continue
            face = QAccessible.queryAccessibleInterface(widget)
            if face is None or widget.objectName().startswith("qt_"):
                continue
            assert face.text(QAccessible.Text.Name) or widget.accessibleName(), widget
        shed.bot.waitUntil(lambda: not small(room))
    look.apply(look.program(), look.LIGHT)
