"""The way into the season room: it is built when somebody first goes there, and let go with the
file."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from app.entry.after import Afterwards
from app.handing import hand_over
from app.hub import Hub
from app.printing import print_sheet, write_whole
from app.season.bench_paper import bench_pdf
from app.season.controller import SeasonController
from app.season.labels import season_labels
from app.season.paper import stored_pdf
from app.season.view import SeasonView
from app.services import Services
from app.window import MainWindow
from models.acts.sheets import PrintSheet
from models.changes import Changes
from models.errors import Refused, Trouble
from models.words import SheetSort


class SeasonDoor(QObject):
    """One season room for a file that is open."""

    leftFor = Signal(str)
    faultWanted = Signal(int)
    startFailed = Signal(object)

    def __init__(
        self,
        *,
        window: MainWindow,
        hub: Hub,
        services: Services,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._rooms = window.rooms
        self._hub = hub
        self._services = services
        words = services.wording
        self.view = SeasonView(season_labels(words), words.language)
        self._rooms.addWidget(self.view)
        self.controller = SeasonController(
            hub=hub, view=self.view, words=words, catalogue=services.catalogue, parent=self
        )
        self._after = Afterwards(
            hub=hub,
            room=self.view,
            place=self.view,
            words=words,
            catalogue=services.catalogue,
            parent=self,
        )
        self.controller.leftFor.connect(self.leftFor)
        self.controller.paperWanted.connect(self._print)
        window.restyled.connect(self.view.restyle)
        self.controller.faultWanted.connect(self.faultWanted)
        self.controller.startFailed.connect(self.startFailed)

    @property
    def is_open(self) -> bool:
        """Whether the room is the one that is shown."""
        return self._rooms.currentWidget() is self.view

    def show(self, number: int = 0) -> None:
        """Go into the room, about a machine if one is named."""
        self._rooms.setCurrentWidget(self.view)
        self.controller.show(number)

    def show_day_out(self, number: int) -> None:
        """Go into the room to get a machine out for a day."""
        self.show(number)
        self.view.day_only.setChecked(True)

    def enter_sheet(self, number: int) -> None:
        """Go into the room with the form of a sheet that came back."""
        self._rooms.setCurrentWidget(self.view)
        self.controller.enter_sheet(number)

    def _print(self, sort: str) -> None:
        """The storage sheet or the stored tags of machines, opened where papers are read."""
        path = self._window.ask_pdf(f"{sort}.pdf")
        if path is None:
            return
        services, moment = self._services, self._hub.moment()
        only = frozenset(self.controller.machine_ids)
        paper, words = services.settings.paper, services.wording
        try:
            if sort == "stored":
                pdf = stored_pdf(services, paper=paper, only=only, on=moment.today)
            elif sort == "bench":
                pdf = bench_pdf(services, paper=paper, only=only, moment=moment)
            else:
                page = print_sheet(
                    services,
                    SheetSort.STORAGE,
                    paper=paper,
                    only=only,
                    moment=moment,
                    perform=self._numbered if self._hub.can_write else None,
                )
                pdf = None if page is None else page.pdf
            if pdf is not None:
                write_whole(path, pdf)
        except Refused as refused:
            self.view.say(words.refused(refused))
        except Trouble as trouble:
            self.view.say(words.trouble(trouble))
        else:
            hand_over(self._window, words, path)

    def _numbered(self, act: PrintSheet) -> Changes:
        """Note in the file that a sheet was printed. Raises Refused, Trouble."""
        outcome = self._hub.perform(act)
        if isinstance(outcome, Changes):
            return outcome
        raise outcome

    def leave(self) -> None:
        """Let go of the room; the file is about to be closed."""
        self._window.restyled.disconnect(self.view.restyle)
        self._after.leave()
        self.controller.leave()
        self._rooms.removeWidget(self.view)
        self.view.deleteLater()
