"""What a pour or a fill would do before anybody has done it, and what must not be put together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from enum import StrEnum

from schedules.facts import FuelSort, FuelUse, LotFacts, VesselFacts, VesselId
from schedules.keeping import WRONG_SORTS
from schedules.ledger import FuelMove, FuelMoved, Holds, replay


class Mismatch(StrEnum):
    """Why a fuel must not go into a machine."""

    MIX_IN_FOUR_STROKE = "mix_in_four_stroke"
    PLAIN_IN_TWO_STROKE = "plain_in_two_stroke"
    PETROL_IN_DIESEL = "petrol_in_diesel"
    DIESEL_IN_PETROL = "diesel_in_petrol"
    TOO_MUCH_ALCOHOL = "too_much_alcohol"
    BURNS_NOTHING = "burns_nothing"


def mismatch(sorts: Iterable[FuelSort], burns: FuelUse) -> Mismatch | None:
    """What is wrong with giving these fuels to an engine of that kind; None when nothing is. A
    fuel nobody can name is not held against anybody."""
    given = set(sorts)
    if not given:
        return None
    if burns is FuelUse.NONE:
        return Mismatch.BURNS_NOTHING
    wrong = given & WRONG_SORTS[burns]
    if wrong:
        if FuelSort.DIESEL in wrong:
            return Mismatch.DIESEL_IN_PETROL
        if burns is FuelUse.DIESEL:
            return Mismatch.PETROL_IN_DIESEL
        four = burns is FuelUse.FOUR_STROKE
        return Mismatch.MIX_IN_FOUR_STROKE if four else Mismatch.PLAIN_IN_TWO_STROKE
    return Mismatch.TOO_MUCH_ALCOHOL if FuelSort.E15 in given else None


def _held(vessel: VesselFacts, on: date) -> list[FuelMoved]:
    return [
        FuelMoved(
            move=FuelMove.PUT,
            vessel_id=vessel.vessel_id,
            day=lot.since or lot.bought_on or on,
            volume_ul=lot.volume_ul,
            lot=lot,
        )
        for lot in vessel.lots
        if lot.volume_ul > 0
    ]


def _after(vessel: VesselFacts, lots: tuple[LotFacts, ...], on: date) -> VesselFacts:
    level = (on, sum(lot.volume_ul for lot in lots))
    earlier = tuple(one for one in vessel.levels if one[0] < on)
    return replace(vessel, lots=lots, levels=(*earlier, level))


def poured(
    source: VesselFacts, target: VesselFacts, volume_ul: int, *, on: date
) -> tuple[VesselFacts, VesselFacts]:
    """Both vessels after so much was poured from one into the other. Law: together they hold what
    they held. Raises ValueError for a vessel into itself, for more than there is, and for more
    than there is room for."""
    if source.vessel_id == target.vessel_id:
        raise ValueError("a vessel cannot be poured into itself")
    if not 0 < volume_ul <= held_ul(source):
        raise ValueError(f"{volume_ul} of {held_ul(source)} microlitres")
    if volume_ul > room_ul(target):
        raise ValueError(f"{volume_ul} into {room_ul(target)} microlitres of room")
    moves = [
        *_held(source, on),
        *_held(target, on),
        FuelMoved(
            move=FuelMove.POUR,
            vessel_id=source.vessel_id,
            day=on,
            volume_ul=volume_ul,
            to_vessel_id=target.vessel_id,
        ),
    ]
    lots = replay(moves, _holds(source, target)).lots
    return (
        _after(source, lots[source.vessel_id], on),
        _after(target, lots[target.vessel_id], on),
    )


def with_lot(vessel: VesselFacts, lot: LotFacts, *, on: date) -> VesselFacts:
    """The vessel after a lot was put into it today; older fuel makes room."""
    put = FuelMoved(
        move=FuelMove.PUT, vessel_id=vessel.vessel_id, day=on, volume_ul=lot.volume_ul, lot=lot
    )
    lots = replay([*_held(vessel, on), put], _holds(vessel)).lots
    return _after(vessel, lots[vessel.vessel_id], on)


def _holds(*vessels: VesselFacts) -> dict[VesselId, Holds]:
    return {each.vessel_id: Holds(each.capacity_ul, each.sort) for each in vessels}


def held_ul(vessel: VesselFacts) -> int:
    """How much is in it, in microlitres."""
    return sum(lot.volume_ul for lot in vessel.lots)


def room_ul(vessel: VesselFacts) -> int:
    """How much more it holds, in microlitres."""
    return max(0, vessel.capacity_ul - held_ul(vessel))
