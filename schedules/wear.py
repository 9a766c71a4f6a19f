"""When a measured part will be worn: a straight line where the measurements carry one, what is
known of the part where they do not, and no date where neither does.

Wear depth grows in proportion to running time at steady load and speed (Archard 1953), so hours
are the axis, days for what ages by time. *Expected* is the middle, *plan by* the early end of
the interval at `LEVEL`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import inf, sqrt
from statistics import NormalDist

from schedules.facts import Direction, LimitFacts, WearRate
from schedules.lines import Fit, Interval, Point, fit_line, flatness, reaches

LEVEL = 0.90
LEAST_POINTS = 3
# Below three of its own deviations a rate may be nought, and a life endless.
_SURE = 3


class WearMethod(StrEnum):
    """What a forecast rests on."""

    LINE = "line"
    KNOWN_RATE = "known_rate"
    KNOWN_RATE_AND_READINGS = "known_rate_and_readings"


class NoForecast(StrEnum):
    """Why there is no day, each with what would help."""

    NO_FIGURE = "no_figure"
    NO_READING = "no_reading"
    TOO_FEW = "too_few"
    SAME_HOURS = "same_hours"
    TOO_NOISY = "too_noisy"
    WRONG_WAY = "wrong_way"
    WORN = "worn"


@dataclass(frozen=True, slots=True, kw_only=True)
class WearOutlook:
    """Where on its axis (hours or days, as the points were given) the part comes to its limit.

    `no_forecast` says why there is none; then the three are None. `latest` is None when the part
    may as well last for ever. `rate` is the change a unit of the axis, in the limit's stored
    unit, without sign; `weight_known` the share of the known rate in it. `paces`, where a known
    rate is in it: the slowest and the fastest rate of the interval, never below nought.
    """

    points: tuple[Point, ...]
    bound: Fraction | None
    method: WearMethod | None = None
    no_forecast: NoForecast | None = None
    plan_by: float | None = None
    expected: float | None = None
    latest: float | None = None
    rate: float | None = None
    weight_known: float = 0.0
    paces: tuple[float, float] | None = None
    fit: Fit | None = None


@dataclass(frozen=True, slots=True)
class Rate:
    """A rate with its deviation, and how much of it is what was known before."""

    mean: float
    deviation: float
    weight_known: float


def outlook(
    points: Sequence[Point], *, limit: LimitFacts, known: WearRate | None = None
) -> WearOutlook:
    """The forecast for one series (since the part was fitted), oldest point first.

    A point is (hours or days, amount in the limit's stored unit). With `known`, few or noisy
    readings are joined to the rate that is known beforehand.
    """
    series = tuple(points)
    bound = _bound(series, limit)
    if bound is None:
        return WearOutlook(points=series, bound=None, no_forecast=NoForecast.NO_FIGURE)
    if not series:
        return WearOutlook(points=series, bound=bound, no_forecast=NoForecast.NO_READING)
    sign = _sign(series, limit, bound)
    refusal = _refusal(series, sign)
    if refusal is None:
        return _by_line(series, bound)
    if known is None or refusal is NoForecast.WRONG_WAY:
        fit = None if refusal in (NoForecast.TOO_FEW, NoForecast.SAME_HOURS) else fit_line(series)
        return WearOutlook(points=series, bound=bound, no_forecast=refusal, fit=fit)
    return _by_known(series, bound, sign, known)


def _bound(series: Sequence[Point], limit: LimitFacts) -> Fraction | None:
    """The figure the readings move towards; of *between* the one their slope points at."""
    low = None if limit.low is None else Fraction(limit.low)
    high = None if limit.high is None else Fraction(limit.high)
    match limit.direction:
        case Direction.AT_LEAST:
            return low
        case Direction.AT_MOST:
            return high
        case Direction.BETWEEN:
            falling = len(series) > 1 and series[-1][1] < series[0][1]
            return low if falling else high
        case Direction.EVENT:
            return None


def _sign(series: Sequence[Point], limit: LimitFacts, bound: Fraction) -> int:
    if limit.direction is Direction.AT_LEAST:
        return -1
    if limit.direction is Direction.AT_MOST:
        return 1
    return 1 if bound >= series[0][1] else -1


def _refusal(series: Sequence[Point], sign: int) -> NoForecast | None:
    if len(series) < LEAST_POINTS:
        return NoForecast.TOO_FEW
    if len({x for x, _ in series}) < 2:
        return NoForecast.SAME_HOURS
    fit = fit_line(series)
    if flatness(fit, level=LEVEL) >= 1:
        return NoForecast.TOO_NOISY
    return None if fit.slope * sign > 0 else NoForecast.WRONG_WAY


def _by_line(series: tuple[Point, ...], bound: Fraction) -> WearOutlook:
    fit = fit_line(series)
    found = reaches(fit, bound, level=LEVEL) or Interval(inf, inf, inf)
    return WearOutlook(
        points=series,
        bound=bound,
        method=WearMethod.LINE,
        plan_by=found.low,
        expected=found.centre,
        latest=found.high,
        rate=abs(float(fit.slope)),
        fit=fit,
    )


def joined_rate(known: WearRate, losses: Sequence[Point]) -> Rate:
    """The known rate, moved by what was measured: (hours since new, loss), normal and conjugate.

    Source: Hoff, A First Course in Bayesian Statistical Methods (2009), chapter 5.
    """
    before = 1 / float(known.deviation) ** 2
    error = float(known.reading_error) ** 2
    squares = float(sum((x * x for x, _ in losses), Fraction())) / error
    products = float(sum((x * y for x, y in losses), Fraction())) / error
    precision = before + squares
    mean = (float(known.rate) * before + products) / precision
    return Rate(mean, 1 / sqrt(precision), before / precision)


def life(rate: Rate, loss: float, share: float) -> float:
    """After how many hours a share of such parts has lost so much; infinite when the rate may as
    well be nought."""
    pace = rate.mean + NormalDist().inv_cdf(1 - share) * rate.deviation
    return loss / pace if pace > 0 else inf


def _by_known(
    series: tuple[Point, ...], bound: Fraction, sign: int, known: WearRate
) -> WearOutlook:
    first_x, first_y = series[0]
    losses = [(x - first_x, (y - first_y) * sign) for x, y in series[1:]]
    rate = joined_rate(known, losses)
    left = float((bound - first_y) * sign)
    if left <= 0:
        return WearOutlook(points=series, bound=bound, no_forecast=NoForecast.WORN)
    early, middle, late = (life(rate, left, share) for share in (0.05, 0.5, 0.95))
    if middle == inf:
        return WearOutlook(points=series, bound=bound, no_forecast=NoForecast.WRONG_WAY)
    sure = rate.mean > _SURE * rate.deviation
    swing = NormalDist().inv_cdf((1 + LEVEL) / 2) * rate.deviation
    start = float(first_x)
    return WearOutlook(
        points=series,
        bound=bound,
        method=WearMethod.KNOWN_RATE_AND_READINGS if losses else WearMethod.KNOWN_RATE,
        plan_by=start + early,
        expected=start + middle,
        latest=start + late if sure else None,
        rate=rate.mean,
        weight_known=rate.weight_known,
        paces=(max(0.0, rate.mean - swing), rate.mean + swing),
    )
