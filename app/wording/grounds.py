"""The sentence of every ground. Values stand in braces; which they are is declared beside the code.

A value that may be missing has a sentence of its own without it, so that nobody reads "by None".
"""

from collections.abc import Mapping
from dataclasses import dataclass

from app.wording.languages import msg
from schedules.reasons import ReasonCode


@dataclass(frozen=True, slots=True)
class Sentence:
    """How a ground is said. `figure`: the value a panel sets beside it, "" when there is none.

    `without`: the sentence when the named values (sorted, joined by a blank) are not known.
    """

    text: str
    figure: str = ""
    without: Mapping[str, str] | None = None


_HEADS: dict[ReasonCode, Sentence] = {
    ReasonCode.DUE_HOURS: Sentence(
        msg("{task}: due {due}, at {at} of running."),
        "due",
        {"due": msg("{task}: due at {at} of running, further off than can be told.")},
    ),
    ReasonCode.DUE_USES: Sentence(msg("{task}: due {due}, after {uses}."), "due"),
    ReasonCode.DUE_NTH: Sentence(
        msg("{task}: due {due}, every {n} that “{other_task}” is done."), "due"
    ),
    ReasonCode.DUE_SEASON: Sentence(msg("{task}: due {due}, {phase}."), "due"),
    ReasonCode.DUE_MONTHS: Sentence(msg("{task}: due {due}, after {months}."), "due"),
    ReasonCode.DUE_READING: Sentence(
        msg("{task}: due {due}, because of what was measured: {limit}."), "due"
    ),
    ReasonCode.DUE_FORECAST: Sentence(
        msg("{task}: due {due}, by the way it is wearing: {limit}."), "due"
    ),
    ReasonCode.DUE_FUEL: Sentence(
        msg("{task}: due {due}, when the fuel in {vessel} gets too old to keep."), "due"
    ),
    ReasonCode.NOTHING_KNOWN: Sentence(
        msg("{task}: nobody knows when this was last done; have a look by {due}."),
        "due",
        {"due": msg("{task}: nobody knows when this was last done; look when it is used again.")},
    ),
    ReasonCode.ASLEEP: Sentence(
        msg("{task}: rests with the machine until {until}."),
        "until",
        {"until": msg("{task}: rests with the machine until it is got out again.")},
    ),
    ReasonCode.EACH_USE: Sentence(msg("{task}: each time, before you use it.")),
    ReasonCode.ON_SIGHT: Sentence(msg("{task}: when you see that it needs it.")),
    ReasonCode.ON_FAULT: Sentence(msg("{task}: only when something is wrong.")),
    ReasonCode.NO_DAY: Sentence(msg("{task}: nothing sets a day for it.")),
    ReasonCode.CARRIED: Sentence(
        msg("{task}: falls due about {expected}, in the season, with {percent} gone: do it now."),
        "expected",
        {"percent": msg("{task}: falls due about {expected}, in the season: do it now.")},
    ),
}

_GROUNDS: dict[ReasonCode, Sentence] = {
    ReasonCode.ANCHOR_DONE: Sentence(msg("Last done on {day}."), "day"),
    ReasonCode.ANCHOR_REPLACED: Sentence(msg("Last renewed on {day}."), "day"),
    ReasonCode.ANCHOR_PURCHASE: Sentence(msg("Counted from {day}, when it came."), "day"),
    ReasonCode.ANCHOR_ASSUMED: Sentence(msg("Passed over on {day} and taken as done."), "day"),
    ReasonCode.ANCHOR_INCLUDED: Sentence(msg("Done on {day} along with “{other_task}”."), "day"),
    ReasonCode.INTERVAL_HOURS: Sentence(msg("Wanted again after {interval}."), "interval"),
    ReasonCode.INTERVAL_FIRST_HOURS: Sentence(
        msg("Wanted the first time after {interval}."), "interval"
    ),
    ReasonCode.INTERVAL_FACTOR: Sentence(
        msg("Cut to {percent} of that, for the way it is used."), "percent"
    ),
    ReasonCode.INTERVAL_MONTHS: Sentence(msg("Wanted again after {months}."), "months"),
    ReasonCode.INTERVAL_USES: Sentence(msg("Wanted again after {uses}."), "uses"),
    ReasonCode.HOURS_THEN: Sentence(
        msg("On {day} it had run {hours} ({basis})."),
        "hours",
        {"hours": msg("How long it had run by {day} is {basis}.")},
    ),
    ReasonCode.HOURS_NOW: Sentence(
        msg("By {day} it has run {hours} ({basis})."),
        "hours",
        {"hours": msg("How long it has run by {day} is {basis}.")},
    ),
    ReasonCode.FORECAST_BAND: Sentence(
        msg("With twice the use on {early}, with half the use on {late}."),
        "",
        {
            "early": msg("With half the use on {late}."),
            "late": msg("With twice the use on {early}, with half the use not for years."),
            "early late": msg("Not for years, even with twice the use."),
        },
    ),
    ReasonCode.SLOT: Sentence(
        msg("Belongs {phase} ({season}): counts from {opens} on, wanted by {deadline}."),
        "deadline",
    ),
    ReasonCode.LAPSED: Sentence(msg("Was not done in {season}, and now it is too late for that.")),
    ReasonCode.RESTS: Sentence(
        msg("Asked for on {asked}, but can wait: it stands still from {from_day} to {to_day}."),
        "to_day",
        {"to_day": msg("Asked for on {asked}, but can wait: it stands still since {from_day}.")},
    ),
    ReasonCode.ALSO: Sentence(
        msg("Asked for by {due} as well, because of {governed_by}."),
        "due",
        {"due": msg("Asked for as well because of {governed_by}, on no day yet.")},
    ),
    ReasonCode.LIMIT_IS: Sentence(
        msg("{limit}: right between {low} and {high}."),
        "",
        {
            "low": msg("{limit}: means work at {high} or more."),
            "high": msg("{limit}: means work at {low} or less."),
            "high low": msg("{limit}: means work as soon as it is seen."),
        },
    ),
    ReasonCode.READING_WAS: Sentence(
        msg("{limit}: {amount} on {day}."),
        "amount",
        {"amount": msg("{limit}: seen on {day}.")},
    ),
    ReasonCode.OWN_MANUAL: Sentence(
        msg("Your manual sets {figure} (page {page})."),
        "page",
        {"page": msg("Your manual sets {figure}.")},
    ),
    ReasonCode.FIGURE_MARK: Sentence(msg("For {figure}: {mark}."), "mark"),
}

_JOBS: dict[ReasonCode, Sentence] = {
    ReasonCode.JOB_ON: Sentence(msg("{job}: due {due}."), "due"),
    ReasonCode.JOB_AT_HOURS: Sentence(
        msg("{job}: due {due}, at {at} of running."),
        "due",
        {"due": msg("{job}: due at {at} of running, further off than can be told.")},
    ),
    ReasonCode.JOB_PHASE: Sentence(
        msg("{job}: due {due}, {phase}."), "due", {"due": msg("{job}: {phase}.")}
    ),
    ReasonCode.JOB_WAITS: Sentence(msg("{job}: waits for {waits_for}."), "waits_for"),
    ReasonCode.JOB_UNDATED: Sentence(msg("{job}: no day is set for it.")),
}

_STATES: dict[ReasonCode, Sentence] = {
    ReasonCode.STATE_DOWN: Sentence(msg("{machine} is out of order.")),
    ReasonCode.STATE_UNKNOWN: Sentence(msg("How {machine} is, is not known yet.")),
    ReasonCode.STATE_LAID_UP: Sentence(msg("{machine} is put away.")),
    ReasonCode.STATE_WITH_CARE: Sentence(msg("{machine} is usable, but with care.")),
    ReasonCode.STATE_FIT: Sentence(msg("{machine} is ready.")),
    ReasonCode.OPEN_FAULT: Sentence(msg("{fault} (since {day})."), "day"),
    ReasonCode.FAILED_CHECK: Sentence(
        msg("{task}: failed on {day}; do not use it before that is put right."), "day"
    ),
    ReasonCode.PAST_UNKNOWN: Sentence(
        msg("Its past is not known; {left} of the first going-over still to do."), "left"
    ),
    ReasonCode.PUT_AWAY: Sentence(
        msg("Put away on {day}, until about {until}."),
        "day",
        {"until": msg("Put away on {day}, until further notice.")},
    ),
    ReasonCode.OVERDUE_SAFETY: Sentence(
        msg("{task}: overdue since {due}, and your safety hangs on it."), "due"
    ),
    ReasonCode.OVERDUE_TASK: Sentence(msg("{task}: overdue since {due}."), "due"),
    ReasonCode.FAULT_KNOWN: Sentence(msg("{fault} (since {day})."), "day"),
    ReasonCode.REPAIR_PUT_OFF: Sentence(msg("{fault} (since {day}, its repair put off)."), "day"),
    ReasonCode.STALE_FUEL: Sentence(msg("The fuel in {vessel} is old: {band}."), "band"),
    ReasonCode.WRONG_FUEL: Sentence(msg("The fuel in {vessel} is not for this machine.")),
}

_FUEL: dict[ReasonCode, Sentence] = {
    ReasonCode.FUEL_BAND: Sentence(msg("{vessel}: {band}."), "band"),
    ReasonCode.FUEL_AGE: Sentence(
        msg("Bought on {bought}, {days} ago; {ageing} its shelf life is gone."),
        "days",
        {
            "bought": msg("{days} old; {ageing} its shelf life is gone."),
            "ageing": msg("Bought on {bought}, {days} ago."),
        },
    ),
    ReasonCode.FUEL_STABILISED: Sentence(msg("Stabiliser added on {day}."), "day"),
    ReasonCode.FUEL_NOT_STABILISED: Sentence(msg("No stabiliser in it.")),
    ReasonCode.FUEL_DATE_UNKNOWN: Sentence(msg("Nobody knows when it was bought.")),
    ReasonCode.FUEL_LOOK: Sentence(msg("On {day} it was {look}."), "look"),
    ReasonCode.FUEL_KEEPS: Sentence(msg("Fuel like this keeps about {days}."), "days"),
    ReasonCode.FUEL_EMPTY: Sentence(msg("It is empty.")),
    ReasonCode.FUEL_NOT_ENTERED: Sentence(msg("Nothing was entered about what is in it.")),
    ReasonCode.FUEL_GOVERNS: Sentence(msg("What decides: {clock}.")),
    ReasonCode.FUEL_NEXT_BAND: Sentence(msg("From {day} on, if nothing is done: {band}."), "day"),
    ReasonCode.FUEL_OXIDATION: Sentence(
        msg(
            "Ageing: {stale} of it is past its shelf life and {spoilt} far past it; above "
            "{most_share} far past, all of it is to be drained."
        ),
        "stale",
    ),
    ReasonCode.FUEL_LIGHT_ENDS: Sentence(
        msg(
            "Evaporation: about {lost} of it is gone, the lightest first; at {most_share} a cold "
            "engine gets hard to start."
        ),
        "lost",
    ),
    ReasonCode.FUEL_LIGHT_ENDS_UNKNOWN: Sentence(
        msg("Evaporation: not reckoned, for the amount or the warmth of the place is not known.")
    ),
    ReasonCode.FUEL_WATER: Sentence(
        msg("Water: {found} was found; more than {most} is too much for the coldest month."),
        "found",
    ),
    ReasonCode.FUEL_WATER_UNSEEN: Sentence(
        msg("Water: none was seen; more than {most} would be too much for the coldest month.")
    ),
}

SENTENCES: Mapping[ReasonCode, Sentence] = {**_HEADS, **_GROUNDS, **_JOBS, **_STATES, **_FUEL}

# The same grounds within a sentence about the machine: "usable, but ...".
PHRASES: Mapping[ReasonCode, Sentence] = {
    ReasonCode.OPEN_FAULT: Sentence(msg("{fault} (since {day})")),
    ReasonCode.FAILED_CHECK: Sentence(msg("“{task}” failed on {day}")),
    ReasonCode.PAST_UNKNOWN: Sentence(
        msg("its past is not known, with {left} of the first going-over still to do")
    ),
    ReasonCode.PUT_AWAY: Sentence(
        msg("since {day}, until about {until}"),
        without={"until": msg("since {day}, until further notice")},
    ),
    ReasonCode.OVERDUE_SAFETY: Sentence(
        msg("“{task}” is overdue since {due}, and your safety hangs on it")
    ),
    ReasonCode.OVERDUE_TASK: Sentence(msg("“{task}” is overdue since {due}")),
    ReasonCode.FAULT_KNOWN: Sentence(msg("{fault} (since {day})")),
    ReasonCode.REPAIR_PUT_OFF: Sentence(msg("{fault} (since {day}, its repair put off)")),
    ReasonCode.STALE_FUEL: Sentence(msg("the fuel in {vessel} is old: {band}")),
    ReasonCode.WRONG_FUEL: Sentence(msg("the fuel in {vessel} is not for this machine")),
}
