"""Places as facts: half of the earth, temperatures by month and shelter, own windows."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.tables.places import PlaceMonthRow, PlaceRow, PlaceSeasonRow, PlaceWindowRow
from resources.loader import Catalogue
from schedules.facts import MonthDay, Shelter, Window

INDOOR_MC = 18_000
GARAGE_FLOOR_MC = 5_000
UNKNOWN_MC = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceFacts:
    """Where things stand. `month_means_mc` outdoors, January first; `windows` by kind code: its
    own, and an empty tuple says that the kind has no season here."""

    place_id: int
    name: str
    south: bool
    climate: str
    region: str
    shelter: Shelter
    month_means_mc: tuple[int, ...]
    month_swings_mc: tuple[int, ...]
    windows: tuple[tuple[str, tuple[Window, ...]], ...]

    def own_windows(self, kind: str) -> tuple[Window, ...] | None:
        """The place's own windows for a kind; None: the catalogue's."""
        for code, windows in self.windows:
            if code == kind:
                return windows
        return None

    def means(self, shelter: Shelter | None) -> tuple[int, ...]:
        """Monthly means under that shelter (None: the place's own), in thousandths of a degree.

        Our judgement: indoors 18 C, a garage as outdoors but never below 5 C, a shed as outdoors.
        """
        match shelter or self.shelter:
            case Shelter.INDOOR:
                return (INDOOR_MC,) * 12
            case Shelter.GARAGE:
                return tuple(max(mean, GARAGE_FLOOR_MC) for mean in self.month_means_mc)
            case Shelter.SHED:
                return self.month_means_mc

    def swings(self, shelter: Shelter | None) -> tuple[int, ...]:
        """From the coolest to the warmest of an ordinary day, by month, under that shelter; empty
        where nobody knows. Our judgement: none indoors, half of it in a garage."""
        if not self.month_swings_mc:
            return ()
        match shelter or self.shelter:
            case Shelter.INDOOR:
                return (0,) * 12
            case Shelter.GARAGE:
                return tuple(swing // 2 for swing in self.month_swings_mc)
            case Shelter.SHED:
                return self.month_swings_mc


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnMonth:
    """What a household set of a month outdoors, in thousandths of a degree Celsius."""

    mean_mc: int
    low_mc: int | None
    high_mc: int | None


def read_own_months(session: Session, *, place_id: int) -> dict[int, OwnMonth]:
    """The months that were set at a place, by number; the others are as in its climate."""
    rows = session.execute(
        select(
            PlaceMonthRow.month,
            PlaceMonthRow.mean_mc,
            PlaceMonthRow.low_mc,
            PlaceMonthRow.high_mc,
        ).where(PlaceMonthRow.place_id == place_id)
    )
    return {
        month: OwnMonth(mean_mc=mean, low_mc=low, high_mc=high) for month, mean, low, high in rows
    }


def read_places(session: Session, *, catalogue: Catalogue) -> dict[int, PlaceFacts]:
    """Every place by its id."""
    months: dict[int, dict[int, int]] = defaultdict(dict)
    for place, month, mean in session.execute(
        select(PlaceMonthRow.place_id, PlaceMonthRow.month, PlaceMonthRow.mean_mc)
    ):
        months[place][month] = mean
    windows = _windows(session)
    rows = session.execute(
        select(
            PlaceRow.id,
            PlaceRow.name,
            PlaceRow.south,
            PlaceRow.climate,
            PlaceRow.region,
            PlaceRow.shelter,
        ).order_by(PlaceRow.id)
    ).all()
    return {
        place: PlaceFacts(
            place_id=place,
            name=name,
            south=south,
            climate=climate,
            region=region,
            shelter=shelter,
            month_means_mc=_means(catalogue, climate, months.get(place, {})),
            month_swings_mc=_swings(catalogue, climate),
            windows=tuple(windows.get(place, ())),
        )
        for place, name, south, climate, region, shelter in rows
    }


def _means(catalogue: Catalogue, climate: str, own: dict[int, int]) -> tuple[int, ...]:
    """Own months first, then the climate's; with neither, counted as if it were 20 C."""
    preset = catalogue.climates.get(climate)
    usual = preset.month_means_mc if preset is not None else (UNKNOWN_MC,) * 12
    return tuple(own.get(month, usual[month - 1]) for month in range(1, 13))


def _swings(catalogue: Catalogue, climate: str) -> tuple[int, ...]:
    preset = catalogue.climates.get(climate)
    if preset is None:
        return ()
    lows, highs = preset.month_lows_mc, preset.month_highs_mc
    return tuple(high - low for low, high in zip(lows, highs, strict=True))


def _windows(session: Session) -> dict[int, list[tuple[str, tuple[Window, ...]]]]:
    days: dict[int, list[Window]] = defaultdict(list)
    for season, first_month, first_day, last_month, last_day in session.execute(
        select(
            PlaceWindowRow.season_id,
            PlaceWindowRow.first_month,
            PlaceWindowRow.first_day,
            PlaceWindowRow.last_month,
            PlaceWindowRow.last_day,
        ).order_by(PlaceWindowRow.id)
    ):
        window = Window(MonthDay(first_month, first_day), MonthDay(last_month, last_day))
        days[season].append(window)
    found: dict[int, list[tuple[str, tuple[Window, ...]]]] = defaultdict(list)
    for season, place, kind in session.execute(
        select(PlaceSeasonRow.id, PlaceSeasonRow.place_id, PlaceSeasonRow.kind_code).order_by(
            PlaceSeasonRow.id
        )
    ):
        found[place].append((kind, tuple(days.get(season, ()))))
    return found
