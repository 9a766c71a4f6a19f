"""What the fuel room reads: every vessel with its verdict, and the course of the one chosen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from app.fuel.picture import Seen, Standing
from models.facts.fleet import read_cans, read_fleet
from models.facts.fuel_room import read_cards, read_course, read_fuel_entries
from models.facts.reading import Reading
from resources.loader import Catalogue
from schedules.band_course import band_course
from schedules.facts import Policy, VesselId, VesselSort, VesselVerdict
from schedules.fuel import WORSE, judge_vessel
from schedules.plan import judge

BACK_DAYS, AHEAD_DAYS = 240, 240
_MOST_DAYS = 12
_ORDER = (VesselSort.CAN, VesselSort.TANK, VesselSort.BOWL)


def read_seen(
    session: Reading,
    *,
    on: date,
    catalogue: Catalogue,
    policy: Policy,
    chosen: VesselId | None,
) -> Seen:
    """Every vessel there is on the day: cans, tanks of machines, carburettor bowls."""
    cards = {card.vessel_id: card for card in read_cards(session, on=on)}
    fleet = {
        int(facts.machine_id): judge(facts, on=on, policy=policy, limits=catalogue.limits)
        for facts in read_fleet(session, on=on, catalogue=catalogue)
        if facts.vessels
    }
    standings = [
        Standing(card=cards[vessel.vessel_id], facts=vessel, verdict=judge_vessel(vessel, on=on))
        for vessel in read_cans(session, on=on, catalogue=catalogue)
        if vessel.vessel_id in cards
    ]
    for judging in fleet.values():
        verdicts: dict[VesselId, VesselVerdict] = {
            verdict.vessel_id: verdict for verdict in judging.verdict.fuel
        }
        standings += [
            Standing(
                card=replace(cards[vessel.vessel_id], place=judging.facts.place),
                facts=vessel,
                verdict=verdicts[vessel.vessel_id],
            )
            for vessel in judging.facts.vessels
            if vessel.vessel_id in cards
        ]
    standings.sort(key=lambda one: _ORDER.index(one.card.sort))
    seen = Seen(on=on, standings=tuple(standings), fleet=fleet, chosen=None)
    ids = [one.facts.vessel_id for one in standings]
    if not ids:
        return seen
    wanted = chosen if chosen is not None and chosen in ids else _most_urgent(seen)
    return with_course(session, seen, wanted, catalogue=catalogue)


def _most_urgent(seen: Seen) -> VesselId:
    """The vessel to look at first: the worst that holds something."""
    holding = [one for one in seen.standings if one.verdict.lots] or list(seen.standings)
    worst = max(holding, key=lambda one: WORSE.index(one.verdict.band) if one.verdict.lots else -1)
    return worst.facts.vessel_id


def with_course(session: Reading, seen: Seen, chosen: VesselId, *, catalogue: Catalogue) -> Seen:
    """The same with another vessel chosen: its days, and what was entered about it."""
    one = next((each for each in seen.standings if each.facts.vessel_id == chosen), None)
    if one is None:
        return seen
    on = seen.on
    first, last = on - timedelta(days=BACK_DAYS), on + timedelta(days=AHEAD_DAYS)
    stood = read_course(session, one.card, since=first, on=on, catalogue=catalogue, most=_MOST_DAYS)
    entries = read_fuel_entries(session, vessel_id=one.card.vessel_id, on=on)
    return replace(
        seen,
        chosen=chosen,
        course=band_course(stood, until=last),
        first=first,
        last=last,
        entries=entries,
    )
