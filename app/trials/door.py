"""The way into the room of measurements and comparisons: built when it is first wanted."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QStackedWidget

from app.hub import Hub
from app.trials.controller import TrialsController
from app.trials.labels import trials_labels
from app.trials.view import TrialsView
from app.wording.wording import Wording
from resources.loader import Catalogue


class TrialDoor(QObject):
    """The room among the others, as long as a file is open. `left`: it is done with."""

    left = Signal()

    def __init__(
        self,
        *,
        rooms: QStackedWidget,
        hub: Hub,
        words: Wording,
        catalogue: Catalogue,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._rooms = rooms
        self.view = TrialsView(trials_labels(words), words.language)
        rooms.addWidget(self.view)
        self.controller = TrialsController(
            hub=hub, view=self.view, words=words, catalogue=catalogue, parent=self
        )
        self.controller.left.connect(self.left)

    def show(self, number: int) -> None:
        """Go into the room of a machine, if it is there."""
        if self.controller.show(number):
            self._rooms.setCurrentWidget(self.view)
            self.view.focus_first()

    def leave(self) -> None:
        """The file is about to be let go: the room goes with it."""
        self.controller.leave()
        self._rooms.removeWidget(self.view)
        self.view.deleteLater()
