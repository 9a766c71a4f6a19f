"""Reads what the forms for seldom things start with, and hands it to them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from app.entry.noted import Noted
from app.entry.places import place_wish
from app.entry.questions import Wish
from app.entry.seasons import Year
from app.entry.shelf import shelf_wish
from app.entry.upkeep import Upkeep
from app.hub import Hub
from app.pieces.asked import Said
from app.wording.wording import Wording
from models.facts.fleet import read_fleet
from models.facts.papers import read_details, read_shelf_parts
from models.facts.places import PlaceFacts, read_own_months, read_places
from models.facts.plates import read_plates, read_rest, read_spares
from models.facts.settings import HouseholdSettings, read_settings
from resources.loader import Catalogue
from schedules.facts import MachineFacts
from schedules.plan import Judging

_STARTS = ("meter", "units", "noted", "rest", "duties", "details")


class Seldom:
    """Begins the forms about meters, units, what is noted, rests, places and the shelf."""

    def __init__(self, *, hub: Hub, words: Wording, catalogue: Catalogue) -> None:
        self._hub = hub
        self._words = words
        self._catalogue = catalogue
        self._upkeep = Upkeep(words=words)
        self._noted = Noted(words=words)

    def knows(self, name: str) -> bool:
        """Whether the form of that name about a machine is begun here."""
        return name.partition("-")[0] in _STARTS

    def of_the_shed(self, name: str, judging: Judging | None) -> Wish:
        """A form about no machine. Raises Trouble."""
        on = self._today()
        with self._hub.read() as session:
            fleet = read_fleet(session, on=on, catalogue=self._catalogue)
            places = list(read_places(session, catalogue=self._catalogue).values())
            shelf = read_shelf_parts(session)
        if name == "shelf":
            wanted = (part for facts in fleet for part in _parts(facts))
            return shelf_wish(shelf, wanted, self._catalogue, self._words)
        kinds = tuple(facts.kind.code for facts in fleet)
        words, catalogue = self._words, self._catalogue

        def year(place: PlaceFacts) -> Mapping[str, Callable[[], Wish]]:
            own = Year(words=words, catalogue=catalogue)
            return {
                "seasons": lambda: own.seasons(place, kinds),
                "weather": lambda: self._weather(own, place),
            }

        return place_wish(places, judging, year, catalogue, words)

    def _weather(self, year: Year, place: PlaceFacts) -> Wish:
        with self._hub.read() as session:
            own, settings = (
                read_own_months(session, place_id=place.place_id),
                read_settings(session),
            )
        return year.weather(place, own, settings)

    def begin(self, name: str, judging: Judging) -> Wish | Said | None:
        """A form about a machine. Raises Trouble."""
        number, on = judging.facts.machine_id, self._today()
        with self._hub.read() as session:
            settings: HouseholdSettings = read_settings(session)
            plates = read_plates(session, machine_id=number, on=on)
            spares = read_spares(session, on=on)
            rest = read_rest(session, machine_id=number, on=on)
            known = read_details(session).get(number, {})
        fitted = {unit.item_id for unit in plates}
        spares = tuple(unit for unit in spares if unit.item_id not in fitted)
        upkeep = self._upkeep
        match name:
            case "meter":
                return upkeep.meter(judging, settings, on)
            case "units":
                return upkeep.units(judging, plates, spares)
            case "noted":
                return self._noted.noted(judging)
            case "duties":
                asked = self._catalogue.duties
                questions = {
                    code: self._words.text(asked[code].question)
                    for code in judging.facts.kind.duties
                }
                return upkeep.duties(judging, questions)
            case "details":
                return upkeep.details(judging, known)
            case "rest":
                return upkeep.rest(judging, rest, on)
            case _ if name.startswith("units-"):
                return upkeep.unit(name, judging, (*plates[1:], *spares), settings, on)
            case _:
                return self._noted.one_noted(name, judging, on)

    def _today(self) -> date:
        return self._hub.moment().today


def _parts(facts: MachineFacts) -> tuple[str, ...]:
    """Every part that its tasks use up."""
    return tuple(part.part for task in facts.kind.tasks for part in task.consumables)
