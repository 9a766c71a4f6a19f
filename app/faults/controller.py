"""The fault room's controller: one search read and reckoned; wishes become acts on the file."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, Signal, SignalInstance

from app.causes.known import find_symptom, fitting, known_of, symptoms
from app.causes.picture import HELPED, fault_words
from app.causes.room_picture import SearchPicture
from app.entry.desk import Desk
from app.faults.answers import Answered
from app.faults.doing import Doing
from app.faults.forms import A_TRY, FaultForms
from app.faults.thinking import READING_MS, Thinking
from app.faults.view import FaultView
from app.hub import Hub
from app.pieces.asked import Said
from app.wording.wording import Wording
from models.acts.searches import (
    CountFind,
    TakeBackStep,
)
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.searches import Search, read_finds, read_searches, read_told
from models.facts.settings import read_settings
from models.words import SearchEnd
from models.writer import Act
from resources.loader import Catalogue
from schedules.fault_facts import CauseId, FaultModel, ReadingId, SymptomId
from schedules.fault_search import Plan
from schedules.fault_state import FaultState
from schedules.faults import Advice, AdviceKind, likely
from schedules.plan import Judging

_THINKS = frozenset({AdviceKind.TEST, AdviceKind.CURE})


class FaultController(QObject):
    """Keeps the room in step with the search of one machine.

    `leftFor`: the room is done with, and that act is wanted elsewhere. `reading_ms`: how long a
    card may still change.
    """

    leftFor = Signal(str)
    paperWanted = Signal(str)
    worthWanted = Signal(int)
    cardShown = Signal()

    def __init__(
        self,
        *,
        hub: Hub,
        view: FaultView,
        words: Wording,
        catalogue: Catalogue,
        parent: QObject,
        reading_ms: int = READING_MS,
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = fault_words(words, hub.household.path)
        self._forms = FaultForms(words=self._words)
        self._desk = Desk(hub=hub, place=view, words=words, catalogue=catalogue, parent=self)
        self._reading_ms = reading_ms
        self._number: int | None = None
        self._judging: Judging | None = None
        self._search: Search | None = None
        self._picture: SearchPicture | None = None
        self._advice: Advice | None = None
        self._thinking: Thinking | None = None
        self._symptom = ""
        self._step = 0
        self._anew = False
        for signal, slot in self._joined():
            signal.connect(slot)
        hub.changed.connect(self._changed)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        view = self._view
        return (
            (view.symptomChosen, self._symptom_chosen),
            (view.outcomeChosen, self._outcome),
            (view.factTold, self._fact),
            (view.actWanted, self.act),
            (view.changeWanted, self._change),
            (view.putBackWanted, self._put_back),
            (view.asideWanted, self._aside),
            (view.findCounted, self._count),
            (view.answered, self._answered),
            (view.formLeft, self._form_left),
            (view.touched, self._reads),
        )

    @property
    def number(self) -> int | None:
        """The machine that is shown."""
        return self._number

    @property
    def search(self) -> Search | None:
        """The search that is shown."""
        return self._search

    # -- showing -----------------------------------------------------------------------------

    def show(self, number: int) -> bool:
        """Show the search of a machine, or what can be wrong with it; False: it is not there."""
        self._desk.left()
        self._view.close_form()
        self._number = number
        self._anew = False
        return self.reload()

    def reload(self, notice: str = "") -> bool:
        """Read the search again and reckon anew; False when the machine is not there any more."""
        if self._number is None:
            return False
        number, on = self._number, self._hub.moment().today
        self._words = fault_words(self._words.words, self._hub.household.path)
        self._forms = FaultForms(words=self._words)
        models = self._words.models
        tools = frozenset(str(code) for code, fact in models.facts.items() if fact.assumed)
        try:
            judging = self._desk.judged(number)
            with self._hub.read() as session:
                settings = read_settings(session)
                searches = read_searches(session, on=on, machine_id=number)
                finds = read_finds(session)
                told = dict(read_told(session, machine_id=number, tools=tools))
        except Trouble as trouble:
            self._view.say(self._words.words.trouble(trouble))
            return True
        self._judging = judging
        if judging is None:
            return False
        known = tuple(
            fitting(models, one) for one in searches if SymptomId(one.symptom) in models.models
        )
        self._search = shown_search(known, None if self._anew else self._search)
        self._picture = SearchPicture(
            words=self._words,
            judging=judging,
            known=known_of(judging, on=on),
            told=told,
            finds=finds,
            on=on,
            currency=settings.currency,
        )
        self._show(notice)
        return True

    def _show(self, notice: str = "") -> None:
        picture, judging = self._picture, self._judging
        if picture is None or judging is None:
            return
        self._reads()
        can_write = self._hub.can_write
        if self._search is None:
            found = symptoms(self._words.models, judging.facts.kind.code)
            state = picture.choosing(found, can_write=can_write, notice=notice)
            self._advice = None
            self._view.show_state(state)
            return
        model = self._model()
        if self._search.closed_on is not None:
            self._view.show_state(
                picture.ended(self._search, model, can_write=can_write, notice=notice)
            )
            return
        state = picture.state(self._search, model)
        self._advice = picture.advice(self._search, model, state)
        self._view.show_state(
            picture.searching(self._search, model, self._advice, can_write=can_write, notice=notice)
        )
        self._view.focus_first()
        if self._advice.kind in _THINKS and not self._advice.ask and not self._search.paused_on:
            self._think(model, state)
        else:
            self.cardShown.emit()

    def _model(self) -> FaultModel:
        symptom = "" if self._search is None else self._search.symptom
        return self._words.models.models[SymptomId(symptom)]

    def _state(self) -> FaultState | None:
        if self._picture is None or self._search is None:
            return None
        return self._picture.state(self._search, self._model())

    # -- looking further ahead ---------------------------------------------------------------

    def _think(self, model: FaultModel, state: FaultState) -> None:
        """The better step takes the place of the first one, as long as nobody reads yet."""

        def better(plan: Plan | None) -> None:
            self._thinking = None
            picture, search, before = self._picture, self._search, self._advice
            if picture is None or search is None or before is None or plan is None:
                self.cardShown.emit()  # what stands is all there was time for
                return
            advice = picture.advice(search, model, state, plan)
            same = (advice.kind, advice.reading, advice.cause) == (
                before.kind,
                before.reading,
                before.cause,
            )
            if not same:
                self._advice = advice
                self._view.show_state(
                    picture.searching(
                        search, model, advice, can_write=self._hub.can_write, ahead=True
                    )
                )
                self._view.focus_first()
            self.cardShown.emit()

        self._thinking = Thinking(model, state, better, self, reading_ms=self._reading_ms)

    def _reads(self) -> None:
        if self._thinking is not None:
            self._thinking.reading()
            self._thinking = None

    # -- wishes ------------------------------------------------------------------------------

    def act(self, name: str) -> None:
        """What a button or a menu asks for."""
        self._reads()
        simple: Mapping[str, Callable[[], object]] = {
            "not_sure": lambda: self._do(Doing.unclear),
            "cannot": lambda: self._do(Doing.cannot),
            "cannot_cure": self._pause,
            "try_later": lambda: self._pause(A_TRY),
            "pause": self._pause,
            "resume": self._resume,
            "left_off": lambda: self._open_form(self._forms.left_off()),
            "stop": self._stop,
            "end": self._end,
            "it_works": self._it_works,
            "still_not": self._still_not,
            "workshop": lambda: self._end(ending=SearchEnd.WORKSHOP),
            "part": self._part,
            "go_on": self._go_on,
            "done_over": self._over,
            "skip_over": self._over,
            "new": self._begin_anew,
        }
        if name in simple:
            simple[name]()
        elif name == "print":
            self.paperWanted.emit("faults")
        elif name == "worth":
            self.worthWanted.emit(self._number or 0)
        elif name == "note":
            self._desk.begin("fault", self._judging)
        else:
            self._desk.left()
            self.leftFor.emit("" if name == "back" else name)

    def _open_form(self, page: object) -> None:
        self._view.show_form(page)  # type: ignore[arg-type]

    def _begin_anew(self) -> None:
        self._anew = True
        self._search = None
        self.reload()

    def _symptom_chosen(self, code: str) -> None:
        found = find_symptom(self._words.models, code)
        if len(found) == 1:
            self._symptom = code
            self._view.show_form(self._forms.seen(found[0]))

    def _doing(self) -> Doing | None:
        """The search with its step of now, when there is one."""
        if self._search is None or self._advice is None:
            return None
        on = self._hub.moment().today
        return Doing(search=self._search, advice=self._advice, on=on)

    def _do(self, wanted: Callable[[Doing], Act | None]) -> bool:
        doing = self._doing()
        act = None if doing is None else wanted(doing)
        return act is not None and self._perform(act)

    def _outcome(self, code: str) -> None:
        advice = self._advice
        done = self._do(lambda doing: doing.outcome(code))
        if done and advice is not None and advice.kind is AdviceKind.CURE and code == HELPED:
            self._end(cause=str(advice.cause), ending=SearchEnd.CURED)

    def _fact(self, value: str) -> None:
        self._do(lambda doing: doing.fact(value))

    def _change(self, step_id: int) -> None:
        search = self._search
        step = None
        if search is not None:
            step = next((one for one in search.steps if one.step_id == step_id), None)
        if step is not None:
            self._step = step_id
            page = self._forms.change(self._model(), ReadingId(step.subject), step.answer)
            self._view.show_form(page)

    def _put_back(self, step_id: int) -> None:
        self._perform(TakeBackStep(step_id=step_id))

    def _aside(self, subject: str) -> None:
        self._do(lambda doing: doing.aside(subject))

    def _count(self, search_id: int, counts: bool) -> None:  # noqa: FBT001  (a signal's)
        self._perform(CountFind(search_id=search_id, counts=counts))

    def _pause(self, waits_for: str = "") -> None:
        self._open_form(self._forms.pause(self._hub.moment().today, waits_for))

    def _resume(self) -> None:
        self._do(Doing.resume)

    def _stop(self) -> None:
        if self._search is not None and self._picture is not None:
            self._open_form(self._forms.stop(self._search, self._picture.currency))

    def _over(self) -> None:
        self._do(Doing.looked_over)

    def _end(self, *, cause: str = "", ending: SearchEnd = SearchEnd.GIVEN_UP) -> None:
        state = self._state()
        if state is not None:
            found = likely(self._model(), state)
            shown = self._view.shown
            loose = () if shown is None else tuple(one.text for one in shown.left_off)
            self._open_form(
                self._forms.end(
                    found, cause=cause, ending=ending, loose=loose, others=self._others()
                )
            )

    def _others(self) -> tuple[tuple[str, str], ...]:
        """The faults noted of the machine beside the one that is looked for."""
        mine = None if self._search is None else self._search.fault_id
        noted = () if self._judging is None else self._judging.facts.faults
        return tuple((str(fault.fault_id), fault.text) for fault in noted if fault.fault_id != mine)

    def _it_works(self) -> None:
        cause = "" if self._advice is None else str(self._advice.cause or "")
        self._end(cause=cause, ending=SearchEnd.CURED)

    def _still_not(self) -> None:
        self._do(Doing.still_not)

    def _part(self) -> None:
        advice = self._advice
        if advice is None or advice.cause is None or advice.cure is None:
            return
        cure = self._model().cause(CauseId(advice.cause)).cures[advice.cure]
        text = self._words.words.text(cure.text)
        self._open_form(self._forms.part(text, cure.days))

    def _go_on(self) -> None:
        doing = self._doing()
        for act in () if doing is None else doing.go_on():
            if not self._perform(act):
                return

    # -- answers of forms --------------------------------------------------------------------

    def _answered(self, key: str, answers: Mapping[str, object]) -> None:
        if self._judging is None or self._picture is None:
            return
        about = Answered(
            words=self._words,
            judging=self._judging,
            search=self._search,
            symptom=self._symptom,
            step_id=self._step,
            currency=self._picture.currency,
            on=self._hub.moment().today,
        )
        made = about.made(key, answers)
        if made is None:
            self._desk.answered(key, answers)
            return
        if isinstance(made, Said):
            form = self._view.form
            if form is not None:
                form.refuse(made.text, made.field)
            return
        if key == "seen":
            self._anew = False
        for act in made:
            if not self._perform(act):
                return
        self._view.close_form()
        self._view.focus_first()

    def _form_left(self) -> None:
        self._desk.left()
        self._view.close_form()

    # -- the file ----------------------------------------------------------------------------

    def _perform(self, act: Act) -> bool:
        outcome = self._hub.perform(act)
        if isinstance(outcome, Changes):
            return True
        words = self._words.words
        said = words.refused(outcome) if isinstance(outcome, Refused) else words.trouble(outcome)
        form = self._view.form
        if form is not None:
            form.refuse(said, "")
        else:
            self._view.say(said)
        return False

    def _changed(self, changes: Changes) -> None:
        if self._number is None:
            return
        named = {number for area, number in changes.ids if area is Area.MACHINES}
        wide = changes.areas & {Area.HOUSEHOLD, Area.PLACES, Area.UNITS}
        if (wide or not named or self._number in named) and not self.reload():
            self._number = None
            self.leftFor.emit("")

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._reads()
        self._hub.changed.disconnect(self._changed)
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)


def shown_search(known: tuple[Search, ...], shown: Search | None) -> Search | None:
    """The one that runs; else the one that was shown, until another is begun."""
    runs = next((one for one in known if one.closed_on is None), None)
    if runs is not None or shown is None:
        return runs
    return next((one for one in known if one.search_id == shown.search_id), None)
