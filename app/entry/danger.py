"""What must not go into an engine, in words: asked twice, and kept if it happened all the same."""

from __future__ import annotations

from collections.abc import Iterable

from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import FuelSort, VesselFacts
from schedules.pouring import Mismatch, mismatch

_SAID = {
    Mismatch.MIX_IN_FOUR_STROKE: msg(
        "Two-stroke mix does not go into {vessel}: a four-stroke smokes and fouls on it. If it is "
        "in already, do not start it; drain it."
    ),
    Mismatch.PLAIN_IN_TWO_STROKE: msg(
        "DANGER to the engine: {vessel} runs on mix, and this is petrol without oil. A two-stroke "
        "seizes on it within minutes. If it is in already, do not start it; drain it."
    ),
    Mismatch.PETROL_IN_DIESEL: msg(
        "Petrol does not go into {vessel}: it burns diesel, and petrol ruins the pump. If it is in "
        "already, do not start it; drain it."
    ),
    Mismatch.DIESEL_IN_PETROL: msg(
        "Diesel does not go into {vessel}: it burns petrol. If it is in already, do not start it; "
        "drain it."
    ),
    Mismatch.TOO_MUCH_ALCOHOL: msg(
        "E15 and above are not for {vessel}: no more than 10% alcohol is allowed in these engines. "
        "If it is in already, do not start it; drain it."
    ),
    Mismatch.BURNS_NOTHING: msg("{vessel} burns nothing: no fuel goes into it."),
}


def danger_of(sorts: Iterable[FuelSort], vessel: VesselFacts, name: str, words: Wording) -> str:
    """The sentence to answer twice; "" where nothing is wrong."""
    found = mismatch(sorts, vessel.burns)
    return "" if found is None else words.text(_SAID[found], vessel=name)
