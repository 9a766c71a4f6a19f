"""A use on the very day a machine came: its hours are a known point that day, so it adds none.

Nothing is lost silently: either the machine was here before, or it is noted and said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, day
from app.pieces.form import FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.coming import ChangeComing
from models.acts.uses import LogUse
from schedules.plan import Judging


def counted(
    made: LogUse | Said, judging: Judging, words: Wording, again: Callable[[LogUse], Wish]
) -> Made:
    """The use, or the question since when the machine is here; `again`: the form of the use, as
    it was filled in."""
    facts = judging.facts
    if isinstance(made, Said) or made.day != facts.came_on or made.run_seconds == 0:
        return made
    ask = Questions(words)
    ways = (
        ("earlier", words.text(msg("It was here before that day"))),
        ("keep", words.text(msg("It came that day: note the use without hours"))),
    )
    lead = words.text(
        msg(
            "{machine} came on {day}. Whatever ran on the day it came counts as run before it "
            "came, so this use would add no hours."
        ),
        machine=facts.name,
        day=words.day(facts.came_on),
    )
    page = ask.ways("first_day", msg("Since when is it here?"), ways, lead=lead)

    def make(answers: Mapping[str, object]) -> Made:
        return made if choice(answers, "way") == "keep" else _since(made, judging, words, again)

    return Wish(page, make)


def _since(made: LogUse, judging: Judging, words: Wording, again: Callable[[LogUse], Wish]) -> Wish:
    """The day it came, said anew; then the use once more."""
    facts, ask = judging.facts, Questions(words)
    field = ask.field(
        "came_on",
        msg("Since when you have it"),
        FieldSort.DAY,
        default=facts.came_on - timedelta(days=1),
        hint=words.text(msg("Then the use is asked for once more.")),
    )
    page = ask.page("came", msg("The day it came"), (field,))

    def make(answers: Mapping[str, object]) -> Made:
        return ChangeComing(machine_id=facts.machine_id, came_on=day(answers, "came_on"))

    return Wish(page, make, then=lambda _changes: again(made))
