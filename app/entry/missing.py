"""Less was seen than should be in it: what became of the rest is asked, and the answer is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import choice
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import SetLevel
from schedules.demands import reckoned_ul
from schedules.facts import Gone, VesselFacts, VesselSort
from schedules.plan import Judging
from schedules.pouring import held_ul

# Our judgement: an eye is off by a tenth of the vessel, and a splash is nothing.
_BY_EYE, _SPLASH_UL = 10, 200_000
NOBODY = "nobody"
_TANK = (Gone.BURNT, Gone.LOST, Gone.SPILLED, Gone.DRAINED, Gone.DISPOSED)
_CAN = (Gone.BURNT, Gone.DISPOSED, Gone.SPILLED, Gone.DRAINED, Gone.LOST)


def should_hold_ul(vessel: VesselFacts, day: date) -> int:
    """What should be in it at the end of a day by what was entered, in microlitres."""
    levels = [volume for when, volume in vessel.levels if when <= day]
    return levels[-1] if levels else held_ul(vessel)


def burnt_since(judging: Judging, vessel: VesselFacts, day: date) -> int | None:
    """What its machine burnt by its hours since its level last changed; None where that is not
    known of a bowl, or of a vessel that nothing was ever entered about."""
    before = [when for when, _volume in vessel.levels if when <= day]
    if vessel.sort is not VesselSort.TANK or not before:
        return None
    return reckoned_ul(judging, after=before[-1], upto=day)


def about_missing(
    level: SetLevel, vessel: VesselFacts, name: str, words: Wording, *, reckoned_ul: int | None
) -> Made:
    """The level itself, or the question what became of the rest. `reckoned_ul`: what its machine
    burnt by its hours since anything was entered; None where nobody can say."""
    if level.missing is not None or not all(lot.amount_known for lot in vessel.lots):
        return level
    missing = should_hold_ul(vessel, level.day) - level.volume_ul
    if missing <= min(_SPLASH_UL, vessel.capacity_ul // _BY_EYE):
        return level
    is_can = vessel.sort is VesselSort.CAN
    ways = [(str(gone), _said(gone, is_can=is_can)) for gone in (_CAN if is_can else _TANK)]
    ways.append((NOBODY, msg("Nobody knows")))
    told = msg("By what was entered {missing} more should be in {vessel}. What became of it?")
    lead = words.text(told, missing=words.litres(missing), vessel=name)
    if reckoned_ul is not None:
        hours = msg("By its hours the machine burnt about {reckoned} since the last entry.")
        lead = f"{lead} {words.text(hours, reckoned=words.litres(reckoned_ul))}"
    page = Questions(words).ways(
        "missing",
        msg("Where did the rest go?"),
        tuple((key, words.text(text)) for key, text in ways),
        lead=lead,
    )

    def make(answers: Mapping[str, object]) -> Made:
        way = choice(answers, "way")
        return replace(level, missing=Gone.LOST if way == NOBODY else Gone(way))

    return Wish(page, make)


def _said(gone: Gone, *, is_can: bool) -> str:
    if gone is Gone.BURNT and is_can:
        return msg("It went into a machine, and was burnt")
    return _WAYS[gone]


_WAYS = {
    Gone.BURNT: msg("Burnt by running"),
    Gone.LOST: msg("Lost: leaked, evaporated or taken"),
    Gone.SPILLED: msg("Spilled"),
    Gone.DRAINED: msg("Taken out"),
    Gone.DISPOSED: msg("Taken to a collection point"),
}
