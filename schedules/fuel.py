"""How old the fuel in a vessel really is, and what to do with it.

The oxidation clock: every lot ages by the day, faster when warm, slower when stabilised; at 1 it
is stale, at 3 spoilt. A lot keeps its own age through pouring and mixing; the band of a vessel
comes from the shares of its lots. What nose and jar said overrules the clock.

Not counted yet: the light ends that a vented tank loses (hard starting) and water. Where a band
rests on either it is worked out as if they were nil.

Decision: warmth is summed month by month in whole numbers, so that the age on any day is one
subtraction; a walk over the days is simpler and stands in the tests as a second opinion.
"""

from __future__ import annotations

from bisect import bisect_left
from calendar import isleap, monthrange
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Context, Decimal
from fractions import Fraction
from functools import lru_cache
from math import ceil

from schedules.facts import (
    Band,
    FigureMark,
    FuelClock,
    FuelSort,
    FuelUse,
    Look,
    LotFacts,
    LotVerdict,
    Mark,
    SourceId,
    VesselFacts,
    VesselLook,
    VesselSort,
    VesselVerdict,
)
from schedules.reasons import Reason, ReasonCode, reason
from schedules.units import Quantity, Unit

# -- how long fuel keeps ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeping:
    """Days at 20 degrees until fuel is stale, the spread of what is said, and what it rests on."""

    days: int
    least_days: int | None = None
    most_days: int | None = None
    mark: Mark = Mark.OUR_JUDGEMENT
    sources: tuple[SourceId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepingRow:
    """How long one sort of fuel keeps in one sort of vessel, untreated and stabilised fresh."""

    sort: FuelSort
    vessel: VesselSort
    plain: Keeping
    treated: Keeping


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelTable:
    """All figures of the clock and the bands. Ages are in lives: 1 is stale.

    `floor`: the slowest a day may count; `doubling_degrees`: so many degrees more make fuel age
    twice as fast. `dose`: parts of stabiliser to one of petrol. A row without sources is marked
    for what it is; `marks` says it of the other figures.
    """

    rows: tuple[KeepingRow, ...]
    floor: Fraction = Fraction(1, 4)
    use_first_at: Fraction = Fraction(1, 2)
    stale_at: Fraction = Fraction(1)
    spoilt_at: Fraction = Fraction(3)
    spoilt_share: Fraction = Fraction(1, 4)
    gum_limit: Fraction = Fraction(2)
    gum_cap: Fraction = Fraction(5)
    unknown_share: Fraction = Fraction(1, 4)
    ethanol_limit: Fraction = Fraction(1, 10)
    dose: Fraction = Fraction(1, 320)
    doubling_degrees: int = 10
    marks: tuple[FigureMark, ...] = ()
    _by_sort: dict[tuple[FuelSort, VesselSort], KeepingRow] = field(
        init=False, repr=False, compare=False
    )

    def __post_init__(self) -> None:
        """Raise ValueError when a row is missing, or stabiliser would make fuel age faster."""
        by_sort = {(row.sort, row.vessel): row for row in self.rows}
        if len(by_sort) != len(FuelSort) * len(VesselSort) or len(by_sort) != len(self.rows):
            raise ValueError("each sort of fuel needs one row for each sort of vessel")
        if any(not 0 < row.plain.days <= row.treated.days for row in self.rows):
            raise ValueError("stabilised fuel keeps at least as long as plain")
        if not self.use_first_at < self.stale_at < self.gum_limit <= self.spoilt_at:
            raise ValueError("the bands stand in order")
        object.__setattr__(self, "_by_sort", by_sort)

    def row(self, sort: FuelSort, vessel: VesselSort) -> KeepingRow:
        """The row of a sort of fuel in a sort of vessel."""
        return self._by_sort[sort, vessel]


def _rows(
    sorts: Iterable[FuelSort], vessel: VesselSort, plain: Keeping, treated: Keeping | None = None
) -> tuple[KeepingRow, ...]:
    return tuple(
        KeepingRow(sort=sort, vessel=vessel, plain=plain, treated=treated or plain)
        for sort in sorts
    )


_EXTENSION = SourceId("unl-ethanol")
_E15_ADVICE = SourceId("epa-e15")

_PETROL = (FuelSort.E0, FuelSort.E5, FuelSort.E10, FuelSort.E15, FuelSort.UNKNOWN)
_ALKYLATES = (FuelSort.ALKYLATE, FuelSort.PREMIX_ALKYLATE)
_TANK_PLAIN = Keeping(
    days=30, least_days=20, most_days=60, mark=Mark.PUBLISHED, sources=(_EXTENSION,)
)
_TANK_TREATED = Keeping(days=180, least_days=60, most_days=730)
_CAN_PLAIN = Keeping(days=180, least_days=90, most_days=365, mark=Mark.COMMON_PRACTICE)
_CAN_TREATED = Keeping(days=365, least_days=90, most_days=730, mark=Mark.MAKERS_DIFFER)
_ALKYLATE_CAN = Keeping(days=730, most_days=1825, mark=Mark.FROM_MEMORY)
_ALKYLATE_OPEN = Keeping(days=365, most_days=1825)
_DIESEL = Keeping(days=365, least_days=180, most_days=540, mark=Mark.COMMON_PRACTICE)

FUEL_TABLE = FuelTable(
    rows=(
        *_rows(_PETROL, VesselSort.TANK, _TANK_PLAIN, _TANK_TREATED),
        *_rows((FuelSort.E0, FuelSort.E5), VesselSort.CAN, _CAN_PLAIN, _CAN_TREATED),
        *_rows(
            (FuelSort.E10, FuelSort.E15, FuelSort.UNKNOWN),
            VesselSort.CAN,
            Keeping(days=90, least_days=30, most_days=180),
            _CAN_TREATED,
        ),
        *_rows((*_PETROL, FuelSort.PREMIX), VesselSort.BOWL, Keeping(days=30), Keeping(days=90)),
        *_rows(_ALKYLATES, VesselSort.CAN, _ALKYLATE_CAN),
        *_rows(_ALKYLATES, VesselSort.TANK, _ALKYLATE_OPEN),
        *_rows(_ALKYLATES, VesselSort.BOWL, _ALKYLATE_OPEN),
        *_rows((FuelSort.PREMIX,), VesselSort.TANK, Keeping(days=30), Keeping(days=180)),
        *_rows((FuelSort.PREMIX,), VesselSort.CAN, Keeping(days=90, least_days=30, most_days=365)),
        *_rows((FuelSort.DIESEL,), VesselSort.CAN, _DIESEL),
        *_rows((FuelSort.DIESEL,), VesselSort.TANK, _DIESEL),
        *_rows((FuelSort.DIESEL,), VesselSort.BOWL, _DIESEL),
    ),
    marks=(
        FigureMark(figure="doubling_degrees", mark=Mark.COMMON_PRACTICE),
        FigureMark(figure="ethanol_limit", mark=Mark.PUBLISHED, sources=(_E15_ADVICE,)),
        FigureMark(figure="dose", mark=Mark.MAKERS_DIFFER),
        *(
            FigureMark(figure=figure, mark=Mark.OUR_JUDGEMENT)
            for figure in ("floor", "use_first_at", "stale_at", "spoilt_at", "spoilt_share")
        ),
        *(
            FigureMark(figure=figure, mark=Mark.OUR_JUDGEMENT)
            for figure in ("gum_limit", "gum_cap", "unknown_share")
        ),
    ),
)

ETHANOL: dict[FuelSort, Fraction | None] = {
    FuelSort.E0: Fraction(0),
    FuelSort.E5: Fraction(5, 100),
    FuelSort.E10: Fraction(10, 100),
    FuelSort.E15: Fraction(15, 100),
    FuelSort.ALKYLATE: Fraction(0),
    FuelSort.PREMIX_ALKYLATE: Fraction(0),
    FuelSort.DIESEL: Fraction(0),
    FuelSort.PREMIX: None,  # on whatever petrol the pump had
    FuelSort.UNKNOWN: None,
}
_PUMP_AT_MOST = Fraction(10, 100)  # what is not known is taken as ordinary pump petrol
_PREMIXES = frozenset({FuelSort.PREMIX, FuelSort.PREMIX_ALKYLATE})
_STRAIGHT = frozenset({FuelSort.E0, FuelSort.E5, FuelSort.E10, FuelSort.E15, FuelSort.ALKYLATE})
_WRONG: dict[FuelUse, frozenset[FuelSort]] = {
    FuelUse.FOUR_STROKE: _PREMIXES | {FuelSort.DIESEL},
    FuelUse.TWO_STROKE: _STRAIGHT | {FuelSort.DIESEL},
    FuelUse.DIESEL: _STRAIGHT | _PREMIXES,
    FuelUse.NONE: frozenset(),
}
# Where fuel is taken to have stood before it came here, when nobody wrote it down.
_CAME_FROM = {
    VesselSort.CAN: VesselSort.CAN,
    VesselSort.TANK: VesselSort.CAN,
    VesselSort.BOWL: VesselSort.TANK,
}
_WORSE = (
    Band.GOOD,
    Band.USE_FIRST,
    Band.BURN,
    Band.LOOK_FIRST,
    Band.DRAIN,
    Band.NOT_FOR_THIS,
)
_AHEAD_DAYS = 1096  # how far ahead the next band is looked for: three years


def stabiliser_dose_ul(petrol_ul: int, *, table: FuelTable = FUEL_TABLE) -> Fraction:
    """Microlitres of stabiliser for so much petrol, at the usual label dose; the label rules."""
    return petrol_ul * table.dose


# -- warmth -----------------------------------------------------------------------------------

_PRECISION = Context(prec=40)
_PLACES = 12
_SCALE = 10**_PLACES
_TWENTY_MC = 20_000


def rate_factor(mean_mc: int, *, table: FuelTable = FUEL_TABLE) -> Fraction:
    """How many days at 20 degrees one day at this mean (millidegrees Celsius) counts for.

    Not below the table's floor. The power is irrational, so it is held to twelve decimal places,
    the same on every machine, and exact from there on.
    """
    return _factor(mean_mc, table.floor, table.doubling_degrees)


def _factor(mean_mc: int, floor: Fraction, doubling_degrees: int) -> Fraction:
    steps = _PRECISION.divide(Decimal(mean_mc - _TWENTY_MC), Decimal(doubling_degrees * 1000))
    power = _PRECISION.power(Decimal(2), steps)
    return max(Fraction(round(Fraction(power) * _SCALE), _SCALE), floor)


@dataclass(frozen=True, slots=True)
class _Warmth:
    """Running total of the rate factor of a place, in 1/_SCALE days."""

    factors: tuple[int, ...]
    starts: tuple[tuple[int, ...], tuple[int, ...]]
    common_year: int

    def total(self, day: date) -> int:
        """The sum over all days up to and including this one, since the start of year 1."""
        before = day.year - 1
        leap_days = before // 4 - before // 100 + before // 400
        return (
            before * self.common_year
            + leap_days * self.factors[1]
            + self.starts[isleap(day.year)][day.month - 1]
            + day.day * self.factors[day.month - 1]
        )

    def between(self, first: date, last: date) -> Fraction:
        """Days at 20 degrees that the days after the first up to the last count for."""
        return Fraction(self.total(last) - self.total(first), _SCALE)


@lru_cache(maxsize=512)
def _warmth_of(month_means_mc: tuple[int, ...], floor: Fraction, doubling_degrees: int) -> _Warmth:
    if len(month_means_mc) != 12:
        raise ValueError("a place has twelve monthly means")
    factors = tuple(int(_factor(mean, floor, doubling_degrees) * _SCALE) for mean in month_means_mc)
    starts: list[tuple[int, ...]] = []
    sums: list[int] = []
    for year in (2023, 2024):
        running = 0
        at: list[int] = []
        for month, factor in enumerate(factors, start=1):
            at.append(running)
            running += monthrange(year, month)[1] * factor
        starts.append(tuple(at))
        sums.append(running)
    return _Warmth(factors, (starts[0], starts[1]), sums[0])


# -- one lot ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Piece:
    start: date
    ageing: Fraction
    rate: Fraction


@dataclass(frozen=True, slots=True)
class _Course:
    """How a lot of known day ages: pieces of one rate (lives a day at 20 degrees) each."""

    warmth: _Warmth
    pieces: tuple[_Piece, ...]

    def ageing(self, day: date) -> Fraction:
        """Age in lives at the end of the day, nil on the day it was bought and before."""
        at = self.pieces[0]
        if day <= at.start:
            return at.ageing
        for piece in self.pieces:
            if piece.start > day:
                break
            at = piece
        return at.ageing + at.rate * self.warmth.between(at.start, day)

    def first_day(self, age: Fraction) -> date | None:
        """The first day at whose end it is this old, but for the day it was bought."""
        following = [piece.start for piece in self.pieces[1:]] + [date.max]
        for piece, end in zip(self.pieces, following, strict=True):
            wanted = self.warmth.total(piece.start) + ceil(
                (age - piece.ageing) / piece.rate * _SCALE
            )
            if self.warmth.total(end) >= wanted:
                span = range(piece.start.toordinal(), end.toordinal())
                at = bisect_left(
                    span, wanted, key=lambda number: self.warmth.total(date.fromordinal(number))
                )
                return date.fromordinal(span.start + at)
        return None


def _stays(lot: LotFacts, vessel: VesselSort, bought_on: date) -> list[tuple[date, VesselSort]]:
    """Where the lot stood, from which day on; the first of them since it was bought."""
    since = max(lot.since or bought_on, bought_on)
    stays = [(max(day, bought_on), where) for where, day in lot.earlier if day <= since]
    stays.sort(key=lambda stay: stay[0])
    if stays:
        stays[0] = (bought_on, stays[0][1])
    elif since > bought_on:
        stays = [(bought_on, _CAME_FROM[vessel])]
    return [*stays, (since, vessel)]


def _course(
    lot: LotFacts, bought_on: date, vessel: VesselFacts, on: date, table: FuelTable
) -> _Course:
    warmth = _warmth_of(vessel.month_means_mc, table.floor, table.doubling_degrees)
    stays = _stays(lot, vessel.sort, bought_on)
    treated_on = lot.stabilised_on
    if treated_on is not None:
        treated_on = None if treated_on > on else max(treated_on, bought_on)
    changes = {day for day, _ in stays}
    if treated_on is not None:
        changes.add(treated_on)
    pieces: list[_Piece] = []
    credit = Fraction(0)
    for day in sorted(changes):
        reached = _Course(warmth, tuple(pieces)).ageing(day) if pieces else Fraction(0)
        if day == treated_on:
            credit = max(Fraction(0), 1 - reached)
        stood_in = [where for came, where in stays if came <= day][-1]
        row = table.row(lot.sort, stood_in)
        rate = (1 - credit) / row.plain.days + credit / row.treated.days
        pieces.append(_Piece(day, reached, rate))
    return _Course(warmth, tuple(pieces))


def lot_ageing(
    lot: LotFacts, vessel: VesselFacts, *, on: date, table: FuelTable = FUEL_TABLE
) -> Fraction | None:
    """Age of a lot in lives at the end of the day (1 is stale); None when its day is unknown.

    Fuel stabilised late keeps the age it has and earns a credit that fades with it: none when it
    was stale by then. Fuel moved into a machine goes on from the age it had in the can.
    """
    if lot.bought_on is None:
        return None
    return _course(lot, lot.bought_on, vessel, on, table).ageing(on)


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
    course: _Course | None
    seen: bool


@dataclass(frozen=True, slots=True)
class _Contents:
    """What a vessel holds on the day asked about, and how it goes on if it is left alone."""

    vessel: VesselFacts
    on: date
    table: FuelTable
    held: tuple[_Held, ...]
    look: VesselLook | None

    @property
    def volume_ul(self) -> int:
        return sum(held.lot.volume_ul for held in self.held)

    def by_clock(self, day: date) -> _Shares:
        """Shares by the clock alone; a lot of unknown day counts as just stale."""
        return self._shares([self._age(held, day) for held in self.held])

    def _age(self, held: _Held, day: date) -> Fraction:
        return self.table.stale_at if held.course is None else held.course.ageing(day)

    def _age_seen(self, held: _Held, day: date) -> Fraction:
        age = self._age(held, day)
        if self.look is None or not held.seen:
            return age
        if self.look.look is Look.SHARP_CLEAR:
            return min(age, self.table.stale_at)
        return max(age, self.table.spoilt_at)

    def _shares(self, ages: list[Fraction]) -> _Shares:
        table, whole = self.table, self.volume_ul
        aged = [(held.lot.volume_ul, age) for held, age in zip(self.held, ages, strict=True)]
        return _Shares(
            Fraction(sum(ul for ul, age in aged if age >= table.stale_at), whole),
            Fraction(sum(ul for ul, age in aged if age >= table.spoilt_at), whole),
            sum((ul * min(age, table.gum_cap) for ul, age in aged), Fraction(0)) / whole,
        )

    def wrong_lots(self) -> list[LotFacts]:
        """Lots that this engine must not be given at all."""
        wrong = _WRONG[self.vessel.burns]
        return [held.lot for held in self.held if held.lot.sort in wrong]

    def ethanol(self, lots: Iterable[LotFacts]) -> tuple[Fraction | None, Fraction]:
        """Ethanol share: as known (None where a sort is not), and the most it is taken to be."""
        parts = [(lot.volume_ul, ETHANOL[lot.sort]) for lot in lots]
        whole = sum(ul for ul, _ in parts)
        most = sum(
            (ul * (_PUMP_AT_MOST if share is None else share) for ul, share in parts), Fraction(0)
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

    def unfit(self) -> FuelClock | None:
        """What makes the fuel unfit for the engine, whatever its age; None when nothing does."""
        if self.wrong_lots():
            return FuelClock.UNKNOWN
        most = self.ethanol(held.lot for held in self.held)[1]
        return FuelClock.ETHANOL if most > self.table.ethanol_limit else None

    def band(self, day: date) -> Band:
        """The band at the end of a day on or after `on`, by age and looks."""
        if self.looked_bad() and self.look is not None and self.look.look is Look.LAYERS:
            return Band.DRAIN
        ages = [self._age_seen(held, day) for held in self.held]
        oldest = max(ages)
        if oldest < self.table.stale_at:
            return Band.USE_FIRST if oldest >= self.table.use_first_at else Band.GOOD
        if oldest >= self.table.gum_limit and self._spoilt(self._shares(ages)):
            return Band.DRAIN
        looked_for = self.unknown_share() > self.table.unknown_share
        return Band.LOOK_FIRST if looked_for else Band.BURN

    def governs(self, band: Band, day: date) -> FuelClock:
        """What made this band on this day."""
        if band is Band.DRAIN:
            return FuelClock.LOOK if self.looked_bad() else FuelClock.OXIDATION
        if band is Band.LOOK_FIRST:
            return FuelClock.UNKNOWN
        return self._why_stale(day) if band is Band.BURN else FuelClock.OXIDATION

    def _spoilt(self, shares: _Shares) -> bool:
        return shares.spoilt > self.table.spoilt_share or shares.gum >= self.table.gum_limit

    def _why_stale(self, day: date) -> FuelClock:
        if self.looked_bad() or self._spoilt(self.by_clock(day)):
            return FuelClock.LOOK
        known = [held.course.ageing(day) for held in self.held if held.course is not None]
        if known and max(known) >= self.table.stale_at:
            return FuelClock.OXIDATION
        return FuelClock.LOOK if self._looked_sharp() else FuelClock.UNKNOWN


def _came_on(lot: LotFacts, on: date) -> date:
    """The day the lot came into the vessel, as far as anybody knows."""
    return lot.since or lot.bought_on or on


def _contents(vessel: VesselFacts, on: date, table: FuelTable) -> _Contents:
    looks = [look for look in vessel.looks if look.day <= on]
    latest = max(looks, key=lambda look: look.day, default=None)
    if latest is not None:  # of several on one day the last that was entered
        latest = [look for look in looks if look.day == latest.day][-1]
    held: list[_Held] = []
    for lot in vessel.lots:
        if lot.volume_ul <= 0 or _came_on(lot, on) > on or (lot.bought_on or on) > on:
            continue
        seen_from = lot.since or lot.bought_on
        seen = latest is not None and (seen_from is None or seen_from <= latest.day)
        course = None if lot.bought_on is None else _course(lot, lot.bought_on, vessel, on, table)
        held.append(_Held(lot, course, seen))
    look = latest if any(one.seen for one in held) else None
    return _Contents(vessel, on, table, tuple(held), look)


# -- days ahead -------------------------------------------------------------------------------


def _next_band_on(contents: _Contents, band: Band) -> date | None:
    """The first day of a worse band: with nothing added a band never gets better."""
    first = contents.on.toordinal() + 1
    last = min(first + _AHEAD_DAYS, date.max.toordinal() + 1)
    if band in (Band.GOOD, Band.USE_FIRST):
        table = contents.table
        age = table.use_first_at if band is Band.GOOD else table.stale_at
        found = [held.course.first_day(age) for held in contents.held if held.course is not None]
        nearest = min((day for day in found if day is not None), default=None)
        return nearest if nearest is not None and nearest.toordinal() < last else None
    rank = _WORSE.index(band)
    days = range(first, last)
    at = bisect_left(
        days,
        True,
        key=lambda number: _WORSE.index(contents.band(date.fromordinal(number))) > rank,
    )
    return date.fromordinal(days[at]) if at < len(days) else None


def _stale_on(held: _Held, on: date, table: FuelTable) -> date | None:
    """The day from which this lot makes its vessel stale: its own, or the day it came."""
    came = _came_on(held.lot, on)
    course = held.course
    if course is None:
        return came
    stale = course.first_day(table.stale_at)
    return None if stale is None else max(came, stale)


def _burn_on(contents: _Contents) -> date | None:
    """The first day the vessel was or will be stale or worse with what is in it now."""
    on, table = contents.on, contents.table
    days = [_stale_on(held, on, table) for held in contents.held]
    days += [_came_on(lot, on) for lot in contents.wrong_lots()]
    if contents.looked_bad() and contents.look is not None:
        days.append(contents.look.day)
    lots = sorted((held.lot for held in contents.held), key=lambda lot: _came_on(lot, on))
    for count in range(1, len(lots) + 1):
        if contents.ethanol(lots[:count])[1] > table.ethanol_limit:
            days.append(_came_on(lots[count - 1], on))
            break
    return min((day for day in days if day is not None), default=None)


# -- the verdict ------------------------------------------------------------------------------


def judge_vessel(vessel: VesselFacts, *, on: date, table: FuelTable = FUEL_TABLE) -> VesselVerdict:
    """What to do with the fuel in a can, tank or bowl at the end of the day `on`.

    Shares and gum index are by the clock alone, a lot of unknown day counted as just stale; the
    band also heeds the last look at fuel that is still there. `next_band_on` is looked for three
    years ahead. `burn_on` may lie in the past; None without fuel. Raises ValueError when the
    place has not twelve monthly means.
    """
    contents = _contents(vessel, on, table)
    if not contents.held:
        return _empty(vessel)
    unfit = contents.unfit()
    band = contents.band(on) if unfit is None else Band.NOT_FOR_THIS
    shares = contents.by_clock(on)
    return VesselVerdict(
        vessel_id=vessel.vessel_id,
        name=vessel.name,
        sort=vessel.sort,
        volume_ul=contents.volume_ul,
        capacity_ul=vessel.capacity_ul,
        lots=tuple(_lot_verdict(held, on) for held in contents.held),
        stale_share=shares.stale,
        spoilt_share=shares.spoilt,
        gum_index=shares.gum,
        ethanol=contents.ethanol(held.lot for held in contents.held)[0],
        band=band,
        governed_by=contents.governs(band, on) if unfit is None else unfit,
        next_band_on=_next_band_on(contents, band) if unfit is None else None,
        burn_on=_burn_on(contents),
        reason=_grounds(contents, band),
    )


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
        reason=reason(ReasonCode.FUEL_EMPTY),
    )


def _treated_on(lot: LotFacts, on: date) -> date | None:
    return lot.stabilised_on if lot.stabilised_on and lot.stabilised_on <= on else None


def _lot_verdict(held: _Held, on: date) -> LotVerdict:
    lot = held.lot
    return LotVerdict(
        bought_on=lot.bought_on,
        volume_ul=lot.volume_ul,
        sort=lot.sort,
        age_days=None if lot.bought_on is None else (on - lot.bought_on).days,
        ageing=None if held.course is None else held.course.ageing(on),
        stabilised_on=_treated_on(lot, on),
    )


def _grounds(contents: _Contents, band: Band) -> Reason:
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
    children += [_lot_ground(contents, held) for held in oldest_first]
    return reason(ReasonCode.FUEL_BAND, children=tuple(children), vessel=name, band=band)


def _lot_ground(contents: _Contents, held: _Held) -> Reason:
    lot, on = held.lot, contents.on
    if lot.bought_on is None or held.course is None:
        return reason(ReasonCode.FUEL_DATE_UNKNOWN)
    row = contents.table.row(lot.sort, contents.vessel.sort)
    treated_on = _treated_on(lot, on)
    life = 1 / held.course.pieces[-1].rate
    keeping = row.plain if life == row.plain.days else row.treated
    sources = keeping.sources if life == keeping.days else ()
    treatment = (
        reason(ReasonCode.FUEL_NOT_STABILISED)
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
        ageing=Quantity(held.course.ageing(on) * 1000, Unit.PERMILLE),
    )
