"""The way into the room of cans and tanks: built when it is first wanted."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QStackedWidget

from app.fuel.controller import FuelController
from app.fuel.labels import fuel_labels
from app.fuel.view import FuelView
from app.hub import Hub
from app.services import Services


class FuelDoor(QObject):
    """The room among the others, as long as a file is open.

    `leftFor`: it is done with, and that act is wanted beside the list ("" for none). `tagsWanted`:
    the tag of one vessel is to be printed, or (None) those of all.
    """

    leftFor = Signal(str)
    tagsWanted = Signal(object)

    def __init__(
        self, *, rooms: QStackedWidget, hub: Hub, services: Services, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._rooms = rooms
        self._hub = hub
        self._services = services
        words = services.wording
        self.view = FuelView(fuel_labels(words), words.language)
        rooms.addWidget(self.view)
        self.controller = FuelController(
            hub=hub, view=self.view, words=words, catalogue=services.catalogue, parent=self
        )
        self.controller.leftFor.connect(self.leftFor)
        self.controller.tagsWanted.connect(self.tagsWanted)

    def show(self, machine: int = 0) -> None:
        """Go into the room; the tank of a machine is looked at first if one is named."""
        self._rooms.setCurrentWidget(self.view)
        self.controller.show(machine)
        self.view.focus_first()

    def print_tags(self, path: Path, vessel: int | None) -> None:
        """Write the tags of all cans and tanks, or of one, as a PDF. Raises Trouble."""
        from app.printing import write_whole  # paper is not needed for the room
        from app.tagging import tags_pdf

        pdf = tags_pdf(
            self._services,
            paper=self._services.settings.paper,
            on=self._hub.moment().today,
            vessels=None if vessel is None else frozenset({vessel}),
        )
        if pdf is not None:
            write_whole(path, pdf)

    def leave(self) -> None:
        """The file is about to be let go: the room goes with it."""
        self.controller.leave()
        self._rooms.removeWidget(self.view)
        self.view.deleteLater()
