# pyright: standard
"""Long reckonings in small slices: the window lives in between, and whoever waits can stop it."""

from __future__ import annotations

from collections.abc import Callable, Generator
from typing import Any

from PySide6.QtCore import QElapsedTimer, QObject, QTimer

SLICE_MS = 25
"""A slice ends after the step in which so much time has gone by."""


class Slices(QObject):
    """Runs one generator at a time; a new one takes the place of the old."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._steps: Generator[None, None, Any] | None = None
        self._done: Callable[[Any], None] | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._slice)

    @property
    def running(self) -> bool:
        """Whether there is more to do."""
        return self._steps is not None

    def start(self, steps: Generator[None, None, Any], done: Callable[[Any], None]) -> None:
        """Begin, with the first slice at once; `done` is told what the steps come to."""
        self.stop()
        self._steps, self._done = steps, done
        self._timer.start()
        self._slice()

    def step(self) -> None:
        """Do one step at once."""
        if self._steps is not None:
            self._advance(self._steps)

    def stop(self) -> None:
        """Forget what is left."""
        self._timer.stop()
        steps, self._steps, self._done = self._steps, None, None
        if steps is not None:
            steps.close()

    def hold(self) -> None:
        """Pause; `go_on` takes up where it was left."""
        self._timer.stop()

    def go_on(self) -> None:
        """Take it up again."""
        if self._steps is not None:
            self._timer.start()

    def _slice(self) -> None:
        spent = QElapsedTimer()
        spent.start()
        while self._steps is not None and spent.elapsed() < SLICE_MS:
            self._advance(self._steps)

    def _advance(self, steps: Generator[None, None, Any]) -> None:
        try:
            next(steps)
        except StopIteration as end:
            done = self._done
            self._timer.stop()
            self._steps = self._done = None
            if done is not None:
                done(end.value)
