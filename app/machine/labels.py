"""The fixed words of the machine room, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "back": msg("All machines"),
    "hours": msg("Hours…"),
    "use": msg("It was used…"),
    "work": msg("Work done…"),
    "measure": msg("Measure…"),
    "fuel": msg("Fuel…"),
    "fault": msg("Something is wrong…"),
    "today": msg("Get it going today"),
    "job": msg("Note a job…"),
    "store": msg("Put away…"),
    "wake": msg("Get it out again…"),
    "about": msg("About this machine…"),
    "preseason": msg("Sheet…"),
    "card": msg("Card…"),
    "buyer": msg("Paper for the buyer…"),
    "built": msg("How it is built…"),
    "looks": msg("Enter the looks…"),
    "fill": msg("Fill in…"),
    "not_read": msg("Not read yet"),
    "hours_head": msg("Hours"),
    "fuel_head": msg("Fuel"),
    "question_head": msg("One question"),
    "bench_head": msg("On the bench"),
    "papers_head": msg("Papers"),
    "figures_head": msg("The figures, and who says so"),
    "manual": msg("My manual says otherwise…"),
    "task": msg("Work"),
    "when": msg("By when"),
    "how": msg("How it stands"),
    "why": msg("Why?"),
    "day": msg("Day"),
    "entry": msg("What was entered"),
    "work_tab": msg("Work, nearest first"),
    "record_tab": msg("What was entered"),
    "correct": msg("Correct this entry…"),
}


def machine_labels(words: Tongue) -> dict[str, str]:
    """Every label of the room by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
