"""The search for why a machine that has just come will not start, with what was said of it."""

from __future__ import annotations

from app.causes.known import symptoms
from app.season.started import FailedStart, KnownLook
from app.wording.languages import msg
from app.wording.wording import Wording
from resources.fault_models import load_fault_models
from schedules.fault_facts import BLANK, Question
from schedules.plan import Judging

# What will not start, whatever drives it.
STARTING = frozenset({"S1F", "S1T", "S15"})
PARKED = "Q-PARK"


def not_starting(judging: Judging, fits: tuple[str, ...], words: Wording) -> FailedStart | None:
    """Where the search begins; None for a machine that nothing like it is known of.

    `fits`: the answers about its rest that fit what was said when it came. One of them is taken
    as answered; of several only those are asked.
    """
    found = symptoms(load_fault_models(), judging.facts.kind.code)
    symptom = next((one for one in found if one.code in STARTING), None)
    if symptom is None:
        return None
    questions = [one for one in symptom.model.questions if str(one.reading_id) == PARKED]
    return FailedStart(
        machine_id=int(judging.facts.machine_id),
        complaint=symptom.code,
        known=tuple(_rest(one, fits, words) for one in questions if fits),
    )


def _rest(question: Question, fits: tuple[str, ...], words: Wording) -> KnownLook:
    every = tuple(
        (str(one.outcome_id), words.text(one.text))
        for one in question.outcomes
        if one.outcome_id != BLANK
    )
    sure = len(fits) == 1
    left = every if sure else tuple(one for one in every if one[0] in fits)
    said = msg("{question} (From what you said when it came.)")
    return KnownLook(
        name=str(question.reading_id),
        label=words.text(said, question=words.text(question.name)),
        choices=(*left, ("", words.text(msg("not known")))),
        outcome=fits[0] if sure else "",
    )
