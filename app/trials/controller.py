"""The controller of measurements and comparisons: one machine, its wear, its trials."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal, SignalInstance

from app.entry.desk import Desk
from app.entry.questions import Wish
from app.hub import Hub
from app.pieces.asked import Said
from app.trials.forms import TrialForms
from app.trials.picture import TrialsPicture
from app.trials.view import TrialsView
from app.wording.wording import Wording
from models.acts.corrections import StrikeEntry
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.settings import read_settings
from models.facts.trials import Trial, read_trials
from models.words import TrialSide
from resources.loader import Catalogue
from resources.protocols import load_protocols
from schedules.plan import Judging

_WIDE = frozenset({Area.HOUSEHOLD, Area.PLACES, Area.UNITS})


class TrialsController(QObject):
    """Keeps the room in step with one machine. `left`: the room is done with."""

    left = Signal()

    def __init__(
        self, *, hub: Hub, view: TrialsView, words: Wording, catalogue: Catalogue, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = words
        self._desk = Desk(hub=hub, place=view, words=words, catalogue=catalogue, parent=self)
        self._number: int | None = None
        self._judging: Judging | None = None
        self._trials: tuple[Trial, ...] = ()
        for signal, slot in self._joined():
            signal.connect(slot)
        hub.changed.connect(self._changed)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        view = self._view
        return (
            (view.leftWanted, self._leave_room),
            (view.measureWanted, self._measure),
            (view.actWanted, self.act),
            (view.strikeWanted, self._strike),
            (view.answered, self._desk.answered),
            (view.formLeft, self._desk.given_up),
        )

    def show(self, number: int) -> bool:
        """Show a machine; False when it is not there."""
        self._desk.left()
        self._number = number
        return self.reload()

    def reload(self, notice: str = "") -> bool:
        """Read and judge the machine again; False when it is not there any more."""
        if self._number is None:
            return False
        on, protocols = self._hub.moment().today, load_protocols()
        try:
            judging = self._desk.judged(self._number)
            if judging is None:
                return False
            with self._hub.read() as session:
                system = read_settings(session).unit_system
                self._trials = read_trials(
                    session,
                    machine_id=self._number,
                    protocols=protocols,
                    on=on,
                )
        except Trouble as trouble:
            self._view.say(self._words.trouble(trouble))
            return True
        self._judging = judging
        picture = TrialsPicture(words=self._words, protocols=protocols, system=system)
        self._view.show_state(
            picture.show(judging, self._trials, can_write=self._hub.can_write, notice=notice)
        )
        return True

    def act(self, name: str, trial_id: int) -> None:
        """Begin an act of a comparison."""
        wish = self._wish(name, trial_id)
        if isinstance(wish, Said):
            self._view.say(wish.text)
        elif wish is not None and self._judging is not None:
            self._desk.open(wish, self._judging)

    def _wish(self, name: str, trial_id: int) -> Wish | Said | None:
        if self._judging is None:
            return None
        with self._hub.read() as session:
            system = read_settings(session).unit_system
        forms = TrialForms(
            words=self._words,
            protocols=load_protocols(),
            system=system,
            moment=self._hub.moment(),
        )
        facts = self._judging.facts
        if name == "begin":
            return forms.begin(facts.machine_id, facts.kind.code)
        trial = next((one for one in self._trials if one.trial_id == trial_id), None)
        if trial is None:
            return None
        match name:
            case "set_before":
                return forms.conditions(trial, TrialSide.BEFORE)
            case "set_after":
                return forms.conditions(trial, TrialSide.AFTER)
            case "add_before":
                return forms.values(trial, TrialSide.BEFORE)
            case "add_after":
                return forms.values(trial, TrialSide.AFTER)
            case "add_other":
                return forms.values(trial, None)
            case "close":
                return forms.close(trial)
            case _:
                return None

    def _measure(self, key: str) -> None:
        self._desk.begin("measure", self._judging)
        self._view.mean("limit", key)

    def _strike(self, _trial_id: int, value_id: int) -> None:
        outcome = self._hub.perform(StrikeEntry(area=Area.TRIALS, entry_id=value_id))
        if isinstance(outcome, Refused):
            self._view.say(self._words.refused(outcome))
        elif isinstance(outcome, Trouble):
            self._view.say(self._words.trouble(outcome))

    def _leave_room(self) -> None:
        self._desk.left()
        self.left.emit()

    def _changed(self, changes: Changes) -> None:
        if self._number is None:
            return
        named = {number for area, number in changes.ids if area is Area.MACHINES}
        wide = changes.areas & _WIDE
        if (wide or not named or self._number in named) and not self.reload():
            self._number = None
            self.left.emit()

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._hub.changed.disconnect(self._changed)
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)
