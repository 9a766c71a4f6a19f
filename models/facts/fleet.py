"""The whole fleet as facts for the engine: a fixed number of queries, whatever its size."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from sqlalchemy import or_, select, true
from sqlalchemy.orm import Session

from models.facts.fuel import read_vessels
from models.facts.hours import ItemHours, read_hours, read_uses
from models.facts.places import PlaceFacts, read_places
from models.facts.scope import Ids, among, sharing_units
from models.facts.work import (
    WorkFacts,
    read_faults,
    read_jobs,
    read_readings,
    read_storage,
    read_work,
)
from models.tables.answers import DutyAnswerRow, FeatureAnswerRow, OwnFigureRow
from models.tables.fuel import VesselRow
from models.tables.machines import FittingRow, ItemRow, MachinePlaceRow, MachineRow
from resources.loader import Catalogue
from schedules.facts import (
    CheckFailed,
    DutyCode,
    FaultFacts,
    FeatureCode,
    HoursFacts,
    HoursReading,
    ItemFacts,
    ItemId,
    ItemSort,
    JobFacts,
    KindCode,
    KindFacts,
    LimitReading,
    MachineFacts,
    MachineId,
    OwnFigure,
    Past,
    StorageFacts,
    TaskFacts,
    UseFacts,
    VesselFacts,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Thing:
    """An item row as far as facts need it."""

    item_id: int
    sort: ItemSort
    name: str
    came_on: date
    past: Past
    start_seconds: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stand:
    """One machine of the day: its row, its thing, its units with the day each was fitted;
    `elsewhere`: sorts of units it shares and that stand on another machine."""

    machine_id: int
    kind: KindFacts
    thing: _Thing
    place: PlaceFacts
    spot: str
    units: tuple[tuple[_Thing, date], ...]
    elsewhere: frozenset[ItemSort]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Records:
    """Everything recorded up to the day, by item or machine."""

    hours: Mapping[int, ItemHours]
    work: WorkFacts
    readings: Mapping[int, tuple[LimitReading, ...]]
    uses: Mapping[int, tuple[UseFacts, ...]]
    storage: Mapping[int, tuple[StorageFacts, ...]]
    faults: Mapping[int, tuple[FaultFacts, ...]]
    jobs: Mapping[int, tuple[JobFacts, ...]]
    vessels: Mapping[int, tuple[VesselFacts, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Answers:
    """What the owner said about each machine."""

    features: Mapping[int, list[tuple[FeatureCode, str]]]
    duties: Mapping[int, list[DutyCode]]
    figures: Mapping[int, list[OwnFigure]]


def read_fleet(
    session: Session,
    *,
    on: date,
    catalogue: Catalogue,
    only: frozenset[MachineId] | None = None,
) -> tuple[MachineFacts, ...]:
    """Every machine there is on the day (or only those), in the order they were entered.

    Raises KeyError for a kind the catalogue does not know: codes are for ever.
    """
    places = read_places(session, catalogue=catalogue)
    machines = None if only is None else frozenset[int](only)
    stands = _stands(session, on, catalogue, places, machines)
    starts = {thing.item_id: thing.start_seconds for one in stands for thing in _things(one)}
    items = None if machines is None else frozenset(starts)
    work = read_work(session, on=on, items=items, machines=machines)
    use_seconds = {stand.machine_id: stand.kind.use_seconds for stand in stands}
    records = _Records(
        hours=read_hours(session, on=on, starts=starts, items=items),
        work=work,
        readings=read_readings(session, on=on, limits=catalogue.limits, items=items),
        uses=read_uses(session, on=on, use_seconds=use_seconds, machines=machines),
        storage=read_storage(session, on=on, machines=machines),
        faults=read_faults(session, on=on, machines=machines),
        jobs=read_jobs(session, on=on, closed=work.closed_jobs, machines=machines),
        vessels=_vessels(session, on, places, stands, machines),
    )
    answers = _answers(session, machines)
    return tuple(_machine(stand, records, answers, catalogue) for stand in stands)


def _machine(
    stand: _Stand, records: _Records, answers: _Answers, catalogue: Catalogue
) -> MachineFacts:
    number = stand.machine_id
    shares = month_shares(catalogue, stand.kind.shape, stand.place)
    items = tuple(
        replace(
            item,
            doings=records.work.doings.get(item.item_id, ()),
            readings=records.readings.get(item.item_id, ()),
        )
        for item in _items(stand, records.hours, shares)
    )
    failed = _standing_failures(stand.kind, items, records.work)
    return MachineFacts(
        machine_id=MachineId(number),
        name=stand.thing.name,
        kind=stand.kind,
        place=", ".join(part for part in (stand.place.name, stand.spot) if part),
        south=stand.place.south,
        came_on=stand.thing.came_on,
        past=stand.thing.past,
        items=items,
        own_windows=stand.place.own_windows(stand.kind.code),
        uses=records.uses.get(number, ()),
        storage=records.storage.get(number, ()),
        features=tuple(answers.features.get(number, ())),
        duties=frozenset(answers.duties.get(number, ())),
        own_figures=tuple(answers.figures.get(number, ())),
        faults=records.faults.get(number, ()),
        failed_checks=failed,
        jobs=records.jobs.get(number, ()),
        vessels=records.vessels.get(number, ()),
    )


def read_cans(session: Session, *, on: date, catalogue: Catalogue) -> tuple[VesselFacts, ...]:
    """The cans there are on the day."""
    places = read_places(session, catalogue=catalogue)
    found = read_vessels(session, on=on, places=places, place_of={})
    return tuple(vessel for vessel in found if vessel.machine_id is None)


def month_shares(catalogue: Catalogue, shape: str, place: PlaceFacts) -> tuple[Fraction, ...]:
    """Monthly shares of use at a place: its region's if any, six months on in the south."""
    shares = catalogue.shapes.get((shape, place.region)) or catalogue.shapes[shape, ""]
    return shares[6:] + shares[:6] if place.south else shares


def _standing_failures(
    kind: KindFacts, items: tuple[ItemFacts, ...], work: WorkFacts
) -> tuple[CheckFailed, ...]:
    """Safety checks that did not hold and were not done since, nor anything that includes them."""
    safety = {task.code for task in kind.tasks if task.safety}
    includes = {task.code: task.includes for task in kind.tasks}
    return tuple(
        check
        for item in items
        for check in work.failed.get(item.item_id, ())
        if check.code in safety
        and not any(
            doing.day > check.day and check.code in includes.get(doing.code, ())
            for doing in item.doings
        )
    )


# -- machines, units, places ------------------------------------------------------------------


def _stands(
    session: Session,
    on: date,
    catalogue: Catalogue,
    places: Mapping[int, PlaceFacts],
    only: Ids,
) -> list[_Stand]:
    scope = None if only is None else sharing_units(session, only)
    things = _all_things(session, on, scope)
    where = _places_of(session, on, scope)
    rows = [
        (machine, item, kind)
        for machine, item, kind in session.execute(
            select(MachineRow.id, MachineRow.item_id, MachineRow.kind_code)
            .where(among(MachineRow.id, scope))
            .order_by(MachineRow.id)
        )
        if item in things and machine in where
    ]
    units, elsewhere = _units(session, on, things, {row[0] for row in rows}, scope)
    stands: list[_Stand] = []
    for machine, item, kind in rows:
        if only is not None and machine not in only:
            continue
        place, spot = where[machine]
        stands.append(
            _Stand(
                machine_id=machine,
                kind=catalogue.kinds[KindCode(kind)],
                thing=things[item],
                place=places[place],
                spot=spot,
                units=tuple(units.get(machine, ())),
                elsewhere=frozenset(elsewhere.get(machine, ())),
            )
        )
    return stands


def _all_things(session: Session, on: date, machines: Ids) -> dict[int, _Thing]:
    """The things there are on the day: machines, and what is or was fitted to them."""
    wanted = true()
    if machines is not None:
        own = select(MachineRow.item_id).where(MachineRow.id.in_(machines))
        fitted = select(FittingRow.item_id).where(FittingRow.machine_id.in_(machines))
        wanted = or_(ItemRow.id.in_(own), ItemRow.id.in_(fitted))
    return {
        item: _Thing(
            item_id=item,
            sort=sort,
            name=name,
            came_on=came,
            past=past,
            start_seconds=start,
        )
        for item, sort, name, came, past, start, retired in session.execute(
            select(
                ItemRow.id,
                ItemRow.sort,
                ItemRow.name,
                ItemRow.came_on,
                ItemRow.past,
                ItemRow.start_seconds,
                ItemRow.retired_on,
            ).where(ItemRow.came_on <= on, wanted)
        )
        if retired is None or retired > on
    }


def _places_of(session: Session, on: date, machines: Ids) -> dict[int, tuple[int, str]]:
    """The place and spot of each machine on the day; before its first, the first."""
    found: dict[int, tuple[int, str]] = {}
    for machine, place, start, spot in session.execute(
        select(
            MachinePlaceRow.machine_id,
            MachinePlaceRow.place_id,
            MachinePlaceRow.from_on,
            MachinePlaceRow.spot,
        )
        .where(among(MachinePlaceRow.machine_id, machines))
        .order_by(MachinePlaceRow.from_on, MachinePlaceRow.id)
    ):
        if start <= on or machine not in found:
            found[machine] = (place, spot)
    return found


def _units(
    session: Session, on: date, things: Mapping[int, _Thing], machines: set[int], only: Ids
) -> tuple[dict[int, list[tuple[_Thing, date]]], dict[int, set[ItemSort]]]:
    """Units fitted on the day, by machine. What is fitted to several (a pack) stands on the first
    of them only, so that it is checked once; its sort is told of the others."""
    found: dict[int, list[tuple[_Thing, date]]] = defaultdict(list)
    elsewhere: dict[int, set[ItemSort]] = defaultdict(set)
    taken: set[int] = set()
    for item, machine, start, off in session.execute(
        select(FittingRow.item_id, FittingRow.machine_id, FittingRow.from_on, FittingRow.off_on)
        .where(among(FittingRow.machine_id, only))
        .order_by(FittingRow.machine_id, FittingRow.from_on, FittingRow.id)
    ):
        gone = start > on or (off is not None and off <= on)
        if gone or item not in things or machine not in machines:
            continue
        if item in taken:
            elsewhere[machine].add(things[item].sort)
            continue
        taken.add(item)
        found[machine].append((things[item], start))
    return found, elsewhere


def _things(stand: _Stand) -> list[_Thing]:
    return [stand.thing, *(thing for thing, _ in stand.units)]


def _items(
    stand: _Stand, hours: Mapping[int, ItemHours], shares: tuple[Fraction, ...]
) -> list[ItemFacts]:
    """The machine first, then each unit with the tasks of its sort; tasks whose unit is not in the
    file hang on the machine. Of a unit that stands on another only the looks at each use stay."""
    by_sort: dict[ItemSort, list[TaskFacts]] = defaultdict(list)
    sorts = {thing.sort for thing, _ in stand.units}
    for task in stand.kind.tasks:
        if task.item in stand.elsewhere - sorts and not task.rule.each_use:
            continue
        by_sort[task.item if task.item in sorts else ItemSort.MACHINE].append(task)
    items: list[ItemFacts] = []
    for thing, fitted in [(stand.thing, stand.thing.came_on), *stand.units]:
        items.append(
            ItemFacts(
                item_id=ItemId(thing.item_id),
                sort=thing.sort,
                came_on=thing.came_on,
                past=thing.past,
                hours=_hours(stand, thing, fitted, hours, shares),
                tasks=tuple(by_sort.pop(thing.sort, ())),
            )
        )
    return items


def _hours(
    stand: _Stand,
    thing: _Thing,
    fitted: date,
    hours: Mapping[int, ItemHours],
    shares: tuple[Fraction, ...],
) -> HoursFacts:
    """Its own meter's hours; without one, those of the meter on the other of machine and engine."""
    own = hours.get(thing.item_id)
    start = thing.start_seconds
    if own is None or not own.metered:
        other = _metered(stand, thing, hours)
        if other is not None:
            together = fitted == thing.came_on == stand.thing.came_on
            readings = other.readings if together else _since(other, fitted, start)
            inferred = () if own is None else own.inferred
            own = ItemHours(metered=True, readings=readings, inferred=inferred)
    return HoursFacts(
        at_start=start,
        readings=() if own is None else own.readings,
        inferred=() if own is None else own.inferred,
        year_seconds=stand.kind.year_seconds,
        month_shares=shares,
    )


def _metered(stand: _Stand, thing: _Thing, hours: Mapping[int, ItemHours]) -> ItemHours | None:
    for other in _things(stand):
        if other.item_id != thing.item_id and other.sort in (ItemSort.MACHINE, ItemSort.ENGINE):
            found = hours.get(other.item_id)
            if found is not None and found.metered:
                return found
    return None


def _since(other: ItemHours, fitted: date, start: int | None) -> tuple[HoursReading, ...]:
    """Readings of the other's meter after the fitting, as totals of the thing fitted."""
    before = [reading.seconds for reading in other.readings if reading.day <= fitted]
    if not before:
        return ()
    base = (start or 0) - before[-1]
    return tuple(
        HoursReading(day=reading.day, seconds=reading.seconds + base)
        for reading in other.readings
        if reading.day > fitted
    )


# -- the rest ---------------------------------------------------------------------------------


def _vessels(
    session: Session,
    on: date,
    places: Mapping[int, PlaceFacts],
    stands: list[_Stand],
    machines: Ids,
) -> dict[int, tuple[VesselFacts, ...]]:
    only = None if machines is None else VesselRow.machine_id.in_(machines)
    place_of = {stand.machine_id: stand.place.place_id for stand in stands}
    found: dict[int, list[VesselFacts]] = defaultdict(list)
    for vessel in read_vessels(session, on=on, places=places, place_of=place_of, only=only):
        if vessel.machine_id is not None:
            found[vessel.machine_id].append(vessel)
    return {machine: tuple(vessels) for machine, vessels in found.items()}


def _answers(session: Session, machines: Ids) -> _Answers:
    features: dict[int, list[tuple[FeatureCode, str]]] = defaultdict(list)
    for machine, feature, answer in session.execute(
        select(FeatureAnswerRow.machine_id, FeatureAnswerRow.feature_code, FeatureAnswerRow.answer)
        .where(among(FeatureAnswerRow.machine_id, machines))
        .order_by(FeatureAnswerRow.id)
    ):
        features[machine].append((FeatureCode(feature), answer))
    duties: dict[int, list[DutyCode]] = defaultdict(list)
    for machine, duty, applies in session.execute(
        select(DutyAnswerRow.machine_id, DutyAnswerRow.duty_code, DutyAnswerRow.applies)
        .where(among(DutyAnswerRow.machine_id, machines))
        .order_by(DutyAnswerRow.id)
    ):
        if applies:
            duties[machine].append(DutyCode(duty))
    figures: dict[int, list[OwnFigure]] = defaultdict(list)
    for machine, target, figure, value, page in session.execute(
        select(
            OwnFigureRow.machine_id,
            OwnFigureRow.target,
            OwnFigureRow.figure,
            OwnFigureRow.value,
            OwnFigureRow.page,
        )
        .where(among(OwnFigureRow.machine_id, machines))
        .order_by(OwnFigureRow.id)
    ):
        figures[machine].append(OwnFigure(target=target, figure=figure, value=value, page=page))
    return _Answers(features=features, duties=duties, figures=figures)
