"""The fixed words of the appraisal room, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "title": msg("Is it worth it?"),
    "back": msg("All machines"),
    "figures_head": msg("The deal"),
    "asked": msg("Asked for it"),
    "low": msg("When it runs it brings at least"),
    "high": msg("and at most"),
    "hour": msg("An hour of yours is worth (nothing, if it is your pleasure)"),
    "fetching": msg("Fetching it costs"),
    "as_it_stands": msg("As it stands, in parts or as scrap, it brings"),
    "looks_head": msg("Five looks at the seller’s drive"),
    "looks_second": msg("No tool, nothing opened, five minutes in all."),
    "first": msg("What to look at first"),
    "most": msg("Pay no more than"),
    "fold": msg("What lies behind it"),
    "order_head": msg("What would be tried, in this order"),
    "ends_head": msg("How it may end"),
    "pocket": msg("Print five looks for the pocket…"),
    "draw": msg("Draw this line for the search"),
    "marks": msg(
        "Chances, minutes and what parts cost (10 for a small thing, 40 for a part, 150 for a "
        "workshop) are our judgement."
    ),
}


def appraisal_labels(words: Tongue) -> dict[str, str]:
    """Every label of the room by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
