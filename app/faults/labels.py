"""The fixed words of the fault room, in the language of the household."""

from __future__ import annotations

from app.wording.languages import msg
from app.wording.tongue import Tongue

LABELS = {
    "back": msg("All machines"),
    "what": msg("What does it do?"),
    "what_second": msg("Choose what comes nearest. You can say afterwards what you have seen."),
    "note": msg("Only note that something is wrong…"),
    "known_head": msg("What the file knows, counted in"),
    "set_aside": msg("I do not know"),
    "count_again": msg("Count it again"),
    "path_head": msg("So far"),
    "path_none": msg("Nothing yet."),
    "change": msg("Answer anew…"),
    "loose_head": msg("Left off: goes back from the top down"),
    "loose_none": msg("Nothing is noted; write down each piece as it comes off."),
    "put_back": msg("Back on"),
    "left_off": msg("Something comes off…"),
    "suspects_head": msg("What it may be"),
    "suspects_second": msg("minutes to put right"),
    "odds": msg("Chances are our judgement; what you find yourself corrects them."),
    "chance": msg("chance"),
    "why_head": msg("Why this next"),
    "bring": msg("Bring"),
    "before": msg("Before it"),
    "not_sure": msg("Done, but not sure what I see"),
    "cannot": msg("Cannot do this now"),
    "difference": msg(
        "Not sure: it counts as done and says nothing. Cannot do it now: it is set aside, and "
        "comes back when the search goes on."
    ),
    "try_later": msg("Not sure yet: it has to show at work"),
    "now": msg("I can do it now"),
    "part": msg("Needs a part: put it on the list"),
    "pause": msg("On the bench, waiting for…"),
    "resume": msg("Go on with it"),
    "stop": msg("Stop when…"),
    "print": msg("Print this and go out"),
    "end": msg("End the search…"),
    "worth": msg("Is it worth it?"),
    "done_over": msg("It is looked over"),
    "skip_over": msg("I have done all that"),
    "it_works": msg("It works: say what it was…"),
    "still_not": msg("It does not work after all"),
    "workshop": msg("To a workshop"),
    "go_on": msg("Go on there"),
    "new": msg("Begin another search"),
    "finds_head": msg("Found in this shed"),
    "counts": msg("counts in later searches"),
    "fact_head": msg("First, about the machine"),
    "do_not_know": msg("I do not know"),
    "paused_head": msg("On the bench"),
}


def fault_labels(words: Tongue) -> dict[str, str]:
    """Every label of the room by its name."""
    return {name: words.text(text) for name, text in LABELS.items()}
