"""Looks further ahead than one step, beside the window, for as long as nobody reads yet."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

from app.worker import Worker
from schedules.fault_facts import FaultModel
from schedules.fault_search import Plan
from schedules.fault_state import FaultState
from schedules.faults import plans

# A person who has not begun to read by then does so now: what stands there stays.
READING_MS = 350
BREATH_SECONDS = 0.001  # the window comes first, whatever else is worked out


class Thinking(QObject):
    """One look ahead. `done` is told once: the best plan there was by the time reading began, or
    None. What a slow computer finds after that comes too late: nothing changes while it is read."""

    def __init__(
        self,
        model: FaultModel,
        state: FaultState,
        done: Callable[[Plan | None], None],
        parent: QObject,
        *,
        reading_ms: int = READING_MS,
    ) -> None:
        super().__init__(parent)
        self._stop = threading.Event()
        self._best: Plan | None = None
        self._tell = done
        self._is_read = False
        self._model, self._state = model, state
        self._worker = Worker(self._look, self._looked, self)
        QTimer.singleShot(reading_ms, self, self._time_is_up)

    def _look(self) -> None:
        for plan in plans(self._model, self._state):
            self._best = plan
            if self._stop.is_set():
                return
            time.sleep(BREATH_SECONDS)

    def reading(self) -> None:
        """Somebody reads or presses: what stands there stays."""
        self._is_read = True
        self._stop.set()

    def _time_is_up(self) -> None:
        self._stop.set()
        self._give()

    def _looked(self, raised: BaseException | None) -> None:
        if raised is not None:
            raise raised
        self._give()

    def _give(self) -> None:
        if not self._is_read:
            self._is_read = True
            self._tell(self._best)
