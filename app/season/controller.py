"""The season room's controller: machines chosen, a list laid down, its steps answered."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance

from app.hub import Hub
from app.pieces.asked import Said, choice
from app.season.acts import finished, first_fault, loose_at
from app.season.answering import Answering, Outcome, told
from app.season.bench_desk import BenchDesk
from app.season.choosing import Choosing
from app.season.forms import COMPLAINT, SeasonForms
from app.season.labels import season_labels
from app.season.laying import Row
from app.season.over import jobs_after, unknown_choices
from app.season.picture import SeasonPicture
from app.season.reading import read_shed
from app.season.sheet_desk import KEY, SheetDesk
from app.season.started import failed_start
from app.season.state import SeasonCard
from app.season.view import SeasonView
from app.wording.sittings import SittingWords
from app.wording.wording import Wording
from models.acts.runs import (
    SayNotYet,
    StartTimer,
)
from models.changes import Area, Changes
from models.errors import Trouble
from models.facts.runs import (
    LeftOffFacts,
    RunFacts,
)
from models.words import StepAnswer
from models.writer import Act
from resources.loader import Catalogue
from resources.storage import load_sitting_rules
from schedules.facts import MachineId
from schedules.sitting_facts import RunSort

CLOCK_MS = 5000
# The forms about a step; others that open in this room are not its own.
ABOUT_STEP = frozenset({"cannot", "fault", "stop"})


class SeasonController(QObject):
    """Keeps the room in step with the runs of the file.

    `leftFor`: the room is done with, and that act is wanted elsewhere ("" for none); `paperWanted`:
    a paper of the machines that are shown; `startFailed`: a `FailedStart`, to be looked into.
    """

    leftFor = Signal(str)
    paperWanted = Signal(str)
    faultWanted = Signal(int)
    startFailed = Signal(object)

    def __init__(
        self, *, hub: Hub, view: SeasonView, words: Wording, catalogue: Catalogue, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = words
        self._catalogue = catalogue
        self._said = SittingWords(words=words, rules=load_sitting_rules())
        self._forms = SeasonForms(said=self._said)
        labels = season_labels(words)
        self._sheets = SheetDesk(hub=hub, said=self._said, catalogue=catalogue)
        self.bench = BenchDesk(hub=hub, forms=self._forms, words=words, labels=labels, parent=self)
        self._choosing = Choosing()
        self._row: Row | None = None
        self._runs: tuple[RunFacts, ...] = ()
        self._loose: tuple[LeftOffFacts, ...] = ()
        self._answering: Answering | None = None
        self._run_id = 0
        self._clock = QTimer(self)
        self._clock.setInterval(CLOCK_MS)
        self._clock.timeout.connect(self._tick)
        for signal, slot in self._joined():
            signal.connect(slot)
        hub.changed.connect(self._changed)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        view = self._view
        return (
            (view.sortChosen, self._sort_chosen),
            (view.machineTicked, self._machine_ticked),
            (view.optionChosen, self._option_chosen),
            (view.notYet, self._not_yet),
            (view.dayOnly, self._day_only_chosen),
            (view.runWanted, self._go_on),
            (view.actWanted, self.act),
            (view.answered, self._answered),
            (view.formLeft, self._form_left),
            (self.bench.startFailed, self._start_failed),
        )

    @property
    def _person(self) -> str:
        return "" if self._answering is None else self._answering.settings.person

    @property
    def machine_ids(self) -> tuple[MachineId, ...]:
        """The machines of the run that is shown, else those that are chosen."""
        run = self._run()
        if run is not None:
            return tuple(one.machine_id for one in run.machines)
        return tuple(self._choosing.wanted)

    # -- showing -------------------------------------------------------------------------------

    def show(self, number: int = 0) -> None:
        """Show the run of a machine, or the machines with that one chosen."""
        self._view.close_form()
        self._run_id = 0
        self._choosing.wanted = {}
        if not self._read():
            return
        here = MachineId(number)
        run = next(
            (run for run in self._runs if here in [one.machine_id for one in run.machines]), None
        )
        if run is not None:
            self._run_id = run.run_id
        elif self._row is not None and here in self._row.machines:
            self._choosing.begin_with(self._row, here)
        self._show()
        self._view.focus_first()

    def reload(self, notice: str = "") -> None:
        """Read it all again."""
        if self._read():
            self._show(notice)

    def _read(self) -> bool:
        try:
            shed = read_shed(self._hub, self._catalogue, run_id=self._run_id)
        except Trouble as trouble:
            self._view.say(self._words.trouble(trouble))
            return False
        self._row, self._runs, self._loose = shed.row, shed.runs, shed.loose
        if self._answering is None or self._answering.settings != shed.settings:
            self._answering = Answering(hub=self._hub, words=self._words, settings=shed.settings)
        self._choosing.keep(shed.row)
        return True

    def _run(self) -> RunFacts | None:
        return next((run for run in self._runs if run.run_id == self._run_id), None)

    def _picture(self) -> SeasonPicture | None:
        if self._row is None:
            return None
        return SeasonPicture(said=self._said, row=self._row, can_write=self._hub.can_write)

    def _show(self, notice: str = "") -> None:
        picture, run = self._picture(), self._run()
        if picture is None:
            return
        if run is None:
            self._run_id = 0
            going = tuple(one for one in self._runs if one.finished_on is None)
            chosen = self._choosing
            state = picture.choosing(
                chosen.sort, chosen.wanted, going, day_only=chosen.day_only, notice=notice
            )
        else:
            now = self._hub.moment().now
            state = picture.running(run, self._loose, now=now, notice=notice)
        self._view.show_state(state)
        self.bench.show_state(state)
        if run is not None and run.timers and run.finished_on is None:
            self._clock.start()
        else:
            self._clock.stop()

    def _tick(self) -> None:
        picture, run = self._picture(), self._run()
        if picture is not None and run is not None:
            lines = picture.clocks(run, self._hub.moment().now)
            self._view.show_clocks(lines)
            self.bench.view.show_clocks(lines)

    # -- choosing ------------------------------------------------------------------------------

    def _sort_chosen(self, sort: str) -> None:
        self._choosing.choose_sort(RunSort(sort), self._row)
        self._show()

    def _machine_ticked(self, number: int, ticked: bool) -> None:  # noqa: FBT001  (a signal)
        self._choosing.tick(MachineId(number), ticked=ticked)
        self._show()

    def _option_chosen(self, number: int, name: str, value: str) -> None:
        self._choosing.decide(MachineId(number), name, value)
        self._show()

    def _not_yet(self, number: int) -> None:
        self._perform(SayNotYet(machine_id=number, day=self._hub.moment().today))

    def _day_only_chosen(self, chosen: bool) -> None:  # noqa: FBT001  (a signal)
        self._choosing.day_only = chosen

    def _go_on(self, run_id: int) -> None:
        self._run_id = run_id
        self.reload()
        self._view.focus_first()

    # -- laying the list down ------------------------------------------------------------------

    def _lay(self) -> None:
        """First what the list hangs on, if nobody has said; then the list."""
        row, picture, chosen = self._row, self._picture(), self._choosing
        if row is None or picture is None or not chosen.wanted:
            self._show()
            return
        asked = row.asked(chosen.sort, chosen.asks(row))
        if asked:
            names = {number: picture.name(number) for number in chosen.wanted}
            self._view.show_form(self._forms.built(asked, names))
            return
        self._begin()

    def _begin(self) -> None:
        row = self._row
        if row is None:
            return
        on, person = self._hub.moment().today, self._person
        outcome = self._hub.perform(self._choosing.begun(row, self._said, on=on, by_whom=person))
        if not isinstance(outcome, Changes):
            self._told(outcome)
            return
        self._view.close_form()
        self._run_id = next(number for area, number in outcome.ids if area is Area.RUNS)
        self._choosing.wanted = {}
        self.reload()
        self._view.focus_first()

    # -- a step --------------------------------------------------------------------------------

    def act(self, name: str) -> None:
        """What a button or a menu asks for."""
        simple: Mapping[str, Callable[[], None]] = {
            "lay": self._lay_wanted,
            "done": lambda: self._answer(StepAnswer.DONE),
            "not_applicable": lambda: self._answer(StepAnswer.NOT_APPLICABLE),
            "cannot": lambda: self._about_step(self._forms.cannot),
            "fault": lambda: self._about_step(self._forms.fault),
            "clock": self._start_clock,
            "stop": lambda: self._about_step(lambda _card: self._forms.stop()),
            "finish": self._finish_wanted,
            "bench": self._bench_wanted,
            "print": lambda: self.paperWanted.emit("storage"),
            "tag": lambda: self.paperWanted.emit("bench" if self._view.card else "stored"),
            "find": self._find,
            "plain": lambda: self.leftFor.emit("store"),
        }
        if name in simple:
            simple[name]()
        else:
            self._view.close_form()
            self.leftFor.emit("" if name == "back" else name)

    def _lay_wanted(self) -> None:
        row, chosen = self._row, self._choosing
        if chosen.sort is RunSort.GOING_OVER and chosen.wanted and row is not None:
            unknown = {number: row.unknown(number) for number in chosen.wanted}
            choices = unknown_choices(row.machines, unknown, self._said)
            self._view.show_form(self._forms.gates(choices))
        else:
            self._lay()

    def _about_step(self, page: Callable[[SeasonCard], object]) -> None:
        card = self._view.card
        if card is not None:
            self._view.show_form(page(card))  # type: ignore[arg-type]

    def _answer(self, answer: StepAnswer) -> None:
        """Written at once, with what it found; what then runs by itself has its clock started."""
        card, figures = self._view.card, self._view.figures
        if self._run_id and card is not None and self._answering is not None:
            typed = {} if figures is None else figures.typed()
            if self._told(self._answering.tick(self._run_id, card, answer, typed)):
                self._view.focus_first()

    def _bench_wanted(self) -> None:
        state = self._view.shown
        if state is not None and state.card is not None and self._answering is not None:
            self.bench.open(state, self._answering)

    def _start_clock(self) -> None:
        run, card = self._run(), self._view.card
        if run is not None and card is not None:
            self._perform(StartTimer(run_id=run.run_id, place=card.place))

    def _find(self) -> None:
        found = first_fault(self._run())
        if found:
            self.faultWanted.emit(found)

    def _finish_wanted(self) -> None:
        """Where what is off hangs is asked once, for the tag; then it is all entered."""
        picture = self._picture()
        run = self._run()
        loose = () if picture is None else picture.hanging(self._loose, self.machine_ids)
        if loose and run is not None and run.sort is RunSort.PUTTING_AWAY:
            self._view.show_form(self._forms.kept(loose))
        else:
            self._finish({})

    def _finish(self, answers: Mapping[str, object]) -> None:
        run, row = self._run(), self._row
        if run is None or row is None:
            return
        act = finished(
            run.run_id,
            [(one, self._said.left(one.code)) for one in loose_at(self._loose, self.machine_ids)],
            answers,
            on=self._hub.moment().today,
            by_whom=self._person,
            jobs=jobs_after(row, run.sort, self.machine_ids, self._said),
        )
        if self._perform(act):
            self._view.close_form()
            self._view.focus_first()

    # -- answers of forms ----------------------------------------------------------------------

    def _answered(self, key: str, answers: Mapping[str, object]) -> None:
        if key == "built":
            for act in self._forms.made_built(answers):
                if not self._perform(act):
                    return
            self._begin()
        elif key == "gates":
            self._choosing.gates = self._forms.made_gates(answers)
            self._choosing.passed = self._forms.made_passed(answers)
            self._lay()
        elif key == "kept":
            self._finish(answers)
        elif key == KEY:
            self._sheet_answered(answers)
        else:
            self._answer_form(key, answers)

    def _answer_form(self, key: str, answers: Mapping[str, object]) -> None:
        run, card = self._run(), self._view.card
        if run is None or card is None or key not in ABOUT_STEP:
            return
        made = self._forms.made_answer(
            key,
            answers,
            run_id=run.run_id,
            card=card,
            day=self._hub.moment().today,
            by_whom=self._person,
        )
        if isinstance(made, Said):
            self._told(made)
        elif self._perform(made):
            self._view.close_form()
            if key == "stop":
                self.leftFor.emit("")
            else:
                self._view.focus_first()
                self._start_failed(card, answers)

    def _start_failed(self, card: SeasonCard, answers: Mapping[str, object]) -> None:
        """Straight on to the search for the fault, when that is what was said of the step."""
        run, row, complaint = self._run(), self._row, choice(answers, COMPLAINT)
        if run is not None and row is not None and complaint:
            number = run.steps[card.place].machine_ids[0]
            on, words = self._hub.moment().today, self._words
            self.startFailed.emit(failed_start(run, row.machines[number], complaint, words, on=on))

    def enter_sheet(self, number: int) -> None:
        """Ask what a storage sheet says that was worked through."""
        self.show()
        page = self._sheets.open(number)
        if isinstance(page, Said):
            self._view.say(page.text)
        else:
            self._view.show_form(page)

    def _sheet_answered(self, answers: Mapping[str, object]) -> None:
        made = self._sheets.made(answers)
        outcome = made if isinstance(made, Said) else self._hub.perform(made)
        if self._told(outcome) and isinstance(outcome, Changes):
            self._view.close_form()
            runs = [number for area, number in outcome.ids if area is Area.RUNS]
            self._go_on(runs[0] if runs else 0)

    def _form_left(self) -> None:
        self._view.close_form()
        self._view.focus_first()

    # -- the file ------------------------------------------------------------------------------

    def _perform(self, act: Act) -> bool:
        return self._told(self._hub.perform(act))

    def _told(self, outcome: Outcome) -> bool:
        """True when it was taken; else it is said where it was typed."""
        if isinstance(outcome, Changes):
            return True
        form, figures = self._view.form, self._view.figures
        said, field = told(outcome, self._words)
        if form is not None:
            form.refuse(said, field)
        elif field and figures is not None:
            figures.refuse(field, said)
        else:
            self._view.say(said)
        return False

    def _changed(self, _changes: Changes) -> None:
        if self._view.isVisible():
            self.reload()

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._clock.stop()
        self.bench.leave()
        self._hub.changed.disconnect(self._changed)
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)
