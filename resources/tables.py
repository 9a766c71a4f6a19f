"""The tables that kinds share: sources, limits, cautions, features, duties, shapes, climates."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from resources.reading import (
    WORD,
    CatalogueError,
    SourceStatus,
    Table,
    whole_of,
)
from resources.rows import TASK
from schedules.facts import (
    CautionCode,
    CautionFacts,
    Direction,
    DutyCode,
    DutyFacts,
    FeatureCode,
    FeatureFacts,
    FigureMark,
    LimitCode,
    LimitFacts,
    PairSort,
    Precedence,
    Severity,
    SourceFacts,
    SourceId,
    TaskCode,
    WearAxis,
    WearRate,
)
from schedules.units import Unit

LIMIT = re.compile(r"L[0-9]{2}")
CAUTION = re.compile(r"C-[A-Z0-9]+")
ORDER = re.compile(r"O[0-9]{2}")
REGION = re.compile(r"|[A-Z]+")
MONTHS = 12
Rows = Iterator[tuple[str, Table]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """Monthly mean, mean low and mean high of a sort of place, millidegrees Celsius, January
    first; `south` says which hemisphere the months are those of."""

    code: str
    name: str
    month_means_mc: tuple[int, ...]
    month_lows_mc: tuple[int, ...]
    month_highs_mc: tuple[int, ...]
    south: bool
    marks: tuple[FigureMark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceBook:
    """The public documents, and how far each was seen."""

    sources: Mapping[SourceId, SourceFacts]
    statuses: Mapping[str, SourceStatus]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tables:
    """What all kinds share."""

    limits: Mapping[LimitCode, LimitFacts]
    cautions: Mapping[CautionCode, CautionFacts]
    features: Mapping[FeatureCode, FeatureFacts]
    duties: Mapping[DutyCode, DutyFacts]
    openings: Mapping[str, str]
    shapes: Mapping[tuple[str, str], tuple[Fraction, ...]]
    climates: Mapping[str, Climate]


def read_source_book(table: Table) -> SourceBook:
    """The public documents. Those never seen are known by their status only."""
    sources: dict[SourceId, SourceFacts] = {}
    statuses: dict[str, SourceStatus] = {}
    for code, inner in table.named_tables():
        if not WORD.fullmatch(code):
            raise inner.refuse("", "does not look like a source id")
        status = inner.member("status", SourceStatus)
        statuses[code] = status
        source = SourceFacts(
            source_id=SourceId(code),
            publisher=inner.text("publisher"),
            title=inner.text("title"),
            year=inner.whole("year") if inner.has("year") else None,
            place_in_it=inner.text("place"),
            read=status is SourceStatus.READ,
        )
        inner.done()
        if status is not SourceStatus.UNSEEN:
            sources[source.source_id] = source
    return SourceBook(sources=MappingProxyType(sources), statuses=MappingProxyType(statuses))


def read_tables(tables: Mapping[str, Table]) -> Tables:
    """The shared tables. Raises CatalogueError."""
    return Tables(
        limits=_read_limits(_rows(tables, "catalogue/limits")),
        cautions=_read_cautions(_rows(tables, "cautions")),
        features=_read_features(_rows(tables, "catalogue/features")),
        duties=_read_duties(_rows(tables, "catalogue/duties")),
        openings=_read_openings(_rows(tables, "catalogue/openings")),
        shapes=_read_shapes(tables["catalogue/shapes.toml"]),
        climates=_read_climates(tables["catalogue/climates.toml"]),
    )


def _rows(tables: Mapping[str, Table], stem: str) -> Rows:
    """The rows of `stem.toml` and of the files `stem-....toml` beside it, each code once."""
    seen: set[str] = set()
    for name, table in tables.items():
        if name == f"{stem}.toml" or name.startswith(f"{stem}-"):
            for code, inner in table.named_tables():
                if code in seen:
                    raise inner.refuse("", "stands in two files")
                seen.add(code)
                yield code, inner


def _read_limits(rows: Rows) -> Mapping[LimitCode, LimitFacts]:
    found: dict[LimitCode, LimitFacts] = {}
    for code, inner in rows:
        if not LIMIT.fullmatch(code):
            raise inner.refuse("", "does not look like a limit code")
        found[LimitCode(code)] = _read_limit(code, inner)
    return MappingProxyType(found)


def _read_limit(code: str, inner: Table) -> LimitFacts:
    basis = inner.table("basis")
    marks = [basis.mark("limit")]
    basis.done()
    ends: dict[str, int | None] = {"low": None, "high": None}
    for name in ends:
        if inner.has(name):
            figure = inner.figure(name, name, above_zero=name == "high")
            ends[name] = whole_of(inner, name, figure.amount)
            marks.append(figure.mark)
    wear, rate_marks = _read_wear(inner)
    limit = LimitFacts(
        code=LimitCode(code),
        name=inner.text("name"),
        how=inner.text("how"),
        direction=inner.member("direction", Direction),
        unit=inner.member("unit", Unit) if inner.has("unit") else Unit.NONE,
        low=ends["low"],
        high=ends["high"],
        event=inner.optional_text("event"),
        both_sides=inner.flag("both_sides"),
        per_task=inner.flag("per_task"),
        editable_empty=inner.flag("empty"),
        wears=inner.member("wears", WearAxis) if inner.has("wears") else None,
        wear=wear,
        marks=(*marks, *rate_marks),
    )
    inner.done()
    _check_limit(inner, limit)
    return limit


def _read_wear(inner: Table) -> tuple[WearRate | None, tuple[FigureMark, ...]]:
    """The rate a part wears at as a rule, all three figures of it, or none."""
    names = ("rate", "rate_deviation", "reading_error")
    given = [name for name in names if inner.has(name)]
    if not given:
        return None, ()
    if len(given) != len(names):
        raise inner.refuse(given[0], f"{', '.join(names)} stand together or not at all")
    if not inner.has("wears"):
        raise inner.refuse("wears", "a rate needs to say what the part wears with")
    figures = [inner.figure(name, name) for name in names]
    rate, deviation, error = (figure.amount for figure in figures)
    known = WearRate(rate=rate, deviation=deviation, reading_error=error)
    return known, tuple(figure.mark for figure in figures)


ENDS = {
    Direction.AT_MOST: (False, True),
    Direction.AT_LEAST: (True, False),
    Direction.BETWEEN: (True, True),
    Direction.EVENT: (False, False),
}


def _check_limit(inner: Table, limit: LimitFacts) -> None:
    is_event = limit.direction is Direction.EVENT
    if is_event != bool(limit.event):
        raise inner.refuse("event", "an event says what is seen, and nothing else does")
    if is_event != (limit.unit is Unit.NONE):
        raise inner.refuse("unit", "everything measured has a unit, an event has none")
    given = (limit.low is not None, limit.high is not None)
    if limit.editable_empty:
        if any(given) or is_event:
            raise inner.refuse("empty", "an empty limit has no figures and is no event")
    elif given != ENDS[limit.direction]:
        raise inner.refuse("direction", f"{limit.direction} with the wrong ends given")
    if limit.low is not None and limit.high is not None and limit.low >= limit.high:
        raise inner.refuse("low", "is not below high")
    if limit.wears is not None and is_event:
        raise inner.refuse("wears", "an event has no course that could be foreseen")


def _read_cautions(rows: Rows) -> Mapping[CautionCode, CautionFacts]:
    found: dict[CautionCode, CautionFacts] = {}
    for code, inner in rows:
        if not CAUTION.fullmatch(code):
            raise inner.refuse("", "does not look like a caution code")
        basis = inner.table("basis")
        caution = CautionFacts(
            code=CautionCode(code),
            severity=inner.member("severity", Severity),
            text=inner.text("text"),
            marks=(basis.mark("text"),),
        )
        basis.done()
        inner.done()
        found[caution.code] = caution
    return MappingProxyType(found)


def _read_features(rows: Rows) -> Mapping[FeatureCode, FeatureFacts]:
    found: dict[FeatureCode, FeatureFacts] = {}
    for code, inner in rows:
        if not WORD.fullmatch(code):
            raise inner.refuse("", "does not look like a feature code")
        values = inner.table("values")
        feature = FeatureFacts(
            code=FeatureCode(code),
            question=inner.text("question"),
            values=tuple((value, values.text(value)) for value in values.data),
        )
        inner.done()
        if len(feature.values) < 2:
            raise inner.refuse("values", "a question has at least two answers")
        found[feature.code] = feature
    return MappingProxyType(found)


def _read_duties(rows: Rows) -> Mapping[DutyCode, DutyFacts]:
    found: dict[DutyCode, DutyFacts] = {}
    for code, inner in rows:
        if not WORD.fullmatch(code):
            raise inner.refuse("", "does not look like a duty code")
        found[DutyCode(code)] = DutyFacts(code=DutyCode(code), question=inner.text("question"))
        inner.done()
    return MappingProxyType(found)


def _read_openings(rows: Rows) -> Mapping[str, str]:
    found: dict[str, str] = {}
    for code, inner in rows:
        if not WORD.fullmatch(code):
            raise inner.refuse("", "does not look like an opening")
        found[code] = inner.text("name")
        inner.done()
    return MappingProxyType(found)


def _read_shapes(table: Table) -> Mapping[tuple[str, str], tuple[Fraction, ...]]:
    found: dict[tuple[str, str], tuple[Fraction, ...]] = {}
    for inner in table.tables("shape"):
        name = inner.word("name")
        regions = inner.words("regions")
        shares = inner.numbers("shares")
        if len(shares) != MONTHS:
            raise inner.refuse("shares", f"{len(shares)} shares, not 12")
        if min(shares) < 0 or not any(shares):
            raise inner.refuse("shares", "a share is negative, or all are nil")
        basis = inner.table("basis")
        basis.mark("shares")
        basis.done()
        if not regions and not inner.flag("default"):
            raise inner.refuse("regions", "is missing")
        total = sum(shares, Fraction(0))
        row = tuple(share / total for share in shares)
        for region in (*regions, *([""] if inner.flag("default") else [])):
            if not REGION.fullmatch(region):
                raise inner.refuse("regions", f"{region!r} does not look like a region")
            if (name, region) in found:
                raise inner.refuse("regions", f"{name} has {region!r} twice")
            found[name, region] = row
        inner.done()
    table.done()
    return MappingProxyType(found)


def _read_climates(table: Table) -> Mapping[str, Climate]:
    found: dict[str, Climate] = {}
    for code, inner in table.named_tables():
        if not WORD.fullmatch(code):
            raise inner.refuse("", "does not look like a climate code")
        basis = inner.table("basis")
        marks = tuple(basis.mark(name) for name in ("means", "lows", "highs"))
        basis.done()
        means, lows, highs = (_read_months(inner, name) for name in ("means", "lows", "highs"))
        for low, mean, high in zip(lows, means, highs, strict=True):
            if not low < mean < high:
                raise inner.refuse("means", f"{low}, {mean}, {high} are not low, mean, high")
        found[code] = Climate(
            code=code,
            name=inner.text("name"),
            month_means_mc=means,
            month_lows_mc=lows,
            month_highs_mc=highs,
            south=inner.flag("south"),
            marks=marks,
        )
        inner.done()
    return MappingProxyType(found)


def _read_months(inner: Table, name: str) -> tuple[int, ...]:
    numbers = inner.numbers(name)
    if len(numbers) != MONTHS:
        raise inner.refuse(name, f"{len(numbers)} months, not 12")
    return tuple(whole_of(inner, name, number * 1000) for number in numbers)


def read_precedence(
    table: Table, tasks: frozenset[str], before: list[Precedence]
) -> tuple[Precedence, ...]:
    """The pairs of a file, none of which may stand in `before`. Raises CatalogueError."""
    seen = {(pair.before, pair.after) for pair in before}
    found: list[Precedence] = []
    for inner in table.tables("rule"):
        sort = inner.member("sort", PairSort)
        why = inner.text("why")
        code = inner.word("code", ORDER) if inner.has("code") else "order"
        basis = inner.table("basis")
        mark = basis.mark(code)
        basis.done()
        for first in _codes(inner, "before", tasks):
            for second in _codes(inner, "after", tasks):
                if (first, second) in seen or first == second:
                    raise inner.refuse("after", f"{first} before {second} stands already")
                seen.add((first, second))
                found.append(Precedence(before=first, after=second, sort=sort, why=why, mark=mark))
        inner.done()
    table.done()
    return tuple(found)


def _codes(inner: Table, name: str, tasks: frozenset[str]) -> tuple[TaskCode, ...]:
    codes = inner.words(name)
    if not codes:
        raise inner.refuse(name, "is missing")
    for code in codes:
        if not TASK.fullmatch(code) or code not in tasks:
            raise CatalogueError(inner.file, f"{inner.key}.{name}", f"{code} is no task")
    return tuple(TaskCode(code) for code in codes)
