"""Run time: what a meter shows, meters replaced, totals reckoned from something else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from sqlalchemy.orm import Session

from models.acts.entry import hand
from models.acts.meters import (
    Point,
    anchor,
    check_points,
    first_meter,
    floats,
    meter_on,
    placed,
    points_of,
    turn_of,
)
from models.acts.report import report
from models.acts.rows import Machine, day_of, fitted_on, machine_of, machines_of
from models.acts.typed import typed_columns
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.facts.hours import read_hours
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.hours import (
    DAY_SECONDS,
    LONGEST_RUN,
    HoursReadingRow,
    InferredPointRow,
    MeterRow,
)
from models.tables.machines import ItemRow
from models.words import InferredFrom
from schedules.facts import ItemSort
from schedules.units import Typed, hours


class Lower(StrEnum):
    """Why a meter shows less than before."""

    ROLLED_OVER = "rolled_over"
    REPLACED = "replaced"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadHours:
    """What the hour meter shows. The first reading makes the meter.

    `lower`: why it shows less than before. `modulus_seconds`: where it turns over; the next power
    of ten of hours when nobody says.
    """

    machine_id: int
    day: date
    shown_seconds: int
    typed: Typed | None = None
    lower: Lower | None = None
    modulus_seconds: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        return self.enter(session, moment, corrects=None)

    def enter(
        self,
        session: Session,
        moment: Moment,
        *,
        corrects: int | None,
        without: frozenset[int] = frozenset(),
        work_id: int | None = None,
    ) -> Changes:
        """Enter it; `without`: readings that will not count any more. Raises Refused."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        whole("shown_seconds", self.shown_seconds, 0, LONGEST_RUN)
        if corrects is not None:
            without = without | {corrects}
            # What was read with a record of work goes on falling with it.
            work_id = session.get_one(HoursReadingRow, corrects).work_id
        meter, rollovers = self._fits(session, machine, without)
        session.add(
            HoursReadingRow(
                meter_id=meter.id,
                work_id=work_id,
                happened_on=self.day,
                shown_seconds=self.shown_seconds,
                rollovers=rollovers,
                note=plain_text("note", self.note, most=NOTE_LENGTH),
                corrects_id=corrects,
                entered_by=hand(session),
                **typed_columns(self.typed, self.shown_seconds),
            )
        )
        return report(
            ActCode.READ_HOURS,
            *_touched(session, machine, meter),
            name=machine.name,
            shown=hours(self.shown_seconds),
        )

    def _fits(
        self, session: Session, machine: Machine, without: frozenset[int]
    ) -> tuple[MeterRow, int]:
        """The meter read, and how often it rolled over since the reading before."""
        meter = meter_on(session, machine, self.day)
        if meter is None:
            meter = first_meter(session, machine.item, self.day, self.shown_seconds)
        elif self.day < meter.from_on and not floats(session, meter):
            raise Refused(RefusedCode.DAY_TOO_EARLY, field="day", day=self.day, first=meter.from_on)
        points = points_of(session, meter, without=without)
        new = Point(day=self.day, shown=self.shown_seconds)
        among = placed(points, new)
        before = _before(among)
        # What a meter did in between shows only as long as nothing was read after it.
        lower = self.lower if among[-1].new else None
        if self.shown_seconds >= before.shown or lower is None:
            check_points(among, meter.modulus_seconds)
            anchor(session, meter, among)
            return meter, 0
        if lower is Lower.REPLACED:
            return _replace(session, meter, before, self.day, self.shown_seconds), 0
        if meter.modulus_seconds is None:
            modulus = self.modulus_seconds or turn_of(before.shown)
            meter.modulus_seconds = whole("modulus_seconds", modulus, before.shown + 1, LONGEST_RUN)
        new = Point(day=self.day, shown=self.shown_seconds, rollovers=1)
        check_points(placed(points, new), meter.modulus_seconds)
        return meter, 1


def _touched(session: Session, machine: Machine, meter: MeterRow) -> list[tuple[Area, int]]:
    """The meter, the machine that was meant, and every machine that the meter's thing is on."""
    machines = {machine.number, *machines_of(session, [meter.item_id])}
    return [(Area.HOURS, meter.id), *((Area.MACHINES, number) for number in sorted(machines))]


def _before(points: list[Point]) -> Point:
    place = next(index for index, point in enumerate(points) if point.new)
    return points[max(0, place - 1)]


def _replace(session: Session, meter: MeterRow, before: Point, day: date, shown: int) -> MeterRow:
    """The old meter ended at what it last showed; the new one began at nil."""
    start = Point(day=before.day, shown=0)
    check_points([start, Point(day=day, shown=shown, new=True)], None)
    meter.ended_on, meter.end_seconds = before.day, before.shown
    new = MeterRow(item_id=meter.item_id, from_on=before.day, start_seconds=0)
    session.add(new)
    session.flush()
    return new


@dataclass(frozen=True, slots=True, kw_only=True)
class ReplaceMeter:
    """A meter was taken off on a day and another put on: what each showed then.

    `rollovers`: how often the old one turned over since it was last read.
    """

    machine_id: int
    day: date
    old_shown_seconds: int
    new_shown_seconds: int = 0
    rollovers: int = 0
    modulus_seconds: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; NO_METER when there was none."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        whole("old_shown_seconds", self.old_shown_seconds, 0, LONGEST_RUN)
        whole("new_shown_seconds", self.new_shown_seconds, 0, LONGEST_RUN)
        whole("rollovers", self.rollovers, 0, 1)
        old = meter_on(session, machine, self.day)
        if old is None or old.from_on > self.day:
            raise Refused(RefusedCode.NO_METER, name=machine.name, day=self.day)
        points = points_of(session, old)
        last = points[-1] if points else Point(day=old.from_on, shown=old.start_seconds)
        if old.ended_on is not None or last.day > self.day:
            raise Refused(RefusedCode.DAY_TOO_EARLY, field="day", day=self.day, first=last.day)
        if self.rollovers and old.modulus_seconds is None:
            old.modulus_seconds = turn_of(last.shown)
        end = Point(day=self.day, shown=self.old_shown_seconds, rollovers=self.rollovers, new=True)
        check_points([*(points or [last]), end], old.modulus_seconds)
        old.ended_on, old.end_seconds = self.day, self.old_shown_seconds
        old.end_rollovers = self.rollovers
        new = MeterRow(
            item_id=old.item_id,
            from_on=self.day,
            start_seconds=self.new_shown_seconds,
            modulus_seconds=_modulus(self.modulus_seconds),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(new)
        session.flush()
        return report(
            ActCode.REPLACE_METER,
            *_touched(session, machine, new),
            name=machine.name,
            day=self.day,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SetMeter:
    """Where the hour meter of a day turns over; None: it never does."""

    machine_id: int
    day: date
    modulus_seconds: int | None

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; NO_METER when there is none."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        meter = meter_on(session, machine, self.day)
        if meter is None:
            raise Refused(RefusedCode.NO_METER, name=machine.name, day=self.day)
        points = points_of(session, meter)
        if self.modulus_seconds is not None:
            most = max((point.shown for point in points), default=meter.start_seconds)
            whole("modulus_seconds", self.modulus_seconds, most + 1, LONGEST_RUN)
        elif any(point.rollovers for point in points):
            raise Refused(RefusedCode.NOTHING_GIVEN, field="modulus_seconds")
        meter.modulus_seconds = self.modulus_seconds
        return report(
            ActCode.SET_METER,
            *_touched(session, machine, meter),
            name=machine.name,
        )


def _modulus(seconds: int | None) -> int | None:
    return None if seconds is None else whole("modulus_seconds", seconds, 1, LONGEST_RUN)


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptHours:
    """A total of a day, reckoned from something else, which the owner takes for true today.

    It holds for the machine and for the engine that has been on it from the first.
    """

    machine_id: int
    day: date
    total_seconds: int
    spread_seconds: int = 0
    inferred_from: InferredFrom
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        machine = machine_of(session, self.machine_id)
        item = machine.item
        day_of(item, "day", self.day, moment.today)
        whole("total_seconds", self.total_seconds, 0, LONGEST_RUN)
        whole("spread_seconds", self.spread_seconds, 0, LONGEST_RUN)
        note = plain_text("note", self.note, most=NOTE_LENGTH)
        engines = [
            unit
            for unit in fitted_on(session, machine, self.day)
            if unit.sort is ItemSort.ENGINE and unit.came_on == item.came_on
        ]
        self._check(session, [item, *engines], moment.today)
        rows = [
            InferredPointRow(
                item_id=thing.id,
                happened_on=self.day,
                total_seconds=self.total_seconds,
                spread_seconds=self.spread_seconds,
                inferred_from=self.inferred_from,
                accepted_on=moment.today,
                note=note,
                entered_by=hand(session),
            )
            for thing in (item, *engines)
        ]
        session.add_all(rows)
        session.flush()
        machines = machines_of(session, [row.item_id for row in rows])
        return report(
            ActCode.ACCEPT_HOURS,
            *((Area.MACHINES, number) for number in machines),
            *((Area.HOURS, row.id) for row in rows),
            name=machine.name,
            day=self.day,
        )

    def _check(self, session: Session, things: list[ItemRow], today: date) -> None:
        """Between the readings before and after; not less than when it came, and not more than
        the days between them hold."""
        starts = {thing.id: thing.start_seconds for thing in things}
        start = starts[things[0].id]
        total = self.total_seconds
        points = [] if start is None else [(things[0].came_on, start)]
        accepted: list[tuple[date, int]] = []
        hours_read = read_hours(session, on=today, starts=starts, items=frozenset(starts))
        for found in hours_read.values():
            points += [(reading.day, reading.seconds) for reading in found.readings]
            accepted += [(point.day, point.seconds) for point in found.inferred]
        for day, seconds in points:
            if day <= self.day and seconds > total:
                raise Refused(
                    RefusedCode.LOWER_THAN_BEFORE,
                    shown=hours(total),
                    before=hours(seconds),
                    day=day,
                )
            if day > self.day and seconds < total:
                raise Refused(
                    RefusedCode.HIGHER_THAN_AFTER,
                    shown=hours(total),
                    after=hours(seconds),
                    day=day,
                )
        for day, seconds in sorted((*points, *accepted), key=self._far):
            self._check_days(day, seconds)

    def _far(self, point: tuple[date, int]) -> int:
        return abs((self.day - point[0]).days)

    def _check_days(self, day: date, seconds: int) -> None:
        """A day has 24 hours, and both may have been worked through."""
        ran = abs(self.total_seconds - seconds)
        most = (abs((self.day - day).days) + 1) * DAY_SECONDS
        if ran > most:
            raise Refused(
                RefusedCode.MORE_THAN_THE_DAYS,
                ran=hours(ran),
                most=hours(most),
                since=min(day, self.day),
            )
