"""Printing tags: every can and tank of a household, or the ones that are named."""

from __future__ import annotations

from datetime import date

from app.services import Services
from app.sheets import tags
from app.sheets.surface import Paper as PaperSize
from app.sheets.tags_rows import tag_of
from app.vessel_names import vessel_name
from models.facts.fleet import read_cans, read_fleet
from models.facts.fuel_room import read_cards
from models.words import Paper
from schedules.facts import FuelUse, MachineId, VesselFacts, VesselSort
from schedules.fuel import judge_vessel


def tags_pdf(
    services: Services,
    *,
    paper: Paper,
    on: date,
    vessels: frozenset[int] | None = None,
    machines: frozenset[MachineId] | None = None,
    single: bool = False,
) -> bytes | None:
    """The tags of these vessels, of the tanks of these machines, or of all; None: there are none.

    `single`: a page of its own size for each. Carburettor bowls have no tag.
    """
    wording = services.wording
    with services.household.read() as session:
        cards = {card.vessel_id: card for card in read_cards(session, on=on)}
        cans = () if machines else read_cans(session, on=on, catalogue=services.catalogue)
        fleet = read_fleet(session, on=on, catalogue=services.catalogue, only=machines)
    found: list[VesselFacts] = [*cans, *(tank for facts in fleet for tank in facts.vessels)]
    rows = [
        tag_of(
            vessel,
            judge_vessel(vessel, on=on),
            name=vessel_name(cards[int(vessel.vessel_id)], wording),
            wording=wording,
            household=services.settings.name,
            on=on,
        )
        for vessel in found
        if vessel.sort is not VesselSort.BOWL
        and vessel.burns is not FuelUse.NONE
        and int(vessel.vessel_id) in cards
        and (vessels is None or int(vessel.vessel_id) in vessels)
    ]
    if not rows:
        return None
    size = PaperSize(paper.value)
    return tags.draw(rows, paper=size, language=wording.language, words=wording.text, single=single)
