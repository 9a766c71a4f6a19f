"""From the facts of a vessel to the drawing of it, and to the line of its days."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from app.sheets.vessel import DayLine, Layer, Stretch, Texture, VesselFigure
from app.vessel_names import empty_said
from app.wording.languages import msg
from app.wording.units import reading_unit
from app.wording.wording import Wording
from schedules.band_course import BandDays
from schedules.facts import FuelSort, LotVerdict, VesselSort, VesselVerdict
from schedules.keeping import FUEL_TABLE
from schedules.units import Unit, to_stored

_STEPS = (1, 2, 5)
_LITRE_UL = 1_000_000
_SMALL_MM = 16.0
_A_YEAR = 365
_SHORT = {
    FuelSort.E0: "E0",
    FuelSort.E5: "E5",
    FuelSort.E10: "E10",
    FuelSort.E15: "E15",
}
_OTHERS = {
    FuelSort.ALKYLATE: msg("alkylate"),
    FuelSort.PREMIX: msg("mix"),
    FuelSort.PREMIX_ALKYLATE: msg("alkylate mix"),
    FuelSort.DIESEL: msg("diesel"),
    FuelSort.UNKNOWN: msg("E?"),
}


def short_sort(sort: FuelSort, words: Wording) -> str:
    """What a fuel is called where there is little room."""
    return _SHORT.get(sort) or words.text(_OTHERS[sort])


def texture_of(lot: LotVerdict) -> Texture:
    """How a fill is drawn, by its own age."""
    if lot.ageing is None:
        return Texture.DASHES
    table = FUEL_TABLE
    if lot.ageing >= table.spoilt_at:
        return Texture.NET
    if lot.ageing >= table.stale_at:
        return Texture.STROKES
    return Texture.DOTS if lot.ageing >= table.use_first_at else Texture.PLAIN


def figure_of(verdict: VesselVerdict, words: Wording) -> VesselFigure:
    """The vessel as it is drawn: its fills, the oldest at the bottom."""
    lots = sorted(verdict.lots, key=lambda lot: (lot.bought_on or date.min, -lot.volume_ul))
    unseen = bool(lots) and verdict.volume_ul <= 1
    layers = tuple(
        Layer(
            part=min(1.0, lot.volume_ul / verdict.capacity_ul),
            texture=texture_of(lot),
            treated=lot.stabilised_on is not None,
            label=_label(lot, words),
        )
        for lot in lots
        if not unseen
    )
    said = ""
    if unseen:
        said = words.text(msg("how much?"))
    elif not lots:
        said = empty_said(verdict, words)
    return VesselFigure(
        sort=verdict.sort,
        litres=verdict.capacity_ul / _LITRE_UL,
        layers=layers,
        marks=_marks(verdict.capacity_ul, words),
        said=said,
    )


def _label(lot: LotVerdict, words: Wording) -> str:
    if lot.bought_on is None:
        day = words.text(msg("day?"))
    elif (lot.age_days or 0) >= _A_YEAR:
        day = str(lot.bought_on.year)  # day and month alone would look like this year's
    else:
        day = words.day_short(lot.bought_on)
    return " ".join(part for part in (day, short_sort(lot.sort, words)) if part)


def _marks(capacity_ul: int, words: Wording) -> tuple[tuple[float, str], ...]:
    """The scale beside it: three to five round figures in the household's unit, unit on top."""
    whole, unit = reading_unit(Fraction(capacity_ul), Unit.MICROLITRE, words.units)
    small = VesselFigure(sort=VesselSort.CAN, litres=capacity_ul / _LITRE_UL).side < _SMALL_MM
    step = _step(whole, 2 if small else 5)
    marks: list[tuple[float, str]] = []
    at = step
    while at <= whole:
        marks.append((float(at / whole), words.number(at, 2)))
        at += step
    symbol = words.symbol(unit)
    last, number = marks[-1]
    return (*marks[:-1], (last, f"{number} {symbol}"))


def _step(whole: Fraction, most: int = 5) -> Fraction:
    """The smallest of 1, 2, 5 and their tenfolds that parts it into so many at the most."""
    tens = Fraction(1, 100)
    while True:
        for step in _STEPS:
            if whole / (tens * step) <= most:
                return tens * step
        tens *= 10


def graduation_ul(capacity_ul: int, words: Wording) -> int:
    """A quarter of the step of its scale: how far one press of an arrow key goes."""
    whole, unit = reading_unit(Fraction(capacity_ul), Unit.MICROLITRE, words.units)
    return max(1, to_stored(_step(whole) / 4, unit))


def days_of(
    course: Sequence[BandDays], *, first: date, on: date, last: date, words: Wording
) -> DayLine:
    """The line of its days from `first` to `last`."""
    whole = (last - first).days

    def part(day: date) -> float:
        return min(1.0, max(0.0, (day - first).days / whole))

    stretches = tuple(
        Stretch(
            start=part(one.first),
            end=1.0 if place + 1 == len(course) else part(course[place + 1].first),
            band=one.band,
            word=words.text(msg("empty")) if one.band is None else words.band(one.band),
        )
        for place, one in enumerate(course)
    )
    return DayLine(
        stretches=stretches,
        today=part(on),
        months=_months(first, last, words),
        today_said=words.text(msg("today")),
    )


def _months(first: date, last: date, words: Wording) -> tuple[tuple[float, str], ...]:
    whole = (last - first).days
    found: list[tuple[float, str]] = []
    day = _next_month(first)
    while day < last:
        name = words.month(day)
        short = name if day.month == 1 else name.split(" ", 1)[0]
        found.append(((day - first).days / whole, short))
        day = _next_month(day)
    return tuple(found)


def _next_month(day: date) -> date:
    return date(day.year + day.month // 12, day.month % 12 + 1, 1)


def days_said(course: Sequence[BandDays], words: Wording) -> str:
    """The same in words, the coming days last."""
    parts = [
        words.text(
            msg("from {day}: {band}"),
            day=words.day(one.first),
            band=words.text(msg("empty")) if one.band is None else words.band(one.band),
        )
        for one in course
    ]
    return "; ".join(parts)
