"""Another look and another language reach the whole window."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QEvent, QSettings, Qt
from PySide6.QtGui import QAction, QGuiApplication
from PySide6.QtWidgets import QMenu, QWidget
from pytestqt.qtbot import QtBot

from app.window import MainWindow
from app.wording.tongue import Tongue
from tests.screens.conftest import Shed


class Restyled(QWidget):
    """A room that counts how often it was laid out again."""

    times = 0

    def restyle(self) -> None:
        self.times += 1


def test_every_room_follows_the_look(shed: Shed) -> None:
    room = Restyled()
    shed.window.rooms.addWidget(room)
    look = [one for one in shed.window.findChildren(QAction) if one.data() == ("look", "dark")]
    look[0].trigger()
    assert room.times == 1
    as_computer = next(
        one for one in shed.window.findChildren(QAction) if one.data() == ("look", "")
    )
    as_computer.trigger()
    QGuiApplication.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert room.times == 3


def test_another_language_leaves_no_old_menus_behind(qtbot: QtBot, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(Tongue(), settings)
    qtbot.addWidget(window)

    def alive() -> tuple[int, int]:
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        return len(window.menuBar().findChildren(QMenu)), len(window.findChildren(QAction))

    before = alive()
    window.speak(Tongue("en_US"))
    assert alive() == before
