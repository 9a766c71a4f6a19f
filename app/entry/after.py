"""What a room carried out by itself may leave open: asked once the room shows no form of its
own."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt

from app.entry.desk import Desk, Place
from app.hub import Hub
from app.pieces.room import RoomView
from app.wording.wording import Wording
from models.changes import Changes
from models.writer import Act
from resources.loader import Catalogue


class Afterwards(QObject):
    """Listens to the acts of a room; `place` is the same room, as a desk knows it.

    Build it after the room's controller: the controller answers its own forms first, and lets go
    of one that was given up.
    """

    def __init__(
        self,
        *,
        hub: Hub,
        room: RoomView,
        place: Place,
        words: Wording,
        catalogue: Catalogue,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._room = room
        self._hub = hub
        self._desk = Desk(hub=hub, place=place, words=words, catalogue=catalogue, parent=self)
        hub.performed.connect(self._performed)
        # Not before the controller has done what the act is a part of.
        hub.performed.connect(self._ask, Qt.ConnectionType.QueuedConnection)
        room.answered.connect(self._desk.answered)
        room.formLeft.connect(self._desk.given_up)

    def _performed(self, act: Act, changes: Changes) -> None:
        if self._room.isVisible():
            self._desk.note(act, changes)

    def _ask(self) -> None:
        if self._room.isVisible() and self._room.form is None:
            self._desk.given_up()

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._hub.performed.disconnect(self._performed)
        self._hub.performed.disconnect(self._ask)
        self._room.answered.disconnect(self._desk.answered)
        self._room.formLeft.disconnect(self._desk.given_up)
