"""The search for a fault as a game against the odds: positions, moves, what each costs.

A position holds a weight for each cause: its odds times the probability of all that was seen on
the way. Weights are not brought to a sum of 1, so costs add up over the ends of a test without
another multiplication; a cost divided by the sum of the weights is in minutes.

The cost of repairing without another test, and its best order, follow the rule of odds over
minutes (Kadane and Simon 1977; Heckerman, Breese and Rommelse 1995), with what lies behind one
closed opening taken as one block up to its best prefix.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from operator import mul
from typing import TypeAlias

from schedules.fault_facts import (
    BLANK,
    NONE_OF_THESE,
    Cause,
    CauseId,
    CostClass,
    FaultModel,
    FaultTest,
    ReadingId,
    Seen,
)
from schedules.fault_odds import next_cure, posterior
from schedules.fault_state import FaultState

Weights: TypeAlias = tuple[float, ...]
NO_OPENING = -1
# A cause whose cures all failed is handed over together with what is none of these.
AT_ONCE = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A test, ready for counting. Numbers are places in the game's lists.

    `rows`: for each outcome the probability given each cause. `ending`: for each outcome the
    minutes that are left to pay when the search ends there, or None. `undo`: the row of a
    question that this test takes the place of.
    """

    number: int
    reading: ReadingId
    minutes: float
    opening: int
    shuts: bool
    is_gate: bool
    rows: tuple[Weights, ...]
    ending: tuple[float | None, ...]
    rivals: tuple[int, ...]
    after: tuple[int, ...]
    only_if: tuple[tuple[int, int], ...]
    not_if: tuple[tuple[int, int], ...]
    void: tuple[int, ...]
    undo: Weights | None
    can_end: bool


@dataclass(frozen=True, slots=True)
class Position:
    """Where the search stands. `done`: for each test 0, or 1 + the place of its outcome. `open`
    and `out`: openings that are open, causes that were cured in vain, as bits."""

    weights: Weights
    done: tuple[int, ...]
    open: int
    out: int


@dataclass(frozen=True, slots=True)
class Layout:
    """What stands free while certain openings are open: single causes with their minutes, those
    alone behind a closed opening among them; groups behind one closed opening with its minutes;
    and what each cause costs at least."""

    singles: tuple[tuple[int, float], ...]
    groups: tuple[tuple[float, tuple[tuple[int, float], ...]], ...]
    least: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Game:
    """One model with the facts, the money and the cures of one state in it.

    `layouts` keeps what `layout` made: the inner loop asks for it some hundred thousand times.
    """

    causes: tuple[CauseId, ...]
    fix: tuple[float, ...]
    opening: tuple[int, ...]
    behind: tuple[tuple[int, ...], ...]
    open_minutes: tuple[float, ...]
    moves: tuple[Move, ...]
    playable: tuple[bool, ...]
    start: Position
    layouts: dict[int, Layout]


# -- setting up -------------------------------------------------------------------------------


def set_up(model: FaultModel, state: FaultState) -> Game:
    """The game from this state on. Raises ValueError when no cause is left."""
    odds = posterior(model, state)
    causes = tuple(cause for cause in model.causes if odds[cause.cause_id] > 0)
    openings = list(model.openings)
    handover = len(openings)
    lost = {cause.cause_id for cause in causes if next_cure(cause, state) is None}
    if lost:
        lost.add(NONE_OF_THESE)
    fix: list[float] = []
    opening: list[int] = []
    for cause in causes:
        if cause.cause_id in lost:
            fix.append(AT_ONCE)
            opening.append(handover)
        else:
            fix.append(_fix_minutes(cause, state))
            opening.append(NO_OPENING if cause.opening is None else openings.index(cause.opening))
    minutes = [model.openings[one] for one in openings]
    minutes.append(model.cause(NONE_OF_THESE).cures[0].minutes)
    done, moves = _moves(model, state, tuple(cause.cause_id for cause in causes))
    return Game(
        causes=tuple(cause.cause_id for cause in causes),
        fix=tuple(fix),
        opening=tuple(opening),
        behind=tuple(
            tuple(place for place, one in enumerate(opening) if one == number)
            for number in range(len(minutes))
        ),
        open_minutes=tuple(minutes),
        moves=moves,
        playable=tuple(_can_be_done(one, model, state) for one in model.tests),
        start=Position(
            weights=tuple(odds[cause.cause_id] for cause in causes),
            done=done,
            open=sum(1 << openings.index(one) for one in state.open if one in openings),
            out=0,
        ),
        layouts={},
    )


def _fix_minutes(cause: Cause, state: FaultState) -> float:
    cure = cause.cures[next_cure(cause, state) or 0]
    if state.worth is None or cure.cost is CostClass.NONE:
        return cure.minutes
    return cure.minutes + state.worth.minutes(cure.cost)


def _can_be_done(test: FaultTest, model: FaultModel, state: FaultState) -> bool:
    """Whether nothing but the order of tests stands against it."""
    if test.reading_id in state.cannot | state.unclear or state.unclear.intersection(
        test.void_after
    ):
        return False
    if any(state.facts.get(one.fact) == one.value for one in test.off):
        return False
    rivals = [one for one in model.questions if one.group is not None and one.group == test.group]
    return not any(
        one.rank >= test.rank and state.outcome(one.reading_id) not in (None, BLANK)
        for one in rivals
    )


def _moves(
    model: FaultModel, state: FaultState, causes: tuple[CauseId, ...]
) -> tuple[tuple[int, ...], tuple[Move, ...]]:
    places = {one.reading_id: place for place, one in enumerate(model.tests)}
    done: list[int] = []
    for test in model.tests:
        outcome = state.outcome(test.reading_id)
        done.append(0 if outcome in (None, BLANK) else 1 + test.place(outcome))
    moves = tuple(_move(model, state, causes, number, places) for number in range(len(model.tests)))
    return tuple(done), moves


def _move(
    model: FaultModel,
    state: FaultState,
    causes: tuple[CauseId, ...],
    number: int,
    places: dict[ReadingId, int],
) -> Move:
    test = model.tests[number]

    def pairs(seen: tuple[Seen, ...]) -> tuple[tuple[int, int], ...]:
        return tuple(
            (places[one.reading], 1 + model.reading(one.reading).place(one.outcome))
            for one in seen
            if one.reading in places
        )

    ending: dict[str, float] = dict.fromkeys(test.ends, 0.0)
    ending |= {one.outcome: one.minutes for one in test.leads}
    openings = list(model.openings)
    longer = [one for one in test.longer if state.facts.get(one.fact) == one.value]
    return Move(
        number=number,
        reading=test.reading_id,
        minutes=test.minutes + sum(one.minutes for one in longer),
        opening=NO_OPENING if test.opening is None else openings.index(test.opening),
        shuts=test.shuts,
        is_gate=test.is_gate,
        rows=tuple(
            tuple(test.rows[cause][place] for cause in causes)
            for place in range(len(test.outcomes))
        ),
        ending=tuple(ending.get(one.outcome_id) for one in test.outcomes),
        rivals=tuple(
            place
            for place, one in enumerate(model.tests)
            if place != number and one.group is not None and one.group == test.group
        ),
        after=tuple(places[one] for one in test.after if one in places),
        only_if=pairs(test.only_if),
        not_if=pairs(test.not_if),
        void=tuple(places[one] for one in test.void_after if one in places),
        undo=_undone(model, state, causes, test),
        can_end=bool(ending),
    )


def _undone(
    model: FaultModel, state: FaultState, causes: tuple[CauseId, ...], test: FaultTest
) -> Weights | None:
    """The row of the answered question that the test, once done, takes the place of."""
    best: tuple[int, Weights] | None = None
    for question in model.questions:
        outcome = state.outcome(question.reading_id)
        if question.group is None or question.group != test.group or outcome in (None, BLANK):
            continue
        if best is None or best[0] < question.rank:
            place = question.place(outcome)
            best = question.rank, tuple(question.rows[cause][place] for cause in causes)
    return None if best is None else best[1]


# -- repairing without another test -----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Block:
    """Causes looked at one after the other, the first closed opening with them."""

    ratio: float
    mass: float
    minutes: float
    saved: float
    causes: tuple[int, ...]


def blocks(game: Game, weights: Weights, is_open: int) -> list[Block]:
    """The best order of repairs: by odds over minutes, ties by the order of the causes' codes."""
    found: list[Block] = []
    for cause, opening in enumerate(game.opening):
        if weights[cause] > 0 and (opening < 0 or is_open >> opening & 1):
            found.append(_single(game, weights, cause))
    for opening, causes in enumerate(game.behind):
        if causes and not is_open >> opening & 1:
            found += _behind(game, weights, opening)
    found.sort(key=lambda one: (-one.ratio, game.causes[one.causes[0]]))
    return found


def blocks_worth_doing(game: Game, position: Position, handover: float) -> int:
    """How many blocks of the best order to do before handing over pays more; 0: hand over now.

    `handover`: what a workshop visit is worth, minutes. Every prefix is tried.
    """
    left = sum(position.weights)
    cost, best, chosen = 0.0, left * handover, 0
    order = blocks(game, position.weights, position.open)
    for number, one in enumerate(order, start=1):
        cost += left * one.minutes - one.saved
        left -= one.mass
        if cost + max(left, 0.0) * handover < best:
            best, chosen = cost + max(left, 0.0) * handover, number
    return chosen


def _single(game: Game, weights: Weights, cause: int) -> Block:
    weight, minutes = weights[cause], game.fix[cause]
    return Block(weight / minutes, weight, minutes, 0.0, (cause,))


def _behind(game: Game, weights: Weights, opening: int) -> Iterator[Block]:
    """The best prefix of what lies behind a closed opening as one block, the rest one by one."""
    order = sorted(
        (_single(game, weights, cause) for cause in game.behind[opening] if weights[cause] > 0),
        key=lambda one: (-one.ratio, game.causes[one.causes[0]]),
    )
    best = 0
    ratio = mass = saved = 0.0
    minutes = game.open_minutes[opening]
    kept = (0.0, 0.0, 0.0)
    for number, one in enumerate(order, start=1):
        saved += one.minutes * mass
        mass += one.mass
        minutes += one.minutes
        if mass / minutes > ratio:
            ratio, best, kept = mass / minutes, number, (mass, minutes, saved)
    if best:
        yield Block(ratio, *kept, tuple(one.causes[0] for one in order[:best]))
    yield from order[best:]


def layout(game: Game, is_open: int) -> Layout:
    """How the causes lie while these openings are open."""
    known = game.layouts.get(is_open)
    if known is not None:
        return known
    singles: list[tuple[int, float]] = []
    groups: list[tuple[float, tuple[tuple[int, float], ...]]] = []
    least = list(game.fix)
    for cause, opening in enumerate(game.opening):
        if opening < 0 or is_open >> opening & 1:
            singles.append((cause, game.fix[cause]))
    for opening, causes in enumerate(game.behind):
        if is_open >> opening & 1:
            continue
        minutes = game.open_minutes[opening]
        for cause in causes:
            least[cause] += minutes
        if len(causes) == 1:
            singles.append((causes[0], least[causes[0]]))
        elif causes:
            groups.append((minutes, tuple((cause, game.fix[cause]) for cause in causes)))
    made = Layout(tuple(singles), tuple(groups), tuple(least))
    game.layouts[is_open] = made
    return made


def repair_cost(game: Game, weights: Weights, is_open: int) -> float:
    """Expected minutes of repairing in the best order, times the sum of the weights."""
    lies = layout(game, is_open)
    order = [
        (-weights[cause] / minutes, weights[cause], minutes, 0.0) for cause, minutes in lies.singles
    ]
    for minutes, causes in lies.groups:
        _add_group(weights, minutes, causes, order)
    order.sort()
    left = sum(weights)
    cost = 0.0
    for _, mass, minutes, saved in order:
        cost += left * minutes - saved
        left -= mass
    return cost


def _add_group(
    weights: Weights,
    opening: float,
    causes: tuple[tuple[int, float], ...],
    found: list[tuple[float, float, float, float]],
) -> None:
    """What `_behind` gives, without the causes' names, for the inner loop."""
    order = [(-weights[one] / fix, weights[one], fix, 0.0) for one, fix in causes]
    order.sort()
    best = 0
    mass = saved = 0.0
    minutes = opening
    kept = (0.0, 0.0, 0.0, 0.0)
    for number, (_, weight, own, _) in enumerate(order, start=1):
        saved += own * mass
        mass += weight
        minutes += own
        if -mass / minutes < kept[0]:
            kept, best = (-mass / minutes, mass, minutes, saved), number
    if best:
        found.append(kept)
    found += order[best:]


def least_cost(game: Game, weights: Weights, is_open: int) -> float:
    """What no order of repairs can be cheaper than: each cause cured as if it were known."""
    return sum(map(mul, weights, layout(game, is_open).least))


# -- moves ------------------------------------------------------------------------------------


def is_offered(game: Game, position: Position, move: Move) -> bool:
    """Whether a test may be done now."""
    return _is_free(game, position, move) and (
        not move.after or any(position.done[one] for one in move.after)
    )


def _is_free(game: Game, position: Position, move: Move) -> bool:
    """Whether a test may be done, were it not for what has to be done before."""
    done = position.done
    if done[move.number] or not game.playable[move.number]:
        return False
    if any(done[one] for one in move.rivals) or any(done[one] for one in move.void):
        return False
    if move.only_if and not any(done[one] == end for one, end in move.only_if):
        return False
    return not any(done[one] == end for one, end in move.not_if)


def unlocked(game: Game, position: Position, move: Move) -> tuple[Move, ...]:
    """Tests that wait for nothing but this one to be done."""
    return tuple(
        one
        for one in game.moves
        if move.number in one.after
        and not any(position.done[other] for other in one.after)
        and _is_free(game, position, one)
    )


def move_minutes(game: Game, position: Position, move: Move) -> float:
    """Minutes of a test, with its opening where that is closed."""
    if move.opening < 0 or position.open >> move.opening & 1:
        return move.minutes
    return move.minutes + game.open_minutes[move.opening]


def open_after(position: Position, move: Move) -> int:
    """The openings that are open after a test."""
    if move.shuts:
        return 0
    return position.open if move.opening < 0 else position.open | 1 << move.opening


def least_after(game: Game, position: Position, move: Move) -> float:
    """What a test and all that follows cannot be cheaper than."""
    cost = move_minutes(game, position, move) * sum(position.weights)
    rest = least_cost(game, position.weights, open_after(position, move))
    if not move.can_end:
        return cost + rest
    least = layout(game, open_after(position, move)).least
    ended = [row for row, end in zip(move.rows, move.ending, strict=True) if end is not None]
    for row in ended:
        rest -= sum(map(mul, map(mul, position.weights, row), least))
    return cost + rest


@dataclass(frozen=True, slots=True)
class End:
    """An outcome: its place, its share of the weights, and where the search stands then.

    `ending`: minutes still to pay when it is over, or None. `scale`: what a cost of the position
    is multiplied by; other than 1 only where a test takes the place of a question.
    """

    place: int
    mass: float
    position: Position
    ending: float | None
    scale: float


def ends(position: Position, move: Move) -> list[End]:
    """All outcomes of a test that can be."""
    weights = position.weights
    is_open = open_after(position, move)
    bare = weights
    if move.undo is not None:
        bare = tuple(one / row for one, row in zip(weights, move.undo, strict=True))
    head, tail = position.done[: move.number], position.done[move.number + 1 :]
    found: list[End] = []
    for place, row in enumerate(move.rows):
        after = tuple(map(mul, bare, row))
        mass = new = sum(after)
        if bare is not weights:
            mass = sum(map(mul, weights, row))
        if new <= 0:
            continue
        stands = Position(after, (*head, place + 1, *tail), is_open, position.out)
        found.append(End(place, mass, stands, move.ending[place], mass / new))
    return found


def without_cause(game: Game, position: Position, cause: int) -> Position:
    """Where the search stands after a sure cure of a cause cured nothing; its opening is open."""
    opening = game.opening[cause]
    is_open = position.open | (1 << opening if opening >= 0 else 0)
    weights = (*position.weights[:cause], 0.0, *position.weights[cause + 1 :])
    return Position(weights, position.done, is_open, position.out | 1 << cause)


def cure_minutes(game: Game, position: Position, cause: int) -> float:
    """Minutes of a cure, with its opening where that is closed."""
    opening = game.opening[cause]
    if opening < 0 or position.open >> opening & 1:
        return game.fix[cause]
    return game.fix[cause] + game.open_minutes[opening]
