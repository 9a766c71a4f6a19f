"""The season room's controller: machines chosen, a list laid down, its steps answered."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance

from app.hub import Hub
from app.pieces.asked import Said
from app.season.forms import SeasonForms
from app.season.laying import Row, Wanted
from app.season.paper import codes_by_machine
from app.season.picture import PLACES, SeasonPicture
from app.season.state import SeasonCard
from app.season.view import SeasonView
from app.wording.sittings import SittingWords
from app.wording.wording import Wording
from models.acts.runs import (
    AnswerStep,
    BeginRun,
    FinishRun,
    Kept,
    RunMachine,
    SayNotYet,
    StartTimer,
    StepGiven,
)
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.fleet import read_fleet
from models.facts.places import read_places
from models.facts.runs import (
    LeftOffFacts,
    RunFacts,
    read_left_off,
    read_not_yet,
    read_runs,
)
from models.facts.settings import read_settings
from models.words import StepAnswer
from models.writer import Act
from resources.loader import Catalogue
from resources.storage import load_sitting_rules
from schedules.facts import MachineId
from schedules.plan import judge
from schedules.sitting_facts import Ask, FuelRoute, RunSort, Step

CLOCK_MS = 5000
# What is taken off and put somewhere; a valve that is shut hangs nowhere.
HANGS = frozenset(
    {"key-out", "pack-out", "blade-off", "plug-out", "cover-open", "hoses-off", "casing-open"}
)


class SeasonController(QObject):
    """Keeps the room in step with the runs of the file.

    `leftFor`: the room is done with, and that act is wanted elsewhere ("" for none); `paperWanted`:
    a paper of the machines that are shown.
    """

    leftFor = Signal(str)
    paperWanted = Signal(str)
    faultWanted = Signal(int)

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
        self._sort = RunSort.PUTTING_AWAY
        self._wanted: dict[MachineId, Wanted] = {}
        self._gates = False
        self._day_only = False
        self._row: Row | None = None
        self._runs: tuple[RunFacts, ...] = ()
        self._loose: tuple[LeftOffFacts, ...] = ()
        self._person = ""
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
        )

    @property
    def machine_ids(self) -> tuple[MachineId, ...]:
        """The machines of the run that is shown, else those that are chosen."""
        run = self._run()
        if run is not None:
            return tuple(one.machine_id for one in run.machines)
        return tuple(self._wanted)

    # -- showing -------------------------------------------------------------------------------

    def show(self, number: int = 0) -> None:
        """Show the run of a machine, or the machines with that one chosen."""
        self._view.close_form()
        self._run_id = 0
        self._wanted = {}
        if not self._read():
            return
        here = MachineId(number)
        run = next(
            (run for run in self._runs if here in [one.machine_id for one in run.machines]), None
        )
        if run is not None:
            self._run_id = run.run_id
        elif self._row is not None and here in self._row.machines:
            asleep = self._row.machines[here].almanac.laid_up
            self._sort = RunSort.GETTING_OUT if asleep else RunSort.PUTTING_AWAY
            self._wanted = {here: Wanted(machine_id=here)}
        self._show()
        self._view.focus_first()

    def reload(self, notice: str = "") -> None:
        """Read it all again."""
        if self._read():
            self._show(notice)

    def _read(self) -> bool:
        on = self._hub.moment().today
        try:
            with self._hub.read() as session:
                settings = read_settings(session)
                kept = read_runs(session, only=(self._run_id,)) if self._run_id else ()
                here = frozenset(one.machine_id for run in kept for one in run.machines)
                facts = read_fleet(session, on=on, catalogue=self._catalogue, only=here or None)
                places = read_places(session, catalogue=self._catalogue).values()
                self._runs = read_runs(session)
                self._loose = read_left_off(session)
                not_yet = {one.machine_id: read_not_yet(session, one.machine_id) for one in facts}
        except Trouble as trouble:
            self._view.say(self._words.trouble(trouble))
            return False
        self._runs = (*self._runs, *(run for run in kept if run.finished_on is not None))
        self._person = settings.person
        limits, policy = self._catalogue.limits, settings.policy
        self._row = Row(
            machines={
                one.machine_id: judge(one, on=on, policy=policy, limits=limits) for one in facts
            },
            shelters={place.name: place.shelter for place in places},
            left=codes_by_machine(self._loose),
            not_yet=not_yet,
            policy=policy,
            catalogue=self._catalogue,
            on=on,
        )
        self._wanted = {n: one for n, one in self._wanted.items() if n in self._row.machines}
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
            state = picture.choosing(
                self._sort, self._wanted, going, day_only=self._day_only, notice=notice
            )
        else:
            now = self._hub.moment().now
            state = picture.running(run, self._loose, now=now, notice=notice)
        self._view.show_state(state)
        if run is not None and run.timers and run.finished_on is None:
            self._clock.start()
        else:
            self._clock.stop()

    def _tick(self) -> None:
        picture, run = self._picture(), self._run()
        if picture is not None and run is not None:
            self._view.show_clocks(picture.clocks(run, self._hub.moment().now))

    # -- choosing ------------------------------------------------------------------------------

    def _sort_chosen(self, sort: str) -> None:
        self._sort = RunSort(sort)
        row = self._row
        if row is not None:
            self._wanted = {n: one for n, one in self._wanted.items() if row.can(self._sort, n)}
        self._show()

    def _machine_ticked(self, number: int, ticked: bool) -> None:  # noqa: FBT001  (a signal)
        here = MachineId(number)
        self._wanted.pop(here, None)
        if ticked:
            self._wanted[here] = Wanted(machine_id=here)
        self._show()

    def _option_chosen(self, number: int, name: str, value: str) -> None:
        here = MachineId(number)
        wanted = self._wanted.get(here)
        if wanted is None:
            return
        match name:
            case "sleep":
                wanted = replace(wanted, sleep_days=int(value) if value else None)
            case "where":
                wanted = replace(wanted, grounds=PLACES[value])
            case _:
                wanted = replace(wanted, route=FuelRoute(value))
        self._wanted[here] = wanted
        self._show()

    def _not_yet(self, number: int) -> None:
        self._perform(SayNotYet(machine_id=number, day=self._hub.moment().today))

    def _day_only_chosen(self, chosen: bool) -> None:  # noqa: FBT001  (a signal)
        self._day_only = chosen

    def _go_on(self, run_id: int) -> None:
        self._run_id = run_id
        self.reload()
        self._view.focus_first()

    # -- laying the list down ------------------------------------------------------------------

    def _asks(self) -> tuple[Ask, ...]:
        if self._row is None:
            return ()
        return self._row.asks(
            self._sort,
            tuple(self._wanted.values()),
            gates=self._gates,
            with_list=not self._day_only,
        )

    def _lay(self) -> None:
        """First what the list hangs on, if nobody has said; then the list."""
        row, picture = self._row, self._picture()
        if row is None or picture is None or not self._wanted:
            self._show()
            return
        asked = row.asked(self._sort, self._asks())
        if asked:
            names = {number: picture.name(number) for number in self._wanted}
            self._view.show_form(self._forms.built(asked, names))
            return
        self._begin()

    def _begin(self) -> None:
        row = self._row
        if row is None:
            return
        asks = self._asks()
        steps = row.laid(self._sort, asks)
        on = self._hub.moment().today
        act = begun(self._sort, asks, steps, on=on, by_whom=self._person)
        outcome = self._hub.perform(act)
        if not isinstance(outcome, Changes):
            self._refuse(outcome)
            return
        self._view.close_form()
        self._run_id = next(number for area, number in outcome.ids if area is Area.RUNS)
        self._wanted = {}
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
            "print": lambda: self.paperWanted.emit("storage"),
            "tag": lambda: self.paperWanted.emit("stored"),
            "find": self._find,
            "plain": lambda: self.leftFor.emit("store"),
        }
        if name in simple:
            simple[name]()
        else:
            self._view.close_form()
            self.leftFor.emit("" if name == "back" else name)

    def _lay_wanted(self) -> None:
        if self._sort is RunSort.GOING_OVER and self._wanted:
            self._view.show_form(self._forms.gates())
        else:
            self._lay()

    def _about_step(self, page: Callable[[SeasonCard], object]) -> None:
        card = self._view.card
        if card is not None:
            self._view.show_form(page(card))  # type: ignore[arg-type]

    def _answer(self, answer: StepAnswer) -> None:
        """Written at once; what then runs by itself has its clock started."""
        run, card = self._run(), self._view.card
        if run is None or card is None:
            return
        clock = bool(card.clock) and answer is StepAnswer.DONE
        act = AnswerStep(
            run_id=run.run_id,
            place=card.place,
            day=self._hub.moment().today,
            answer=answer,
            by_whom=self._person,
        )
        if self._perform(act):
            if clock:
                self._perform(StartTimer(run_id=run.run_id, place=card.place))
            self._view.focus_first()

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
        loose = [
            (one, f"{picture.name(one.machine_id)}: {self._said.left(one.code)}")
            for one in loose_at(self._loose, self.machine_ids)
            if picture is not None and one.code in HANGS
        ]
        run = self._run()
        if loose and run is not None and run.sort is RunSort.PUTTING_AWAY:
            self._view.show_form(self._forms.kept(loose))
        else:
            self._finish({})

    def _finish(self, answers: Mapping[str, object]) -> None:
        run = self._run()
        if run is None:
            return
        act = finished(
            run.run_id,
            [(one, self._said.left(one.code)) for one in loose_at(self._loose, self.machine_ids)],
            answers,
            on=self._hub.moment().today,
            by_whom=self._person,
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
            self._gates = self._forms.made_gates(answers)
            self._lay()
        elif key == "kept":
            self._finish(answers)
        else:
            self._answer_form(key, answers)

    def _answer_form(self, key: str, answers: Mapping[str, object]) -> None:
        run, card = self._run(), self._view.card
        if run is None or card is None:
            return
        made = self._forms.made_answer(
            key,
            answers,
            run_id=run.run_id,
            place=card.place,
            day=self._hub.moment().today,
            by_whom=self._person,
        )
        form = self._view.form
        if isinstance(made, Said):
            if form is not None:
                form.refuse(made.text, made.field)
        elif self._perform(made):
            self._view.close_form()
            if key == "stop":
                self.leftFor.emit("")
            else:
                self._view.focus_first()

    def _form_left(self) -> None:
        self._view.close_form()
        self._view.focus_first()

    # -- the file ------------------------------------------------------------------------------

    def _perform(self, act: Act) -> bool:
        outcome = self._hub.perform(act)
        if isinstance(outcome, Changes):
            return True
        self._refuse(outcome)
        return False

    def _refuse(self, outcome: Refused | Trouble) -> None:
        words = self._words
        said = words.refused(outcome) if isinstance(outcome, Refused) else words.trouble(outcome)
        form = self._view.form
        if form is not None:
            form.refuse(said, "")
        else:
            self._view.say(said)

    def _changed(self, _changes: Changes) -> None:
        if self._view.isVisible():
            self.reload()

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._clock.stop()
        self._hub.changed.disconnect(self._changed)
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)


def given(step: Step) -> StepGiven:
    """A step as the file keeps it."""
    return StepGiven(
        code=str(step.code),
        machine_ids=tuple(int(number) for number in step.machine_ids),
        minutes=step.minutes,
        wait_minutes=step.wait_minutes,
        tasks=tuple(str(code) for code in step.records),
        passes=tuple(str(code) for code in step.passes),
        leaves=tuple(str(code) for code in step.leaves),
        puts_back=tuple(str(code) for code in step.puts_back),
        fuel=step.fuel,
    )


def loose_at(loose: Sequence[LeftOffFacts], numbers: Sequence[MachineId]) -> list[LeftOffFacts]:
    """What is off or open at these machines."""
    return [one for one in loose if one.machine_id in numbers]


def first_fault(run: RunFacts | None) -> int:
    """The machine at which the first fault was found; 0 for none."""
    steps = () if run is None else run.steps
    found = (int(s.machine_ids[0]) for s in steps if s.answer is StepAnswer.FAULT)
    return next(found, 0)


def begun(
    sort: RunSort, asks: Sequence[Ask], steps: Sequence[Step], *, on: date, by_whom: str
) -> BeginRun:
    """The act that begins a run with its list."""
    return BeginRun(
        sort=sort,
        day=on,
        machines=tuple(
            RunMachine(
                machine_id=int(ask.facts.machine_id),
                route=ask.route,
                sleep_last=ask.until if sort is RunSort.PUTTING_AWAY else None,
            )
            for ask in asks
        ),
        steps=tuple(given(step) for step in steps),
        by_whom=by_whom,
    )


def finished(
    run_id: int,
    loose: Sequence[tuple[LeftOffFacts, str]],
    answers: Mapping[str, object],
    *,
    on: date,
    by_whom: str,
) -> FinishRun:
    """The act that ends a run, with what is off or open in words, and where it hangs."""
    words: dict[int, list[str]] = {}
    kept: list[Kept] = []
    for one, said in loose:
        where = str(answers.get(f"{one.machine_id}/{one.code}", one.kept)).strip()
        words.setdefault(int(one.machine_id), []).append(f"{said} ({where})" if where else said)
        if where:
            kept.append(Kept(machine_id=int(one.machine_id), left_code=str(one.code), kept=where))
    return FinishRun(
        run_id=run_id,
        day=on,
        by_whom=by_whom,
        off_or_open=tuple((number, ", ".join(said)) for number, said in words.items()),
        kept=tuple(kept),
    )
