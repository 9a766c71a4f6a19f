"""The fault models: what may be wrong, by what it does, read from the files beside and checked.

`load_fault_models` reads the shipped files once; `parse_fault_models` takes texts, for tests.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from resources.fault_rows import (
    Vocabulary,
    read_cause,
    read_question,
    read_shift,
    read_test,
    refuse_unknown_order,
)
from resources.fault_sense import refuse_what_tells_nothing
from resources.loader import HERE
from resources.reading import CatalogueError, Table, read_toml
from resources.tables import read_source_book
from schedules.facts import FigureMark
from schedules.fault_facts import (
    BeforeId,
    Entry,
    FactId,
    FaultModel,
    FaultModels,
    MachineFact,
    OpeningId,
    OutcomeId,
    ReadingId,
    Seen,
    SymptomId,
)

__all__ = [
    "SOURCES",
    "load_fault_models",
    "parse_fault_models",
    "read_fault_texts",
    "read_model",
    "refuse_unknown_goals",
]

SHARED = "faults/shared.toml"
OF_OPENINGS = ("before_undoing", "putting_back")
SOURCES = ("sources.toml", "faults/sources.toml")
NOT_A_MODEL = (SHARED, *SOURCES, "cautions.toml")
SYMPTOM = re.compile(r"S[0-9]+[A-Za-z]?")
# What every file says once for all its figures.
FIGURES = ("odds", "likelihoods", "minutes", "works", "shifts", "handover")


@lru_cache(maxsize=1)
def load_fault_models() -> FaultModels:
    """The shipped models, read once. Raises CatalogueError: file, key, what is wrong."""
    return parse_fault_models(read_fault_texts())


def read_fault_texts() -> dict[str, str]:
    """The shipped files by name, as `parse_fault_models` wants them."""
    paths = [HERE / name for name in NOT_A_MODEL]
    paths += sorted(path for path in HERE.glob("faults/*.toml") if path not in paths)
    return {path.relative_to(HERE).as_posix(): path.read_text("utf-8") for path in paths}


def parse_fault_models(texts: Mapping[str, str]) -> FaultModels:
    """Models from texts by file name. Raises CatalogueError: file, key, what is wrong."""
    raw = {name: read_toml(name, text) for name, text in texts.items()}
    for name in NOT_A_MODEL:
        if name not in raw:
            raise CatalogueError(name, "", "is not there")
    theirs, ours = (read_source_book(Table(name, "", raw[name], {})) for name in SOURCES)
    for source in ours.statuses:
        if source in theirs.statuses:
            raise CatalogueError(SOURCES[1], source, f"stands in {SOURCES[0]} already")
    statuses = {**theirs.statuses, **ours.statuses}
    tables = {
        name: Table(name, "", data, statuses)
        for name, data in raw.items()
        if name not in NOT_A_MODEL
    }
    shared = Table(SHARED, "", raw[SHARED], statuses)
    openings, before, facts, undoing, back = _read_shared(shared)
    words = Vocabulary(
        cautions=frozenset(raw["cautions.toml"]),
        openings=frozenset(openings),
        before=frozenset(before),
        facts={code: frozenset(value for value, _ in one.values) for code, one in facts.items()},
    )
    models: dict[SymptomId, FaultModel] = {}
    waiting: list[tuple[Table, Entry]] = []
    for table in tables.values():
        if table.has("entry"):
            waiting += _read_entries(table)
            continue
        model = read_model(table, words)
        if model.symptom_id in models:
            raise table.refuse("code", f"{model.symptom_id} stands in two files")
        models[model.symptom_id] = model
    for table in tables.values():
        refuse_unknown_goals(table, models)
    for table, entry in waiting:
        _check_entry(table, entry, models)
    return FaultModels(
        models=MappingProxyType(models),
        entries=tuple(entry for _, entry in waiting),
        facts=MappingProxyType(facts),
        openings=MappingProxyType(openings),
        before=MappingProxyType(before),
        before_undoing=MappingProxyType(undoing),
        putting_back=MappingProxyType(back),
        sources=ours.sources,
    )


def _read_shared(
    table: Table,
) -> tuple[
    dict[OpeningId, str],
    dict[BeforeId, str],
    dict[FactId, MachineFact],
    dict[OpeningId, str],
    dict[OpeningId, str],
]:
    openings = {OpeningId(code): text for code, text in _texts(table.table("openings"))}
    before = {BeforeId(code): text for code, text in _texts(table.table("before"))}
    undoing, back = (_of_openings(table, name, openings) for name in OF_OPENINGS)
    facts: dict[FactId, MachineFact] = {}
    for code, inner in table.table("facts").named_tables():
        values = tuple(_texts(inner.table("values")))
        assumed = inner.optional_text("assumed") or None
        others = inner.optional_text("other_kinds") or None
        by_kind = dict(_texts(inner.table("by_kind"))) if inner.has("by_kind") else {}
        for key, given in (("assumed", assumed), ("other_kinds", others), *by_kind.items()):
            if given is not None and given not in dict(values):
                raise inner.refuse(key, f"{given!r} is none of its values")
        facts[FactId(code)] = MachineFact(
            fact_id=FactId(code),
            question=inner.text("question"),
            values=values,
            assumed=assumed,
            feature=inner.optional_text("feature") or None,
            by_kind=MappingProxyType(by_kind),
            other_kinds=others,
        )
        inner.done()
    table.done()
    return openings, before, facts, undoing, back


def _of_openings(
    table: Table, name: str, openings: Mapping[OpeningId, str]
) -> dict[OpeningId, str]:
    """A text for every opening there is."""
    inner = table.table(name)
    found = {OpeningId(code): text for code, text in _texts(inner)}
    for code in openings:
        if code not in found:
            raise inner.refuse(code, "is missing")
    for code in found:
        if code not in openings:
            raise inner.refuse(code, "is no opening")
    return found


def _texts(table: Table) -> list[tuple[str, str]]:
    return [(name, table.text(name)) for name in table.data]


def read_model(table: Table, words: Vocabulary, codes: re.Pattern[str] = SYMPTOM) -> FaultModel:
    """A model of its file, checked. Raises CatalogueError: file, key, what is wrong."""
    code = SymptomId(table.word("code", codes))
    marks = _read_marks(table.table("marks"))
    openings = _read_openings(table, words)
    mine = words.within(frozenset(openings))
    causes = tuple(read_cause(inner, mine) for inner in table.tables("cause"))
    known = tuple(cause.cause_id for cause in causes)
    if len(set(known)) != len(known):
        raise table.refuse("cause", "a code stands twice")
    questions = tuple(read_question(inner, known) for inner in table.tables("question"))
    tests = tuple(read_test(inner, known, mine) for inner in table.tables("test"))
    asked = frozenset(one.reading_id for one in questions)
    model = FaultModel(
        symptom_id=code,
        title=table.text("title"),
        said=table.words("said"),
        fits=table.text("fits"),
        kinds=table.words("kinds"),
        handover_minutes=float(table.number("handover")),
        openings=MappingProxyType(openings),
        causes=causes,
        questions=questions,
        tests=tests,
        shifts=tuple(read_shift(inner, known, asked) for inner in table.tables("shift")),
        core=tuple(ReadingId(name) for name in table.words("core")),
        marks=marks,
    )
    table.done()
    refuse_unknown_order(table, model)
    refuse_what_tells_nothing(table, model)
    return model


def _read_marks(table: Table) -> tuple[FigureMark, ...]:
    marks: list[FigureMark] = []
    for figure in FIGURES:
        inner = table.table(figure)
        marks.append(inner.mark(figure))
        inner.done()
    table.done()
    return tuple(marks)


def _read_openings(table: Table, words: Vocabulary) -> dict[OpeningId, float]:
    if not table.has("openings"):
        return {}
    inner = table.table("openings")
    found: dict[OpeningId, float] = {}
    for name in inner.data:
        if name not in words.openings:
            raise inner.refuse(name, f"is no opening of {SHARED}")
        found[OpeningId(name)] = float(inner.number(name))
    return found


def _read_entries(table: Table) -> list[tuple[Table, Entry]]:
    code = SymptomId(table.word("code", SYMPTOM))
    title = table.text("title")
    said = table.words("said")
    found: list[tuple[Table, Entry]] = []
    for inner in table.tables("entry"):
        seen = tuple(
            Seen(reading=ReadingId(reading), outcome=OutcomeId(outcome))
            for reading, outcome in _texts(inner.table("seen"))
        )
        entry = Entry(
            symptom_id=code,
            title=title,
            said=said,
            fits=inner.text("fits"),
            leads_to=SymptomId(inner.text("symptom")),
            seen=seen,
        )
        inner.done()
        found.append((inner, entry))
    table.done()
    return found


def _check_entry(table: Table, entry: Entry, models: Mapping[SymptomId, FaultModel]) -> None:
    if entry.leads_to not in models:
        raise table.refuse("symptom", f"{entry.leads_to!r} is no symptom")
    for seen in entry.seen:
        try:
            models[entry.leads_to].reading(seen.reading).place(seen.outcome)
        except KeyError:
            raise table.refuse("seen", f"{entry.leads_to} has no {seen.reading!r}") from None
        except ValueError as error:
            raise table.refuse("seen", str(error)) from None


def refuse_unknown_goals(table: Table, models: Mapping[SymptomId, FaultModel]) -> None:
    """Raises CatalogueError when a cause of this file goes on with a symptom there is not."""
    model = models.get(SymptomId(str(table.data.get("code"))))
    for cause in () if model is None else model.causes:
        goal = cause.goes_on
        if goal is not None and not hasattr(goal, "name") and goal not in models:
            raise table.refuse(f"cause[{cause.cause_id}].goes_on", f"{goal!r} is no symptom")
