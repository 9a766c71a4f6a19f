"""The run time of one thing, day by day: known points, profile, log, forecast at three paces."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import Enum
from fractions import Fraction

from schedules.facts import HoursBasis, ItemFacts, MachineFacts
from tests.twin.days import (
    ONE,
    each_day,
    mean_days_of_month,
    mean_days_of_year,
    mean_month_length,
)
from tests.twin.machine_days import MachineDays

NOTHING = Fraction(0)


class Pace(Enum):
    """How much the machine runs after the last known point."""

    HALF = Fraction(1, 2)
    ONCE = Fraction(1)
    DOUBLE = Fraction(2)


class PointSort(Enum):
    """What a known point rests on."""

    READING = "reading"
    AT_START = "at_start"
    ASSUMED = "assumed"
    INFERRED = "inferred"


@dataclass(frozen=True)
class Point:
    day: date
    seconds: Fraction
    sort: PointSort


class Running:
    """Hours on any day for one thing."""

    def __init__(self, facts: MachineFacts, item: ItemFacts, days: MachineDays) -> None:
        self.days = days
        self.item = item
        self.uses = [use for use in facts.uses if use.day <= days.on]
        self.use_seconds = self._use_seconds(facts)
        self.points = self._points()
        self.daily = self._daily_by_month()
        self.by_day: dict[Pace, dict[date, Fraction]] = {pace: {} for pace in Pace}
        self.log: dict[date, Fraction | None] = {}
        self.profiles: dict[date, Fraction] = {}

    def _use_seconds(self, facts: MachineFacts) -> Fraction:
        """The household's mean from five logged uses on, before that the kind's default."""
        if len(self.uses) >= 5:
            return Fraction(sum(use.seconds for use in self.uses), len(self.uses))
        return Fraction(facts.kind.use_seconds)

    # -- known points -------------------------------------------------------------------------

    def _readings(self) -> dict[date, int]:
        """Of two on one day the higher."""
        highest: dict[date, int] = {}
        for reading in self.item.hours.readings:
            if reading.day <= self.days.on:
                highest[reading.day] = max(reading.seconds, highest.get(reading.day, 0))
        return highest

    def _points(self) -> list[Point]:
        readings = self._readings()
        found = [Point(day, Fraction(x), PointSort.READING) for day, x in readings.items()]
        came, start = self.item.came_on, self.item.hours.at_start
        if start is not None:
            found.append(Point(came, Fraction(start), PointSort.AT_START))
        elif not readings:
            found.append(Point(came, Fraction(0), PointSort.ASSUMED))
        for point in self.item.hours.inferred:
            counts = point.day <= self.days.on and point.accepted_on <= self.days.on
            if counts and not any(day >= point.day for day in readings):
                found.append(Point(point.day, Fraction(point.seconds), PointSort.INFERRED))
        highest: dict[date, Point] = {}
        for point in found:
            other = highest.get(point.day)
            if other is None or point.seconds >= other.seconds:
                highest[point.day] = point
        return [highest[day] for day in sorted(highest)]

    # -- profile and log ----------------------------------------------------------------------

    def _year_seconds(self) -> Fraction:
        """The household's own figure where readings give one, else the catalogue's."""
        own = self._own_year_seconds()
        return Fraction(self.item.hours.year_seconds) if own is None else own

    def _own_year_seconds(self) -> Fraction | None:
        readings = sorted(self._readings().items())
        if not readings:
            return None
        last_day, last_seconds = readings[-1]
        for day, seconds in reversed(readings[:-1]):
            if self._two_years_between(day, last_day):
                in_use = sum(
                    1
                    for x in each_day(day + ONE, last_day)
                    if self.days.pattern.in_season(x) and not self.days.laid_up(x)
                )
                if in_use == 0:
                    return None
                run = Fraction(last_seconds - seconds, in_use)
                return run * mean_days_of_year(self.days.pattern)
        return None

    def _two_years_between(self, one: date, other: date) -> bool:
        if not self.days.pattern.has_season:
            return (other - one).days >= 730
        whole = [s for s in self.days.seasons if s.first > one and s.last <= other]
        return len(whole) >= 2 * self.days.seasons_a_year

    def _daily_by_month(self) -> list[Fraction]:
        """Profile seconds of one day in season, January first."""
        pattern = self.days.pattern
        shares = self.item.hours.month_shares
        months = range(1, 13)
        weight = sum(
            (
                shares[month - 1] * mean_days_of_month(pattern, month) / mean_month_length(month)
                for month in months
            ),
            Fraction(0),
        )
        year = self._year_seconds()
        if weight == 0:
            return [year / mean_days_of_year(pattern)] * 12
        return [year * shares[m - 1] / mean_month_length(m) / weight for m in months]

    def profile(self, day: date) -> Fraction:
        if day not in self.profiles:
            in_use = self.days.pattern.in_season(day) and not self.days.laid_up(day)
            self.profiles[day] = self.daily[day.month - 1] if in_use else NOTHING
        return self.profiles[day]

    def counted_by_log(self, day: date) -> bool:
        if not self.days.pattern.has_season:
            return any(use.day >= day and use.day.year == day.year for use in self.uses)
        season = self.days.season_of(day)
        if season is None:
            return True
        return any(day <= use.day <= season.last for use in self.uses)

    def logged(self, day: date) -> Fraction:
        return Fraction(sum(use.seconds for use in self.uses if use.day == day))

    def day_seconds(self, day: date, pace: Pace) -> Fraction:
        """The run time of one day; the pace tells on profile days alone."""
        if day not in self.log:
            counted = day <= self.days.on and self.counted_by_log(day)
            self.log[day] = self.logged(day) if counted else None
        logged = self.log[day]
        if logged is not None:
            return logged
        profile = self.profile(day)
        return profile if pace is Pace.ONCE or not profile else profile * pace.value

    # -- hours on a day -----------------------------------------------------------------------

    def on_day(self, day: date, pace: Pace) -> Fraction:
        known = self.by_day[pace]
        if day not in known:
            if day >= self.points[-1].day:
                self._walk_on(day, pace)
            elif day < self.points[0].day:
                self._walk_back(day, pace)
            else:
                self._share_out(day, pace)
        return known[day]

    def _walk_on(self, to: date, pace: Pace) -> None:
        known = self.by_day[pace]
        last = self.points[-1]
        known[last.day] = last.seconds
        day = to
        while day not in known:
            day -= ONE
        while day < to:
            before = known[day]
            day += ONE
            run = self.day_seconds(day, pace)
            known[day] = before + run if run else before

    def _walk_back(self, to: date, pace: Pace) -> None:
        known = self.by_day[pace]
        first = self.points[0]
        day, seconds = first.day, first.seconds
        while day > to:
            seconds -= self.day_seconds(day, Pace.ONCE)
            day -= ONE
            known[day] = max(seconds, NOTHING)

    def _share_out(self, day: date, pace: Pace) -> None:
        for a, b in zip(self.points, self.points[1:], strict=False):
            if a.day <= day < b.day:
                self._share_between(a, b, pace)

    def _share_between(self, a: Point, b: Point, pace: Pace) -> None:
        between = list(each_day(a.day + ONE, b.day))
        run = [self.day_seconds(day, Pace.ONCE) for day in between]
        if sum(run) == 0:
            run = [Fraction(1) for _ in between]
        whole = sum(run)
        so_far = Fraction(0)
        known = self.by_day[pace]
        known[a.day] = a.seconds
        for day, seconds in zip(between, run, strict=True):
            so_far += seconds
            known[day] = a.seconds + (b.seconds - a.seconds) * so_far / whole

    def reaches(self, seconds: Fraction, after: date, pace: Pace) -> date | None:
        """The first day after another on which the hours are there; None within the horizon."""
        day = after + ONE
        horizon = self.days.horizon()
        while day <= horizon:
            if self.on_day(day, pace) >= seconds:
                return day
            day += ONE
        return None

    # -- basis --------------------------------------------------------------------------------

    def basis(self) -> HoursBasis:
        """What the hours of today rest on."""
        last = self.points[-1]
        if len(self.points) == 1 and last.sort is PointSort.ASSUMED:
            return HoursBasis.SINCE_IT_CAME
        if last.sort is PointSort.INFERRED:
            return HoursBasis.INFERRED
        logged_only = HoursBasis.METER
        for day in each_day(last.day + ONE, self.days.on):
            if self.day_seconds(day, Pace.ONCE) == 0:
                continue
            if not self.counted_by_log(day):
                return HoursBasis.ESTIMATED
            logged_only = HoursBasis.LOG
        return logged_only

    # -- uses ---------------------------------------------------------------------------------

    def uses_after(self, day: date) -> list[date]:
        return sorted(use.day for use in self.uses if use.day > day)

    def forecast_uses(self, to: date) -> Fraction:
        """Uses to come after today and up to a day."""
        if self.use_seconds == 0:
            return Fraction(0)
        seconds = Fraction(0)
        for day in each_day(self.days.on + ONE, to):
            seconds += self.profile(day)
        return seconds / self.use_seconds

    def reaches_uses(self, n: int, after: date, pace: Pace) -> date | None:
        """The day of the n-th use after another day, or when it is to be expected."""
        logged = self.uses_after(after)
        if len(logged) >= n:
            return logged[n - 1]
        if self.use_seconds == 0:
            return None
        wanted = (n - len(logged)) * self.use_seconds / pace.value
        seconds = NOTHING
        for day in each_day(self.days.on + ONE, self.days.horizon()):
            profile = self.profile(day)
            if profile:
                seconds += profile
                if seconds >= wanted:
                    return day
        return None
