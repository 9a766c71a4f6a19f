"""Fault finding: what to do next about a machine that does not do what it should, and why.

`next_step` gives one piece of advice with its grounds as data; `likely` the suspects; `plans`
looks further ahead for a caller that has time. A search is a `FaultState` that the functions of
`schedules.fault_state` carry on. Nothing here knows a file, a clock or a language.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from schedules.facts import CautionCode
from schedules.fault_facts import (
    NONE_OF_THESE,
    BeforeId,
    Cause,
    CauseId,
    Ending,
    Entry,
    FactId,
    FaultModel,
    FaultModels,
    FaultTest,
    OpeningId,
    ReadingId,
    SymptomId,
)
from schedules.fault_game import (
    Game,
    blocks_worth_doing,
    cure_minutes,
    move_minutes,
    repair_cost,
    set_up,
)
from schedules.fault_grounds import Ground, GroundCode, ground, of_cure, of_odds, of_test
from schedules.fault_odds import Suspect, facts_of_step, likely, next_cure
from schedules.fault_rule import Play, Step, cost_of_test, next_by_rule, rule_cost
from schedules.fault_search import BUDGET, Plan, deepen
from schedules.fault_state import FaultState, Record, Worth, noticed

__all__ = [
    "Advice",
    "AdviceKind",
    "Care",
    "Ground",
    "GroundCode",
    "Plan",
    "Play",
    "Suspect",
    "begin",
    "care_of_cure",
    "enter",
    "expected_by_rule",
    "expected_with_test",
    "expected_without_test",
    "likely",
    "next_step",
    "plan_of",
    "plans",
]

# After two years of standing, or when nobody knows of its oil, everything is looked over first.
LONG_STANDING_MONTHS = 24

# What is minded wherever a cure opens these, whatever test led to it.
WITH_FUEL = frozenset(map(OpeningId, ("carb", "hose", "bowl")))
WHERE_IT_TURNS = frozenset(map(OpeningId, ("belt", "shroud", "deck", "belly", "rocker")))
COLD_AND_CLEAR = (BeforeId("R-OUT"), BeforeId("R-COLD"), BeforeId("R-CAN"))
STILL_AND_SAFE = (BeforeId("R-STILL"), BeforeId("R-LEAD"))
NOT_WHILE_OPEN = frozenset(map(BeforeId, ("R-HOT", "R-KEYIN", "R-WHOLE")))


class AdviceKind(StrEnum):
    """What sort of step it is."""

    WORKS = "works"
    LOOK_OVER = "look_over"
    TEST = "test"
    CURE = "cure"
    GO_ON = "go_on"
    APPRAISE = "appraise"
    HAND_OVER = "hand_over"


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """One next step. `minutes`: of the step, with `opening` where that has to be opened for it;
    `expected_minutes`: from here to the end, this step with it. `ask`: facts to ask first, since
    they may change the step. `handover_offered`: handing over is worth thinking of."""

    kind: AdviceKind
    reading: ReadingId | None
    cause: CauseId | None
    cure: int | None
    goes_on: SymptomId | None
    opening: OpeningId | None
    minutes: float
    expected_minutes: float
    ask: tuple[FactId, ...]
    handover_offered: bool
    grounds: tuple[Ground, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Care:
    """What is ticked before a step, and its cautions."""

    before: tuple[BeforeId, ...]
    cautions: tuple[CautionCode, ...]


def begin(
    models: FaultModels,
    *,
    kind: str | None = None,
    facts: Mapping[FactId, str] | None = None,
    record: Mapping[str, Record] | None = None,
    odds: Mapping[CauseId, float] | None = None,
    handover_minutes: float | None = None,
    worth: Worth | None = None,
) -> FaultState:
    """A search with nothing seen yet: the facts that are known, those that follow from the type
    of machine, its catalogue code, and those taken for granted."""
    assumed: dict[FactId, str] = {}
    for fact in models.facts.values():
        follows = None if kind is None else fact.by_kind.get(kind, fact.other_kinds)
        taken = follows or fact.assumed
        if taken is not None:
            assumed[fact.fact_id] = taken
    return FaultState(
        facts=MappingProxyType({**assumed, **(facts or {})}),
        record=MappingProxyType(dict(record or {})),
        odds=odds,
        handover_minutes=handover_minutes,
        worth=worth,
    )


def enter(models: FaultModels, entry: Entry, state: FaultState) -> tuple[FaultModel, FaultState]:
    """The model an entry stands for, and the state with what it says was seen. The free look may
    still come first."""
    model = models.models[entry.leads_to]
    for one in entry.seen:
        state = noticed(model, state, one.reading, one.outcome)
    return model, state


# -- the next step ----------------------------------------------------------------------------


def next_step(model: FaultModel, state: FaultState, *, plan: Plan | None = None) -> Advice:
    """What to do next, by the rule, or by a plan of `plans` for this very state.

    Raises ValueError when the facts rule out every cause.
    """
    over = _is_over(model, state)
    if over is not None:
        return over
    if not state.looked_over and _needs_going_over(model, state):
        return _plain(model, state, AdviceKind.LOOK_OVER, (_long_standing(state),))
    game = set_up(model, state)
    step = next_by_rule(game, game.start, Play.CURES_BETWEEN) if plan is None else plan.step
    expected = step.cost if plan is None else plan.minutes
    if step.move is not None:
        return _advise_test(model, state, game, step, expected)
    return _advise_cure(model, state, game, step, expected)


def _is_over(model: FaultModel, state: FaultState) -> Advice | None:
    for seen in reversed(state.seen):
        test = model.reading(seen.reading)
        if not isinstance(test, FaultTest):
            continue
        values = {"reading": seen.reading, "outcome": seen.outcome}
        if seen.outcome in test.ends:
            return _plain(model, state, AdviceKind.WORKS, (ground(GroundCode.WORKS_NOW, **values),))
        for lead in test.leads:
            if lead.outcome == seen.outcome:
                said = ground(GroundCode.LEADS_TO_APPRAISAL, **values)
                return _plain(model, state, AdviceKind.APPRAISE, (said,), lead.minutes)
    return None


def _plain(
    model: FaultModel,
    state: FaultState,
    kind: AdviceKind,
    grounds: tuple[Ground, ...],
    minutes: float = 0.0,
) -> Advice:
    suspects = likely(model, state)
    return Advice(
        kind=kind,
        reading=None,
        cause=suspects[0].cause.cause_id if suspects else None,
        cure=None,
        goes_on=None,
        opening=None,
        minutes=minutes,
        expected_minutes=minutes,
        ask=(),
        handover_offered=False,
        grounds=grounds,
    )


def _needs_going_over(model: FaultModel, state: FaultState) -> bool:
    if any(isinstance(model.reading(one.reading), FaultTest) for one in state.seen):
        return False
    months = state.record.get("months_parked")
    stood = isinstance(months, (int, float)) and months >= LONG_STANDING_MONTHS
    return stood or "yes" in (state.record.get("seized"), state.record.get("oil_unknown"))


def _long_standing(state: FaultState) -> Ground:
    months = state.record.get("months_parked")
    return ground(GroundCode.STOOD_LONG, months=months if isinstance(months, (int, float)) else 0.0)


def _advise_test(
    model: FaultModel, state: FaultState, game: Game, step: Step, expected: float
) -> Advice:
    move = step.move
    if move is None:
        raise ValueError("a step without a test")
    test = model.tests[move.number]
    opening = None if test.opening in state.open else test.opening
    unknown = tuple(one for one in facts_of_step(test) if one not in state.facts)
    return Advice(
        kind=AdviceKind.TEST,
        reading=test.reading_id,
        cause=None,
        cure=None,
        goes_on=None,
        opening=opening,
        minutes=move_minutes(game, game.start, move),
        expected_minutes=expected,
        ask=unknown,
        handover_offered=_offers_handover(model, state, game, expected),
        grounds=(*of_test(model, game, move), *of_odds(model, state)),
    )


def _advise_cure(
    model: FaultModel, state: FaultState, game: Game, step: Step, expected: float
) -> Advice:
    place = step.cause
    if place is None:
        place = _first_of_order(game)
    cause = model.cause(game.causes[place])
    cure = next_cure(cause, state)
    kind = _kind_of_cure(model, state, game, cause, cure)
    unknown = tuple(one.fact for one in cause.dropped if one.fact not in state.facts)
    to_symptom = cause.goes_on if kind is AdviceKind.GO_ON else None
    is_open = cause.opening is None or cause.opening in state.open
    return Advice(
        kind=kind,
        reading=None,
        cause=cause.cause_id,
        cure=cure if kind is AdviceKind.CURE else None,
        goes_on=None if to_symptom is None else SymptomId(to_symptom),
        opening=None if is_open or kind is not AdviceKind.CURE else cause.opening,
        minutes=cure_minutes(game, game.start, place),
        expected_minutes=expected,
        ask=unknown,
        handover_offered=_offers_handover(model, state, game, expected),
        grounds=(
            *(() if kind is AdviceKind.HAND_OVER else of_cure(game, place, expected)),
            *of_odds(model, state),
        ),
    )


def _first_of_order(game: Game) -> int:
    step = next_by_rule(game, game.start, Play.CURES_BETWEEN)
    if step.cause is None:
        raise ValueError("no cause is left")
    return step.cause


def _kind_of_cure(
    model: FaultModel, state: FaultState, game: Game, cause: Cause, cure: int | None
) -> AdviceKind:
    if cause.cause_id == NONE_OF_THESE or cure is None:
        return AdviceKind.HAND_OVER
    if cause.goes_on is Ending.APPRAISAL:
        return AdviceKind.APPRAISE
    if cause.goes_on is not None:
        return AdviceKind.GO_ON
    if not blocks_worth_doing(game, game.start, _handover(model, state)):
        return AdviceKind.HAND_OVER
    return AdviceKind.CURE


def _handover(model: FaultModel, state: FaultState) -> float:
    return model.handover_minutes if state.handover_minutes is None else state.handover_minutes


def _offers_handover(model: FaultModel, state: FaultState, game: Game, expected: float) -> bool:
    if expected >= _handover(model, state):
        return True
    return likely(model, state)[0].cause.cause_id == NONE_OF_THESE or not blocks_worth_doing(
        game, game.start, _handover(model, state)
    )


def care_of_cure(model: FaultModel, cause_id: CauseId) -> Care:
    """What is minded in a cure: what its opening asks for, as in the tests behind the same one,
    and as in the test that shows the cause best. Raises KeyError for an unknown cause."""
    cause = model.cause(cause_id)

    def shown(test: FaultTest) -> float:
        rows = [test.rows[one.cause_id] for one in model.causes]
        mine = test.rows[cause_id]
        return max(
            own - sum(column) / len(rows)
            for own, column in zip(mine, zip(*rows, strict=True), strict=True)
        )

    best = max(model.tests, key=shown)
    near = [one for one in model.tests if one.opening is not None and one.opening == cause.opening]
    tests = (*near, best)
    before = [code for one in tests for code in one.before]
    cautions = [code for one in tests for code in one.cautions]
    if cause.opening in WITH_FUEL:
        before[:0], cautions[:0] = COLD_AND_CLEAR, [CautionCode("C-FUEL")]
    elif cause.opening in WHERE_IT_TURNS:
        before[:0], cautions[:0] = STILL_AND_SAFE, [CautionCode("C-STOP")]
    if cause.opening is not None:
        before = [code for code in before if code not in NOT_WHILE_OPEN]
    return Care(before=tuple(dict.fromkeys(before)), cautions=tuple(dict.fromkeys(cautions)))


# -- what it costs, and looking further -------------------------------------------------------


def expected_without_test(model: FaultModel, state: FaultState) -> float:
    """Expected minutes of repairing in the best order, without another test."""
    game = set_up(model, state)
    return repair_cost(game, game.start.weights, game.start.open) / sum(game.start.weights)


def expected_with_test(model: FaultModel, state: FaultState, reading: ReadingId) -> float:
    """Expected minutes of one test and the best order of repairs after each outcome.

    Whether the test may be done now is not asked. Raises KeyError for an unknown test.
    """
    game = set_up(model, state)
    for move in game.moves:
        if move.reading == reading:
            cost = cost_of_test(game, game.start, move, look_through=False)
            return cost / sum(game.start.weights)
    raise KeyError(reading)


def expected_by_rule(model: FaultModel, state: FaultState, play: Play) -> float:
    """Expected minutes of following the one-step rule to the end; seconds of work for the two
    largest models."""
    game = set_up(model, state)
    return rule_cost(game, game.start, play) / sum(game.start.weights)


def plan_of(
    model: FaultModel, state: FaultState, *, reading: str = "", cause: str = ""
) -> Plan | None:
    """The plan that does this test next, or this cause's cure, whatever chose it; None when the
    game of this state knows neither. What it expects is what the one-step rule does."""
    game = set_up(model, state)
    move = next((one for one in game.moves if one.reading == reading), None)
    place = next((at for at, code in enumerate(game.causes) if code == cause), None)
    if move is None and place is None:
        return None
    cost = next_by_rule(game, game.start, Play.CURES_BETWEEN).cost
    step = Step(move=move, cause=place if move is None else None, cost=cost)
    return Plan(step=step, minutes=cost, rule_minutes=None, depth=0, is_best=False)


def plans(
    model: FaultModel,
    state: FaultState,
    *,
    play: Play = Play.CURES_BETWEEN,
    budget: int = BUDGET,
) -> Iterator[Plan]:
    """Better and better plans for a caller that runs this beside its own work and may stop at
    any value. The same state and budget give the same plans."""
    return deepen(set_up(model, state), play, budget=budget)
