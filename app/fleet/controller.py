"""The fleet room's controller: asks the file, has the engine judge, turns wishes into acts."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QObject, QTimer, Signal, SignalInstance

from app.fleet.corrections import Corrections
from app.fleet.forms import Forms
from app.fleet.fuel_forms import fuel_page, made_fuel
from app.fleet.machine_forms import MachineForms
from app.fleet.picture import STATE_ORDER, Pictures, Summary
from app.fleet.questions import Made, Wish
from app.fleet.state import Chosen, FleetState, MachineLine
from app.fleet.view import FleetView
from app.hub import Hub, Outcome
from app.pieces.asked import Said
from app.settings.forms import household_page, made_place, made_settings, place_page
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.readings import Measure
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.fleet import read_fleet
from models.facts.papers import read_shelf
from models.facts.places import PlaceFacts, read_places
from models.facts.records import RecordedEntry, read_records
from models.facts.settings import read_settings
from resources.loader import Catalogue
from schedules.facts import LimitCode, LimitReading, MachineFacts, MachineId, TaskCode
from schedules.intervals import is_past
from schedules.plan import Judging, judge

SLICE = 12
_HERE = frozenset(Area) - {Area.SHEETS}


class FleetController(QObject):
    """Keeps the view in step with the file. `shown` follows every picture."""

    openSample = Signal()
    printWanted = Signal(int)
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
        self._forms = Forms(words=words, catalogue=catalogue)
        self._machine_forms = MachineForms(words=words, catalogue=catalogue)
        self._wish: Wish | None = None
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
            (view.answered, self._answered),
            (view.formLeft, self._form_left),
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

    # -- forms ---------------------------------------------------------------------------------

    def act(self, name: str) -> None:
        """Begin an act: show its form, or hand it on."""
        if name == "sample":
            self.openSample.emit()
        elif name == "sheet":
            if self._chosen_id is not None:
                self.printWanted.emit(self._chosen_id)
        else:
            self._open(self._begin(name))

    def _begin(self, name: str) -> Wish | Said | None:
        settings, today = self._settings, self._hub.moment().today
        match name:
            case "add":
                return self._machine_forms.add(settings, self._places(), today)
            case "place":
                page = place_page(self._place(), self._catalogue, self._words)
                return Wish(page, made_place)
            case "household":
                return Wish(household_page(settings, self._words), made_settings)
            case _ if self._judging is None:
                return Said(self._words.text(msg("Choose a machine first.")), "")
            case _:
                return self._begin_at(name, self._judging)

    def _begin_at(self, name: str, judging: Judging) -> Wish | Said | None:
        """A form about the machine that is chosen."""
        forms, settings, today = self._forms, self._settings, self._hub.moment().today
        match name:
            case "hours":
                return forms.hours(judging, settings, today)
            case "use":
                return forms.use(judging, settings, today)
            case "work":
                return forms.work(judging, settings, today, self._view.task_codes())
            case "measure":
                return forms.measure(judging, settings, today, self._view.task_codes())
            case "store":
                laid_up = judging.almanac.laid_up
                return self._machine_forms.store(judging, today, laid_up=laid_up)
            case "fuel":
                return self._begin_fuel(judging)
            case "fault":
                return self._machine_forms.fault(judging, today)
            case "job":
                return self._machine_forms.job(judging, today)
            case _:
                return None

    def _begin_fuel(self, judging: Judging) -> Wish | Said:
        vessels = judging.facts.vessels
        if not vessels:
            return Said(self._words.text(msg("This machine holds no fuel.")), "")
        page = fuel_page(vessels, self._hub.moment().today, self._words)

        def make(answers: Mapping[str, object]) -> Made:
            return made_fuel(answers, self._settings, self._words)

        return Wish(page, make)

    def _place(self) -> PlaceFacts | None:
        """The place of the machine that is chosen, else the first there is."""
        places = self._places()
        where = "" if self._judging is None else self._judging.facts.place
        near = [place for place in places if where.split(", ")[0] == place.name]
        return next(iter(near or places), None)

    def _places(self) -> list[PlaceFacts]:
        with self._hub.read() as session:
            return list(read_places(session, catalogue=self._catalogue).values())

    def correct(self, area: str, entry_id: int) -> None:
        """Begin to correct an entry of the machine that is chosen."""
        if self._judging is None:
            return
        entry = next(
            (entry for entry in self._records if entry.area == area and entry.entry_id == entry_id),
            None,
        )
        if entry is not None:
            corrections = Corrections(forms=self._forms, words=self._words, settings=self._settings)
            self._open(corrections.begin(entry, self._judging))

    def _open(self, wish: Wish | Said | None) -> None:
        self._wish = wish if isinstance(wish, Wish) else None
        if isinstance(wish, Wish):
            self._view.show_form(wish.page)
        elif isinstance(wish, Said):
            self._view.say(wish.text)

    def _answered(self, _key: str, answers: object) -> None:
        if self._wish is not None and isinstance(answers, dict):
            self.send(self._wish, answers)  # pyright: ignore[reportUnknownArgumentType]  # Qt hands an object

    def send(self, wish: Wish, answers: Mapping[str, object]) -> None:
        """Turn answers into an act and carry it out; what is refused stays in the form."""
        made = wish.make(answers)
        form = self._view.form
        if isinstance(made, Said):
            if form is not None:
                form.refuse(made.text, made.field)
            return
        outcome = made if isinstance(made, Refused) else self._hub.perform(made)
        match outcome:
            case Refused():
                if form is not None:
                    form.refuse(self._words.refused(outcome), wish.field_of(outcome))
            case Trouble():
                if form is not None:
                    form.refuse(self._words.trouble(outcome), "")
            case Changes():
                self._kept(wish, made, outcome)

    def _measured_said(self, act: object) -> str:
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
        said = msg("{limit}: that is past its limit ({worn}). “{task}” is due now.")
        return words.text(
            said,
            limit=words.limit(limit.code),
            worn=words.worn_when(limit),
            task=words.task(TaskCode(found.task)),
        )

    def _kept(self, wish: Wish, act: object, changes: Changes) -> None:
        new = [number for area, number in changes.ids if area is Area.MACHINES]
        if wish.page.key == "add" and new:
            self._chosen_id = new[0]
            self._show()
        self._form_left()
        self._notice = self._measured_said(act)
        if self._notice:
            self._view.say(self._notice)
        if wish.page.key == "household" and self._speaks_anew:
            self.languageChanged.emit()

    def _form_left(self) -> None:
        self._wish = None
        self._view.close_form()

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
