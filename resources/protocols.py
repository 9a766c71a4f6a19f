"""Protocols of trials before and after, read from `trials.toml` and checked.

`load_protocols` reads the shipped file once; `parse_protocols` takes texts, for tests.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import cast

from resources.loader import HERE, Catalogue, load_catalogue
from resources.reading import CatalogueError, Table, read_toml, whole_of
from resources.tables import read_source_book
from schedules.facts import CautionCode, FigureMark, KindCode
from schedules.units import Dimension, Unit, UnitSystem, dimension_of, stored_unit

__all__ = ["Condition", "Protocol", "Protocols", "load_protocols", "parse_protocols"]

FILE = "trials.toml"
SOURCES = "sources.toml"
CODE = re.compile(r"[a-z]+(_[a-z]+)*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """Something that has to be alike before and after. `answers`: (value, what is shown).

    `must`: the value without which there is no verdict; `own`: the machine's own setting.
    """

    code: str
    question: str
    answers: tuple[tuple[str, str], ...]
    must: str = ""
    own: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Protocol:
    """What is measured and how. `unit` is the stored one; `most` the largest amount that makes
    sense, in it. `careful` and `rough`: how many a side. `grade`: an order, no amount.

    `exit_height_um`: how high what is thrown leaves the machine, None where nothing is thrown.
    """

    code: str
    name: str
    measured: str
    kinds: tuple[KindCode, ...]
    unit: Unit
    metric: Unit
    american: Unit
    more_is_better: bool
    careful: int
    rough: int
    most: int
    grade: bool
    exit_height_um: int | None
    conditions: tuple[str, ...]
    kind_conditions: Mapping[KindCode, tuple[str, ...]]
    cautions: tuple[CautionCode, ...]
    before: tuple[str, ...]
    steps: tuple[str, ...]
    marks: tuple[FigureMark, ...]

    def conditions_for(self, kind: KindCode) -> tuple[str, ...]:
        """The conditions that are asked for on a machine of a kind."""
        return self.kind_conditions.get(kind, self.conditions)

    def shown(self, system: UnitSystem) -> Unit:
        """The unit it is read in."""
        return self.american if system is UnitSystem.US else self.metric


@dataclass(frozen=True, slots=True, kw_only=True)
class Protocols:
    """All of them, and the conditions they name."""

    protocols: Mapping[str, Protocol]
    conditions: Mapping[str, Condition]

    def of_kind(self, kind: KindCode) -> tuple[Protocol, ...]:
        """Those a machine of that kind can be put to."""
        return tuple(one for one in self.protocols.values() if kind in one.kinds)


@lru_cache(maxsize=1)
def load_protocols() -> Protocols:
    """The shipped protocols, read once. Raises CatalogueError: file, key, what is wrong."""
    texts = {name: (HERE / name).read_text("utf-8") for name in (FILE, SOURCES)}
    return parse_protocols(texts, load_catalogue())


def parse_protocols(texts: Mapping[str, str], catalogue: Catalogue) -> Protocols:
    """Protocols from texts by file name. Raises CatalogueError: file, key, what is wrong."""
    book = read_source_book(Table(SOURCES, "", read_toml(SOURCES, texts[SOURCES]), {}))
    table = Table(FILE, "", read_toml(FILE, texts[FILE]), book.statuses)
    conditions: dict[str, Condition] = {}
    for code, inner in table.table("conditions").named_tables():
        conditions[code] = _condition(code, inner)
    found: dict[str, Protocol] = {}
    for inner in table.tables("protocol"):
        protocol = _protocol(inner, conditions, catalogue)
        if protocol.code in found:
            raise inner.refuse("code", f"{protocol.code} stands twice")
        found[protocol.code] = protocol
    table.done()
    named = {
        code for one in found.values() for kind in one.kinds for code in one.conditions_for(kind)
    }
    for code in conditions:
        if code not in named:
            raise CatalogueError(FILE, f"conditions.{code}", "no protocol asks for it")
    return Protocols(protocols=MappingProxyType(found), conditions=MappingProxyType(conditions))


def _condition(code: str, table: Table) -> Condition:
    answers: list[tuple[str, str]] = []
    for pair in table.list_of("answers"):
        two = cast("list[object]", pair) if isinstance(pair, list) else []
        if len(two) != 2 or not all(isinstance(text, str) and text for text in two):
            raise table.refuse("answers", "has to be pairs of a code and what is shown")
        answers.append((str(two[0]), str(two[1])))
    values = [value for value, _ in answers]
    if len(values) < 2 or len(set(values)) < len(values):
        raise table.refuse("answers", "needs two that differ")
    must = table.optional_text("must")
    if must and must not in values:
        raise table.refuse("must", f"{must!r} is none of the answers")
    found = Condition(
        code=code,
        question=table.text("question"),
        answers=tuple(answers),
        must=must,
        own=table.flag("own"),
    )
    table.done()
    return found


def _protocol(table: Table, conditions: Mapping[str, Condition], catalogue: Catalogue) -> Protocol:
    marks: list[FigureMark] = []

    def figure(name: str) -> int:
        found = table.figure(name, name)
        marks.append(found.mark)
        return whole_of(table, name, found.amount)

    unit = table.member("unit", Unit)
    if stored_unit(dimension_of(unit)) is not unit:
        raise table.refuse("unit", f"{unit} is not a unit that is stored")
    metric, american = _shown(table, unit)
    careful, rough = figure("careful"), figure("rough")
    if rough > careful:
        raise table.refuse("rough", "is more than the careful number")
    found = Protocol(
        code=table.word("code", CODE),
        name=table.text("name"),
        measured=table.text("measured"),
        kinds=tuple(KindCode(code) for code in table.words("kinds")),
        unit=unit,
        metric=metric,
        american=american,
        more_is_better=table.flag("more_is_better"),
        careful=careful,
        rough=rough,
        most=figure("most"),
        grade=table.flag("grade"),
        exit_height_um=figure("exit_height") if table.has("exit_height") else None,
        conditions=table.words("conditions"),
        kind_conditions=_by_kind(table),
        cautions=tuple(CautionCode(code) for code in table.words("cautions")),
        before=table.words("before"),
        steps=table.words("steps"),
        marks=tuple(marks),
    )
    table.done()
    _check(table, found, conditions, catalogue)
    return found


def _shown(table: Table, unit: Unit) -> tuple[Unit, Unit]:
    if not table.has("shown"):
        return unit, unit
    words = [str(word) for word in table.list_of("shown")]
    try:
        metric, american = (Unit(word) for word in words)
    except ValueError:
        raise table.refuse("shown", "has to be two units") from None
    for one in (metric, american):
        if dimension_of(one) is not dimension_of(unit):
            raise table.refuse("shown", f"{one} does not measure what {unit} does")
    return metric, american


def _by_kind(table: Table) -> Mapping[KindCode, tuple[str, ...]]:
    if not table.has("kind_conditions"):
        return MappingProxyType({})
    inner = table.table("kind_conditions")
    found = {KindCode(name): inner.words(name) for name in inner.data}
    return MappingProxyType(found)


def _check(
    table: Table,
    found: Protocol,
    conditions: Mapping[str, Condition],
    catalogue: Catalogue,
) -> None:
    for name in ("kinds", "cautions", "before", "steps", "conditions"):
        if not getattr(found, name):
            raise table.refuse(name, "is empty")
    for kind in (*found.kinds, *found.kind_conditions):
        if kind not in catalogue.kinds:
            raise table.refuse("kinds", f"{kind} is no machine kind")
        for code in found.conditions_for(kind):
            if code not in conditions:
                raise table.refuse("conditions", f"{code} is no condition")
    for code in found.cautions:
        if code not in catalogue.cautions:
            raise table.refuse("cautions", f"{code} is no caution")
    if found.grade and dimension_of(found.unit) is not Dimension.COUNT:
        raise table.refuse("grade", "a grade is counted")
