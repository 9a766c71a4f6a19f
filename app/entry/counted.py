"""The words above a list that is ticked whole: how much of it is, and all or none at a press."""

from __future__ import annotations

from app.pieces.ticked import TickWords
from app.wording.languages import msg
from app.wording.wording import Wording


def counted(words: Wording) -> TickWords:
    """How many of how many lines are ticked."""

    def said(ticked: int, every: int) -> str:
        return words.text(msg("{n} of {all} ticked"), n=str(ticked), all=str(every))

    return TickWords(said=said, all=words.text(msg("Tick all")), none=words.text(msg("Tick none")))
