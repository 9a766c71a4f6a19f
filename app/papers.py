"""Papers asked for in the window: made, kept where the user says, opened where papers are read."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.handing import hand_over
from app.printing import Page, Perform, print_sheet, sheet_machines, work_page, write_whole
from app.saving import file_name
from app.services import Services
from app.window import MainWindow
from app.wording.languages import msg
from models.errors import Refused, Trouble
from models.moment import Moment
from models.words import SheetSort
from schedules.choice import Visit
from schedules.facts import MachineId

if TYPE_CHECKING:
    from app.causes.state import FaultRoomState

NO_PAPER = msg("There is nothing to put on that paper.")
NOTHING = {
    SheetSort.FAULTS: msg("No search for a fault runs. Begin one under “Something is wrong…”."),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """`perform` gives a sheet its number; None: the file may only be read."""

    window: MainWindow
    services: Services
    moment: Moment
    perform: Perform | None

    def print_machine(
        self, sort: SheetSort, number: int, *, shown: FaultRoomState | None = None
    ) -> None:
        """Print what there is about one machine. `shown`: its search as it stands on screen."""
        only = frozenset({MachineId(number)})
        judged = self.services.fleet(on=self.moment.today, only=only)
        names = [one.facts.name for one in judged]
        self._make(sort, lambda: self._sheet(sort, only, shown), *names)

    def print_shopping(self) -> None:
        """Print what is to be bought for all machines."""
        self._make(SheetSort.SHOPPING, lambda: self._sheet(SheetSort.SHOPPING, None))

    def print_work(self, visits: Iterable[Visit]) -> None:
        """Print the work that was chosen for the time there is."""
        chosen = tuple(visits)

        def made() -> Page:
            return work_page(
                self.services,
                sheet_machines(self.services, on=self.moment.today),
                chosen,
                paper=self.services.settings.paper,
                moment=self.moment,
                perform=self.perform,
            )

        self._make(SheetSort.WORK, made)

    def _sheet(
        self,
        sort: SheetSort,
        only: frozenset[MachineId] | None,
        shown: FaultRoomState | None = None,
    ) -> Page | None:
        return print_sheet(
            self.services,
            sort,
            paper=self.services.settings.paper,
            only=only,
            moment=self.moment,
            perform=self.perform,
            shown=shown,
        )

    def _make(self, sort: SheetSort, make: Callable[[], Page | None], *names: str) -> None:
        words, say = self.services.wording, self.window.say
        path = self.window.ask_pdf(file_name(*names, words.word(sort), str(self.moment.today)))
        if path is None:
            return
        try:
            page = make()
            if page is None:
                say(words.text(NOTHING.get(sort, NO_PAPER)), calm=True)
                return
            write_whole(path, page.pdf)
        except Refused as refused:
            say(words.refused(refused))
        except Trouble as trouble:
            say(words.trouble(trouble))
        else:
            hand_over(self.window, words, path)
