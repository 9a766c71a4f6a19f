"""The fixed words of the season room, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "back": msg("All machines"),
    "putting_away": msg("Put away"),
    "getting_out": msg("Get out again"),
    "going_over": msg("Go over for the first time"),
    "which": msg("Which machines?"),
    "runs_head": msg("Begun and not finished"),
    "go_on": msg("Go on with it"),
    "not_yet": msg("Not yet"),
    "day_only": msg("For a day only: a late snowfall. The list before the season stays for later."),
    "lay": msg("Lay down the list"),
    "plain": msg("It is already done: enter it…"),
    "rail_head": msg("In this order"),
    "bring": msg("Bring"),
    "loose_head": msg("Off or open now"),
    "loose_none": msg("Nothing is off or open."),
    "clocks_head": msg("Runs by itself"),
    "done_when": msg("Done when"),
    "done": msg("Done"),
    "not_applicable": msg("Does not apply"),
    "cannot": msg("Cannot do this now…"),
    "fault": msg("Found a fault…"),
    "stop": msg("Stop here…"),
    "bench": msg("Large, for the bench"),
    "bench_leave": msg("Back to the room (Esc)"),
    "bench_cannot": msg("Not now…"),
    "bench_over": msg("All answered: back to finish"),
    "figures": msg("What you find, as it is when the step is done"),
    "yes": msg("yes"),
    "no": msg("no"),
    "not_looked": msg("not looked at"),
    "print": msg("Print this and go out"),
    "tag": msg("Print the tag"),
    "finish": msg("Finish: enter it all"),
    "find": msg("Find the fault"),
}


def season_labels(words: Tongue) -> dict[str, str]:
    """Every label of the room by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
