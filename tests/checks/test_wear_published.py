"""Lines, intervals and rates against certified data, textbooks and a reference library."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import hypot, isclose, isnan, sqrt
from random import Random
from typing import cast

import pytest
from scipy import stats

from schedules.chances import shifted_student_below, student_below, student_point
from schedules.facts import WearRate
from schedules.lines import Point, fit_line, fit_through_zero, flatness, reaches
from schedules.wear import joined_rate, life


def points(xs: Iterable[object], ys: Iterable[object]) -> list[Point]:
    return [(Fraction(str(x)), Fraction(str(y))) for x, y in zip(xs, ys, strict=True)]


# NIST Statistical Reference Datasets, linear regression, Norris (lower difficulty).
NORRIS = """0.2 0.1; 337.4 338.8; 118.2 118.1; 884.6 888.0; 10.1 9.2; 226.5 228.1; 666.3 668.5;
996.3 998.5; 448.6 449.1; 777.0 778.9; 558.2 559.2; 0.4 0.3; 0.6 0.1; 775.5 778.1; 666.9 668.8;
338.0 339.3; 447.5 448.9; 11.6 10.8; 556.0 557.7; 228.1 228.3; 995.8 998.0; 887.6 888.8;
120.2 119.6; 0.3 0.3; 0.3 0.6; 556.8 557.6; 339.1 339.3; 887.2 888.0; 999.0 998.5; 779.0 778.9;
11.1 10.2; 118.3 117.6; 229.2 228.9; 669.1 668.4; 448.9 449.2; 0.5 0.2"""


def near(found: float | Fraction, certified: float, relative: float = 1e-9) -> bool:
    return isclose(float(found), certified, rel_tol=relative)


def test_norris_to_the_certified_digits() -> None:
    """Source: NIST StRD, Norris: estimates, their deviations, residual deviation."""
    pairs = [pair.split() for pair in NORRIS.split(";")]
    fit = fit_line(points((x for x, _ in pairs), (y for _, y in pairs)))
    assert fit.count == 36
    assert near(fit.at_zero, -0.262323073774029)
    assert near(fit.slope, 1.00211681802045)
    assert near(fit.at_zero_error, 0.232818234301152)
    assert near(fit.slope_error, 0.429796848199937e-03)
    assert near(fit.deviation, 0.884796396144373)
    assert near(fit.rest, 26.6173985294224)
    assert near(fit.slope**2 * fit.spread_x, 4255954.13232369)
    assert near(fit.slope**2 * fit.spread_x / fit.variance, 5436385.54079785)
    assert near(fit.variance, 0.782864662630069)
    assert near(1 - fit.rest / (fit.rest + fit.slope**2 * fit.spread_x), 0.999993745883712)


def test_no_intercept_to_the_certified_digits() -> None:
    """Source: NIST StRD, NoInt1."""
    fit = fit_through_zero(points(range(60, 71), range(130, 141)))
    assert near(fit.slope, 2.07438016528926)
    assert near(fit.slope_error, 0.165289256198347e-01)
    assert near(fit.deviation, 3.56753034006338)
    assert near(fit.rest, 127.272727272727)
    assert near(fit.slope**2 * fit.spread_x, 200457.727272727)
    assert near(fit.slope**2 * fit.spread_x / fit.variance, 15750.25)


def test_large_numbers_lose_no_digit() -> None:
    """Source: NIST StRD, NumAcc1: mean 10000002, deviation 1; one-pass sums in floats fail it."""
    values = [10000001, 10000003, 10000002]
    fit = fit_line(points([0, 1, 2], values))
    assert fit.at(fit.mean_x) == 10000002
    total = fit.rest + fit.slope**2 * fit.spread_x
    assert total / 2 == 1


def test_textbook_prediction() -> None:
    """Source: Kutner, Nachtsheim, Neter, Applied Linear Regression Models, airfreight breakage,
    problems 1.21, 2.15, 2.25 (data from memory; printed answers 12.748..23.652; 21.22..31.18)."""
    fit = fit_line(points([1, 0, 2, 0, 3, 1, 0, 1, 2, 0], [16, 9, 17, 12, 22, 13, 8, 15, 19, 11]))
    assert (float(fit.at_zero), float(fit.slope), float(fit.variance)) == (10.2, 4.0, 2.2)
    single = fit.band(Fraction(2), level=0.99, single=True)
    assert (round(single.low, 3), round(single.high, 3)) == (12.748, 23.652)
    assert float(fit.rest) == 17.60
    mean = fit.band(Fraction(4), level=0.99)
    assert (round(mean.low, 2), round(mean.high, 2)) == (21.22, 31.18)


def test_thermostat_read_backward() -> None:
    """Source: Graybill and Iyer, Regression Analysis (1994), p. 431: 103.995, 103.4 to 104.6."""
    ys = [95.71, 98.16, 99.52, 102.09, 103.79, 106.18, 108.14, 110.21]
    fit = fit_line(points(range(96, 112, 2), ys))
    found = reaches(fit, Fraction(104), level=0.95, readings=1)
    assert found is not None
    assert round(found.centre, 3) == 103.995
    assert (round(found.low, 1), round(found.high, 1)) == (103.4, 104.6)
    assert [round(v, 4) for v in (found.low, found.centre, found.high)] == [
        103.4041,
        103.9949,
        104.5895,
    ]


def test_crystal_growth_where_the_line_reaches_five() -> None:
    """Source: Graybill and Iyer (1994), p. 434: 9.93, 8.65 to 11.05 at 90 %."""
    ys = [0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04]
    found = reaches(fit_line(points(range(2, 30, 2), ys)), Fraction(5), level=0.90)
    assert found is not None
    assert [round(v, 2) for v in (found.low, found.centre, found.high)] == [8.65, 9.93, 11.05]


def test_five_readings_of_a_paddle() -> None:
    """Worked by hand and recomputed with scipy: 20.0 to 18.2 mm over 26 h, worn at 17.0."""
    fit = fit_line(points([0, 5, 12, 18, 26], ["20.0", "19.6", "19.2", "18.7", "18.2"]))
    assert round(float(fit.at_zero), 6) == 19.982627
    assert round(float(fit.slope), 7) == -0.0690678
    assert round(fit.deviation, 7) == 0.0430149
    assert round(flatness(fit, level=0.9), 7) == 0.0050569
    line = reaches(fit, Fraction(17), level=0.9)
    once = reaches(fit, Fraction(17), level=0.9, readings=1)
    assert line is not None
    assert once is not None
    assert [round(v, 3) for v in (line.low, line.centre, line.high)] == [41.032, 43.184, 45.651]
    assert [round(v, 3) for v in (once.low, once.high)] == [40.604, 46.079]
    next_one = fit.band(Fraction(30), level=0.9, single=True)
    assert [round(v, 3) for v in (next_one.low, next_one.high)] == [17.769, 18.052]


def test_a_flat_series_carries_no_day() -> None:
    """Worked by hand from Fieller's g: t(0.95, 2) squared over the slope's own t squared, 86.33."""
    fit = fit_line(points([0, 5, 10, 15], ["10.0", "9.6", "10.1", "9.7"]))
    assert round(flatness(fit, level=0.9), 2) == 86.33
    assert reaches(fit, Fraction(9), level=0.9) is None


def test_midge_wings_join_a_known_mean() -> None:
    """Source: Hoff, A First Course in Bayesian Statistical Methods (2009), chapter 5: posterior
    mean 1.805, variance .0019 (the printed result from memory, the formula recomputed)."""
    known = WearRate(
        rate=Fraction("1.9"), deviation=Fraction("0.95"), reading_error=Fraction("0.13038404810405")
    )
    wings = [1.64, 1.70, 1.72, 1.74, 1.82, 1.82, 1.82, 1.90, 2.08]
    rate = joined_rate(known, points([1] * 9, wings))
    assert round(rate.mean, 3) == 1.805
    assert round(rate.deviation**2, 4) == 0.0019


def test_a_weak_known_rate_gives_way_to_the_readings() -> None:
    """Source: NIST StRD, NoInt1, as wear: with nothing known before, the certified slope, however
    exactly the parts were measured."""
    for error in (Fraction(1, 100), Fraction(1), Fraction(50)):
        known = WearRate(rate=Fraction(1), deviation=Fraction(10**8), reading_error=error)
        rate = joined_rate(known, points(range(60, 71), range(130, 141)))
        assert near(rate.mean, 2.07438016528926)


def test_a_paddle_by_hand() -> None:
    """Worked by hand: known .040 ± .015 mm an hour, error .10 mm; (6 h, .42 mm), (14 h, .95 mm).

    Precision 1/.015² + (36 + 196)/.01 = 4444.4 + 23200; mean (.04·4444.4 + 1582)/27644.4."""
    known = WearRate(
        rate=Fraction("0.040"), deviation=Fraction("0.015"), reading_error=Fraction("0.10")
    )
    rate = joined_rate(known, points([6, 14], ["0.42", "0.95"]))
    assert near(rate.mean, 0.0636576, 1e-6)
    assert near(rate.deviation, 0.00601445, 1e-6)
    assert near(rate.weight_known, 0.160772, 1e-5)
    lives = [round(life(rate, 3.0, share), 2) for share in (0.1, 0.5, 0.9)]
    assert lives == [42.04, 47.13, 53.62]
    assert near(20 * rate.mean, 1.27315, 1e-5)  # a reading at 20 h, and how far it may lie off
    assert near(hypot(20 * rate.deviation, 0.10), 0.15643, 1e-4)


def test_lines_agree_with_a_reference_library() -> None:
    """Oracle: scipy.stats.linregress and t on 1,000 random sets, fixed seed."""
    chance = Random(7)
    for _ in range(1000):
        count = chance.randint(3, 9)
        xs = chance.sample(range(200), count)
        ys = [chance.randint(1000, 2000) for _ in xs]
        fit = fit_line(points(xs, ys))
        slope, _, _, _, error = cast("tuple[float, ...]", stats.linregress(xs, ys))
        assert isclose(float(fit.slope), slope, rel_tol=1e-8, abs_tol=1e-9)
        assert isclose(fit.slope_error, error, rel_tol=1e-6, abs_tol=1e-9)


@pytest.mark.long
def test_where_lines_reach_agrees_with_a_reference_library() -> None:
    """Oracle: scipy.stats.linregress and t on 1,000 random sets, fixed seed: the band
    of the mean, that of one reading, and both ends of Fieller's interval, which lie where the band
    comes to the height."""
    chance = Random(8)
    reached = 0
    for _ in range(1000):
        count = chance.randint(3, 12)
        xs = sorted(chance.sample(range(300), count))
        ys = [round(20_000 - 30 * x + chance.gauss(0, 300)) for x in xs]
        fit = fit_line(points(xs, ys))
        slope, at_zero, *_ = cast("tuple[float, ...]", stats.linregress(xs, ys))
        rest = sum((y - at_zero - slope * x) ** 2 for x, y in zip(xs, ys, strict=True))
        level = chance.choice((0.8, 0.9, 0.95, 0.99))
        t = float(stats.t.ppf((1 + level) / 2, count - 2))
        middle = sum(xs) / count
        spread = sum((x - middle) ** 2 for x in xs)
        scatter = sqrt(rest / (count - 2))
        for single in (False, True):
            at = chance.randint(0, 600)
            share = single + 1 / count + (at - middle) ** 2 / spread
            band = fit.band(Fraction(at), level=level, single=single)
            reach = t * scatter * sqrt(share)
            theirs = at_zero + slope * at
            assert isclose(band.low, theirs - reach, rel_tol=1e-7, abs_tol=1e-4)
            assert isclose(band.high, theirs + reach, rel_tol=1e-7, abs_tol=1e-4)
        found = reaches(fit, Fraction(3_000), level=level)
        assert (found is None) == (t * scatter / sqrt(spread) >= abs(slope))
        if found is None:
            continue
        reached += 1
        for end in (found.low, found.high):
            off = abs(at_zero + slope * end - 3_000)
            limit = t * scatter * sqrt(1 / count + (end - middle) ** 2 / spread)
            assert isclose(off, limit, rel_tol=1e-6, abs_tol=1e-3)
    assert reached > 800


@pytest.mark.parametrize("freedom", [1, 2, 3, 9, 17.776, 38, 200])
def test_students_t_agrees_with_a_reference_library(freedom: float) -> None:
    """Oracle: scipy.stats.t and nct."""
    for share in (0.01, 0.05, 0.5, 0.9, 0.95, 0.975, 0.995):
        point = student_point(share, freedom)
        assert isclose(point, stats.t.ppf(share, freedom), rel_tol=1e-9, abs_tol=1e-9)
        assert isclose(student_below(point, freedom), share, abs_tol=1e-12)
    for t in (-2.0, -0.5, 0.0, 0.3, 2.0, 3.2):
        for shift in (-1.0, 0.0, 0.5, 2.0, 3.16):
            theirs = float(stats.nct.cdf(t, freedom, shift))
            assert isnan(theirs) or isclose(
                shifted_student_below(t, freedom, shift), theirs, abs_tol=1e-9
            )
