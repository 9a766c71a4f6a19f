"""The shipped catalogue: every figure marked, public documents only, no makes, texts whole."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from typing import cast

import pytest

from resources.loader import Catalogue, load_catalogue, parse_catalogue, read_texts
from schedules.facts import (
    Direction,
    FigureMark,
    FuelUse,
    KindCode,
    LimitCode,
    LimitFacts,
    Mark,
    PairSort,
    TaskCode,
    TaskFacts,
    TaskSort,
)

FILES = sorted(read_texts())
# Numbers that are no figures: a year of a document, rows that share one mark beside them.
BARE = {"year", "shares", "means", "lows", "highs"}
FORBIDDEN = re.compile(r"[®™]|\bInc\b|\bLtd\b|\bGmbH\b|https?:|www\.|\.com\b", re.IGNORECASE)


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def rows(data: object, path: str = "") -> Iterator[tuple[str, dict[str, object]]]:
    """Every table of a file, with where it stands."""
    if isinstance(data, dict):
        table = cast("dict[str, object]", data)
        yield path, table
        for key, value in table.items():
            yield from rows(value, f"{path}.{key}")
    elif isinstance(data, list):
        for number, value in enumerate(cast("list[object]", data)):
            yield from rows(value, f"{path}[{number}]")


def texts_of(file: str) -> Iterator[tuple[str, str]]:
    for path, table in rows(tomllib.loads(read_texts()[file])):
        for key, value in table.items():
            if isinstance(value, str):
                yield f"{path}.{key}", value


@pytest.mark.parametrize("file", FILES)
def test_every_number_has_a_mark_beside_it(file: str):
    for path, table in rows(tomllib.loads(read_texts()[file])):
        for key, value in table.items():
            if isinstance(value, bool) or not isinstance(value, int | float) or key in BARE:
                continue
            assert "mark" in table, f"{path}.{key}"
            assert (table["mark"] == "published") == ("src" in table), f"{path}.{key}"


def figures(task: TaskFacts) -> set[str]:
    rule = task.rule
    found = {"task", "look_minutes", "do_minutes"}
    for name in ("first_seconds", "run_seconds", "months", "uses", "nth_of"):
        if getattr(rule, name) is not None:
            found.add(name)
    found |= {f"duty:{duty}" for duty, _factor in task.duties}
    return found | {f"quantity:{part.part}" for part in task.consumables if part.quantity != 1}


def assert_rests_on_something(marks: tuple[FigureMark, ...], catalogue: Catalogue) -> None:
    for mark in marks:
        assert mark.mark is not Mark.OWN_MANUAL
        assert (mark.mark is Mark.PUBLISHED) == bool(mark.sources)
        for source in mark.sources:
            assert source in catalogue.sources


def test_every_figure_of_every_kind_has_its_mark_and_source(catalogue: Catalogue):
    assert catalogue.kinds
    for kind in catalogue.kinds.values():
        assert {mark.figure for mark in kind.marks} >= {"windows", "year_seconds", "use_seconds"}
        assert_rests_on_something(kind.marks, catalogue)
        for task in kind.tasks:
            assert {mark.figure for mark in task.marks} == figures(task), (kind.code, task.code)
            assert_rests_on_something(task.marks, catalogue)


def test_every_limit_caution_and_pair_has_its_mark(catalogue: Catalogue):
    for limit in catalogue.limits.values():
        ends = {name for name in ("low", "high") if getattr(limit, name) is not None}
        rates = {"rate", "rate_deviation", "reading_error"} if limit.wear else set[str]()
        assert {mark.figure for mark in limit.marks} == ends | rates | {"limit"}
        assert_rests_on_something(limit.marks, catalogue)
    for caution in catalogue.cautions.values():
        assert_rests_on_something(caution.marks, catalogue)
    for pair in catalogue.precedence:
        assert_rests_on_something((pair.mark,), catalogue)
    for climate in catalogue.climates.values():
        assert_rests_on_something(climate.marks, catalogue)


@pytest.mark.parametrize("file", [file for file in FILES if file != "sources.toml"])
def test_no_make_is_named(file: str):
    for path, text in texts_of(file):
        assert not FORBIDDEN.search(text), f"{path}: {text}"
        for found in re.finditer(r"(?<![.:?!] )(?<!^)\b([A-Z][a-z]+)\b", text):
            pytest.fail(f"{path}: {found[1]} in {text}")


def test_only_public_documents_are_named(catalogue: Catalogue):
    public = re.compile(
        r"US |United Kingdom|State|National|American|Univers|Agric|International|North Dakota"
        r"|Minnesota|Georgia|Goodheart|USDA|Cureus|Journal|Advances|Canadian"
    )
    for source in catalogue.sources.values():
        assert public.search(source.publisher), source.source_id
    used = {
        source
        for kind in catalogue.kinds.values()
        for holder in (kind, *kind.tasks)
        for mark in holder.marks
        for source in mark.sources
    }
    assert len(used) >= 8


def test_texts_are_short_british_and_whole(catalogue: Catalogue):
    american = re.compile(
        r"\b(gas (can|tank|cap|line)|gasoline|muffler|(?<!torque )wrench|flashlight|carburetor"
        r"|tires?|color|gray|center)\b",
        re.IGNORECASE,
    )
    for task in catalogue.tasks.values():
        assert len(task.name) <= 70, task.code
        assert not task.name.endswith("."), task.code
        assert task.how.endswith("."), task.code
        assert len(task.how) <= 320, task.code
        assert not task.stop_use_if.endswith("."), task.code
        assert task.stop_use_if[:1] == task.stop_use_if[:1].lower(), task.code
        for text in (task.name, task.how, task.stop_use_if, *task.tools):
            assert not american.search(text), (task.code, text)
    for caution in catalogue.cautions.values():
        assert caution.text.endswith("."), caution.code
        assert not american.search(caution.text), caution.code
        assert len(caution.text) <= 240, caution.code


def test_one_name_is_one_task_within_a_kind(catalogue: Catalogue):
    for kind in catalogue.kinds.values():
        names = [task.name for task in kind.tasks if not task.applies]
        assert len(names) == len(set(names)), kind.code


def test_at_most_two_cautions_stop_the_reader_and_worst_comes_first(catalogue: Catalogue):
    order = ["danger", "warning", "caution", "notice"]
    for task in catalogue.tasks.values():
        ranks = [order.index(catalogue.cautions[code].severity) for code in task.cautions]
        assert ranks == sorted(ranks), (task.code, task.cautions)


def test_work_by_the_clock_is_the_work_itself(catalogue: Catalogue):
    """Plans count the look until more is known; what is done anyway takes what it takes."""
    for task in catalogue.tasks.values():
        looks = task.name.startswith(("Check", "Look", "Measure"))
        if task.sort is TaskSort.PREDETERMINED and not looks:
            assert task.look_minutes == task.do_minutes, task.code


def test_the_codes_of_the_first_list_all_stand(catalogue: Catalogue):
    assert {f"L{number:02}" for number in range(1, 53)} <= set(catalogue.limits)
    assert {f"E4-{number:02}" for number in range(1, 21)} <= set(catalogue.tasks)
    assert {f"E2-{number:02}" for number in range(1, 15)} <= set(catalogue.tasks)
    assert {"LA-01", "LA-02", "LA-03", "LI-01", "LI-02", "LI-03", "LI-04"} <= set(catalogue.tasks)
    assert {f"S1-{number:02}" for number in range(1, 9)} <= set(catalogue.tasks)
    assert {f"MW-{number:02}" for number in range(1, 10)} <= set(catalogue.tasks)
    assert {
        "C-STOP", "C-JAM", "C-SHEAR", "C-BLADE", "C-BSTOP", "C-CHAIN", "C-KICK", "C-CO", "C-GEN",
        "C-BACK", "C-FUEL", "C-POUR", "C-STORE", "C-ETH", "C-WASTE", "C-HOT", "C-TIP", "C-LIFT",
        "C-BELT", "C-LEAD", "C-LI", "C-EAR", "C-EYE", "C-HAV", "C-JET", "C-ELEC", "C-HYD",
        "C-PRES", "C-THROW", "C-CARD", "C-GUARD", "C-CRANK", "C-GREASE", "C-AIR", "C-OIL0",
    } <= set(catalogue.cautions)  # fmt: skip


def test_every_limit_caution_opening_and_part_is_used_or_known_why_not(catalogue: Catalogue):
    tasks = [task for kind in catalogue.kinds.values() for task in kind.tasks]
    openings = {task.opening for task in tasks if task.opening}
    assert openings <= set(catalogue.openings)
    parts = {part.part for task in tasks for part in task.consumables}
    parts |= {spare.part for kind in catalogue.kinds.values() for spare in kind.spares}
    assert set(catalogue.parts) == parts


def task_of(catalogue: Catalogue, kind: str, code: str) -> TaskFacts:
    return next(task for task in catalogue.kinds[KindCode(kind)].tasks if task.code == code)


def test_corrections_of_practice_stand(catalogue: Catalogue):
    valves = catalogue.tasks[TaskCode("E4-14")].rule
    assert (valves.months, valves.phases, valves.run_seconds) == (None, (), 300 * 3600)
    assert catalogue.tasks[TaskCode("E4-17")].rule.on_sight
    assert catalogue.tasks[TaskCode("E4-17")].rule.months is None
    breather = catalogue.tasks[TaskCode("E4-18")].rule
    assert breather.nth_of is not None
    assert (breather.nth_of.code, breather.months) == ("E4-14", None)
    assert catalogue.tasks[TaskCode("LA-01")].rule.months == 3
    fuel = catalogue.tasks[TaskCode("E4-20")].rule
    assert (fuel.fuel_age, fuel.stored, fuel.months, fuel.limits) == (True, True, None, ())
    assert catalogue.tasks[TaskCode("LI-03")].rule.stored
    assert catalogue.tasks[TaskCode("LI-02")].includes == ("LI-03",)
    assert catalogue.tasks[TaskCode("LA-03")].includes == ("LA-01",)
    assert "E4-06" in catalogue.tasks[TaskCode("E4-07")].includes
    assert "E2-03" in catalogue.tasks[TaskCode("E2-04")].includes
    paddles = catalogue.tasks[TaskCode("S1-01")]
    assert LimitCode("L13") not in paddles.rule.limits
    assert (paddles.look_minutes, paddles.do_minutes) == (3, 35)
    assert (catalogue.limits[LimitCode("L01")].low, catalogue.limits[LimitCode("L01")].high) == (
        700,
        800,
    )


def test_a_snow_engine_has_mostly_no_filter_and_a_mower_has_one(catalogue: Catalogue):
    for code in ("E4-04", "E4-05"):
        assert not task_of(catalogue, "K01", code).applies[0].unknown
        assert task_of(catalogue, "K04", code).applies[0].unknown
    assert task_of(catalogue, "K01", "E4-02").rule.run_seconds == 25 * 3600
    assert task_of(catalogue, "K04", "E4-02").rule.run_seconds == 50 * 3600


def test_kinds_without_an_engine_have_no_fuel_and_none_of_its_work(catalogue: Catalogue):
    for kind in catalogue.kinds.values():
        assert kind.has_engine == (kind.fuel != FuelUse.NONE)
        if not kind.has_engine:
            assert not [task.code for task in kind.tasks if task.code.startswith("E")]


def past_at_its_own_figure(limit: LimitFacts) -> bool:
    return limit.direction in {Direction.AT_MOST, Direction.AT_LEAST}


def test_a_limit_with_one_end_says_which(catalogue: Catalogue):
    for limit in catalogue.limits.values():
        if past_at_its_own_figure(limit) and not limit.editable_empty:
            assert (limit.low is None) != (limit.high is None), limit.code


def test_oil_then_bowl_then_cylinder(catalogue: Catalogue):
    pairs: Mapping[tuple[str, str], PairSort] = {
        (pair.before, pair.after): pair.sort for pair in catalogue.precedence
    }
    assert pairs["E4-12", "E4-02"] is PairSort.ORDER
    assert pairs["E4-12", "E4-11"] is PairSort.SPOILS
    assert pairs["E4-12", "E4-15"] is PairSort.SPOILS
    assert pairs["MW-05", "MW-09"] is PairSort.SPOILS
    assert pairs["E2-12", "E2-13"] is PairSort.SPOILS


def test_shares_of_each_shape_sum_to_one(catalogue: Catalogue):
    for shares in catalogue.shapes.values():
        assert sum(shares) == 1


def test_the_catalogue_is_read_once():
    assert load_catalogue() is load_catalogue()
    assert parse_catalogue(read_texts()).kinds.keys() == load_catalogue().kinds.keys()


def test_every_question_asked_changes_some_interval(catalogue: Catalogue):
    for kind in catalogue.kinds.values():
        used = {duty for task in kind.tasks for duty, _factor in task.duties}
        assert set(kind.duties) == used, kind.code
    asked = {duty for kind in catalogue.kinds.values() for duty in kind.duties}
    assert asked == set(catalogue.duties)
    features = {feature for kind in catalogue.kinds.values() for feature in kind.features}
    assert features == set(catalogue.features)
