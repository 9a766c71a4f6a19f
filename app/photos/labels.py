"""The fixed words about photos, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "head": msg("Photos"),
    "none": msg("None yet. Drop pictures here, or pick them."),
    "add": msg("Add photos…"),
    "watch": msg("Watch a folder for new pictures…"),
    "unwatch": msg("Stop watching it"),
    "offer": msg("Look at them…"),
    "busy": msg("Taking in pictures…"),
    "close": msg("Close"),
    "before": msg("Previous"),
    "after": msg("Next"),
    "words": msg("Words, day, what it shows…"),
    "remove": msg("Take it out"),
    "paper": msg("Print it on the page for the buyer and on the rescue page"),
    "keep": msg("Keep the ticked ones"),
    "refuse": msg("None of these"),
    "pictures": msg("Pictures (*.jpg *.jpeg *.png *.webp *.bmp *.gif)"),
    "offered": msg("New pictures in the watched folder"),
}


def photo_labels(words: Tongue) -> dict[str, str]:
    """Every label by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
