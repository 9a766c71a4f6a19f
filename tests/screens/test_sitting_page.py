"""What to do in the time there is: read before it is done, and gone when it is closed."""

from __future__ import annotations

from PySide6.QtCore import QDate, QPoint
from PySide6.QtWidgets import QLabel

from app.pieces.caution import CautionPanel
from resources.loader import load_catalogue
from tests.screens.conftest import Shed


def open_sitting(shed: Shed) -> None:
    shed.act("add")
    came = QDate(2020, 4, 2)
    shed.fill(kind="K04", name="Green one", past="new", came_on=came, fuel_left="no")
    assert shed.keep() == ""
    shed.put_by()
    shed.view.time.buttons[240].click()
    shed.bot.waitUntil(lambda: shed.view.reading == "sitting")


def test_every_caution_stands_before_the_step_it_is_for(shed: Shed) -> None:
    open_sitting(shed)
    area = shed.view.reader.area
    panels = {one.accessibleDescription(): one for one in area.findChildren(CautionPanel)}
    labels = area.findChildren(QLabel)
    catalogue, checked = load_catalogue(), 0
    shown = "\n".join(label.text() for label in labels)
    for task in catalogue.tasks.values():
        steps = [one for one in labels if one.text()[:1].isdigit() and task.name in one.text()]
        for step in steps:
            for code in task.cautions:
                panel = panels[catalogue.cautions[code].text]
                assert panel.mapTo(area, QPoint()).y() < step.mapTo(area, QPoint()).y()
                checked += 1
            assert not task.stop_use_if or f"Stop use if {task.stop_use_if}." in shown
    assert checked


def test_a_closed_sitting_stays_closed_after_the_next_act(shed: Shed) -> None:
    open_sitting(shed)
    with shed.bot.waitSignal(shed.view.timeGiven, check_params_cb=lambda minutes: minutes == 0):
        shed.view.reader.close_button.click()
    assert shed.view.reading == ""
    shed.act("job")
    shed.fill(text="Sweep the floor")
    assert shed.keep() == ""
    shed.bot.wait(300)
    assert shed.view.reading == ""
