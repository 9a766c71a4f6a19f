"""The way into the fault room and the appraisal: built when somebody first goes there, let go
with the file."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QStackedWidget

from app.appraisal.controller import AppraisalController
from app.appraisal.labels import appraisal_labels
from app.appraisal.view import AppraisalView
from app.entry.after import Afterwards
from app.faults.controller import FaultController
from app.faults.labels import fault_labels
from app.faults.view import FaultView
from app.hub import Hub
from app.pieces.form import Field, FieldSort
from app.season.started import FailedStart
from app.wording.wording import Wording
from resources.loader import Catalogue


class FaultDoor(QObject):
    """The fault room and the appraisal of a file that is open."""

    leftFor = Signal(str)
    paperWanted = Signal(str)

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
        self.view = FaultView(fault_labels(words), words.language)
        rooms.addWidget(self.view)
        self.controller = FaultController(
            hub=hub, view=self.view, words=words, catalogue=catalogue, parent=self
        )
        self._after = Afterwards(
            hub=hub, room=self.view, place=self.view, words=words, catalogue=catalogue, parent=self
        )
        self.controller.leftFor.connect(self.leftFor)
        self.controller.paperWanted.connect(self.paperWanted)
        self.controller.worthWanted.connect(self.show_worth)
        self.worth_view = AppraisalView(appraisal_labels(words))
        rooms.addWidget(self.worth_view)
        self.worth = AppraisalController(
            hub=hub, view=self.worth_view, words=words, catalogue=catalogue, parent=self
        )
        self.worth.leftFor.connect(self.leftFor)
        self.worth.paperWanted.connect(self.paperWanted)

    @property
    def is_open(self) -> bool:
        """Whether the room is the one that is shown."""
        return self._rooms.currentWidget() is self.view

    def show(self, number: int) -> bool:
        """Go into the room of a machine; False when it is not there."""
        if not self.controller.show(number):
            return False
        self._rooms.setCurrentWidget(self.view)
        self.view.focus_first()
        return True

    def show_failed(self, failed: FailedStart) -> None:
        """Go and look for why a machine did not start: what was seen is asked at once, filled in
        as far as it is known. A search that runs already goes on instead."""
        if not self.show(failed.machine_id):
            return
        search = self.controller.search
        if search is not None and search.closed_on is None:
            return
        self.controller.act("new")
        self.view.symptomChosen.emit(failed.complaint)
        form = self.view.form
        if form is not None:
            known = {
                one.name: Field(
                    name=one.name,
                    label=one.label,
                    sort=FieldSort.TILES,
                    choices=one.choices,
                    default=one.outcome,
                )
                for one in failed.known
            }
            asked = [known.pop(one.name, one) for one in form.page.fields]
            fields = (*asked[:-1], *known.values(), *asked[-1:])
            self.view.show_form(replace(form.page, fields=fields))

    def show_worth(self, number: int) -> None:
        """Go and see whether a machine is worth it; 0: one that is not in the file."""
        self._rooms.setCurrentWidget(self.worth_view)
        self.worth.show(number)

    def restyle(self) -> None:
        """Lay both rooms out again, after another look or text size."""
        self.view.restyle()
        self.worth_view.restyle()

    def leave(self) -> None:
        """Let go of the room; the file is about to be closed."""
        self._after.leave()
        self.controller.leave()
        self.worth.leave()
        for view in (self.view, self.worth_view):
            self._rooms.removeWidget(view)
            view.deleteLater()
