"""Machine kinds: blocks and own tasks resolved into one list, as the kind's file says."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from resources.reading import CatalogueError, Table, whole_of
from resources.rows import HOUR, TASK, Known, read_applies, read_consumables, read_task
from schedules.facts import (
    Applies,
    DutyCode,
    FeatureCode,
    FigureMark,
    FuelUse,
    ItemSort,
    KindCode,
    KindFacts,
    MonthDay,
    TaskCode,
    TaskFacts,
    Window,
)

KIND = re.compile(r"K[0-9]{2}")
BLOCK = re.compile(r"[A-Z][A-Z0-9]")
WINDOW = re.compile(r"([0-9]{2})-([0-9]{2})\.\.([0-9]{2})-([0-9]{2})")


@dataclass(frozen=True, slots=True, kw_only=True)
class RawTask:
    """A task as it stands in its file, and the item its file hangs tasks on."""

    table: Table
    item: ItemSort

    def fresh(self) -> Table:
        return replace(self.table, asked=set[str]())


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A set of tasks shared by kinds."""

    code: str
    tasks: tuple[str, ...]
    features: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """Everything a kind can be put together from."""

    known: Known
    raw: Mapping[str, RawTask]
    blocks: Mapping[str, Block]
    plain: dict[str, TaskFacts]
    shapes: frozenset[str]

    def task(self, code: str) -> TaskFacts:
        """The task as its own file has it, read once. Raises CatalogueError."""
        if code not in self.plain:
            raw = self.raw[code]
            self.plain[code] = read_task(raw.fresh(), self.known, raw.item)
        return self.plain[code]


def raw_tasks(table: Table, item: ItemSort) -> tuple[tuple[str, RawTask], ...]:
    """The `[[task]]` tables of a file by code, unread. Raises CatalogueError."""
    return tuple(
        (inner.word("code", TASK), RawTask(table=inner, item=item))
        for inner in table.tables("task")
    )


def read_block(table: Table) -> tuple[Block, tuple[tuple[str, RawTask], ...]]:
    """A block and its tasks, unread. Raises CatalogueError."""
    table.asked.add("parts")
    item = table.member("item", ItemSort)
    tasks = raw_tasks(table, item)
    block = Block(
        code=table.word("code", BLOCK),
        tasks=tuple(code for code, _raw in tasks),
        features=table.words("features"),
    )
    table.done()
    return block, tasks


def read_kind(table: Table, shelf: Shelf) -> KindFacts:
    """A kind with all its tasks. Raises CatalogueError."""
    table.asked.update({"parts", "block", "take", "drop", "override", "task"})
    marks: list[FigureMark] = []
    windows = _read_windows(table, marks)
    hours = table.figure("hours_a_year", "year_seconds")
    marks.append(hours.mark)
    use = table.table("use")
    use_minutes = use.number("minutes")
    use_word = use.text("word")
    marks.append(use.mark("use_seconds"))
    use.done()
    fuel = table.member("fuel", FuelUse)
    shape = table.word("shape")
    if shape not in shelf.shapes:
        raise table.refuse("shape", f"{shape!r} has no row without a region in shapes.toml")
    if table.flag("water") and not windows:
        raise table.refuse(
            "windows", "a kind with water in it needs a season that ends before frost"
        )
    tasks = _resolve(table, shelf)
    kind = KindFacts(
        code=KindCode(table.word("code", KIND)),
        name=table.text("name"),
        windows=windows,
        year_seconds=whole_of(table, "hours_a_year", hours.amount * HOUR),
        use_seconds=whole_of(table, "use", use_minutes * 60),
        use_word=use_word,
        shape=shape,
        tasks=tasks,
        fuel=fuel.value,
        icon=table.word("icon"),
        features=_features(table, shelf, tasks),
        duties=_duties(table, shelf, tasks),
        spares=read_consumables(table, "spares", shelf.known, marks),
        has_engine=fuel is not FuelUse.NONE,
        marks=tuple(marks),
    )
    table.done()
    return kind


def _read_windows(table: Table, marks: list[FigureMark]) -> tuple[Window, ...]:
    inner = table.table("windows")
    found: list[Window] = []
    for text in inner.words("v"):
        match = WINDOW.fullmatch(text)
        if match is None:
            raise inner.refuse("v", f"{text!r} is no pair MM-DD..MM-DD")
        numbers = [int(group) for group in match.groups()]
        for month, day in (numbers[:2], numbers[2:]):
            try:
                date(2024, month, day)
            except ValueError:
                raise inner.refuse("v", f"{month:02}-{day:02} is no day of a year") from None
        found.append(Window(MonthDay(*numbers[:2]), MonthDay(*numbers[2:])))
    if not inner.has("v"):
        raise inner.refuse("v", "is missing: an empty list says that there is no season")
    if len(found) > 2:
        raise inner.refuse("v", "a year has at most two seasons")
    marks.append(inner.mark("windows"))
    inner.done()
    return tuple(found)


def _resolve(table: Table, shelf: Shelf) -> tuple[TaskFacts, ...]:
    """Blocks, then borrowed tasks, then the kind's own, less those dropped, overrides applied."""
    order = _gather(table, shelf)
    dropped = table.words("drop")
    for code in dropped:
        if code not in order:
            raise table.refuse("drop", f"{code} is not among the tasks of this kind")
        del order[code]
    changed = _overrides(table, order, shelf)
    tasks: list[TaskFacts] = []
    for code, applies in order.items():
        if code in changed:
            task = read_task(changed[code], shelf.known, shelf.raw[code].item)
        else:
            task = shelf.task(code)
        kept = tuple(other for other in task.includes if other in order)
        if applies or kept != task.includes:
            task = replace(task, applies=applies + task.applies, includes=kept)
        if task.rule.nth_of is not None and task.rule.nth_of.code not in order:
            raise table.refuse("", f"{code} counts {task.rule.nth_of.code}, which is not here")
        tasks.append(task)
    return tuple(tasks)


def _gather(table: Table, shelf: Shelf) -> dict[str, tuple[Applies, ...]]:
    order: dict[str, tuple[Applies, ...]] = {}

    def add(inner: Table, name: str, codes: tuple[str, ...], applies: tuple[Applies, ...]) -> None:
        for code in codes:
            if code in order:
                raise inner.refuse(name, f"{code} stands twice in this kind")
            order[code] = applies

    for inner in table.tables("block"):
        code = inner.word("code", BLOCK)
        if code not in shelf.blocks:
            raise inner.refuse("code", f"{code} is no block")
        applies = read_applies(inner, shelf.known)
        inner.done()
        add(inner, "code", shelf.blocks[code].tasks, applies)
    for inner in table.tables("take"):
        codes = inner.words("tasks")
        for code in codes:
            if code not in shelf.raw:
                raise inner.refuse("tasks", f"{code} is no task")
        applies = read_applies(inner, shelf.known)
        inner.done()
        add(inner, "tasks", codes, applies)
    add(table, "task", tuple(inner.word("code", TASK) for inner in table.tables("task")), ())
    return order


def _overrides(
    table: Table, order: Mapping[str, tuple[Applies, ...]], shelf: Shelf
) -> dict[str, Table]:
    changed: dict[str, Table] = {}
    for inner in table.tables("override"):
        code = inner.word("code", TASK)
        if code not in order:
            raise inner.refuse("code", f"{code} is not among the tasks of this kind")
        if code in changed:
            raise inner.refuse("code", f"{code} is overridden twice")
        cleared = inner.words("clear")
        for key in cleared:
            if key in inner.data or key not in shelf.raw[code].table.data:
                raise inner.refuse("clear", f"{key!r} is set here, or was not set before")
        own = shelf.raw[code].table.data
        kept = {key: value for key, value in own.items() if key not in cleared}
        change = {key: value for key, value in inner.data.items() if key != "clear"}
        changed[code] = Table(table.file, inner.key, {**kept, **change}, table.statuses)
    return changed


def _features(table: Table, shelf: Shelf, tasks: tuple[TaskFacts, ...]) -> tuple[FeatureCode, ...]:
    names: dict[str, None] = {}
    for inner in table.tables("block"):
        names.update(dict.fromkeys(shelf.blocks[inner.word("code", BLOCK)].features))
    names.update(dict.fromkeys(str(row.feature) for task in tasks for row in task.applies))
    names.update(dict.fromkeys(table.words("features")))
    for name in names:
        if name not in shelf.known.features:
            raise table.refuse("features", f"{name!r} is not in features.toml")
    return tuple(FeatureCode(name) for name in names)


def _duties(table: Table, shelf: Shelf, tasks: tuple[TaskFacts, ...]) -> tuple[DutyCode, ...]:
    names = dict.fromkeys(str(code) for task in tasks for code, _factor in task.duties)
    names.update(dict.fromkeys(table.words("duties")))
    for name in names:
        if name not in shelf.known.duties:
            raise table.refuse("duties", f"{name!r} is not in duties.toml")
    return tuple(DutyCode(name) for name in names)


def included_cycle(tasks: Mapping[TaskCode, TaskFacts]) -> tuple[TaskCode, ...]:
    """A ring of tasks that include one another, or nothing."""
    return ring({code: task.includes for code, task in tasks.items()})


def ring(after: Mapping[TaskCode, tuple[TaskCode, ...]]) -> tuple[TaskCode, ...]:
    """The first ring in a graph, its first code again at the end; empty when there is none."""
    done: set[TaskCode] = set()
    for start in after:
        path: list[TaskCode] = []
        stack: list[tuple[TaskCode, bool]] = [(start, False)]
        while stack:
            code, left = stack.pop()
            if left:
                path.pop()
                done.add(code)
            elif code in path:
                return (*path[path.index(code) :], code)
            elif code not in done:
                path.append(code)
                stack.append((code, True))
                stack.extend((follower, False) for follower in reversed(after.get(code, ())))
    return ()


def refuse_twins(pairs: list[tuple[str, RawTask]]) -> dict[str, RawTask]:
    """Tasks by code. Raises CatalogueError when a code stands in two places."""
    found: dict[str, RawTask] = {}
    for code, raw in pairs:
        if code in found:
            other = found[code].table.file
            raise CatalogueError(raw.table.file, raw.table.key, f"{code} stands already in {other}")
        found[code] = raw
    return found
