"""Vessels as facts: what is in each can, tank and bowl after everything that happened to it."""

from __future__ import annotations

import gc
from bisect import bisect_right
from collections.abc import Generator, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Select, select, true
from sqlalchemy.orm import Session

from models.facts.places import UNKNOWN_MC, PlaceFacts
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow, VesselRow
from models.words import FuelDoing
from schedules.facts import (
    FuelSort,
    Gone,
    Look,
    LotFacts,
    MachineId,
    VesselFacts,
    VesselId,
    VesselLook,
)
from schedules.ledger import Account, FuelMove, FuelMoved, Holds, Ledger, replay

_LEAST_UL = 1
_AT_A_TIME = 10_000
_MOVES = {
    FuelDoing.BOUGHT: FuelMove.PUT,
    FuelDoing.FOUND: FuelMove.PUT,
    FuelDoing.FILLED: FuelMove.PUT,
    FuelDoing.POURED: FuelMove.POUR,
    FuelDoing.BURNT: FuelMove.TAKE,
    FuelDoing.DRAINED: FuelMove.TAKE,
    FuelDoing.SPILLED: FuelMove.TAKE,
    FuelDoing.DISPOSED: FuelMove.TAKE,
    FuelDoing.LEVEL: FuelMove.LEVEL,
    FuelDoing.TREATED: FuelMove.TREAT,
    FuelDoing.OILED: FuelMove.OIL,
}
_GONE = {
    FuelDoing.BURNT: Gone.BURNT,
    FuelDoing.DRAINED: Gone.DRAINED,
    FuelDoing.SPILLED: Gone.SPILLED,
    FuelDoing.DISPOSED: Gone.DISPOSED,
}


def read_vessels(
    session: Session,
    *,
    on: date,
    places: Mapping[int, PlaceFacts],
    place_of: Mapping[int, int],
    only: ColumnElement[bool] | None = None,
) -> tuple[VesselFacts, ...]:
    """Every vessel there is on the day, or those `only` of which is true. `place_of`: the place of
    each machine on it."""
    drunk_from = None if only is None else _drunk_from(only)
    wanted = true() if drunk_from is None else VesselRow.id.in_(drunk_from)
    rows = (
        session.execute(
            select(VesselRow).where(VesselRow.came_on <= on, wanted).order_by(VesselRow.id)
        )
        .scalars()
        .all()
    )
    rows = [row for row in rows if row.retired_on is None or row.retired_on > on]
    asked = None if only is None else set(session.scalars(select(VesselRow.id).where(only)))
    looks: dict[int, list[VesselLook]] = {}
    moves = _moves(session, on, drunk_from, looks)
    with _no_circles():
        ledger = replay(moves, {VesselId(row.id): Holds(row.capacity_ul, row.sort) for row in rows})
    return tuple(
        VesselFacts(
            vessel_id=VesselId(row.id),
            name=row.name,
            sort=row.sort,
            capacity_ul=row.capacity_ul,
            lots=ledger.lots[VesselId(row.id)],
            month_means_mc=_means(row, places, place_of),
            month_swings_mc=_swings(row, places, place_of),
            levels=_levels(ledger, VesselId(row.id)),
            entered=bool(ledger.levels[VesselId(row.id)]),
            burns=row.burns,
            looks=tuple(looks.get(row.id, ())),
            machine_id=None if row.machine_id is None else MachineId(row.machine_id),
        )
        for row in rows
        if asked is None or row.id in asked
    )


@contextmanager
def _no_circles() -> Generator[None]:
    """Nobody looks for circles meanwhile: a replay makes none, and to look for them over and over
    among millions of lots and levels took two fifths of its time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def read_accounts(session: Session, *, on: date) -> dict[VesselId, Account]:
    """What came into each vessel there ever was up to the day, and where it went. Law, to the
    microlitre: all that was bought, found and added is held or went somewhere."""
    rows = session.execute(
        select(VesselRow.id, VesselRow.capacity_ul, VesselRow.sort).where(VesselRow.came_on <= on)
    ).all()
    holds = {VesselId(number): Holds(capacity, sort) for number, capacity, sort in rows}
    return dict(replay(_moves(session, on, None, {}), holds).accounts)


def _drunk_from(only: ColumnElement[bool]) -> Select[tuple[int]]:
    """The vessels, and all that was ever poured from into them, straight or by way of others."""
    found = select(VesselRow.id).where(only).cte("drunk_from", recursive=True)
    poured = select(FuelEventRow.vessel_id).join(found, FuelEventRow.to_vessel_id == found.c.id)
    return select(found.union(poured).c.id)


def _place(
    row: VesselRow, places: Mapping[int, PlaceFacts], place_of: Mapping[int, int]
) -> PlaceFacts | None:
    place = row.place_id
    if place is None and row.machine_id is not None:
        place = place_of.get(row.machine_id)
    return None if place is None else places.get(place)


def _means(
    row: VesselRow, places: Mapping[int, PlaceFacts], place_of: Mapping[int, int]
) -> tuple[int, ...]:
    place = _place(row, places, place_of)
    return (UNKNOWN_MC,) * 12 if place is None else place.means(row.shelter)


def _swings(
    row: VesselRow, places: Mapping[int, PlaceFacts], place_of: Mapping[int, int]
) -> tuple[int, ...]:
    place = _place(row, places, place_of)
    return () if place is None else place.swings(row.shelter)


def _levels(ledger: Ledger, vessel: VesselId) -> tuple[tuple[date, int], ...]:
    """How full it was, as far back as what is in it now."""
    levels = ledger.levels[vessel]
    came = [lot.since for lot in ledger.lots[vessel] if lot.since is not None]
    if not came:
        return ()
    first = bisect_right(levels, min(came), key=lambda level: level[0]) - 1
    return levels[max(0, first) :]


def _moves(
    session: Session,
    on: date,
    drunk_from: Select[tuple[int]] | None,
    looks: dict[int, list[VesselLook]],
) -> Iterator[FuelMoved]:
    """One at a time, for a large household has millions of them; looks are put aside."""
    told: Iterable[Any] = session.execute(
        select(*_COLUMNS)
        .where(
            in_force(FuelEventRow),
            FuelEventRow.happened_on <= on,
            true() if drunk_from is None else FuelEventRow.vessel_id.in_(drunk_from),
        )
        .order_by(FuelEventRow.happened_on, FuelEventRow.id)
        .execution_options(yield_per=_AT_A_TIME)
    )
    for one in told:
        row: _Told = one
        vessel, day, look = row[0], row[3], row[-1]
        if look is None:
            yield _moved(row)
        else:
            looks.setdefault(vessel, []).append(VesselLook(day=day, look=look))


# A look has its column to itself: no other event fills it, and it moves nothing.
_COLUMNS = (
    FuelEventRow.vessel_id,
    FuelEventRow.to_vessel_id,
    FuelEventRow.doing,
    FuelEventRow.happened_on,
    FuelEventRow.volume_ul,
    FuelEventRow.fuel_sort,
    FuelEventRow.bought_on,
    FuelEventRow.stabilised_on,
    FuelEventRow.ethanol_permille,
    FuelEventRow.oil_ratio,
    FuelEventRow.gone,
    FuelEventRow.look,
)


_Told = tuple[
    int,
    int | None,
    FuelDoing,
    date,
    int | None,
    FuelSort | None,
    date | None,
    date | None,
    int | None,
    int | None,
    Gone | None,
    Look | None,
]


def _moved(row: _Told) -> FuelMoved:
    vessel, into, doing, day, volume, sort, bought, stabilised, ethanol, oil_ratio, gone, _ = row
    lot = None
    # Found with no amount: nobody knows whether there is any; the least stands for it.
    unseen = doing is FuelDoing.FOUND and volume is None
    moved_ul = _LEAST_UL if unseen else volume
    if _MOVES[doing] is FuelMove.PUT:
        lot = LotFacts(
            bought_on=bought,
            volume_ul=moved_ul or 0,
            amount_known=not unseen,
            sort=sort or FuelSort.UNKNOWN,
            stabilised_on=stabilised,
            # What was found in it has stood in it, not in a can, since it was bought.
            since=bought if doing is FuelDoing.FOUND else day,
            ethanol_permille=ethanol,
        )
    return FuelMoved(
        move=_MOVES[doing],
        vessel_id=VesselId(vessel),
        day=day,
        volume_ul=moved_ul,
        lot=lot,
        to_vessel_id=None if into is None else VesselId(into),
        gone=gone or _GONE.get(doing),
        found=doing is FuelDoing.FOUND,
        oil_ratio=oil_ratio,
    )
