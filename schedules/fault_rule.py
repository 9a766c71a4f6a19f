"""The rule for the next step: the cheapest telling test, or the repair that is worth trying now.

Looks one step ahead: a test is worth its minutes and the repairs that are expected after each of
its outcomes; a test that only unlocks another is looked through. Costs are those of
`schedules.fault_game`: minutes times the sum of the weights.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from schedules.fault_game import (
    Game,
    Move,
    Position,
    blocks,
    cure_minutes,
    ends,
    is_offered,
    least_after,
    move_minutes,
    repair_cost,
    unlocked,
    without_cause,
)

# Costs nearer to each other than this are alike; the code decides.
ALIKE = 1e-9


class Play(StrEnum):
    """Which steps a search may take."""

    TESTS_FIRST = "tests_first"
    CURES_BETWEEN = "cures_between"


@dataclass(frozen=True, slots=True)
class Step:
    """What to do: a test, one cure, or all repairs in order (both None). `cost` is what the rule
    expects from here on."""

    move: Move | None
    cause: int | None
    cost: float


def cost_of_test(game: Game, position: Position, move: Move, *, look_through: bool) -> float:
    """Expected cost of a test and the repairs after it.

    Law: never more than its minutes above the cost of repairing at once.
    """
    opened = move_minutes(game, position, move)
    cost = opened * sum(position.weights)
    waiting = unlocked(game, position, move) if look_through else ()
    for end in ends(position, move):
        if end.ending is not None:
            cost += end.mass * end.ending
            continue
        here = repair_cost(game, end.position.weights, end.position.open)
        for one in waiting:
            if is_offered(game, end.position, one):
                here = min(here, cost_of_test(game, end.position, one, look_through=False))
        cost += end.scale * here
    return cost


def gate(game: Game, position: Position) -> Move | None:
    """The free look, while it was not done."""
    for move in game.moves:
        if move.is_gate and is_offered(game, position, move):
            return move
    return None


def best_test(game: Game, position: Position) -> Step | None:
    """The test of least expected cost, ties by code, or None when there is none."""
    offered = [
        (0.0 if unlocked(game, position, move) else least_after(game, position, move), move)
        for move in game.moves
        if is_offered(game, position, move)
    ]
    offered.sort(key=lambda one: (one[0], one[1].reading))
    best: Step | None = None
    for least, move in offered:
        if best is None or best.move is None:
            best = Step(move, None, cost_of_test(game, position, move, look_through=True))
            continue
        if least > best.cost + ALIKE:
            break
        cost = cost_of_test(game, position, move, look_through=True)
        alike = cost < best.cost + ALIKE and move.reading < best.move.reading
        if cost < best.cost - ALIKE or alike:
            best = Step(move, None, cost)
    return best


def next_by_rule(game: Game, position: Position, play: Play) -> Step:
    """The gate first; then a cure that is no dearer than the best test, the test, or repairs.

    With cures between, the first cure of the best order comes before a test when trying it and
    going on if it fails is expected to cost no more.
    """
    looked = gate(game, position)
    if looked is not None:
        return Step(looked, None, cost_of_test(game, position, looked, look_through=True))
    repairs = repair_cost(game, position.weights, position.open)
    test = best_test(game, position)
    if test is None or test.cost >= repairs - ALIKE:
        if play is Play.TESTS_FIRST:
            return Step(None, None, repairs)
        first = first_cure(game, position)
        return Step(None, first, repairs)
    if play is Play.CURES_BETWEEN:
        first = first_cure(game, position)
        if first is not None:
            cost = cure_first_cost(game, position, first)
            if cost <= test.cost + ALIKE:
                return Step(None, first, cost)
    return test


def first_cure(game: Game, position: Position) -> int | None:
    """The first cause of the best order of repairs, or None when nothing is left."""
    order = blocks(game, position.weights, position.open)
    return order[0].causes[0] if order else None


def cure_first_cost(game: Game, position: Position, cause: int) -> float:
    """Cost of a cure now and, where it fails, of the better of repairs and one test."""
    cost = cure_minutes(game, position, cause) * sum(position.weights)
    after = without_cause(game, position, cause)
    if sum(after.weights) <= 0:
        return cost
    left = repair_cost(game, after.weights, after.open)
    test = best_test(game, after)
    return cost + (left if test is None else min(left, test.cost))


def rule_cost(
    game: Game,
    position: Position,
    play: Play,
    known: dict[tuple[tuple[int, ...], int, int], float] | None = None,
) -> float:
    """What following the rule to the end is expected to cost; `known` keeps what was counted."""
    known = {} if known is None else known
    key = (position.done, position.open, position.out)
    if key in known:
        return known[key]
    if sum(position.weights) <= 0:
        return 0.0
    step = next_by_rule(game, position, play)
    if step.move is not None:
        cost = move_minutes(game, position, step.move) * sum(position.weights)
        for end in ends(position, step.move):
            if end.ending is not None:
                cost += end.mass * end.ending
            else:
                cost += end.scale * rule_cost(game, end.position, play, known)
    elif step.cause is not None:
        cost = cure_minutes(game, position, step.cause) * sum(position.weights)
        cost += rule_cost(game, without_cause(game, position, step.cause), play, known)
    else:
        cost = step.cost
    known[key] = cost
    return cost
