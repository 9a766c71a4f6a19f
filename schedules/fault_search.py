"""Looking further ahead than one step, as far as there is time for.

`deepen` is a generator: each value is the best plan so far, so a caller runs it beside its own
work and stops when it likes. What a plan expects is what following it costs, never less. Deeper
is never dearer: at no depth is a step taken that is expected to cost more than the rule's.

Where everything was looked at the plan is the best there is, and says so.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Generator, Iterator
from dataclasses import dataclass, field
from operator import mul

from schedules.fault_game import (
    End,
    Game,
    Move,
    Position,
    Weights,
    blocks,
    cure_minutes,
    ends,
    is_offered,
    layout,
    least_after,
    move_minutes,
    repair_cost,
    without_cause,
)
from schedules.fault_rule import (
    ALIKE,
    Play,
    Step,
    cost_of_test,
    cure_first_cost,
    gate,
    next_by_rule,
)

# Positions looked at between two signs of life, and in all when the caller says nothing.
BREATH = 100
BUDGET = 20_000
# The share of the budget that may go into counting the rule to its end.
RULE_SHARE = 0.6
# Depths that may bring nothing before the search ends.
IDLE = 3
# What comes about so seldom is reckoned one step ahead and no further.
SELDOM = 2e-4
# Cures weighed against tests at one position: the first of so many blocks.
CURES_WEIGHED = 3
# Steps looked into at one position: the most promising by one step ahead.
STEPS_WEIGHED = 4
NO_END = 10**6

Key = tuple[tuple[int, ...], int, int]
Found = Generator[None, None, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The next step and what it is expected to cost to the end, minutes.

    `rule_minutes`: what the one-step rule costs to the end, where that was counted. `depth`:
    steps looked ahead. `is_best`: nothing is better, everything was looked at.
    """

    step: Step
    minutes: float
    rule_minutes: float | None
    depth: int
    is_best: bool


@dataclass(slots=True)
class Search:
    """One search; what it counted is kept for the next depth.

    `every_step`: every test and every cure is looked into, not only the most promising.
    `seldom`: a position of less weight is reckoned one step ahead and no further.
    """

    game: Game
    play: Play
    every_step: bool = False
    follow_rule: bool = False
    seldom: float = 0.0
    looked_at: int = 0
    was_cut: bool = False
    values: dict[tuple[Key, int], tuple[float, bool]] = field(
        default_factory=dict[tuple["Key", int], tuple[float, bool]]
    )
    rules: dict[Key, float] = field(default_factory=dict["Key", float])
    repairs: dict[Key, float] = field(default_factory=dict["Key", float])
    steps: dict[tuple[Key, int], Step] = field(default_factory=dict[tuple["Key", int], Step])

    # -- what a position costs ---------------------------------------------------------------

    def value(self, position: Position, depth: int) -> Found:
        """Cost of a position with `depth` steps looked ahead, then by the rule."""
        key = (position.done, position.open, position.out)
        known = self.values.get((key, depth))
        if known is not None:
            self.was_cut |= known[1]
            return known[0]
        self.looked_at += 1
        if self.looked_at % BREATH == 0:
            yield
        if sum(position.weights) <= 0:
            return 0.0
        outer, self.was_cut = self.was_cut, False
        if depth == 0 or sum(position.weights) < self.seldom:
            cost = yield from self._leaf(position, key)
            self.was_cut = True
        else:
            cost = yield from self._best(position, key, depth)
        self.values[key, depth] = (cost, self.was_cut)
        self.was_cut |= outer
        return cost

    def _leaf(self, position: Position, key: Key) -> Found:
        if self.follow_rule:
            return (yield from self.rule(position))
        return self._one_step(position, key)

    def _one_step(self, position: Position, key: Key) -> float:
        """What repairs, or the rule's next step and then repairs, are expected to cost."""
        return min(self._repair(position, key), next_by_rule(self.game, position, self.play).cost)

    def _repair(self, position: Position, key: Key) -> float:
        cost = self.repairs.get(key)
        if cost is None:
            cost = repair_cost(self.game, position.weights, position.open)
            self.repairs[key] = cost
        return cost

    def rule(self, position: Position) -> Found:
        """What following the one-step rule costs to the end."""
        key = (position.done, position.open, position.out)
        if key in self.rules:
            return self.rules[key]
        if sum(position.weights) <= 0:
            return 0.0
        self.looked_at += 1
        if self.looked_at % BREATH == 0:
            yield
        if sum(position.weights) < self.seldom:
            self.rules[key] = self._one_step(position, key)
            return self.rules[key]
        step = next_by_rule(self.game, position, self.play)
        cost = step.cost
        if step.move is not None:
            cost = move_minutes(self.game, position, step.move) * sum(position.weights)
            for end in ends(position, step.move):
                if end.ending is not None:
                    cost += end.mass * end.ending
                else:
                    cost += end.scale * (yield from self.rule(end.position))
        elif step.cause is not None:
            cost = cure_minutes(self.game, position, step.cause) * sum(position.weights)
            cost += yield from self.rule(without_cause(self.game, position, step.cause))
        self.rules[key] = cost
        return cost

    def _best(self, position: Position, key: Key, depth: int) -> Found:
        looked = gate(self.game, position)
        if looked is not None:
            # It comes first in any plan, so it is no step looked ahead.
            cost = yield from self._by_test(position, looked, depth + 1, float("inf"))
            self.steps[key, depth] = Step(looked, None, cost)
            return cost
        step = Step(None, None, self._repair(position, key))
        for one in self._candidates(position):
            if one.move is not None:
                if least_after(self.game, position, one.move) >= step.cost - ALIKE:
                    continue
                cost = yield from self._by_test(position, one.move, depth, step.cost)
            elif one.cause is not None:
                cost = yield from self._by_cure(position, one.cause, depth, step.cost)
            else:
                continue
            if cost < step.cost - ALIKE:
                step = Step(one.move, one.cause, cost)
        self.steps[key, depth] = step
        return step.cost

    def _by_cure(self, position: Position, cause: int, depth: int, best: float) -> Found:
        """Cost of a cure and the best when it fails; given up once it reaches `best`."""
        cost = cure_minutes(self.game, position, cause) * sum(position.weights)
        after = without_cause(self.game, position, cause)
        least = cost + floor(self.game, after)
        if least >= best:
            return least
        return cost + (yield from self.value(after, depth - 1))

    def _by_test(self, position: Position, move: Move, depth: int, best: float) -> Found:
        """Cost of a test and the best after each outcome; given up once it reaches `best`."""
        cost = move_minutes(self.game, position, move) * sum(position.weights)
        found = ends(position, move)
        rest = sum(self._floor(end) for end in found)
        for end in found:
            if cost + rest >= best:
                return cost + rest
            rest -= self._floor(end)
            if end.ending is not None:
                cost += end.mass * end.ending
            else:
                cost += end.scale * (yield from self.value(end.position, depth - 1))
        return cost

    def _floor(self, end: End) -> float:
        """What an outcome cannot cost less than."""
        if end.ending is not None:
            return end.mass * end.ending
        return end.scale * floor(self.game, end.position)

    def _candidates(self, position: Position) -> list[Step]:
        """Steps that may be taken, the most promising first."""
        found = [
            Step(move, None, cost_of_test(self.game, position, move, look_through=True))
            for move in self.game.moves
            if is_offered(self.game, position, move)
        ]
        if found and self.play is Play.CURES_BETWEEN:
            order = blocks(self.game, position.weights, position.open)
            if self.every_step:
                causes = [cause for block in order for cause in block.causes]
            else:
                causes = [block.causes[0] for block in order[:CURES_WEIGHED]]
            found += [Step(None, cause, self._cure_guess(position, cause)) for cause in causes[1:]]
            # As the rule reckons it, so that the rule's own step is always among the best.
            first = cure_first_cost(self.game, position, causes[0])
            found.append(Step(None, causes[0], first))
        found.sort(key=lambda one: (one.cost, self._code(one)))
        if self.every_step or len(found) <= STEPS_WEIGHED:
            return found
        self.was_cut = True
        return found[:STEPS_WEIGHED]

    def _cure_guess(self, position: Position, cause: int) -> float:
        after = without_cause(self.game, position, cause)
        cost = cure_minutes(self.game, position, cause) * sum(position.weights)
        return cost + repair_cost(self.game, after.weights, after.open)

    def _code(self, step: Step) -> str:
        if step.move is not None:
            return step.move.reading
        return "" if step.cause is None else self.game.causes[step.cause]


def floor(game: Game, position: Position) -> float:
    """What nothing can be cheaper than: every cause known, or a test that ends it."""
    least: Weights = layout(game, position.open).least
    cheapest = min(
        (
            move.minutes
            for move in game.moves
            if move.can_end and not position.done[move.number] and game.playable[move.number]
        ),
        default=NO_END,
    )
    if cheapest < NO_END:
        least = tuple(min(one, cheapest) for one in least)
    return sum(map(mul, position.weights, least))


# -- deeper and deeper ------------------------------------------------------------------------


def deepen(game: Game, play: Play = Play.CURES_BETWEEN, *, budget: int = BUDGET) -> Iterator[Plan]:
    """Plans from the rule's step on, better or the same each time, until nothing is left to look
    at or `budget` positions were looked at. May be stopped at any value."""
    start = game.start
    weight = sum(start.weights)
    search = Search(game=game, play=play, seldom=SELDOM * weight)
    step = next_by_rule(game, start, play)
    plan = Plan(step=step, minutes=step.cost / weight, rule_minutes=None, depth=1, is_best=False)
    yield plan
    rule = yield from _within(search, search.rule(start), int(budget * RULE_SHARE), plan)
    if rule is not None:
        search.follow_rule = True
        plan = Plan(
            step=step, minutes=rule / weight, rule_minutes=rule / weight, depth=1, is_best=False
        )
        yield plan
    idle = 0
    for depth in range(1 if search.follow_rule else 2, len(game.moves) + len(game.causes) + 1):
        search.was_cut = False
        cost = yield from _within(search, search.value(start, depth), budget, plan)
        if cost is None:
            return
        better = cost / weight < plan.minutes - ALIKE
        idle = 0 if better else idle + 1
        plan = Plan(
            step=search.steps[(start.done, start.open, start.out), depth] if better else plan.step,
            minutes=min(cost / weight, plan.minutes),
            rule_minutes=plan.rule_minutes,
            depth=depth,
            is_best=not search.was_cut,
        )
        yield plan
        if plan.is_best or idle == IDLE:
            return


def _within(
    search: Search, work: Found, budget: int, plan: Plan
) -> Generator[Plan, None, float | None]:
    """The result of the work, or None when it looked at more positions than it may."""
    while True:
        try:
            next(work)
        except StopIteration as ended:
            return float(ended.value)
        if search.looked_at >= budget:
            return None
        yield plan


def settled(game: Game, play: Play = Play.CURES_BETWEEN, *, budget: int = BUDGET) -> Plan:
    """The last plan of `deepen`."""
    return deque(deepen(game, play, budget=budget), maxlen=1)[0]


def best_cost(game: Game, play: Play) -> float:
    """The least expected minutes of any order of steps; looks at everything, so may take long."""
    search = Search(game=game, play=play, every_step=True)
    work = search.value(game.start, len(game.moves) + len(game.causes) + 1)
    while True:
        try:
            next(work)
        except StopIteration as ended:
            return float(ended.value) / sum(game.start.weights)
