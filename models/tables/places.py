"""Places: which half of the earth, which climate, what shelter, which seasons of its own."""

from __future__ import annotations

from typing import ClassVar

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from models.tables.base import (
    CODE_LENGTH,
    NOTE_LENGTH,
    Base,
    Guards,
    choice,
    code,
    link,
    plain_text,
    whole,
    yes,
)
from schedules.facts import Shelter

COLDEST_MC, HOTTEST_MC = -90_000, 60_000
# 29 February is a day.
_IN_MONTH = "{day} <= 29 OR ({month} <> 2 AND ({day} = 30 OR {month} NOT IN (4, 6, 9, 11)))"


class PlaceRow(Base):
    """Where things stand. `climate` is a preset of the catalogue, `region` that of month shares."""

    __tablename__ = "place"
    __table_args__ = (UniqueConstraint("name"),)

    name: Mapped[str] = plain_text(least=1)
    south: Mapped[bool] = yes()
    climate: Mapped[str] = plain_text(CODE_LENGTH)
    region: Mapped[str] = plain_text(CODE_LENGTH)
    shelter: Mapped[Shelter] = choice(Shelter)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class PlaceMonthRow(Base):
    """A month's own temperatures outdoors, in millidegrees Celsius, instead of the preset's."""

    __tablename__ = "place_month"
    __table_args__ = (UniqueConstraint("place_id", "month"),)

    place_id: Mapped[int] = link("place", "CASCADE")
    month: Mapped[int] = whole(1, 12)
    mean_mc: Mapped[int] = whole(COLDEST_MC, HOTTEST_MC)
    low_mc: Mapped[int | None] = whole(COLDEST_MC, HOTTEST_MC, null=True)
    high_mc: Mapped[int | None] = whole(COLDEST_MC, HOTTEST_MC, null=True)


class PlaceSeasonRow(Base):
    """The place has its own windows for a kind: those below it, or none (no season) without any."""

    __tablename__ = "place_season"
    __table_args__ = (UniqueConstraint("place_id", "kind_code"),)

    place_id: Mapped[int] = link("place", "CASCADE")
    kind_code: Mapped[str] = code()


class PlaceWindowRow(Base):
    """One own window, both days inside; never moved to the other half of the earth."""

    __tablename__ = "place_window"
    guards: ClassVar[Guards] = (
        ("first_day_exists", _IN_MONTH.format(day="first_day", month="first_month")),
        ("last_day_exists", _IN_MONTH.format(day="last_day", month="last_month")),
    )

    season_id: Mapped[int] = link("place_season", "CASCADE")
    first_month: Mapped[int] = whole(1, 12)
    first_day: Mapped[int] = whole(1, 31)
    last_month: Mapped[int] = whole(1, 12)
    last_day: Mapped[int] = whole(1, 31)
