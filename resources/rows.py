"""The rows of the catalogue: one table of a file to one frozen fact, checked by itself."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction

from resources.reading import Figure, Table, whole_of
from resources.rules import RuleFault, rule_fault
from schedules.facts import (
    Applies,
    CautionCode,
    Consumable,
    DutyCode,
    FeatureCode,
    FigureMark,
    ItemSort,
    LimitCode,
    NthOf,
    Phase,
    Rule,
    TaskCode,
    TaskFacts,
    TaskSort,
)

TASK = re.compile(r"[A-Z][A-Z0-9]-[0-9]{2}")
HOUR = 3600


@dataclass(slots=True)
class Known:
    """The codes other rows may name, and the parts with what they are called."""

    limits: frozenset[str] = frozenset()
    cautions: frozenset[str] = frozenset()
    duties: frozenset[str] = frozenset()
    openings: frozenset[str] = frozenset()
    tasks: frozenset[str] = frozenset()
    features: dict[str, tuple[str, ...]] = field(default_factory=dict[str, tuple[str, ...]])
    parts: dict[str, Consumable] = field(default_factory=dict[str, Consumable])


def read_task(table: Table, known: Known, item: ItemSort) -> TaskFacts:
    """One task. Raises CatalogueError with the key that is wrong."""
    marks: list[FigureMark] = []
    basis = table.table("basis")
    marks.append(basis.mark("task"))
    basis.done()
    rule = _read_rule(table, known, marks)
    look, do = _read_minutes(table, marks)
    duties = _read_duties(table, known, marks)
    consumables = read_consumables(table, "parts", known, marks)
    table.asked.add("item")
    task = TaskFacts(
        code=TaskCode(table.word("code", TASK)),
        name=table.text("name"),
        how=table.text("how"),
        sort=table.member("sort", TaskSort),
        rule=rule,
        item=table.member("item", ItemSort) if table.has("item") else item,
        look_minutes=look,
        do_minutes=do,
        replaces=table.flag("replaces"),
        safety=table.flag("safety"),
        stop_use_if=table.optional_text("stop_use_if"),
        opening=table.optional_text("opening"),
        includes=tuple(TaskCode(code) for code in table.words("includes")),
        consumables=consumables,
        tools=table.words("tools"),
        cautions=tuple(CautionCode(code) for code in table.words("cautions")),
        duties=duties,
        applies=read_applies(table, known),
        workshop=table.flag("workshop"),
        marks=tuple(marks),
    )
    table.done()
    _check_rule(table, rule, known, replaces=task.replaces)
    _check_task(table, task, known)
    return task


def _read_rule(table: Table, known: Known, marks: list[FigureMark]) -> Rule:
    def amount(name: str, figure: str, factor: int = 1) -> int | None:
        if not table.has(name):
            return None
        found: Figure = table.figure(name, figure)
        marks.append(found.mark)
        return whole_of(table, name, found.amount * factor)

    return Rule(
        first_seconds=amount("first_hours", "first_seconds", HOUR),
        run_seconds=amount("hours", "run_seconds", HOUR),
        months=amount("months", "months"),
        phases=table.members("phases", Phase),
        each_use=table.flag("each_use"),
        uses=amount("uses", "uses"),
        limits=tuple(LimitCode(code) for code in table.words("limits")),
        nth_of=_read_nth(table, known, marks),
        stored=table.flag("stored"),
        on_sight=table.flag("on_sight"),
        on_fault=table.flag("on_fault"),
        fuel_age=table.flag("fuel_age"),
    )


def _read_nth(table: Table, known: Known, marks: list[FigureMark]) -> NthOf | None:
    if not table.has("nth_of"):
        return None
    inner = table.table("nth_of")
    code = inner.word("task", TASK)
    if code not in known.tasks:
        raise inner.refuse("task", f"{code} is no task")
    count = whole_of(inner, "v", inner.number("v"))
    marks.append(inner.mark("nth_of"))
    inner.done()
    return NthOf(code=TaskCode(code), n=count)


def _read_minutes(table: Table, marks: list[FigureMark]) -> tuple[int, int]:
    inner = table.table("minutes")
    look = whole_of(inner, "look", inner.number("look"))
    do = whole_of(inner, "do", inner.number("do"))
    mark = inner.mark("look_minutes")
    marks.append(mark)
    marks.append(FigureMark(figure="do_minutes", mark=mark.mark, sources=mark.sources))
    inner.done()
    if do < look:
        raise inner.refuse("do", "is less than the look it begins with")
    return look, do


def _read_duties(
    table: Table, known: Known, marks: list[FigureMark]
) -> tuple[tuple[DutyCode, Fraction], ...]:
    if not table.has("duties"):
        return ()
    inner = table.table("duties")
    found: list[tuple[DutyCode, Fraction]] = []
    for code in inner.data:
        if code not in known.duties:
            raise inner.refuse(code, "is no duty of duties.toml")
        factor = inner.figure(code, f"duty:{code}")
        if factor.amount > 1:
            raise inner.refuse(code, f"{factor.amount} is over 1: a duty only shortens")
        marks.append(factor.mark)
        found.append((DutyCode(code), factor.amount))
    return tuple(found)


def read_consumables(
    table: Table, name: str, known: Known, marks: list[FigureMark]
) -> tuple[Consumable, ...]:
    """A list of part codes, or `{ part = ..., n = { v, mark } }` for more than one of it."""
    found: list[Consumable] = []
    for number, value in enumerate(table.list_of(name), start=1):
        quantity = 1
        if isinstance(value, str):
            part = value
        else:
            inner = table.inner(name, value, f"{name}[{number}]")
            part = inner.word("part")
            figure = inner.figure("n", f"quantity:{part}")
            quantity = whole_of(inner, "n", figure.amount)
            marks.append(figure.mark)
            inner.done()
        if part not in known.parts:
            raise table.refuse(name, f"{part!r} is in no [parts] table")
        if any(other.part == part for other in found):
            raise table.refuse(name, f"{part!r} stands twice")
        base = known.parts[part]
        found.append(
            Consumable(part=part, name=base.name, quantity=quantity, wear_item=base.wear_item)
        )
    return tuple(found)


def read_applies(table: Table, known: Known) -> tuple[Applies, ...]:
    """The features a row stands on. Raises CatalogueError for unknown ones."""
    found: list[Applies] = []
    for inner in table.tables("applies"):
        feature = inner.word("feature")
        if feature not in known.features:
            raise inner.refuse("feature", f"{feature!r} is not in features.toml")
        values = inner.words("values")
        if not values:
            raise inner.refuse("values", "is missing")
        for value in values:
            if value not in known.features[feature]:
                raise inner.refuse("values", f"{value!r} is no answer to {feature}")
        if not inner.has("unknown"):
            raise inner.refuse("unknown", "is missing: what to assume while nobody answered")
        unknown = inner.flag("unknown")
        inner.done()
        found.append(Applies(feature=FeatureCode(feature), values=values, unknown=unknown))
    return tuple(found)


# The key that a rule's fault is told at, and how.
_RULE_FAULTS = {
    RuleFault.SEVERAL_PHASES: ("phases", "{months} months and more than one phase"),
    RuleFault.END_IN_A_YEAR: ("phases", "end with months under 12 ({months})"),
    RuleFault.IN_ALONE: ("phases", "in with neither hours, months, uses nor each use"),
    RuleFault.NOTHING: ("", "has no rule at all"),
    RuleFault.FUEL_BY_MONTHS: ("months", "the age of fuel is not told by months"),
    RuleFault.FIRST_OF_REPLACEMENT: (
        "first_hours",
        "would start again at each doing of a replacement",
    ),
}


def _check_rule(table: Table, rule: Rule, known: Known, *, replaces: bool) -> None:
    fault = rule_fault(rule, replaces=replaces)
    if fault is not None:
        key, problem = _RULE_FAULTS[fault]
        raise table.refuse(key, problem.format(months=rule.months))
    for code in rule.limits:
        if code not in known.limits:
            raise table.refuse("limits", f"{code} is not in limits.toml")


def _check_task(table: Table, task: TaskFacts, known: Known) -> None:
    if task.safety and not task.stop_use_if:
        raise table.refuse("stop_use_if", "is missing on a safety task")
    if task.stop_use_if and not task.safety:
        raise table.refuse("safety", "a task with a stop-use condition is a safety task")
    if task.opening and task.opening not in known.openings:
        raise table.refuse("opening", f"{task.opening!r} is not in openings.toml")
    if task.replaces and not task.consumables:
        raise table.refuse("parts", "is missing on a task that replaces a part")
    for code in task.cautions:
        if code not in known.cautions:
            raise table.refuse("cautions", f"{code} is not in cautions.toml")
    for code in task.includes:
        if code not in known.tasks:
            raise table.refuse("includes", f"{code} is no task")
        if code == task.code:
            raise table.refuse("includes", "names the task itself")
