"""One long piece of work in a thread of its own, so that the window lives on meanwhile."""

from __future__ import annotations

import threading
from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

LOOK_MS = 20


class Worker(QObject):
    """Runs `work` in a thread; `done` is told on the window's own thread what was raised, or
    None. The work touches no widget and no file that is open here."""

    def __init__(
        self,
        work: Callable[[], None],
        done: Callable[[BaseException | None], None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._work = work
        self._done = done
        self._raised: BaseException | None = None
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self._look)
        self._thread.start()
        self._timer.start()

    def _run(self) -> None:
        try:
            self._work()
        except BaseException as raised:
            self._raised = raised

    def _look(self) -> None:
        if self._thread.is_alive():
            return
        self._timer.stop()
        self.deleteLater()
        self._done(self._raised)
