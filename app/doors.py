"""The rooms that are built when they are first wanted: nobody needs them to see the list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from app.hub import Hub
from app.services import Services
from app.window import MainWindow
from schedules.facts import MachineId

if TYPE_CHECKING:
    from app.fault_door import FaultDoor
    from app.fuel.door import FuelDoor
    from app.season.started import FailedStart
    from app.season_door import SeasonDoor
    from app.trials.door import TrialDoor


class Doors(QObject):
    """Leads into the rooms of faults, fuel, comparisons and seasons of the file that is open.

    `leftFor`: out of a room to the list, and on to an act there (empty: none). `shownFor`: the
    machine that is looked at now.
    """

    leftFor = Signal(str)
    paperWanted = Signal(str)
    shownFor = Signal(int)

    def __init__(
        self, *, window: MainWindow, hub: Hub, services: Services, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._hub = hub
        self._services = services
        self._faults: FaultDoor | None = None
        self._fuel: FuelDoor | None = None
        self._trials: TrialDoor | None = None
        self._season: SeasonDoor | None = None

    def leave(self) -> None:
        """Let go of every room that was built."""
        built = (self._season, self._trials, self._faults, self._fuel)
        self._season = self._trials = self._faults = self._fuel = None
        for door in built:
            if door is not None:
                door.leave()
                door.deleteLater()

    def act(self, name: str) -> bool:
        """Hand an act to the room in front; False when it is none of these."""
        if self._season is not None and self._season.is_open:
            self.leftFor.emit("")  # what is asked for opens beside the list
        if self._faults is not None and self._faults.is_open:
            self._faults.controller.act(name)
            return True
        return False

    def show_faults(self, number: int) -> None:
        """Go and look for what is wrong with a machine."""
        self.shownFor.emit(number)
        self._fault_door().show(number)

    def _show_failed(self, failed: FailedStart) -> None:
        self.shownFor.emit(failed.machine_id)
        self._fault_door().show_failed(failed)

    def find_why(self, number: int, said: str) -> None:
        """Go and look for why a machine that has just come will not start. `said`: the answers
        about its rest that fit what was told, with commas between."""
        from app.faults.came import not_starting

        only = frozenset({MachineId(number)})
        for judging in self._services.fleet(on=self._hub.moment().today, only=only):
            fits = tuple(one for one in said.split(",") if one)
            found = not_starting(judging, fits, self._services.wording)
            if found is None:
                self.show_faults(number)
            else:
                self._show_failed(found)

    def show_worth(self, number: int) -> None:
        """Go and see what a machine is worth; 0: one on somebody's drive."""
        self._fault_door().show_worth(number)

    def _fault_door(self) -> FaultDoor:
        if self._faults is None:
            from app.fault_door import FaultDoor

            self._faults = FaultDoor(
                rooms=self._window.rooms,
                hub=self._hub,
                words=self._services.wording,
                catalogue=self._services.catalogue,
                parent=self,
            )
            self._faults.leftFor.connect(self.leftFor)
            self._faults.paperWanted.connect(self.paperWanted)
        return self._faults

    def show_season(self, number: int) -> None:
        """Put away, get out, go over."""
        self._season_door().show(number)

    def show_today(self, number: int) -> None:
        """What it takes to have a machine start today."""
        from app.today_desk import TodayDesk

        desk = TodayDesk(window=self._window, hub=self._hub, services=self._services, parent=self)
        desk.sittingWanted.connect(self._show_day_out)
        desk.show(number)

    def _show_day_out(self, number: int) -> None:
        self._season_door().show_day_out(number)

    def show_season_sheet(self, number: int) -> None:
        """Enter what a storage sheet says."""
        self._season_door().enter_sheet(number)

    def _season_door(self) -> SeasonDoor:
        if self._season is None:
            from app.season_door import SeasonDoor

            self._season = SeasonDoor(
                window=self._window, hub=self._hub, services=self._services, parent=self
            )
            self._season.leftFor.connect(self.leftFor)
            self._season.faultWanted.connect(self.show_faults)
            self._season.startFailed.connect(self._show_failed)
        return self._season

    def show_trials(self, number: int) -> None:
        """See how the parts of a machine wear, and compare before with after."""
        if self._trials is None:
            from app.trials.door import TrialDoor

            self._trials = TrialDoor(
                rooms=self._window.rooms,
                hub=self._hub,
                words=self._services.wording,
                catalogue=self._services.catalogue,
                parent=self,
            )
            self._trials.left.connect(self._left)
        self._trials.show(number)

    def _left(self) -> None:
        self.leftFor.emit("")

    def show_fuel(self, number: int) -> None:
        """Go to the cans and tanks; a machine's own tank is looked at first."""
        self._fuel_door().show(number)

    def print_tags(self) -> None:
        """Print the tags of cans and tanks."""
        self._fuel_door().print_tags()

    def _fuel_door(self) -> FuelDoor:
        if self._fuel is None:
            from app.fuel.door import FuelDoor

            self._fuel = FuelDoor(
                window=self._window, hub=self._hub, services=self._services, parent=self
            )
            self._fuel.leftFor.connect(self.leftFor)
        return self._fuel
