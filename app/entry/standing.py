"""Forms about a machine's own standing: its name and plates, where it is, whether it is here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from datetime import date

from app.entry.questions import Made, Questions, Step, Wish
from app.pieces.asked import Said, choice, day, text
from app.pieces.form import Field, FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.coming import ChangeComing
from models.acts.machines import (
    BringBackMachine,
    ChangeMachine,
    MoveMachine,
    RemoveMachine,
    RetireMachine,
)
from models.acts.plate import Plate
from models.acts.units import ChangeUnit
from models.facts.places import PlaceFacts
from models.facts.plates import Gone, PlateFacts
from models.facts.plates import Standing as Stands
from schedules.facts import ItemSort
from schedules.plan import Judging

PLATE_LABELS = {
    "maker": msg("Maker"),
    "model": msg("Model"),
    "type": msg("Type"),
    "serial": msg("Serial number"),
    "code": msg("Code"),
    "built": msg("Made in"),
}
OTHER = "other"


class Standing:
    """Makes these forms, and the acts of their answers."""

    def __init__(self, *, words: Wording) -> None:
        self.words = words
        self.ask = Questions(words)

    def about(self, judging: Judging, *, gone: bool) -> Wish:
        """What else can be said about a machine: ways onward."""
        words = self.words
        ways = [
            ("change", words.text(msg("Name and type plate…"))),
            ("move", words.text(msg("It stands somewhere else…"))),
            ("came", words.text(msg("The day it came…"))),
            ("details", words.text(msg("What to know of it: oil, plug, belt…"))),
            ("duties", words.text(msg("How hard it works…"))),
            ("built", words.text(msg("How it is built…"))),
            ("units", words.text(msg("Engine, battery or pack changed…"))),
            ("meter", words.text(msg("The hour meter was changed…"))),
            ("noted", words.text(msg("A job or a fault that is noted…"))),
            ("rest", words.text(msg("How long it sleeps, what is off meanwhile…"))),
            ("gone", words.text(msg("Sold, scrapped, given away…"))),
            ("mistake", words.text(msg("Entered by mistake…"))),
        ]
        if gone:
            ways.append(("back", words.text(msg("Bring one back that was gone…"))))
        page = self.ask.ways(
            "about",
            msg("About this machine"),
            tuple(ways),
        )

        def make(answers: Mapping[str, object]) -> Made:
            return Step(choice(answers, "way"))

        return Wish(page, make)

    # -- name and plates -----------------------------------------------------------------------

    def change(self, judging: Judging, plates: tuple[PlateFacts, ...]) -> Wish:
        """The machine's name, its plate and what is noted about it."""
        machine = plates[0]
        asked = (
            self.ask.field("name", msg("What you call it"), FieldSort.TEXT, default=machine.name),
            *self._plate_fields(machine),
            self.ask.field("note", msg("Note"), FieldSort.NOTE, default=machine.note),
        )
        page = self.ask.page("change", msg("Name and type plate"), asked)

        def make(answers: Mapping[str, object]) -> Made:
            return ChangeMachine(
                machine_id=judging.facts.machine_id,
                name=text(answers, "name"),
                note=text(answers, "note"),
                plate=_plate(answers),
            )

        return Wish(page, make)

    def unit(self, plates: tuple[PlateFacts, ...], item_id: int) -> Wish | None:
        """The plate of an engine, or of another thing that is fitted."""
        unit = next((one for one in plates[1:] if one.item_id == item_id), None)
        if unit is None:
            return None
        asked = (
            self.ask.field("name", msg("What you call it"), FieldSort.TEXT, default=unit.name),
            *self._plate_fields(unit),
            self.ask.field("note", msg("Note"), FieldSort.NOTE, default=unit.note),
        )
        title = msg("Plate of the engine") if unit.sort is ItemSort.ENGINE else msg("Its plate")
        page = self.ask.page("unit", title, asked)

        def make(answers: Mapping[str, object]) -> Made:
            return ChangeUnit(
                unit_id=item_id,
                name=text(answers, "name"),
                note=text(answers, "note"),
                plate=_plate(answers),
            )

        return Wish(page, make)

    def _plate_fields(self, thing: PlateFacts) -> tuple[Field, ...]:
        return tuple(
            self.ask.field(name, label, FieldSort.TEXT, default=getattr(thing, name))
            for name, label in PLATE_LABELS.items()
        )

    # -- where it stands -----------------------------------------------------------------------

    def move(
        self, judging: Judging, places: list[PlaceFacts], now: Stands | None, today: date
    ) -> Wish:
        """It stands at another place, or in another corner."""
        words = self.words
        spots = [(str(place.place_id), place.name) for place in places]
        spots.append((OTHER, words.text(msg("a place that is not here yet…"))))
        asked = (
            self.ask.field(
                "place_id",
                msg("Where it stands now"),
                FieldSort.TILES,
                choices=tuple(spots),
                default="" if now is None else str(now.place_id),
            ),
            self.ask.field(
                "spot",
                msg("Which corner of it"),
                FieldSort.TEXT,
                default="" if now is None else now.spot,
            ),
            self.ask.day(today, msg("Since when")),
        )
        lead = words.text(
            msg("{machine}: {place} until now."),
            machine=judging.facts.name,
            place=judging.facts.place,
        )
        page = self.ask.page("move", msg("It stands somewhere else"), asked, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            place = choice(answers, "place_id")
            if place == OTHER:
                return Step("new_place")
            return MoveMachine(
                machine_id=judging.facts.machine_id,
                place_id=int(place),
                on=day(answers, "day"),
                spot=text(answers, "spot"),
            )

        return Wish(page, make)

    # -- coming and going ----------------------------------------------------------------------

    def came(self, judging: Judging) -> Wish:
        """The day it came, said anew."""
        words, facts = self.words, judging.facts
        asked = (
            self.ask.field(
                "came_on", msg("Since when you have it"), FieldSort.DAY, default=facts.came_on
            ),
        )
        lead = words.text(msg("Its engine, tank and hour meter move along with it."))
        page = self.ask.page("came", msg("The day it came"), asked, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            return ChangeComing(machine_id=facts.machine_id, came_on=day(answers, "came_on"))

        return Wish(page, make)

    def gone(self, judging: Judging, today: date) -> Wish:
        """It is gone: sold, scrapped, given away, parted out."""
        words, facts = self.words, judging.facts
        ways = tuple(
            (words.text(way), words.text(way))
            for way in (
                msg("sold"),
                msg("scrapped"),
                msg("given away"),
                msg("taken apart for its parts"),
                msg("stolen or lost"),
            )
        )
        asked = (
            self.ask.field(
                "why", msg("Where it went"), FieldSort.TILES, choices=ways, default=ways[0][0]
            ),
            self.ask.field("more", msg("To whom, or for how much"), FieldSort.TEXT),
            self.ask.day(today, msg("The day it went")),
        )
        lead = words.text(msg("It leaves the lists. Its records stay, and it can be brought back."))
        page = self.ask.page("gone", msg("Sold, scrapped, given away"), asked, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            parts = (choice(answers, "why"), text(answers, "more"))
            return RetireMachine(
                machine_id=facts.machine_id,
                on=day(answers, "day"),
                why=": ".join(part for part in parts if part),
            )

        said = words.text(msg("{machine} is gone from the lists."), machine=facts.name)
        return Wish(page, make, said=said)

    def mistake(self, judging: Judging) -> Wish:
        """It never was here."""
        words = self.words
        page = self.ask.ways(
            "mistake",
            msg("Entered by mistake"),
            (
                (
                    "remove",
                    words.text(msg("Take “{machine}” out again"), machine=judging.facts.name),
                ),
                ("hide", words.text(msg("Off the lists; what was entered is kept"))),
                ("gone", words.text(msg("It was here, and is gone…"))),
            ),
            lead=words.text(
                msg("It can be taken out whole as long as nothing was entered for it.")
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            if choice(answers, "way") == "gone":
                return Step("gone")
            if choice(answers, "way") == "hide":
                return RetireMachine(
                    machine_id=judging.facts.machine_id,
                    on=judging.facts.came_on,
                    why=words.text(msg("entered by mistake")),
                )
            return RemoveMachine(machine_id=judging.facts.machine_id)

        return Wish(page, make)

    def back(self, gone: tuple[Gone, ...]) -> Wish | Said:
        """One that was gone is here again."""
        words = self.words
        if not gone:
            return Said(words.text(msg("No machine is gone.")), "")
        page = self.ask.ways(
            "back",
            msg("Bring one back"),
            tuple((str(one.machine_id), one.name) for one in gone),
            details={
                str(one.machine_id): words.text(
                    msg("gone since {day}: {why}"), day=one.on, why=one.why or "–"
                )
                for one in gone
            },
        )

        def make(answers: Mapping[str, object]) -> Made:
            return BringBackMachine(machine_id=int(choice(answers, "way")))

        return Wish(page, make)


def _plate(answers: Mapping[str, object]) -> Plate:
    return Plate(**{field.name: text(answers, field.name) for field in fields(Plate)})
