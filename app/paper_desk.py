"""What is printed from the window: of the machine that is looked at, of chosen work, or of all."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from app.fleet.controller import FleetController
from app.handing import hand_over
from app.hub import Hub
from app.services import Services
from app.window import MainWindow
from app.wording.languages import msg
from models.acts.sheets import PrintSheet
from models.changes import Changes
from models.errors import Trouble
from models.words import SheetSort

if TYPE_CHECKING:
    from app.causes.state import FaultRoomState

RESCUE = "rescue"
LOOKS = "looks"


class PaperDesk:
    """Makes papers of the file that is open. `here`: the machine whose room one is in, else 0."""

    def __init__(
        self,
        *,
        window: MainWindow,
        hub: Hub,
        services: Services,
        fleet: FleetController,
        here: Callable[[], int],
    ) -> None:
        self._window = window
        self._hub = hub
        self._services = services
        self._fleet = fleet
        self._here = here

    def print_sort(self, sort: str) -> None:
        """Make a paper of a sort; what goes wrong is said in the window."""
        from app.papers import Papers  # paper is not needed for the list

        number = self._here() or self._window.view.chosen_id()
        if sort == RESCUE:
            self._rescue(number)
            return
        if sort == LOOKS:
            self._looks()
            return
        papers = Papers(
            window=self._window,
            services=self._services,
            moment=self._hub.moment(),
            perform=self._numbered if self._hub.can_write else None,
        )
        sitting = self._fleet.sitting()
        if sort == SheetSort.SHOPPING:
            papers.print_shopping()
        elif sort == SheetSort.WORK and sitting is not None and sitting.visits:
            papers.print_work(sitting.visits)
        elif sort == SheetSort.WORK:
            said = self._services.wording.text(msg("Say first how much time there is."))
            self._window.view.say(said, calm=True)
            self._window.view.time.ask()
        elif number is not None:
            shown = self._search_shown() if sort == SheetSort.FAULTS else None
            papers.print_machine(SheetSort(sort), number, shown=shown)

    def _search_shown(self) -> FaultRoomState | None:
        """The search on screen, its card as it stays: paper begins with the same step."""
        from app.faults.view import FaultView  # no other paper needs the room

        room = self._window.rooms.currentWidget()
        if not isinstance(room, FaultView):
            return None
        room.touched.emit()
        return room.shown

    def _looks(self) -> None:
        """Five looks at a machine that is not in the shed yet."""
        path = self._window.ask_pdf("looks.pdf")
        if path is None:
            return
        from app.appraisal.pocket import pocket_pdf
        from app.printing import write_whole

        paper, today = self._services.settings.paper, self._hub.moment().today
        words = self._services.wording
        try:
            pdf = pocket_pdf(self._services, paper=paper, only=None, on=today)
            if pdf is not None:
                write_whole(path, pdf)
        except Trouble as trouble:
            self._window.say(words.trouble(trouble))
        else:
            hand_over(self._window, words, path)

    def _rescue(self, number: int | None) -> None:
        path = None if number is None else self._window.ask_pdf("rescue.pdf")
        if number is None or path is None:
            return
        from app.rescue import write_rescue

        words = self._services.wording
        try:
            write_rescue(self._services, number, path, moment=self._hub.moment())
        except Trouble as trouble:
            self._window.say(words.trouble(trouble))
        else:
            hand_over(self._window, words, path)

    def _numbered(self, act: PrintSheet) -> Changes:
        """Note in the file that a sheet was printed. Raises Refused, Trouble."""
        outcome = self._hub.perform(act)
        if isinstance(outcome, Changes):
            return outcome
        raise outcome
