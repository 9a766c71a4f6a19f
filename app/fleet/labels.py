"""The fixed words of the fleet room, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "machines": msg("The machines"),
    "machine": msg("Machine"),
    "state": msg("How it is"),
    "next": msg("What comes next"),
    "task": msg("Work"),
    "when": msg("By when"),
    "how": msg("How it stands"),
    "why": msg("Why?"),
    "day": msg("Day"),
    "entry": msg("What was entered"),
    "work_tab": msg("Work, nearest first"),
    "record_tab": msg("What was entered"),
    "add": msg("Add a machine…"),
    "hours": msg("Hours…"),
    "use": msg("It was used…"),
    "work": msg("Work done…"),
    "measure": msg("Measure…"),
    "store": msg("Put away…"),
    "wake": msg("Get it out again…"),
    "sheet": msg("Sheet as PDF…"),
    "correct": msg("Correct this entry…"),
    "empty": msg("What stands in your shed?"),
    "first": msg("Add a machine…"),
    "sample": msg("Look around a made-up shed"),
}


def labels(words: Tongue) -> dict[str, str]:
    """Every label of the room by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
