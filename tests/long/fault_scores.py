"""How soon the look ahead has its answer, in steps of work: orderings of the repairs, not time."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from random import Random

from resources.fault_models import load_fault_models
from schedules import fault_game, fault_rule, fault_search
from schedules.fault_facts import FaultModel, OutcomeId
from schedules.fault_game import Game, set_up
from schedules.fault_odds import posterior
from schedules.fault_search import Plan, deepen
from schedules.fault_state import FaultState, after_test, cure_failed
from schedules.faults import AdviceKind, begin, next_step

MODELS = load_fault_models()
POSITIONS = 300
MOST_STEPS = 6
# Orderings of the repairs that the first answer, and the better one, may take.
AT_ONCE, IN_TIME = 60, 5000
# How often they do, as counted so far; it may become more often, not less.
USUALLY, OFTEN = 0.9, 0.6
NEAR = 1.005


@dataclass(slots=True)
class Count:
    """Orderings of the repairs so far."""

    orderings: int = 0


@contextmanager
def counted() -> Iterator[Count]:
    """Count how often repairs are put in order."""
    count, plain = Count(), fault_game.repair_cost

    def ordering(game: Game, weights: tuple[float, ...], is_open: int) -> float:
        count.orderings += 1
        return plain(game, weights, is_open)

    users = (fault_rule, fault_search)
    for one in users:
        setattr(one, "repair_cost", ordering)  # noqa: B010  (not for reading)
    try:
        yield count
    finally:
        for one in users:
            setattr(one, "repair_cost", plain)  # noqa: B010


def positions(seed: int, count: int) -> Iterator[tuple[str, FaultModel, FaultState]]:
    """Searches that stand at a test or a cure, some steps in, answered by the chances."""
    chance = Random(seed)
    codes = sorted(MODELS.models)
    while count:
        model = MODELS.models[chance.choice(codes)]
        state = begin(MODELS, kind=model.kinds[0])
        for _ in range(chance.randint(0, MOST_STEPS)):
            after = _one_on(chance, model, state)
            if after is None:
                break
            state = after
        if next_step(model, state).kind in (AdviceKind.TEST, AdviceKind.CURE):
            yield str(model.symptom_id), model, state
            count -= 1


def _one_on(chance: Random, model: FaultModel, state: FaultState) -> FaultState | None:
    advice = next_step(model, state)
    if advice.kind is AdviceKind.CURE and advice.cause is not None:
        return cure_failed(model, state, advice.cause, advice.cure or 0)
    if advice.kind is not AdviceKind.TEST or advice.reading is None:
        return None
    odds = posterior(model, state)
    test = model.reading(advice.reading)
    shares = [
        sum(odds[cause] * row[place] for cause, row in test.rows.items())
        for place in range(len(test.outcomes))
    ]
    outcome = chance.choices(test.outcomes, shares)[0].outcome_id
    return after_test(model, state, advice.reading, OutcomeId(outcome))


def taken(model: FaultModel, state: FaultState) -> tuple[int, int, int]:
    """Orderings until the first answer; until the step that the whole search ends with stands for
    good, or one whose minutes are within 1 in 200 of it; in all."""
    first, found = 0, list[tuple[int, Plan]]()
    with counted() as count:
        game = set_up(model, state)
        for plan in deepen(game):
            first = first or count.orderings
            found.append((count.orderings, plan))
    last = found[-1][1]
    good = found[-1][0]
    for at, plan in reversed(found):
        if plan.step != last.step and plan.minutes > NEAR * last.minutes:
            break
        good = at
    return first, good, found[-1][0]


def run_scores(seed: int, count: int = POSITIONS) -> bool:
    """True when both answers come in time as often as they did when this was written."""
    rows = [taken(model, state) for _, model, state in positions(seed, count)]
    at_once = sum(first <= AT_ONCE for first, _, _ in rows)
    in_time = sum(good <= IN_TIME for _, good, _ in rows)
    by_rule = sum(good == first for first, good, _ in rows)
    over = sum(whole <= IN_TIME for _, _, whole in rows)
    print(f"faults: {count} positions, orderings of the repairs")
    print(f"  first answer: most {max(one[0] for one in rows)}, within {AT_ONCE}: {at_once}")
    print(f"  better answer: most {max(one[1] for one in rows)}, within {IN_TIME}: {in_time}")
    print(f"  the first answer stood to the end: {by_rule}")
    print(f"  search over: most {max(one[2] for one in rows)}, within {IN_TIME}: {over}")
    return at_once >= USUALLY * count and in_time >= OFTEN * count
