"""The form after months away: one answer a machine says what it ran meanwhile."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice
from app.pieces.form import FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.catch_up import CatchUp
from models.acts.hours import AcceptHours
from models.words import InferredFrom

NOT_SURE = ""
SHARES = {
    "not": (msg("did not run"), Fraction(0), Fraction(0)),
    "less": (msg("about half of it"), Fraction(1, 2), Fraction(1, 4)),
    "so": (msg("about so much"), Fraction(1), Fraction(1, 2)),
    "more": (msg("about twice as much"), Fraction(2), Fraction(1)),
}
"""An answer, the share of what was reckoned that ran, and how far that may be off, as a share of
the same. Our judgement: nobody remembers more closely than by half."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran:
    """What a machine is reckoned to have run since a day; `before` is its total of that day."""

    machine_id: int
    name: str
    before: Fraction
    seconds: Fraction


def catch_up_wish(ran: Sequence[Ran], *, last: date, today: date, words: Wording) -> Wish:
    """Asks of each machine how much it ran; who is not sure leaves it as it is reckoned."""
    ask = Questions(words)
    ways = (
        (NOT_SURE, words.text(msg("not sure"))),
        *((code, words.text(said)) for code, (said, _, _) in SHARES.items()),
    )
    fields = tuple(
        ask.field(
            str(one.machine_id),
            words.text(
                msg("{machine}: {hours} reckoned"),
                machine=one.name,
                hours=words.run_time(one.seconds, estimated=True),
            ),
            FieldSort.TILES,
            choices=ways,
            default=NOT_SURE,
        )
        for one in ran
    )
    lead = msg(
        "What you answer is kept as reckoned, with how far it may be off; a reading of the meter "
        "counts for more whenever you take one."
    )
    page = ask.page(
        "catch_up",
        words.text(msg("What ran since {day}"), day=words.day(last)),
        fields,
        lead=words.text(lead),
    )

    def make(answers: Mapping[str, object]) -> Made:
        found = [
            AcceptHours(
                machine_id=one.machine_id,
                day=today,
                total_seconds=round(one.before + share * one.seconds),
                spread_seconds=round(spread * one.seconds),
                inferred_from=InferredFrom.AS_ALWAYS,
                note=words.text(said),
            )
            for one in ran
            if (way := choice(answers, str(one.machine_id))) in SHARES
            for said, share, spread in (SHARES[way],)
        ]
        if not found:
            return Said(words.text(msg("Nothing is answered: it stays as it is reckoned.")), "")
        return CatchUp(hours=tuple(found))

    return Wish(page, make)
