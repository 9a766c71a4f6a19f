"""One vessel held over another while it is dragged: both as they would stand after the pour."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from app.fuel.picture import FuelPicture, Standing
from app.fuel.pouring import Pouring
from app.fuel.state import VesselLine
from app.wording.languages import msg
from models.errors import Refused, RefusedCode
from models.facts.settings import HouseholdSettings
from schedules.facts import VesselSort
from schedules.fuel import judge_vessel


def no_pour(source: Standing, target: Standing, picture: FuelPicture) -> str:
    """Why there is no pour between the two at all, whatever the amount; "" where there is one."""
    words = picture.words
    if source.facts.vessel_id == target.facts.vessel_id:
        return words.refused(Refused(RefusedCode.SAME_VESSEL, vessel=picture.name(source)))
    if not source.verdict.lots:
        return words.text(msg("There is nothing in it to pour."))
    if source.verdict.volume_ul <= 1:
        said = msg("Nobody knows how much is in {vessel}: say first what is in it now, by eye.")
        return words.text(said, vessel=picture.name(source))
    if target.card.sort is VesselSort.BOWL:
        return words.text(
            msg("A carburettor bowl fills itself out of its tank: pour it into the tank.")
        )
    return ""


def mixed(
    source: Standing,
    target: Standing,
    picture: FuelPicture,
    settings: HouseholdSettings,
    *,
    on: date,
) -> tuple[VesselLine, ...]:
    """Both as they would stand with as much poured as goes in; the other alone, with the reason,
    where nothing would."""
    words, names = picture.words, (picture.name(source), picture.name(target))
    pour = Pouring(words=words, settings=settings, source=source, target=target, names=names, on=on)
    refused = no_pour(source, target, picture) or pour.refused
    if refused:
        return (replace(picture.line(target, on), band=None, band_text=refused, short=""),)
    after = [
        picture.line(replace(one, facts=facts, verdict=judge_vessel(facts, on=on)), on)
        for one, facts in zip((source, target), pour.after(), strict=True)
    ]
    volume = words.litres(pour.volume_ul)
    said = words.text(msg("{volume} into {vessel}"), volume=volume, vessel=after[1].name)
    return after[0], replace(after[1], name=said)
