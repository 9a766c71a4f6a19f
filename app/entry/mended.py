"""It is mended: a fault that stands open is put right, with the day and how."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, day, text
from app.pieces.form import FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.faults import CloseFault
from schedules.plan import Judging


def mended(judging: Judging | None, words: Wording, today: date) -> Wish | Said:
    """The form for it; in words when nothing stands open."""
    if judging is None:
        return Said(words.text(msg("Choose a machine first.")), "")
    facts = judging.facts
    if not facts.faults:
        said = msg("Nothing is noted as wrong with {machine}.")
        return Said(words.text(said, machine=facts.name), "")
    ask = Questions(words)
    faults = tuple((str(fault.fault_id), fault.text) for fault in facts.faults)
    page = ask.page(
        "mended",
        msg("It is mended"),
        (
            ask.field(
                "fault",
                msg("What was wrong"),
                FieldSort.TILES,
                choices=faults,
                default=faults[0][0] if len(faults) == 1 else "",
            ),
            ask.field("text", msg("How it was put right"), FieldSort.TEXT),
            ask.day(today),
        ),
    )

    def make(answers: Mapping[str, object]) -> Made:
        fault = choice(answers, "fault")
        if not fault:
            return Said(words.text(msg("Press the one that is put right.")), "fault")
        return CloseFault(fault_id=int(fault), on=day(answers, "day"), how=text(answers, "text"))

    return Wish(page, make)
