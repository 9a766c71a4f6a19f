"""The fixed words of the fuel room, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "back": msg("All machines"),
    "shelf": msg("Cans and tanks, drawn"),
    "table": msg("As a list"),
    "shelf_said": msg(
        "Arrow keys go from one can or tank to the next, Enter opens what can be done"
    ),
    "filled": msg("Filled"),
    "topped": msg("Topped up from a can"),
    "half": msg("About a half left"),
    "drained": msg("Drained"),
    "pour": msg("Pour…"),
    "more": msg("Something else…"),
    "add": msg("Add a can or tank…"),
    "change": msg("Name and size…"),
    "mix": msg("Mix, dose, blend…"),
    "tag": msg("Tag…"),
    "tags": msg("Tags for all…"),
    "lots": msg("What is in it"),
    "why": msg("Why?"),
    "days": msg("Before and after today"),
    "what": msg("What to do about it"),
    "rest": msg("Before its next rest"),
    "plan": msg("Who burns what first"),
    "buy": msg("To buy for four weeks"),
    "entries": msg("What was entered"),
    "correct": msg("Correct an entry…"),
    "vessel": msg("Can or tank"),
    "how": msg("How it is"),
    "details": msg("Age, alcohol, stabiliser"),
    "bought": msg("Bought"),
    "amount": msg("Amount"),
    "state": msg("Age"),
    "day": msg("Day"),
    "entry": msg("What was entered"),
    "key": msg("Texture is age:"),
    "plain": msg("good"),
    "dots": msg("use first"),
    "strokes": msg("stale"),
    "net": msg("drain"),
    "dashes": msg("not known"),
    "treated": msg("solid edge: stabiliser"),
    "area": msg(
        "Fills are drawn apart, oldest below, though petrol mixes. The area of each is what it "
        "holds; very small ones are drawn larger."
    ),
    "pour_from": msg("Pour from"),
    "pour_into": msg("into"),
    "pour_amount": msg("How much"),
    "pour_keys": msg("Up and down: a little more, a little less; Enter keeps it"),
    "pour_keep": msg("It was poured"),
    "pour_sure": msg("It happened: keep it"),
    "cancel": msg("Cancel"),
    "all": msg("all of it"),
    "nothing": msg("Nothing needs doing."),
    "empty_room": msg("Add the first can, or a machine that burns something."),
}


def fuel_labels(words: Tongue) -> dict[str, str]:
    """Every label of the room by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
