"""The list as it was shown last: kept for the next start, and taken back for the first paint."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from itertools import islice
from pathlib import Path

from app.fleet.state import FleetState, MachineLine, YearDays
from app.pieces.year import MarkSort, Year, YearMark
from models.glance import GlanceRow, glance_key, read_glance, write_glance
from models.moment import Moment
from schedules.states import MachineState

MOST_KEPT = 120
"""Rows kept for the first picture: more than any screen shows."""


def first_picture(path: Path, cache: Path, clock: Callable[[], Moment]) -> FirstPicture | None:
    """What was shown last, if neither the file nor the day has changed since."""
    glance = read_glance(cache)
    on = clock().today
    if glance is None or glance.key != glance_key(path) or glance.on != on:
        return None
    try:
        lines = tuple(_line(row) for row in glance.rows)
        head = glance.head
        state = FleetState(
            headline=str(head["headline"]),
            second="",
            machines=lines,
            total=int(head["total"]),
            count_text=str(head["count"]),
            can_write=False,
            busy=True,
        )
        days = YearDays(
            today=on,
            today_text=str(head["today"]),
            days=int(head["days"]),
            months=tuple(str(month) for month in head["months"]),
        )
        return FirstPicture(state=state, days=days)
    except (KeyError, TypeError, ValueError):
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstPicture:
    """The room as it was last, and the days its years are drawn over."""

    state: FleetState
    days: YearDays


def _line(row: GlanceRow) -> MachineLine:
    """A row of the list. Raises KeyError, TypeError or ValueError for what is none."""
    said = dict(row.sentence)
    days, seasons, marks = said.pop("year")
    year = Year(
        days=int(days),
        seasons=tuple((int(first), int(last)) for first, last in seasons),
        marks=tuple(
            YearMark(
                sort=MarkSort(sort),
                day=int(day),
                early=int(early),
                late=int(late),
                keys=tuple(str(key) for key in keys),
            )
            for sort, day, early, late, keys in marks
        ),
    )
    return MachineLine(**{**said, "state": MachineState(row.state), "year": year})


def glance_sentence(line: MachineLine) -> dict[str, object]:
    """A row of the list as data for the glance."""
    said: dict[str, object] = {
        field.name: getattr(line, field.name) for field in fields(line) if field.name != "year"
    }
    year = line.year
    said["state"] = str(line.state)
    said["year"] = (
        year.days,
        year.seasons,
        [(str(mark.sort), mark.day, mark.early, mark.late, mark.keys) for mark in year.marks],
    )
    return said


def keep_picture(
    path: Path,
    cache: Path,
    clock: Callable[[], Moment],
    lines: Iterable[MachineLine],
    head: GlanceHead,
) -> None:
    """Keep the top of the list for the next start."""
    rows = [
        GlanceRow(
            machine_id=line.machine_id,
            name=line.name,
            kind=line.icon,
            place=line.place,
            state=str(line.state),
            sentence=glance_sentence(line),
        )
        for line in islice(lines, MOST_KEPT)
    ]
    said = {
        "headline": head.headline,
        "total": head.total,
        "count": head.count_text,
        "today": head.days.today_text,
        "days": head.days.days,
        "months": list(head.days.months),
    }
    write_glance(cache, rows, key=glance_key(path), on=clock().today, head=said)


@dataclass(frozen=True, slots=True, kw_only=True)
class GlanceHead:
    """What stands over the list."""

    headline: str
    total: int
    count_text: str
    days: YearDays
