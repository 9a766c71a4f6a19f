"""Places: adding, changing, their own temperatures and seasons, removing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import delete, exists, select
from sqlalchemy.orm import Session

from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.known import catalogue, kind_of, unknown
from models.acts.report import report
from models.acts.rows import place_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.fuel import VesselRow
from models.tables.machines import MachinePlaceRow
from models.tables.places import (
    COLDEST_MC,
    HOTTEST_MC,
    PlaceMonthRow,
    PlaceRow,
    PlaceSeasonRow,
    PlaceWindowRow,
)
from schedules.facts import MonthDay, Shelter, Window

MOST_WINDOWS = 2
_LEAP_YEAR = 2024


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthWeather:
    """A month's own temperatures outdoors, in thousandths of a degree Celsius."""

    month: int
    mean_mc: int
    low_mc: int | None = None
    high_mc: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPlace:
    """A new place. `climate` is a preset of the catalogue, `region` that of month shares; both
    may be left empty."""

    name: str
    south: bool = False
    climate: str = ""
    region: str = ""
    shelter: Shelter = Shelter.SHED
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = PlaceRow(
            name=_free_name(session, self.name),
            south=self.south,
            climate=_climate(self.climate),
            region=_region(self.region),
            shelter=self.shelter,
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(row)
        session.flush()
        return report(ActCode.ADD_PLACE, (Area.PLACES, row.id), name=row.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePlace:
    """Change what is given."""

    place_id: int
    name: str | Keep = KEEP
    south: bool | Keep = KEEP
    climate: str | Keep = KEEP
    region: str | Keep = KEEP
    shelter: Shelter | Keep = KEEP
    note: str | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = place_of(session, self.place_id)
        before = as_it_is(row)
        row.name = _free_name(session, kept(self.name, row.name), besides=row.id)
        row.south = kept(self.south, row.south)
        row.climate = row.climate if isinstance(self.climate, Keep) else _climate(self.climate)
        row.region = row.region if isinstance(self.region, Keep) else _region(self.region)
        row.shelter = kept(self.shelter, row.shelter)
        row.note = plain_text("note", kept(self.note, row.note), most=NOTE_LENGTH)
        refuse_unchanged(row, before)
        return report(ActCode.CHANGE_PLACE, (Area.PLACES, row.id), name=row.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetWeather:
    """A place's own temperatures instead of its climate's; without any, the climate's again."""

    place_id: int
    months: tuple[MonthWeather, ...]

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        place = place_of(session, self.place_id)
        seen: set[int] = set()
        for month in self.months:
            whole("month", month.month, 1, 12)
            if month.month in seen:
                raise Refused(RefusedCode.ALREADY_THERE, what="month", name=str(month.month))
            seen.add(month.month)
            whole("mean_mc", month.mean_mc, COLDEST_MC, HOTTEST_MC)
            if month.low_mc is not None:
                whole("low_mc", month.low_mc, COLDEST_MC, month.mean_mc)
            if month.high_mc is not None:
                whole("high_mc", month.high_mc, month.mean_mc, HOTTEST_MC)
        session.execute(delete(PlaceMonthRow).where(PlaceMonthRow.place_id == place.id))
        session.add_all(
            PlaceMonthRow(
                place_id=place.id,
                month=month.month,
                mean_mc=month.mean_mc,
                low_mc=month.low_mc,
                high_mc=month.high_mc,
            )
            for month in self.months
        )
        return report(ActCode.CHANGE_PLACE, (Area.PLACES, place.id), name=place.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSeasons:
    """When a kind works at a place. No windows: it has no season there. None: as the catalogue
    has it."""

    place_id: int
    kind: str
    windows: tuple[Window, ...] | None

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        place = place_of(session, self.place_id)
        kind = kind_of(self.kind)
        whole("windows", len(self.windows or ()), 0, MOST_WINDOWS)
        for window in self.windows or ():
            check_window(window)
        session.execute(
            delete(PlaceSeasonRow).where(
                PlaceSeasonRow.place_id == place.id, PlaceSeasonRow.kind_code == kind.code
            )
        )
        if self.windows is not None:
            season = PlaceSeasonRow(place_id=place.id, kind_code=kind.code)
            session.add(season)
            session.flush()
            session.add_all(
                PlaceWindowRow(
                    season_id=season.id,
                    first_month=window.first.month,
                    first_day=window.first.day,
                    last_month=window.last.month,
                    last_day=window.last.day,
                )
                for window in self.windows
            )
        return report(ActCode.CHANGE_PLACE, (Area.PLACES, place.id), name=place.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovePlace:
    """Remove a place at which nothing ever stood."""

    place_id: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused HAS_RECORDS."""
        place = place_of(session, self.place_id)
        machines = exists().where(MachinePlaceRow.place_id == place.id)
        vessels = exists().where(VesselRow.place_id == place.id)
        if session.scalar(select(machines)) or session.scalar(select(vessels)):
            raise Refused(RefusedCode.HAS_RECORDS, name=place.name)
        session.delete(place)
        return report(ActCode.REMOVE_PLACE, (Area.PLACES, place.id), name=place.name)


def check_window(window: Window) -> None:
    """Raises Refused for a day no year has, SEASON_WITHOUT_DAYS for one that most years lack."""
    for field, month_day in (("first_day", window.first), ("last_day", window.last)):
        whole("month", month_day.month, 1, 12)
        whole(field, month_day.day, 1, _last_of(month_day))
    if window.first == window.last == MonthDay(2, 29):
        raise Refused(RefusedCode.SEASON_WITHOUT_DAYS)


def _last_of(month_day: MonthDay) -> int:
    after = date(_LEAP_YEAR + month_day.month // 12, month_day.month % 12 + 1, 1)
    return (after - date(_LEAP_YEAR, month_day.month, 1)).days


def _free_name(session: Session, name: str, *, besides: int | None = None) -> str:
    plain = plain_text("name", name, least=1)
    for number, other in session.execute(select(PlaceRow.id, PlaceRow.name)):
        if number != besides and other.casefold() == plain.casefold():
            raise Refused(RefusedCode.ALREADY_THERE, what="place", name=other)
    return plain


def _climate(code: str) -> str:
    if code and code not in catalogue().climates:
        raise unknown("climate", code)
    return code


def _region(code: str) -> str:
    if code and code not in {region for _, region in catalogue().shapes}:
        raise unknown("region", code)
    return code
