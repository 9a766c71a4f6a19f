"""The fixed words of the fleet room, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "machines": msg("The machines"),
    "machine": msg("Machine"),
    "state": msg("How it is"),
    "why": msg("Why?"),
    "open": msg("Open this machine"),
    "mended": msg("It is mended…"),
    "more_above": msg("Time, search, more"),
    "close": msg("Close"),
    "print": msg("Print…"),
    "empty": msg("What stands in your shed?"),
    "first": msg("Add a machine…"),
    "sample": msg("Look around a made-up shed"),
    "time": msg("The time you have:"),
    "quarter": msg("15 minutes"),
    "hour": msg("An hour"),
    "afternoon": msg("An afternoon"),
    "own_time": msg("minutes"),
    "search": msg("Find a machine"),
    "narrow": msg("Narrow and sort"),
    "show_all": msg("Show them all"),
    "by_place": msg("Place"),
    "by_kind": msg("Type of machine"),
    "by_state": msg("How it is"),
    "by_hand": msg("Who last worked on it"),
    "by_sort": msg("Order of the list"),
    "any_place": msg("Any place"),
    "any_kind": msg("Any type"),
    "any_state": msg("However it is"),
    "any_hand": msg("Whoever worked on it"),
    "sort_urgency": msg("Most urgent first"),
    "sort_name": msg("By name"),
    "sort_place": msg("By place"),
    "sort_next": msg("Nearest day first"),
    "along": msg("Left and Right go along its year, Enter opens it"),
    "halt": msg("Stop here"),
    "go_on": msg("Go on"),
    "mark_overdue": msg("overdue"),
    "mark_not_known": msg("not known"),
    "mark_due": msg("due"),
    "mark_coming": msg("coming up"),
    "mark_later": msg("later"),
    "mark_fuel": msg("fuel past keeping"),
    "mark_flag": msg("begin the work"),
}


def labels(words: Tongue) -> dict[str, str]:
    """Every label of the room by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
