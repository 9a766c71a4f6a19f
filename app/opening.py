"""How the window opens on a file.

Decision: the first picture is painted from the glance, before the database is even imported; the
rooms themselves come to life right after it.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings, QTimer
from PySide6.QtWidgets import QApplication

from app.errors import install_hooks
from app.fleet.glance import first_picture
from app.window import MainWindow, apply_settings
from app.wording.tongue import Tongue
from models.moment import Moment

if TYPE_CHECKING:
    from app.rooms import Rooms


def open_window(path: Path, *, clock: Callable[[], Moment], language: str, state: Path) -> int:
    """Open the window on a file and stay until it is closed. Returns the exit code."""
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
    if picture is not None:
        window.view.show_state(picture)
    window.show()
    holder: list[Rooms] = []

    def enter() -> None:
        from app.rooms import Rooms

        holder.append(Rooms(window=window, clock=clock, state=state, home=path))

    QTimer.singleShot(0, window, enter)
    code = app.exec()
    for rooms in holder:
        rooms.close()
    return code
