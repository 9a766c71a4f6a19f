"""The bands a vessel went through and those it comes to if it is left alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from schedules.facts import Band, VesselFacts
from schedules.fuel import judge_vessel


@dataclass(frozen=True, slots=True)
class BandDays:
    """From `first` up to the day before the next one; `band` None: nothing was in it."""

    first: date
    band: Band | None


def band_course(
    stood: Sequence[tuple[date, VesselFacts | None]], *, until: date
) -> tuple[BandDays, ...]:
    """`stood`: the vessel as it was from each of these days on, in their order; None: not there.
    The last one goes on until `until`. Neighbours of one band are one stretch."""
    found: list[BandDays] = []
    for place, (first, vessel) in enumerate(stood):
        end = stood[place + 1][0] if place + 1 < len(stood) else until
        day: date | None = first
        while day is not None and (day < end or day == first):
            verdict = None if vessel is None else judge_vessel(vessel, on=day)
            band = None if verdict is None or not verdict.lots else verdict.band
            if not found or found[-1].band is not band:
                found.append(BandDays(day, band))
            day = None if verdict is None else verdict.next_band_on
    return tuple(found)
