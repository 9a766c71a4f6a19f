"""Bad data is refused with the file, the key and what is wrong."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path

import pytest

from resources.loader import Catalogue, CatalogueError, parse_catalogue
from schedules.facts import (
    FeatureCode,
    ItemSort,
    KindCode,
    LimitCode,
    Mark,
    MonthDay,
    SourceId,
    TaskCode,
    Window,
)

KIND = "catalogue/kind-k01.toml"
OURS = 'mark = "our_judgement"'
PAIR_BACK = f"""
[[rule]]
before = ["E4-02"]
after = ["S1-01"]
sort = "spoils"
why = "why"
basis = {{ {OURS} }}
[[rule]]
before = ["S1-01"]
after = ["E4-01"]
sort = "order"
why = "why"
basis = {{ {OURS} }}
"""

CASES = tomllib.loads(Path(__file__).with_name("refusals.toml").read_text("utf-8"))["case"]


@pytest.mark.parametrize("case", CASES, ids=[case["what"] for case in CASES])
def test_bad_data_is_refused_with_file_key_and_problem(small: dict[str, str], case: dict[str, str]):
    file = case["file"]
    assert case["old"] in small[file]
    small[file] = small[file].replace(case["old"], case["new"], 1)
    with pytest.raises(CatalogueError) as caught:
        parse_catalogue(small)
    assert caught.value.file == case.get("where", file)
    assert caught.value.key == case["key"]
    assert case["problem"] in caught.value.problem
    assert str(caught.value).startswith(f"{caught.value.file}: ")


def test_a_ring_of_pairs_is_named_whole(small: dict[str, str]):
    small["precedence.toml"] += PAIR_BACK
    with pytest.raises(CatalogueError) as caught:
        parse_catalogue(small)
    assert caught.value.problem == "goes round: E4-01 > E4-02 > S1-01 > E4-01"


def test_a_file_that_is_missing_is_named(small: dict[str, str]):
    del small["catalogue/shapes.toml"]
    with pytest.raises(CatalogueError) as caught:
        parse_catalogue(small)
    assert caught.value.file == "catalogue/shapes.toml"


def test_a_code_may_stand_in_a_second_file_but_not_in_two(small: dict[str, str]):
    small["catalogue/duties-kinds.toml"] = '[rain]\nquestion = "Does it rain?"\n'
    assert set(parse_catalogue(small).duties) == {"dust", "rain"}
    small["catalogue/duties-kinds.toml"] = '[dust]\nquestion = "Dusty?"\n'
    with pytest.raises(CatalogueError) as caught:
        parse_catalogue(small)
    assert (caught.value.file, caught.value.key) == ("catalogue/duties-kinds.toml", "dust")


# -- and good data becomes what it says -------------------------------------------------------


@pytest.fixture
def digger(small: dict[str, str]) -> Catalogue:
    return parse_catalogue(small)


def test_a_kind_is_its_blocks_with_overrides_and_its_own(digger: Catalogue):
    kind = digger.kinds[KindCode("K01")]
    assert [task.code for task in kind.tasks] == ["E4-01", "E4-02", "S1-01", "S1-02"]
    assert kind.tasks[1].rule.run_seconds == 25 * 3600
    assert digger.tasks[TaskCode("E4-02")].rule.run_seconds == 100 * 3600
    assert [task.item for task in kind.tasks] == [ItemSort.ENGINE] * 2 + [ItemSort.MACHINE] * 2
    assert kind.windows == (Window(MonthDay(11, 1), MonthDay(3, 31)),)
    assert (kind.year_seconds, kind.use_seconds) == (8 * 3600, 1800)
    assert kind.features == (FeatureCode("filter"),)
    assert kind.spares[0].quantity == 2


def test_decimals_and_marks_come_through_exactly(digger: Catalogue):
    task = digger.tasks[TaskCode("E4-01")]
    assert task.duties == (("dust", Fraction(2, 5)),)
    marks = {mark.figure: mark for mark in task.marks}
    assert marks["run_seconds"].mark is Mark.PUBLISHED
    assert marks["run_seconds"].sources == ("read-text",)
    assert set(marks) == {
        "task", "run_seconds", "months", "look_minutes", "do_minutes", "duty:dust",
    }  # fmt: skip
    assert digger.limits[LimitCode("L01")].low == 700
    assert digger.climates["mild"].month_means_mc[11] == 1500


def test_shares_are_normalised(digger: Catalogue):
    assert digger.shapes["flat", "MW"] == digger.shapes["flat", ""] == (Fraction(1, 12),) * 12


def test_a_source_never_seen_is_not_shown(digger: Catalogue):
    assert set(digger.sources) == {"read-text", "quoted-text"}
    assert digger.sources[SourceId("read-text")].read
    assert not digger.sources[SourceId("quoted-text")].read


def test_an_included_task_that_a_kind_has_not_falls_away(small: dict[str, str]):
    small[KIND] = small[KIND].replace('icon = "k01"', 'icon = "k01"\ndrop = ["E4-01"]')
    kind = parse_catalogue(small).kinds[KindCode("K01")]
    assert (kind.tasks[0].code, kind.tasks[0].includes) == ("E4-02", ())


def test_a_block_can_stand_on_a_feature(small: dict[str, str]):
    block = '[[block]]\ncode = "E4"'
    row = 'applies = [{ feature = "filter", values = ["none"], unknown = false }]'
    small[KIND] = small[KIND].replace(block, f"{block}\n{row}")
    kind = parse_catalogue(small).kinds[KindCode("K01")]
    assert [applies.values for applies in kind.tasks[0].applies] == [("none",), ("foam",)]
    assert [applies.values for applies in kind.tasks[1].applies] == [("none",)]
    assert kind.tasks[2].applies == ()
