"""The next branches of a search, for an hour without the screen: each step with its number, each
outcome with where to go on. No window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from app.causes.picture import FAILED, HELPED
from schedules.fault_facts import FaultModel, FaultTest, OutcomeId
from schedules.fault_odds import posterior
from schedules.fault_state import FaultState, after_test, cure_failed
from schedules.faults import Advice, AdviceKind, next_step

# So many steps stand on one sheet; what is left is for the screen, with the sheet's number.
MOST_STEPS = 8
# Ways less likely than this are not printed.
SELDOM = 0.02
DONE = "done"


@dataclass(slots=True)
class Branch:
    """One numbered step. `goes`: for each outcome the number of the next step, DONE, or "" for
    back to the screen."""

    number: str
    state: FaultState
    advice: Advice
    chance: float
    goes: dict[str, str] = field(default_factory=dict[str, str])


@dataclass(frozen=True, slots=True)
class _Open:
    """An outcome that nothing was printed for yet."""

    chance: float
    parent: Branch
    outcome: str
    state: FaultState


def branches_of(
    model: FaultModel, state: FaultState, first: Advice, *, most: int = MOST_STEPS
) -> tuple[Branch, ...]:
    """The likeliest ways on, at most so many steps, in the order of their numbers.

    Each step holds for the answers before it and for no others, so that a way that parts never
    meets again: what is advised stays right on paper, too.
    """
    root = Branch("1", state, first, 1.0)
    found = [root]
    waiting = list(_outcomes(model, root))
    while waiting and len(found) < most:
        waiting.sort(key=lambda one: (-one.chance, one.parent.number, one.outcome))
        here = waiting.pop(0)
        if here.chance < SELDOM:
            break
        advice = next_step(model, here.state)
        if advice.kind is AdviceKind.WORKS:
            here.parent.goes[here.outcome] = DONE
            continue
        if advice.kind not in (AdviceKind.TEST, AdviceKind.CURE):
            continue
        branch = Branch(str(len(found) + 1), here.state, advice, here.chance)
        here.parent.goes[here.outcome] = branch.number
        found.append(branch)
        waiting += _outcomes(model, branch)
    return tuple(found)


def _outcomes(model: FaultModel, branch: Branch) -> Iterator[_Open]:
    advice, state = branch.advice, branch.state
    odds = posterior(model, state)
    if advice.kind is AdviceKind.TEST and advice.reading is not None:
        test = model.reading(advice.reading)
        for place, outcome in enumerate(test.outcomes):
            code = str(outcome.outcome_id)
            if isinstance(test, FaultTest) and outcome.outcome_id in test.ends:
                branch.goes[code] = DONE
                continue
            share = sum(odds[cause] * row[place] for cause, row in test.rows.items())
            after = after_test(model, state, advice.reading, OutcomeId(code))
            yield _Open(branch.chance * share, branch, code, after)
    elif advice.kind is AdviceKind.CURE and advice.cause is not None:
        cure = advice.cure or 0
        works = model.cause(advice.cause).cures[cure].works * odds[advice.cause]
        branch.goes[HELPED] = DONE
        after = cure_failed(model, state, advice.cause, cure)
        yield _Open(branch.chance * (1 - works), branch, FAILED, after)
