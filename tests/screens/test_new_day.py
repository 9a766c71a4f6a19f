"""The window stands open overnight."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from app.fleet.state import YearDays
from app.rooms import Rooms
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.moment import Moment
from tests.conftest import NOW, TODAY


@pytest.fixture
def days() -> list[date]:
    return [TODAY]


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path, days: list[date]) -> Iterator[MainWindow]:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(Tongue(), settings)
    qtbot.addWidget(window)
    window.show()
    rooms = Rooms(
        window=window,
        clock=lambda: Moment(today=days[-1], now=NOW),
        state=tmp_path,
        home=tmp_path / "shed.firstpull",
        made_up=False,
    )
    yield window
    rooms.close()


def test_the_rooms_notice_another_day_when_the_program_comes_to_the_front(
    window: MainWindow, days: list[date]
) -> None:
    program = QGuiApplication.instance()
    assert isinstance(program, QGuiApplication)
    assert window.view.machine_table.accessibleName()
    shown: list[date] = []
    speak = window.view.machine_table.show_days

    def heard(days: YearDays) -> None:
        shown.append(days.today)
        speak(days)

    window.view.machine_table.show_days = heard
    program.applicationStateChanged.emit(Qt.ApplicationState.ApplicationActive)
    assert not shown
    days.append(TODAY + timedelta(days=1))
    program.applicationStateChanged.emit(Qt.ApplicationState.ApplicationActive)
    assert shown == [days[-1]]
