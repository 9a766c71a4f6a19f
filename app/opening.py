"""How the window opens on a file.

Decision: the first picture is painted from the glance, before the database is even imported; the
rooms themselves come to life right after it.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from app.errors import install_hooks
from app.fleet.glance import first_picture
from app.window import MainWindow, apply_settings
from app.wording.languages import msg
from app.wording.tongue import Tongue
from models.moment import Moment

if TYPE_CHECKING:
    from app.rooms import Rooms


CLICKS_MS = 50


def open_window(
    path: Path,
    *,
    clock: Callable[[], Moment],
    language: str,
    state: Path,
    made_up: bool,
    begin: bool = True,
) -> int:
    """Open the window on a file and stay until it is closed. Returns the exit code.

    `made_up`: the file is a made-up shed, and is announced as one. `begin`: a household is begun
    where there is none; otherwise the window says that there is none.
    """
    app = QApplication.instance() or QApplication(sys.argv[:1])
    if not isinstance(app, QApplication):
        return 2
    app.setApplicationName("firstpull")
    settings = QSettings(str(state / "window.ini"), QSettings.Format.IniFormat)
    apply_settings(settings)
    tongue = Tongue(language)
    window = MainWindow(tongue, settings)

    def tell(log: Path | None) -> None:
        window.view.tell(window.tongue)(log)  # another language brings another view

    install_hooks(state, now=lambda: clock().now, tell=tell)
    picture = first_picture(path, state / "glance.db", clock)
    if picture is None:
        window.view.wait(tongue.text(msg("Reading what stands in your shed…")))
    else:
        window.view.show_first(picture)
    window.show()
    holder: list[Rooms] = []

    def enter() -> None:
        from app.rooms import Rooms

        rooms = Rooms(
            window=window, clock=clock, state=state, home=path, made_up=made_up, begin=begin
        )
        holder.append(rooms)
        # What was clicked meanwhile was meant for a window that was not ready: it comes first.
        QTimer.singleShot(CLICKS_MS, window, lambda: window.view.wait(""))

    window.installEventFilter(_AfterFirstPaint(window, enter))
    code = app.exec()
    for rooms in holder:
        rooms.close()
    return code


class _AfterFirstPaint(QObject):
    """Does what it was given once the window was painted. A timer alone comes before that."""

    def __init__(self, window: MainWindow, then: Callable[[], None]) -> None:
        super().__init__(window)
        self._then = then

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The request to paint is the first sign; painting itself is done when it is handled."""
        if event.type() == QEvent.Type.UpdateRequest:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self, self._then)
        return False
