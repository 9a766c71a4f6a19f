"""How old the fuel in a vessel really is, and what to do with it.

Three clocks run: oxidation (gum), light ends (hard starting), water (an alarm). A lot keeps its
own ages through pouring and mixing; the band of a vessel comes from the shares of its lots. What
nose and jar said overrules the clocks. Where nobody knows the days' warmth and cold, light ends
are not counted.

Decision: ages are whole numbers over a common scale and warmth is summed month by month, so that
a judgement has no walk over days and hardly a fraction in it; the walk stands in the tests as a
second opinion.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from schedules.ageing import Breath, Course, course_of, lot_ageing, rate_factor
from schedules.evaporation import LOSS_SCALE
from schedules.facts import (
    Band,
    FuelClock,
    Look,
    LotFacts,
    LotVerdict,
    VesselFacts,
    VesselLook,
    VesselVerdict,
)
from schedules.fuel_grounds import ClockFigures, clock_grounds
from schedules.keeping import (
    ETHANOL,
    FUEL_TABLE,
    PUMP_AT_MOST,
    WRONG_SORTS,
    FuelTable,
    Keeping,
    KeepingRow,
)
from schedules.reasons import Reason, ReasonCode, reason
from schedules.units import Quantity, Unit
from schedules.water import ALARM, water_alarm, water_carried_ul

__all__ = (
    "ETHANOL",
    "FUEL_TABLE",
    "WORSE",
    "FuelTable",
    "Keeping",
    "KeepingRow",
    "ethanol_of",
    "judge_vessel",
    "lot_ageing",
    "rate_factor",
    "stabiliser_dose_ul",
)

WORSE = (
    Band.GOOD,
    Band.USE_FIRST,
    Band.BURN,
    Band.LOOK_FIRST,
    Band.DRAIN,
    Band.NOT_FOR_THIS,
)
_RANK = {band: rank for rank, band in enumerate(WORSE)}
_AHEAD_DAYS = 1096  # how far ahead the next band is looked for: three years
_LAST = date.max.toordinal()


def stabiliser_dose_ul(petrol_ul: int, *, table: FuelTable = FUEL_TABLE) -> Fraction:
    """Microlitres of stabiliser for so much petrol, at the usual label dose; the label rules."""
    return petrol_ul * table.dose


def ethanol_of(lot: LotFacts) -> Fraction | None:
    """Ethanol in the petrol of a lot, as read at the pump or as its sort has at most."""
    if lot.ethanol_permille is not None:
        return Fraction(lot.ethanol_permille, 1000)
    return ETHANOL[lot.sort]


# -- what is in a vessel ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Shares:
    stale: Fraction
    spoilt: Fraction
    gum: Fraction


@dataclass(frozen=True, slots=True)
class _Held:
    """One lot of the vessel; `seen`: the last look was at this fuel."""

    lot: LotFacts
    course: Course | None
    seen: bool


_Age = tuple[int, int]  # lives, over a scale


def _at_least(age: _Age, limit: Fraction) -> bool:
    return age[0] * limit.denominator >= limit.numerator * age[1]


@dataclass(frozen=True, slots=True)
class _Contents:
    """What a vessel holds on the day asked about, and how it goes on if it is left alone."""

    vessel: VesselFacts
    on: int
    table: FuelTable
    held: tuple[_Held, ...]
    look: VesselLook | None
    breath: Breath | None
    volume_ul: int

    # -- ages on a day --

    def by_clock(self, day: int) -> list[_Age]:
        """Ages by the clock alone; a lot of unknown day counts as just stale."""
        return [self._age(held, day) for held in self.held]

    def _age(self, held: _Held, day: int) -> _Age:
        course = held.course
        if course is None:
            return self.table.stale_at.numerator, self.table.stale_at.denominator
        return course.age(day), course.scale

    def _age_seen(self, held: _Held, day: int) -> _Age:
        age = self._age(held, day)
        if self.look is None or not held.seen:
            return age
        table = self.table
        if self.look.look is Look.SHARP_CLEAR:
            over = _at_least(age, table.stale_at)
            return (table.stale_at.numerator, table.stale_at.denominator) if over else age
        spoilt = _at_least(age, table.spoilt_at)
        return age if spoilt else (table.spoilt_at.numerator, table.spoilt_at.denominator)

    def shares(self, ages: Sequence[_Age]) -> _Shares:
        return _Shares(
            self._share_over(ages, self.table.stale_at),
            self._share_over(ages, self.table.spoilt_at),
            Fraction(*self._gum(ages)),
        )

    def _share_over(self, ages: Sequence[_Age], limit: Fraction) -> Fraction:
        over = (
            held.lot.volume_ul
            for held, age in zip(self.held, ages, strict=True)
            if _at_least(age, limit)
        )
        return Fraction(sum(over), self.volume_ul)

    def _gum(self, ages: Sequence[_Age]) -> _Age:
        cap = self.table.gum_cap
        by_scale: dict[int, int] = {}
        most = (cap.numerator, cap.denominator)
        for held, one in zip(self.held, ages, strict=True):
            age, scale = most if _at_least(one, cap) else one
            by_scale[scale] = by_scale.get(scale, 0) + held.lot.volume_ul * age
        top, bottom = 0, 1
        for scale, amount in by_scale.items():
            top, bottom = top * scale + amount * bottom, bottom * scale
        return top, bottom * self.volume_ul

    def light_ends(self, day: int) -> _Age | None:
        """Light ends gone from the mixture, 1 is the limit; None where it cannot be reckoned."""
        return None if self.breath is None else self.breath.mean(day)

    def thin(self, day: int, limit: Fraction) -> bool:
        """Whether as much of the light ends is gone."""
        lost = self.light_ends(day)
        return lost is not None and _at_least(lost, limit)

    # -- what does not change with the days --

    def wrong_lots(self) -> list[LotFacts]:
        """Lots that this engine must not be given at all."""
        wrong = WRONG_SORTS[self.vessel.burns]
        return [held.lot for held in self.held if held.lot.sort in wrong]

    def ethanol(self, lots: Iterable[LotFacts]) -> tuple[Fraction | None, Fraction]:
        """Ethanol share: as known (None where a sort is not), and the most it is taken to be."""
        parts = [(lot.volume_ul, ethanol_of(lot)) for lot in lots]
        only = parts[0][1]
        if all(share is only for _, share in parts):
            return only, PUMP_AT_MOST if only is None else only
        whole = sum(ul for ul, _ in parts)
        most = sum(
            (ul * (PUMP_AT_MOST if share is None else share) for ul, share in parts), Fraction(0)
        )
        unknown = any(share is None for _, share in parts)
        return (None if unknown else most / whole), most / whole

    def unknown_share(self) -> Fraction:
        """Share of fuel of unknown day that no look has cleared; all of it, where nobody knows
        how much that is."""
        if any(not (held.lot.amount_known or held.seen) for held in self.held):
            return Fraction(1)
        unseen = (
            held.lot.volume_ul
            for held in self.held
            if held.course is None and not (held.seen and self._looked_sharp())
        )
        return Fraction(sum(unseen), self.volume_ul)

    def _looked_sharp(self) -> bool:
        return self.look is not None and self.look.look is Look.SHARP_CLEAR

    def looked_bad(self) -> bool:
        """Whether fuel that is still in the vessel was found sour, dark or in layers."""
        seen = any(held.seen for held in self.held)
        return seen and self.look is not None and not self._looked_sharp()

    def wet(self) -> bool:
        """Whether the water that was found in it is too much for the coldest month."""
        found = self.vessel.water_ul
        if found is None:
            return False
        coldest = min(self.vessel.month_means_mc)
        return water_alarm(found, self.volume_ul, ethanol=self._least(), coldest_mc=coldest)

    def _least(self) -> Fraction:
        """Ethanol of the lot that has least of it, none where that is not known."""
        return min((ethanol_of(held.lot) or Fraction(0)) for held in self.held)

    def carried_ul(self) -> Fraction:
        """How much water it may hold at most."""
        coldest = min(self.vessel.month_means_mc)
        return ALARM * water_carried_ul(self.volume_ul, coldest, ethanol=self._least())

    def unfit(self) -> FuelClock | None:
        """What makes the fuel unfit for the engine, whatever its age; None when nothing does."""
        if self.wrong_lots():
            return FuelClock.UNKNOWN
        most = self.ethanol(held.lot for held in self.held)[1]
        return FuelClock.ETHANOL if most > self.table.ethanol_limit else None

    # -- bands --

    def band(self, day: int) -> Band:
        """The band at the end of a day on or after `on`, by the clocks and looks."""
        if self.looked_bad() and self.look is not None and self.look.look is Look.LAYERS:
            return Band.DRAIN
        if self.wet():
            return Band.DRAIN
        table = self.table
        ages = [self._age_seen(held, day) for held in self.held]
        if not any(_at_least(age, table.stale_at) for age in ages):
            if self.thin(day, table.stale_at):
                return Band.BURN
            old = any(_at_least(age, table.use_first_at) for age in ages)
            return Band.USE_FIRST if old or self.thin(day, table.use_first_at) else Band.GOOD
        if self._spoilt(ages):
            return Band.DRAIN
        looked_for = self.unknown_share() > table.unknown_share
        return Band.LOOK_FIRST if looked_for else Band.BURN

    def governs(self, band: Band, day: int) -> FuelClock:
        """What made this band on this day."""
        if band is Band.DRAIN:
            if self.looked_bad():
                return FuelClock.LOOK
            return FuelClock.WATER if self.wet() else FuelClock.OXIDATION
        if band is Band.LOOK_FIRST:
            return FuelClock.UNKNOWN
        return self._why_stale(day) if band is Band.BURN else self._further(day)

    def _spoilt(self, ages: Sequence[_Age]) -> bool:
        if not any(_at_least(age, self.table.gum_limit) for age in ages):
            return False
        spoilt = self._share_over(ages, self.table.spoilt_at) > self.table.spoilt_share
        return spoilt or _at_least(self._gum(ages), self.table.gum_limit)

    def _why_stale(self, day: int) -> FuelClock:
        table = self.table
        if not any(_at_least(self._age_seen(held, day), table.stale_at) for held in self.held):
            return FuelClock.LIGHT_ENDS
        if self.looked_bad() or self._spoilt(self.by_clock(day)):
            return FuelClock.LOOK
        known = [held.course for held in self.held if held.course is not None]
        if any(_at_least((course.age(day), course.scale), table.stale_at) for course in known):
            return FuelClock.OXIDATION
        return FuelClock.LOOK if self._looked_sharp() else FuelClock.UNKNOWN

    def _further(self, day: int) -> FuelClock:
        """Of fuel that is not stale: the clock that has run further."""
        lost = self.light_ends(day)
        if lost is None:
            return FuelClock.OXIDATION
        top, bottom = lost
        ahead = all(top * scale > age * bottom for age, scale in self.by_clock(day))
        return FuelClock.LIGHT_ENDS if ahead else FuelClock.OXIDATION


def _came_on(lot: LotFacts, on: int) -> int:
    """The ordinal of the day the lot came into the vessel, as far as anybody knows."""
    day = lot.since or lot.bought_on
    return on if day is None else day.toordinal()


def _last_look(looks: Sequence[VesselLook], day: date) -> VesselLook | None:
    """The last one; of several on one day the last that was entered."""
    latest: VesselLook | None = None
    for look in looks:
        if look.day <= day and (latest is None or look.day >= latest.day):
            latest = look
    return latest


def _contents(vessel: VesselFacts, day: date, table: FuelTable) -> _Contents:
    on = day.toordinal()
    latest = _last_look(vessel.looks, day)
    held: list[_Held] = []
    for lot in vessel.lots:
        if lot.volume_ul <= 0 or _came_on(lot, on) > on or (lot.bought_on or day) > day:
            continue
        seen_from = lot.since or lot.bought_on
        seen = latest is not None and (seen_from is None or seen_from <= latest.day)
        course = None if lot.bought_on is None else course_of(lot, lot.bought_on, vessel, on, table)
        held.append(_Held(lot, course, seen))
    look = latest if any(one.seen for one in held) else None
    volume = sum(one.lot.volume_ul for one in held)
    reckoned = vessel.month_swings_mc and all(one.lot.amount_known for one in held)
    lots = tuple(one.lot for one in held)
    breath = Breath(vessel, lots, on, table) if lots and reckoned else None
    return _Contents(vessel, on, table, tuple(held), look, breath, volume)


# -- days ahead -------------------------------------------------------------------------------


def _next_band_on(contents: _Contents, band: Band) -> int | None:
    """The first day of a worse band: with nothing added a band never gets better."""
    first = contents.on + 1
    last = min(first + _AHEAD_DAYS, _LAST + 1)
    if band in (Band.GOOD, Band.USE_FIRST):
        table = contents.table
        age = table.use_first_at if band is Band.GOOD else table.stale_at
        found = [held.course.first_day(age) for held in contents.held if held.course is not None]
        found.append(_thin_on(contents, age))
        nearest = min((day for day in found if day is not None), default=None)
        return nearest if nearest is not None and nearest < last else None
    if band in (Band.DRAIN, Band.NOT_FOR_THIS):
        return None
    rank = _RANK[band]
    days = range(first, last)
    at = bisect_left(days, True, key=lambda day: _RANK[contents.band(day)] > rank)
    return days[at] if at < len(days) else None


def _thin_on(contents: _Contents, limit: Fraction) -> int | None:
    """The first day to come by which as much of the light ends is gone."""
    if contents.breath is None:
        return None
    return contents.breath.first_day(limit, min(contents.on + _AHEAD_DAYS, _LAST - 1))


def _was_thin_on(contents: _Contents) -> int | None:
    """The first day on which too much of the light ends of what is in it was or will be gone."""
    on, limit = contents.on, contents.table.stale_at
    if not contents.thin(on, limit):
        return _thin_on(contents, limit)
    days = range(min(_came_on(held.lot, on) for held in contents.held), on + 1)
    return days[bisect_left(days, True, key=lambda day: contents.thin(day, limit))]


def _stale_on(held: _Held, on: int, table: FuelTable) -> int | None:
    """The day from which this lot makes its vessel stale: its own, or the day it came."""
    came = _came_on(held.lot, on)
    if held.course is None:
        return came
    stale = held.course.first_day(table.stale_at)
    return None if stale is None else max(came, stale)


def _burn_on(contents: _Contents) -> int | None:
    """The first day the vessel was or will be stale or worse with what is in it now."""
    on, table = contents.on, contents.table
    days = [_stale_on(held, on, table) for held in contents.held]
    days += [_came_on(lot, on) for lot in contents.wrong_lots()]
    if contents.looked_bad() and contents.look is not None:
        days.append(contents.look.day.toordinal())
    if contents.wet():
        days.append(on)
    days.append(_was_thin_on(contents))
    days.append(_too_much_ethanol_on(contents))
    return min((day for day in days if day is not None), default=None)


def _too_much_ethanol_on(contents: _Contents) -> int | None:
    on = contents.on
    lots = sorted((held.lot for held in contents.held), key=lambda lot: _came_on(lot, on))
    limit = contents.table.ethanol_limit
    if contents.ethanol(lots)[1] <= limit and len(lots) == 1:
        return None
    for count in range(1, len(lots) + 1):
        if contents.ethanol(lots[:count])[1] > limit:
            return _came_on(lots[count - 1], on)
    return None


# -- the verdict ------------------------------------------------------------------------------


def judge_vessel(vessel: VesselFacts, *, on: date, table: FuelTable = FUEL_TABLE) -> VesselVerdict:
    """What to do with the fuel in a can, tank or bowl at the end of the day `on`.

    Shares and gum index are by the clock alone, a lot of unknown day counted as just stale; the
    band also heeds light ends, water and the last look at fuel that is still there. `next_band_on`
    is looked for three years ahead. `burn_on` may lie in the past; None without fuel. Raises
    ValueError when the place has not twelve monthly means.
    """
    contents = _contents(vessel, on, table)
    if not contents.held:
        return _empty(vessel)
    unfit = contents.unfit()
    band = contents.band(contents.on) if unfit is None else Band.NOT_FOR_THIS
    shares = contents.shares(contents.by_clock(contents.on))
    lost = contents.light_ends(contents.on)
    governed_by = contents.governs(band, contents.on) if unfit is None else unfit
    next_on = _next_band_on(contents, band)
    next_band = None if next_on is None else contents.band(next_on)
    figures = ClockFigures(
        clock=governed_by,
        stale=shares.stale,
        spoilt=shares.spoilt,
        light_ends=None if lost is None else Fraction(*lost),
        water_ul=vessel.water_ul,
        carried_ul=contents.carried_ul(),
    )
    clocks = clock_grounds(figures, next_on=_date(next_on), next_band=next_band, table=table)
    return VesselVerdict(
        vessel_id=vessel.vessel_id,
        name=vessel.name,
        sort=vessel.sort,
        volume_ul=contents.volume_ul,
        capacity_ul=vessel.capacity_ul,
        lots=tuple(_lot_verdict(contents, at, on) for at in range(len(contents.held))),
        stale_share=shares.stale,
        spoilt_share=shares.spoilt,
        gum_index=shares.gum,
        ethanol=contents.ethanol(held.lot for held in contents.held)[0],
        band=band,
        governed_by=governed_by,
        next_band_on=_date(next_on),
        burn_on=_date(_burn_on(contents)),
        reason=_grounds(contents, band, on, tuple(clocks)),
        light_ends=figures.light_ends,
        next_band=next_band,
    )


def _date(day: int | None) -> date | None:
    return None if day is None else date.fromordinal(day)


def _empty(vessel: VesselFacts) -> VesselVerdict:
    return VesselVerdict(
        vessel_id=vessel.vessel_id,
        name=vessel.name,
        sort=vessel.sort,
        volume_ul=0,
        capacity_ul=vessel.capacity_ul,
        lots=(),
        stale_share=Fraction(0),
        spoilt_share=Fraction(0),
        gum_index=Fraction(0),
        ethanol=None,
        band=Band.GOOD,
        governed_by=FuelClock.OXIDATION,
        next_band_on=None,
        burn_on=None,
        reason=_EMPTY if vessel.entered else _NOT_ENTERED,
        entered=vessel.entered,
    )


_EMPTY = reason(ReasonCode.FUEL_EMPTY)
_NOT_ENTERED = reason(ReasonCode.FUEL_NOT_ENTERED)
_NOT_STABILISED = reason(ReasonCode.FUEL_NOT_STABILISED)


def _treated_on(lot: LotFacts, on: date) -> date | None:
    return lot.stabilised_on if lot.stabilised_on and lot.stabilised_on <= on else None


def _lot_verdict(contents: _Contents, at: int, on: date) -> LotVerdict:
    held, breath = contents.held[at], contents.breath
    lot = held.lot
    return LotVerdict(
        bought_on=lot.bought_on,
        volume_ul=lot.volume_ul,
        sort=lot.sort,
        age_days=None if lot.bought_on is None else (on - lot.bought_on).days,
        ageing=None if held.course is None else held.course.ageing(contents.on),
        stabilised_on=_treated_on(lot, on),
        light_ends=None if breath is None else Fraction(breath.lost_now[at], LOSS_SCALE),
        ethanol=ethanol_of(lot),
    )


def _grounds(contents: _Contents, band: Band, on: date, clocks: tuple[Reason, ...]) -> Reason:
    name = contents.vessel.name
    children: list[Reason] = []
    if band is Band.NOT_FOR_THIS:
        children.append(reason(ReasonCode.WRONG_FUEL, vessel=name))
    if contents.look is not None:
        look = contents.look
        children.append(reason(ReasonCode.FUEL_LOOK, look=look.look, day=look.day))
    oldest_first = sorted(
        contents.held, key=lambda held: (held.lot.bought_on or date.min, -held.lot.volume_ul)
    )
    children += [_lot_ground(contents, held, on) for held in oldest_first]
    children += clocks
    return reason(ReasonCode.FUEL_BAND, children=tuple(children), vessel=name, band=band)


def _lot_ground(contents: _Contents, held: _Held, on: date) -> Reason:
    lot = held.lot
    if lot.bought_on is None or held.course is None:
        return reason(ReasonCode.FUEL_DATE_UNKNOWN)
    row = contents.table.row(lot.sort, contents.vessel.sort)
    treated_on = _treated_on(lot, on)
    life = held.course.keeps()
    keeping = row.plain if life == row.plain.days else row.treated
    sources = keeping.sources if life == keeping.days else ()
    treatment = (
        _NOT_STABILISED
        if treated_on is None
        else reason(ReasonCode.FUEL_STABILISED, day=treated_on)
    )
    keeps = reason(
        ReasonCode.FUEL_KEEPS,
        source=sources[0] if sources else None,
        days=life.numerator // life.denominator,
    )
    return reason(
        ReasonCode.FUEL_AGE,
        children=(treatment, keeps),
        bought=lot.bought_on,
        days=(on - lot.bought_on).days,
        ageing=Quantity(held.course.ageing(contents.on) * 1000, Unit.PERMILLE),
    )
