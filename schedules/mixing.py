"""What mixing does: shares, blends, dilution. Plain sums of volumes, exact but for flow-through.

Volumes are in any one unit, the same throughout a call.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise
from math import exp, log

# Petrol grows with warmth; the rounded figure of textbooks, for each degree.
EXPANSION = Fraction(96, 100_000)
FULL = Fraction(95, 100)


def share_left(left: Fraction, refills: int) -> Fraction:
    """Share of the first fill after burning down to `left` and filling up so many times."""
    return left**refills


def refills_to(left: Fraction, share: Fraction) -> int:
    """How often to burn down to `left` and fill up until no more than `share` of the first fill
    remains. Raises ValueError where that never happens."""
    if not 0 <= left < 1 or share <= 0:
        raise ValueError(f"{left} left of each fill never comes down to {share}")
    refills, remains = 0, Fraction(1)
    while remains > share:
        refills, remains = refills + 1, remains * left
    return refills


def fresh_to_share(stale: Fraction, whole: Fraction, share: Fraction) -> Fraction:
    """How much fresh fuel brings what is stale down to a share of the whole; nought if it is."""
    if share <= 0:
        raise ValueError("no amount of fresh fuel brings it to nothing")
    return max(Fraction(0), stale / share - whole)


def mean_of(parts: Iterable[tuple[Fraction, Fraction]]) -> Fraction:
    """Mean of values weighted by volume: `parts` are volume and value. For ages, and for the
    ethanol of a blend. Raises ValueError where there is no volume."""
    whole, total = Fraction(0), Fraction(0)
    for volume, value in parts:
        whole += volume
        total += volume * value
    if not whole:
        raise ValueError("nothing has no mean")
    return total / whole


def to_replace(volume: Fraction, *, now: Fraction, wanted: Fraction, added: Fraction) -> Fraction:
    """How much to draw off and replace by something of share `added`, to come from `now` to
    `wanted`. Raises ValueError when that cannot bring it there."""
    if added == now:
        raise ValueError("what is put in is the same as what is drawn off")
    part = volume * (wanted - now) / (added - now)
    if not 0 <= part <= volume:
        raise ValueError("it cannot come there by being replaced")
    return part


def after_replacing(volume: Fraction, part: Fraction, times: int) -> Fraction:
    """How much of the first content is left after replacing a part of it so many times."""
    return volume * share_left(1 - part / volume, times)


def flushed_share(volumes: float) -> float:
    """Share of the first content left when so many volumes have flowed through, mixing at once."""
    return exp(-volumes)


def volumes_to_flush(share: float) -> float:
    """How many volumes have to flow through until so little of the first content is left."""
    return -log(share)


def while_filling(
    *, held: float, volume: float, richness: float, inflow: float, outflow: float, time: float
) -> float:
    """How much of a thing a vessel holds that is drawn from while it is being filled.

    It held so much of it in its volume; what flows in has the richness, flows are by time.
    """
    strange = held - richness * volume
    if inflow == outflow:
        return richness * volume + strange * exp(-outflow * time / volume)
    now = volume + (inflow - outflow) * time
    return richness * now + strange * (volume / now) ** (outflow / (inflow - outflow))


def expanded(volume: Fraction, degrees: Fraction, *, growth: Fraction = EXPANSION) -> Fraction:
    """The volume of petrol so many degrees Celsius warmer."""
    return volume * (1 + growth * degrees)


def commingled_psi(psi: Fraction, share: Fraction) -> Fraction:
    """Vapour pressure when a share of petrol with a tenth of ethanol is poured into petrol with
    none, both at `psi`. Source: US EPA, MOVES, table of commingling; straight lines between its
    rows. Raises ValueError above a half, where the table as we have it ends.
    """
    if not 0 <= share <= _RISES[-1][0]:
        raise ValueError(f"no figure for a share of {share}")
    for (low, at_low), (high, at_high) in pairwise(_RISES):
        if share <= high:
            rise = at_low + (at_high - at_low) * (share - low) / (high - low)
            return psi * (1 + rise)
    raise AssertionError(share)


_RISES = (
    (Fraction(0), Fraction(0)),
    (Fraction(1, 10), Fraction(16, 1000)),
    (Fraction(3, 10), Fraction(35, 1000)),
    (Fraction(1, 2), Fraction(40, 1000)),
)
