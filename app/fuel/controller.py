"""The fuel room's controller: vessels read and judged, taps and pours become acts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from PySide6.QtCore import QObject, Signal, SignalInstance

from app.entry.desk import Desk
from app.entry.fuel_forms import sort_said
from app.entry.questions import Made, Wish
from app.fuel.calculators import Calculators
from app.fuel.forms import FuelForms
from app.fuel.mixing import mixed, no_pour
from app.fuel.picture import FuelPicture, Seen, Standing
from app.fuel.pouring import Pouring
from app.fuel.reading import read_seen, with_course
from app.fuel.state import VesselLine
from app.fuel.vessel_forms import VesselForms
from app.fuel.view import FuelView
from app.hub import Hub
from app.pieces.asked import Said, choice
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.again import fuel_again
from models.acts.fuel import Drain, Fill, FuelAct, Pour, SetLevel
from models.changes import Area, Changes
from models.errors import Refused, Trouble
from models.facts.places import PlaceFacts, read_places
from models.facts.records import RecordedEntry
from models.facts.settings import HouseholdSettings, read_settings
from models.writer import Act
from resources.loader import Catalogue
from schedules.demands import reckoned_ul
from schedules.facts import Band, FuelUse, VesselId, VesselSort
from schedules.keeping import WRONG_SORTS
from schedules.pouring import held_ul, room_ul

_WIDE = {Area.HOUSEHOLD, Area.PLACES}
_LEAST_ROOM = 20  # a tank with less room than one part in so many of it is taken as full


class FuelController(QObject):
    """Keeps the room in step with the vessels of the file. `leftFor`: the room is done with."""

    leftFor = Signal(str)
    tagsWanted = Signal(object)

    def __init__(
        self, *, hub: Hub, view: FuelView, words: Wording, catalogue: Catalogue, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._hub = hub
        self._view = view
        self._words = words
        self._catalogue = catalogue
        self._picture = FuelPicture(words)
        self._desk = Desk(hub=hub, place=view, words=words, catalogue=catalogue, parent=self)
        self._seen: Seen | None = None
        self._pouring: Pouring | None = None
        self._said = ""
        for signal, slot in self._joined():
            signal.connect(slot)
        hub.changed.connect(self._changed)

    def _joined(self) -> tuple[tuple[SignalInstance, Callable[..., None]], ...]:
        view = self._view
        return (
            (view.actWanted, self.act),
            (view.vesselChosen, self.choose),
            (view.pourWanted, self.begin_pour),
            (view.shelf.heldOver, self._held_over),
            (view.answered, self._desk.answered),
            (view.formLeft, self._desk.given_up),
            (view.pour.typed, self._pour_typed),
            (view.pour.stepped, self._pour_stepped),
            (view.pour.levelWanted, self._pour_level),
            (view.pour.kept, self._pour_kept),
            (view.pour.left, self._pour_left),
        )

    # -- showing -------------------------------------------------------------------------------

    def show(self, machine: int = 0) -> None:
        """Show the room; the tank of a machine is chosen if one is named."""
        self.reload()
        if machine and self._seen is not None:
            for one in self._seen.standings:
                if one.card.machine_id == machine and one.card.sort is VesselSort.TANK:
                    self.choose(int(one.facts.vessel_id))
                    self._show()
                    return

    def reload(self, notice: str = "") -> None:
        """Read and judge everything again."""
        chosen = None if self._seen is None else self._seen.chosen
        try:
            with self._hub.read() as session:
                policy = read_settings(session).policy
                self._seen = read_seen(
                    session,
                    on=self._hub.moment().today,
                    catalogue=self._catalogue,
                    policy=policy,
                    chosen=chosen,
                )
        except Trouble as trouble:
            self._view.say(self._words.trouble(trouble))
            return
        self._show(notice)

    def _show(self, notice: str = "") -> None:
        if self._seen is None:
            return
        can_write = self._hub.can_write
        self._view.show_state(self._picture.show(self._seen, can_write=can_write, notice=notice))

    def choose(self, vessel: int) -> None:
        """Look at another vessel."""
        seen = self._seen
        if seen is None or seen.chosen == vessel:
            return
        with self._hub.read() as session:
            self._seen = with_course(session, seen, VesselId(vessel), catalogue=self._catalogue)
        self._view.show_chosen(self._picture.show(self._seen, can_write=self._hub.can_write))

    def _standing(self, vessel: int | None = None) -> Standing | None:
        if self._seen is None:
            return None
        wanted = self._seen.chosen if vessel is None else vessel
        return next((s for s in self._seen.standings if s.facts.vessel_id == wanted), None)

    # -- acts ----------------------------------------------------------------------------------

    def act(self, name: str) -> None:
        """Begin an act, or carry out a tap at once."""
        self._view.say("")
        if name == "back":
            self._desk.left()
            self.leftFor.emit("")
        elif name == "tags":
            self.tagsWanted.emit(None)
        elif name == "add":
            self._open(self._add())
        else:
            one = self._standing()
            if one is not None:
                self._act_on(name, one)

    def _act_on(self, name: str, one: Standing) -> None:
        called = self._picture.name(one)
        forms = self._forms()
        match name:
            case "tag":
                self.tagsWanted.emit(int(one.facts.vessel_id))
            case "filled":
                self._filled(one, called)
            case "topped":
                self._topped(one)
            case "half":
                self._half(one, called)
            case "drained":
                self._tap(Drain(vessel_id=int(one.facts.vessel_id), day=self._today()))
            case "pour":
                self._pour_from(one)
            case "more":
                self._open(forms.ways(one, called))
            case "mix":
                self._open(self._calculators().ways(one, called))
            case "change":
                self._open(self._vessel_forms().change(one, self._places()))
            case "correct":
                self._open(self._correct())
            case _:
                return

    def _today(self) -> date:
        return self._hub.moment().today

    def _settings(self) -> HouseholdSettings:
        with self._hub.read() as session:
            return read_settings(session)

    def _forms(self) -> FuelForms:
        return FuelForms(self._words, self._settings(), self._today(), self._reckoned)

    def _reckoned(self, one: Standing, upto: date) -> int | None:
        """What the machine of a tank burnt since anything was entered about it, by its hours."""
        seen, number = self._seen, one.card.machine_id
        if seen is None or number is None or number not in seen.fleet:
            return None
        before = [entry.day for entry in seen.entries if not entry.superseded and entry.day <= upto]
        after = max(before, default=one.card.came_on)
        return reckoned_ul(seen.fleet[number], after=after, upto=upto)

    def _vessel_forms(self) -> VesselForms:
        return VesselForms(self._words, self._settings(), self._today())

    def _calculators(self) -> Calculators:
        return Calculators(self._forms())

    def _places(self) -> list[PlaceFacts]:
        with self._hub.read() as session:
            return list(read_places(session, catalogue=self._catalogue).values())

    def _add(self) -> Wish:
        fleet = () if self._seen is None else self._seen.fleet.items()
        machines = [
            (number, judging.facts.name) for number, judging in fleet if judging.facts.vessels
        ]
        return self._vessel_forms().add(self._places(), machines)

    def _correct(self) -> Wish | Said:
        seen = self._seen
        entries = () if seen is None else seen.entries
        lines = [self._picture.entry(entry) for entry in entries]
        said = {line.entry_id: f"{line.day}: {line.text}" for line in lines}
        return self._forms().which_entry(entries, said, self._again)

    def _again(self, entry: RecordedEntry) -> FuelAct | None:
        with self._hub.read() as session:
            return fuel_again(session, entry.entry_id)

    def _open(self, wish: Wish | Said) -> None:
        self._view.close_pour()
        if isinstance(wish, Said):
            self._view.say(wish.text)
        else:
            self._desk.open(wish, None)

    # -- the four taps -------------------------------------------------------------------------

    def _filled(self, one: Standing, called: str) -> None:
        """Filled to the brim, today, with what usually goes into it."""
        forms = self._forms()
        sort = forms.usual_sort(one)
        act = Fill(vessel_id=int(one.facts.vessel_id), day=self._today(), sort=sort, to_brim=True)
        made = forms.sure(act, one, called)
        if isinstance(made, Wish):
            self._open(made)
            return
        words = self._words
        said = msg("Kept: {vessel} filled to the brim with {sort}, bought today.")
        petrol = one.card.burns is FuelUse.FOUR_STROKE
        self._tap(act, words.text(said, vessel=called, sort=sort_said(sort, words, petrol=petrol)))

    def _topped(self, one: Standing) -> None:
        """Topped up from a can: from the only one that fits at once, else it is asked."""
        cans = self._cans_for(one)
        if not cans:
            self._view.say(
                self._words.text(msg("No can holds anything that it may burn. Use Filled instead."))
            )
            return
        source, room = cans[0], room_ul(one.facts)
        full = room * _LEAST_ROOM < one.facts.capacity_ul
        if len(cans) > 1 or full:
            self.begin_pour(int(source.facts.vessel_id), int(one.facts.vessel_id))
            return
        volume = min(room, held_ul(source.facts))
        words = self._words
        said = words.text(
            msg("Kept: {volume} from {can} into {vessel}."),
            volume=words.litres(volume),
            can=self._picture.name(source),
            vessel=self._picture.name(one),
        )
        act = Pour(
            vessel_id=int(source.facts.vessel_id),
            to_vessel_id=int(one.facts.vessel_id),
            day=self._today(),
            volume_ul=volume,
        )
        self._tap(act, said)

    def _cans_for(self, one: Standing) -> list[Standing]:
        """Cans with something in them that it may burn, the one that turns first in front."""
        if self._seen is None:
            return []
        wrong = WRONG_SORTS[one.facts.burns]
        found = [
            can
            for can in self._seen.standings
            if can.card.sort is VesselSort.CAN
            and can is not one
            and can.verdict.volume_ul > 1
            and can.verdict.band not in (Band.DRAIN, Band.NOT_FOR_THIS, Band.LOOK_FIRST)
            and can.card.burns is one.card.burns
            and not any(lot.sort in wrong for lot in can.facts.lots)
        ]
        found.sort(key=lambda can: (can.verdict.burn_on or date.max, can.facts.vessel_id))
        return found

    def _half(self, one: Standing, called: str) -> None:
        half = one.facts.capacity_ul // 2
        words = self._words
        said = msg("Kept: about a half left in {vessel}, {volume}.")
        level = SetLevel(vessel_id=int(one.facts.vessel_id), day=self._today(), volume_ul=half)
        made = self._forms().level(level, one, called)
        if isinstance(made, Wish):
            self._open(made)
            return
        self._tap(level, words.text(said, vessel=called, volume=words.litres(half)))

    def _tap(self, act: Act, said: str = "") -> None:
        """Keep it at once, say what was kept, and how it is taken back."""
        words = self._words
        if not said:
            one = self._standing()
            called = "" if one is None else self._picture.name(one)
            said = words.text(msg("Kept: {vessel} drained, nothing is left."), vessel=called)
        outcome = self._hub.perform(act)
        match outcome:
            case Refused():
                self._view.say(words.refused(outcome))
            case Trouble():
                self._view.say(words.trouble(outcome))
            case Changes():
                undo = words.text(msg("Ctrl+Z takes it back."))
                self._view.say(f"{said} {undo}")

    # -- pouring -------------------------------------------------------------------------------

    def _pour_from(self, one: Standing) -> None:
        """Ask where to; with one other vessel there is nothing to ask."""
        if self._seen is None:
            return
        others = [
            other
            for other in self._seen.standings
            if other.facts.vessel_id != one.facts.vessel_id
            and other.card.sort is not VesselSort.BOWL  # what is in it came through the tank
        ]
        if not others:
            self._view.say(self._words.text(msg("There is no other can or tank to pour it into.")))
            return
        ways = [
            (str(int(other.facts.vessel_id)), self._picture.name(other))
            for other in sorted(others, key=lambda s: s.card.burns is not one.card.burns)
        ]
        ask = self._forms().ask
        lead = self._picture.name(one)
        page = ask.ways("into", msg("Pour it into which?"), tuple(ways), lead=lead)
        source = int(one.facts.vessel_id)

        def make(answers: Mapping[str, object]) -> Made:
            self.begin_pour(source, int(choice(answers, "way")))
            return Said("", "")

        self._desk.open(Wish(page, make), None)

    def begin_pour(self, source: int, target: int) -> None:
        """Show the pour of one vessel into another, with as much as goes in."""
        one, other = self._standing(source), self._standing(target)
        if one is None or other is None or not self._hub.can_write:
            return
        refused = no_pour(one, other, self._picture)
        if refused:
            self._view.say(refused)
            return
        self._desk.left()
        self._pouring = Pouring(
            words=self._words,
            settings=self._settings(),
            source=one,
            target=other,
            names=(self._picture.name(one), self._picture.name(other)),
            on=self._today(),
        )
        self._view.pour.begin(*self._pouring.names)
        self._view.show_pour()
        self._preview(typed=False)
        self._view.pour.amount.selectAll()

    def _held_over(self, source: int, target: int) -> None:
        """One is held over another: show what would become of both."""
        one, other = self._standing(source), self._standing(target)
        lines: tuple[VesselLine, ...] = ()
        if one is not None and other is not None and self._hub.can_write:
            lines = mixed(one, other, self._picture, self._settings(), on=self._today())
        self._view.shelf.show_mix(lines)

    def _preview(self, *, typed: bool) -> None:
        if self._pouring is not None:
            self._view.pour.show_preview(self._pouring.preview(), typed=typed)

    def _pour_typed(self, text: str) -> None:
        if self._pouring is not None:
            self._pouring.type(text)
            self._preview(typed=True)

    def _pour_stepped(self, steps: int) -> None:
        if self._pouring is not None:
            self._pouring.step(steps)
            self._preview(typed=False)

    def _pour_level(self, part: float) -> None:
        if self._pouring is not None:
            self._pouring.level(part)
            self._preview(typed=False)

    def _pour_kept(self) -> None:
        pouring = self._pouring
        if pouring is None:
            return
        preview = pouring.preview()
        if preview.refused:
            return
        if preview.danger and not pouring.asked:
            pouring.asked = True
            self._view.pour.ask_again()
            return
        self._pour_left()
        words = self._words
        said = words.text(
            msg("Kept: {volume} from {can} into {vessel}."),
            volume=words.litres(pouring.volume_ul),
            can=pouring.names[0],
            vessel=pouring.names[1],
        )
        self._tap(pouring.act(), said)

    def _pour_left(self) -> None:
        self._pouring = None
        self._view.close_pour()

    # -- listening -----------------------------------------------------------------------------

    def _changed(self, changes: Changes) -> None:
        """Vessels, machines and places are what is shown here; nothing is read while another room
        is in sight."""
        shown = changes.areas & {Area.FUEL, Area.MACHINES, *_WIDE}
        if shown and self._view.isVisible():
            self.reload()

    def leave(self) -> None:
        """Stop listening; the file is about to be let go."""
        self._hub.changed.disconnect(self._changed)
        self._view.close_form()
        for signal, slot in self._joined():
            signal.disconnect(slot)
