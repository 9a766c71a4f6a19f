"""The rooms come to life: opens the file, builds what they need, joins menus to wishes."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from app.doors import Doors
from app.file_desk import FileDesk, begin
from app.fleet.controller import FleetController
from app.fleet.glance import keep_picture
from app.fleet.names import plain_name
from app.hub import Hub
from app.machine.controller import MachineController
from app.new_day import NewDay
from app.paper_desk import PaperDesk
from app.services import Services, services_of
from app.window import MainWindow
from app.wording.languages import msg
from models.errors import Trouble
from models.file import Household, open_household
from models.moment import Moment

BACKUP_AFTER_MS = 3000
# Menu entries that print, and what.
PAPERS = {
    "preseason": "preseason",
    "card": "card",
    "buyer": "buyer",
    "work_paper": "work",
    "shopping": "shopping",
    "rescue": "rescue",
    "fault_paper": "faults",
    "looks": "looks",
}


class Rooms(QObject):
    """Everything that belongs to the file that is open. Closing lets go of it."""

    def __init__(
        self,
        *,
        window: MainWindow,
        clock: Callable[[], Moment],
        state: Path,
        home: Path,
        made_up: bool = False,
        begin: bool = True,
    ) -> None:
        super().__init__(window)
        self._window = window
        self._clock = clock
        self._state = state
        self._home = home
        self._made_up = made_up
        self._begins = begin  # a file that was named and is not there may be a slip of the pen
        self._services: Services | None = None
        self._hub: Hub | None = None
        self._fleet: FleetController | None = None
        self._machine: MachineController | None = None
        self._doors: Doors | None = None
        self._paper: PaperDesk | None = None
        self.files = FileDesk(window=window, clock=clock, state=state, opener=self, parent=self)
        self._join_menus()
        window.rooms.currentChanged.connect(self._room_changed)
        self.open(home)
        self.new_day = NewDay(lambda: self._clock().today, self)
        self.new_day.dawned.connect(self._dawned)

    # -- opening -------------------------------------------------------------------------------

    @property
    def hub(self) -> Hub | None:
        """The seam to the file that is open."""
        return self._hub

    def open(self, path: Path) -> None:
        """Open a file; one that is not there is begun. What goes wrong is said in the room."""
        moment = self._clock()
        if self._hub is not None and os.path.realpath(path) == str(self._hub.household.path):
            self.close()  # our own lock would stand in the way
        try:
            if self._begins and path == self._home and not path.exists():
                path.parent.mkdir(parents=True, exist_ok=True)
                begin(path, moment, self._window.tongue).close()  # nobody undoes what nobody did
            household = open_household(path, moment=moment)
        except (Trouble, OSError) as trouble:
            self.files.say(trouble, path)
            return
        self.close()
        try:
            self._enter(household, moment)
        except Trouble as trouble:  # what can be opened need not be readable
            self.close()
            household.close()
            self.files.say(trouble, path)
            return
        self.files.opened(household)
        if household.writer is not None:
            QTimer.singleShot(BACKUP_AFTER_MS, self, self.files.back_up_daily)

    def _enter(self, household: Household, moment: Moment) -> None:
        """Build what the file needs, and show it. Raises Trouble."""
        services = self._services = services_of(household)
        words = services.wording
        if words.language != self._window.tongue.language:
            self._window.speak(words)
            self._join_menus()
        self._hub = Hub(household, self._clock, self)
        self._doors = Doors(window=self._window, hub=self._hub, services=services, parent=self)
        self._doors.leftFor.connect(self._machine_left)
        self._doors.paperWanted.connect(self._print)
        self._fleet = FleetController(
            hub=self._hub,
            view=self._window.view,
            words=words,
            catalogue=services.catalogue,
            parent=self,
            last_here=self._window.last_here(household.path, on=moment.today),
        )
        self._paper = PaperDesk(
            window=self._window,
            hub=self._hub,
            services=services,
            fleet=self._fleet,
            here=self._here,
        )
        self._doors.shownFor.connect(self._fleet.choose)
        self._fleet.openSample.connect(self.files.open_sample)
        self._fleet.machineWanted.connect(self._show_machine)
        self._fleet.shown.connect(self._shown)
        self._fleet.languageChanged.connect(self._reopen)
        self._machine = MachineController(
            hub=self._hub,
            view=self._window.machine_view,
            words=words,
            catalogue=services.catalogue,
            settings=self._window.settings,
            parent=self,
        )
        self._machine.leftFor.connect(self._machine_left)
        for room in (self._fleet, self._machine):
            room.paperWanted.connect(self._print)
            room.searchWanted.connect(self._doors.show_faults)
            room.worthWanted.connect(self._doors.show_worth)
        self._machine.todayWanted.connect(self._doors.show_today)
        self._fleet.seasonWanted.connect(self._doors.show_season)
        self._fleet.whyNotWanted.connect(self._doors.find_why)
        self._fleet.storageSheetWanted.connect(self._doors.show_season_sheet)
        made_up = self._made_up or household.path.parent == Path(
            os.path.realpath(self.files.sample_folder)
        )
        self._window.show_whose(services.settings.name, made_up=made_up)
        self._fleet.reload()

    def _dawned(self) -> None:
        if self._hub is not None:
            self._hub.renew()

    def _reopen(self) -> None:
        if self._hub is not None:
            self.open(self._hub.household.path)

    def close(self) -> None:
        """Let go of the file."""
        if self._doors is not None:
            self._show_fleet()
            self._doors.leave()
            self._doors.deleteLater()
            self._doors = None
        if self._machine is not None:
            self._machine.leave()
            self._machine.deleteLater()
            self._machine = None
        if self._fleet is not None:
            self._fleet.leave()
            self._fleet.deleteLater()
            self._fleet = None
        if self._hub is not None:
            self._hub.household.close()
            self._hub.deleteLater()
            self._hub = None
        self._paper = None
        self._services = None

    # -- menus ---------------------------------------------------------------------------------

    def _join_menus(self) -> None:
        joined: Mapping[str, Callable[[], object]] = {
            **self.files.ways(),
            "home": self._home_wanted,
            "quit": self._window.close,
            "machine": self._machine_wanted,
            "fleet": self._show_fleet,
            "trials": self._show_trials,
            "season": self._season_wanted,
            "fuel_room": self._show_fuel,
            "tags": self._print_tags,
            "undo": self._undo_wanted,
            "redo": self._redo_wanted,
            "preseason": self._paper_wanted,
            "card": self._paper_wanted,
            "buyer": self._paper_wanted,
            "work_paper": self._paper_wanted,
            "shopping": self._paper_wanted,
            "rescue": self._paper_wanted,
            "fault_paper": self._paper_wanted,
            "looks": self._paper_wanted,
            "find": self._window.view.look_for,
            "time": self._window.view.time.ask,
            "help_year": self._help_wanted,
            "help_keys": self._help_wanted,
            "help_data": self._help_wanted,
            "help_licences": self._help_wanted,
        }
        for name, action in self._window.actions_by_name.items():
            action.triggered.connect(joined.get(name, self._act_wanted))
            action.setObjectName(name)
        self._window.view.actWanted.connect(self._way_in)

    def _way_in(self, name: str) -> None:
        """Where no file is open, the two ways in are ours: begin a shed, or look around one."""
        if self._hub is not None:
            return
        if name == "sample":
            self.files.open_sample()
        else:
            self.files.new_wanted()
            if self._fleet is not None:
                self._fleet.act(name)

    def _act_wanted(self) -> None:
        name = self.sender().objectName()
        if self._doors is not None and self._doors.act(name):
            return
        if self._machine is not None and self._in_machine_room():
            self._machine.act(name)
        elif self._fleet is not None:
            self._show_fleet()  # what is asked for opens beside the list
            self._fleet.act(name)

    def _in_machine_room(self) -> bool:
        return self._window.rooms.currentWidget() is self._window.machine_view

    def _machine_wanted(self) -> None:
        self._show_machine(self._window.view.chosen_id() or 0)

    def _show_machine(self, number: int) -> None:
        """Go into the room of a machine."""
        if number and self._fleet is not None and self._machine is not None:
            self._fleet.choose(number)
            if self._machine.show(number):
                self._window.rooms.setCurrentWidget(self._window.machine_view)
                self._window.machine_view.task_table.setFocus()

    def _season_wanted(self) -> None:
        """Put away, get out, go over: about the machine that is looked at, if there is one."""
        if self._doors is not None:
            self._doors.show_season(self._here() or self._window.view.chosen_id() or 0)

    def _here(self) -> int:
        """The machine whose room one is in; 0 elsewhere."""
        return (self._machine.number or 0) if self._machine and self._in_machine_room() else 0

    def _show_trials(self) -> None:
        number = self._window.view.chosen_id()
        if number is not None and self._doors is not None:
            self._doors.show_trials(number)

    def _show_fleet(self) -> None:
        self._window.rooms.setCurrentWidget(self._window.view)

    def _room_changed(self) -> None:
        if self._fleet is not None and self._window.rooms.currentWidget() is self._window.view:
            self._fleet.settle()

    def _show_fuel(self) -> None:
        """Go to the cans and tanks; out of a machine's room its tank is looked at first."""
        if self._doors is not None:
            self._doors.show_fuel(self._here())

    def _machine_left(self, name: str) -> None:
        """Back to all machines, and on to what is done there."""
        self._show_fleet()
        if name and self._fleet is not None:
            self._fleet.act(name)

    def _home_wanted(self) -> None:
        self.open(self._home)

    def _undo_wanted(self) -> None:
        if self._fleet is not None:
            self._fleet.undo()

    def _redo_wanted(self) -> None:
        if self._fleet is not None:
            self._fleet.redo()

    def _help_wanted(self) -> None:
        from app.help import leaf  # nobody needs it to see the list

        shed = None if self._hub is None else self._hub.household.path
        actions = list(self._window.actions_by_name.values())
        leaf(
            self.sender().objectName(),
            self._window.tongue,
            self._window,
            actions=actions,
            shed=shed,
            state=self._state,
        ).open()

    # -- paper ---------------------------------------------------------------------------------

    def _paper_wanted(self) -> None:
        self._print(PAPERS[self.sender().objectName()])

    def _print_tags(self) -> None:
        if self._doors is not None:
            self._doors.print_tags()

    def _print(self, sort: str) -> None:
        if self._paper is not None:
            self._paper.print_sort(sort)

    # -- after each picture --------------------------------------------------------------------

    def _shown(self) -> None:
        """Name what undo would take back, and keep the picture for the next start."""
        if self._hub is None or self._services is None or self._fleet is None:
            return
        words, actions = self._services.wording, self._window.actions_by_name
        for name, label, plain in (
            ("undo", self._hub.undo_label, msg("Undo")),
            ("redo", self._hub.redo_label, msg("Redo")),
        ):
            said = words.text(plain)
            if label is not None:
                said = words.text(msg("{undo}: {act}"), undo=said, act=words.act(label))
            self._window.say_entry(name, plain_name(said))
            actions[name].setEnabled(label is not None)
        if self._hub.household.path == self._home and not self._fleet.running:
            keep_picture(
                self._home,
                self._state / "glance.db",
                self._clock,
                self._fleet.lines(),
                self._fleet.glance_head(),
            )
