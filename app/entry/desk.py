"""The desk where things are entered: opens a form in the room that asked, and carries it out.

A room hands its forms' place and the machine it shows; the desk begins an act, keeps what is
refused beside its field, and tells what was kept. It shows nothing of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import partial
from typing import Protocol

from PySide6.QtCore import QObject, Signal

from app.entry.corrections import Corrections
from app.entry.forms import Forms
from app.entry.fuel_done import KEY as FUEL_DONE
from app.entry.fuel_done import FuelDone
from app.entry.fuel_forms import FILL, fuel_page, made_fuel
from app.entry.lines import Lines
from app.entry.machine_forms import MachineForms
from app.entry.manual import Manual
from app.entry.missing import burnt_since
from app.entry.questions import STORAGE_SHEET, Made, Step, Wish
from app.entry.seldom import Seldom
from app.entry.short_way import ASKED, first_looks
from app.entry.standing import Standing
from app.entry.typed import KnownMachine, last_shown
from app.hub import Hub
from app.pieces.asked import Said
from app.pieces.form import Form, FormPage
from app.settings.forms import household_page, made_place, made_settings, place_page
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.again import fuel_again, work_again
from models.acts.fault_sheets import PrintedStep, printed_steps
from models.acts.fuel import FuelAct
from models.acts.readings import Measure
from models.acts.run_sheets import stored_steps
from models.acts.sheets import SheetLine, read_lines, sheet_of
from models.acts.work import RecordWork
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.fleet import read_fleet
from models.facts.places import PlaceFacts, read_places
from models.facts.plates import read_gone, read_plates, read_standing
from models.facts.records import RecordedEntry, read_records
from models.facts.settings import HouseholdSettings, read_settings
from models.words import SheetSort
from models.writer import Act
from resources.loader import Catalogue
from schedules.facts import LimitCode, LimitReading, MachineFacts, MachineId, TaskCode
from schedules.figures import stands
from schedules.intervals import is_past
from schedules.plan import Judging, judge


class Place(Protocol):
    """Where a room shows its forms."""

    @property
    def form(self) -> Form | None:
        """The form that is open."""
        ...

    def show_form(self, page: FormPage) -> Form:
        """Open a form."""
        ...

    def close_form(self) -> None:
        """Put the form away, if there is one."""
        ...

    def say(self, text: str) -> None:
        """Say something above the lists."""
        ...

    def task_codes(self) -> tuple[str, ...]:
        """The tasks that are chosen, to start a form with."""
        ...


class Desk(QObject):
    """Begins acts and carries them out. `kept`: the page's key, the act, its Changes.

    `stepWanted`: an answer leads on to this act or place of the program, about the machine of
    that id (0: whichever is shown).
    """

    kept = Signal(str, object, object)
    stepWanted = Signal(str, int)

    def __init__(
        self, *, hub: Hub, place: Place, words: Wording, catalogue: Catalogue, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._place = place
        self._words = words
        self._catalogue = catalogue
        self._forms = Forms(words=words, catalogue=catalogue)
        self._machine_forms = MachineForms(words=words, catalogue=catalogue)
        self._standing = Standing(words=words)
        self._lines = Lines(words=words)
        self._manual = Manual(words=words, catalogue=catalogue)
        self._seldom = Seldom(hub=hub, words=words, catalogue=catalogue)
        self._fuel = FuelDone(hub=hub, words=words, judged=self.judged, form=self._begin_fuel)
        self._wish: Wish | None = None
        self._judging: Judging | None = None

    # -- beginning -----------------------------------------------------------------------------

    def begin(self, name: str, judging: Judging | None) -> None:
        """Begin an act: show its form, or say why there is none."""
        self._judging = judging
        try:
            wish = self._begin(name, judging)
        except Trouble as trouble:
            self._place.say(self._words.trouble(trouble))
            return
        self._open(wish)

    def correct(self, entry: RecordedEntry, judging: Judging) -> None:
        """Begin to correct an entry of the machine."""
        self._judging = judging
        try:
            corrections = Corrections(
                forms=self._forms, words=self._words, settings=self._settings(), again=self._again
            )
            wish = corrections.begin(entry, judging)
        except Trouble as trouble:
            self._place.say(self._words.trouble(trouble))
            return
        self._open(wish)

    def _again(self, entry: RecordedEntry) -> RecordWork | FuelAct | None:
        """The act that would enter it again, whole."""
        with self._hub.read() as session:
            if entry.area is Area.WORK:
                return work_again(session, entry.entry_id)
            return fuel_again(session, entry.entry_id)

    def open(self, wish: Wish, judging: Judging | None) -> None:
        """Show a form that a room made itself."""
        self._judging = judging
        self._open(wish)

    def _begin(self, name: str, judging: Judging | None) -> Wish | Said | None:
        settings, today = self._settings(), self._hub.moment().today
        match name:
            case "add":
                return self._machine_forms.add(settings, self._places(), today, self.judged)
            case "place" | "shelf":
                return self._seldom.of_the_shed(name, judging)
            case "new_place":
                return self._new_place()
            case "back":
                return self._begin_back()
            case "line":
                return self._lines.line(self._known(), settings, today)
            case "enter_sheet":
                return self._lines.sheet(self._sheet)
            case "household":
                return Wish(household_page(settings, self._words), made_settings)
            case _ if judging is None:
                return Said(self._words.text(msg("Choose a machine first.")), "")
            case _:
                return self._begin_at(name, judging)

    def _begin_at(self, name: str, judging: Judging) -> Wish | Said | None:
        """A form about one machine."""
        forms, settings, today = self._forms, self._settings(), self._hub.moment().today
        match name:
            case "hours":
                return forms.hours(judging, settings, today, self._records(judging))
            case "use":
                return forms.use(judging, settings, today)
            case "work":
                return forms.work(judging, settings, today, self._place.task_codes())
            case "measure":
                return forms.measure(judging, settings, today, self._place.task_codes())
            case "fuel":
                return self._begin_fuel(judging)
            case "store" | "fault" | "job":
                return self._machine_forms.begin(name, judging, today)
            case "looks":
                return forms.work(judging, settings, today, tuple(first_looks(judging)))
            case _ if name == "built" or name.startswith("figure-"):
                return self._begin_known(name, judging, settings)
            case _ if self._seldom.knows(name):
                return self._seldom.begin(name, judging)
            case _:
                return self._begin_standing(name, judging)

    def _begin_known(
        self, name: str, judging: Judging, settings: HouseholdSettings
    ) -> Wish | Said | None:
        """A form about how the machine is built, or what its manual says."""
        if name == "built":
            return self._manual.built(judging)
        task, key = name.removeprefix("figure-").split("/", 1)
        return self._manual.figure(judging, key, TaskCode(task), settings)

    def _begin_standing(self, name: str, judging: Judging) -> Wish | Said | None:
        """A form about whether, where and as what the machine stands here."""
        standing, today = self._standing, self._hub.moment().today
        number = judging.facts.machine_id
        with self._hub.read() as session:
            plates = read_plates(session, machine_id=number, on=today)
            now = read_standing(session, machine_id=number, on=today)
            gone = read_gone(session, on=today)
        match name:
            case "about":
                return standing.about(judging, gone=bool(gone))
            case "change":
                return standing.change(judging, plates)
            case "move":
                return standing.move(judging, self._places(), now, today)
            case "came":
                return standing.came(judging)
            case "gone":
                return standing.gone(judging, today)
            case "mistake":
                return standing.mistake(judging)
            case _ if name.startswith("unit-"):
                return standing.unit(plates, int(name.removeprefix("unit-")))
            case _:
                return None

    def _begin_back(self) -> Wish | Said:
        with self._hub.read() as session:
            gone = read_gone(session, on=self._hub.moment().today)
        return self._standing.back(gone)

    def _known(self) -> tuple[KnownMachine, ...]:
        """Every machine as a typed line may speak of it; judged only when it is meant."""
        words, on = self._words, self._hub.moment().today
        with self._hub.read() as session:
            policy = read_settings(session).policy
            fleet = read_fleet(session, on=on, catalogue=self._catalogue)
        limits = self._catalogue.limits

        def asked(facts: MachineFacts) -> frozenset[str]:
            tasks = judge(facts, on=on, policy=policy, limits=limits).verdict.tasks
            return frozenset(str(one.code) for one in tasks if one.state in ASKED)

        return tuple(
            KnownMachine(
                machine_id=facts.machine_id,
                name=facts.name,
                kind=words.kind(facts.kind.code),
                tasks=tuple(
                    (str(task.code), words.task(task.code))
                    for task in facts.kind.tasks
                    if stands(task, dict(facts.features))
                ),
                asked=partial(asked, facts),
                shown_seconds=last_shown(facts),
            )
            for facts in fleet
        )

    def _sheet(self, number: int) -> Made | tuple[date, tuple[SheetLine, ...]]:
        """What stands on a sheet that is still out."""
        try:
            with self._hub.read() as session:
                sheet = sheet_of(session, number)
                entered, lines = sheet.entered_on, read_lines(sheet.lines)
                steps, is_search = printed_steps(sheet.lines), sheet.sort is SheetSort.FAULTS
                is_stored = sheet.sort is SheetSort.STORAGE and bool(stored_steps(sheet.lines))
        except Refused as refused:
            return Said(self._words.refused(refused), "number")
        if entered is not None:
            words = self._words
            said = msg("That sheet was entered on {day} already.")
            return Said(words.text(said, day=words.day(entered)), "number")
        if is_search and lines:
            return self._fault_sheet(number, lines[0].machine_id, steps)
        if is_stored:
            return Step(f"{STORAGE_SHEET}{number}")
        return self._hub.moment().today, lines

    def _fault_sheet(self, number: int, machine_id: int, steps: tuple[PrintedStep, ...]) -> Made:
        """The steps of a search on paper; an older sheet leads to the search itself."""
        from app.entry.fault_sheet import fault_sheet_wish  # no other sheet needs the models
        from resources.own_faults import faults_beside

        self._judging = self.judged(machine_id)
        if self._judging is None or not steps:
            return Step("fault", machine_id)
        return fault_sheet_wish(
            self._words,
            models=faults_beside(self._hub.household.path).models,
            number=number,
            machine=self._judging.facts.name,
            today=self._hub.moment().today,
            steps=steps,
        )

    def _new_place(self) -> Wish:
        def make(answers: Mapping[str, object]) -> Made:
            return made_place(answers, None)

        return Wish(place_page(None, self._catalogue, self._words), make)

    def _begin_fuel(
        self, judging: Judging, doing: str = FILL, day: date | None = None
    ) -> Wish | Said:
        vessels = judging.facts.vessels
        if not vessels:
            return Said(self._words.text(msg("This machine holds no fuel.")), "")
        settings = self._settings()
        page = fuel_page(vessels, day or self._hub.moment().today, self._words, doing=doing)

        def make(answers: Mapping[str, object]) -> Made:
            return made_fuel(
                answers, vessels, settings, self._words, reckoned=partial(burnt_since, judging)
            )

        return Wish(page, make)

    # -- reading -------------------------------------------------------------------------------

    def judged(self, number: int) -> Judging | None:
        """One machine, read and judged; None when it is not there today."""
        on = self._hub.moment().today
        with self._hub.read() as session:
            policy = read_settings(session).policy
            facts = read_fleet(
                session, on=on, catalogue=self._catalogue, only=frozenset({MachineId(number)})
            )
        limits = self._catalogue.limits
        return judge(facts[0], on=on, policy=policy, limits=limits) if facts else None

    def _settings(self) -> HouseholdSettings:
        with self._hub.read() as session:
            return read_settings(session)

    def _places(self) -> list[PlaceFacts]:
        with self._hub.read() as session:
            return list(read_places(session, catalogue=self._catalogue).values())

    def _records(self, judging: Judging) -> tuple[RecordedEntry, ...]:
        on = self._hub.moment().today
        with self._hub.read() as session:
            return read_records(session, machine_id=judging.facts.machine_id, on=on)

    # -- answering -----------------------------------------------------------------------------

    def _open(self, wish: Wish | Said | None) -> None:
        self._wish = wish if isinstance(wish, Wish) else None
        if isinstance(wish, Wish):
            self._place.show_form(wish.page)
        elif isinstance(wish, Said):
            self._place.say(wish.text)

    def answered(self, key: str, answers: object) -> None:
        """Take the answers of the form that is open, if it is one of ours."""
        wish = self._wish
        if wish is not None and wish.page.key == key and isinstance(answers, dict):
            self.send(wish, answers)

    def send(self, wish: Wish, answers: Mapping[str, object]) -> None:
        """Turn answers into an act and carry it out; what is refused stays in the form."""
        made = wish.make(answers)
        match made:
            case Said():
                self._refuse(made.text, made.field)
            case Wish():
                self._open(replace(made, step=made.step or wish.step))
            case Step():
                self.left()
                self.stepWanted.emit(made.name, made.machine_id or self._number())
            case Refused():
                self._refuse(self._words.refused(made), wish.field_of(made))
            case _:
                self._carry_out(wish, made)

    def _carry_out(self, wish: Wish, act: Act) -> None:
        outcome = self._hub.perform(act)
        match outcome:
            case Refused():
                self._refuse(self._words.refused(outcome), wish.field_of(outcome))
            case Trouble():
                self._refuse(self._words.trouble(outcome), "")
            case Changes():
                self._kept(wish, act, outcome)

    def _refuse(self, text: str, field: str) -> None:
        form = self._place.form
        if form is not None:
            form.refuse(text, field)
        else:
            self._place.say(text)

    def _kept(self, wish: Wish, act: Act, changes: Changes) -> None:
        said = self._measured_said(act)
        self.left()
        self.kept.emit(wish.page.key, act, changes)
        if said or wish.said:
            self._place.say(said or wish.said)
        self._fuel.note(act, changes)
        following = None if wish.then is None else wish.then(changes)
        if following is not None:
            self._open(following)
        else:
            self._go_on(wish.step)

    def _go_on(self, step: str) -> None:
        """What is still to be asked of fuel; then where the form leads."""
        following = self._fuel.next()
        if following is not None:
            self._open(replace(following, step=step))
        elif step:
            self.stepWanted.emit(step, self._number())

    def note(self, act: Act, changes: Changes) -> None:
        """A room carried an act out by itself: what it leaves open is asked for later."""
        self._fuel.note(act, changes)

    def _number(self) -> int:
        return 0 if self._judging is None else self._judging.facts.machine_id

    def given_up(self) -> None:
        """The form is not answered now; what else is still to be asked is asked."""
        wish = self._wish
        self.left()
        self._go_on("" if wish is None or wish.page.key != FUEL_DONE else wish.step)

    def left(self) -> None:
        """The form is done with."""
        self._wish = None
        self._place.close_form()

    def _measured_said(self, act: Act) -> str:
        """What a measurement just entered means, when it is past its limit."""
        if not isinstance(act, Measure) or self._judging is None:
            return ""
        found = act.measured
        limits = self._judging.items[0].limits
        limit = limits.get(LimitCode(found.limit))
        reading = LimitReading(
            code=TaskCode(found.task),
            limit=LimitCode(found.limit),
            day=act.day,
            amount=found.amount,
            seen=found.seen,
        )
        if limit is None or not is_past(limit, reading):
            return ""
        words = self._words
        said = msg("{limit}: that is past its limit ({worn}). It calls for “{task}”.")
        return words.text(
            said,
            limit=words.limit(limit.code),
            worn=words.worn_when(limit),
            task=words.task(TaskCode(found.task)),
        )
