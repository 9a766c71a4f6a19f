"""The fixed words of the room of measurements and comparisons."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "back": msg("All machines"),
    "wear_tab": msg("Measured"),
    "trial_tab": msg("Before and after"),
    "measure": msg("Measure…"),
    "begin": msg("Compare before and after…"),
    "how_head": msg("How to measure"),
    "day": msg("Day"),
    "hours": msg("Hours"),
    "amount": msg("Measured"),
    "condition": msg("Has to be alike"),
    "before": msg("before"),
    "after": msg("after"),
    "side": msg("Side"),
    "set_before": msg("How it was before…"),
    "set_after": msg("How it is after…"),
    "add_before": msg("Values before…"),
    "add_after": msg("Values after…"),
    "add_other": msg("Values of the machine beside it…"),
    "strike": msg("Strike out this value"),
    "close": msg("That is all…"),
    "steps_head": msg("How it is done"),
    "no_courses": msg("Nothing on this machine is measured."),
    "no_trials": msg(
        "Nothing was compared yet. Measure before the work and after it, and what it did is told "
        "apart from chance."
    ),
}


def trials_labels(tongue: Tongue) -> dict[str, str]:
    """Every fixed word in the household's language."""
    return {name: tongue.text(text) for name, text in LABELS.items()}
