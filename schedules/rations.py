"""Which machine burns which fuel first, what to buy, and what cannot be burnt any more.

The oldest fuel goes to whoever runs next and may have it; what nobody can burn before it turns is
named with its amount and day.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from fractions import Fraction

from schedules.facts import (
    Band,
    FuelClock,
    FuelUse,
    Look,
    VesselFacts,
    VesselId,
    VesselSort,
    VesselVerdict,
)
from schedules.fuel import judge_vessel
from schedules.keeping import FUEL_TABLE, WRONG_SORTS, FuelTable
from schedules.mixing import FULL, fresh_to_share

BUY_DAYS = 28  # buy for so long and no longer
_BURNABLE = frozenset({Band.GOOD, Band.USE_FIRST, Band.BURN})


# -- dilution ---------------------------------------------------------------------------------


class NoAnswer(StrEnum):
    """Why fresh fuel on top is no answer."""

    LAYERS_OR_WATER = "layers_or_water"
    LOOKED_BAD = "looked_bad"
    WRONG_FUEL = "wrong_fuel"
    TOO_FAR_GONE = "too_far_gone"
    LOOK_FIRST = "look_first"
    NO_ROOM = "no_room"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dilution:
    """How much fresh fuel brings the stale share under a limit; no authority gives a ratio.

    `room_ul` is what still goes in up to 95 % of the vessel; `no_answer` None: it is one.
    """

    stale_ul: int
    fresh_ul: int
    room_ul: int
    no_answer: NoAnswer | None


def dilution(
    vessel: VesselFacts,
    *,
    on: date,
    limit: Fraction = Fraction(1, 10),
    table: FuelTable = FUEL_TABLE,
) -> Dilution:
    """The fresh fuel to pour on what is in a vessel at the end of the day, in whole microlitres."""
    verdict = judge_vessel(vessel, on=on, table=table)
    stale = verdict.stale_share * verdict.volume_ul
    exact = fresh_to_share(stale, Fraction(verdict.volume_ul), limit)
    fresh = -(-exact.numerator // exact.denominator)
    room = max(0, int(FULL * vessel.capacity_ul) - verdict.volume_ul)
    return Dilution(
        stale_ul=int(stale),
        fresh_ul=fresh,
        room_ul=room,
        no_answer=_no_answer(vessel, verdict, on, fits=fresh <= room),
    )


def _no_answer(
    vessel: VesselFacts, verdict: VesselVerdict, on: date, *, fits: bool
) -> NoAnswer | None:
    if verdict.band is Band.NOT_FOR_THIS:
        return NoAnswer.WRONG_FUEL
    if verdict.band is Band.DRAIN:
        if verdict.governed_by is FuelClock.WATER:
            return NoAnswer.LAYERS_OR_WATER
        if verdict.governed_by is FuelClock.LOOK:
            layers = any(look.look is Look.LAYERS for look in vessel.looks if look.day <= on)
            return NoAnswer.LAYERS_OR_WATER if layers else NoAnswer.LOOKED_BAD
        return NoAnswer.TOO_FAR_GONE
    if verdict.band is Band.LOOK_FIRST:
        return NoAnswer.LOOK_FIRST
    return None if fits else NoAnswer.NO_ROOM


# -- who burns what ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """So much will be burnt from this machine's tank about that day."""

    vessel_id: VesselId
    day: date
    volume_ul: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """So much of what is in `source` is to be burnt by the machine of `burner` about that day."""

    source: VesselId
    burner: VesselId
    day: date
    volume_ul: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Surplus:
    """What nobody burns before it turns; `turns_on` None: it keeps longer than is looked ahead."""

    vessel_id: VesselId
    volume_ul: int
    turns_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """What a machine will want and nothing at hand covers."""

    burner: VesselId
    day: date
    volume_ul: int
    burns: FuelUse


@dataclass(frozen=True, slots=True, kw_only=True)
class BurnPlan:
    """Draws in time, what is left over, what is missing."""

    draws: tuple[Draw, ...]
    surplus: tuple[Surplus, ...]
    shortages: tuple[Shortage, ...]


@dataclass(slots=True)
class _Stock:
    vessel: VesselFacts
    left_ul: int
    turns_on: date | None


def burn_plan(
    vessels: Sequence[VesselFacts],
    demands: Iterable[Demand],
    *,
    on: date,
    places: Mapping[VesselId, str] | None = None,
    table: FuelTable = FUEL_TABLE,
) -> BurnPlan:
    """Give each demand, in time, what turns first of all that its machine may burn.

    What is in a machine's own tank is burnt by that machine, before anything is poured on it, for
    it cannot be got round; then the cans at the machine's own place, the one that turns first in
    front, and only then those that would have to be carried there. `places`: where each vessel
    stands; without it all stand together. Stale fuel counts as turned, but is still burnt: now, in
    a running machine. Raises KeyError for a demand of a tank not given.
    """
    by_id = {vessel.vessel_id: vessel for vessel in vessels}
    stocks = _stocks(vessels, on, table)
    draws: list[Draw] = []
    short: list[Shortage] = []
    for demand in sorted(demands, key=lambda one: (one.day, one.vessel_id)):
        burner = by_id[demand.vessel_id]
        missing = demand.volume_ul
        for stock in _open_to(burner, stocks, places or {}):
            part = min(missing, stock.left_ul)
            if not part or not _still_good(stock, demand.day, on):
                continue
            stock.left_ul -= part
            missing -= part
            draws.append(
                Draw(
                    source=stock.vessel.vessel_id,
                    burner=demand.vessel_id,
                    day=demand.day,
                    volume_ul=part,
                )
            )
        if missing:
            short.append(
                Shortage(
                    burner=demand.vessel_id,
                    day=demand.day,
                    volume_ul=missing,
                    burns=burner.burns,
                )
            )
    left = tuple(
        Surplus(vessel_id=one.vessel.vessel_id, volume_ul=one.left_ul, turns_on=one.turns_on)
        for one in stocks
        if one.left_ul
    )
    return BurnPlan(draws=tuple(draws), surplus=left, shortages=tuple(short))


def _stocks(vessels: Sequence[VesselFacts], on: date, table: FuelTable) -> list[_Stock]:
    stocks: list[_Stock] = []
    for vessel in vessels:
        if vessel.sort is VesselSort.BOWL:
            continue
        verdict = judge_vessel(vessel, on=on, table=table)
        if verdict.volume_ul and verdict.band in _BURNABLE:
            stocks.append(_Stock(vessel, verdict.volume_ul, verdict.burn_on))
    return stocks


def _open_to(
    burner: VesselFacts, stocks: list[_Stock], places: Mapping[VesselId, str]
) -> list[_Stock]:
    """What it may burn: its own tank first, then the cans of its place by the day they turn."""
    here = places.get(burner.vessel_id)
    wrong = WRONG_SORTS[burner.burns]
    found = [
        stock
        for stock in stocks
        if stock.vessel.vessel_id == burner.vessel_id
        or (
            stock.vessel.sort is VesselSort.CAN
            and not any(lot.sort in wrong for lot in stock.vessel.lots)
        )
    ]
    found.sort(
        key=lambda stock: (
            stock.vessel.vessel_id != burner.vessel_id,
            places.get(stock.vessel.vessel_id) != here,
            stock.turns_on or date.max,
            stock.vessel.vessel_id,
        )
    )
    return found


def _still_good(stock: _Stock, day: date, on: date) -> bool:
    """By its day; stale fuel only in the days to come at once."""
    if stock.turns_on is None or day < stock.turns_on:
        return True
    return stock.turns_on <= on and day <= on + timedelta(days=BUY_DAYS)


# -- what to buy ------------------------------------------------------------------------------


def to_buy(plan: BurnPlan, *, on: date, days: int = BUY_DAYS) -> Mapping[FuelUse, int]:
    """Microlitres to buy of each sort of fuel for the coming days, and no more than that."""
    last = on + timedelta(days=days)
    wanted: dict[FuelUse, int] = {}
    for short in plan.shortages:
        if on <= short.day < last:
            wanted[short.burns] = wanted.get(short.burns, 0) + short.volume_ul
    return wanted


# -- what has to go ---------------------------------------------------------------------------


class Way(StrEnum):
    """Where fuel can go. USE_FIRST: before fresh is opened. BURN_NOW: in a running machine, or into
    a fairly full car tank. OTHER_ENGINE: one that it is meant for. COLLECTION: as hazardous waste,
    never drain or soil."""

    KEEP = "keep"
    USE_FIRST = "use_first"
    BURN_NOW = "burn_now"
    OTHER_ENGINE = "other_engine"
    LOOK = "look"
    COLLECTION = "collection"


def way_out(verdict: VesselVerdict, *, others: Iterable[FuelUse] = ()) -> Way:
    """What becomes of the fuel of a vessel; `others`: what other engines of the household burn."""
    match verdict.band:
        case Band.GOOD:
            return Way.KEEP
        case Band.USE_FIRST:
            return Way.USE_FIRST
        case Band.BURN:
            return Way.BURN_NOW
        case Band.LOOK_FIRST:
            return Way.LOOK
        case Band.DRAIN:
            return Way.COLLECTION
        case Band.NOT_FOR_THIS:
            sorts = {lot.sort for lot in verdict.lots}
            stale = verdict.stale_share > 0
            meant = any(not sorts & WRONG_SORTS[use] for use in others if use is not FuelUse.NONE)
            if verdict.governed_by is FuelClock.ETHANOL:
                return Way.BURN_NOW  # in a car that takes it
            return Way.OTHER_ENGINE if meant and not stale else Way.COLLECTION
