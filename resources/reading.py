"""Reading of the data files: typed access to a TOML table, and refusals that say where and what."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from typing import TypeVar, cast

from schedules.facts import FigureMark, Mark, SourceId

Code = TypeVar("Code", bound=StrEnum)
LARGEST, LONGEST_NUMBER, MOST_POWER = 1e15, 30, 15
WORD = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


class CatalogueError(ValueError):
    """Data that cannot be taken: the file, the key in it, and what is wrong."""

    def __init__(self, file: str, key: str, problem: str) -> None:
        super().__init__(f"{file}: {key}: {problem}" if key else f"{file}: {problem}")
        self.file = file
        self.key = key
        self.problem = problem


class SourceStatus(StrEnum):
    """How far a public document was seen."""

    READ = "read"
    SECONDARY = "secondary"
    UNSEEN = "unseen"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A number with its mark."""

    amount: Fraction
    mark: FigureMark


@dataclass(slots=True)
class Table:
    """One table of a file. Every key must be asked for; `done` refuses those nobody asked for."""

    file: str
    key: str
    data: Mapping[str, object]
    statuses: Mapping[str, SourceStatus]
    asked: set[str] = field(default_factory=set[str])

    def refuse(self, name: str, problem: str) -> CatalogueError:
        """The error for a key of this table, to be raised."""
        return CatalogueError(
            self.file, ".".join(part for part in (self.key, name) if part), problem
        )

    def done(self) -> None:
        """Raises CatalogueError when a key is there that nobody asked for."""
        for name in self.data:
            if name not in self.asked:
                raise self.refuse(name, "unknown key")

    def has(self, name: str) -> bool:
        return name in self.data

    def _value(self, name: str) -> object:
        self.asked.add(name)
        return self.data.get(name)

    def text(self, name: str) -> str:
        """A text that has to be there. Raises CatalogueError."""
        value = self._value(name)
        if value is None:
            raise self.refuse(name, "is missing")
        if not isinstance(value, str) or not value.strip() or value != value.strip():
            raise self.refuse(name, "has to be a text without blanks around it")
        return value

    def optional_text(self, name: str) -> str:
        return self.text(name) if self.has(name) else ""

    def word(self, name: str, pattern: re.Pattern[str] = WORD) -> str:
        """A code that has to be there. Raises CatalogueError."""
        value = self.text(name)
        if not pattern.fullmatch(value):
            raise self.refuse(name, f"{value!r} does not look like such a code")
        return value

    def flag(self, name: str, *, default: bool = False) -> bool:
        value = self._value(name)
        if value is None:
            return default
        if not isinstance(value, bool):
            raise self.refuse(name, "has to be true or false")
        return value

    def whole(self, name: str) -> int:
        """A plain whole number (a year, a month). Raises CatalogueError."""
        value = self._value(name)
        if isinstance(value, bool) or not isinstance(value, int):
            raise self.refuse(name, "has to be a whole number")
        return value

    def list_of(self, name: str) -> list[object]:
        value = self._value(name)
        if value is None:
            return []
        if not isinstance(value, list):
            raise self.refuse(name, "has to be a list")
        return cast("list[object]", value)

    def words(self, name: str) -> tuple[str, ...]:
        """A list of texts without repeats, empty when the key is not there."""
        found: list[str] = []
        for value in self.list_of(name):
            if not isinstance(value, str) or not value.strip():
                raise self.refuse(name, "has to be a list of texts")
            if value in found:
                raise self.refuse(name, f"{value!r} stands twice")
            found.append(value)
        return tuple(found)

    def numbers(self, name: str) -> tuple[Fraction, ...]:
        found: list[Fraction] = []
        for value in self.list_of(name):
            if isinstance(value, bool) or not isinstance(value, int | Fraction):
                raise self.refuse(name, "has to be a list of numbers")
            found.append(Fraction(value))
        return tuple(found)

    def member(self, name: str, codes: type[Code]) -> Code:
        return self._member(name, self.text(name), codes)

    def members(self, name: str, codes: type[Code]) -> tuple[Code, ...]:
        return tuple(self._member(name, value, codes) for value in self.words(name))

    def _member(self, name: str, value: str, codes: type[Code]) -> Code:
        try:
            return codes(value)
        except ValueError:
            known = ", ".join(code.value for code in codes)
            raise self.refuse(name, f"{value!r} is none of {known}") from None

    def inner(self, name: str, value: object, label: str = "") -> Table:
        """A value of this table taken as a table of its own. Raises CatalogueError."""
        if not isinstance(value, dict):
            raise self.refuse(name, "has to be a table")
        key = ".".join(part for part in (self.key, label or name) if part)
        return Table(self.file, key, cast("dict[str, object]", value), self.statuses)

    def table(self, name: str) -> Table:
        """An inner table that has to be there. Raises CatalogueError."""
        value = self._value(name)
        if value is None:
            raise self.refuse(name, "is missing")
        return self.inner(name, value)

    def tables(self, name: str) -> tuple[Table, ...]:
        """A list of tables, each labelled by its code or its place in the list."""
        found: list[Table] = []
        for number, value in enumerate(self.list_of(name), start=1):
            label = f"{name}[{number}]"
            inner = self.inner(name, value, label)
            code = inner.data.get("code")
            if isinstance(code, str):
                inner = self.inner(name, value, f"{name}[{code}]")
            found.append(inner)
        return tuple(found)

    def named_tables(self) -> tuple[tuple[str, Table], ...]:
        """Every key of this table with the table beneath it."""
        self.asked.update(self.data)
        return tuple((name, self.inner(name, value)) for name, value in self.data.items())

    def mark(self, figure: str) -> FigureMark:
        """The `mark` and `src` of this table, for the figure called so.

        Raises CatalogueError when there is no mark, when a published figure names no source or
        one that was not seen, and when another one names any.
        """
        if not self.has("mark"):
            raise self.refuse("mark", "is missing: every figure says what it rests on")
        mark = self.member("mark", Mark)
        if mark is Mark.OWN_MANUAL:
            raise self.refuse("mark", "own_manual is for the owner's figures, not for these files")
        sources = self.words("src")
        if mark is Mark.PUBLISHED and not sources:
            raise self.refuse("src", "a published figure names its source")
        if mark is not Mark.PUBLISHED and sources:
            raise self.refuse("src", f"a figure marked {mark} names no source")
        for source in sources:
            if source not in self.statuses:
                raise self.refuse("src", f"{source!r} is not in sources.toml")
            if self.statuses[source] is SourceStatus.UNSEEN:
                raise self.refuse("src", f"{source!r} was never seen, so nothing rests on it")
        return FigureMark(
            figure=figure, mark=mark, sources=tuple(SourceId(source) for source in sources)
        )

    def figure(self, name: str, figure: str, *, above_zero: bool = True) -> Figure:
        """A figure `{ v = ..., mark = ..., src = [...] }`. Raises CatalogueError."""
        value = self._value(name)
        if isinstance(value, int | Fraction):
            raise self.refuse(name, "is a bare number: write { v = ..., mark = ... }")
        table = self.inner(name, value)
        amount = table.number("v", above_zero=above_zero)
        mark = table.mark(figure)
        table.done()
        return Figure(amount=amount, mark=mark)

    def number(self, name: str, *, above_zero: bool = True) -> Fraction:
        """A bare number beside a mark in the same table. Raises CatalogueError."""
        value = self._value(name)
        if isinstance(value, bool) or not isinstance(value, int | Fraction):
            raise self.refuse(name, "has to be a number")
        if above_zero and value <= 0:
            raise self.refuse(name, f"{value} is not above zero")
        return Fraction(value)


def whole_of(table: Table, name: str, amount: Fraction) -> int:
    """The amount as a whole number. Raises CatalogueError when it is none."""
    if amount.denominator != 1:
        raise table.refuse(name, f"{amount} is no whole number in the unit it is kept in")
    return amount.numerator


def _decimal(text: str) -> Fraction:
    """A number with a point. Raises ValueError, also for one that no figure of ours comes near."""
    out = len(text) > LONGEST_NUMBER or abs(float(text)) > LARGEST
    # A tiny one is dear, too: as a fraction, 1e-99999999 has a hundred million digits.
    if out or abs(int(text.lower().partition("e")[2] or 0)) > MOST_POWER:
        raise ValueError(f"the number {text[:LONGEST_NUMBER]} is out of all measure")
    return Fraction(text)


def read_toml(file: str, text: str) -> dict[str, object]:
    """The text of a file as TOML, decimals as exact fractions. Raises CatalogueError."""
    try:
        return tomllib.loads(text, parse_float=_decimal)
    except (tomllib.TOMLDecodeError, ValueError, RecursionError) as error:
        raise CatalogueError(file, "", f"is no TOML: {error}") from error
