"""Before and after: whether a repair helped, by how much, and how sure that is.

Medians are compared, ratios are stated, and an interval always goes with them. Where few
measurements, ties or outliers forbid the t distribution, ranks are counted exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import comb, cos, exp, hypot, isclose, log, radians, sin, sqrt, tan
from statistics import median, pvariance, variance

from schedules.chances import shifted_student_below, student_point, two_sided

LEVEL = 0.95
LEAST_A_SIDE = 4
# Beyond so many a side the t distribution on logarithms is used, if there are no outliers.
_RANKS_UP_TO = 6
GRAVITY = 9.80665


@dataclass(frozen=True, slots=True)
class Welch:
    """Welch's comparison of two means: second less first, with its interval."""

    difference: float
    low: float
    high: float
    t: float
    freedom: float
    chance: float


@dataclass(frozen=True, slots=True)
class Ranks:
    """Mann and Whitney's count (of the second set over the first) and its exact two-sided chance;
    the shift of Hodges and Lehmann with its interval."""

    u: float
    chance: float
    shift: float
    low: float
    high: float


def welch(first: Sequence[float], second: Sequence[float], *, level: float = LEVEL) -> Welch:
    """Two means, variances not taken as equal. Raises ValueError below two values a side."""
    if len(first) < 2 or len(second) < 2:
        raise ValueError("two values a side at least")
    parts = [variance(first) / len(first), variance(second) / len(second)]
    error = sqrt(sum(parts))
    difference = sum(second) / len(second) - sum(first) / len(first)
    if error == 0:
        return Welch(difference, difference, difference, 0.0, 1.0, 1.0 if difference == 0 else 0.0)
    freedom = sum(parts) ** 2 / (
        parts[0] ** 2 / (len(first) - 1) + parts[1] ** 2 / (len(second) - 1)
    )
    t = difference / error
    reach = student_point((1 + level) / 2, freedom) * error
    return Welch(
        difference, difference - reach, difference + reach, t, freedom, two_sided(t, freedom)
    )


def paired(first: Sequence[float], second: Sequence[float], *, level: float = LEVEL) -> Welch:
    """The same thing twice each: the mean of the differences. Raises ValueError below two."""
    gaps = [b - a for a, b in zip(first, second, strict=True)]
    if len(gaps) < 2:
        raise ValueError("two pairs at least")
    mean = sum(gaps) / len(gaps)
    error = sqrt(variance(gaps) / len(gaps))
    freedom = len(gaps) - 1
    if error == 0:
        return Welch(mean, mean, mean, 0.0, freedom, 1.0 if mean == 0 else 0.0)
    reach = student_point((1 + level) / 2, freedom) * error
    return Welch(
        mean, mean - reach, mean + reach, mean / error, freedom, two_sided(mean / error, freedom)
    )


@dataclass(frozen=True, slots=True)
class Flips:
    """Of all the ways to give gaps their signs (`ways`), how many come to as much as was found or
    more; `v` the sum of what is above nought."""

    v: float
    as_much: int
    ways: int

    @property
    def chance(self) -> float:
        """That so much or more comes by chance alone, one side."""
        return self.as_much / self.ways


def flips(gaps: Sequence[float]) -> Flips:
    """Fisher's count over the gaps of pairs themselves, exactly; gaps of nought say nothing."""
    said = [gap for gap in gaps if gap != 0]
    ways: dict[float, int] = {0.0: 1}
    for gap in said:
        more: dict[float, int] = {}
        for total, count in ways.items():
            for end in (total, total + abs(gap)):
                more[end] = more.get(end, 0) + count
        ways = more
    v = sum(gap for gap in said if gap > 0)
    as_much = sum(count for total, count in ways.items() if total >= v - 1e-9 * max(1.0, v))
    return Flips(v, as_much, 2 ** len(said))


def signed_ranks(gaps: Sequence[float]) -> Flips:
    """Wilcoxon's count: the ranks of the gaps by size, each with the sign of its gap."""
    said = [gap for gap in gaps if gap != 0]
    sizes = sorted(abs(gap) for gap in said)
    ranked = [
        (sizes.index(abs(gap)) + 1 + len(sizes) - sizes[::-1].index(abs(gap))) / 2 for gap in said
    ]
    return flips([rank if gap > 0 else -rank for rank, gap in zip(ranked, said, strict=True)])


def ranks(first: Sequence[float], second: Sequence[float], *, level: float = LEVEL) -> Ranks:
    """Counted exactly over every way the values could have been dealt, ties as they fell."""
    u = sum((b > a) + (b == a) / 2 for a in first for b in second)
    dealt = _dealt(first, second)
    total = sum(dealt.values())
    middle = len(first) * len(second)  # twice the mean of u
    far = abs(round(2 * u) - middle)
    chance = sum(ways for twice, ways in dealt.items() if abs(twice - middle) >= far) / total
    gaps = sorted(b - a for a in first for b in second)
    cut = _cut(len(first), len(second), (1 - level) / 2)
    low, high = (gaps[cut - 1], gaps[-cut]) if cut else (float("-inf"), float("inf"))
    return Ranks(u, min(1.0, chance), median(gaps), low, high)


def _dealt(first: Sequence[float], second: Sequence[float]) -> dict[int, int]:
    """Ways to deal the pooled values to the two sides, by twice the count u they would give."""
    pooled = sorted([*first, *second])
    doubled = [
        pooled.index(value) + (len(pooled) - pooled[::-1].index(value)) + 1 for value in pooled
    ]  # twice the mean rank
    ways: list[dict[int, int]] = [{} for _ in range(len(second) + 1)]
    ways[0][0] = 1
    for rank in doubled:
        for taken in range(len(second), 0, -1):
            for total, count in ways[taken - 1].items():
                ways[taken][total + rank] = ways[taken].get(total + rank, 0) + count
    least = len(second) * (len(second) + 1)
    return {total - least: count for total, count in ways[len(second)].items()}


def _cut(n: int, m: int, tail: float) -> int:
    """How many of the ordered gaps lie outside the interval at each end (no ties)."""
    counts = _dealt([float(i) for i in range(n)], [n + float(i) for i in range(m)])
    allowed, cut, so_far = tail * comb(n + m, m), 0, 0
    for u in range(n * m + 1):
        so_far += counts.get(2 * u, 0)
        if so_far > allowed:
            break
        cut = u + 1
    return cut


class Verdict(StrEnum):
    """What a comparison comes to."""

    BETTER = "better"
    WORSE = "worse"
    NO_TELLING = "no_telling"
    CONDITIONS_DIFFER = "conditions_differ"
    TOO_FEW = "too_few"


class Means(StrEnum):
    """How the interval was made."""

    LOG_T = "log_t"
    RANKS = "ranks"
    ROUGH = "rough"


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialFacts:
    """Two sets of positive measurements. `reference_before` and `_after` are those of a machine
    that was not worked on, measured on both days; without it `same_conditions` must be so.
    `own_settings`: the machine's own settings (its revs) were equal; no reference makes up for
    those."""

    before: tuple[float, ...]
    after: tuple[float, ...]
    more_is_better: bool
    same_conditions: bool = True
    own_settings: bool = True
    reference_before: tuple[float, ...] = ()
    reference_after: tuple[float, ...] = ()
    rough: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialVerdict:
    """The ratio after to before of the medians, its interval, what it means, and how many
    measurements a side would settle a gain of a fifth. `chance` is None where a reference
    widened the interval."""

    verdict: Verdict
    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    chance: float | None = None
    means: Means | None = None
    reference_ratio: float | None = None
    more_a_side: int | None = None


def judge_trial(facts: TrialFacts) -> TrialVerdict:
    """Raises ValueError for a measurement that is not above nought."""
    every = (*facts.before, *facts.after, *facts.reference_before, *facts.reference_after)
    if any(value <= 0 for value in every):
        raise ValueError("only what is above nought has a ratio")
    if not facts.before or not facts.after:
        return TrialVerdict(verdict=Verdict.TOO_FEW)
    ratio = median(facts.after) / median(facts.before)
    reference = _reference(facts)
    if not facts.own_settings or (reference is None and not facts.same_conditions):
        return TrialVerdict(verdict=Verdict.CONDITIONS_DIFFER, ratio=ratio)
    scale = 1.0 if reference is None else reference
    fewest = min(len(facts.before), len(facts.after))
    if fewest < LEAST_A_SIDE:
        means = Means.ROUGH if facts.rough else None
        return TrialVerdict(
            verdict=Verdict.TOO_FEW,
            ratio=ratio / scale,
            means=means,
            reference_ratio=reference,
            more_a_side=LEAST_A_SIDE - fewest,
        )
    return _with_interval(facts, ratio, scale, reference)


def _reference(facts: TrialFacts) -> float | None:
    if not facts.reference_before or not facts.reference_after:
        return None
    return median(facts.reference_after) / median(facts.reference_before)


def _reference_reach(facts: TrialFacts) -> float:
    """How far either way the reference's own ratio may lie off, as a logarithm; nought where it
    was measured once a side and shows no scatter.

    Two intervals are joined by their reaches at right angles (Zou and Donner 2008, Statistics in
    Medicine 27, 1693), which asks nothing of how each was made.
    """
    first, second = facts.reference_before, facts.reference_after
    if min(len(first), len(second)) < 2:
        return 0.0
    compared = welch([log(value) for value in first], [log(value) for value in second])
    return compared.high - compared.difference


def _with_interval(
    facts: TrialFacts, ratio: float, scale: float, reference: float | None
) -> TrialVerdict:
    before = [log(value) for value in facts.before]
    after = [log(value / scale) for value in facts.after]
    if wants_ranks(before, after):
        counted = ranks(before, after)
        low, high, means = counted.low, counted.high, Means.RANKS
        middle, chance = counted.shift, counted.chance
    else:
        compared = welch(before, after)
        low, high, means = compared.low, compared.high, Means.LOG_T
        middle, chance = compared.difference, compared.chance
    reach = _reference_reach(facts)
    if reach > 0:
        low, high = middle - hypot(middle - low, reach), middle + hypot(high - middle, reach)
    told = None if reach > 0 else chance
    verdict = Verdict.NO_TELLING
    if low > 0 or high < 0:
        better = (low > 0) == facts.more_is_better
        verdict = Verdict.BETTER if better else Verdict.WORSE
    more = None
    if verdict is Verdict.NO_TELLING:
        spread = sqrt((pvariance(before) + pvariance(after)) / 2)
        needed = needed_a_side(log(1.2), spread)
        more = None if needed is None else max(1, needed - min(len(before), len(after)))
    return TrialVerdict(
        verdict=verdict,
        ratio=ratio / scale,
        low=exp(low),
        high=exp(high),
        chance=told,
        means=means,
        reference_ratio=reference,
        more_a_side=more,
    )


def wants_ranks(first: Sequence[float], second: Sequence[float]) -> bool:
    """Few values, ties or an outlier: then ranks are counted, and no distribution is believed."""
    if min(len(first), len(second)) <= _RANKS_UP_TO:
        return True
    return any(_has_outlier(side) or _has_tie(side) for side in (first, second))


def _has_tie(values: Sequence[float]) -> bool:
    return any(isclose(a, b, abs_tol=1e-12) for a, b in pairwise(sorted(values)))


def _has_outlier(values: Sequence[float]) -> bool:
    """A value more than three times the middle spread (scaled to a deviation) off the median."""
    centre = median(values)
    spread = 1.4826 * median([abs(value - centre) for value in values])
    return spread > 0 and any(abs(value - centre) > 3 * spread for value in values)


def power(gap: float, deviation: float, a_side: int, *, level: float = LEVEL) -> float:
    """Chance to see a true gap between two means with so many values a side (one tail counted)."""
    freedom = 2 * a_side - 2
    shift = gap / (deviation * sqrt(2 / a_side))
    return 1 - shifted_student_below(student_point((1 + level) / 2, freedom), freedom, shift)


def needed_a_side(gap: float, deviation: float, *, wanted: float = 0.80) -> int | None:
    """Fewest values a side that see a true gap with such a chance; None beyond a hundred."""
    if deviation == 0:
        return LEAST_A_SIDE
    for a_side in range(2, 101):
        if power(gap, deviation, a_side) >= wanted:
            return a_side
    return None


# -- throwing ---------------------------------------------------------------------------------


def exit_speed(distance: float, angle_degrees: float, height: float = 0.0) -> float:
    """Effective speed (m/s) at which snow left the chute, from where it fell (m), without drag.

    Source: OpenStax, University Physics 1, section 4.3. Only ratios of it say anything: drag and
    the breaking up of the snow shorten every real throw. Raises ValueError for no such throw.
    """
    angle = radians(angle_degrees)
    fall = distance * tan(angle) + height
    if distance <= 0 or fall <= 0:
        raise ValueError("no such throw")
    return sqrt(GRAVITY * distance**2 / (2 * cos(angle) ** 2 * fall))


def throw(speed: float, angle_degrees: float, height: float = 0.0) -> float:
    """How far (m) something flies without drag from a height over where it lands."""
    angle = radians(angle_degrees)
    rise = speed * sin(angle)
    return speed * cos(angle) / GRAVITY * (rise + sqrt(rise**2 + 2 * GRAVITY * height))
