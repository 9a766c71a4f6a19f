"""From a vessel and its verdict to the words of its tag."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from app.sheets.pieces import Caution
from app.sheets.tags import Tag
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import (
    Band,
    CautionCode,
    FuelSort,
    FuelUse,
    VesselFacts,
    VesselSort,
    VesselVerdict,
)
from schedules.fuel import judge_vessel
from schedules.premix import ratio_of

_STORE = CautionCode("C-STORE")
_SORTS = {FuelSort.E0: "E0", FuelSort.E5: "E5", FuelSort.E10: "E10", FuelSort.E15: "E15"}
_FUELS = {
    FuelUse.FOUR_STROKE: msg("Petrol"),
    FuelUse.TWO_STROKE: msg("Two-stroke mix"),
    FuelUse.DIESEL: msg("Diesel"),
    FuelUse.NONE: msg("Fuel"),
}
_NOT_FOR = {
    FuelUse.FOUR_STROKE: msg("Keep it out of two-strokes"),
    FuelUse.TWO_STROKE: msg("Keep it out of four-strokes"),
    FuelUse.DIESEL: msg("Keep it out of petrol engines"),
}
_INSTEAD = {
    Band.DRAIN: msg("Drain it"),
    Band.NOT_FOR_THIS: msg("Drain it"),
    Band.LOOK_FIRST: msg("Look first"),
    Band.BURN: msg("Burn it now"),
}
_AFTER = {
    Band.DRAIN: msg("Do not run on it; take it to a collection point."),
    Band.NOT_FOR_THIS: msg("It is the wrong fuel here: do not start the engine on it."),
    Band.LOOK_FIRST: msg(
        "Take some in a glass jar: clear, straw-coloured, sharp to smell is well."
    ),
    Band.BURN: msg("Do not put a machine away on it."),
}


def tag_of(
    vessel: VesselFacts,
    verdict: VesselVerdict,
    *,
    name: str,
    wording: Wording,
    household: str,
    on: date,
) -> Tag:
    """The tag of one vessel on one day. An empty one is a tag to be filled in by hand."""
    until_lead, until, after = _until(verdict, wording, on)
    caution = wording.caution(_STORE)
    number = int(vessel.vessel_id)
    foot = msg("can tag {n}") if vessel.sort is VesselSort.CAN else msg("tank tag {n}")
    return Tag(
        name=name,
        fuel=_fuel(vessel, wording),
        sort=_sort(vessel),
        facts=_facts(vessel, verdict, wording, on),
        until_lead=until_lead,
        until=until,
        after=after,
        not_for=wording.text(_NOT_FOR[vessel.burns]) if vessel.burns in _NOT_FOR else "",
        caution=Caution(signal=caution.severity, word=caution.signal, text=caution.text),
        foot=(wording.text(foot, n=number), household),
    )


def _fuel(vessel: VesselFacts, wording: Wording) -> str:
    sorts = {lot.sort for lot in vessel.lots}
    if sorts and sorts <= {FuelSort.ALKYLATE}:
        return wording.text(msg("Alkylate petrol"))
    return wording.text(_FUELS[vessel.burns])


def _sort(vessel: VesselFacts) -> str:
    """E10 and the like, the strongest of what is in it; the ratio of a mix."""
    if vessel.burns is FuelUse.TWO_STROKE:
        whole = sum(lot.volume_ul for lot in vessel.lots)
        oil = sum(lot.oil_ul for lot in vessel.lots)
        ratio = ratio_of(Fraction(whole - oil), Fraction(oil))
        return "" if ratio is None else f"{round(ratio)} : 1"
    named = [lot.sort for lot in vessel.lots if lot.sort in _SORTS]
    return _SORTS[max(named, key=list(_SORTS).index)] if named else ""


def _facts(
    vessel: VesselFacts, verdict: VesselVerdict, wording: Wording, on: date
) -> tuple[tuple[str, str], ...]:
    days = sorted(lot.bought_on for lot in verdict.lots if lot.bought_on is not None)
    bought = ""
    if days:
        bought = wording.day(days[0])
        if days[-1] != days[0]:
            said = msg("{first} and later")
            bought = wording.text(said, first=wording.day(days[0]))
    held = ""
    if verdict.volume_ul > 1:
        held = wording.text(
            msg("{volume} of {size}"),
            volume=wording.litres(verdict.volume_ul),
            size=wording.litres(verdict.capacity_ul),
        )
    treated = [lot.stabilised_on for lot in verdict.lots if lot.stabilised_on is not None]
    rows = [(wording.text(msg("bought")), bought), (wording.text(msg("in it")), held)]
    rows.append((wording.text(msg("stabiliser on")), wording.day(max(treated)) if treated else ""))
    turns = verdict.next_band_on
    if verdict.band is Band.GOOD and turns is not None and turns != verdict.burn_on:
        rows.append((wording.text(msg("good until")), wording.day(turns)))
    later = None if treated else _if_treated(vessel, verdict, on)
    if later is not None:
        rows.append((wording.text(msg("if added now")), wording.day(later)))
    return tuple(rows)


def _if_treated(vessel: VesselFacts, verdict: VesselVerdict, on: date) -> date | None:
    """Until when it could be run with stabiliser from today on, where that is later."""
    if verdict.band not in (Band.GOOD, Band.USE_FIRST) or not verdict.lots:
        return None
    lots = tuple(replace(lot, stabilised_on=on) for lot in vessel.lots)
    found = judge_vessel(replace(vessel, lots=lots), on=on).burn_on
    if found is None or verdict.burn_on is None or found <= verdict.burn_on:
        return None
    return found


def _until(verdict: VesselVerdict, wording: Wording, on: date) -> tuple[str, str, str]:
    """What stands over the large line, that line, and what is done after it."""
    written = wording.text(
        msg("after that burn it at once, or drain it and take it to a collection point")
    )
    if not verdict.lots:
        return wording.text(msg("Run it before")), "________", written
    if verdict.band in _INSTEAD:
        band = verdict.band
        seen = wording.text(msg("as of {day}"), day=wording.day(on))
        return seen, wording.text(_INSTEAD[band]), wording.text(_AFTER[band])
    if verdict.burn_on is None:
        return wording.text(msg("Run it before")), wording.text(msg("no end seen")), ""
    return wording.text(msg("Run it before")), wording.day(verdict.burn_on), written
