"""Fuel: the vessels it stands in, and everything that happened to it."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy.orm import Mapped

from models.tables.base import NOTE_LENGTH, Base, Guards, choice, day, link, plain_text, whole, yes
from models.tables.entries import Entry, Measured
from models.words import FuelDoing
from schedules.facts import FuelSort, FuelUse, Gone, Look, Shelter, VesselSort

LARGEST_UL = 10**10


class VesselRow(Base):
    """A can, a machine's tank, a bowl. A machine may have several; a can has none.

    `shelter` NULL: as the place is. `burns`: what may be in it (for a can, what it is kept for).
    """

    __tablename__ = "vessel"
    guards: ClassVar[Guards] = (
        ("can_or_of_a_machine", "(sort = 'can') = (machine_id IS NULL)"),
        ("retired_later", "retired_on IS NULL OR retired_on >= came_on"),
    )

    sort: Mapped[VesselSort] = choice(VesselSort)
    name: Mapped[str] = plain_text(least=1)
    machine_id: Mapped[int | None] = link("machine", "CASCADE", null=True)
    place_id: Mapped[int | None] = link("place", "RESTRICT", null=True)
    shelter: Mapped[Shelter | None] = choice(Shelter, null=True)
    capacity_ul: Mapped[int] = whole(1, LARGEST_UL)
    burns: Mapped[FuelUse] = choice(FuelUse)
    came_on: Mapped[date] = day()
    retired_on: Mapped[date | None] = day(null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class FuelEventRow(Entry, Measured, Base):
    """One thing that happened to the fuel of a vessel; events of a day stand in order of entry.

    Which columns speak depends on `doing`. `volume_ul` is what moved (LEVEL: what is in it after);
    `to_vessel_id` where it was poured. `to_brim`: filled full, the volume is what it took.
    `fuel_sort`, `bought_on` (NULL: nobody knows), `ethanol_permille`, `oil_ratio` (petrol to one
    part of oil) and `stabilised_on` describe fuel that came in; `dose_ul` is stabiliser added;
    `gone` what became of what a LEVEL found missing (NULL: nobody said).
    """

    __tablename__ = "fuel_event"
    guards: ClassVar[Guards] = (
        ("pours_elsewhere", "to_vessel_id IS NULL OR to_vessel_id <> vessel_id"),
        ("pours_somewhere", "(doing = 'poured') = (to_vessel_id IS NOT NULL)"),
        ("looks", "(doing = 'looked') = (look IS NOT NULL)"),
        ("comes_in_known", "doing NOT IN ('bought', 'found') OR fuel_sort IS NOT NULL"),
        ("oil_measured", "doing <> 'oiled' OR volume_ul IS NOT NULL"),
        ("gone_of_a_level", "gone IS NULL OR doing = 'level'"),
    )

    vessel_id: Mapped[int] = link("vessel", "RESTRICT")
    to_vessel_id: Mapped[int | None] = link("vessel", "RESTRICT", null=True)
    work_id: Mapped[int | None] = link("work", "RESTRICT", null=True)
    doing: Mapped[FuelDoing] = choice(FuelDoing)
    volume_ul: Mapped[int | None] = whole(0, LARGEST_UL, null=True)
    to_brim: Mapped[bool] = yes()
    fuel_sort: Mapped[FuelSort | None] = choice(FuelSort, null=True)
    bought_on: Mapped[date | None] = day(null=True)
    ethanol_permille: Mapped[int | None] = whole(0, 1000, null=True)
    oil_ratio: Mapped[int | None] = whole(1, 1000, null=True)
    stabilised_on: Mapped[date | None] = day(null=True)
    dose_ul: Mapped[int | None] = whole(0, LARGEST_UL, null=True)
    look: Mapped[Look | None] = choice(Look, null=True)
    gone: Mapped[Gone | None] = choice(Gone, null=True)
    cents: Mapped[int | None] = whole(0, 10**11, null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)
