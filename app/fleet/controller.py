"""The fleet room's controller: asks the file, has the engine judge, turns wishes into acts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import QObject, Signal, SignalInstance

from app.entry.catch_up import Ran, catch_up_wish
from app.entry.desk import Desk
from app.entry.kept import after_it, kept_said, taken_back_said
from app.entry.mended import mended
from app.entry.questions import FIND_WHY, STORAGE_SHEET
from app.fleet.band import YearWords, grounds
from app.fleet.chooser import Sitting, TimeChooser
from app.fleet.glance import GlanceHead
from app.fleet.headline import headline
from app.fleet.judged import JudgedFleet
from app.fleet.ordering import choices, kept_in_order, matching, sort_key
from app.fleet.picture import Pictures
from app.fleet.since import AWAY_DAYS, since_page
from app.fleet.state import FleetState, MachineLine, Progress, Wanted, YearDays
from app.fleet.view import FleetView, YearSpeech
from app.hub import Hub, Outcome
from app.pieces.asked import Said
from app.pieces.year import NO_YEAR
from app.wording.languages import msg
from app.wording.numbers import written
from app.wording.wording import Wording
from models.changes import ActLabel, Area, Changes
from models.errors import Refused, Trouble
from models.facts.settings import read_settings
from resources.loader import Catalogue
from schedules.facts import MachineId, MachineState
from schedules.intervals import months_on
from schedules.plan import Judging, pre_season

MONTHS = 13
# Acts that are about no machine, or say themselves about which.
_OF_THE_SHED = frozenset(
    {"add", "back", "enter_sheet", "household", "line", "new_place", "place", "shelf"}
)
_HERE = frozenset(Area) - {Area.SHEETS}
_WIDE = frozenset({Area.HOUSEHOLD, Area.PLACES, Area.UNITS, Area.STORES})


class FleetController(QObject):
    """Keeps the view in step with the file. `shown` follows every picture.

    `last_here`: the day the shed was last looked at, if anybody knows.
    """

    openSample = Signal()
    paperWanted = Signal(str)
    machineWanted = Signal(int)
    seasonWanted = Signal(int)
    storageSheetWanted = Signal(int)
    searchWanted = Signal(int)
    whyNotWanted = Signal(int, str)
    worthWanted = Signal(int)
    shown = Signal()
    languageChanged = Signal()

    def __init__(
        self,
        *,
        hub: Hub,
        view: FleetView,
        words: Wording,
        catalogue: Catalogue,
        parent: QObject,
        last_here: date | None = None,
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = words
        self._catalogue = catalogue
        self._order: list[int] = []
        self._wanted = view.filters.wanted()
        self._chosen_id: int | None = None
        self._notice, self._calm = "", False
        self._speaks_anew = False
        self._ran: tuple[Ran, ...] = ()
        self._last = hub.moment().today
        self._days = YearDays(today=hub.moment().today, today_text="", days=NO_YEAR.days, months=())
        with hub.read() as session:
            settings = read_settings(session)
        self._fleet = JudgedFleet(hub=hub, catalogue=catalogue, settings=settings, parent=self)
        self._time = TimeChooser(fleet=self._fleet, words=words, catalogue=catalogue, parent=self)
        self._desk = Desk(hub=hub, place=view, words=words, catalogue=catalogue, parent=self)
        if last_here is not None and (hub.moment().today - last_here).days >= AWAY_DAYS:
            self._fleet.away_since = last_here
        for signal, slot in self._joined():
            signal.connect(slot)
        hub.changed.connect(self._changed)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        view = self._view
        return (
            (view.machineChosen, self.choose),
            (view.machineOpened, self._opened),
            (view.whyWanted, self._why),
            (view.timeGiven, self._time_given),
            (view.wantedChanged, self._narrow),
            (view.haltWanted, self._fleet.halt),
            (view.goOnWanted, self._fleet.go_on),
            (view.actWanted, self.act),
            (view.printWanted, self._print_wanted),
            (view.reader.onward, self._catch_up),
            (view.answered, self._desk.answered),
            (view.formLeft, self._desk.given_up),
            (self._desk.kept, self._kept),
            (self._desk.stepWanted, self._step),
            (self._fleet.advanced, self._advanced),
            (self._fleet.failed, self._failed),
            (self._time.chosen, self._sitting_chosen),
        )

    # -- reading -------------------------------------------------------------------------------

    def reload(self, only: frozenset[MachineId] | None = None, *, fuel: bool = False) -> None:
        """Read the machines again (or only those) and have them judged, some at a time."""
        on = self._hub.moment().today
        before = self._fleet.settings
        try:
            with self._hub.read() as session:
                settings = read_settings(session)
        except Trouble as trouble:
            self._failed(trouble)
            return
        self._speaks_anew = (before.language, before.unit_system) != (
            settings.language,
            settings.unit_system,
        )
        self._fleet.keep_id = self._chosen_id
        if only is None or self._chosen_id in only:
            self._fleet.kept = None
        pictures = Pictures(
            words=self._words, catalogue=self._catalogue, policy=settings.policy, on=on
        )
        if only is None:
            self._speak_years(on)
        hidden = only is not None and self._view.isHidden()
        self._fleet.read(pictures, only, fuel=fuel, later=hidden)
        if hidden:
            self.shown.emit()  # what undo would take back has changed all the same

    def settle(self) -> None:
        """Show what was entered while another room was in sight."""
        self._fleet.settle()

    def _speak_years(self, on: date) -> None:
        said = YearWords(self._words, on)
        first = on.replace(day=1)
        months = [date.fromordinal(months_on(first.toordinal(), n)) for n in range(MONTHS + 1)]
        self._days = YearDays(
            today=on,
            today_text=self._words.day_short(on),
            days=months_on(on.toordinal(), MONTHS) - on.toordinal(),
            months=tuple(written(month, "MMM", self._words.language)[:3] for month in months),
        )
        speech = YearSpeech(
            days=self._days,
            row=said.row,
            mark=said.mark,
        )
        self._view.speak_years(speech)

    def _advanced(self) -> None:
        """More machines are judged, or all."""
        self._show()
        if not self._fleet.running:
            self._tell_since()
            self._time.again()

    def _failed(self, trouble: Trouble) -> None:
        self._notice, self._calm = self._words.trouble(trouble), False
        self._view.say(self._notice)

    def _tell_since(self) -> None:
        """After months away: what happened meanwhile, once."""
        last, self._fleet.away_since = self._fleet.away_since, None
        if last is None or not self._fleet.lines:
            return
        found = list(self._fleet.meanwhile.values())
        self._fleet.meanwhile.clear()
        self._view.show_page("since", since_page(found, last=last, words=self._words))
        self._ran = tuple(one.ran for one in found if one.ran is not None)
        self._last = last

    def _catch_up(self) -> None:
        """What ran meanwhile, asked of each machine of which it was only reckoned."""
        today = self._hub.moment().today
        self._view.about = ""
        wish = catch_up_wish(self._ran, last=self._last, today=today, words=self._words)
        self._desk.open(wish, None)

    # -- showing -------------------------------------------------------------------------------

    def _show(self) -> None:
        fleet = self._fleet
        self._put_in_order(anew=fleet.running)
        if self._chosen_id not in fleet.lines and not fleet.running:
            self._chosen_id = next(iter(self._order), None)
        self._view.show_state(
            FleetState(
                headline=self._headline(),
                second="",
                machines=tuple(fleet.lines[number] for number in self._order),
                total=len(fleet.lines),
                count_text=self._count_text(),
                choices=choices(fleet.lines.values(), self._states()),
                chosen_id=self._chosen_id,
                notice=self._notice or self._file_notice(),
                calm=self._calm,
                progress=self._progress(),
                can_write=self._hub.can_write,
                busy=fleet.running,
            )
        )
        self.shown.emit()

    def _headline(self) -> str:
        fleet = self._fleet
        if fleet.running and fleet.total > len(fleet.summaries):
            return ""
        return headline(
            list(fleet.summaries.values()),
            fleet.cans,
            fleet.shelf,
            on=self._hub.moment().today,
            words=self._words,
        )

    def _states(self) -> dict[MachineState, str]:
        return {state: self._words.state(state) for state in MachineState}

    def _count_text(self) -> str:
        words, total = self._words, len(self._fleet.lines)
        if self._wanted.narrows:
            return words.text(msg("{n} of {all} machines"), n=len(self._order), all=total)
        return words.count(msg("{n} machine"), msg("{n} machines"), total)

    def _progress(self) -> Progress | None:
        fleet = self._fleet
        if not (fleet.takes_long or (fleet.halted and fleet.running)):
            return None
        said = msg("Looked at {done} of {total} machines")
        text = self._words.text(said, done=fleet.done, total=fleet.total)
        return Progress(done=fleet.done, total=fleet.total, text=text, halted=fleet.halted)

    def _put_in_order(self, *, anew: bool = False) -> None:
        """Which machines are shown; what was entered moves none of them."""
        lines = self._fleet.lines
        shown = matching(lines.values(), self._wanted)
        urgency = {number: one.wanted for number, one in self._fleet.summaries.items()}
        shown.sort(key=sort_key(self._wanted.sort, urgency))
        ids = [line.machine_id for line in shown]
        self._order = ids if anew or not self._order else kept_in_order(self._order, lines, ids)

    def _narrow(self, wanted: Wanted) -> None:
        self._wanted = wanted
        self._put_in_order(anew=True)
        lines = self._fleet.lines
        shown = tuple(lines[number] for number in self._order)
        self._view.show_machines(shown, self._count_text(), self._chosen_id)

    def _file_notice(self) -> str:
        notice = self._hub.household.notice
        return "" if notice is None else self._words.trouble(notice)

    def _judging(self) -> Judging | None:
        """The machine that is chosen, judged."""
        number = self._chosen_id
        if number is None:
            return None
        self._fleet.keep_id = number
        return self._fleet.one(number)

    def choose(self, machine_id: int) -> None:
        """Show another machine."""
        if machine_id == self._chosen_id:
            return
        self._chosen_id = machine_id
        self._fleet.keep_id = machine_id

    def _opened(self, machine_id: int) -> None:
        self.choose(machine_id)
        self.machineWanted.emit(machine_id)

    def _why(self, machine_id: int, keys: tuple[str, ...]) -> None:
        """The grounds of marks of a year."""
        judging = self._fleet.one(machine_id)
        line = self._fleet.lines.get(machine_id)
        if judging is None or line is None:
            return
        season = pre_season(judging, precedence=self._catalogue.precedence)
        said = YearWords(self._words, self._hub.moment().today)
        marks = [mark for mark in line.year.marks if set(mark.keys) & set(keys)]
        lead = "\n".join(said.mark(mark) for mark in marks) if len(marks) <= 2 else ""
        self._view.show_grounds(line.name, lead, grounds(judging, season, keys, self._words))

    # -- the time there is ---------------------------------------------------------------------

    def _time_given(self, minutes: int) -> None:
        self._time.choose(minutes)
        if minutes:
            self._view.time.show_minutes(minutes)
        else:
            self._view.close_pane()

    def _sitting_chosen(self, sitting: Sitting) -> None:
        self._view.show_page("sitting", sitting.page)
        self._view.time.show_minutes(sitting.minutes)

    def sitting(self) -> Sitting | None:
        """The work chosen last, for whoever prints it; None when nobody asked."""
        return self._time.sitting

    def _print_wanted(self) -> None:
        self.paperWanted.emit("work")

    # -- changes -------------------------------------------------------------------------------

    def _changed(self, changes: Changes) -> None:
        self._notice, self._calm = "", False  # told of what was before
        if not changes.areas & _HERE:
            return
        machines = {number for area, number in changes.ids if area is Area.MACHINES}
        pictures = self._fleet.pictures
        if pictures is None or pictures.on != self._hub.moment().today:
            machines.clear()  # another day: every machine is judged anew
        if _WIDE & changes.areas or not machines:
            self.reload()
        else:
            touched = frozenset(MachineId(number) for number in machines)
            self.reload(touched, fuel=Area.FUEL in changes.areas)

    def undo(self) -> None:
        """Take the last act back."""
        self._answer(self._hub.undo(), taken_back_said)

    def redo(self) -> None:
        """Do it again."""
        self._answer(self._hub.redo(), kept_said)

    def _answer(self, outcome: Outcome | None, said: Callable[[Wording, ActLabel], str]) -> None:
        self._notice, self._calm = "", False
        if isinstance(outcome, Trouble):
            self._notice = self._words.trouble(outcome)
        elif isinstance(outcome, Refused):
            self._notice = self._words.refused(outcome)
        elif outcome is not None:
            self._notice, self._calm = said(self._words, outcome.label), True
        self._show()

    # -- acts ----------------------------------------------------------------------------------

    def act(self, name: str) -> None:
        """Begin an act: show its form, or hand it on."""
        line = self._fleet.lines.get(self._chosen_id or 0)
        self._view.about = "" if name in _OF_THE_SHED or line is None else line.name
        if name == "sample":
            self.openSample.emit()
        elif name == "card":
            self.paperWanted.emit(name)
        elif name == "look":
            self.machineWanted.emit(self._chosen_id or 0)
        elif name == "season":
            self.seasonWanted.emit(self._chosen_id or 0)
        elif name.startswith(STORAGE_SHEET):
            self.storageSheetWanted.emit(int(name.removeprefix(STORAGE_SHEET)))
        elif name.startswith(FIND_WHY):
            self.whyNotWanted.emit(self._chosen_id or 0, name.removeprefix(FIND_WHY))
        elif name == "worth":
            self.worthWanted.emit(self._chosen_id or 0)
        elif name == "fault" and self._chosen_id is not None:
            self.searchWanted.emit(self._chosen_id)
        elif name == "mended":
            self._mended()
        else:
            self._desk.begin("fault" if name == "note_fault" else name, self._judging())

    def _mended(self) -> None:
        judging = self._judging()
        wish = mended(judging, self._words, self._hub.moment().today)
        if isinstance(wish, Said):
            self._view.say(wish.text, calm=True)
        else:
            self._desk.open(wish, judging)

    def _step(self, name: str, machine_id: int) -> None:
        """An answer led on: to another form, to paper, to a machine."""
        if machine_id:
            self.choose(machine_id)
        self.act(name)

    def _kept(self, key: str, act: object, changes: object) -> None:
        if isinstance(changes, Changes):
            about = {number for area, number in changes.ids if area is Area.MACHINES}
            name = ""
            if len(about) == 1:
                self._chosen_id = about.pop()  # what was entered is what is looked at
                line = self._fleet.lines.get(self._chosen_id)
                name = "" if line is None else line.name
            said = kept_said(self._words, changes.label, name)
            more = after_it(self._words, act, self._judging) if name else ""
            self._notice, self._calm = f"{said} {more}".rstrip(), True
            self._show()
            self._view.keep_in_sight()
        if key == "household" and self._speaks_anew:
            self.languageChanged.emit()

    # -- for whoever keeps the rooms ------------------------------------------------------------

    def lines(self) -> tuple[MachineLine, ...]:
        """The list as it is shown."""
        return tuple(self._fleet.lines[number] for number in self._order)

    @property
    def running(self) -> bool:
        """Whether machines are still to be judged."""
        return self._fleet.running

    def glance_head(self) -> GlanceHead:
        """What stands over the list."""
        return GlanceHead(
            headline=self._headline(),
            total=len(self._fleet.lines),
            count_text=self._count_text(),
            days=self._days,
        )

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._fleet.stop()
        self._time.stop()
        self._hub.changed.disconnect(self._changed)
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)
        self._view.close_pane()  # what was reckoned for this shed says nothing of the next
