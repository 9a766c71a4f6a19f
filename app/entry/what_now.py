"""What now? The second question about a machine that has just come: why did its owner come here.

What was said of it on the page before goes along, so that nobody is asked twice.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from app.entry.questions import FIND_WHY, Made, Questions, Step, Wish
from app.entry.short_way import going_over
from app.pieces.asked import choice
from app.wording.languages import msg
from app.wording.wording import Wording
from models.changes import Area, Changes
from schedules.plan import Judging

# What became of it before it came, by what was said of its last run and of its fuel: the answers
# of the search that still fit, in its own codes. Our judgement.
LATELY, MONTHS, YEARS = ("quit", "days"), ("dryout", "wet"), ("years",)
FUEL_STAYED = ("wet",)


def parked(ran: str, fuel_left: str) -> tuple[str, ...]:
    """The answers about its rest that fit what was said when it came; none: all of them."""
    match ran:
        case "lately":
            return LATELY
        case "season":
            return FUEL_STAYED if fuel_left == "yes" else MONTHS
        case "years" | "long":
            return YEARS
        case _:
            return ()


def then_what_now(
    words: Wording, judged: Callable[[int], Judging | None], told: Mapping[str, str]
) -> Callable[[Changes], Wish | None]:
    """The page that follows when the machine is in the file; `told`: what was said of it there."""

    def following(changes: Changes) -> Wish | None:
        number = next((one for area, one in changes.ids if area is Area.MACHINES), None)
        judging = None if number is None else judged(number)
        return None if judging is None else what_now(words, judging, told)

    return following


def what_now(words: Wording, judging: Judging, told: Mapping[str, str]) -> Wish:
    """Why its owner came, the most pressing first."""
    fits = parked(told.get("ran", ""), told.get("fuel_left", ""))
    find_why = f"{FIND_WHY}{','.join(fits)}"
    ways = (
        (find_why, words.text(msg("Find out why it will not start"))),
        ("look", words.text(msg("It runs; do I owe it anything?"))),
        ("store", words.text(msg("Put it away"))),
        ("worth", words.text(msg("Is it worth it?"))),
        ("add", words.text(msg("Another machine"))),
    )
    page = Questions(words).ways(
        "what_now",
        msg("What now?"),
        ways,
        lead="\n".join((judging.facts.name, going_over(judging, words))).strip(),
    )

    def make(answers: Mapping[str, object]) -> Made:
        return Step(choice(answers, "way"), int(judging.facts.machine_id))

    return Wish(page, make)
