"""Notices that another day has begun while the window stood open."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication

LOOK_EVERY_MS = 3_600_000


class NewDay(QObject):
    """`dawned`: it is another day than when it was last looked. Looks whenever the program comes
    to the front, and once an hour."""

    dawned = Signal()

    def __init__(self, today: Callable[[], date], parent: QObject) -> None:
        super().__init__(parent)
        self._today = today
        self._known = today()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.look)
        self._timer.start(LOOK_EVERY_MS)
        program = QGuiApplication.instance()
        if isinstance(program, QGuiApplication):
            program.applicationStateChanged.connect(self._state_changed)

    def look(self) -> None:
        """Look at the clock."""
        today = self._today()
        if today != self._known:
            self._known = today
            self.dawned.emit()

    def _state_changed(self, state: Qt.ApplicationState) -> None:
        if state is Qt.ApplicationState.ApplicationActive:
            self.look()
