"""The forms about vessels themselves: another one, its name and size, that it is gone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from app.entry.fuel_forms import typed_volume
from app.entry.questions import Made, Questions, Wish
from app.fuel.forms import volume_text
from app.fuel.picture import Standing
from app.pieces.asked import Said, choice, day, text
from app.pieces.form import Field, FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fuel import AddVessel, ChangeVessel
from models.acts.keep import KEEP
from models.facts.places import PlaceFacts
from models.facts.settings import HouseholdSettings
from schedules.facts import FuelUse, VesselSort


@dataclass(frozen=True, slots=True)
class VesselForms:
    """Makes the forms about a vessel as such."""

    words: Wording
    settings: HouseholdSettings
    today: date

    @property
    def ask(self) -> Questions:
        """Makes pages and fields."""
        return Questions(self.words)

    def add(self, places: Sequence[PlaceFacts], machines: Sequence[tuple[int, str]]) -> Wish:
        """Another can, or another tank of a machine."""
        ask, words = self.ask, self.words
        where = [(f"place-{place.place_id}", place.name) for place in places]
        where += [
            (f"machine-{number}", words.text(msg("on {machine}"), machine=name))
            for number, name in machines
        ]
        fields = (
            ask.field("name", msg("Name"), FieldSort.TEXT),
            ask.field(
                "capacity",
                msg("It holds"),
                FieldSort.TEXT,
                hint=words.text(msg("Like {amount}."), amount=words.litres(10_000_000)),
            ),
            ask.field(
                "burns",
                msg("What is kept in it"),
                FieldSort.TILES,
                choices=self._uses(),
                default=str(FuelUse.FOUR_STROKE),
            ),
            ask.field("where", msg("Where it is"), FieldSort.CHOICE, choices=tuple(where)),
            ask.field("came", msg("Here since"), FieldSort.DAY, default=self.today, later=True),
            replace(ask.note(), later=True),
        )
        page = ask.page("vessel", msg("Add a can or tank"), fields)

        def make(answers: Mapping[str, object]) -> Made:
            size = self._size(answers)
            if isinstance(size, Said):
                return size
            at, _, number = choice(answers, "where").partition("-")
            if not number:
                return Said(words.text(msg("Add a place first, where a can may stand.")), "where")
            is_can = at == "place"
            return AddVessel(
                name=text(answers, "name"),
                sort=VesselSort.CAN if is_can else VesselSort.TANK,
                capacity_ul=size,
                came_on=day(answers, "came"),
                burns=FuelUse(choice(answers, "burns")),
                place_id=int(number) if is_can else None,
                machine_id=None if is_can else int(number),
                note=text(answers, "note"),
            )

        return Wish(page, make)

    def _uses(self) -> tuple[tuple[str, str], ...]:
        uses = (FuelUse.FOUR_STROKE, FuelUse.TWO_STROKE, FuelUse.DIESEL)
        return tuple((str(use), self.words.word(use)) for use in uses)

    def _size(self, answers: Mapping[str, object]) -> int | Said:
        typed = typed_volume(text(answers, "capacity"), self.settings, self.words)
        if typed is None:
            return Said(self.words.text(msg("Say how much it holds, like 10 L.")), "capacity")
        return replace(typed, field="capacity") if isinstance(typed, Said) else typed.stored

    def change(self, one: Standing, places: Sequence[PlaceFacts]) -> Wish:
        """Its name, size, purpose and place; and that it is gone."""
        ask, words, card = self.ask, self.words, one.card
        fields: list[Field] = [
            ask.field("name", msg("Name"), FieldSort.TEXT, default=card.name),
            ask.field(
                "capacity",
                msg("It holds"),
                FieldSort.TEXT,
                default=volume_text(card.capacity_ul, words),
            ),
            ask.field(
                "burns",
                msg("What is kept in it"),
                FieldSort.TILES,
                choices=self._uses(),
                default=str(card.burns),
            ),
        ]
        if card.sort is VesselSort.CAN:
            where = tuple((str(place.place_id), place.name) for place in places)
            fields.append(
                ask.field(
                    "place",
                    msg("Where it is"),
                    FieldSort.CHOICE,
                    choices=where,
                    default=str(card.place_id),
                )
            )
        fields += [
            ask.field("gone", msg("It is not here any more"), FieldSort.YES),
            ask.field("gone_on", msg("Since"), FieldSort.DAY, default=self.today, later=True),
            ask.field("note", msg("Note"), FieldSort.NOTE, default=card.note),
        ]
        page = ask.page("vessel", msg("Name and size"), tuple(fields))

        def make(answers: Mapping[str, object]) -> Made:
            size = self._size(answers)
            if isinstance(size, Said):
                return size
            place = choice(answers, "place")
            return ChangeVessel(
                vessel_id=card.vessel_id,
                name=text(answers, "name"),
                capacity_ul=size,
                burns=FuelUse(choice(answers, "burns") or card.burns),
                place_id=int(place) if place else KEEP,
                retired_on=day(answers, "gone_on") if answers.get("gone") else KEEP,
                note=text(answers, "note"),
            )

        return Wish(page, make)
