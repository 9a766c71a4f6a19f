"""How likely each cause is: odds, shifted by what is on record, weighed by what was seen.

One cause at a time; findings are taken as independent given the cause, save that of readings of
one group only the best one counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from schedules.fault_facts import (
    BLANK,
    Cause,
    CauseId,
    CostClass,
    FactId,
    FaultModel,
    FaultTest,
    Question,
    ReadingId,
    Seen,
    Shift,
)
from schedules.fault_state import FaultState, Record


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A cause with its odds, a share of 1, and the minutes its next cure takes.

    `minutes` hold the opening where it is not open. `cure`: the place of the next cure, or None
    when all were tried.
    """

    cause: Cause
    odds: float
    minutes: float
    cure: int | None
    cost: CostClass


def prior(model: FaultModel, state: FaultState) -> dict[CauseId, float]:
    """Odds before anything was seen: a share of 1 for each cause of the model.

    The household's own odds or the model's, times every shift that holds; a cause that a fact
    rules out has none.
    """
    odds = {cause.cause_id: cause.odds for cause in model.causes}
    if state.odds is not None:
        odds |= {one: state.odds[one] for one in odds if one in state.odds}
    for cause in model.causes:
        if any(state.facts.get(one.fact) == one.value for one in cause.dropped):
            odds[cause.cause_id] = 0.0
    for shift in shifts_that_hold(model, state):
        for cause_id, factor in shift.times.items():
            odds[cause_id] *= factor
    return shares(odds)


def shares(odds: Mapping[CauseId, float]) -> dict[CauseId, float]:
    """The same in shares of 1. Raises ValueError when nothing is left."""
    total = sum(odds.values())
    if not total > 0:
        raise ValueError("no cause is left")
    return {one: value / total for one, value in odds.items()}


def shifts_that_hold(model: FaultModel, state: FaultState) -> tuple[Shift, ...]:
    """The shifts that the record speaks for, without those whose question was answered."""
    return tuple(
        shift
        for shift in model.shifts
        if holds(shift, state.record.get(shift.subject))
        and not (shift.asks_the_same and is_answered(state, shift.asks_the_same))
    )


def holds(shift: Shift, record: Record | None) -> bool:
    """Whether a shift holds for what is on record; nothing on record, no shift."""
    if record is None:
        return False
    if isinstance(record, str):
        return shift.word == record
    if shift.word is not None:
        return False
    return (shift.low is None or record >= shift.low) and (
        shift.high is None or record < shift.high
    )


def is_answered(state: FaultState, reading: ReadingId) -> bool:
    """Whether it has an answer that says something."""
    return state.outcome(reading) not in (None, BLANK)


def counted(model: FaultModel, state: FaultState) -> tuple[tuple[Question | FaultTest, Seen], ...]:
    """The readings that enter the odds: of each group only the answered one of highest rank."""
    best: dict[str, int] = {}
    seen = {one.reading: one for one in state.seen if one.outcome != BLANK}
    answered = [
        (one, seen[one.reading_id])
        for one in (*model.questions, *model.tests)
        if one.reading_id in seen
    ]
    for number, (reading, _) in enumerate(answered):
        group = reading.group
        if group is not None:
            known = best.get(group)
            if known is None or answered[known][0].rank < reading.rank:
                best[group] = number
    return tuple(
        pair
        for number, pair in enumerate(answered)
        if pair[0].group is None or best[pair[0].group] == number
    )


def posterior(model: FaultModel, state: FaultState) -> dict[CauseId, float]:
    """Odds after all that was seen and tried; they sum to 1.

    A cure that did not cure leaves its cause the share of cases in which it fails.
    """
    odds = prior(model, state)
    for reading, seen in counted(model, state):
        place = reading.place(seen.outcome)
        for cause_id in odds:
            odds[cause_id] *= reading.rows[cause_id][place]
    for cause in model.causes:
        for cure in state.cures_tried(cause.cause_id):
            odds[cause.cause_id] *= 1 - cause.cures[cure].works
    return shares(odds)


def next_cure(cause: Cause, state: FaultState) -> int | None:
    """The place of the first cure that was not tried, or None."""
    tried = state.cures_tried(cause.cause_id)
    for number in range(len(cause.cures)):
        if number not in tried:
            return number
    return None


def likely(model: FaultModel, state: FaultState) -> tuple[Suspect, ...]:
    """The causes that are left, likeliest first, ties by code."""
    odds = posterior(model, state)
    found: list[Suspect] = []
    for cause in model.causes:
        cure = next_cure(cause, state)
        chosen = cause.cures[0 if cure is None else cure]
        minutes = chosen.minutes
        if cause.opening is not None and cause.opening not in state.open:
            minutes += model.openings[cause.opening]
        if odds[cause.cause_id] > 0:
            found.append(
                Suspect(
                    cause=cause,
                    odds=odds[cause.cause_id],
                    minutes=minutes,
                    cure=cure,
                    cost=chosen.cost,
                )
            )
    return tuple(sorted(found, key=lambda one: (-one.odds, one.cause.cause_id)))


def facts_of_step(test: FaultTest) -> tuple[FactId, ...]:
    """The facts that decide a test, each once."""
    named = [one.fact for one in (*test.off, *test.longer)]
    return tuple(dict.fromkeys(named))
