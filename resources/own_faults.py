"""Fault models that a household wrote itself, in a folder beside its file: `<name>-faults/*.toml`.

Read and checked like the shipped ones; their codes begin with H. A file that cannot be taken is
told and left out, the others stand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from stat import S_ISREG
from types import MappingProxyType
from typing import cast

from resources.fault_models import (
    SOURCES,
    load_fault_models,
    read_fault_texts,
    read_model,
    refuse_unknown_goals,
)
from resources.fault_rows import Vocabulary
from resources.loader import load_catalogue
from resources.reading import CatalogueError, SourceStatus, Table, read_toml
from resources.tables import read_source_book
from schedules.fault_facts import OWN, FaultModel, FaultModels, SymptomId

OWN_CODE = re.compile(rf"{OWN}[0-9]{{1,4}}[a-z]?")
# Bounds of what a file may hold; the figures are our judgement.
MOST_FILES, MOST_BYTES = 100, 200_000
MOST_CAUSES, MOST_READINGS, MOST_CURES = 40, 40, 10
LONGEST_CODE, LONGEST_NAME, LONGEST_TEXT = 24, 120, 1000
MOST_MINUTES, MOST_DAYS = 10_000, 1000
_LONG = ("steps", "text", "fits")


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFaults:
    """All models, the household's own after ours, and what could not be taken."""

    models: FaultModels
    problems: tuple[CatalogueError, ...] = ()


def own_folder(household: Path) -> Path:
    """The folder beside a household's file that holds its own fault models."""
    return household.with_name(f"{household.stem}-faults")


def faults_beside(household: Path) -> OwnFaults:
    """The models for a household's file, its own with them. Files are read when they changed."""
    folder = own_folder(household)
    try:
        paths = sorted(folder.glob("*.toml"))
    except OSError as error:
        problem = CatalogueError(folder.name, "", f"cannot be read: {error.strerror}")
        return OwnFaults(models=load_fault_models(), problems=(problem,))
    return _read(tuple((path, _stamp(path)) for path in paths))


def _stamp(path: Path) -> tuple[int, int]:
    """When it was written, and its bytes; -1 for what is no file, like a pipe that would be waited
    at for ever, and for what is not there, like the goal of a link."""
    try:
        at = path.stat()
    except OSError:
        return 0, -1
    return at.st_mtime_ns, at.st_size if S_ISREG(at.st_mode) else -1


@lru_cache(maxsize=4)
def _read(found: tuple[tuple[Path, tuple[int, int]], ...]) -> OwnFaults:
    texts: dict[str, str] = {}
    problems: list[CatalogueError] = [
        CatalogueError(path.name, "", f"is left out: there are more than {MOST_FILES} files")
        for path, _ in found[MOST_FILES:]
    ]
    for path, (_, size) in found[:MOST_FILES]:
        try:
            texts[path.name] = _text_of(path, size)
        except OSError as error:
            problems.append(CatalogueError(path.name, "", f"cannot be read: {error.strerror}"))
        except UnicodeDecodeError:
            problems.append(CatalogueError(path.name, "", "is no UTF-8 text"))
        except CatalogueError as error:
            problems.append(error)
    own = parse_own_faults(texts)
    return OwnFaults(models=own.models, problems=(*problems, *own.problems))


def _text_of(path: Path, size: int) -> str:
    if size < 0:
        raise CatalogueError(path.name, "", "cannot be read: it is no file")
    if size > MOST_BYTES:
        raise CatalogueError(path.name, "", f"is longer than {MOST_BYTES} bytes")
    return path.read_text("utf-8")


def parse_own_faults(texts: Mapping[str, str]) -> OwnFaults:
    """Ours and these, from texts by file name; a text that cannot be taken is a problem."""
    ours = load_fault_models()
    if not texts:
        return OwnFaults(models=ours)
    words, statuses = _vocabulary(ours), _statuses()
    models, tables = dict(ours.models), dict[SymptomId, Table]()
    problems: list[CatalogueError] = []
    for name, text in texts.items():
        try:
            table = Table(name, "", read_toml(name, text), statuses)
            model = _checked(table, words)
            if model.symptom_id in models:
                raise table.refuse("code", f"{model.symptom_id} stands in two files")
        except CatalogueError as error:
            problems.append(error)
            continue
        models[model.symptom_id], tables[model.symptom_id] = model, table
    problems += _without_unknown_goals(tables, models)
    return OwnFaults(
        models=replace(ours, models=MappingProxyType(models)), problems=tuple(problems)
    )


def _without_unknown_goals(
    tables: Mapping[SymptomId, Table], models: dict[SymptomId, FaultModel]
) -> list[CatalogueError]:
    """Take out what goes on with nothing, until nothing does any more."""
    problems: list[CatalogueError] = []
    waiting = dict(tables)
    while True:
        before = len(problems)
        for code, table in tuple(waiting.items()):
            try:
                refuse_unknown_goals(table, models)
            except CatalogueError as error:
                problems.append(error)
                del models[code], waiting[code]
        if len(problems) == before:
            return problems


def _vocabulary(ours: FaultModels) -> Vocabulary:
    return Vocabulary(
        cautions=frozenset(str(code) for code in load_catalogue().cautions),
        openings=frozenset(str(code) for code in ours.openings),
        before=frozenset(str(code) for code in ours.before),
        facts={
            str(code): frozenset(value for value, _ in fact.values)
            for code, fact in ours.facts.items()
        },
    )


@lru_cache(maxsize=1)
def _statuses() -> Mapping[str, SourceStatus]:
    texts = read_fault_texts()
    books = (
        read_source_book(Table(name, "", read_toml(name, texts[name]), {})) for name in SOURCES
    )
    return {code: status for book in books for code, status in book.statuses.items()}


def _checked(table: Table, words: Vocabulary) -> FaultModel:
    """A model of the household's. Raises CatalogueError."""
    _refuse_strange_texts(table)
    code = table.data.get("code")
    if isinstance(code, str) and not OWN_CODE.fullmatch(code):
        raise table.refuse(
            "code", f"{code[:LONGEST_CODE]!r} is not {OWN} and a number, like {OWN}1"
        )
    model = read_model(table, words, OWN_CODE)
    kinds = load_catalogue().kinds
    if not model.kinds:
        raise table.refuse("kinds", "is missing: codes of machine types, like K01")
    for kind in model.kinds:
        if kind not in kinds:
            raise table.refuse("kinds", f"{kind!r} is no type of machine")
    if not model.tests:
        raise table.refuse("test", "there has to be one at least")
    _refuse_too_much(table, model)
    return model


def _refuse_too_much(table: Table, model: FaultModel) -> None:
    if len(model.causes) > MOST_CAUSES:
        raise table.refuse("cause", f"there are more than {MOST_CAUSES}")
    if len(model.questions) + len(model.tests) > MOST_READINGS:
        raise table.refuse("test", f"there are more than {MOST_READINGS} questions and tests")
    minutes = [model.handover_minutes, *model.openings.values()]
    minutes += [test.minutes for test in model.tests]
    minutes += [one.minutes for test in model.tests for one in (*test.longer, *test.leads)]
    for cause in model.causes:
        minutes += [cure.minutes for cure in cause.cures]
        key = f"cause[{cause.cause_id}].cures"
        if len(cause.cures) > MOST_CURES:
            raise table.refuse(key, f"there are more than {MOST_CURES}")
        if not all(0 <= cure.days <= MOST_DAYS for cure in cause.cures):
            raise table.refuse(key, f"days are from 0 to {MOST_DAYS}")
    if max(minutes) > MOST_MINUTES:
        raise table.refuse("minutes", f"there are more than {MOST_MINUTES} somewhere")


def _refuse_strange_texts(table: Table) -> None:
    """Texts are one line each and fit their places; so do codes and whole numbers."""
    for key, value in _walk("", table.data):
        name = key.rsplit(".", maxsplit=1)[-1]
        if isinstance(value, int) and abs(value) > MOST_MINUTES:
            raise table.refuse(key, "is a number out of all measure")
        if not isinstance(value, str):
            continue
        longest = LONGEST_TEXT if name in _LONG else LONGEST_NAME
        if name in ("code", "reading", "test") or not name:
            longest = LONGEST_CODE
        if len(value) > longest:
            raise table.refuse(key, f"is longer than {longest} letters")
        if not value.isprintable():
            raise table.refuse(key, "has to be one line of plain letters")


def _walk(key: str, value: object) -> Iterator[tuple[str, object]]:
    """Every value with its key, places in lists left out."""
    if isinstance(value, dict):
        for name, inner in cast("dict[str, object]", value).items():
            yield "", name
            yield from _walk(f"{key}.{name}" if key else name, inner)
    elif isinstance(value, list):
        for inner in cast("list[object]", value):
            yield from _walk(key, inner)
    else:
        yield key, value
