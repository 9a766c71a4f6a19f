"""The fleet room's controller: asks the file, has the engine judge, turns wishes into acts."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from app.fleet.forms import Forms, Wish
from app.fleet.picture import STATE_ORDER, Pictures, Summary
from app.fleet.state import Chosen, FleetState, MachineLine
from app.fleet.view import FleetView
from app.hub import Hub, Outcome
from app.wording.wording import Wording
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.fleet import read_fleet
from models.facts.records import read_records
from models.facts.settings import read_settings
from resources.loader import Catalogue
from schedules.facts import MachineFacts, MachineId
from schedules.plan import Judging, judge

SLICE = 12
_HERE = frozenset(Area) - {Area.SHEETS}


class FleetController(QObject):
    """Keeps the view in step with the file. `openSample` asks for the made-up shed."""

    openSample = Signal()
    printWanted = Signal(int)

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
        self._forms = Forms(words=words, catalogue=catalogue)
        self._wish: Wish | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._judge_some)
        view.machineChosen.connect(self.choose)
        view.actWanted.connect(self.act)
        view.correctionWanted.connect(self.correct)
        view.answered.connect(self._answered)
        view.formLeft.connect(self._form_left)
        hub.changed.connect(self._changed)

    # -- reading -------------------------------------------------------------------------------

    def reload(self, only: frozenset[MachineId] | None = None) -> None:
        """Read the machines again (or only those) and have them judged, some at a time."""
        with self._hub.read() as session:
            settings = read_settings(session)
            facts = read_fleet(
                session, on=self._hub.moment().today, catalogue=self._catalogue, only=only
            )
        self._pictures = Pictures(
            words=self._words,
            catalogue=self._catalogue,
            policy=settings.policy,
            on=self._hub.moment().today,
        )
        self._settings = settings
        found = {machine.machine_id for machine in facts}
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
        if self._chosen_id not in self._lines:
            self._chosen_id = next(iter(self._sorted_ids()), None)
        headline, second = self._pictures.headline(list(self._summaries.values()))
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
            records = read_records(session, machine_id=number, on=on)
            facts = read_fleet(
                session, on=on, catalogue=self._catalogue, only=frozenset({MachineId(number)})
            )
        if not facts:
            return None
        self._judging = self._judge(facts[0])
        return self._pictures.chosen(self._judging, records)

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

    # -- forms ---------------------------------------------------------------------------------

    def act(self, name: str) -> None:
        """Begin an act: show its form, or hand it on."""
        if name == "sample":
            self.openSample.emit()
            return
        if name == "sheet":
            if self._chosen_id is not None:
                self.printWanted.emit(self._chosen_id)
            return
        with self._hub.read() as session:
            wish = self._forms.begin(
                name,
                session,
                judging=self._judging,
                settings=self._settings,
                moment=self._hub.moment(),
                started=self._view.task_codes(),
            )
        self._open(wish)

    def correct(self, area: str, entry_id: int) -> None:
        """Begin to correct an entry."""
        with self._hub.read() as session:
            wish = self._forms.begin_correction(
                Area(area),
                entry_id,
                session,
                judging=self._judging,
                settings=self._settings,
                moment=self._hub.moment(),
            )
        self._open(wish)

    def _open(self, wish: Wish | None) -> None:
        self._wish = wish
        if wish is not None:
            self._view.show_form(wish.page)

    def _answered(self, _key: str, answers: object) -> None:
        if self._wish is None or not isinstance(answers, dict):
            return
        self.send(self._wish, answers)  # pyright: ignore[reportUnknownArgumentType]  # Qt hands an object

    def send(self, wish: Wish, answers: dict[str, object]) -> None:
        """Turn answers into an act and carry it out; what is refused stays in the form."""
        made = wish.make(answers)
        outcome = made if isinstance(made, Refused) else self._hub.perform(made)
        form = self._view.form
        match outcome:
            case Refused():
                text = self._words.refused(outcome)
                if form is not None:
                    form.refuse(text, wish.field_of(outcome))
            case Trouble():
                if form is not None:
                    form.refuse(self._words.trouble(outcome), "")
            case Changes():
                new = [number for area, number in outcome.ids if area is Area.MACHINES]
                if wish.page.key == "add" and new:
                    self._chosen_id = new[0]
                self._form_left()
                self._notice = ""
                if not self._waiting:
                    self._show()

    def _form_left(self) -> None:
        self._wish = None
        self._view.close_form()
