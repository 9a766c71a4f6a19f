"""A machine that is put away and ran all the same: asks whether it is out again."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.entry.questions import Made, Questions, Wish
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.storage import Wake
from schedules.plan import Judging


def out_again(judging: Judging, words: Wording, on: date) -> Wish | None:
    """The question, for a machine that is put away; None for any other."""
    if not judging.almanac.laid_up:
        return None
    facts, ask = judging.facts, Questions(words)
    said = msg("{machine} is put away by what was entered so far.")
    page = ask.ways(
        "out_again",
        msg("Is it out again?"),
        (("out", words.text(msg("Yes, it is out again"))),),
        lead=words.text(said, machine=facts.name),
    )

    def make(_answers: Mapping[str, object]) -> Made:
        return Wake(machine_id=facts.machine_id, on=on)

    return Wish(page, make)
