"""The rooms come to life: opens the file, builds what they need, joins menus to wishes."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, QUrl
from PySide6.QtGui import QDesktopServices

from app.fleet.controller import FleetController
from app.fleet.glance import keep_picture
from app.fleet.names import plain_name
from app.hub import Hub
from app.machine.controller import MachineController
from app.new_day import NewDay
from app.services import Services, services_of
from app.window import MainWindow
from app.wording.languages import msg
from app.wording.wording import Wording
from app.worker import Worker
from models.acts.sheets import PrintSheet
from models.changes import Changes
from models.disk import told_of, trouble_of_writing
from models.errors import Trouble, TroubleCode
from models.file import Household, create_household, open_household
from models.moment import Moment
from models.words import Language, Paper, SheetSort
from resources.loader import load_catalogue
from schedules.units import UnitSystem

if TYPE_CHECKING:
    from app.fault_door import FaultDoor
    from app.fuel.door import FuelDoor
    from app.season_door import SeasonDoor
    from app.trials.door import TrialDoor

BACKUP_AFTER_MS = 3000


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
        self._faults: FaultDoor | None = None
        self._fuel: FuelDoor | None = None
        self._trials: TrialDoor | None = None
        self._season: SeasonDoor | None = None
        self._making: Worker | None = None
        self._join_menus()
        self.open(home)
        self.new_day = NewDay(lambda: self._clock().today, self)
        self.new_day.dawned.connect(self._dawned)

    # -- opening -------------------------------------------------------------------------------

    def open(self, path: Path) -> None:
        """Open a file; one that is not there is begun. What goes wrong is said in the room."""
        moment = self._clock()
        if self._hub is not None and os.path.realpath(path) == str(self._hub.household.path):
            self.close()  # our own lock would stand in the way
        try:
            if self._begins and path == self._home and not path.exists():
                path.parent.mkdir(parents=True, exist_ok=True)
                self._begin(path, moment).close()  # nobody undoes what nobody did
            household = open_household(path, moment=moment)
        except (Trouble, OSError) as trouble:
            self._say(trouble, path)
            return
        self.close()
        self._services = services_of(household)
        wording = self._services.wording
        if wording.language != self._window.tongue.language:
            self._window.speak(wording)
            self._join_menus()
        self._hub = Hub(household, self._clock, self)
        view = self._window.view
        self._fleet = FleetController(
            hub=self._hub,
            view=view,
            words=wording,
            catalogue=self._services.catalogue,
            parent=self,
            last_here=self._window.last_here(household.path, on=moment.today),
        )
        self._fleet.openSample.connect(self.open_sample)
        self._fleet.paperWanted.connect(self._print)
        self._fleet.machineWanted.connect(self._show_machine)
        self._fleet.seasonWanted.connect(self._show_season)
        self._fleet.searchWanted.connect(self._show_faults)
        self._fleet.worthWanted.connect(self._show_worth)
        self._machine = MachineController(
            hub=self._hub,
            view=self._window.machine_view,
            words=wording,
            catalogue=self._services.catalogue,
            parent=self,
        )
        self._machine.leftFor.connect(self._machine_left)
        self._machine.searchWanted.connect(self._show_faults)
        self._machine.worthWanted.connect(self._show_worth)
        self._machine.paperWanted.connect(self._print)
        self._fleet.shown.connect(self._shown)
        self._fleet.languageChanged.connect(self._reopen)
        self._window.show_whose(
            self._services.settings.name, made_up=self._made_up or path.parent == self._sample()
        )
        self._fleet.reload()
        if household.writer is not None:
            QTimer.singleShot(BACKUP_AFTER_MS, self, self._back_up_daily)

    def _dawned(self) -> None:
        if self._hub is not None:
            self._hub.renew()

    def _back_up_daily(self) -> None:
        """The day's backup, once the window has settled. Trouble is said, and nothing stops."""
        if self._hub is None or self._services is None:
            return
        try:
            self._hub.household.back_up_daily(moment=self._clock())
        except Trouble as trouble:
            self._window.view.say(self._services.wording.trouble(trouble))

    def _begin(self, path: Path, moment: Moment) -> Household:
        """A household's first file, with one place so that a machine can stand somewhere."""
        from models.acts.places import AddPlace

        american = self._window.tongue.language == str(Language.AMERICAN)
        return create_household(
            path,
            name=self._window.tongue.text(msg("Our shed")),
            moment=moment,
            language=Language.AMERICAN if american else Language.BRITISH,
            paper=Paper.LETTER if american else Paper.A4,
            unit_system=UnitSystem.US if american else UnitSystem.METRIC,
            currency="USD" if american else "GBP",
            first=AddPlace(name=self._window.tongue.text(msg("The shed"))),
        )

    def _sample(self) -> Path:
        return self._state / "made-up"

    def open_sample(self) -> None:
        """A copy of the made-up shed, made anew for today, while the window says so."""
        if self._making is not None:
            return
        from sample_db.build import build_sample

        path = self._sample() / "shed.firstpull"
        made = path.with_name("shed-new.firstpull")
        on = self._clock().today

        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            made.unlink(missing_ok=True)
        except OSError as trouble:
            self._say(trouble, path)
            return

        def make() -> None:
            with told_of(path, made):
                build_sample(made, on=on)

        def done(raised: BaseException | None) -> None:
            self._making = None
            self._window.view.wait("")
            if isinstance(raised, Trouble | OSError):
                self._say(raised, path)
            elif raised is not None:
                raise raised
            else:
                self._open_made(made, path)

        self._window.view.wait(self._window.tongue.text(msg("Setting up a made-up shed…")))
        self._making = Worker(make, done, self)

    def _open_made(self, made: Path, path: Path) -> None:
        self.close()
        try:
            made.replace(path)
        except OSError as trouble:
            self._say(trouble, path)
            return
        self.open(path)

    def _reopen(self) -> None:
        if self._hub is not None:
            self.open(self._hub.household.path)

    def close(self) -> None:
        """Let go of the file."""
        if self._season is not None:
            self._show_fleet()
            self._season.leave()
            self._season.deleteLater()
            self._season = None
        if self._trials is not None:
            self._show_fleet()
            self._trials.leave()
            self._trials.deleteLater()
            self._trials = None
        if self._machine is not None:
            self._machine.leave()
            self._machine.deleteLater()
            self._machine = None
            self._show_fleet()
        if self._faults is not None:
            self._faults.leave()
            self._faults.deleteLater()
            self._faults = None
        if self._fuel is not None:
            self._show_fleet()
            self._fuel.leave()
            self._fuel.deleteLater()
            self._fuel = None
        if self._fleet is not None:
            self._fleet.leave()
            self._fleet.deleteLater()
            self._fleet = None
        if self._hub is not None:
            self._hub.household.close()
            self._hub.deleteLater()
            self._hub = None
        self._services = None

    def _say(self, trouble: Trouble | OSError, path: Path) -> None:
        words = Wording(self._window.tongue.language, self._window.tongue.units, load_catalogue())
        if isinstance(trouble, OSError):
            trouble = trouble_of_writing(trouble, path)
        absent = isinstance(trouble, Trouble) and trouble.code is TroubleCode.NO_FILE
        self._window.view.say(words.trouble(trouble), calm=absent)

    # -- what is wrong, what is it worth --------------------------------------------------------

    def _fault_door(self) -> FaultDoor | None:
        """The rooms for what is wrong and what it is worth, built when they are first wanted."""
        if self._faults is None and self._hub is not None and self._services is not None:
            from app.fault_door import FaultDoor  # nobody needs it to see the list

            self._faults = FaultDoor(
                rooms=self._window.rooms,
                hub=self._hub,
                words=self._services.wording,
                catalogue=self._services.catalogue,
                parent=self,
            )
            self._faults.leftFor.connect(self._machine_left)
            self._faults.paperWanted.connect(self._print)
        return self._faults

    def _show_faults(self, number: int) -> None:
        """Go and look for what is wrong with a machine."""
        door = self._fault_door()
        if door is not None and self._fleet is not None:
            self._fleet.choose(number)
            door.show(number)

    def _show_worth(self, number: int) -> None:
        """Go and see what a machine is worth; 0: one on somebody's drive."""
        door = self._fault_door()
        if door is not None:
            door.show_worth(number)

    # -- menus ---------------------------------------------------------------------------------

    def _join_menus(self) -> None:
        joined: Mapping[str, Callable[[], None]] = {
            "open": self._open_wanted,
            "new": self._new_wanted,
            "sample": self.open_sample,
            "home": self._home_wanted,
            "backup": self._backup_wanted,
            "quit": self._quit_wanted,
            "machine": self._machine_wanted,
            "fleet": self._show_fleet,
            "fuel_room": self._show_fuel,
            "tags": self._print_tags,
            "trials": self._show_trials,
            "season": self._season_wanted,
            "undo": self._undo_wanted,
            "redo": self._redo_wanted,
            "preseason": self._print_preseason,
            "card": self._print_card,
            "buyer": self._print_buyer,
            "work_paper": self._print_work,
            "shopping": self._print_shopping,
            "rescue": self._print_rescue,
            "find": self._find_wanted,
            "time": self._time_wanted,
            "help_year": self._help_year,
            "help_keys": self._help_keys,
            "help_data": self._help_data,
            "help_licences": self._help_licences,
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
            self.open_sample()
        else:
            self._new_wanted()
            if self._fleet is not None:
                self._fleet.act(name)

    def _act_wanted(self) -> None:
        action = self.sender()
        if self._season is not None and self._season.is_open:
            self._show_fleet()  # what is asked for opens beside the list
        if self._faults is not None and self._faults.is_open:
            self._faults.controller.act(action.objectName())
        elif self._machine is not None and self._in_machine_room():
            self._machine.act(action.objectName())
        elif self._fleet is not None:
            self._show_fleet()  # what is asked for opens beside the list
            self._fleet.act(action.objectName())

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
        here = self._machine.number if self._machine and self._in_machine_room() else None
        self._show_season(here or self._window.view.chosen_id() or 0)

    def _show_season(self, number: int) -> None:
        """Go into the season room, built when it is first wanted."""
        if self._season is None and self._hub is not None and self._services is not None:
            from app.season_door import SeasonDoor  # nobody needs it to see the list

            self._season = SeasonDoor(
                window=self._window, hub=self._hub, services=self._services, parent=self
            )
            self._season.leftFor.connect(self._machine_left)
            self._season.faultWanted.connect(self._show_faults)
        if self._season is not None:
            self._season.show(number)

    def _trial_door(self) -> TrialDoor | None:
        """The room of wear and comparisons, built when it is first wanted."""
        if self._trials is None and self._hub is not None and self._services is not None:
            from app.trials.door import TrialDoor  # nobody needs it to see the list

            self._trials = TrialDoor(
                rooms=self._window.rooms,
                hub=self._hub,
                words=self._services.wording,
                catalogue=self._services.catalogue,
                parent=self,
            )
            self._trials.left.connect(self._show_fleet)
        return self._trials

    def _show_trials(self) -> None:
        number, door = self._window.view.chosen_id(), self._trial_door()
        if number is not None and door is not None:
            door.show(number)

    def _show_fleet(self) -> None:
        self._window.rooms.setCurrentWidget(self._window.view)

    def _fuel_door(self) -> FuelDoor | None:
        """The room of cans and tanks, built when it is first wanted."""
        if self._fuel is None and self._hub is not None and self._services is not None:
            from app.fuel.door import FuelDoor  # nobody needs it to see the list

            self._fuel = FuelDoor(
                window=self._window, hub=self._hub, services=self._services, parent=self
            )
            self._fuel.leftFor.connect(self._machine_left)
        return self._fuel

    def _show_fuel(self) -> None:
        """Go to the cans and tanks; out of a machine's room its tank is looked at first."""
        here = self._machine.number if self._machine and self._in_machine_room() else None
        door = self._fuel_door()
        if door is not None:
            door.show(here or 0)

    def _machine_left(self, name: str) -> None:
        """Back to all machines, and on to what is done there."""
        self._show_fleet()
        if name and self._fleet is not None:
            self._fleet.act(name)

    def _open_wanted(self) -> None:
        path = self._window.ask_file(new=False)
        if path is not None:
            self.open(path)

    def _new_wanted(self) -> None:
        path = self._window.ask_file(new=True)
        if path is None:
            return
        path = path.with_suffix(".firstpull")
        try:
            self._begin(path, self._clock()).close()
        except (Trouble, OSError) as trouble:
            self._say(trouble, path)
            return
        self.open(path)

    def _home_wanted(self) -> None:
        self.open(self._home)

    def _quit_wanted(self) -> None:
        self._window.close()

    def _undo_wanted(self) -> None:
        if self._fleet is not None:
            self._fleet.undo()

    def _redo_wanted(self) -> None:
        if self._fleet is not None:
            self._fleet.redo()

    def _find_wanted(self) -> None:
        self._window.view.look_for()

    def _time_wanted(self) -> None:
        self._window.view.time.ask()

    def _help_year(self) -> None:
        from app.help import year_leaf  # nobody needs it to see the list

        year_leaf(self._window.tongue, self._window).open()

    def _help_keys(self) -> None:
        from app.help import keys_leaf

        actions = list(self._window.actions_by_name.values())
        keys_leaf(self._window.tongue, self._window, actions).open()

    def _help_data(self) -> None:
        from app.help import data_leaf

        shed = None if self._hub is None else self._hub.household.path
        data_leaf(self._window.tongue, self._window, shed, self._state).open()

    def _help_licences(self) -> None:
        from app.help import licences_leaf

        licences_leaf(self._window.tongue, self._window).open()

    def _backup_wanted(self) -> None:
        if self._hub is None or self._services is None:
            return
        words = self._services.wording
        try:
            made = self._hub.household.back_up(moment=self._clock())
        except Trouble as trouble:
            self._window.view.say(words.trouble(trouble))
            return
        said = words.text(msg("A backup lies at {path}."), path=str(made))
        self._window.view.say(said, calm=True)

    # -- paper ---------------------------------------------------------------------------------

    def _print_preseason(self) -> None:
        self._print("preseason")

    def _print_card(self) -> None:
        self._print("card")

    def _print_buyer(self) -> None:
        self._print("buyer")

    def _print_work(self) -> None:
        self._print("work")

    def _print_shopping(self) -> None:
        self._print("shopping")

    def _print_rescue(self) -> None:
        number = self._window.view.chosen_id()
        path = None if number is None else self._window.ask_pdf("rescue.pdf")
        if number is None or path is None or self._services is None:
            return
        from app.rescue import write_rescue  # paper is not needed for the list

        words = self._services.wording
        try:
            write_rescue(self._services, number, path, moment=self._clock())
        except Trouble as trouble:
            self._window.view.say(words.trouble(trouble))
        else:
            self._window.view.say(words.text(msg("The paper lies at {path}."), path=str(path)))
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def _print_tags(self) -> None:
        door = self._fuel_door()
        if door is not None:
            door.print_tags()

    def _print(self, sort: str) -> None:
        """Make a paper: of the chosen machine, of the work that was chosen, or of all."""
        if self._services is None or self._hub is None or self._fleet is None:
            return
        from app.papers import Papers  # paper is not needed for the list

        papers = Papers(
            window=self._window,
            services=self._services,
            moment=self._clock(),
            perform=self._numbered if self._hub.can_write else None,
        )
        number, sitting = self._window.view.chosen_id(), self._fleet.sitting()
        if sort == SheetSort.SHOPPING:
            papers.print_shopping()
        elif sort == SheetSort.WORK and sitting is not None and sitting.visits:
            papers.print_work(sitting.visits)
        elif sort == SheetSort.WORK:
            said = self._services.wording.text(msg("Say first how much time there is."))
            self._window.view.say(said, calm=True)
            self._time_wanted()
        elif number is not None:
            papers.print_machine(SheetSort(sort), number)

    def _numbered(self, act: PrintSheet) -> Changes:
        """Note in the file that a sheet was printed. Raises Refused, Trouble."""
        if self._hub is None:
            raise RuntimeError("no file is open")
        outcome = self._hub.perform(act)
        if isinstance(outcome, Changes):
            return outcome
        raise outcome

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
