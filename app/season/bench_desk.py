"""Works the bench view: the same run, the same acts, one step at a time."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QObject, Signal

from app.hub import Hub
from app.pieces.asked import Said, choice
from app.season.answering import Answering, Outcome, told
from app.season.bench import BenchView
from app.season.forms import COMPLAINT, SeasonForms
from app.season.state import SeasonState
from app.wording.wording import Wording
from models.acts.runs import AnswerStep
from models.changes import Changes
from models.words import StepAnswer


class BenchDesk(QObject):
    """Opens the bench view over the room and hands its answers to the file. `left`: the room is
    wanted again; `startFailed`: a start failed, at that card, with those answers."""

    left = Signal()
    startFailed = Signal(object, object)

    def __init__(
        self,
        *,
        hub: Hub,
        forms: SeasonForms,
        words: Wording,
        labels: dict[str, str],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._forms = forms
        self._words = words
        self._answering: Answering | None = None
        self.view = BenchView(labels, words.language)
        self.view.actWanted.connect(self._act)
        self.view.answered.connect(self._answered)
        self.view.formLeft.connect(self._form_left)

    @property
    def is_open(self) -> bool:
        """Whether the bench view is what is looked at."""
        return self.view.isVisible()

    def open(self, state: SeasonState, answering: Answering) -> None:
        """Show the step full screen."""
        self._answering = answering
        self.view.show_state(state)
        # Where nobody manages windows, full screen is only a wish.
        self.view.setGeometry(self.view.screen().geometry())
        self.view.showFullScreen()
        self.view.activateWindow()
        self.view.focus_first()

    def show_state(self, state: SeasonState) -> None:
        """Follow the run."""
        if not self.is_open:
            return
        if not state.run_id:
            self._leave()
            return
        before = self.view.card
        self.view.show_state(state)
        if before is None or state.card is None or before.place != state.card.place:
            self.view.close_form()
            self.view.focus_first()

    def _leave(self) -> None:
        if self.is_open:
            self.view.close_form()
            self.view.hide()
            self.left.emit()

    def _act(self, name: str) -> None:
        card, forms = self.view.card, self._forms
        if name == "leave" or card is None:
            self._leave()
        elif self.view.form is not None:
            return
        elif name == "done":
            self._tick()
        elif name == "bench_cannot":
            self.view.show_form(forms.cannot_in_gloves(card))
        else:
            self.view.show_form(forms.fault(card))

    def _tick(self) -> None:
        card, figures = self.view.card, self.view.figures
        if card is not None and self._answering is not None:
            typed = {} if figures is None else figures.typed()
            done = StepAnswer.DONE
            self._told(self._answering.tick(self.view.run_id, card, done, typed))

    def _answered(self, key: str, answers: Mapping[str, object]) -> None:
        card, answering = self.view.card, self._answering
        if card is None or answering is None:
            return
        day, person = self._hub.moment().today, answering.settings.person
        made: object
        if key == "way":
            way = choice(answers, "way")
            made = self._forms.made_way(way, card, run_id=self.view.run_id, day=day, by_whom=person)
        else:
            made = self._forms.made_answer(
                key,
                answers,
                run_id=self.view.run_id,
                card=card,
                day=day,
                by_whom=person,
            )
        if isinstance(made, Said):
            if self.view.form is not None:
                self.view.form.refuse(made.text, made.field)
        elif isinstance(made, AnswerStep):
            outcome = self._hub.perform(made)
            self._told(outcome)
            if isinstance(outcome, Changes) and choice(answers, COMPLAINT):
                self._leave()
                self.startFailed.emit(card, answers)

    def _told(self, outcome: Outcome) -> None:
        """What was not taken is said where it was typed."""
        if isinstance(outcome, Changes):
            return
        said, field = told(outcome, self._words)
        if self.view.form is not None:
            self.view.form.refuse(said, "")
        elif field and self.view.figures is not None:
            self.view.figures.refuse(field, said)
        else:
            self.view.say(said)

    def _form_left(self) -> None:
        self.view.close_form()
        self.view.focus_first()

    def leave(self) -> None:
        """Let go of the view; the file is about to be closed."""
        self.view.hide()
        self.view.deleteLater()
