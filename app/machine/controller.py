"""The machine room's controller: one machine read and judged; wishes become acts at the desk."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QSettings, Signal, SignalInstance

from app.entry.desk import Desk
from app.entry.kept import after_it, kept_said
from app.entry.mended import mended
from app.entry.questions import STORAGE_SHEET
from app.fleet.picture import Pictures
from app.hub import Hub
from app.machine.picture import RoomPicture
from app.machine.view import MachineView
from app.photos.controller import PhotoController
from app.pieces.asked import Said
from app.wording.wording import Wording
from models.acts.answers import AnswerFeatures
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.begun import read_begun
from models.facts.benches import read_benches
from models.facts.plates import PlateFacts, read_plates
from models.facts.records import RecordedEntry, read_records
from models.facts.settings import read_settings
from resources.loader import Catalogue
from schedules.plan import Judging

# Forms that open beside the list of machines, for they lead to another one or to none.
_ELSEWHERE = frozenset({"add", "back", "season", "household", "place", "sample"})


class MachineController(QObject):
    """Keeps the room in step with one machine of the file.

    `leftFor`: the room is done with, and that act is wanted beside the list ("" for none).
    """

    leftFor = Signal(str)
    paperWanted = Signal(str)
    searchWanted = Signal(int)
    worthWanted = Signal(int)
    todayWanted = Signal(int)

    def __init__(
        self,
        *,
        hub: Hub,
        view: MachineView,
        words: Wording,
        catalogue: Catalogue,
        settings: QSettings,
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = words
        self._catalogue = catalogue
        self._desk = Desk(hub=hub, place=view, words=words, catalogue=catalogue, parent=self)
        self._photos = PhotoController(
            hub=hub,
            strip=view.photos,
            words=words,
            desk=self._desk,
            settings=settings,
            parent=self,
        )
        self._number: int | None = None
        self._judging: Judging | None = None
        self._records: tuple[RecordedEntry, ...] = ()
        for signal, slot in self._joined():
            signal.connect(slot)
        hub.changed.connect(self._changed)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        view = self._view
        return (
            (view.actWanted, self.act),
            (view.correctionWanted, self.correct),
            (view.featureAnswered, self._answer_feature),
            (view.answered, self._desk.answered),
            (view.formLeft, self._desk.given_up),
            (self._desk.stepWanted, self._step),
            (self._desk.kept, self._kept),
        )

    @property
    def number(self) -> int | None:
        """The machine that is shown."""
        return self._number

    def show(self, number: int) -> bool:
        """Show a machine; False when it is not there."""
        self._desk.left()
        self._number = number
        return self.reload()

    def reload(self, notice: str = "") -> bool:
        """Read and judge the machine again; False when it is not there any more."""
        if self._number is None:
            return False
        number, on = self._number, self._hub.moment().today
        try:
            judging = self._desk.judged(number)
            plates: tuple[PlateFacts, ...]
            with self._hub.read() as session:
                policy = read_settings(session).policy
                self._records = read_records(session, machine_id=number, on=on)
                plates = read_plates(session, machine_id=number, on=on)
                here = frozenset({number})
                bench = read_benches(session, machines=here).get(number)
                begun = read_begun(session, machines=here).get(number)
        except Trouble as trouble:
            self._view.say(self._words.trouble(trouble))
            return True
        self._judging = judging
        if judging is None:
            return False
        pictures = Pictures(words=self._words, catalogue=self._catalogue, policy=policy, on=on)
        room = RoomPicture(words=self._words, catalogue=self._catalogue, pictures=pictures)
        state = room.show(
            judging,
            self._records,
            plates,
            can_write=self._hub.can_write,
            notice=notice,
            bench=bench,
            begun=begun,
        )
        self._view.show_state(state)
        self._photos.show(judging, state.records)
        return True

    def act(self, name: str) -> None:
        """Begin an act about the machine that is shown."""
        if name in ("", *_ELSEWHERE) or name.startswith(STORAGE_SHEET):
            self._desk.left()
            self.leftFor.emit(name)
        elif name in ("preseason", "card", "buyer"):
            self.paperWanted.emit(name)
        elif name == "look":
            self._desk.left()
        elif name in ("fault", "worth") and self._number is not None:
            self._desk.left()
            wanted = self.searchWanted if name == "fault" else self.worthWanted
            wanted.emit(self._number)
        elif name == "today" and self._number is not None:
            self.todayWanted.emit(self._number)
        elif name == "mended":
            self._mended()
        else:
            self._desk.begin("fault" if name == "note_fault" else name, self._judging)

    def _mended(self) -> None:
        wish = mended(self._judging, self._words, self._hub.moment().today)
        if isinstance(wish, Said):
            self._view.say(wish.text, calm=True)
        else:
            self._desk.open(wish, self._judging)

    def _kept(self, _key: str, act: object, changes: object) -> None:
        if isinstance(changes, Changes):
            said = kept_said(self._words, changes.label)
            more = after_it(self._words, act, lambda: self._judging)
            self._view.say(f"{said} {more}".rstrip(), calm=True)

    def correct(self, area: str, entry_id: int) -> None:
        """Begin to correct an entry."""
        if self._judging is None:
            return
        for entry in self._records:
            if entry.area == area and entry.entry_id == entry_id:
                self._desk.correct(entry, self._judging)
                return

    def _answer_feature(self, code: str, value: str) -> None:
        if self._number is None:
            return
        outcome = self._hub.perform(
            AnswerFeatures(machine_id=self._number, answers=((code, value),))
        )
        if isinstance(outcome, Refused):
            self._view.say(self._words.refused(outcome))
        elif isinstance(outcome, Trouble):
            self._view.say(self._words.trouble(outcome))

    def _step(self, name: str, machine_id: int) -> None:
        if name == "fault" and machine_id:
            self._desk.left()
            self.searchWanted.emit(machine_id)
        else:
            self.act(name)

    def _changed(self, changes: Changes) -> None:
        if self._number is None or self._view.isHidden():  # read when it is gone into again
            return
        named = {number for area, number in changes.ids if area is Area.MACHINES}
        wide = changes.areas & {Area.HOUSEHOLD, Area.PLACES, Area.UNITS, Area.STORES}
        if (wide or not named or self._number in named) and not self.reload():
            self._number = None
            self.leftFor.emit("")

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._hub.changed.disconnect(self._changed)
        self._photos.leave()
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)
