"""Run time: profiles of use over the year, timelines and forecasts, in exact numbers.

A *profile* says how much of a year's use falls on each day in season; it is nil off season and
while the machine is laid up. A *timeline* joins profile, logged uses and known points of one
thing and answers two questions: the total on a day, and the first day a total is reached. Both
are asked thrice: with the profile days after the last known point at half, once and double.

Decision: days are not walked. Prefix sums over runs of days with one rate, in whole numbers over
a common denominator, give the same answers; the day-by-day version stands in the tests.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from calendar import monthrange
from collections.abc import Iterable
from datetime import date
from fractions import Fraction
from functools import lru_cache
from math import lcm

from schedules.almanac import Almanac, Span, union
from schedules.facts import HoursBasis, HoursFacts, HoursNow, UseFacts
from schedules.months import add_months
from schedules.seasons import FOREVER, Calendar

# How often the profile days after the last known point count, in halves.
HALF, ONCE, DOUBLE = 1, 2, 4
_MONTH_DAYS = tuple(
    Fraction(113, 4) if month == 2 else Fraction(monthrange(2023, month)[1])
    for month in range(1, 13)
)


# -- profiles ---------------------------------------------------------------------------------


class Profile:
    """Where in the year the use falls: seconds a day for one second a year, over `scale`.

    Runs of days with one rate stand in `starts`; `sums` is the whole-number total up to the day
    before each run. The calendar is covered from 1900 to 2199.
    """

    __slots__ = ("calendar", "month_days", "rates", "scale", "starts", "sums", "year_days")

    def __init__(self, calendar: Calendar, shares: tuple[Fraction, ...]) -> None:
        self.calendar = calendar
        self.month_days = calendar.month_days() if calendar.has_seasons else _MONTH_DAYS
        self.year_days = sum(self.month_days, Fraction(0))
        exact = self._daily(shares)
        self.scale = lcm(*(rate.denominator for rate in exact))
        monthly = tuple(int(rate * self.scale) for rate in exact)
        self.starts: list[int] = []
        self.rates: list[int] = []
        self.sums: list[int] = []
        self._lay(monthly)

    def _daily(self, shares: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
        weight = sum(
            (
                share * mean / days
                for share, mean, days in zip(shares, self.month_days, _MONTH_DAYS, strict=True)
            ),
            Fraction(0),
        )
        if weight == 0:
            return (1 / self.year_days,) * 12
        return tuple(share / days / weight for share, days in zip(shares, _MONTH_DAYS, strict=True))

    def _lay(self, monthly: tuple[int, ...]) -> None:
        calendar = self.calendar
        if calendar.has_seasons:
            spans: Iterable[Span] = zip(calendar.firsts, calendar.lasts, strict=True)
        else:
            spans = ((date(1900, 1, 1).toordinal(), FOREVER),)
        total, end = 0, 0
        for first, last in spans:
            self._run(end, 0, total)
            day = first
            while day <= last:
                here = date.fromordinal(day)
                month_end = day - here.day + monthrange(here.year, here.month)[1]
                stop = min(month_end, last)
                self._run(day, monthly[here.month - 1], total)
                total += monthly[here.month - 1] * (stop - day + 1)
                day = stop + 1
            end = last + 1
        self._run(end, 0, total)

    def _run(self, start: int, rate: int, total: int) -> None:
        self.starts.append(start)
        self.rates.append(rate)
        self.sums.append(total)

    def upto(self, day: int) -> int:
        """Total over all days up to and including the day, in 1/scale."""
        index = bisect_right(self.starts, day) - 1
        if index < 0:
            return 0
        return self.sums[index] + self.rates[index] * (day - self.starts[index] + 1)

    def first_reaching(self, total: int) -> int | None:
        """First day with `upto(day) >= total`; None past the calendar."""
        index = bisect_left(self.sums, total) - 1
        if index < 0:
            return self.starts[0] if total <= 0 else None
        rate = self.rates[index]
        if rate == 0:
            return None
        day = self.starts[index] - 1 + -((self.sums[index] - total) // rate)
        return day if day <= FOREVER else None


@lru_cache(maxsize=512)
def profile_of(calendar: Calendar, shares: tuple[Fraction, ...]) -> Profile:
    """The shared profile of a calendar and monthly shares. Shares: twelve, none below zero."""
    if len(shares) != 12 or any(share < 0 for share in shares):
        raise ValueError(f"monthly shares: twelve of nil or more, not {shares}")
    return Profile(calendar, shares)


# -- use: profile and log together ------------------------------------------------------------


class Usage:
    """Run time a day of one thing: profile where nothing is logged, logged uses where it is."""

    def __init__(
        self,
        *,
        almanac: Almanac,
        facts: HoursFacts,
        uses: tuple[UseFacts, ...],
    ) -> None:
        self.almanac = almanac
        self.profile = profile_of(almanac.calendar, facts.month_shares)
        known = sorted(
            (use.day.toordinal(), use.seconds)
            for use in uses
            if use.day.toordinal() <= almanac.today
        )
        self._use_days = [day for day, _ in known]
        self._use_sums = [0]
        for _, seconds in known:
            self._use_sums.append(self._use_sums[-1] + seconds)
        self.excluded = union(self._logged(sorted(set(self._use_days))) + list(almanac.known))
        self._before: list[int] = []  # counted profile up to the eve of each excluded span
        self._gone: list[int] = []  # excluded profile up to its end
        gone = 0
        for first, last in self.excluded:
            self._before.append(self.profile.upto(first - 1) - gone)
            gone += self.profile.upto(last) - self.profile.upto(first - 1)
            self._gone.append(gone)
        self._starts = [first for first, _ in self.excluded]

    def _logged(self, days: list[int]) -> list[Span]:
        """The spans counted by the log: from the start of a season to its last logged use."""
        calendar = self.almanac.calendar
        spans: dict[int, int] = {}
        for day in days:
            if calendar.has_seasons:
                place = calendar.containing(day)
                if place is not None:
                    spans[calendar.firsts[place]] = day
            else:
                spans[date(date.fromordinal(day).year, 1, 1).toordinal()] = day
        return list(spans.items())

    @property
    def use_count(self) -> int:
        """How many uses are logged up to today."""
        return len(self._use_days)

    @property
    def logged_seconds(self) -> int:
        """Seconds of all uses logged up to today."""
        return self._use_sums[-1]

    def use_day(self, index: int) -> int:
        """Day of the logged use at that place, oldest first."""
        return self._use_days[index]

    def uses_upto(self, day: int) -> int:
        """How many uses are logged on or before the day."""
        return bisect_right(self._use_days, day)

    def logged(self, after: int, upto: int) -> int:
        """Logged seconds of the days after `after`, up to and including `upto`."""
        return (
            self._use_sums[bisect_right(self._use_days, upto)]
            - self._use_sums[bisect_right(self._use_days, after)]
        )

    def counted(self, day: int) -> int:
        """Profile of all days up to the day that the profile counts for, in 1/scale."""
        index = bisect_right(self._starts, day) - 1
        if index < 0:
            return self.profile.upto(day)
        if day <= self.excluded[index][1]:
            return self._before[index]
        return self.profile.upto(day) - self._gone[index]

    def first_counting(self, total: int) -> int | None:
        """First day with `counted(day) >= total`; None past the calendar."""
        index = bisect_left(self._before, total)
        gone = self._gone[index - 1] if index else 0
        return self.profile.first_reaching(total + gone)


# -- own profile ------------------------------------------------------------------------------


def own_year(
    readings: list[tuple[int, int]], almanac: Almanac, profile: Profile
) -> Fraction | None:
    """The household's own seconds a year from its latest pair of readings; None: no own figure.

    `readings`: (day, seconds) in order of days. The pair is the last reading and the latest
    earlier one with two whole years of seasons between them (no season: 730 days).
    """
    if len(readings) < 2:
        return None
    last_day, last_seconds = readings[-1]
    calendar = almanac.calendar
    for day, seconds in reversed(readings[:-1]):
        if calendar.has_seasons:
            first = calendar.started(day) + 1
            whole = bisect_right(calendar.lasts, last_day) - first
            enough = whole >= 2 * calendar.per_year
        else:
            enough = last_day - day >= 730
        if enough:
            days = _awake_in_season(almanac, day, last_day)
            if days == 0:
                return None
            return Fraction(max(0, last_seconds - seconds), days) * profile.year_days
    return None


def _awake_in_season(almanac: Almanac, after: int, upto: int) -> int:
    total = almanac.calendar.days_in_season(after, upto)
    for first, last in almanac.known:
        low, high = max(first - 1, after), min(last, upto)
        if low < high:
            total -= almanac.calendar.days_in_season(low, high)
    return total


# -- timelines --------------------------------------------------------------------------------


def _ceil(amount: Fraction) -> int:
    return -(-amount.numerator // amount.denominator)


def known_points(facts: HoursFacts, came_on: date, today: int) -> dict[int, tuple[int, HoursBasis]]:
    """Total seconds by day that are known, with what they rest on; of two on one day the higher.

    An inferred point counts from the day it was accepted until there is a reading on its day or
    later. With no reading and hours unknown on the day it came, that day counts as nil.
    """
    points: dict[int, tuple[int, HoursBasis]] = {}

    def put(day: int, seconds: int, basis: HoursBasis) -> None:
        if day <= today and (day not in points or points[day][0] < seconds):
            points[day] = (seconds, basis)

    for reading in facts.readings:
        put(reading.day.toordinal(), reading.seconds, HoursBasis.METER)
    last_reading = max(points, default=0)
    for point in facts.inferred:
        day = point.day.toordinal()
        if point.accepted_on.toordinal() <= today and last_reading < day:
            put(day, point.seconds, HoursBasis.INFERRED)
    came = came_on.toordinal()
    if facts.at_start is not None:
        put(came, facts.at_start, HoursBasis.METER)
    elif not last_reading:
        put(came, 0, HoursBasis.SINCE_IT_CAME)
    if not points:
        points[came] = (facts.at_start or 0, HoursBasis.SINCE_IT_CAME)
    return points


class Timeline:
    """Total run time of one thing on any day, and the day a total is reached.

    Inside, run time is whole *ticks*, `second` of them a second, so that comparing is exact.
    `halves` says how often the profile days after the last known point count.
    """

    def __init__(
        self,
        *,
        almanac: Almanac,
        facts: HoursFacts,
        came_on: date,
        uses: tuple[UseFacts, ...],
    ) -> None:
        today = almanac.today
        self.almanac = almanac
        self.use = Usage(almanac=almanac, facts=facts, uses=uses)
        points = sorted(known_points(facts, came_on, today).items())
        self.days = [day for day, _ in points]
        self.seconds = [seconds for _, (seconds, _) in points]
        self.bases = [basis for _, (_, basis) in points]
        readings: dict[int, int] = {}
        for reading in facts.readings:
            day = reading.day.toordinal()
            if day <= today:
                readings[day] = max(reading.seconds, readings.get(day, 0))
        own = own_year(sorted(readings.items()), almanac, self.use.profile)
        self.year_seconds = Fraction(facts.year_seconds) if own is None else own
        self.second = 2 * self.use.profile.scale * self.year_seconds.denominator
        horizon = add_months(date.fromordinal(today), 12 * almanac.policy.horizon_years)
        self.horizon = horizon.toordinal()
        self._totals: dict[tuple[int, int], Fraction] = {}
        self._reached: dict[tuple[Fraction, int, int], int | None] = {}

    def ticks(self, after: int, upto: int, halves: int = ONCE) -> int:
        """Ticks of the days after `after` up to and including `upto`; profile days `halves`/2."""
        counted = self.use.counted(upto) - self.use.counted(after)
        logged = self.use.logged(after, upto)
        return self.year_seconds.numerator * halves * counted + self.second * logged

    def run(self, after: int, upto: int, halves: int = ONCE) -> Fraction:
        """Seconds of the days after `after` up to and including `upto`."""
        return Fraction(self.ticks(after, upto, halves), self.second)

    def total(self, day: int, halves: int = ONCE) -> Fraction:
        """Total seconds on the day (an ordinal)."""
        key = (day, halves)
        known = self._totals.get(key)
        if known is None:
            known = self._totals[key] = self._total(day, halves)
        return known

    def _total(self, day: int, halves: int) -> Fraction:
        index = bisect_right(self.days, day) - 1
        if index < 0:
            return max(Fraction(0), self.seconds[0] - self.run(day, self.days[0]))
        if day == self.days[index]:
            return Fraction(self.seconds[index])
        if index == len(self.days) - 1:
            return self.seconds[-1] + self.run(self.days[-1], day, halves)
        start, end = self.days[index], self.days[index + 1]
        whole = self.ticks(start, end)
        part = self.ticks(start, day) if whole else day - start
        gain = self.seconds[index + 1] - self.seconds[index]
        return self.seconds[index] + Fraction(gain * part, whole or end - start)

    def reaches(self, total: Fraction, after: int, halves: int = ONCE) -> int | None:
        """First day after `after` with `total` seconds or more; None within the horizon."""
        key = (total, after, halves)
        if key not in self._reached:
            day = self._reached_known(total, after) if after < self.days[-1] else None
            if day is None:
                day = self._reached_later(total, max(after, self.days[-1]), halves)
            self._reached[key] = day if day is not None and day <= self.horizon else None
        return self._reached[key]

    def _reached_known(self, total: Fraction, after: int) -> int | None:
        """The same among the days up to the last known point."""
        if after < self.days[0] - 1:
            day = self._counted_back(total, after)
            if day is not None:
                return day
        first = max(0, bisect_right(self.days, after) - 1)
        if after == self.days[0] - 1 and self.seconds[0] >= total:
            return self.days[0]
        for index in range(first, len(self.days) - 1):
            start, end = self.days[index], self.days[index + 1]
            low, high = self.seconds[index], self.seconds[index + 1]
            begin = max(start, after)
            if high < low:  # falls from here on: its first day is its highest
                if self.total(begin + 1) >= total:
                    return begin + 1
                continue
            if high < total:
                continue
            return max(begin + 1, self._inside(total, index, start, end))
        return None

    def _counted_back(self, total: Fraction, after: int) -> int | None:
        low, high = after, self.days[0]
        if self.total(high) < total:
            return None
        while high - low > 1:
            middle = (low + high) // 2
            if self.total(middle) >= total:
                high = middle
            else:
                low = middle
        return high

    def _inside(self, total: Fraction, index: int, start: int, end: int) -> int:
        """First day after `start` that has the total, between two known points that rise."""
        gain = self.seconds[index + 1] - self.seconds[index]
        wanted = total - self.seconds[index]
        if wanted <= 0 or not gain:
            return start + 1
        whole = self.ticks(start, end)
        if not whole:
            return start + max(1, _ceil(wanted * (end - start) / gain))
        return self._first_with(start, end, _ceil(wanted * whole / gain), ONCE)

    def _first_with(self, start: int, end: int, ticks: int, halves: int) -> int:
        """First day in (start, end] by which that many ticks have run since `start`."""
        if not self.use.logged(start, end):
            day = self._first_counting(start, ticks, halves)
            return end if day is None else min(end, max(start + 1, day))
        low, high = start, end
        while high - low > 1:
            middle = (low + high) // 2
            if self.ticks(start, middle, halves) >= ticks:
                high = middle
            else:
                low = middle
        return high

    def _first_counting(self, start: int, ticks: int, halves: int) -> int | None:
        """First day by which profile days alone make that many ticks since `start`."""
        rate = self.year_seconds.numerator * halves
        if not rate:
            return None
        return self.use.first_counting(self.use.counted(start) - (-ticks // rate))

    def _reached_later(self, total: Fraction, after: int, halves: int) -> int | None:
        last, today = self.days[-1], self.almanac.today
        ticks = _ceil((total - self.seconds[-1]) * self.second)
        if self.ticks(last, after + 1, halves) >= ticks:
            return after + 1
        if after + 1 < today and self.ticks(last, today, halves) >= ticks:
            return max(after + 1, self._first_with(last, today, ticks, halves))
        ticks -= self.second * self.use.logged(last, today)
        return self._first_counting(last, ticks, halves)

    def now(self) -> HoursNow:
        """Run time today, what it rests on, and the band of half and double use."""
        today = self.almanac.today
        return HoursNow(
            seconds=self.total(today),
            basis=self.basis(today),
            low=self.total(today, HALF),
            high=self.total(today, DOUBLE),
        )

    def basis(self, day: int) -> HoursBasis:
        """What the total of that day rests on."""
        index = bisect_right(self.days, day) - 1
        if index < 0:
            start, end, basis = day, self.days[0], self.bases[0]
        elif day == self.days[index]:
            return self.bases[index]
        elif index < len(self.days) - 1:
            start, end, basis = self.days[index], self.days[index + 1], self.bases[index]
        else:
            start, end, basis = self.days[-1], day, self.bases[-1]
        if basis in (HoursBasis.SINCE_IT_CAME, HoursBasis.INFERRED):
            return basis
        if self.year_seconds and self.use.counted(end) != self.use.counted(start):
            return HoursBasis.ESTIMATED
        return HoursBasis.LOG if self.use.logged(start, end) else basis
