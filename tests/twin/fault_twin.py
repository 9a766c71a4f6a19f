"""A plain second reckoning of fault finding: every order is tried, nothing is clever.

Small models are made here as well, by hand or by chance.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import permutations
from random import Random
from types import MappingProxyType
from typing import TypeVar

from schedules.fault_facts import (
    NONE_OF_THESE,
    Cause,
    CauseId,
    CostClass,
    Cure,
    FaultModel,
    FaultTest,
    OpeningId,
    Outcome,
    OutcomeId,
    Question,
    ReadingId,
    SymptomId,
)

Row = tuple[float, ...]
AnyReading = TypeVar("AnyReading", Question, FaultTest)


# -- making small models ----------------------------------------------------------------------


def a_cause(
    code: str, odds: float, minutes: float, opening: str | None = None, works: float = 0.9
) -> Cause:
    return Cause(
        cause_id=CauseId(code),
        name=code,
        odds=odds,
        opening=None if opening is None else OpeningId(opening),
        cures=(Cure(text="cure", works=works, minutes=minutes, cost=CostClass.NONE, days=0),),
        dropped=(),
        goes_on=None,
        marks=(),
    )


def outcomes(count: int) -> tuple[Outcome, ...]:
    return tuple(
        Outcome(outcome_id=OutcomeId("abcd"[place]), text="abcd"[place]) for place in range(count)
    )


def a_question(
    code: str, rows: Mapping[str, Row], group: str | None = None, rank: int = 0
) -> Question:
    width = len(next(iter(rows.values())))
    return Question(
        reading_id=ReadingId(code),
        name=code,
        group=group,
        rank=rank,
        outcomes=outcomes(width),
        rows={CauseId(cause): row for cause, row in rows.items()},
    )


def a_test(
    code: str,
    minutes: float,
    rows: Mapping[str, Row],
    *,
    opening: str | None = None,
    group: str | None = None,
    rank: int = 0,
    shuts: bool = False,
    is_gate: bool = False,
    after: tuple[str, ...] = (),
    void_after: tuple[str, ...] = (),
    ends: tuple[str, ...] = (),
) -> FaultTest:
    width = len(next(iter(rows.values())))
    return FaultTest(
        reading_id=ReadingId(code),
        name=code,
        group=group,
        rank=rank,
        outcomes=outcomes(width),
        rows={CauseId(cause): row for cause, row in rows.items()},
        minutes=minutes,
        opening=None if opening is None else OpeningId(opening),
        is_gate=is_gate,
        shuts=shuts,
        after=tuple(ReadingId(one) for one in after),
        only_if=(),
        not_if=(),
        void_after=tuple(ReadingId(one) for one in void_after),
        ends=tuple(OutcomeId(one) for one in ends),
        leads=(),
        off=(),
        longer=(),
        before=(),
        cautions=(),
        tools=(),
        steps="look",
        marks=(),
    )


def a_model(
    causes: tuple[Cause, ...],
    tests: tuple[FaultTest, ...] = (),
    questions: tuple[Question, ...] = (),
    openings: Mapping[str, float] | None = None,
    handover: float = 500,
) -> FaultModel:
    """A model; none of these is added with hardly any odds when it is not there."""
    if NONE_OF_THESE not in {one.cause_id for one in causes}:
        causes = (*causes, a_cause(NONE_OF_THESE, 1e-12, 1.0))
    return FaultModel(
        symptom_id=SymptomId("S99"),
        title="made up",
        said=(),
        fits="",
        kinds=(),
        handover_minutes=handover,
        openings=MappingProxyType({OpeningId(one): v for one, v in (openings or {}).items()}),
        causes=causes,
        questions=tuple(_filled(one, causes) for one in questions),
        tests=tuple(_filled(one, causes) for one in tests),
        shifts=(),
        core=(),
        marks=(),
    )


def _filled(reading: AnyReading, causes: tuple[Cause, ...]) -> AnyReading:
    """The reading with a flat row for every cause it does not name."""
    width = len(reading.outcomes)
    flat = {cause.cause_id: (1 / width,) * width for cause in causes}
    return replace(reading, rows={**flat, **reading.rows})


def random_row(chance: Random, width: int) -> Row:
    cuts = [chance.uniform(0.05, 1) for _ in range(width)]
    return tuple(one / sum(cuts) for one in cuts)


def random_model(chance: Random, most_causes: int = 6, most_tests: int = 3) -> FaultModel:
    """A small model by chance: some causes behind openings, some tests that shut or end."""
    openings = {"p": chance.uniform(1, 15), "q": chance.uniform(1, 15)}
    names = [f"C{number}" for number in range(chance.randint(2, most_causes))]
    causes = tuple(
        a_cause(
            name,
            chance.uniform(1, 20),
            chance.uniform(1, 60),
            chance.choice([None, None, "p", "q"]),
        )
        for name in names
    )
    tests: list[FaultTest] = []
    for number in range(chance.randint(1, most_tests)):
        width = chance.choice([2, 2, 3])
        tests.append(
            a_test(
                f"t{number}",
                chance.uniform(0.5, 10),
                {name: random_row(chance, width) for name in names},
                opening=chance.choice([None, None, "p", "q"]),
                shuts=chance.random() < 0.2,
                ends=("a",) if chance.random() < 0.2 else (),
            )
        )
    return a_model(causes, tuple(tests), openings=openings)


# -- the plain reckoning ----------------------------------------------------------------------


def odds_of(model: FaultModel, seen: Mapping[ReadingId, OutcomeId]) -> dict[str, float]:
    """Odds by Bayes' rule, all readings counted."""
    odds = {cause.cause_id: cause.odds for cause in model.causes}
    for reading, outcome in seen.items():
        one = model.reading(reading)
        place = one.place(outcome)
        odds = {cause: value * one.rows[cause][place] for cause, value in odds.items()}
    total = sum(odds.values())
    return {str(cause): value / total for cause, value in odds.items()}


def cost_of_order(
    model: FaultModel, odds: Mapping[str, float], order: tuple[str, ...], is_open: frozenset[str]
) -> float:
    """Minutes of looking at causes in this order, each opening paid when it is first needed."""
    left, cost, opened = sum(odds.values()), 0.0, set(is_open)
    for code in order:
        cause = model.cause(CauseId(code))
        minutes = cause.cures[0].minutes
        if cause.opening is not None and cause.opening not in opened:
            minutes += model.openings[cause.opening]
            opened.add(cause.opening)
        cost += left * minutes
        left -= odds[code]
    return cost


def least_order_cost(
    model: FaultModel, odds: Mapping[str, float], is_open: frozenset[str]
) -> float:
    codes = [code for code, value in odds.items() if value > 1e-9 * sum(odds.values())]
    return min(cost_of_order(model, odds, order, is_open) for order in permutations(codes))


def least_cost(
    model: FaultModel,
    odds: Mapping[str, float],
    done: frozenset[str],
    is_open: frozenset[str],
    *,
    between: bool,
) -> float:
    """The least cost of any order of tests and repairs, by trying all of them.

    `odds` need not sum to 1. `between`: sure cures may come between the tests.
    """
    weight = sum(odds.values())
    if weight <= 0:
        return 0.0
    best = least_order_cost(model, odds, is_open)
    for test in model.tests:
        if test.reading_id in done:
            continue
        cost = weight * test.minutes
        if test.opening is not None and test.opening not in is_open:
            cost += weight * model.openings[test.opening]
        opened = is_open if test.opening is None else is_open | {test.opening}
        after_open: frozenset[str] = frozenset() if test.shuts else frozenset(opened)
        for place, outcome in enumerate(test.outcomes):
            after = {code: value * test.rows[CauseId(code)][place] for code, value in odds.items()}
            if outcome.outcome_id not in test.ends:
                done_then = done | {test.reading_id}
                cost += least_cost(model, after, done_then, after_open, between=between)
        best = min(best, cost)
    if between and len(done) < len(model.tests):
        best = min([best, *_cures_first(model, odds, done, is_open)])
    return best


def _cures_first(
    model: FaultModel, odds: Mapping[str, float], done: frozenset[str], is_open: frozenset[str]
) -> list[float]:
    found: list[float] = []
    for code, value in odds.items():
        if value <= 0:
            continue
        cause = model.cause(CauseId(code))
        minutes = cause.cures[0].minutes
        opened = is_open
        if cause.opening is not None and cause.opening not in is_open:
            minutes += model.openings[cause.opening]
            opened = is_open | {cause.opening}
        rest = {**odds, code: 0.0}
        cost = sum(odds.values()) * minutes
        found.append(cost + least_cost(model, rest, done, opened, between=True))
    return found
