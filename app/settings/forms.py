"""Forms for the household and for where it all stands."""

from __future__ import annotations

from collections.abc import Mapping

from app.pieces.asked import choice, text
from app.pieces.form import Field, FieldSort, FormPage
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.household import ChangeSettings
from models.acts.places import AddPlace, ChangePlace
from models.facts.places import PlaceFacts
from models.facts.settings import HouseholdSettings
from models.words import Language, Paper
from models.writer import Act
from resources.loader import Catalogue
from schedules.facts import Shelter
from schedules.units import UnitSystem


def _field(words: Wording, name: str, label: str, sort: FieldSort, **more: object) -> Field:
    return Field(name=name, label=words.text(label), sort=sort, **more)  # type: ignore[arg-type]  # the fields of a field


def household_page(settings: HouseholdSettings, words: Wording) -> FormPage:
    """Name, language, units, paper, and how long the shop takes."""
    languages = ((str(Language.BRITISH), "British"), (str(Language.AMERICAN), "American"))
    systems = (
        (str(UnitSystem.METRIC), words.text(msg("metric"))),
        (str(UnitSystem.UK), words.text(msg("metric, psi and imperial gallons"))),
        (str(UnitSystem.US), words.text(msg("inches, US gallons, psi"))),
    )
    papers = ((str(Paper.A4), "A4"), (str(Paper.LETTER), "Letter"))
    return FormPage(
        key="household",
        title=words.text(msg("Language, units, paper")),
        fields=(
            _field(
                words,
                "name",
                msg("What this shed is called"),
                FieldSort.TEXT,
                default=settings.name,
            ),
            _field(
                words,
                "language",
                msg("English"),
                FieldSort.CHOICE,
                choices=languages,
                default=str(settings.language),
            ),
            _field(
                words,
                "unit_system",
                msg("Units"),
                FieldSort.CHOICE,
                choices=systems,
                default=str(settings.unit_system),
            ),
            _field(
                words,
                "paper",
                msg("Paper"),
                FieldSort.CHOICE,
                choices=papers,
                default=str(settings.paper),
            ),
            _field(
                words,
                "person",
                msg("Your name, for what you enter"),
                FieldSort.TEXT,
                default=settings.person,
            ),
        ),
        done=words.text(msg("Save")),
        cancel=words.text(msg("Cancel")),
    )


def made_settings(answers: Mapping[str, object]) -> Act:
    """The act of the household's form."""
    return ChangeSettings(
        name=text(answers, "name"),
        language=Language(choice(answers, "language")),
        unit_system=UnitSystem(choice(answers, "unit_system")),
        paper=Paper(choice(answers, "paper")),
        person=text(answers, "person"),
    )


def place_page(place: PlaceFacts | None, catalogue: Catalogue, words: Wording) -> FormPage:
    """A place: name, half of the earth, climate, shelter; None: one that is new."""
    climates = [("", words.text(msg("not known")))]
    climates += [(code, words.text(climate.name)) for code, climate in catalogue.climates.items()]
    shelters = tuple((str(shelter), words.word(shelter)) for shelter in Shelter)
    halves = (
        ("north", words.text(msg("north of the equator"))),
        ("south", words.text(msg("south of the equator"))),
    )
    fields = (
        _field(
            words,
            "name",
            msg("What you call it"),
            FieldSort.TEXT,
            default="" if place is None else place.name,
        ),
        _field(
            words,
            "half",
            msg("Where on the earth"),
            FieldSort.TILES,
            choices=halves,
            default="south" if place is not None and place.south else "north",
        ),
        _field(
            words,
            "climate",
            msg("Climate"),
            FieldSort.CHOICE,
            choices=tuple(climates),
            default="" if place is None else place.climate,
        ),
        _field(
            words,
            "shelter",
            msg("Shelter"),
            FieldSort.TILES,
            choices=shelters,
            default=str(Shelter.SHED if place is None else place.shelter),
        ),
    )
    title = msg("Another place") if place is None else msg("The place")
    lead = words.text(msg("It decides when the seasons are, and how fast fuel ages."))
    return FormPage(
        key="place",
        title=words.text(title),
        lead=lead,
        fields=fields,
        done=words.text(msg("Save")),
        cancel=words.text(msg("Cancel")),
    )


def made_place(answers: Mapping[str, object], place: PlaceFacts | None) -> Act:
    """The act of the form for a place."""
    name, south = text(answers, "name"), choice(answers, "half") == "south"
    climate, shelter = choice(answers, "climate"), Shelter(choice(answers, "shelter"))
    if place is None:
        return AddPlace(name=name, south=south, climate=climate, shelter=shelter)
    return ChangePlace(
        place_id=place.place_id, name=name, south=south, climate=climate, shelter=shelter
    )
