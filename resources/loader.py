"""The catalogue: what is known about machine kinds, read from the files beside and checked.

`load_catalogue` reads the shipped files once; `parse_catalogue` takes texts, for tests.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from resources.kinds import (
    Block,
    RawTask,
    Shelf,
    included_cycle,
    raw_tasks,
    read_block,
    read_kind,
    refuse_twins,
    ring,
)
from resources.reading import CatalogueError, Table, read_toml
from resources.rows import Known
from resources.tables import (
    Climate,
    Tables,
    read_precedence,
    read_source_book,
    read_tables,
)
from schedules.facts import (
    CautionCode,
    CautionFacts,
    Consumable,
    DutyCode,
    DutyFacts,
    FeatureCode,
    FeatureFacts,
    ItemSort,
    KindCode,
    KindFacts,
    LimitCode,
    LimitFacts,
    Precedence,
    SourceFacts,
    SourceId,
    TaskCode,
    TaskFacts,
)

__all__ = [
    "Catalogue",
    "CatalogueError",
    "Climate",
    "load_catalogue",
    "parse_catalogue",
    "read_texts",
]

HERE = Path(__file__).resolve().parent
SHARED = (
    "sources.toml",
    "cautions.toml",
    "precedence.toml",
    "catalogue/limits.toml",
    "catalogue/features.toml",
    "catalogue/duties.toml",
    "catalogue/openings.toml",
    "catalogue/shapes.toml",
    "catalogue/climates.toml",
)

MORE = (
    "cautions-*.toml",
    "precedence-*.toml",
    "catalogue/limits-*.toml",
    "catalogue/features-*.toml",
    "catalogue/duties-*.toml",
    "catalogue/openings-*.toml",
    "catalogue/block-*.toml",
    "catalogue/kind-*.toml",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """All that the catalogue says. `shapes`: (shape, region) to monthly shares that sum to 1,
    January first, northern; region "" is the default. `tasks` are as their own file has them,
    before any kind changes a figure; `openings` and `parts` map codes to what they are called."""

    kinds: Mapping[KindCode, KindFacts]
    limits: Mapping[LimitCode, LimitFacts]
    cautions: Mapping[CautionCode, CautionFacts]
    features: Mapping[FeatureCode, FeatureFacts]
    duties: Mapping[DutyCode, DutyFacts]
    sources: Mapping[SourceId, SourceFacts]
    precedence: tuple[Precedence, ...]
    shapes: Mapping[tuple[str, str], tuple[Fraction, ...]]
    climates: Mapping[str, Climate]
    openings: Mapping[str, str]
    parts: Mapping[str, Consumable]
    tasks: Mapping[TaskCode, TaskFacts]


@lru_cache(maxsize=1)
def load_catalogue() -> Catalogue:
    """The shipped catalogue, read once. Raises CatalogueError for data that cannot be taken."""
    return parse_catalogue(read_texts())


def read_texts() -> dict[str, str]:
    """The shipped files by name, as `parse_catalogue` wants them."""
    paths = [HERE / name for name in SHARED]
    for pattern in MORE:
        paths += sorted(HERE.glob(pattern))
    return {path.relative_to(HERE).as_posix(): path.read_text("utf-8") for path in paths}


def parse_catalogue(texts: Mapping[str, str]) -> Catalogue:
    """A catalogue from texts by file name. Raises CatalogueError: file, key, what is wrong."""
    for name in SHARED:
        if name not in texts:
            raise CatalogueError(name, "", "is not there")
    raw = {name: read_toml(name, text) for name, text in texts.items()}
    book = read_source_book(Table("sources.toml", "", raw["sources.toml"], {}))
    tables = {name: Table(name, "", data, book.statuses) for name, data in raw.items()}
    shared = read_tables(tables)
    shelf = _fill_shelf(tables, shared)
    tasks = {TaskCode(code): shelf.task(code) for code in shelf.raw}
    _check_rings(tasks)
    kinds: dict[KindCode, KindFacts] = {}
    for table in _named(tables, "kind-"):
        kind = read_kind(table, shelf)
        if kind.code in kinds:
            raise table.refuse("code", f"{kind.code} stands in two files")
        kinds[kind.code] = kind
    pairs = _read_pairs(tables, shelf)
    return Catalogue(
        kinds=MappingProxyType(kinds),
        limits=shared.limits,
        cautions=shared.cautions,
        features=shared.features,
        duties=shared.duties,
        sources=book.sources,
        precedence=pairs,
        shapes=shared.shapes,
        climates=shared.climates,
        openings=shared.openings,
        parts=MappingProxyType(shelf.known.parts),
        tasks=MappingProxyType(tasks),
    )


def _named(tables: Mapping[str, Table], start: str) -> Iterator[Table]:
    for name, table in tables.items():
        if name.startswith(f"catalogue/{start}"):
            yield table


def _fill_shelf(tables: Mapping[str, Table], shared: Tables) -> Shelf:
    parts: dict[str, Consumable] = {}
    blocks: dict[str, Block] = {}
    found: list[tuple[str, RawTask]] = []
    for table in (*_named(tables, "block-"), *_named(tables, "kind-")):
        _read_parts(table, parts)
    for table in _named(tables, "block-"):
        block, tasks = read_block(table)
        if block.code in blocks:
            raise table.refuse("code", f"{block.code} stands in two files")
        blocks[block.code] = block
        found += tasks
    for table in _named(tables, "kind-"):
        found += raw_tasks(table, ItemSort.MACHINE)
    raw = refuse_twins(found)
    known = Known(
        limits=frozenset(shared.limits),
        cautions=frozenset(shared.cautions),
        duties=frozenset(shared.duties),
        openings=frozenset(shared.openings),
        tasks=frozenset(raw),
        features={
            str(code): tuple(value for value, _text in feature.values)
            for code, feature in shared.features.items()
        },
        parts=parts,
    )
    shapes = frozenset(name for name, region in shared.shapes if not region)
    return Shelf(known=known, raw=raw, blocks=blocks, plain={}, shapes=shapes)


def _read_parts(table: Table, parts: dict[str, Consumable]) -> None:
    """The `[parts]` of a file: what a part is called, and whether it wears.

    A part stands in one file only and is known to all.
    """
    if not table.has("parts"):
        return
    for code, inner in table.table("parts").named_tables():
        if code in parts:
            raise inner.refuse("", f"the part {code!r} stands already in another [parts] table")
        parts[code] = Consumable(part=code, name=inner.text("name"), wear_item=inner.flag("wears"))
        inner.done()


def _check_rings(tasks: Mapping[TaskCode, TaskFacts]) -> None:
    cycle = included_cycle(tasks)
    if cycle:
        raise CatalogueError("catalogue", cycle[0], f"includes itself: {' > '.join(cycle)}")


def _read_pairs(tables: Mapping[str, Table], shelf: Shelf) -> tuple[Precedence, ...]:
    pairs: list[Precedence] = []
    for name, table in tables.items():
        if name.startswith("precedence"):
            pairs += read_precedence(table, shelf.known.tasks, pairs)
    after: dict[TaskCode, tuple[TaskCode, ...]] = {}
    for pair in pairs:
        after[pair.before] = (*after.get(pair.before, ()), pair.after)
    cycle = ring(after)
    if cycle:
        raise CatalogueError("precedence.toml", cycle[0], f"goes round: {' > '.join(cycle)}")
    return tuple(pairs)
