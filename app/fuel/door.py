"""The way into the room of cans and tanks: built when it is first wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.fuel.controller import FuelController
from app.fuel.labels import fuel_labels
from app.fuel.view import FuelView
from app.handing import hand_over
from app.hub import Hub
from app.services import Services
from app.wording.languages import msg
from models.errors import Trouble

if TYPE_CHECKING:
    from app.window import MainWindow


class FuelDoor(QObject):
    """The room among the others, as long as a file is open.

    `leftFor`: it is done with, and that act is wanted beside the list ("" for none).
    """

    leftFor = Signal(str)

    def __init__(
        self, *, window: MainWindow, hub: Hub, services: Services, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._rooms = window.rooms
        self._hub = hub
        self._services = services
        words = services.wording
        self.view = FuelView(fuel_labels(words), words.language)
        self._rooms.addWidget(self.view)
        self.controller = FuelController(
            hub=hub, view=self.view, words=words, catalogue=services.catalogue, parent=self
        )
        self.controller.leftFor.connect(self.leftFor)
        self.controller.tagsWanted.connect(self.print_tags)

    def show(self, machine: int = 0) -> None:
        """Go into the room; the tank of a machine is looked at first if one is named."""
        self._rooms.setCurrentWidget(self.view)
        self.controller.show(machine)
        self.view.focus_first()

    def print_tags(self, vessel: int | None = None) -> None:
        """Write the tags of all cans and tanks, or of one, and open them where papers are read."""
        path = self._window.ask_pdf("tags.pdf")
        if path is None:
            return
        from app.printing import write_whole  # paper is not needed for the room
        from app.tagging import tags_pdf

        words = self._services.wording
        pdf = tags_pdf(
            self._services,
            paper=self._services.settings.paper,
            on=self._hub.moment().today,
            vessels=None if vessel is None else frozenset({vessel}),
        )
        if pdf is None:
            said = msg("There is no can and no tank to hang a tag on.")
            self._window.say(words.text(said))
            return
        try:
            write_whole(path, pdf)
        except Trouble as trouble:
            self._window.say(words.trouble(trouble))
        else:
            hand_over(self._window, words, path)

    def leave(self) -> None:
        """The file is about to be let go: the room goes with it."""
        self.controller.leave()
        self._rooms.removeWidget(self.view)
        self.view.deleteLater()
