"""What the catalogue says against what was published; each check is named after its source list."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from resources.loader import Catalogue, load_catalogue
from schedules.facts import (
    CautionCode,
    Direction,
    KindCode,
    LimitCode,
    LimitFacts,
    Mark,
    Phase,
    TaskCode,
    TaskFacts,
)

HOUR = 3600


def kind_hours(catalogue: Catalogue, code: str) -> Fraction:
    kind = catalogue.kinds[KindCode(code)]
    mark = next(mark for mark in kind.marks if mark.figure == "year_seconds")
    assert mark.sources == ("epa-nonroad-2008",)
    return Fraction(kind.year_seconds, HOUR)


def task(catalogue: Catalogue, code: str, figure: str, source: str) -> TaskFacts:
    """The task, whose figure has to name the source."""
    found = catalogue.tasks[TaskCode(code)]
    assert source in next(mark for mark in found.marks if mark.figure == figure).sources
    return found


def limit(catalogue: Catalogue, code: str, source: str) -> LimitFacts:
    found = catalogue.limits[LimitCode(code)]
    assert any(source in mark.sources for mark in found.marks)
    return found


def shape(catalogue: Catalogue, name: str, region: str, month: int) -> float:
    return float(catalogue.shapes[name, region][month - 1])


def caution(catalogue: Catalogue, code: str, source: str) -> str:
    found = catalogue.cautions[CautionCode(code)]
    assert source in found.marks[0].sources
    return found.text


def near(value: float, published: float) -> bool:
    """Equal to the printed figure, once the row is made to sum to one."""
    return abs(value - published) < 0.0015


def snow_gap(catalogue: Catalogue) -> bool:
    found = limit(catalogue, "L01", "tm-5-4310-360-14")
    low, high = found.low or 0, found.high or 0
    return low <= 0.028 * 25400 and high >= 0.030 * 25400


def torque(catalogue: Catalogue) -> bool:
    found = limit(catalogue, "L04", "lsu-plug-torque")
    foot_pound = 0.45359237 * 9.80665 * 0.3048 * 1000
    return (found.low, found.high) == (round(15 * foot_pound), round(22 * foot_pound))


def stop_time(catalogue: Catalogue) -> bool:
    found = limit(catalogue, "L35", "cfr-16-1205")
    return (found.direction, found.high, found.unit.value) == (Direction.AT_MOST, 3, "s")


def charging(catalogue: Catalogue) -> bool:
    found = limit(catalogue, "L48", "usfa-battery")
    return (found.low, found.high) == (0, 40_000)


def leaks(catalogue: Catalogue) -> bool:
    found = limit(catalogue, "L52", "tm-5-3895-383-24")
    return (found.direction, found.high) == (Direction.AT_MOST, 3)


def fuel_leak(catalogue: Catalogue) -> bool:
    found = limit(catalogue, "L55", "tm-5-5420-227-24")
    looked_for = catalogue.tasks[TaskCode("E4-09")]
    return found.direction is Direction.EVENT and "L55" in looked_for.rule.limits


def twice_a_year(catalogue: Catalogue) -> bool:
    found = task(catalogue, "MW-01", "task", "purdue-blades")
    return found.rule.phases == (Phase.BEFORE, Phase.MIDDLE)


CHECKS: dict[str, Callable[[Catalogue], bool]] = {
    "sources-O-005": lambda found: kind_hours(found, "K04") == 25,
    "sources-O-006": lambda found: kind_hours(found, "K01") == 8 == kind_hours(found, "K02"),
    "sources-O-007": lambda found: kind_hours(found, "K09") == 13,
    "sources-O-008": lambda found: kind_hours(found, "K07") == 9 == kind_hours(found, "K08"),
    "sources-O-009": lambda found: kind_hours(found, "K13") == 17,
    "sources-O-010": lambda found: kind_hours(found, "K05") == 45,
    "sources-O-021": lambda found: near(shape(found, "lawn", "MW", 6), 0.167),
    "sources-O-022": lambda found: near(shape(found, "lawn", "SE", 1), 0.020),
    "sources-O-023": lambda found: all(
        shape(found, "snow-even", region, month) == pytest.approx(1 / 3)
        for region in ("NE", "MIDAT", "SE", "SC", "SW", "MW", "CW", "NW", "RCKMT")
        for month in (1, 2, 12)
    ),
    "sources-O-024": lambda found: (
        near(shape(found, "snow-even", "WCST", 3), 0.18)
        and near(shape(found, "snow-even", "WCST", 11), 0.14)
    ),
    "sources-O-025": lambda found: found.shapes["flat", ""] == (Fraction(1, 12),) * 12,
    "sources-O-028": stop_time,
    "sources-O-031": lambda found: (
        task(found, "E4-02", "run_seconds", "tm-5-4320-234-12").rule.run_seconds == 50 * HOUR
    ),
    "sources-O-033": lambda found: (
        task(found, "E4-07", "run_seconds", "msu-mower").rule.run_seconds == 100 * HOUR
    ),
    "sources-O-034": twice_a_year,
    "sources-O-035": lambda found: (
        task(found, "E4-08", "run_seconds", "georgia-cooling").rule.run_seconds == 50 * HOUR
    ),
    "sources-O-041": leaks,
    "sources-O-042": fuel_leak,
    "sources-O-043": snow_gap,
    "sources-O-044": torque,
    "sources-O-053": charging,
    "sources-O-054": lambda found: "6.1 m (20 ft)" in caution(found, "C-GEN", "cpsc-generator-co"),
    "sources-O-059": lambda found: "23 kg (51 lb)" in caution(found, "C-LIFT", "niosh-lifting"),
    "sources-O-060": lambda found: all(
        "3 m (10 ft)" in caution(found, code, "osha-1910-266") for code in ("C-CHAIN", "C-FUEL")
    ),
    "sources-O-061": lambda found: "10 % ethanol" in caution(found, "C-ETH", "epa-e15"),
    "sources-O-063": lambda found: (
        shape(found, "snow", "", 1) / shape(found, "snow", "", 12) == pytest.approx(3.3 / 2.9, 0.01)
    ),
    "sources-O-064": lambda found: near(shape(found, "snow", "", 1), 0.229),
    "sources-C-01": lambda found: (
        shape(found, "snow-even", "", 4) == pytest.approx(0.0012 / 1.0002)
        and shape(found, "snow-even", "", 5) == pytest.approx(0.0004 / 1.0002)
    ),
    "sources-C-09": lambda found: "one car oil change" in caution(found, "C-WASTE", "epa-used-oil"),
    "sources-C-14": lambda found: (
        found.cautions[CautionCode("C-EAR")].marks[0].mark is Mark.COMMON_PRACTICE
    ),
}


@pytest.mark.parametrize("name", CHECKS)
def test_the_catalogue_agrees_with_what_was_published(name: str):
    assert CHECKS[name](load_catalogue())


def test_what_was_never_published_does_not_claim_it():
    """No public text gives a two-stroke interval, a gap in paddles, or a storage charge."""
    catalogue = load_catalogue()
    unpublished = {"L02", "L03", "L05", "L06", "L07", "L09", "L41", "L42", "L46", "L47", "L50"}
    unpublished |= {f"L{number}" for number in (*range(10, 23), *range(24, 35), *range(36, 41))}
    unpublished |= {"L43", "L44", "L45", "L51", "L53", "L54"}
    for code in unpublished:
        for mark in catalogue.limits[LimitCode(code)].marks:
            assert mark.mark is not Mark.PUBLISHED, code
    for found in catalogue.tasks.values():
        if found.code.startswith("E2-"):
            assert all(mark.mark is not Mark.PUBLISHED for mark in found.marks), found.code
