"""The list of what a machine needs to start today: shown, printed, ticked off."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from app.handing import hand_over
from app.hub import Hub
from app.pieces.leaf import Leaf
from app.saving import file_name
from app.season.today import TITLE, Today, today_of, today_pdf
from app.season.today_leaf import TodayLeaf
from app.services import Services
from app.window import MainWindow
from models.errors import Trouble
from schedules.facts import MachineId


class TodayDesk(QObject):
    """Shows the list of a machine, prints it, leads on to ticking it off."""

    sittingWanted = Signal(int)

    def __init__(
        self, *, window: MainWindow, hub: Hub, services: Services, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._hub = hub
        self._services = services

    def show(self, number: int) -> None:
        """Show it; what goes wrong is said in the machine's room."""
        words, say = self._services.wording, self._window.machine_view.say
        try:
            found = today_of(self._services, MachineId(number), on=self._hub.moment().today)
        except Trouble as trouble:
            say(words.trouble(trouble))
            return
        if found is None:
            return
        leaf = TodayLeaf(found, words, self._window)
        leaf.print_button.clicked.connect(lambda: self._print(found))
        leaf.sitting_button.clicked.connect(lambda: self._sit(found, leaf))
        leaf.destroyed.connect(self.deleteLater)
        leaf.open()

    def _sit(self, found: Today, leaf: Leaf) -> None:
        number = int(found.machine_id)
        leaf.close()
        self.sittingWanted.emit(number)

    def _print(self, found: Today) -> None:
        from app.printing import write_whole  # nobody prints on every look

        words, say = self._services.wording, self._window.machine_view.say
        name = file_name(found.sheet.machine, words.text(TITLE), str(self._hub.moment().today))
        path = self._window.ask_pdf(name)
        if path is None:
            return
        try:
            write_whole(path, today_pdf(self._services, found, paper=self._services.settings.paper))
        except Trouble as trouble:
            say(words.trouble(trouble))
        else:
            hand_over(self._window, words, path)
