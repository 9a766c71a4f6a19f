"""Machines: taking one in with the least that people will give, moving it, letting it go."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.fuel import USUAL_SORT
from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.known import kind_of
from models.acts.meters import restart
from models.acts.plate import NOTHING_READ, Plate, put_plate
from models.acts.removal import has_records, remove_machine
from models.acts.report import report
from models.acts.rows import day_of, machine_of, machines_of, place_of
from models.acts.sizes import BOWL_UL, tank_ul
from models.acts.typed import typed_columns
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.fuel import LARGEST_UL, FuelEventRow, VesselRow
from models.tables.hours import LONGEST_RUN, HoursReadingRow, MeterRow
from models.tables.machines import FittingRow, ItemRow, MachinePlaceRow, MachineRow
from models.words import FuelDoing
from schedules.facts import FuelSort, FuelUse, ItemSort, KindFacts, Past, VesselSort
from schedules.units import Typed, hours


class FuelLeft(StrEnum):
    """Whether there is still fuel in the tank of a machine that comes in."""

    YES = "yes"
    NO = "no"
    DONT_KNOW = "dont_know"


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineGiven:
    """What is known of the engine beside the machine; None: as the machine."""

    name: str = ""
    came_on: date | None = None
    past: Past | None = None
    start_seconds: int | None = None
    plate: Plate = NOTHING_READ


AS_THE_MACHINE = EngineGiven()


@dataclass(frozen=True, slots=True, kw_only=True)
class AddMachine:
    """A machine comes in, with its engine, tank and bowl where its kind has them.

    `start_seconds`: its run time in all on the day it came; nil for a new one, else unknown.
    `shown_seconds`: what its hour meter shows now. `battery`: it has a starter battery.
    `last_ran_on` dates the fuel that was found in it, `bought_on` is when that was bought;
    `fuel_left` None: nobody was asked.
    """

    name: str
    kind: str
    place_id: int
    came_on: date
    spot: str = ""
    past: Past = Past.UNKNOWN
    start_seconds: int | None = None
    engine: EngineGiven = AS_THE_MACHINE
    battery: bool = False
    tank_ul: int | None = None
    bowl_ul: int | None = None
    shown_seconds: int | None = None
    shown_typed: Typed | None = None
    last_ran_on: date | None = None
    fuel_left: FuelLeft | None = None
    bought_on: date | None = None
    fuel_sort: FuelSort | None = None
    plate: Plate = NOTHING_READ
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        kind = kind_of(self.kind)
        place = place_of(session, self.place_id)
        item = self._item(moment)
        session.add(item)
        session.flush()
        machine = MachineRow(item_id=item.id, kind_code=kind.code)
        session.add(machine)
        session.flush()
        spot = plain_text("spot", self.spot)
        session.add(
            MachinePlaceRow(
                machine_id=machine.id, place_id=place.id, from_on=self.came_on, spot=spot
            )
        )
        touched = [(Area.MACHINES, machine.id), (Area.PLACES, place.id)]
        touched += [(Area.UNITS, unit) for unit in self._units(session, machine, item, kind)]
        if self.shown_seconds is not None:
            touched.append((Area.HOURS, self._meter(session, item, self.shown_seconds, moment)))
        touched += [(Area.FUEL, number) for number in self._fuel(session, machine, kind, moment)]
        return report(ActCode.ADD_MACHINE, *touched, name=item.name)

    def _item(self, moment: Moment) -> ItemRow:
        came_on = checked_day("came_on", self.came_on, today=moment.today)
        item = ItemRow(
            sort=ItemSort.MACHINE,
            name=plain_text("name", self.name, least=1),
            came_on=came_on,
            past=self.past,
            start_seconds=self._start(),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        put_plate(item, self.plate)
        return item

    def _start(self) -> int | None:
        if self.start_seconds is None:
            return 0 if self.past is Past.NEW else None
        return whole("start_seconds", self.start_seconds, 0, LONGEST_RUN)

    def _units(
        self, session: Session, machine: MachineRow, item: ItemRow, kind: KindFacts
    ) -> list[int]:
        """The engine, and a starter battery: each a thing of its own, fitted from the first."""
        units: list[ItemRow] = []
        if kind.has_engine:
            units.append(self._engine(item))
        if self.battery:
            came, past = item.came_on, item.past
            sort = ItemSort.STARTER_BATTERY
            units.append(ItemRow(sort=sort, name=item.name, came_on=came, past=past))
        session.add_all(units)
        session.flush()
        session.add_all(
            FittingRow(item_id=unit.id, machine_id=machine.id, from_on=item.came_on)
            for unit in units
        )
        return [unit.id for unit in units]

    def _engine(self, item: ItemRow) -> ItemRow:
        given = self.engine
        came_on = item.came_on if given.came_on is None else given.came_on
        # An engine cannot have come later than the day from which it is on the machine.
        checked_day("engine_came_on", came_on)
        if came_on > item.came_on:
            raise Refused(
                RefusedCode.DAY_AHEAD, field="engine_came_on", day=came_on, today=item.came_on
            )
        past = item.past if given.past is None else given.past
        start = item.start_seconds if given.start_seconds is None else given.start_seconds
        if start is not None:
            whole("engine_start_seconds", start, 0, LONGEST_RUN)
        name = plain_text("engine_name", given.name) or item.name
        engine = ItemRow(
            sort=ItemSort.ENGINE, name=name, came_on=came_on, past=past, start_seconds=start
        )
        put_plate(engine, given.plate)
        return engine

    def _meter(self, session: Session, item: ItemRow, shown: int, moment: Moment) -> int:
        """The meter, and what it shows today. It counts from the day the machine came when the
        run time of that day is known, else from today."""
        whole("shown_seconds", shown, 0, LONGEST_RUN)
        start, today = item.start_seconds, moment.today
        if start is not None and shown < start:
            raise Refused(
                RefusedCode.LOWER_THAN_BEFORE,
                shown=hours(shown),
                before=hours(start),
                day=item.came_on,
            )
        if start is not None:
            most = ((today - item.came_on).days + 1) * 86_400
            if shown - start > most:
                raise Refused(
                    RefusedCode.MORE_THAN_THE_DAYS,
                    ran=hours(shown - start),
                    most=hours(most),
                    since=item.came_on,
                )
        from_on, first = (today, shown) if start is None else (item.came_on, start)
        meter = MeterRow(item_id=item.id, from_on=from_on, start_seconds=first)
        session.add(meter)
        session.flush()
        session.add(
            HoursReadingRow(
                meter_id=meter.id,
                happened_on=today,
                shown_seconds=shown,
                **typed_columns(self.shown_typed, shown),
            )
        )
        return meter.id

    def _fuel(
        self, session: Session, machine: MachineRow, kind: KindFacts, moment: Moment
    ) -> list[int]:
        """Tank and bowl of kinds that burn something, and what was found in the tank."""
        burns = FuelUse(kind.fuel)
        found_on = self._found_on(moment)
        if burns is FuelUse.NONE:
            return []
        tank = whole("tank_ul", self.tank_ul or tank_ul(kind.code), 1, LARGEST_UL)
        sizes = [(VesselSort.TANK, tank)]
        if burns is FuelUse.FOUR_STROKE:
            bowl = BOWL_UL if self.bowl_ul is None else self.bowl_ul
            sizes.append((VesselSort.BOWL, whole("bowl_ul", bowl, 1, LARGEST_UL)))
        vessels = [
            VesselRow(
                sort=sort,
                name=plain_text("name", self.name),
                machine_id=machine.id,
                capacity_ul=size,
                burns=burns,
                came_on=self.came_on,
            )
            for sort, size in sizes
        ]
        session.add_all(vessels)
        session.flush()
        self._found(session, vessels[0], burns, found_on)
        return [vessel.id for vessel in vessels]

    def _found(self, session: Session, tank: VesselRow, burns: FuelUse, on: date) -> None:
        """Least entry: about half a tank, of unknown age unless its day is given. Whether there
        is any stays unknown when nobody knows: no amount is put in its place."""
        if self.fuel_left is None or (self.fuel_left is FuelLeft.NO and self.last_ran_on is None):
            return
        event = FuelEventRow(vessel_id=tank.id, happened_on=on, doing=FuelDoing.LEVEL, volume_ul=0)
        if self.fuel_left is not FuelLeft.NO:
            event.doing = FuelDoing.FOUND
            known = self.fuel_left is FuelLeft.YES
            event.volume_ul = max(1, tank.capacity_ul // 2) if known else None
            event.bought_on = self.bought_on
            event.fuel_sort = self.fuel_sort or USUAL_SORT[burns]
        event.typed_text = str(self.fuel_left)
        session.add(event)

    def _found_on(self, moment: Moment) -> date:
        """The day from which the fuel is known to be in it."""
        for field, day in (("last_ran_on", self.last_ran_on), ("bought_on", self.bought_on)):
            if day is not None:
                checked_day(field, day, today=moment.today)
        days = [day for day in (self.last_ran_on, self.bought_on) if day is not None]
        return max(self.came_on, *days) if days else moment.today


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeMachine:
    """Change what is given. What is named after the machine (engine, tank) is renamed with it."""

    machine_id: int
    name: str | Keep = KEEP
    note: str | Keep = KEEP
    plate: Plate | Keep = KEEP
    past: Past | Keep = KEEP
    start_seconds: int | Keep | None = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        item, old_name = machine.item, machine.name
        before = as_it_is(item)
        item.name = plain_text("name", kept(self.name, item.name), least=1)
        item.note = plain_text("note", kept(self.note, item.note), most=NOTE_LENGTH)
        item.past = kept(self.past, item.past)
        start = kept(self.start_seconds, item.start_seconds)
        if start is not None:
            whole("start_seconds", start, 0, LONGEST_RUN)
        restart(session, item, start)
        if not isinstance(self.plate, Keep):
            put_plate(item, self.plate)
        refuse_unchanged(item, before)
        touched = [(Area.MACHINES, machine.number)]
        if item.name != old_name:
            touched += _rename(session, machine.number, old_name, item.name)
        return report(ActCode.CHANGE_MACHINE, *touched, name=item.name)


def _rename(session: Session, number: int, before: str, name: str) -> list[tuple[Area, int]]:
    units = session.scalars(
        select(ItemRow)
        .join(FittingRow, FittingRow.item_id == ItemRow.id)
        .where(FittingRow.machine_id == number, ItemRow.name == before)
    ).all()
    vessels = session.scalars(
        select(VesselRow).where(VesselRow.machine_id == number, VesselRow.name == before)
    ).all()
    for row in (*units, *vessels):
        row.name = name
    shared = machines_of(session, [unit.id for unit in units])
    return [
        *((Area.MACHINES, each) for each in shared),
        *((Area.UNITS, unit.id) for unit in units),
        *((Area.FUEL, vessel.id) for vessel in vessels),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveMachine:
    """The machine stands at another place, or another spot of it, from a day on."""

    machine_id: int
    place_id: int
    on: date
    spot: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        place = place_of(session, self.place_id)
        day_of(machine.item, "on", self.on, moment.today)
        spot = plain_text("spot", self.spot)
        now = session.scalars(
            select(MachinePlaceRow)
            .where(MachinePlaceRow.machine_id == machine.number, MachinePlaceRow.from_on <= self.on)
            .order_by(MachinePlaceRow.from_on.desc())
            .limit(1)
        ).first()
        if now is not None and (now.place_id, now.spot) == (place.id, spot):
            raise Refused(RefusedCode.NOTHING_CHANGED)
        touched = [(Area.MACHINES, machine.number), (Area.PLACES, place.id)]
        if now is not None:
            touched.append((Area.PLACES, now.place_id))
        if now is not None and now.from_on == self.on:
            now.place_id, now.spot = place.id, spot
        else:
            session.add(
                MachinePlaceRow(
                    machine_id=machine.number, place_id=place.id, from_on=self.on, spot=spot
                )
            )
        return report(ActCode.MOVE_MACHINE, *touched, name=machine.name, place=place.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class RetireMachine:
    """The machine is gone from a day on (sold, scrapped, given away); its records stay."""

    machine_id: int
    on: date
    why: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; RETIRED when it is gone already."""
        machine = machine_of(session, self.machine_id)
        item = machine.item
        if item.retired_on is not None:
            raise Refused(RefusedCode.RETIRED, name=item.name, day=item.retired_on)
        day_of(item, "on", self.on, moment.today)
        item.retired_on = self.on
        item.retired_why = plain_text("why", self.why)
        touched = _with_sharers(session, machine.number)
        return report(ActCode.RETIRE_MACHINE, *touched, name=item.name, day=self.on)


def _with_sharers(session: Session, number: int) -> list[tuple[Area, int]]:
    """The machine, and those it shares a pack with: it is asked for on the next of them."""
    units = session.scalars(select(FittingRow.item_id).where(FittingRow.machine_id == number)).all()
    machines = {number, *machines_of(session, units)}
    return [(Area.MACHINES, each) for each in sorted(machines)]


@dataclass(frozen=True, slots=True, kw_only=True)
class BringBackMachine:
    """The machine is not gone after all."""

    machine_id: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; NOTHING_CHANGED when it never was gone."""
        machine = machine_of(session, self.machine_id)
        if machine.item.retired_on is None:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        machine.item.retired_on = None
        machine.item.retired_why = ""
        touched = _with_sharers(session, machine.number)
        return report(ActCode.CHANGE_MACHINE, *touched, name=machine.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveMachine:
    """Take a machine out again for which nothing was ever entered."""

    machine_id: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused HAS_RECORDS."""
        machine = machine_of(session, self.machine_id)
        if has_records(session, machine):
            raise Refused(RefusedCode.HAS_RECORDS, name=machine.name)
        touched = remove_machine(session, machine)
        return report(ActCode.REMOVE_MACHINE, *touched, name=machine.name)
