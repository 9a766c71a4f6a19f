"""The carburettor's bowl: a few spoonfuls, vented and warm, that turn to gum long before the tank.

A shadow of its tank: what is in it belongs to the tank's account, only its age is its own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction

from schedules.ageing import lot_ageing, stale_day
from schedules.facts import LotFacts, VesselFacts, VesselSort
from schedules.keeping import FUEL_TABLE, FuelTable

BOWL_UL = 50_000
FILLING_SECONDS = 300  # a run as long as this leaves the tank's fuel in it


class BowlLeft(StrEnum):
    """How the bowl was left when the machine was put away."""

    WET = "wet"
    DRY = "dry"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class BowlVerdict:
    """How old what is left in the bowl is; None: it is dry, or nobody knows. `gum_likely`: in the
    jets, whatever the tank says."""

    ageing: Fraction | None
    gum_likely: bool
    stale_on: date | None


_DRY = BowlVerdict(ageing=None, gum_likely=False, stale_on=None)


def judge_bowl(
    tank: VesselFacts,
    *,
    last_ran_on: date,
    left: BowlLeft,
    on: date,
    table: FuelTable = FUEL_TABLE,
) -> BowlVerdict:
    """The oldest of what ran into the bowl on the last run of five minutes or more.

    Nobody knows how it was left: taken as wet, as nearly all are. A lot of unknown day counts as
    just stale. Without fuel in the tank by then there is none in the bowl.
    """
    lots = [lot for lot in tank.lots if (lot.since or lot.bought_on or on) <= last_ran_on]
    if left is BowlLeft.DRY or not lots or last_ran_on > on:
        return _DRY
    ages = [_age(lot, tank, last_ran_on, on, table) for lot in lots]
    oldest = max(ages)
    stale_on = None
    if oldest < table.stale_at:
        stale_on = _stale_on(lots, tank, last_ran_on, on, table)
    return BowlVerdict(ageing=oldest, gum_likely=oldest >= table.stale_at, stale_on=stale_on)


def _in_the_bowl(lot: LotFacts, tank: VesselFacts, ran_on: date) -> tuple[LotFacts, VesselFacts]:
    came = lot.since or lot.bought_on or ran_on
    moved = replace(lot, since=ran_on, earlier=(*lot.earlier, (tank.sort, came)))
    return moved, replace(tank, sort=VesselSort.BOWL, capacity_ul=BOWL_UL, lots=(moved,))


def _age(lot: LotFacts, tank: VesselFacts, ran_on: date, on: date, table: FuelTable) -> Fraction:
    moved, bowl = _in_the_bowl(lot, tank, ran_on)
    age = lot_ageing(moved, bowl, on=on, table=table)
    return table.stale_at if age is None else age


def _stale_on(
    lots: list[LotFacts], tank: VesselFacts, ran_on: date, on: date, table: FuelTable
) -> date | None:
    days: list[date] = []
    for lot in lots:
        moved, bowl = _in_the_bowl(lot, tank, ran_on)
        day = stale_day(moved, bowl, on=on, table=table)
        if day is not None:
            days.append(day)
    return min(days, default=None)
