"""What is in each vessel after a run of fuel events: lots are kept apart, drawing takes every lot
in proportion, split to the whole microlitre by largest remainder, ties to the older lot.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from schedules.facts import FuelSort, LotFacts, VesselId, VesselSort


class FuelMove(StrEnum):
    """What an event does to the fuel. PUT: in, from outside. POUR: into another vessel. TAKE: out.
    LEVEL: this much is in it now. TREAT: stabiliser added."""

    PUT = "put"
    POUR = "pour"
    TAKE = "take"
    LEVEL = "level"
    TREAT = "treat"


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelMoved:
    """One event. `volume_ul` None: all there is (POUR, TAKE), or a full vessel (PUT)."""

    move: FuelMove
    vessel_id: VesselId
    day: date
    volume_ul: int | None = None
    lot: LotFacts | None = None
    to_vessel_id: VesselId | None = None


def shares(volumes: tuple[int, ...], part: int) -> tuple[int, ...]:
    """`part` microlitres split in proportion to the volumes, by largest remainder, ties to the
    first. Law: the shares sum to `part`. Raises ValueError when there is not that much."""
    whole = sum(volumes)
    if not 0 <= part <= whole:
        raise ValueError(f"{part} of {whole} microlitres")
    if not whole:
        return volumes
    floors = [volume * part // whole for volume in volumes]
    missing = part - sum(floors)
    order = sorted(range(len(volumes)), key=lambda i: (-(volumes[i] * part % whole), i))
    for index in order[:missing]:
        floors[index] += 1
    return tuple(floors)


@dataclass(frozen=True, slots=True)
class Holds:
    """How much a vessel holds, and what sort of vessel it is."""

    capacity_ul: int
    sort: VesselSort


def lots_after(
    moves: Iterable[FuelMoved], vessels: Mapping[VesselId, Holds]
) -> dict[VesselId, tuple[LotFacts, ...]]:
    """The lots in each vessel after the moves, in their order. Drawing more than there is empties
    the vessel: the level was seen by eye, and the eye is believed over the sum.

    What goes in was seen too: what the vessel has no room for beside it was used without a word.
    A lot that is poured keeps where it stood before, so that its age goes with it.
    """
    held: dict[VesselId, list[LotFacts]] = {vessel: [] for vessel in vessels}
    for moved in moves:
        lots = held.setdefault(moved.vessel_id, [])
        match moved.move:
            case FuelMove.PUT:
                holds = vessels.get(moved.vessel_id)
                _put(lots, moved, holds)
            case FuelMove.POUR:
                into = None if moved.to_vessel_id is None else vessels.get(moved.to_vessel_id)
                taken = _take(lots, _poured_out(moved, lots, into))
                if moved.to_vessel_id is not None:
                    target = held.setdefault(moved.to_vessel_id, [])
                    source = vessels.get(moved.vessel_id)
                    _make_room(target, sum(lot.volume_ul for lot in taken), into)
                    target.extend(_poured(lot, source, moved.day) for lot in taken)
            case FuelMove.TAKE:
                _take(lots, moved.volume_ul)
            case FuelMove.LEVEL:
                _level(lots, moved.volume_ul or 0, moved.day)
            case FuelMove.TREAT:
                lots[:] = [
                    lot if lot.stabilised_on else replace(lot, stabilised_on=moved.day)
                    for lot in lots
                ]
    return {vessel: tuple(lots) for vessel, lots in held.items()}


def _poured(lot: LotFacts, source: Holds | None, day: date) -> LotFacts:
    came = lot.since or lot.bought_on
    if source is None or came is None:
        return replace(lot, since=day)
    return replace(lot, since=day, earlier=(*lot.earlier, (source.sort, came)))


def _poured_out(moved: FuelMoved, lots: list[LotFacts], into: Holds | None) -> int | None:
    """All there is, but no more than the other one holds."""
    if moved.volume_ul is not None or into is None:
        return moved.volume_ul
    return min(into.capacity_ul, sum(lot.volume_ul for lot in lots))


def _make_room(lots: list[LotFacts], volume_ul: int, holds: Holds | None) -> None:
    over = (
        sum(lot.volume_ul for lot in lots) + volume_ul - (0 if holds is None else holds.capacity_ul)
    )
    if holds is not None and over > 0:
        _take(lots, over)


def _put(lots: list[LotFacts], moved: FuelMoved, holds: Holds | None) -> None:
    volume = moved.volume_ul
    if volume is None:
        capacity = 0 if holds is None else holds.capacity_ul
        volume = max(0, capacity - sum(lot.volume_ul for lot in lots))
    _make_room(lots, volume, holds)
    if moved.lot is not None and volume > 0:
        lots.append(replace(moved.lot, volume_ul=volume, since=moved.lot.since or moved.day))


def _take(lots: list[LotFacts], volume_ul: int | None) -> list[LotFacts]:
    volumes = tuple(lot.volume_ul for lot in lots)
    whole = sum(volumes)
    part = whole if volume_ul is None else min(volume_ul, whole)
    taken = shares(volumes, part)
    out = [replace(lot, volume_ul=share) for lot, share in zip(lots, taken, strict=True) if share]
    lots[:] = [
        replace(lot, volume_ul=lot.volume_ul - share)
        for lot, share in zip(lots, taken, strict=True)
        if lot.volume_ul > share
    ]
    return out


def _level(lots: list[LotFacts], volume_ul: int, day: date) -> None:
    lots[:] = [lot for lot in lots if lot.amount_known]  # somebody has seen by now what there is
    whole = sum(lot.volume_ul for lot in lots)
    if volume_ul < whole:
        _take(lots, whole - volume_ul)
    elif volume_ul > whole:
        # More than anyone put in: nobody knows how old the rest is.
        rest = LotFacts(
            bought_on=None, volume_ul=volume_ul - whole, sort=FuelSort.UNKNOWN, since=day
        )
        lots.append(rest)
