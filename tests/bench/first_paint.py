"""A process that ends at its first painted window, and tells its greatest memory.

python -m tests.bench.first_paint bare             an empty main window of the library
python -m tests.bench.first_paint painted FILE DAY the program, at its first painted room
python -m tests.bench.first_paint ready FILE DAY   the program, when its rooms can be used
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from time import monotonic

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication, QMainWindow, QWidget

from tests.bench.timing import peak_kibibytes

LOOK_EVERY_MS = 5
PATIENCE_S = 120


class Leave(QObject):
    """Ends the process once a window has been painted: by an event posted while it is, which
    comes before any timer that was started earlier."""

    def __init__(self, application: QCoreApplication) -> None:
        super().__init__(application)
        self._seen = False

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint and isinstance(watched, QWidget) and not self._seen:
            self._seen = True
            high = Qt.EventPriority.HighEventPriority
            QCoreApplication.postEvent(self, QEvent(QEvent.Type.User), high.value)
        return False

    def customEvent(self, event: QEvent) -> None:
        tell_and_go()


def tell_and_go() -> None:
    print(f'{{"kibibytes": {peak_kibibytes()}}}', flush=True)
    os._exit(0)


def at_first_paint() -> None:
    application = QCoreApplication.instance()
    if application is None:
        raise RuntimeError("no application yet")
    leave = Leave(application)
    application.installEventFilter(leave)


def when_kept(picture: Path) -> None:
    """The rooms keep their picture for the next start as the last thing of this one."""
    timer = QTimer(QCoreApplication.instance())
    begun = monotonic()

    def look() -> None:
        if picture.exists():
            tell_and_go()
        if monotonic() - begun > PATIENCE_S:
            os._exit(1)

    timer.timeout.connect(look)
    timer.start(LOOK_EVERY_MS)


def bare() -> None:
    application = QApplication([])
    window = QMainWindow()
    window.resize(1440, 900)
    at_first_paint()
    window.show()
    application.exec()


def ours(*, ready: bool, file: str, day: str) -> None:
    from app.__main__ import main
    from app.places import places

    picture = places().state / "glance.db"
    if ready:
        picture.unlink(missing_ok=True)
    run = QApplication.exec

    def watched(*_: object) -> int:
        if ready:
            when_kept(picture)
        else:
            at_first_paint()
        return run()

    # The only way in from outside: whoever starts the loop starts the watching.
    QApplication.exec = watched
    main(["--file", file, "--on", day])
    raise RuntimeError("the program ended by itself")


if __name__ == "__main__":
    if sys.argv[1] == "bare":
        bare()
    else:
        ours(ready=sys.argv[1] == "ready", file=sys.argv[2], day=sys.argv[3])
