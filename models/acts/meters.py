"""Meters: which one a reading is of, and whether what they showed can be true.

A reading is held against its neighbours on the same meter in the order of days: run time never
runs backwards, and a day has 24 hours.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from sqlalchemy import and_, or_, select
from sqlalchemy.orm import Session

from models.acts.rows import Machine, fitted_on
from models.errors import Refused, RefusedCode
from models.tables.entries import in_force
from models.tables.hours import DAY_SECONDS, HoursReadingRow, MeterRow
from models.tables.machines import ItemRow
from schedules.facts import ItemSort
from schedules.units import hours

HOUR_SECONDS = 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """What a meter showed on a day; `rollovers` counts those since the point before.

    `is_end`: when it was taken off. `new`: what is being entered.
    """

    day: date
    shown: int
    rollovers: int = 0
    is_end: bool = False
    new: bool = False


def meter_on(session: Session, machine: Machine, day: date) -> MeterRow | None:
    """The meter that a reading of the machine on that day is of: its own, else its engine's; of
    several the one that was on it that day, and before the first the first."""
    units = [unit for unit in fitted_on(session, machine, day) if unit.sort is ItemSort.ENGINE]
    for item in (machine.item, *units):
        meters = session.scalars(
            select(MeterRow)
            .where(
                MeterRow.item_id == item.id,
                or_(MeterRow.ended_on.is_(None), MeterRow.ended_on > day),
            )
            .order_by(MeterRow.from_on, MeterRow.id)
        ).all()
        there = [meter for meter in meters if meter.from_on <= day]
        if meters:
            return there[-1] if there else meters[0]
    return None


def points_of(
    session: Session, meter: MeterRow, *, without: frozenset[int] = frozenset()
) -> list[Point]:
    """Start, readings in force and end of a meter, in order; leaving out readings by id.

    A start that floats is no point of its own."""
    rows = session.scalars(
        select(HoursReadingRow)
        .where(and_(in_force(HoursReadingRow), HoursReadingRow.meter_id == meter.id))
        .order_by(HoursReadingRow.happened_on, HoursReadingRow.id)
    ).all()
    points: list[Point] = []
    if not floats(session, meter):
        points.append(Point(day=meter.from_on, shown=meter.start_seconds))
    points += [
        Point(day=row.happened_on, shown=row.shown_seconds, rollovers=row.rollovers)
        for row in rows
        if row.id not in without
    ]
    if meter.ended_on is not None and meter.end_seconds is not None:
        end = Point(
            day=meter.ended_on,
            shown=meter.end_seconds,
            rollovers=meter.end_rollovers,
            is_end=True,
        )
        points.append(end)
    return points


def floats(session: Session, meter: MeterRow) -> bool:
    """Whether the start of a meter is no more than its earliest reading: it is the first of a
    thing of which nobody knows how long it had run when it came."""
    item = session.get_one(ItemRow, meter.item_id)
    if item.start_seconds is not None:
        return False
    first = session.scalars(
        select(MeterRow.id)
        .where(MeterRow.item_id == item.id)
        .order_by(MeterRow.from_on, MeterRow.id)
        .limit(1)
    ).first()
    return first == meter.id


def anchor(session: Session, meter: MeterRow, points: list[Point]) -> None:
    """Let a meter that floats begin with the earliest of its points."""
    if points and floats(session, meter):
        meter.from_on, meter.start_seconds = points[0].day, points[0].shown


def placed(points: list[Point], new: Point) -> list[Point]:
    """The points with a new one after those of its day; an end stays the last."""
    place = sum(1 for point in points if point.day <= new.day and not point.is_end)
    return [*points[:place], replace(new, new=True), *points[place:]]


def check_points(points: list[Point], modulus: int | None) -> None:
    """Raises Refused LOWER_THAN_BEFORE, HIGHER_THAN_AFTER, MORE_THAN_THE_DAYS for the first pair
    that cannot be true."""
    for before, after in pairwise(points):
        ran = after.shown - before.shown + after.rollovers * (modulus or 0)
        if ran < 0 and before.new:
            raise Refused(
                RefusedCode.HIGHER_THAN_AFTER,
                shown=hours(before.shown),
                after=hours(after.shown),
                day=after.day,
            )
        if ran < 0:
            raise Refused(
                RefusedCode.LOWER_THAN_BEFORE,
                shown=hours(after.shown),
                before=hours(before.shown),
                day=before.day,
            )
        # Both days may have been worked through.
        most = ((after.day - before.day).days + 1) * DAY_SECONDS
        if ran > most and (before.new or after.new):
            raise Refused(
                RefusedCode.MORE_THAN_THE_DAYS,
                ran=hours(ran),
                most=hours(most),
                since=before.day,
            )


def first_meter(session: Session, item: ItemRow, day: date, shown: int) -> MeterRow:
    """A meter for a thing that has none. Where the run time of the day it came is known, the meter
    counts from then; else from the day it was first read.

    Raises Refused LOWER_THAN_BEFORE when it shows less than the thing had run when it came.
    """
    start = item.start_seconds
    if start is not None and shown < start:
        raise Refused(
            RefusedCode.LOWER_THAN_BEFORE,
            shown=hours(shown),
            before=hours(start),
            day=item.came_on,
        )
    from_on, first = (day, shown) if start is None else (item.came_on, start)
    meter = MeterRow(item_id=item.id, from_on=from_on, start_seconds=first)
    session.add(meter)
    session.flush()
    return meter


def turn_of(shown: int) -> int:
    """Where a meter that showed this much turns over, when nobody says: at the next power of ten
    of hours. Our judgement."""
    turn = HOUR_SECONDS * 10
    while turn <= shown:
        turn *= 10
    return turn


def restart(session: Session, item: ItemRow, start: int | None) -> None:
    """Say anew how long the thing had run when it came. A meter that counted from there goes on
    doing so, so that what it showed stays the total.

    Raises Refused HIGHER_THAN_AFTER when it showed less later.
    """
    before = item.start_seconds
    if start == before:
        return
    meter = session.scalars(
        select(MeterRow).where(MeterRow.item_id == item.id).order_by(MeterRow.from_on, MeterRow.id)
    ).first()
    counts = meter is not None and before in (None, meter.start_seconds)
    points = [] if meter is None else points_of(session, meter)[0 if before is None else 1 :]
    item.start_seconds = start
    if meter is None or start is None or not counts:
        return
    first = Point(day=item.came_on, shown=start, new=True)
    check_points([first, *points], meter.modulus_seconds)
    meter.from_on, meter.start_seconds = item.came_on, start
