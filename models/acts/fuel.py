"""Fuel: the vessels it stands in, and the few things that people do with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.known import unknown
from models.acts.report import report
from models.acts.rows import day_of, machine_of, place_of, vessel_of
from models.acts.typed import typed_columns
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.facts.fuel import read_vessels
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.fuel import LARGEST_UL, FuelEventRow, VesselRow
from models.words import FuelDoing
from schedules.facts import FuelSort, FuelUse, Gone, Look, Shelter, VesselSort
from schedules.units import Typed

MOST_CENTS = 10**11
THINNEST_OIL = 1000
# What went in where nobody said: of petrol, how much alcohol is in it stays open.
USUAL_SORT = {
    FuelUse.FOUR_STROKE: FuelSort.UNKNOWN,
    FuelUse.TWO_STROKE: FuelSort.PREMIX,
    FuelUse.DIESEL: FuelSort.DIESEL,
    FuelUse.NONE: FuelSort.UNKNOWN,
}
_DOING = {
    Gone.BURNT: FuelDoing.BURNT,
    Gone.DRAINED: FuelDoing.DRAINED,
    Gone.SPILLED: FuelDoing.SPILLED,
    Gone.DISPOSED: FuelDoing.DISPOSED,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class AddVessel:
    """A can, or another tank or bowl of a machine. A can has a place and no machine."""

    name: str
    sort: VesselSort
    capacity_ul: int
    came_on: date
    burns: FuelUse = FuelUse.FOUR_STROKE
    machine_id: int | None = None
    place_id: int | None = None
    shelter: Shelter | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        is_can = self.sort is VesselSort.CAN
        missing = "place_id" if is_can else "machine_id"
        if getattr(self, missing) is None:
            raise Refused(RefusedCode.NOTHING_GIVEN, field=missing)
        checked_day("came_on", self.came_on, today=moment.today)
        touched: list[tuple[Area, int]] = []
        if self.machine_id is not None and not is_can:
            machine = machine_of(session, self.machine_id)
            day_of(machine.item, "came_on", self.came_on, moment.today)
            touched.append((Area.MACHINES, machine.number))
        if self.place_id is not None:
            touched.append((Area.PLACES, place_of(session, self.place_id).id))
        row = VesselRow(
            sort=self.sort,
            name=plain_text("name", self.name, least=1),
            machine_id=None if is_can else self.machine_id,
            place_id=self.place_id,
            shelter=self.shelter,
            capacity_ul=whole("capacity_ul", self.capacity_ul, 1, LARGEST_UL),
            burns=self.burns,
            came_on=self.came_on,
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(row)
        session.flush()
        return report(ActCode.ADD_VESSEL, (Area.FUEL, row.id), *touched, name=row.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeVessel:
    """Change what is given; `retired_on`: the first day it was no longer there."""

    vessel_id: int
    name: str | Keep = KEEP
    capacity_ul: int | Keep = KEEP
    burns: FuelUse | Keep = KEEP
    place_id: int | Keep | None = KEEP
    shelter: Shelter | Keep | None = KEEP
    retired_on: date | Keep | None = KEEP
    note: str | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = vessel_of(session, self.vessel_id)
        before = as_it_is(row)
        touched = _touched(row)
        row.name = plain_text("name", kept(self.name, row.name), least=1)
        capacity = kept(self.capacity_ul, row.capacity_ul)
        row.capacity_ul = whole("capacity_ul", capacity, 1, LARGEST_UL)
        row.burns = kept(self.burns, row.burns)
        row.shelter = kept(self.shelter, row.shelter)
        row.note = plain_text("note", kept(self.note, row.note), most=NOTE_LENGTH)
        row.place_id = self._place(session, row)
        retired = kept(self.retired_on, row.retired_on)
        if retired is not None:
            checked_day("retired_on", retired, first=row.came_on, today=moment.today)
        row.retired_on = retired
        refuse_unchanged(row, before)
        return report(ActCode.CHANGE_VESSEL, *touched, *_touched(row), name=row.name)

    def _place(self, session: Session, row: VesselRow) -> int | None:
        place = kept(self.place_id, row.place_id)
        if place is None and row.sort is VesselSort.CAN:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="place_id")
        return None if place is None else place_of(session, place).id


# -- what happens to fuel ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """New fuel came into a vessel, bought on that day unless told otherwise.

    `volume_ul` None: filled full. `to_brim`: filled full, and `volume_ul` is what it took.
    `bought_on` None with `age_known` False: nobody knows how old it is. `oil_ratio`: petrol to one
    part of oil. `stabilised`: with stabiliser in it from the first.
    """

    vessel_id: int
    day: date
    sort: FuelSort
    volume_ul: int | None = None
    typed: Typed | None = None
    to_brim: bool = False
    bought_on: date | None = None
    age_known: bool = True
    ethanol_permille: int | None = None
    oil_ratio: int | None = None
    stabilised: bool = False
    cents: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        bought = self.bought_on or (self.day if self.age_known else None)
        if bought is not None:
            checked_day("bought_on", bought, today=min(self.day, moment.today))
        row = _event(session, self, FuelDoing.BOUGHT, moment, corrects)
        row.to_brim = self.to_brim or self.volume_ul is None
        row.fuel_sort, row.bought_on = self.sort, bought
        row.ethanol_permille = _perhaps("ethanol_permille", self.ethanol_permille, 0, 1000)
        row.oil_ratio = _perhaps("oil_ratio", self.oil_ratio, 1, THINNEST_OIL)
        row.stabilised_on = self.day if self.stabilised else None
        row.cents = _perhaps("cents", self.cents, 0, MOST_CENTS)
        return _done(session, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class TopUp:
    """Topped up, nobody says from where; `volume_ul` None: full. Of unknown age, unless
    `bought_on` is given."""

    vessel_id: int
    day: date
    volume_ul: int | None = None
    typed: Typed | None = None
    sort: FuelSort | None = None
    bought_on: date | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        if self.bought_on is not None:
            checked_day("bought_on", self.bought_on, today=min(self.day, moment.today))
        row = _event(session, self, FuelDoing.FILLED, moment, corrects)
        row.to_brim = self.volume_ul is None
        row.fuel_sort, row.bought_on = self.sort, self.bought_on
        return _done(session, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pour:
    """Poured from one vessel into another; `volume_ul` None: all there is."""

    vessel_id: int
    to_vessel_id: int
    day: date
    volume_ul: int | None = None
    typed: Typed | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        source = vessel_of(session, self.vessel_id)
        target = vessel_of(session, self.to_vessel_id)
        if source.id == target.id:
            raise Refused(RefusedCode.SAME_VESSEL, vessel=source.name)
        day_of(target, "day", self.day, moment.today)
        row = _event(session, self, FuelDoing.POURED, moment, corrects, room_in=target)
        row.to_vessel_id = target.id
        if corrects is None:
            _check_held(session, source, self.day, self.volume_ul)
        if corrects is None and self.volume_ul is None:
            _check_room(target, FuelDoing.POURED, _held(session, source, self.day))
        return _done(session, row, target)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drain:
    """Gone from it; `volume_ul` None: all of it. `gone`: burnt by running, drained, spilled, or
    disposed of at a collection point. What is lost and nobody knows how shows in a level."""

    vessel_id: int
    day: date
    volume_ul: int | None = None
    typed: Typed | None = None
    gone: Gone = Gone.DRAINED
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        doing = _DOING.get(self.gone)
        if doing is None:
            raise unknown("gone", self.gone)
        row = _event(session, self, doing, moment, corrects)
        if corrects is None:
            source = vessel_of(session, self.vessel_id)
            _check_held(session, source, self.day, self.volume_ul)
        return _done(session, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class Refill:
    """All of it out, and new fuel in: two entries, one step to undo."""

    fill: Fill
    gone: Gone = Gone.DRAINED

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        fill = self.fill
        Drain(vessel_id=fill.vessel_id, day=fill.day, gone=self.gone).run(session, moment)
        return fill.run(session, moment)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stabilise:
    """Stabiliser went in; `dose_ul` if anybody measured it."""

    vessel_id: int
    day: date
    dose_ul: int | None = None
    typed: Typed | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        row = _event(session, self, FuelDoing.TREATED, moment, corrects)
        most = vessel_of(session, self.vessel_id).capacity_ul
        row.dose_ul = _perhaps("dose_ul", self.dose_ul, 0, most)
        return _done(session, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class LookAtFuel:
    """Nose and jar."""

    vessel_id: int
    day: date
    look: Look
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        row = _event(session, self, FuelDoing.LOOKED, moment, corrects)
        row.look = self.look
        return _done(session, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class AddOil:
    """Oil went in, to make a mix of the petrol that is in it or comes next."""

    vessel_id: int
    day: date
    volume_ul: int
    typed: Typed | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        return _done(session, _event(session, self, FuelDoing.OILED, moment, corrects))


@dataclass(frozen=True, slots=True, kw_only=True)
class SetLevel:
    """How much is in it, by eye. `missing`: what became of the rest, where more should be in it;
    None: nobody said."""

    vessel_id: int
    day: date
    volume_ul: int
    typed: Typed | None = None
    missing: Gone | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(self, session: Session, moment: Moment, *, corrects: int | None) -> Changes:
        """Enter it, in the place of another if need be. Raises Refused."""
        row = _event(session, self, FuelDoing.LEVEL, moment, corrects)
        row.gone = self.missing
        return _done(session, row)


FuelAct = Fill | TopUp | Pour | Drain | Stabilise | LookAtFuel | AddOil | SetLevel


def _event(
    session: Session,
    act: FuelAct,
    doing: FuelDoing,
    moment: Moment,
    corrects: int | None,
    *,
    room_in: VesselRow | None = None,
) -> FuelEventRow:
    """The row with what all fuel events share. More than a vessel holds does not go in or out."""
    vessel = vessel_of(session, act.vessel_id)
    day_of(vessel, "day", act.day, moment.today)
    volume: int | None = getattr(act, "volume_ul", None)
    if volume is not None:
        least = 0 if doing is FuelDoing.LEVEL else 1
        whole("volume_ul", volume, least, LARGEST_UL)
        _check_room(room_in or vessel, doing, volume)
    stored = act.dose_ul if isinstance(act, Stabilise) else volume
    typed: Typed | None = getattr(act, "typed", None)
    first = None if corrects is None else session.get_one(FuelEventRow, corrects)
    return FuelEventRow(
        vessel_id=vessel.id,
        work_id=None if first is None else first.work_id,
        happened_on=act.day,
        doing=doing,
        volume_ul=volume,
        note=plain_text("note", act.note, most=NOTE_LENGTH),
        corrects_id=corrects,
        entered_by=hand(session),
        **typed_columns(typed, stored),
    )


def _check_room(vessel: VesselRow, doing: FuelDoing, volume: int) -> None:
    """Held against the size of the vessel only: what was burnt is seldom entered, so the room that
    the sum leaves is no room that anybody saw. The ledger makes it, out of the older fuel."""
    if volume <= vessel.capacity_ul:
        return
    name, size = vessel.name, vessel.capacity_ul
    if doing in _DOING.values():
        raise Refused(RefusedCode.NOT_SO_MUCH, vessel=name, volume_ul=volume, held_ul=size)
    raise Refused(RefusedCode.NO_ROOM, vessel=name, volume_ul=volume, room_ul=size)


def _check_held(session: Session, vessel: VesselRow, day: date, volume: int | None) -> None:
    """No more comes out than went in. Raises Refused NOT_SO_MUCH."""
    if volume is None:
        return
    held = _held(session, vessel, day)
    if volume > held:
        raise Refused(RefusedCode.NOT_SO_MUCH, vessel=vessel.name, volume_ul=volume, held_ul=held)


def _held(session: Session, vessel: VesselRow, day: date) -> int:
    return held_ul(session, vessel, day) or 0


def held_ul(session: Session, vessel: VesselRow, day: date) -> int | None:
    """What is in it at the end of the day, as far as that was entered; None: nobody ever said."""
    this = VesselRow.id == vessel.id
    found = read_vessels(session, on=day, places={}, place_of={}, only=this)
    if not any(facts.entered for facts in found):
        return None
    return sum(lot.volume_ul for facts in found for lot in facts.lots)


def _done(session: Session, row: FuelEventRow, *others: VesselRow) -> Changes:
    session.add(row)
    session.flush()
    vessel = vessel_of(session, row.vessel_id)
    numbers = [each.id for each in (vessel, *others)]
    touched = touched_vessels(session, numbers, row.happened_on)
    return report(
        ActCode.FUEL, *touched, name=vessel.name, doing=str(row.doing), day=row.happened_on
    )


def touched_vessels(session: Session, numbers: list[int], day: date) -> list[tuple[Area, int]]:
    """The vessels, what was poured from them on that day or later and so on, and the machines
    they belong to: an older fill that is corrected changes what was drawn from it since."""
    found = select(VesselRow.id).where(VesselRow.id.in_(numbers)).cte("reached", recursive=True)
    poured = (
        select(FuelEventRow.to_vessel_id)
        .join(found, FuelEventRow.vessel_id == found.c.id)
        .where(FuelEventRow.to_vessel_id.is_not(None), FuelEventRow.happened_on >= day)
    )
    reached = select(found.union(poured).c.id)
    vessels = session.scalars(select(VesselRow).where(VesselRow.id.in_(reached))).all()
    return [pair for vessel in vessels for pair in _touched(vessel)]


def _touched(vessel: VesselRow) -> list[tuple[Area, int]]:
    touched = [(Area.FUEL, vessel.id)]
    if vessel.machine_id is not None:
        touched.append((Area.MACHINES, vessel.machine_id))
    return touched


def _perhaps(field: str, value: int | None, low: int, high: int) -> int | None:
    return None if value is None else whole(field, value, low, high)
