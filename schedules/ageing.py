"""How old one lot of fuel really is: two clocks that never run back.

Oxidation makes gum: at 1 the lot is stale, at 3 spoilt. Light ends go off through a vent: at 1 so
much is gone that starting gets hard. A lot keeps both ages through pouring and mixing.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from math import lcm

from schedules.evaporation import LOSS_SCALE, USUAL_SHAPE, Losses, breathing_of, levels_of
from schedules.facts import FuelSort, FuelUse, LotFacts, VesselFacts, VesselSort
from schedules.keeping import CAME_FROM, FUEL_TABLE, FuelTable
from schedules.warmth import SCALE, MonthSums, ageing_rate, in_the_south, warmth_of


def rate_factor(mean_mc: int, *, table: FuelTable = FUEL_TABLE) -> Fraction:
    """How many days at 20 degrees one day at this mean (millidegrees Celsius) counts for."""
    return ageing_rate(mean_mc, table.floor, table.doubling_degrees)


# -- where it stood ---------------------------------------------------------------------------

Stays = tuple[tuple[int, VesselSort], ...]


def stays_of(lot: LotFacts, vessel: VesselSort, bought_on: date) -> Stays:
    """Where the lot stood, from which ordinal on; the first of them since it was bought."""
    bought = bought_on.toordinal()
    since = bought if lot.since is None else max(lot.since.toordinal(), bought)
    stays = [
        (max(day.toordinal(), bought), where)
        for where, day in lot.earlier
        if max(day.toordinal(), bought) <= since
    ]
    stays.sort(key=lambda stay: stay[0])
    if stays:
        stays[0] = (bought, stays[0][1])
    elif since > bought:
        stays = [(bought, CAME_FROM[vessel])]
    return (*stays, (since, vessel))


# -- oxidation --------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Course:
    """How a lot of known day ages, in pieces of one rate. Ages and rates are whole numbers over
    the one `scale`; a rate is for each 1/SCALE of a day at 20 degrees."""

    warmth: MonthSums
    scale: int
    starts: tuple[int, ...]
    totals: tuple[int, ...]
    ages: tuple[int, ...]
    rates: tuple[int, ...]

    def age(self, day: int) -> int:
        """Lives times `scale` at the end of the ordinal, nil until the day it was bought."""
        at = len(self.starts) - 1
        while at and self.starts[at] > day:
            at -= 1
        if day <= self.starts[at]:
            return self.ages[at]
        return self.ages[at] + self.rates[at] * (self.warmth.total(day) - self.totals[at])

    def ageing(self, day: int) -> Fraction:
        """Age in lives at the end of the ordinal."""
        return Fraction(self.age(day), self.scale)

    def keeps(self) -> Fraction:
        """Days at 20 degrees that a life takes at the rate of now."""
        return Fraction(self.scale, self.rates[-1] * SCALE)

    def first_day(self, age: Fraction) -> int | None:
        """The first ordinal at whose end it is this old, but for the day it was bought."""
        top, bottom = age.numerator * self.scale, age.denominator
        for at, start in enumerate(self.starts):
            wanted = self.totals[at] - (self.ages[at] * bottom - top) // (self.rates[at] * bottom)
            found = self.warmth.first_day(wanted)
            if found is None:
                continue
            day = max(start, found)
            if at + 1 == len(self.starts) or day <= self.starts[at + 1]:
                return day
        return None


def course_of(
    lot: LotFacts, bought_on: date, vessel: VesselFacts, on: int, table: FuelTable
) -> Course:
    """Fuel stabilised late keeps the age it has and earns a credit that fades with it."""
    warmth = warmth_of(vessel.month_means_mc, table.floor, table.doubling_degrees)
    stays = stays_of(lot, vessel.sort, bought_on)
    treated: int | None = None
    if lot.stabilised_on is not None and lot.stabilised_on.toordinal() <= on:
        treated = max(lot.stabilised_on.toordinal(), bought_on.toordinal())
    rows = [table.row(lot.sort, where) for _, where in stays]
    shared = lcm(*(row.plain.days for row in rows), *(row.treated.days for row in rows))
    days = {day for day, _ in stays}
    if treated is not None:
        days.add(treated)
    scale = shared * SCALE
    starts = tuple(sorted(days))
    totals = tuple(warmth.total(day) for day in starts)
    ages: list[int] = []
    rates: list[int] = []
    whole, spent = 1, 1  # the share of the plain rate that is left: all, until it is treated
    for at, day in enumerate(starts):
        age = ages[-1] + rates[-1] * (totals[at] - totals[at - 1]) if at else 0
        if day == treated:
            whole, spent = scale, min(age, scale)
            ages, rates = [one * whole for one in ages], [one * whole for one in rates]
            age, scale = age * whole, scale * whole
        row = [row for (came, _), row in zip(stays, rows, strict=True) if came <= day][-1]
        rate = spent * (shared // row.plain.days) + (whole - spent) * (shared // row.treated.days)
        ages.append(age)
        rates.append(rate)
    return Course(warmth, scale, starts, totals, tuple(ages), tuple(rates))


def lot_ageing(
    lot: LotFacts, vessel: VesselFacts, *, on: date, table: FuelTable = FUEL_TABLE
) -> Fraction | None:
    """Age of a lot in lives at the end of the day (1 is stale); None when its day is unknown.

    Fuel stabilised late keeps the age it has and earns a credit that fades with it: none when it
    was stale by then. Fuel moved into a machine goes on from the age it had in the can.
    """
    if lot.bought_on is None:
        return None
    day = on.toordinal()
    return course_of(lot, lot.bought_on, vessel, day, table).ageing(day)


def stale_day(
    lot: LotFacts, vessel: VesselFacts, *, on: date, table: FuelTable = FUEL_TABLE
) -> date | None:
    """The first day at whose end a lot is stale, with the stabiliser that is in it by `on`; None
    when its day is unknown, or the calendar ends first."""
    if lot.bought_on is None:
        return None
    day = course_of(lot, lot.bought_on, vessel, on.toordinal(), table).first_day(table.stale_at)
    return None if day is None else date.fromordinal(day)


# -- light ends -------------------------------------------------------------------------------


def _month_end(month: int) -> int:
    """The ordinal of the last day of a month counted from the year 0."""
    year, index = divmod(month + 1, 12)
    return date(year, index + 1, 1).toordinal() - 1


class Breath:
    """What the air takes from the light ends of the lots in a vessel, all of them there by `on`."""

    def __init__(
        self, vessel: VesselFacts, lots: tuple[LotFacts, ...], on: int, table: FuelTable
    ) -> None:
        self._vessel = vessel
        self._lots = lots
        self._on = on
        self._table = table
        self.volume_ul = sum(lot.volume_ul for lot in lots)
        self._losses: dict[Fraction, Losses] = {}
        hand_held = vessel.burns is FuelUse.TWO_STROKE  # as good as all of them are
        self._factor = table.hand_held_factor if hand_held else table.vented_factor
        self._can_a_day = round(LOSS_SCALE * table.can_loss / table.vapour_limit)
        self.lost_now = tuple(self.lost(lot, on) for lot in lots)
        # From now on what is in it goes on together: a constant, and so much of each grade.
        graded: dict[Fraction, int] = {}
        self._a_day = 0
        self._constant = 0
        for lot, lost in zip(lots, self.lost_now, strict=True):
            self._constant += lot.volume_ul * lost
            if lot.sort is FuelSort.DIESEL:
                continue
            if vessel.sort is VesselSort.CAN:
                self._a_day += lot.volume_ul * self._can_a_day
            elif vessel.sort is VesselSort.TANK:
                psi = self._psi(lot.bought_on)
                graded[psi] = graded.get(psi, 0) + lot.volume_ul
        self._graded = tuple((self._of_grade(psi), volume) for psi, volume in graded.items())
        self._constant -= self._ahead(on)

    def _ahead(self, day: int) -> int:
        top = self._a_day * day
        for losses, volume in self._graded:
            top += volume * losses.until(day)
        return top

    def mean(self, day: int) -> tuple[int, int]:
        """Light ends gone from the mixture: top and bottom of a fraction of the limit."""
        if day >= self._on:
            top = self._constant + self._ahead(day)
        else:
            top = sum(lot.volume_ul * self.lost(lot, day) for lot in self._lots)
        return top, self.volume_ul * LOSS_SCALE

    def first_day(self, limit: Fraction, last: int) -> int | None:
        """The first ordinal after `on`, up to `last`, by whose end as much of the limit is gone."""
        bottom = limit.denominator
        wanted = -(-limit.numerator * self.volume_ul * LOSS_SCALE // bottom) - self._constant
        first = self._on + 1
        if first > last or self._ahead(last) < wanted:
            return None
        started = date.fromordinal(first)
        ended = date.fromordinal(last)
        months = range(started.year * 12 + started.month - 1, ended.year * 12 + ended.month)
        found = bisect_left(
            months[:-1], True, key=lambda month: self._ahead(_month_end(month)) >= wanted
        )
        # Within a month every day takes the same.
        start = max(first, 1 if not found else _month_end(months[found - 1]) + 1)
        missing = wanted - self._ahead(start)
        if missing <= 0:
            return start
        return start - (-missing // (self._ahead(start + 1) - self._ahead(start)))

    def lost(self, lot: LotFacts, day: int) -> int:
        """Share of the limit times LOSS_SCALE that the lot has lost by the end of the ordinal."""
        if lot.sort is FuelSort.DIESEL:
            return 0
        came = lot.bought_on or lot.since
        if came is None:
            return 0
        stays = stays_of(lot, self._vessel.sort, came)
        if lot.bought_on is None:  # only what it lost in here is known of
            stays = stays[-1:]
        lost = 0
        for at, (start, where) in enumerate(stays):
            end = day if at + 1 == len(stays) else min(day, stays[at + 1][0])
            if end > start:
                lost += self._lost_in(where, lot, start, end, here=at + 1 == len(stays))
        return lost

    def _lost_in(
        self, where: VesselSort, lot: LotFacts, start: int, end: int, *, here: bool
    ) -> int:
        if where is VesselSort.CAN:
            return self._can_a_day * (end - start)
        if where is VesselSort.BOWL:  # a few spoonfuls: its own age tells all there is to tell
            return 0
        losses = self._of_grade(self._psi(lot.bought_on))
        if here:
            return losses.until(end) - losses.until(start)
        breathing = losses.breathing
        return USUAL_SHAPE * (breathing.total(end) - breathing.total(start))

    def _of_grade(self, psi: Fraction) -> Losses:
        found = self._losses.get(psi)
        if found is None:
            vessel, table = self._vessel, self._table
            breathing = breathing_of(
                vessel.month_means_mc,
                vessel.month_swings_mc,
                psi,
                self._factor,
                table.pounds_a_gallon,
                table.vapour_limit,
            )
            levels = levels_of(
                [(day.toordinal(), level) for day, level in vessel.levels],
                capacity_ul=vessel.capacity_ul,
                volume_ul=self.volume_ul,
                table=table,
            )
            found = self._losses[psi] = levels.losses(breathing)
        return found

    def _psi(self, bought_on: date | None) -> Fraction:
        """Summer grade from June to the middle of September, in the south half a year off."""
        if bought_on is None:
            return self._table.summer_psi
        month, day = bought_on.month, bought_on.day
        if in_the_south(self._vessel.month_means_mc):
            month = (month + 5) % 12 + 1
        summer = month in (6, 7, 8) or (month == 9 and day <= 15)
        return self._table.summer_psi if summer else self._table.winter_psi
