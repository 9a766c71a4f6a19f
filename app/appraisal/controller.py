"""The appraisal's controller: figures and looks in, the engine's offer out, nothing entered
unless the stop line of a search is drawn."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject, Signal

from app.appraisal.picture import AppraisalWords
from app.appraisal.view import FIGURES, AppraisalView
from app.appraisal.wreck import Appraised, Asking, appraise
from app.causes.known import fitting, known_of, opening_state, symptoms
from app.causes.picture import FaultWords, fault_words
from app.causes.room_picture import SearchPicture
from app.hub import Hub
from app.pieces.asked import Said, amount
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.searches import StopWhen
from models.changes import Changes
from models.errors import Refused
from models.facts.fleet import read_fleet
from models.facts.searches import Search, read_finds, read_searches
from models.facts.settings import read_settings
from resources.loader import Catalogue
from schedules.facts import MachineId
from schedules.fault_facts import FaultModel, OutcomeId, ReadingId, SymptomId
from schedules.fault_state import FaultState, Record, noticed
from schedules.plan import Judging, judge

# A machine that comes without its engine's sort is taken for the commonest: four-stroke.
FIRST = SymptomId("S1F")


class AppraisalController(QObject):
    """Keeps the number in step with what is typed. `leftFor`: the room is done with."""

    leftFor = Signal(str)
    paperWanted = Signal(str)

    def __init__(
        self,
        *,
        hub: Hub,
        view: AppraisalView,
        words: Wording,
        catalogue: Catalogue,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = fault_words(words, hub.household.path)
        self._catalogue = catalogue
        self._model: FaultModel = self._words.models.models[FIRST]
        self._begun: FaultState | None = None
        self._search: Search | None = None
        self._found: Appraised | None = None
        self._currency = ""
        self._spent = ""
        view.changed.connect(self.reckon)
        view.fold_button.toggled.connect(self.reckon)
        view.actWanted.connect(self._act)

    def show(self, number: int) -> None:
        """Appraise a machine of the file (its search, when one runs), or one on a drive (0)."""
        on = self._hub.moment().today
        with self._hub.read() as session:
            settings = read_settings(session)
            finds = read_finds(session)
            searches = read_searches(session, on=on, machine_id=number, only_open=True)
            facts = read_fleet(
                session, on=on, catalogue=self._catalogue, only=frozenset({MachineId(number)})
            )
        self._currency = settings.currency
        judging = (
            judge(facts[0], on=on, policy=settings.policy, limits=self._catalogue.limits)
            if facts
            else None
        )
        models = self._words.models
        self._search = next(
            (fitting(models, one) for one in searches if one.symptom in models.models), None
        )
        self._spent = ""
        if self._search is not None:
            self._model = models.models[SymptomId(self._search.symptom)]
        elif judging is not None:
            self._model = _will_not_start(self._words, judging)
        record: Mapping[str, Record] = {} if judging is None else known_of(judging, on=on).record
        self._begun = opening_state(models, self._model, record=record, facts={}, finds=finds)
        if self._search is not None and judging is not None:
            picture = SearchPicture(
                words=self._words,
                judging=judging,
                known=known_of(judging, on=on),
                told={},
                finds=finds,
                on=on,
                currency=self._currency,
            )
            self._begun = picture.state(self._search, self._model)
            self._spent = picture.spent(self._search, self._model)
        self.reckon()
        self._view.figures["asked"].setFocus()

    def reckon(self) -> None:
        """Reckon anew from what stands in the fields."""
        if self._begun is None:
            return
        asking = self._asking()
        if isinstance(asking, Said):
            self._view.say(asking.text)
            return
        self._view.say("")
        state = self._state(self._begun)
        self._found = appraise(
            self._model, state, asking, with_looks=self._view.fold_button.isChecked()
        )
        said = AppraisalWords(words=self._words, currency=self._currency)
        self._view.show_state(
            said.show(
                self._model,
                state,
                asking,
                self._found,
                spent=self._spent,
                can_draw=bool(asking.running) and self._search is not None and self._hub.can_write,
            )
        )

    def _state(self, begun: FaultState) -> FaultState:
        state = begun
        for code, tiles in self._view.looks.items():
            given = tiles.value()
            if given:
                state = noticed(self._model, state, ReadingId(code), OutcomeId(given))
        return state

    def _asking(self) -> Asking | Said:
        found: dict[str, int] = {}
        for name in FIGURES:
            typed = {name: self._view.figures[name].text()}
            cents = amount(typed, name, self._words.words, self._currency)
            if isinstance(cents, Said):
                return cents
            found[name] = cents or 0
        found["high"] = max(found["high"], found["low"])
        return Asking(**found)

    def _act(self, name: str) -> None:
        if name == "back":
            self.leftFor.emit("")
        elif name == "pocket":
            self.paperWanted.emit("looks")
        elif name == "draw" and self._search is not None and self._found is not None:
            outcome = self._hub.perform(
                StopWhen(
                    search_id=self._search.search_id,
                    minutes=self._found.minutes,
                    cents=self._found.cents,
                )
            )
            words = self._words.words
            if isinstance(outcome, Changes):
                self._view.say(words.text(msg("The line is drawn: it stands beside the search.")))
            elif isinstance(outcome, Refused):
                self._view.say(words.refused(outcome))
            else:
                self._view.say(words.trouble(outcome))

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._view.changed.disconnect(self.reckon)
        self._view.fold_button.toggled.disconnect(self.reckon)
        self._view.actWanted.disconnect(self._act)


def _will_not_start(words: FaultWords, judging: Judging) -> FaultModel:
    """The first model that fits the kind, which is the one for what will not start."""
    found = symptoms(words.models, judging.facts.kind.code)
    return found[0].model if found else words.models.models[FIRST]
