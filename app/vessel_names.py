"""What a vessel is called, a machine's tank by its machine, and what becomes of what is in it."""

from __future__ import annotations

from app.fleet.names import plain_name
from app.wording.languages import msg
from app.wording.wording import Wording
from models.facts.fuel_room import VesselCard
from schedules.facts import VesselSort, VesselVerdict


def vessel_name(card: VesselCard, words: Wording) -> str:
    """The name of a vessel, as it is said on screen and paper."""
    if card.machine_id is None:
        return plain_name(card.name)
    machine, name = plain_name(card.machine), plain_name(card.name)
    if card.name == card.machine:
        if card.sort is VesselSort.TANK:
            return words.text(msg("{machine}’s tank"), machine=machine)
        return words.text(msg("{name}, {sort}"), name=name, sort=words.word(card.sort))
    return words.text(msg("{name}, {machine}"), name=name, machine=machine)


def empty_said(verdict: VesselVerdict, words: Wording) -> str:
    """What is said of a vessel that holds nothing: nobody may ever have said so."""
    return words.text(msg("empty")) if verdict.entered else words.text(msg("nothing entered"))


def turn_said(verdict: VesselVerdict, words: Wording) -> str:
    """From when on it is worse, and what it is then; "" where nothing worse is in sight."""
    if verdict.next_band is None or verdict.next_band_on is None:
        return ""
    day = words.day_long(verdict.next_band_on)
    return words.text(msg("from {day}: {band}"), day=day, band=words.band(verdict.next_band))
