"""A step's answer on its way into the file, the same from the room, from the bench, by any key."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from app.hub import Hub
from app.pieces.asked import Asked, Said
from app.season.figures import FigureReader
from app.season.state import SeasonCard
from app.wording.wording import Wording
from models.acts.runs import AnswerStep
from models.changes import Changes
from models.errors import Refused, RefusedCode, Trouble
from models.facts.settings import HouseholdSettings
from models.words import StepAnswer

# Refused once; typed again unchanged it is so.
DOUBTS = frozenset(
    {
        RefusedCode.READING_OF_INCHES,
        RefusedCode.READING_TEN_TIMES,
        RefusedCode.READING_WRONG_WAY,
        RefusedCode.READING_FAR,
        RefusedCode.READING_WORN_BEFORE,
    }
)

Outcome = Changes | Refused | Trouble | Said


def told(outcome: Refused | Trouble | Said, words: Wording) -> tuple[str, str]:
    """What is said of what was not taken, and the field it stands beside; "" for none."""
    if isinstance(outcome, Said):
        return outcome.text, outcome.field
    if isinstance(outcome, Refused):
        return words.refused(outcome), ""
    return words.trouble(outcome), ""


@dataclass(slots=True, kw_only=True)
class Answering:
    """Answers steps of a run; a doubtful figure that is sent again unchanged is taken."""

    hub: Hub
    words: Wording
    settings: HouseholdSettings
    _doubted: tuple[int, tuple[tuple[str, str], ...]] | None = field(default=None)

    def tick(
        self, run_id: int, card: SeasonCard, answer: StepAnswer, typed: Mapping[str, str]
    ) -> Outcome:
        """Done, or not for this machine. Said: a figure that cannot be read, by its field."""
        key = (card.place, tuple(sorted(typed.items())))
        reader = FigureReader(
            asked=Asked(words=self.words, settings=self.settings), sure=key == self._doubted
        )
        measured = reader.read(typed) if answer is StepAnswer.DONE else ()
        if isinstance(measured, Said):
            return measured
        act = AnswerStep(
            run_id=run_id,
            place=card.place,
            day=self.hub.moment().today,
            answer=answer,
            by_whom=self.settings.person,
            measured=measured,
            clock=bool(card.clock) and answer is StepAnswer.DONE,
        )
        outcome = self.hub.perform(act)
        doubtful = isinstance(outcome, Refused) and outcome.code in DOUBTS
        self._doubted = key if doubtful else None
        return outcome
