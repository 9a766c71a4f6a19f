"""The household, its two places, and how a machine comes to one of them."""

from __future__ import annotations

from datetime import date

from models.acts.household import ChangeSettings
from models.acts.places import AddPlace
from models.changes import Area
from sample_db.chronicle import Chronicle, Make, Shed
from sample_db.deeds import detail
from schedules.facts import Shelter

NAME = "The shed at Larkmere"
ADA, TOMAS = "Ada", "Tomas"
HOME, PARENTS = "Larkmere", "Highfold"
FIRST_THING = 8


def furnish(story: Chronicle) -> None:
    """Two places with winters of their own; whoever enters things is Ada."""
    day = story.begun
    story.add(day, lambda _: ChangeSettings(person=ADA), hour=FIRST_THING)
    home = AddPlace(
        name=HOME,
        climate="snowy-coast",
        region="NE",
        shelter=Shelter.GARAGE,
        note="The house: a garage with two doors and a lean-to on the north side.",
    )
    parents = AddPlace(
        name=PARENTS,
        climate="mountain",
        shelter=Shelter.SHED,
        note="The parents' place: a timber shed without heating; key under the third step.",
    )
    story.add(day, lambda _: home, name=HOME, hour=FIRST_THING)
    story.add(day, lambda _: parents, name=PARENTS, hour=FIRST_THING)


def arrive(
    story: Chronicle, name: str, day: date, machine: Make, *, card: tuple[tuple[str, str], ...] = ()
) -> None:
    """It comes in on its day; `card` is what to know when standing before it. Its tank goes by
    the same name among the vessels."""
    story.add(day, machine, name=name, hour=FIRST_THING + 1)
    for code, text in card:
        story.add(day, detail(name, code, text), hour=FIRST_THING + 2)


def at(shed: Shed, place: str) -> int:
    """The number of a place."""
    return shed.of(Area.PLACES, place)
