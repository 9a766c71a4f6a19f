"""The fleet room's controller: asks the file, has the engine judge, turns wishes into acts."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance

from app.entry.desk import Desk
from app.fleet.picture import STATE_ORDER, Pictures, Summary
from app.fleet.state import Chosen, FleetState, MachineLine
from app.fleet.view import FleetView
from app.hub import Hub, Outcome
from app.wording.wording import Wording
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.fleet import read_fleet
from models.facts.papers import read_shelf
from models.facts.records import RecordedEntry, read_records
from models.facts.settings import read_settings
from resources.loader import Catalogue
from schedules.facts import MachineFacts, MachineId
from schedules.plan import Judging, judge

SLICE = 12
_HERE = frozenset(Area) - {Area.SHEETS}


class FleetController(QObject):
    """Keeps the view in step with the file. `shown` follows every picture."""

    openSample = Signal()
    printWanted = Signal(int)
    paperWanted = Signal(str)
    machineWanted = Signal(int)
    shown = Signal()
    languageChanged = Signal()

    def __init__(
        self, *, hub: Hub, view: FleetView, words: Wording, catalogue: Catalogue, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = words
        self._catalogue = catalogue
        self._lines: dict[int, MachineLine] = {}
        self._summaries: dict[int, Summary] = {}
        self._waiting: list[MachineFacts] = []
        self._chosen_id: int | None = None
        self._judging: Judging | None = None
        self._notice = ""
        self._records: tuple[RecordedEntry, ...] = ()
        self._shelf: Mapping[str, int] = {}
        self._speaks_anew = False
        with hub.read() as session:
            self._settings = read_settings(session)
        self._desk = Desk(hub=hub, place=view, words=words, catalogue=catalogue, parent=self)
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._judge_some)
        for signal, slot in self._joined():
            signal.connect(slot)
        hub.changed.connect(self._changed)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        view = self._view
        return (
            (view.machineChosen, self.choose),
            (view.actWanted, self.act),
            (view.correctionWanted, self.correct),
            (view.answered, self._desk.answered),
            (view.formLeft, self._desk.left),
            (self._desk.kept, self._kept),
            (self._desk.stepWanted, self._step),
        )

    # -- reading -------------------------------------------------------------------------------

    def reload(self, only: frozenset[MachineId] | None = None) -> None:
        """Read the machines again (or only those) and have them judged, some at a time."""
        try:
            with self._hub.read() as session:
                settings = read_settings(session)
                self._shelf = read_shelf(session)
                facts = read_fleet(
                    session, on=self._hub.moment().today, catalogue=self._catalogue, only=only
                )
        except Trouble as trouble:
            self._view.say(self._words.trouble(trouble))
            return
        before = (self._settings.language, self._settings.unit_system)
        self._speaks_anew = before != (settings.language, settings.unit_system)
        self._pictures = Pictures(
            words=self._words,
            catalogue=self._catalogue,
            policy=settings.policy,
            on=self._hub.moment().today,
        )
        self._settings = settings
        found = {machine.machine_id for machine in facts}
        if self._chosen_id not in found and only is None:
            self._judging = None
        for gone in (set(self._lines) if only is None else set(only)) - found:
            self._lines.pop(gone, None)
            self._summaries.pop(gone, None)
        self._waiting = list(facts)
        self._judge_some()

    def _judge_some(self) -> None:
        """Judge the next few machines; the window lives in between."""
        for facts in self._waiting[:SLICE]:
            judging = self._judge(facts)
            self._lines[facts.machine_id], self._summaries[facts.machine_id] = self._pictures.line(
                judging
            )
            if facts.machine_id == self._chosen_id:
                self._judging = judging
        del self._waiting[:SLICE]
        if self._waiting:
            self._timer.start()
            return
        self._timer.stop()
        self._show()

    def _judge(self, facts: MachineFacts) -> Judging:
        return judge(
            facts,
            on=self._hub.moment().today,
            policy=self._settings.policy,
            limits=self._catalogue.limits,
        )

    # -- showing -------------------------------------------------------------------------------

    def _show(self) -> None:
        if self._chosen_id not in self._lines and not self._waiting:
            self._chosen_id = next(iter(self._sorted_ids()), None)
        headline, second = self._pictures.headline(list(self._summaries.values()), self._shelf)
        self._view.show_state(
            FleetState(
                headline=headline,
                second=second,
                machines=tuple(self._lines[number] for number in self._sorted_ids()),
                chosen=self._chosen(),
                notice=self._notice or self._file_notice(),
                can_write=self._hub.can_write,
            )
        )
        self.shown.emit()

    def _sorted_ids(self) -> list[int]:
        return sorted(
            self._lines,
            key=lambda number: (
                STATE_ORDER[self._lines[number].state],
                -self._summaries[number].wanted,
                self._lines[number].name,
                number,
            ),
        )

    def _file_notice(self) -> str:
        notice = self._hub.household.notice
        return "" if notice is None else self._words.trouble(notice)

    def _chosen(self) -> Chosen | None:
        number = self._chosen_id
        if number is None:
            return None
        on = self._hub.moment().today
        with self._hub.read() as session:
            self._records = read_records(session, machine_id=number, on=on)
            if self._judging is None or self._judging.facts.machine_id != number:
                facts = read_fleet(
                    session, on=on, catalogue=self._catalogue, only=frozenset({MachineId(number)})
                )
                self._judging = self._judge(facts[0]) if facts else None
        if self._judging is None:
            return None
        return self._pictures.chosen(self._judging, self._records)

    def choose(self, machine_id: int) -> None:
        """Show another machine."""
        if machine_id != self._chosen_id:
            self._chosen_id = machine_id
            self._show()

    # -- changes -------------------------------------------------------------------------------

    def _changed(self, changes: Changes) -> None:
        if not changes.areas & _HERE:
            return
        machines = {number for area, number in changes.ids if area is Area.MACHINES}
        if self._pictures.on != self._hub.moment().today:
            machines.clear()  # another day: every machine is judged anew
        wide = {Area.HOUSEHOLD, Area.PLACES, Area.UNITS, Area.STORES} & changes.areas
        if wide or not machines or self._waiting:
            self.reload()
        else:
            self.reload(frozenset(MachineId(number) for number in machines))

    def undo(self) -> None:
        """Take the last act back."""
        self._answer(self._hub.undo())

    def redo(self) -> None:
        """Do it again."""
        self._answer(self._hub.redo())

    def _answer(self, outcome: Outcome | None) -> None:
        self._notice = ""
        if isinstance(outcome, Trouble):
            self._notice = self._words.trouble(outcome)
        elif isinstance(outcome, Refused):
            self._notice = self._words.refused(outcome)
        self._show()

    # -- acts ----------------------------------------------------------------------------------

    def act(self, name: str) -> None:
        """Begin an act: show its form, or hand it on."""
        if name == "sample":
            self.openSample.emit()
        elif name == "sheet":
            if self._chosen_id is not None:
                self.printWanted.emit(self._chosen_id)
        elif name == "card":
            self.paperWanted.emit(name)
        elif name == "look":
            self.machineWanted.emit(self._chosen_id or 0)
        else:
            self._desk.begin(name, self._judging)

    def correct(self, area: str, entry_id: int) -> None:
        """Begin to correct an entry of the machine that is chosen."""
        if self._judging is None:
            return
        entry = next(
            (entry for entry in self._records if entry.area == area and entry.entry_id == entry_id),
            None,
        )
        if entry is not None:
            self._desk.correct(entry, self._judging)

    def _step(self, name: str, machine_id: int) -> None:
        """An answer led on: to another form, to paper, to a machine."""
        if machine_id:
            self.choose(machine_id)
        self.act(name)

    def _kept(self, key: str, _act: object, changes: object) -> None:
        self._notice = ""
        if key == "add" and isinstance(changes, Changes):
            new = [number for area, number in changes.ids if area is Area.MACHINES]
            self._chosen_id = new[0] if new else self._chosen_id
            self._show()
        if key == "household" and self._speaks_anew:
            self.languageChanged.emit()

    # -- for whoever keeps the rooms ------------------------------------------------------------

    def lines(self) -> tuple[MachineLine, ...]:
        """The list as it is shown."""
        return tuple(self._lines[number] for number in self._sorted_ids())

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._timer.stop()
        self._waiting.clear()
        self._hub.changed.disconnect(self._changed)
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)
