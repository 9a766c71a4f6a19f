"""What is known in one search for a fault: answers, cures tried, what is open, what is on record.

A state is never changed; each act gives the next one. The order of answers is kept, since some
readings are void once another was taken; the odds do not depend on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from schedules.fault_facts import (
    CauseId,
    CostClass,
    FactId,
    FaultModel,
    FaultTest,
    OpeningId,
    OutcomeId,
    ReadingId,
    Seen,
)

Record = float | str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """A cure that did not cure: the cause, and the place of the cure in its list."""

    cause: CauseId
    cure: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """What an hour and the parts are worth to the owner, cents; money then counts as minutes."""

    hour_cents: int
    cents: Mapping[CostClass, int]

    def minutes(self, cost: CostClass) -> float:
        """What a cost class is worth in minutes. Raises ValueError for an hour worth nothing."""
        if self.hour_cents <= 0:
            raise ValueError(f"an hour worth {self.hour_cents} cents")
        return self.cents.get(cost, 0) / self.hour_cents * 60


def _nothing() -> Mapping[str, Record]:
    return MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultState:
    """Everything a step is chosen by.

    `seen`: answers and outcomes, oldest first. `cannot`: tests the owner cannot do now. `unclear`:
    tests that were done, and nobody is sure what they showed. `facts`: what is known of machine
    and tools, BLANK where nobody can tell. `record`: what is on file, by the subjects of the
    shifts. `odds`: this household's own, in place of the model's. `handover_minutes`: the owner's
    figure. `looked_over`: the long first going-over was done, or is not wanted.
    """

    seen: tuple[Seen, ...] = ()
    tried: tuple[Tried, ...] = ()
    cannot: frozenset[ReadingId] = frozenset()
    unclear: frozenset[ReadingId] = frozenset()
    open: frozenset[OpeningId] = frozenset()
    facts: Mapping[FactId, str] = field(default_factory=lambda: MappingProxyType({}))
    record: Mapping[str, Record] = field(default_factory=_nothing)
    odds: Mapping[CauseId, float] | None = None
    handover_minutes: float | None = None
    worth: Worth | None = None
    looked_over: bool = False

    def outcome(self, reading: ReadingId) -> OutcomeId | None:
        """What was seen, or None."""
        for one in self.seen:
            if one.reading == reading:
                return one.outcome
        return None

    def cures_tried(self, cause: CauseId) -> frozenset[int]:
        """The places of the cures of a cause that did not cure."""
        return frozenset(one.cure for one in self.tried if one.cause == cause)


def noticed(
    model: FaultModel, state: FaultState, reading: ReadingId, outcome: OutcomeId
) -> FaultState:
    """An answer given for nothing: a question, or what was seen before the search began.

    A second answer takes the place of the first. Raises KeyError for an unknown reading and
    ValueError for an unknown outcome.
    """
    model.reading(reading).place(outcome)
    others = tuple(one for one in state.seen if one.reading != reading)
    return replace(state, seen=(*others, Seen(reading=reading, outcome=outcome)))


def after_test(
    model: FaultModel, state: FaultState, reading: ReadingId, outcome: OutcomeId
) -> FaultState:
    """The outcome of a test just done: what it opened stays open, unless it shut everything.

    Raises KeyError for an unknown reading and ValueError for an unknown outcome.
    """
    after = noticed(model, state, reading, outcome)
    return replace(after, open=_open_after(model.reading(reading), state.open))


def unclear(model: FaultModel, state: FaultState, reading: ReadingId) -> FaultState:
    """A test was done, and nobody is sure what it showed: it says nothing and is not asked for
    again, but what it opened is open, and what is void after it is void.

    Raises KeyError for an unknown reading.
    """
    found = model.reading(reading)
    seen = tuple(one for one in state.seen if one.reading != reading)
    return replace(
        state,
        seen=seen,
        unclear=state.unclear | {reading},
        open=_open_after(found, state.open),
    )


def _open_after(reading: object, before: frozenset[OpeningId]) -> frozenset[OpeningId]:
    if not isinstance(reading, FaultTest):
        return before
    if reading.shuts:
        return frozenset()
    return before if reading.opening is None else before | {reading.opening}


def taken_back(state: FaultState, reading: ReadingId) -> FaultState:
    """The same without an answer. What is open is not shut by that."""
    return replace(state, seen=tuple(one for one in state.seen if one.reading != reading))


def cure_failed(model: FaultModel, state: FaultState, cause: CauseId, cure: int = 0) -> FaultState:
    """A cure was done and the fault is still there; its opening is open still.

    Raises KeyError for an unknown cause and ValueError for a cure it has not.
    """
    known = model.cause(cause)
    if not 0 <= cure < len(known.cures):
        raise ValueError(f"{cause} has no cure number {cure}")
    tried = Tried(cause=cause, cure=cure)
    if tried in state.tried:
        return state
    is_open = state.open if known.opening is None else state.open | {known.opening}
    return replace(state, tried=(*state.tried, tried), open=is_open)


def cure_ticked(model: FaultModel, state: FaultState, cause: CauseId, cure: int = 0) -> FaultState:
    """A cure that was tried before the search began; nothing is open from it.

    Raises KeyError for an unknown cause and ValueError for a cure it has not.
    """
    return replace(cure_failed(model, state, cause, cure), open=state.open)


def told(state: FaultState, fact: FactId, value: str) -> FaultState:
    """A fact of the machine or of the tools, for good."""
    return replace(state, facts=MappingProxyType({**state.facts, fact: value}))


def cannot_now(state: FaultState, reading: ReadingId) -> FaultState:
    """A test that cannot be done now is not offered again."""
    return replace(state, cannot=state.cannot | {reading})


def shut(state: FaultState) -> FaultState:
    """Everything was closed: each opening costs its minutes again."""
    return replace(state, open=frozenset())
