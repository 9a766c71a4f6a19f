"""Vessels as facts: what is in each can, tank and bowl after everything that happened to it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from sqlalchemy import ColumnElement, Select, select, true
from sqlalchemy.orm import Session

from models.facts.places import UNKNOWN_MC, PlaceFacts
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow, VesselRow
from models.words import FuelDoing
from schedules.facts import (
    FuelSort,
    LotFacts,
    MachineId,
    VesselFacts,
    VesselId,
    VesselLook,
)
from schedules.ledger import FuelMove, FuelMoved, Holds, lots_after

_LEAST_UL = 1
_MOVES = {
    FuelDoing.BOUGHT: FuelMove.PUT,
    FuelDoing.FOUND: FuelMove.PUT,
    FuelDoing.FILLED: FuelMove.PUT,
    FuelDoing.POURED: FuelMove.POUR,
    FuelDoing.BURNT: FuelMove.TAKE,
    FuelDoing.DRAINED: FuelMove.TAKE,
    FuelDoing.LEVEL: FuelMove.LEVEL,
    FuelDoing.TREATED: FuelMove.TREAT,
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
    moves, looks = _events(session, on, drunk_from)
    lots = lots_after(moves, {VesselId(row.id): Holds(row.capacity_ul, row.sort) for row in rows})
    return tuple(
        VesselFacts(
            vessel_id=VesselId(row.id),
            name=row.name,
            sort=row.sort,
            capacity_ul=row.capacity_ul,
            lots=lots[VesselId(row.id)],
            month_means_mc=_means(row, places, place_of),
            burns=row.burns,
            looks=tuple(looks.get(row.id, ())),
            machine_id=None if row.machine_id is None else MachineId(row.machine_id),
        )
        for row in rows
        if asked is None or row.id in asked
    )


def _drunk_from(only: ColumnElement[bool]) -> Select[tuple[int]]:
    """The vessels, and all that was ever poured from into them, straight or by way of others."""
    found = select(VesselRow.id).where(only).cte("drunk_from", recursive=True)
    poured = select(FuelEventRow.vessel_id).join(found, FuelEventRow.to_vessel_id == found.c.id)
    return select(found.union(poured).c.id)


def _means(
    row: VesselRow, places: Mapping[int, PlaceFacts], place_of: Mapping[int, int]
) -> tuple[int, ...]:
    place = row.place_id
    if place is None and row.machine_id is not None:
        place = place_of.get(row.machine_id)
    if place is None or place not in places:
        return (UNKNOWN_MC,) * 12
    return places[place].means(row.shelter)


def _events(
    session: Session, on: date, drunk_from: Select[tuple[int]] | None
) -> tuple[list[FuelMoved], dict[int, list[VesselLook]]]:
    moves: list[FuelMoved] = []
    looks: dict[int, list[VesselLook]] = {}
    for vessel, into, doing, day, volume, sort, bought, stabilised, look in session.execute(
        select(
            FuelEventRow.vessel_id,
            FuelEventRow.to_vessel_id,
            FuelEventRow.doing,
            FuelEventRow.happened_on,
            FuelEventRow.volume_ul,
            FuelEventRow.fuel_sort,
            FuelEventRow.bought_on,
            FuelEventRow.stabilised_on,
            FuelEventRow.look,
        )
        .where(
            in_force(FuelEventRow),
            FuelEventRow.happened_on <= on,
            true() if drunk_from is None else FuelEventRow.vessel_id.in_(drunk_from),
        )
        .order_by(FuelEventRow.happened_on, FuelEventRow.id)
    ):
        if doing is FuelDoing.LOOKED:
            if look is not None:
                looks.setdefault(vessel, []).append(VesselLook(day=day, look=look))
            continue
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
                since=bought if doing is FuelDoing.FOUND else None,
            )
        moves.append(
            FuelMoved(
                move=_MOVES[doing],
                vessel_id=VesselId(vessel),
                day=day,
                volume_ul=moved_ul,
                lot=lot,
                to_vessel_id=None if into is None else VesselId(into),
            )
        )
    return moves, looks
