"""The one seam between screens and the file: carries out acts, tells everybody what changed.

Screens meet nothing else of the file. An act that makes no sense comes back as `Refused`, a world
that failed as `Trouble`; whatever else is raised is a fault of the program and goes to the top.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from models.changes import ActCode, ActLabel, Area, Changes
from models.errors import Refused, Trouble, TroubleCode
from models.moment import Moment

if TYPE_CHECKING:
    from models.facts.reading import Reading
    from models.file import Household
    from models.writer import Act

Outcome = Changes | Refused | Trouble


class Hub(QObject):
    """Performs acts on one household. `changed` carries the Changes of each; `performed` the act
    that somebody asked for, with them.
    """

    changed = Signal(object)
    performed = Signal(object, object)

    def __init__(
        self, household: Household, clock: Callable[[], Moment], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._household = household
        self._clock = clock

    @property
    def household(self) -> Household:
        """The household that is open."""
        return self._household

    @property
    def can_write(self) -> bool:
        """Whether acts can be carried out, or the file may only be read."""
        return self._household.writer is not None

    def moment(self) -> Moment:
        """The day and the instant, from the door."""
        return self._clock()

    def read(self) -> AbstractContextManager[Reading]:
        """A session that can only read; fetch everything and leave it at once."""
        return self._household.read()

    def perform(self, act: Act) -> Outcome:
        """Carry out an act and publish what changed."""
        writer = self._household.writer
        if writer is None:
            return _read_only(self._household)
        try:
            changes = writer.run(act, moment=self.moment())
        except (Refused, Trouble) as answer:
            return answer
        self.changed.emit(changes)
        self.performed.emit(act, changes)
        return changes

    def renew(self) -> None:
        """Another day has begun: whatever is shown may have changed, and is judged anew."""
        self.changed.emit(_everything())

    def undo(self) -> Outcome | None:
        """Take the last act back; None when there is none."""
        return self._step("undo")

    def redo(self) -> Outcome | None:
        """Do the last act taken back again; None when there is none."""
        return self._step("redo")

    @property
    def undo_label(self) -> ActLabel | None:
        """What undo would take back."""
        writer = self._household.writer
        return None if writer is None else writer.undo_label

    @property
    def redo_label(self) -> ActLabel | None:
        """What redo would do again."""
        writer = self._household.writer
        return None if writer is None else writer.redo_label

    def _step(self, name: str) -> Outcome | None:
        writer = self._household.writer
        if writer is None:
            return _read_only(self._household)
        move = writer.undo if name == "undo" else writer.redo
        try:
            changes = move(moment=self.moment())
        except Trouble as trouble:
            if trouble.code is TroubleCode.CHANGED_ELSEWHERE:
                self.changed.emit(_everything())
            return trouble
        if changes is not None:
            self.changed.emit(changes)
        return changes


def _read_only(household: Household) -> Trouble:
    """Why nothing can be entered, as far as the file said so when it was opened."""
    return household.notice or Trouble(TroubleCode.READ_ONLY, path=str(household.path))


def _everything() -> Changes:
    """Somebody else wrote to the file, or it is another day: all that is shown may have changed."""
    return Changes(areas=frozenset(Area), ids=frozenset(), label=ActLabel(ActCode.IMPORT))
