"""The rows of a fault model's file: causes with their cures, questions, tests, shifts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType

from resources.reading import Table
from schedules.facts import CautionCode, FigureMark
from schedules.fault_facts import (
    NONE_OF_THESE,
    BeforeId,
    Cause,
    CauseId,
    CostClass,
    Cure,
    Ending,
    FactAdds,
    FactId,
    FactIs,
    FaultModel,
    FaultTest,
    Lead,
    OpeningId,
    Outcome,
    OutcomeId,
    Question,
    ReadingId,
    Seen,
    Shift,
    SymptomId,
)

CAUSE = re.compile(r"[A-Z]+[0-9]*[a-z]?")
QUESTION = re.compile(r"Q-[A-Z]+")
TEST = re.compile(r"[a-z]+[0-9]?")
ANSWER = re.compile(r"[a-z]+")
REST = "rest"
ALL = Fraction(1)
LEAST, MOST = Fraction(5, 1000), Fraction(995, 1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Vocabulary:
    """The codes that a model may use."""

    cautions: frozenset[str]
    openings: frozenset[str]
    before: frozenset[str]
    facts: Mapping[str, frozenset[str]]

    def within(self, openings: frozenset[str]) -> Vocabulary:
        """The same with the openings of one model only."""
        return replace(self, openings=openings)


# -- causes and cures -------------------------------------------------------------------------


def read_cause(table: Table, words: Vocabulary) -> Cause:
    """A cause. Raises CatalogueError."""
    code = CauseId(table.word("code", CAUSE))
    cause = Cause(
        cause_id=code,
        name=table.text("name"),
        odds=float(table.number("odds")),
        opening=_read_opening(table, words),
        cures=tuple(_read_cure(inner) for inner in table.tables("cures")),
        dropped=_read_facts(table, "dropped", words),
        goes_on=_read_goal(table),
        marks=(_read_basis(table, "cause"),),
    )
    table.done()
    if not cause.cures:
        raise table.refuse("cures", "a cause has at least one cure")
    return cause


def _read_basis(table: Table, figure: str) -> FigureMark:
    basis = table.table("basis")
    mark = basis.mark(figure)
    basis.done()
    return mark


def _read_goal(table: Table) -> SymptomId | Ending | None:
    goal = table.optional_text("goes_on")
    if not goal:
        return None
    return Ending(goal) if goal in set(Ending) else SymptomId(goal)


def _read_opening(table: Table, words: Vocabulary) -> OpeningId | None:
    opening = table.optional_text("opening")
    if opening and opening not in words.openings:
        raise table.refuse("opening", f"{opening!r} is no opening of this model")
    return OpeningId(opening) if opening else None


def _read_cure(table: Table) -> Cure:
    works = table.number("works")
    if not LEAST <= works <= MOST:
        raise table.refuse("works", "has to lie between 0.005 and 0.995")
    cure = Cure(
        text=table.text("text"),
        works=float(works),
        minutes=float(table.number("minutes")),
        cost=table.member("cost", CostClass),
        days=table.whole("days") if table.has("days") else 0,
        new_fuel=table.flag("new_fuel"),
    )
    table.done()
    return cure


def _read_facts(table: Table, name: str, words: Vocabulary) -> tuple[FactIs, ...]:
    found: list[FactIs] = []
    for inner in table.tables(name):
        found.append(FactIs(fact=_fact(inner, words), value=inner.text("is")))
        inner.done()
    return tuple(found)


def _fact(table: Table, words: Vocabulary) -> FactId:
    fact = table.text("fact")
    if fact not in words.facts:
        raise table.refuse("fact", f"{fact!r} is no known fact")
    if table.text("is") not in words.facts[fact]:
        raise table.refuse("is", f"{table.text('is')!r} is no value of {fact}")
    return FactId(fact)


# -- questions and tests ----------------------------------------------------------------------


def read_question(table: Table, causes: tuple[CauseId, ...]) -> Question:
    """A free question. Raises CatalogueError."""
    outcomes = _read_outcomes(table)
    question = Question(
        reading_id=ReadingId(table.word("code", QUESTION)),
        name=table.text("name"),
        group=table.optional_text("group") or None,
        rank=table.whole("rank") if table.has("rank") else 0,
        outcomes=outcomes,
        rows=_read_rows(table, causes, len(outcomes), plain_rest=False),
    )
    table.done()
    return question


def _read_outcomes(table: Table) -> tuple[Outcome, ...]:
    found: list[Outcome] = []
    for inner in table.tables("outcomes"):
        code = OutcomeId(inner.word("code", ANSWER))
        if any(code == one.outcome_id for one in found):
            raise inner.refuse("code", f"{code!r} stands twice")
        found.append(Outcome(outcome_id=code, text=inner.text("text")))
        inner.done()
    if len(found) < 2:
        raise table.refuse("outcomes", "there have to be two at least")
    return tuple(found)


def _read_rows(
    table: Table, causes: tuple[CauseId, ...], width: int, *, plain_rest: bool
) -> Mapping[CauseId, tuple[float, ...]]:
    """For every cause its row. `plain_rest`: none of these takes the row of the rest; else it is
    flat, so that answers that contradict each other end there."""
    inner = table.table("rows")
    given = {name: _read_row(inner, name, width) for name in inner.data}
    if REST not in given:
        raise inner.refuse(REST, "is missing")
    for name in given:
        if name not in {*causes, REST}:
            raise inner.refuse(name, "is no cause of this model")
    if NONE_OF_THESE in given:
        raise inner.refuse(NONE_OF_THESE, "takes no row of its own")
    rows = {cause: given.get(cause, given[REST]) for cause in causes}
    if not plain_rest:
        rows[NONE_OF_THESE] = (1 / width,) * width
    return MappingProxyType(rows)


def _read_row(table: Table, name: str, width: int) -> tuple[float, ...]:
    row = table.numbers(name)
    if len(row) != width:
        raise table.refuse(name, f"has {len(row)} numbers for {width} outcomes")
    if sum(row) != ALL:
        raise table.refuse(name, f"sums to {float(sum(row)):g}, not to 1")
    if not all(LEAST <= one <= MOST for one in row):
        raise table.refuse(name, "has a number that is not between 0.005 and 0.995")
    return tuple(float(one) for one in row)


def read_test(table: Table, causes: tuple[CauseId, ...], words: Vocabulary) -> FaultTest:
    """A test. Raises CatalogueError."""
    outcomes = _read_outcomes(table)
    leads = tuple(_read_lead(inner) for inner in table.tables("leads"))
    ends = tuple(OutcomeId(name) for name in table.words("ends"))
    test = FaultTest(
        reading_id=ReadingId(table.word("code", TEST)),
        name=table.text("name"),
        group=table.optional_text("group") or None,
        rank=table.whole("rank") if table.has("rank") else 0,
        outcomes=outcomes,
        rows=_read_rows(table, causes, len(outcomes), plain_rest=bool(ends or leads)),
        minutes=float(table.number("minutes")),
        opening=_read_opening(table, words),
        is_gate=table.flag("gate"),
        shuts=table.flag("shuts"),
        after=tuple(ReadingId(name) for name in table.words("after")),
        only_if=_read_seen(table, "only_if"),
        not_if=_read_seen(table, "not_if"),
        void_after=tuple(ReadingId(name) for name in table.words("void_after")),
        ends=ends,
        leads=leads,
        off=_read_facts(table, "off", words),
        longer=_read_longer(table, words),
        before=tuple(BeforeId(code) for code in table.words("before")),
        cautions=tuple(CautionCode(code) for code in table.words("cautions")),
        tools=table.words("tools"),
        steps=table.text("steps"),
        marks=(_read_basis(table, "test"),),
    )
    table.done()
    _refuse_unknown_codes(table, test, words)
    return test


def _read_lead(table: Table) -> Lead:
    lead = Lead(
        outcome=OutcomeId(table.text("outcome")),
        goes_on=table.member("goes_on", Ending),
        minutes=float(table.number("minutes")),
    )
    table.done()
    return lead


def _read_seen(table: Table, name: str) -> tuple[Seen, ...]:
    found: list[Seen] = []
    for inner in table.tables(name):
        reading = ReadingId(inner.text("test"))
        found += [
            Seen(reading=reading, outcome=OutcomeId(outcome)) for outcome in inner.words("is")
        ]
        inner.done()
    return tuple(found)


def _read_longer(table: Table, words: Vocabulary) -> tuple[FactAdds, ...]:
    found: list[FactAdds] = []
    for inner in table.tables("longer"):
        minutes = float(inner.number("minutes"))
        found.append(FactAdds(fact=_fact(inner, words), value=inner.text("is"), minutes=minutes))
        inner.done()
    return tuple(found)


def _refuse_unknown_codes(table: Table, test: FaultTest, words: Vocabulary) -> None:
    for code in test.cautions:
        if code not in words.cautions:
            raise table.refuse("cautions", f"{code!r} is not in cautions.toml")
    if not test.cautions:
        raise table.refuse("cautions", "no test is without a caution")
    for code in test.before:
        if code not in words.before:
            raise table.refuse("before", f"{code!r} is no known condition")
    known = {one.outcome_id for one in test.outcomes}
    for outcome in (*test.ends, *(lead.outcome for lead in test.leads)):
        if outcome not in known:
            raise table.refuse("ends", f"{outcome!r} is none of its outcomes")


def refuse_unknown_order(table: Table, model: FaultModel) -> None:
    """Raises CatalogueError when a test is ordered by readings or outcomes that are not there."""
    readings = {one.reading_id: one for one in (*model.questions, *model.tests)}
    if len(readings) != len(model.questions) + len(model.tests):
        raise table.refuse("test", "a code stands twice")
    for test in model.tests:
        key = f"test[{test.reading_id}]"
        for name in (*test.after, *test.void_after):
            if name not in readings:
                raise table.refuse(key, f"{name!r} is no reading of this model")
        for seen in (*test.only_if, *test.not_if):
            known = readings.get(seen.reading)
            if known is None or seen.outcome not in {one.outcome_id for one in known.outcomes}:
                raise table.refuse(key, f"there is no {seen.reading} = {seen.outcome}")
    for name in model.core:
        if name not in readings:
            raise table.refuse("core", f"{name!r} is no test of this model")


# -- shifts -----------------------------------------------------------------------------------


def read_shift(table: Table, causes: tuple[CauseId, ...], questions: frozenset[ReadingId]) -> Shift:
    """What is on record and multiplies odds. Raises CatalogueError."""
    asks = table.optional_text("asks_the_same")
    if asks and asks not in questions:
        raise table.refuse("asks_the_same", f"{asks!r} is no question of this model")
    times: dict[CauseId, float] = {}
    inner = table.table("times")
    for name in inner.data:
        if name not in causes:
            raise inner.refuse(name, "is no cause of this model")
        times[CauseId(name)] = float(inner.number(name))
    shift = Shift(
        subject=table.text("subject"),
        word=table.optional_text("is") or None,
        low=float(table.number("at_least", above_zero=False)) if table.has("at_least") else None,
        high=float(table.number("below")) if table.has("below") else None,
        times=MappingProxyType(times),
        asks_the_same=ReadingId(asks) if asks else None,
    )
    table.done()
    if (shift.word is None) == (shift.low is None and shift.high is None):
        raise table.refuse("is", "either a word, or numbers: at_least, below")
    return shift
