"""Why a step is advised, as data; sentences are made elsewhere.

A ground is a code and named values: codes of the model, minutes, and shares of 100. What values a
code has stands in `GROUND_VALUES`; making one with others is refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from schedules.fault_facts import FaultModel
from schedules.fault_game import (
    Game,
    Move,
    Position,
    cure_minutes,
    ends,
    repair_cost,
    unlocked,
    without_cause,
)
from schedules.fault_odds import holds, is_answered, shifts_that_hold
from schedules.fault_rule import best_test, cost_of_test
from schedules.fault_state import FaultState

GroundValue: TypeAlias = str | float


class GroundCode(StrEnum):
    """What kind of ground it is. `minutes`, `with_it`, `without_it`: minutes; `percent`: of 100."""

    WORKS_NOW = "works_now"
    LEADS_TO_APPRAISAL = "leads_to_appraisal"
    STOOD_LONG = "stood_long"
    FREE_LOOK = "free_look"
    TEST_PAYS = "test_pays"
    UNLOCKS = "unlocks"
    OUTCOME = "outcome"
    CURE_IS_NEXT = "cure_is_next"
    CURE_BEFORE_TEST = "cure_before_test"
    RECORD_COUNTED = "record_counted"
    ANSWER_COUNTED = "answer_counted"


GROUND_VALUES: dict[GroundCode, tuple[str, ...]] = {
    GroundCode.WORKS_NOW: ("reading", "outcome"),
    GroundCode.LEADS_TO_APPRAISAL: ("reading", "outcome"),
    GroundCode.STOOD_LONG: ("months",),
    GroundCode.FREE_LOOK: ("reading",),
    GroundCode.TEST_PAYS: ("reading", "with_it", "without_it"),
    GroundCode.UNLOCKS: ("reading",),
    GroundCode.OUTCOME: ("reading", "outcome", "percent", "cause", "percent_then"),
    GroundCode.CURE_IS_NEXT: ("cause", "percent", "minutes", "without_it"),
    GroundCode.CURE_BEFORE_TEST: ("cause", "with_it", "without_it"),
    GroundCode.RECORD_COUNTED: ("subject",),
    GroundCode.ANSWER_COUNTED: ("reading", "subject"),
}


@dataclass(frozen=True, slots=True)
class Ground:
    """One ground with its values."""

    code: GroundCode
    values: tuple[tuple[str, GroundValue], ...]

    def value(self, name: str) -> GroundValue:
        """The value called `name`. Raises KeyError when the code has no such value."""
        return dict(self.values)[name]


def ground(code: GroundCode, **values: GroundValue) -> Ground:
    """Make a ground. Raises ValueError when the values are not those declared for the code."""
    declared = GROUND_VALUES[code]
    if set(declared) != set(values):
        raise ValueError(f"{code}: values {sorted(values)} are not {sorted(declared)}")
    return Ground(code, tuple((name, values[name]) for name in declared))


def of_test(model: FaultModel, game: Game, move: Move) -> tuple[Ground, ...]:
    """Why a test: what it saves, what it opens the way to, what each outcome would say."""
    start = game.start
    weight = sum(start.weights)
    if move.is_gate:
        first = ground(GroundCode.FREE_LOOK, reading=move.reading)
    else:
        first = ground(
            GroundCode.TEST_PAYS,
            reading=move.reading,
            with_it=cost_of_test(game, start, move, look_through=True) / weight,
            without_it=repair_cost(game, start.weights, start.open) / weight,
        )
    waiting = (
        ground(GroundCode.UNLOCKS, reading=one.reading) for one in unlocked(game, start, move)
    )
    return (first, *waiting, *_outcomes(model, game, move))


def _outcomes(model: FaultModel, game: Game, move: Move) -> list[Ground]:
    outcomes = model.tests[move.number].outcomes
    weight = sum(game.start.weights)
    found: list[Ground] = []
    for end in ends(game.start, move):
        after = end.position.weights
        top = max(range(len(after)), key=lambda one: (after[one], game.causes[one]))
        found.append(
            ground(
                GroundCode.OUTCOME,
                reading=move.reading,
                outcome=outcomes[end.place].outcome_id,
                percent=100 * end.mass / weight,
                cause=game.causes[top],
                percent_then=100 * after[top] / sum(after),
            )
        )
    return found


def of_cure(game: Game, cause: int, expected: float) -> tuple[Ground, ...]:
    """Why a cure: its odds for its minutes, and what going on without it would cost."""
    start = game.start
    weight = sum(start.weights)
    minutes = cure_minutes(game, start, cause)
    code = game.causes[cause]
    after = without_cause(game, start, cause)
    left = repair_cost(game, after.weights, after.open) / weight
    test = best_test(game, Position(start.weights, start.done, start.open, start.out))
    found = [
        ground(
            GroundCode.CURE_IS_NEXT,
            cause=code,
            percent=100 * start.weights[cause] / weight,
            minutes=minutes,
            without_it=left,
        )
    ]
    if test is not None and test.cost / weight >= expected:
        found.append(
            ground(
                GroundCode.CURE_BEFORE_TEST,
                cause=code,
                with_it=expected,
                without_it=test.cost / weight,
            )
        )
    return tuple(found)


def of_odds(model: FaultModel, state: FaultState) -> tuple[Ground, ...]:
    """What on record was counted, and which answer was counted in its place."""
    used = shifts_that_hold(model, state)
    found = [ground(GroundCode.RECORD_COUNTED, subject=one.subject) for one in used]
    for shift in model.shifts:
        asked = shift.asks_the_same
        if shift in used or asked is None or not is_answered(state, asked):
            continue
        if holds(shift, state.record.get(shift.subject)):
            found.append(ground(GroundCode.ANSWER_COUNTED, reading=asked, subject=shift.subject))
    return tuple(dict.fromkeys(found))
