"""Run time as facts: meters summed into totals, inferred points, uses.

A meter may hang on the machine or on its engine; whichever has none goes by the other's, from the
day the two were put together.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select, true
from sqlalchemy.orm import Session

from models.facts.scope import Ids, among
from models.tables.entries import in_force
from models.tables.hours import HoursReadingRow, InferredPointRow, MeterRow, UseRow
from models.words import RunOutcome
from schedules.facts import HoursReading, InferredPoint, UseFacts
from schedules.meters import MeterSegment, meter_total


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemHours:
    """What is known of the run time of one thing from its own meters and points."""

    metered: bool
    readings: tuple[HoursReading, ...] = ()
    inferred: tuple[InferredPoint, ...] = ()


def read_hours(
    session: Session, *, on: date, starts: dict[int, int | None], items: Ids = None
) -> dict[int, ItemHours]:
    """Totals by item. `starts`: run time in all on the day each item came, None when unknown.
    `items`: only of these."""
    meters = select(MeterRow.id).where(among(MeterRow.item_id, items))
    shown: dict[int, list[tuple[date, int, int]]] = defaultdict(list)
    for meter, day, seconds, rollovers in session.execute(
        select(
            HoursReadingRow.meter_id,
            HoursReadingRow.happened_on,
            HoursReadingRow.shown_seconds,
            HoursReadingRow.rollovers,
        )
        .where(
            in_force(HoursReadingRow),
            HoursReadingRow.happened_on <= on,
            true() if items is None else HoursReadingRow.meter_id.in_(meters),
        )
        .order_by(HoursReadingRow.happened_on, HoursReadingRow.id)
    ):
        shown[meter].append((day, seconds, rollovers))
    readings: dict[int, list[HoursReading]] = defaultdict(list)
    ends: dict[int, int] = {}
    for row in session.execute(
        select(MeterRow)
        .where(MeterRow.from_on <= on, among(MeterRow.item_id, items))
        .order_by(MeterRow.from_on, MeterRow.id)
    ).scalars():
        first = starts.get(row.item_id)
        base = ends.get(row.item_id, row.start_seconds if first is None else first)
        turned = 0
        for day, seconds, rollovers in shown.get(row.id, ()):
            turned += rollovers
            total = base + _segment(row, seconds, turned)
            readings[row.item_id].append(HoursReading(day=day, seconds=total))
        readings.setdefault(row.item_id, [])
        if row.ended_on is not None and row.end_seconds is not None and row.ended_on <= on:
            end = base + _segment(row, row.end_seconds, turned + row.end_rollovers)
            readings[row.item_id].append(HoursReading(day=row.ended_on, seconds=end))
            ends[row.item_id] = end
        elif readings[row.item_id]:
            ends[row.item_id] = readings[row.item_id][-1].seconds
    return _joined(readings, _inferred(session, on, items))


def _segment(row: MeterRow, seconds: int, rollovers: int) -> int:
    return meter_total(
        (
            MeterSegment(
                start=row.start_seconds,
                end=seconds,
                rollovers=rollovers,
                modulus=row.modulus_seconds or 0,
            ),
        )
    )


def _joined(
    readings: dict[int, list[HoursReading]], inferred: dict[int, list[InferredPoint]]
) -> dict[int, ItemHours]:
    return {
        item: ItemHours(
            metered=item in readings,
            readings=tuple(readings.get(item, ())),
            inferred=tuple(inferred.get(item, ())),
        )
        for item in readings.keys() | inferred.keys()
    }


def _inferred(session: Session, on: date, items: Ids) -> dict[int, list[InferredPoint]]:
    found: dict[int, list[InferredPoint]] = defaultdict(list)
    for item, day, seconds, spread, accepted in session.execute(
        select(
            InferredPointRow.item_id,
            InferredPointRow.happened_on,
            InferredPointRow.total_seconds,
            InferredPointRow.spread_seconds,
            InferredPointRow.accepted_on,
        )
        .where(
            in_force(InferredPointRow),
            InferredPointRow.happened_on <= on,
            among(InferredPointRow.item_id, items),
        )
        .order_by(InferredPointRow.happened_on, InferredPointRow.id)
    ):
        point = InferredPoint(day=day, seconds=seconds, accepted_on=accepted, spread_seconds=spread)
        found[item].append(point)
    return found


def read_uses(
    session: Session, *, on: date, use_seconds: dict[int, int], machines: Ids = None
) -> dict[int, tuple[UseFacts, ...]]:
    """Logged uses by machine, one fact a use. `use_seconds`: the kind's run time of one use, taken
    where none was noted. A machine that did not start was not used."""
    found: dict[int, list[UseFacts]] = defaultdict(list)
    for machine, day, seconds, count in session.execute(
        select(UseRow.machine_id, UseRow.happened_on, UseRow.run_seconds, UseRow.count)
        .where(
            in_force(UseRow),
            UseRow.happened_on <= on,
            UseRow.outcome != RunOutcome.DID_NOT,
            among(UseRow.machine_id, machines),
        )
        .order_by(UseRow.happened_on, UseRow.id)
    ):
        whole = use_seconds.get(machine, 0) * count if seconds is None else seconds
        for place in range(count):
            part = whole * (place + 1) // count - whole * place // count
            found[machine].append(UseFacts(day=day, seconds=part))
    return {machine: tuple(uses) for machine, uses in found.items()}
