"""What the catalogue calls published, against the figures of those documents.

Sources, named again at each check: US EPA NONROAD2008a data files (ACTIVITY.DAT 2008, US.POP
2008, SEASON.DAT 2005, NATION.GRW 2004) and its program text scrptime.f; 16 CFR 1205.5; university
and Army tables; the station record of Minneapolis and St Paul.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from resources.loader import load_catalogue
from schedules.facts import (
    CautionCode,
    Direction,
    FigureMark,
    KindCode,
    LimitCode,
    LimitFacts,
    Mark,
    SourceId,
    TaskCode,
)
from schedules.units import Quantity, Unit, convert, to_stored

NONROAD = SourceId("epa-nonroad-2008")

# ACTIVITY.DAT, home use: hours a year by kind of machine.
HOURS_A_YEAR = {
    "K01": 8,  # O-006, 2265004035 snow thrower
    "K02": 8,
    "K04": 25,  # O-005, 2265004010 lawn mower
    "K05": 45,  # O-010, 2265004055 lawn and garden tractor
    "K07": 9,  # O-008, 2260004025 trimmer, edger, brush cutter
    "K08": 9,
    "K09": 13,  # O-007, 2260004020 chain saw under 6 hp
    "K11": 10,  # 2260004030 leaf blower, vacuum
    "K13": 17,  # O-009, 2265004015 rotary tiller under 6 hp
}
STATES = {"MW": "Minnesota", "RCKMT": "Colorado", "NE": "Maine"}  # O-027, SEASON.DAT /REGIONS/
REGIONS = ("NE", "MIDAT", "SE", "SC", "SW", "MW", "CW", "NW", "RCKMT", "WCST")


def mark_of(marks: tuple[FigureMark, ...], figure: str) -> FigureMark:
    return next(mark for mark in marks if mark.figure == figure)


def limit(code: str) -> LimitFacts:
    return load_catalogue().limits[LimitCode(code)]


def shape(name: str, region: str) -> tuple[Fraction, ...]:
    return load_catalogue().shapes[name, region]


def test_sources_O_005_to_O_010_hours_a_year() -> None:
    """US EPA, ACTIVITY.DAT."""
    published = {
        kind.code: kind.year_seconds
        for kind in load_catalogue().kinds.values()
        if NONROAD in mark_of(kind.marks, "year_seconds").sources
    }
    assert published == {code: to_stored(hours, Unit.HOUR) for code, hours in HOURS_A_YEAR.items()}


def test_sources_O_011_the_generators_row_is_no_home_figure() -> None:
    """ACTIVITY.DAT gives 115 h for light commercial sets; a home's figure must not claim it."""
    kind = load_catalogue().kinds[KindCode("K15")]
    assert mark_of(kind.marks, "year_seconds").mark is not Mark.PUBLISHED
    assert kind.year_seconds < to_stored(115, Unit.HOUR)


@pytest.mark.parametrize(
    ("region", "month", "parts"),
    [("MW", 6, 167), ("SE", 1, 20), ("MIDAT", 7, 133), ("RCKMT", 3, 73)],
)
def test_sources_O_021_O_022_lawn_and_garden_shares(region: str, month: int, parts: int) -> None:
    """US EPA, SEASON.DAT: rows sum to 0.999 and are made to sum to 1."""
    row = shape("lawn", region)
    assert sum(row) == 1
    assert row[month - 1] == Fraction(parts, 999)


def test_sources_O_021_the_row_of_the_whole_country() -> None:
    """US EPA, SEASON.DAT, US total: sums to 1.0001."""
    assert shape("lawn", "US")[5] == Fraction(1354, 10_001)
    assert shape("lawn", "") == shape("lawn", "US")


def test_sources_O_023_snow_by_thirds() -> None:
    """US EPA, SEASON.DAT: December, January and February alike in every region but one."""
    for region in REGIONS:
        row = shape("snow-even", region)
        assert sum(row) == 1
        if region != "WCST":
            assert [row[month - 1] for month in (12, 1, 2)] == [Fraction(1, 3)] * 3
            assert sum(row[2:11]) == 0


def test_sources_O_024_snow_in_the_mountains_of_the_west() -> None:
    """US EPA, SEASON.DAT, WCST: March and November."""
    for name in ("snow", "snow-even"):
        row = shape(name, "WCST")
        assert (row[2], row[10]) == (Fraction("0.18"), Fraction("0.14"))


def test_sources_O_025_chain_saws_run_all_year() -> None:
    """US EPA, SEASON.DAT: each month 0.083, a row that sums to 0.996."""
    for region in (*REGIONS, ""):
        assert shape("flat", region) == (Fraction(1, 12),) * 12


def test_sources_C_01_the_countrys_snow_has_its_spring_crumbs() -> None:
    """US EPA, SEASON.DAT, US total: April .0012 and May .0004 are in the file."""
    row = shape("snow-even", "US")
    assert (row[3], row[4]) == (Fraction(12, 10_002), Fraction(4, 10_002))


def test_sources_O_027_regions_of_three_states_are_known() -> None:
    """US EPA, SEASON.DAT /REGIONS/."""
    for region in STATES:
        assert shape("lawn", region)


@pytest.mark.parametrize(
    ("month", "tenths"), [(10, 2), (11, 18), (12, 29), (1, 33), (2, 26), (3, 27), (4, 8), (5, 1)]
)
def test_sources_O_062_O_063_O_064_snow_by_days_of_snow(month: int, tenths: int) -> None:
    """Minnesota state climatology office: mean days with an inch or more, 14.4 a season."""
    share = shape("snow", "MW")[month - 1]
    assert abs(share - Fraction(tenths, 144)) < Fraction(1, 1000)


@pytest.mark.parametrize(
    ("life", "load", "hours", "running", "years"),
    [
        ("47.9", "0.33", 25, "145.2", "5.81"),  # O-012, O-015 home mower
        ("12.3", "0.35", 8, "35.1", "4.39"),  # O-013, O-016 home snow thrower
        ("39.2", "0.70", 13, "56.0", "4.31"),  # O-014 home chain saw
        ("39.4", "0.40", 17, "98.5", "5.79"),  # home tiller
        ("114.8", "0.44", 45, "260.9", "5.80"),  # home tractor
    ],
)
def test_sources_O_012_to_O_016_life_in_running_hours(
    life: str, load: str, hours: int, running: str, years: str
) -> None:
    """US EPA, US.POP and scrptime.f: running hours = life / load; years = that / hours a year."""
    ran = Fraction(life) / Fraction(load)
    assert abs(ran - Fraction(running)) <= Fraction(1, 20)
    assert abs(ran / hours - Fraction(years)) <= Fraction(1, 200)
    # and the hours are those the catalogue plans with
    assert hours in HOURS_A_YEAR.values()


def test_sources_O_028_blade_stop() -> None:
    """16 CFR 1205.5(a)(1)(iii): stopped within 3.0 s of letting go."""
    stop = limit("L35")
    assert (stop.direction, stop.unit, stop.high) == (Direction.AT_MOST, Unit.SECOND, 3)
    assert mark_of(stop.marks, "high").mark is Mark.PUBLISHED


def test_sources_O_043_plug_gap_lies_in_the_catalogues() -> None:
    """Army technical manual, small engine tune-up data: 0.028 to 0.030 in."""
    gap = limit("L01")
    assert gap.low is not None
    assert gap.high is not None
    assert gap.low <= to_stored(Fraction("0.028"), Unit.INCH) <= gap.high
    assert gap.low <= to_stored(Fraction("0.030"), Unit.INCH) <= gap.high


def test_sources_O_044_plug_torque() -> None:
    """University extension table, 14 mm thread, gasket, aluminium head: 15 to 22 lbf.ft."""
    torque = limit("L04")
    assert torque.unit is Unit.MILLINEWTON_METRE
    assert torque.low == to_stored(15, Unit.POUND_FORCE_FOOT)
    assert torque.high == to_stored(22, Unit.POUND_FORCE_FOOT)
    assert mark_of(torque.marks, "low").mark is Mark.PUBLISHED


def test_sources_O_047_belt_deflection_is_left_to_the_span() -> None:
    """Army technical manual, fig. 4-51: a sixty-fourth of the span, so no one figure can stand."""
    deflection = limit("L23")
    assert (deflection.low, deflection.high) == (None, None)
    assert deflection.editable_empty
    assert "sixty-fourth" in deflection.how


def test_sources_O_053_charging_warmth() -> None:
    """US Fire Administration: 0 to 40 degrees."""
    warmth = limit("L48")
    assert (warmth.direction, warmth.low, warmth.high) == (
        Direction.BETWEEN,
        to_stored(0, Unit.DEGREE_CELSIUS),
        to_stored(40, Unit.DEGREE_CELSIUS),
    )


def test_sources_O_057_a_quarter_of_an_hour_at_a_hundred_decibels() -> None:
    """NIOSH: 8 h at 85 dB(A), half for each 3 dB more."""
    assert Fraction(480, 2 ** ((100 - 85) // 3)) == 15
    assert Fraction(480, 2 ** ((94 - 85) // 3)) == 60


@pytest.mark.parametrize(
    ("code", "hours"),
    [
        ("E4-02", 50),  # O-031, Army pump engine, para 3-3; inside the 10-50 h of O-032
        ("E4-07", 100),  # O-033, university extension
        ("E4-08", 50),  # O-035, university extension
    ],
)
def test_sources_O_031_O_033_O_035_intervals_in_hours(code: str, hours: int) -> None:
    task = load_catalogue().tasks[TaskCode(code)]
    assert task.rule.run_seconds == to_stored(hours, Unit.HOUR)
    assert mark_of(task.marks, "run_seconds").mark is Mark.PUBLISHED


def test_sources_O_036_standby_engines_are_run_every_month() -> None:
    """Army technical manual on generator sets, para 2-13a: not over 30 days apart."""
    task = load_catalogue().tasks[TaskCode("GN-01")]
    assert task.rule.months == 1
    assert mark_of(task.marks, "months").mark is Mark.PUBLISHED


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("C-GEN", ("6.1 m", "20 ft")),  # O-054, Consumer Product Safety Commission
        ("C-ETH", ("10 %",)),  # O-061, Environmental Protection Agency
        ("C-CHAIN", ("3 m (10 ft)",)),  # O-060, Occupational Safety and Health Administration
        ("C-LI", ("0 and 40",)),  # O-053, US Fire Administration
        ("C-EAR", ("85 dB(A)", "100 dB(A)", "quarter of an hour")),  # O-056, NIOSH
    ],
)
def test_sources_O_053_O_054_O_056_O_060_O_061_figures_in_cautions(
    code: str, words: tuple[str, ...]
) -> None:
    text = load_catalogue().cautions[CautionCode(code)].text
    for word in words:
        assert word in text


def test_sources_O_054_both_figures_are_one_distance() -> None:
    feet = convert(Quantity(Fraction(20), Unit.FOOT), Unit.METRE).amount
    assert abs(feet - Fraction("6.1")) < Fraction(1, 100)
