"""Before and after against published data and a reference library. Sources at each check."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import exp, isclose, log, sqrt
from random import Random
from typing import Any

import pytest
from scipy import stats

from schedules.trials import (
    TrialFacts,
    Verdict,
    exit_speed,
    flips,
    judge_trial,
    needed_a_side,
    paired,
    power,
    ranks,
    signed_ranks,
    throw,
    welch,
)

SLEEP_1 = (0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0)
SLEEP_2 = (1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4)


def test_sleep_unpaired() -> None:
    """Source: Student 1908; R datasets manual `sleep`: t -1.8608, df 17.776, p .07939,
    -3.3655..0.2055."""
    found = welch(SLEEP_2, SLEEP_1)
    assert round(found.t, 4) == -1.8608
    assert round(found.freedom, 3) == 17.776
    assert round(found.chance, 5) == 0.07939
    assert (round(found.low, 4), round(found.high, 4)) == (-3.3655, 0.2055)


def test_sleep_paired() -> None:
    """Source: the same: paired t -4.0621, df 9, p .002833."""
    found = paired(SLEEP_2, SLEEP_1)
    assert (round(found.t, 4), found.freedom, round(found.chance, 6)) == (-4.0621, 9, 0.002833)


def test_maize() -> None:
    """Source: Darwin's maize (Fisher 1935; R HistData `ZeaMays`): t 2.148, df 14, p .0497."""
    gaps = (49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48)
    found = paired([0.0] * 15, [float(gap) for gap in gaps])
    assert (round(found.t, 3), found.freedom, round(found.chance, 4)) == (2.148, 14, 0.0497)
    counted = flips(gaps)
    assert (counted.as_much, counted.ways) == (863, 32_768)
    assert round(counted.chance, 5) == 0.02634


DEPRESSION_1 = ("1.83", "0.50", "1.62", "2.48", "1.68", "1.88", "1.55", "3.06", "1.30")
DEPRESSION_2 = ("0.878", "0.647", "0.598", "2.05", "1.06", "1.29", "1.06", "3.14", "1.29")


def test_depression_by_signed_ranks() -> None:
    """Source: Hollander and Wolfe; R manual, wilcox.test, paired, greater: V 40, p .01953."""
    pairs = zip(DEPRESSION_1, DEPRESSION_2, strict=True)
    found = signed_ranks([float(Fraction(a) - Fraction(b)) for a, b in pairs])
    assert (found.v, round(found.chance, 5)) == (40, 0.01953)


@pytest.mark.parametrize(("pairs", "least"), [(5, 0.0625), (6, 0.03125)])
def test_fewer_than_six_pairs_prove_nothing(pairs: int, least: float) -> None:
    """The least two-sided chance of so few, counted: 2 of all ways to sign them."""
    assert 2 * signed_ranks([float(n) for n in range(1, pairs + 1)]).chance == least


def test_signed_ranks_agree_with_a_reference_library() -> None:
    """Oracle: scipy.stats.wilcoxon, exact, 100 random sets of gaps without ties."""
    chance = Random(5)
    for _ in range(100):
        gaps = [size * chance.choice((-1, 1)) for size in chance.sample(range(1, 60), 8)]
        theirs: Any = stats.wilcoxon(gaps, alternative="greater", method="exact")
        found = signed_ranks([float(gap) for gap in gaps])
        assert found.v == theirs.statistic
        assert isclose(found.chance, theirs.pvalue, rel_tol=1e-9)


def test_sleep_by_ranks() -> None:
    """Source: R manual, wilcox.test on `sleep`: W 25.5, with ties. Its p rests on the normal
    curve; ours is counted."""
    found = ranks(SLEEP_2, SLEEP_1)
    assert found.u == 25.5
    assert found.chance == pytest.approx(0.06933, abs=0.005)


def test_ranks_of_the_manual() -> None:
    """Source: SciPy manual, mannwhitneyu: 19 22 16 29 24 and 20 11 17 12, U 17, exact p .1111."""
    found = ranks([20, 11, 17, 12], [19, 22, 16, 29, 24])
    assert (found.u, round(found.chance, 4)) == (17, 0.1111)


def test_ranks_agree_with_a_reference_library() -> None:
    """Oracle: scipy.stats.mannwhitneyu, exact where there are no ties, 100 random pairs."""
    chance = Random(3)
    for _ in range(100):
        first = chance.sample(range(40), chance.randint(2, 7))
        second = chance.sample(range(40), chance.randint(2, 7))
        found = ranks(first, second)
        assert found.u == stats.mannwhitneyu(second, first).statistic
        if not set(first) & set(second):
            theirs = stats.mannwhitneyu(second, first, method="exact").pvalue
            assert isclose(found.chance, theirs, rel_tol=1e-9)


@pytest.mark.parametrize(("a_side", "least"), [(3, 0.100), (4, 0.0286), (5, 0.0079)])
def test_fewer_than_four_a_side_prove_nothing(a_side: int, least: float) -> None:
    """The least two-sided chance of so few, counted: 2 of all ways to deal them."""
    found = ranks([float(i) for i in range(a_side)], [10.0 + i for i in range(a_side)])
    assert round(found.chance, 4) == pytest.approx(least, abs=5e-5)


def test_power_of_the_manual() -> None:
    """Source: R manual, power.t.test: n 20, delta 1, sd 1: .8689528; power .90 needs 22.02110."""
    assert round(power(1, 1, 20), 7) == 0.8689528
    assert needed_a_side(1, 1, wanted=0.90) == 23


@pytest.mark.parametrize(
    ("cv", "at_80", "at_90"),
    [(0.05, 3, 3), (0.08, 5, 6), (0.10, 6, 8), (0.15, 12, 16), (0.20, 20, 26), (0.30, 42, 56)],
)
def test_throws_a_side_for_a_fifth(cv: float, at_80: int, at_90: int) -> None:
    """Worked with the non-central t on logarithms, spread sqrt(log(1 + cv²)), gap log 1.2."""
    spread = sqrt(log(1 + cv * cv))
    assert needed_a_side(log(1.2), spread) == at_80
    assert needed_a_side(log(1.2), spread, wanted=0.90) == at_90


@pytest.mark.parametrize(
    ("cv", "a_side", "least"),
    [
        *((0.10, n, share) for n, share in ((5, 22.4), (6, 19.6), (8, 16.2), (10, 14.1))),
        *((0.15, n, share) for n, share in ((5, 35.3), (6, 30.7), (8, 25.2), (10, 21.9))),
        *((0.20, n, share) for n, share in ((5, 49.3), (6, 42.7), (8, 34.8), (10, 30.0))),
    ],
)
def test_the_least_change_that_is_seen_four_times_in_five(
    cv: float, a_side: int, least: float
) -> None:
    """Worked with the non-central t on logarithms, in per cent, to a tenth."""
    spread = sqrt(log(1 + cv * cv))
    below, above = (power(log(1 + (least + off) / 100), spread, a_side) for off in (-0.06, 0.06))
    assert below < 0.80 < above


BEFORE = (4.1, 3.8, 4.4, 4.0, 3.6, 4.2, 3.9, 4.3)
AFTER = (4.9, 5.3, 4.6, 5.1, 5.4, 4.8, 5.0, 4.7)


def test_eight_throws_a_side() -> None:
    """Worked with scipy: geometric ratio 1.2329 (1.1536..1.3176), Welch on logs t 6.7744."""
    found = welch([log(v) for v in BEFORE], [log(v) for v in AFTER])
    assert (round(found.t, 4), round(found.freedom, 3)) == (6.7744, 13.614)
    assert [round(exp(v), 4) for v in (found.low, found.difference, found.high)] == [
        1.1536,
        1.2329,
        1.3176,
    ]
    counted = ranks(BEFORE, AFTER)
    assert (counted.u, round(counted.chance, 6)) == (64, 0.000155)
    assert round(counted.shift, 2) == 0.90
    verdict = judge_trial(TrialFacts(before=BEFORE, after=AFTER, more_is_better=True))
    assert verdict.verdict is Verdict.BETTER
    assert verdict.ratio is not None
    assert round(verdict.ratio, 4) == 1.2222


def test_a_reference_machine_takes_its_share() -> None:
    """Half of the gain was the snow: 4.95/4.05 over 5.5/5.0 is 1.1111."""
    verdict = judge_trial(
        TrialFacts(
            before=BEFORE,
            after=AFTER,
            more_is_better=True,
            same_conditions=False,
            reference_before=(5.0,),
            reference_after=(5.5,),
        )
    )
    assert verdict.ratio is not None
    assert round(verdict.ratio, 4) == 1.1111


def _against(reference_before: tuple[float, ...], reference_after: tuple[float, ...]) -> TrialFacts:
    return TrialFacts(
        before=BEFORE,
        after=AFTER,
        more_is_better=True,
        same_conditions=False,
        reference_before=reference_before,
        reference_after=reference_after,
    )


def test_the_scatter_of_a_reference_widens_the_interval() -> None:
    """Worked by hand: the reaches of both at right angles, about the same middle."""
    once = judge_trial(_against((5.0,), (5.5,)))
    scattered = judge_trial(_against((4.6, 5.0, 5.4), (5.1, 5.5, 5.9)))
    assert once.low is not None
    assert once.high is not None
    assert scattered.low is not None
    assert scattered.high is not None
    assert scattered.ratio == once.ratio
    reference = welch([log(v) for v in (4.6, 5.0, 5.4)], [log(v) for v in (5.1, 5.5, 5.9)])
    middle = welch([log(v) for v in BEFORE], [log(v / 1.1) for v in AFTER]).difference
    reach = reference.high - reference.difference
    assert log(scattered.low) == pytest.approx(
        middle - sqrt((middle - log(once.low)) ** 2 + reach**2)
    )
    assert log(scattered.high) == pytest.approx(
        middle + sqrt((log(once.high) - middle) ** 2 + reach**2)
    )
    assert (once.verdict, scattered.verdict) == (Verdict.BETTER, Verdict.NO_TELLING)
    assert once.chance is not None
    assert scattered.chance is None


@pytest.mark.long
def test_the_interval_with_a_reference_holds_what_is_true() -> None:
    """Coverage, fixed seed: a true gain of a fifth, snow a tenth lighter; 95 % intervals."""
    chance = Random(11)
    held = 0
    for _ in range(600):
        a_side = chance.choice((5, 8))
        before, after, first, second = (
            tuple(exp(chance.gauss(log(middle), 0.12)) for _ in range(count))
            for middle, count in ((4.0, a_side), (4.0 * 1.2 * 1.1, a_side), (5.0, 4), (5.5, 4))
        )
        found = judge_trial(
            TrialFacts(
                before=before,
                after=after,
                more_is_better=True,
                same_conditions=False,
                reference_before=first,
                reference_after=second,
            )
        )
        assert found.low is not None
        assert found.high is not None
        held += found.low <= 1.2 <= found.high
    assert 0.93 <= held / 600 <= 0.99


def test_no_reference_makes_up_for_other_revs() -> None:
    facts = replace(_against((5.0, 5.1), (5.5, 5.6)), own_settings=False)
    assert judge_trial(facts).verdict is Verdict.CONDITIONS_DIFFER


def test_a_throw_without_drag() -> None:
    """Source: OpenStax, University Physics 1, section 4.3: 20 m/s at 40 degrees from 20 m up falls
    13.3 m short of a green 70 m off (the book rounds the flight time: exact 13.0)."""
    assert 70 - throw(20, 40, 20) == pytest.approx(13.3, abs=0.4)


def test_speeds_from_throws() -> None:
    """Worked by hand: 6 m and 9 m from 0.9 m at 45 degrees; on level ground sqrt(1.5)."""
    assert exit_speed(6, 45, 0.9) == pytest.approx(7.15298, abs=1e-5)
    assert exit_speed(9, 45, 0.9) == pytest.approx(8.95747, abs=1e-5)
    assert exit_speed(9, 45, 0.9) / exit_speed(6, 45, 0.9) == pytest.approx(1.252271, abs=1e-6)
    assert exit_speed(9, 45) / exit_speed(6, 45) == pytest.approx(sqrt(1.5))
    # Revs from 3,600 to 3,100 a minute, speed with them, range with their square.
    assert throw(3100, 45) / throw(3600, 45) == pytest.approx(0.741512, abs=1e-6)
    assert throw(exit_speed(7, 40, 0.8), 40, 0.8) == pytest.approx(7)
