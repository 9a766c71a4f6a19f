"""Putting away, getting out, going over: the steps there are, read from `storage.toml` and checked.

`load_sitting_rules` reads the shipped file once; `parse_sitting_rules` takes a text, for tests.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from resources.kinds import ring
from resources.loader import HERE, Catalogue, load_catalogue
from resources.reading import CatalogueError, Table, read_toml
from resources.tables import read_source_book
from schedules.facts import (
    Applies,
    CautionCode,
    Consumable,
    FeatureCode,
    FuelUse,
    KindCode,
    TaskCode,
)
from schedules.sitting_facts import (
    FuelEffect,
    FuelRoute,
    Ground,
    LeftCode,
    OrderWaived,
    RunSort,
    SittingRules,
    Stage,
    StepCode,
    StepFacts,
    StepOrder,
    TaskPlace,
    Touch,
    When,
)

__all__ = ["load_sitting_rules", "parse_sitting_rules"]

FILE = "storage.toml"
STEP = re.compile(r"[PGB]-[0-9]{2}")
SORTS = {"P": RunSort.PUTTING_AWAY, "G": RunSort.GETTING_OUT, "B": RunSort.GOING_OVER}
MOST_MINUTES = 24 * 60


@lru_cache(maxsize=1)
def load_sitting_rules() -> SittingRules:
    """The shipped steps, read once. Raises CatalogueError for data that cannot be taken."""
    return parse_sitting_rules((HERE / FILE).read_text("utf-8"), load_catalogue())


def parse_sitting_rules(text: str, catalogue: Catalogue) -> SittingRules:
    """The steps from a text. Raises CatalogueError: file, key, what is wrong."""
    book = read_source_book(
        Table("sources.toml", "", read_toml("sources.toml", _sources_text()), {})
    )
    table = Table(FILE, "", read_toml(FILE, text), book.statuses)
    reader = _Reader(catalogue, _read_left(table))
    steps = tuple(reader.step(inner) for inner in table.tables("step"))
    reader.refuse_twins(table, steps)
    known = frozenset(str(step.code) for step in steps)
    orders = tuple(pair for inner in table.tables("order") for pair in reader.orders(inner, known))
    rules = SittingRules(
        steps=steps,
        orders=orders,
        waived=tuple(pair for inner in table.tables("waived") for pair in reader.waived(inner)),
        places=tuple(reader.place(inner) for inner in table.tables("place")),
        openings=tuple(reader.openings(table.table("openings"))),
        left=tuple(reader.left.items()),
        cautions=tuple(reader.cautions_of(table.table("cautions"))),
    )
    table.done()
    _refuse_rings(rules)
    return rules


def _sources_text() -> str:
    return (HERE / "sources.toml").read_text("utf-8")


def _read_left(table: Table) -> dict[LeftCode, str]:
    inner = table.table("left")
    left = {LeftCode(code): inner.text(code) for code in inner.data}
    inner.done()
    return left


def _refuse_rings(rules: SittingRules) -> None:
    after: dict[TaskCode, tuple[TaskCode, ...]] = {}
    for pair in rules.orders:
        code = TaskCode(pair.before)
        after[code] = (*after.get(code, ()), TaskCode(pair.after))
    cycle = ring(after)
    if cycle:
        raise CatalogueError(FILE, cycle[0], f"goes round: {' > '.join(cycle)}")


class _Reader:
    """Reads the rows; every code they name has to be known."""

    def __init__(self, catalogue: Catalogue, left: dict[LeftCode, str]) -> None:
        self.catalogue = catalogue
        self.left = left

    def step(self, table: Table) -> StepFacts:
        """One step. Raises CatalogueError."""
        code = table.word("code", STEP)
        found = StepFacts(
            code=StepCode(code),
            sort=SORTS[code[0]],
            stage=table.member("stage", Stage),
            name=table.text("name"),
            how=table.optional_text("how"),
            done_when=table.text("done"),
            minutes=self._minutes(table, "minutes"),
            mark=table.mark("minutes"),
            when=self._when(table.table("when")) if table.has("when") else When(),
            wait_minutes=self._minutes(table, "wait") if table.has("wait") else 0,
            waits_for=table.optional_text("waits_for"),
            stop_use_if=table.optional_text("stop_use_if"),
            cautions=self._cautions(table),
            touches=table.members("touches", Touch),
            tools=table.words("tools"),
            parts=self._parts(table),
            records=self._tasks(table, "records"),
            passes=self._tasks(table, "passes"),
            leaves=self._left(table, "leaves"),
            puts_back=self._left(table, "puts_back"),
            fuel=table.member("fuel", FuelEffect) if table.has("fuel") else None,
            opens=self._opening(table, "opens"),
            shuts=self._opening(table, "shuts"),
            shared=table.flag("shared"),
            to_faults=table.flag("to_faults"),
        )
        table.done()
        self._check(table, found)
        return found

    def _check(self, table: Table, step: StepFacts) -> None:
        if bool(step.wait_minutes) != bool(step.waits_for):
            raise table.refuse("wait", "a wait says what it waits for, and only a wait does")
        if step.touches and not step.cautions:
            raise table.refuse("cautions", "what can hurt carries its caution")
        if step.shared and (step.records or step.leaves or step.puts_back or step.fuel):
            raise table.refuse("shared", "a step for all machines records nothing of one")

    def refuse_twins(self, table: Table, steps: Iterable[StepFacts]) -> None:
        """Raises CatalogueError when a code stands twice."""
        seen: set[str] = set()
        for step in steps:
            if step.code in seen:
                raise table.refuse(f"step[{step.code}]", "stands twice")
            seen.add(step.code)

    def _when(self, table: Table) -> When:
        found = When(
            burns=table.members("burns", FuelUse),
            kinds=self._kinds(table, "kinds"),
            kinds_not=self._kinds(table, "kinds_not"),
            stands=self._tasks(table, "stands"),
            asked=self._tasks(table, "asked"),
            opening=self._opening(table, "opening"),
            routes=table.members("routes", FuelRoute),
            applies=tuple(self._applies(inner) for inner in table.tables("applies")),
            grounds=table.members("grounds", Ground),
            grounds_not=table.members("grounds_not", Ground),
            left=self._left(table, "left"),
            left_not=self._left(table, "left_not"),
            under=_perhaps_flag(table, "under"),
            runs=_perhaps_flag(table, "runs"),
            stale=_perhaps_flag(table, "stale"),
            gates=_perhaps_flag(table, "gates"),
            again=_perhaps_flag(table, "again"),
            sleep_from=table.whole("sleep_from") if table.has("sleep_from") else 0,
        )
        table.done()
        return found

    def orders(self, table: Table, steps: frozenset[str]) -> list[StepOrder]:
        """The pairs of one rule. Raises CatalogueError."""
        before, after = table.words("before"), table.words("after")
        for code in (*before, *after):
            if code not in steps and TaskCode(code) not in self.catalogue.tasks:
                raise table.refuse("before", f"{code!r} is neither step nor task")
        basis = table.table("basis")
        mark = basis.mark("order")
        basis.done()
        why, code = table.text("why"), table.optional_text("code")
        routes = table.members("routes", FuelRoute)
        table.done()
        return [
            StepOrder(before=one, after=other, why=why, mark=mark, code=code, routes=routes)
            for one in before
            for other in after
        ]

    def waived(self, table: Table) -> list[OrderWaived]:
        """Pairs of the catalogue that do not hold on a route. Raises CatalogueError."""
        before, after = self._tasks(table, "before"), self._tasks(table, "after")
        routes, why = table.members("routes", FuelRoute), table.text("why")
        sorts = table.members("sorts", RunSort)
        table.done()
        known = {(pair.before, pair.after) for pair in self.catalogue.precedence}
        pairs = [(one, other) for one in before for other in after]
        for pair in pairs:
            if pair not in known:
                raise table.refuse("before", f"{pair[0]} before {pair[1]} stands nowhere")
        return [
            OrderWaived(before=one, after=other, routes=routes, why=why, sorts=sorts)
            for one, other in pairs
        ]

    def place(self, table: Table) -> TaskPlace:
        """Where a task joins in. Raises CatalogueError."""
        found = TaskPlace(
            code=self._task(table, "task", table.text("task")),
            sort=table.member("sort", RunSort),
            stage=table.member("stage", Stage),
            routes=table.members("routes", FuelRoute),
            leaves=self._left(table, "leaves"),
        )
        table.done()
        return found

    def openings(self, table: Table) -> Iterable[tuple[RunSort, str, Stage]]:
        """The stage of each opening, for each sort of sitting. Raises CatalogueError."""
        for sort in RunSort:
            inner = table.table(sort.value)
            for opening in self.catalogue.openings:
                yield sort, opening, inner.member(opening, Stage)
            inner.done()
        table.done()

    def cautions_of(self, table: Table) -> Iterable[tuple[str, tuple[CautionCode, ...]]]:
        """What each opening adds to the cautions of work done in it. Raises CatalogueError."""
        for opening in table.data:
            if opening not in self.catalogue.openings:
                raise table.refuse(opening, "is no opening")
            yield opening, self._cautions(table, opening)
        table.done()

    def _minutes(self, table: Table, name: str) -> int:
        minutes = table.whole(name)
        if not 0 <= minutes <= MOST_MINUTES:
            raise table.refuse(name, "is no number of minutes of a day")
        return minutes

    def _kinds(self, table: Table, name: str) -> tuple[str, ...]:
        for code in table.words(name):
            if KindCode(code) not in self.catalogue.kinds:
                raise table.refuse(name, f"{code!r} is no kind")
        return table.words(name)

    def _tasks(self, table: Table, name: str) -> tuple[TaskCode, ...]:
        return tuple(self._task(table, name, code) for code in table.words(name))

    def _task(self, table: Table, name: str, code: str) -> TaskCode:
        if TaskCode(code) not in self.catalogue.tasks:
            raise table.refuse(name, f"{code!r} is no task")
        return TaskCode(code)

    def _cautions(self, table: Table, name: str = "cautions") -> tuple[CautionCode, ...]:
        for code in table.words(name):
            if CautionCode(code) not in self.catalogue.cautions:
                raise table.refuse(name, f"{code!r} is no caution")
        return tuple(CautionCode(code) for code in table.words(name))

    def _parts(self, table: Table) -> tuple[Consumable, ...]:
        for code in table.words("parts"):
            if code not in self.catalogue.parts:
                raise table.refuse("parts", f"{code!r} is no part")
        return tuple(self.catalogue.parts[code] for code in table.words("parts"))

    def _left(self, table: Table, name: str) -> tuple[LeftCode, ...]:
        for code in table.words(name):
            if LeftCode(code) not in self.left:
                raise table.refuse(name, f"{code!r} is nothing that can be left")
        return tuple(LeftCode(code) for code in table.words(name))

    def _opening(self, table: Table, name: str) -> str:
        code = table.optional_text(name)
        if code and code not in self.catalogue.openings:
            raise table.refuse(name, f"{code!r} is no opening")
        return code

    def _applies(self, table: Table) -> Applies:
        code, values = FeatureCode(table.text("feature")), table.words("values")
        feature = self.catalogue.features.get(code)
        if feature is None:
            raise table.refuse("feature", f"{code!r} is no feature")
        for value in values:
            if value not in {known for known, _text in feature.values}:
                raise table.refuse("values", f"{value!r} is no value of {code}")
        found = Applies(feature=code, values=values, unknown=table.flag("unknown"))
        table.done()
        return found


def _perhaps_flag(table: Table, name: str) -> bool | None:
    return table.flag(name) if table.has(name) else None
