"""The grounds of a band: each of the three clocks with its figures, and what comes next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from schedules.facts import Band, FuelClock
from schedules.keeping import FuelTable
from schedules.reasons import Reason, ReasonCode, reason
from schedules.units import Quantity, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class ClockFigures:
    """How far each clock has run. `light_ends`: 1 is the limit, None: not reckoned; `water_ul`:
    what was found, None: nobody looked; `carried_ul`: how much would be too much."""

    clock: FuelClock
    stale: Fraction
    spoilt: Fraction
    light_ends: Fraction | None
    water_ul: int | None
    carried_ul: Fraction


def clock_grounds(
    figures: ClockFigures, *, next_on: date | None, next_band: Band | None, table: FuelTable
) -> Iterator[Reason]:
    """The clock that decides, all three with their figures, and the day of the next worse band."""
    yield reason(ReasonCode.FUEL_GOVERNS, clock=figures.clock)
    if next_on is not None and next_band is not None:
        yield reason(ReasonCode.FUEL_NEXT_BAND, day=next_on, band=next_band)
    yield reason(
        ReasonCode.FUEL_OXIDATION,
        stale=_share(figures.stale),
        spoilt=_share(figures.spoilt),
        most_share=_share(table.spoilt_share),
    )
    if figures.light_ends is None:
        yield reason(ReasonCode.FUEL_LIGHT_ENDS_UNKNOWN)
    else:
        yield reason(
            ReasonCode.FUEL_LIGHT_ENDS,
            lost=_share(figures.light_ends * table.vapour_limit),
            most_share=_share(table.vapour_limit),
        )
    most = Quantity(figures.carried_ul, Unit.MICROLITRE)
    if figures.water_ul is None:
        yield reason(ReasonCode.FUEL_WATER_UNSEEN, most=most)
    else:
        found = Quantity(Fraction(figures.water_ul), Unit.MICROLITRE)
        yield reason(ReasonCode.FUEL_WATER, found=found, most=most)


def _share(share: Fraction) -> Quantity:
    return Quantity(share * 1000, Unit.PERMILLE)
