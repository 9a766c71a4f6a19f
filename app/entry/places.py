"""Places: which of them, and then the place itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from app.entry.questions import Made, Questions, Wish
from app.entry.seasons import Year
from app.pieces.asked import choice
from app.settings.forms import made_place, place_page
from app.wording.languages import msg
from app.wording.wording import Wording
from models.facts.places import PlaceFacts
from resources.loader import Catalogue
from schedules.plan import Judging

NEW = "new"


def place_wish(
    places: list[PlaceFacts],
    judging: Judging | None,
    year: Callable[[PlaceFacts], Mapping[str, Callable[[], Wish]]],
    catalogue: Catalogue,
    words: Wording,
) -> Wish:
    """Which place, and then the place itself; that of the machine that is shown comes first.
    `year`: the ways onward about a place's own year."""
    here = "" if judging is None else judging.facts.place.split(", ")[0]
    near_first = sorted(places, key=lambda place: place.name != here)
    ways = [(str(place.place_id), place.name) for place in near_first]
    ways.append((NEW, words.text(msg("Another place…"))))
    page = Questions(words).ways(
        "which_place",
        msg("Where it all stands"),
        tuple(ways),
        lead=words.text(msg("Which place do you want to see or change?")),
        details={str(place.place_id): _said(place, catalogue, words) for place in places},
    )
    by_id = {str(place.place_id): place for place in places}

    def make(answers: Mapping[str, object]) -> Made:
        place = by_id.get(choice(answers, "way"))
        if place is None:
            return _page(None, catalogue, words)

        def change() -> Wish:
            return _page(place, catalogue, words)

        ways = Year(words=words, catalogue=catalogue)
        return ways.ways(place, {"change": change, **year(place)})

    return Wish(page, make)


def _page(place: PlaceFacts | None, catalogue: Catalogue, words: Wording) -> Wish:
    def made(given: Mapping[str, object]) -> Made:
        return made_place(given, place)

    return Wish(place_page(place, catalogue, words), made)


def _said(place: PlaceFacts, catalogue: Catalogue, words: Wording) -> str:
    climate = catalogue.climates.get(place.climate)
    half = msg("south of the equator") if place.south else msg("north of the equator")
    said = [words.word(place.shelter), words.text(half)]
    said.append(words.text(msg("climate not known") if climate is None else climate.name))
    return " · ".join(said)
