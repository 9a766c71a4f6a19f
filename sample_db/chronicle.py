"""What happened in the shed, day by day: deeds are collected in any order and done in time's.

A deed is an act with the day somebody sat down and entered it. Its act is made only when its turn
has come, since it may need the number of a row, or the level of a can, that an earlier deed made.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta

from sqlalchemy import event
from sqlalchemy.orm import Session

from models.changes import ActCode, ActLabel, Area, Changes
from models.moment import Moment
from models.tables.base import STAMPS, Stamps
from models.writer import Act, Writer

YEARS_TOLD = 3
EVENING = 18
ALL_MONTHS = tuple(range(1, 13))


@dataclass(slots=True)
class Shed:
    """What stands in the file so far, by the names the deeds use; which machines are put away,
    and which cans and tanks had fuel put in since they were emptied."""

    ids: dict[tuple[Area, str], int] = field(default_factory=dict[tuple[Area, str], int])
    asleep: set[str] = field(default_factory=set[str])
    filled: set[str] = field(default_factory=set[str])

    def of(self, area: Area, name: str) -> int:
        """The number of a row. Raises KeyError when nothing of that name was made yet."""
        return self.ids[area, name]

    def machine(self, name: str) -> int:
        """The number of a machine."""
        return self.of(Area.MACHINES, name)

    def keep(self, name: str, changes: Changes) -> None:
        """Remember the rows an act made; of several in one area the first made."""
        for area in changes.areas:
            numbers = [number for found, number in changes.ids if found is area]
            if numbers and (area, name) not in self.ids:
                self.ids[area, name] = min(numbers)


Make = Callable[[Shed], Act | None]


@dataclass(frozen=True, slots=True)
class Deed:
    """An act to be entered on a day; None when its turn comes and there is nothing to do."""

    day: date
    hour: int
    make: Make
    name: str


class Chronicle:
    """Collects deeds up to the day the file is built for; what lies ahead of it is left out."""

    def __init__(self, on: date) -> None:
        self.on = on
        self.begun = date(on.year - YEARS_TOLD, 9, 1)
        self._deeds: list[Deed] = []

    def add(self, day: date, make: Make, *, name: str = "", hour: int = EVENING) -> None:
        """Enter an act on that day. `name`: what later deeds call the row it makes."""
        if self.begun <= day <= self.on:
            self._deeds.append(Deed(day, hour, make, name))

    def ago(self, days: int) -> date:
        """So many days before the day the file is built for."""
        return self.on - timedelta(days=days)

    def yearly(self, month: int, day: int, *, since: date | None = None) -> list[date]:
        """That day of each year told, oldest first."""
        years = range(self.begun.year, self.on.year + 1)
        days = [date(year, month, day) for year in years]
        return [day for day in days if (since or self.begun) <= day <= self.on]

    def last(self, month: int, day: int) -> date:
        """The last such day up to the day the file is built for."""
        return self.yearly(month, day)[-1]

    def monthly(
        self, day: int, months: tuple[int, ...] = ALL_MONTHS, *, since: date | None = None
    ) -> list[date]:
        """That day of each of these months, oldest first."""
        return sorted(found for month in months for found in self.yearly(month, day, since=since))

    def enter(self, writer: Writer) -> None:
        """Do every deed in the order of time. All in one transaction, so that a first start on a
        slow disk does not wait some hundred times for it."""
        numbered = enumerate(self._deeds)
        in_time = sorted(numbered, key=lambda one: (one[1].day, one[1].hour, one[0]))
        writer.run(Telling(tuple(deed for _, deed in in_time)), moment=moment_of(self.on))


@dataclass(frozen=True, slots=True)
class Telling:
    """The deeds as one act, each with the moment it was entered at."""

    deeds: tuple[Deed, ...]

    def run(self, session: Session, moment: Moment) -> Changes:  # noqa: ARG002  (every act's)
        """Raises Refused."""
        stamps: Stamps = session.connection().info[STAMPS]
        held: list[object] = []

        def hold(_: Session, row: object) -> None:
            """A session forgets rows nobody holds; what was read once is not read again."""
            held.append(row)

        event.listen(session, "loaded_as_persistent", hold)
        event.listen(session, "pending_to_persistent", hold)
        shed = Shed()
        areas: set[Area] = set()
        for deed in self.deeds:
            act = deed.make(shed)
            if act is None:
                continue
            entered = moment_of(deed.day, deed.hour)
            stamps.now = entered.now
            changes = act.run(session, entered)
            session.flush()
            areas |= changes.areas
            if deed.name:
                shed.keep(deed.name, changes)
        return Changes(areas=frozenset(areas), ids=frozenset(), label=ActLabel(ActCode.IMPORT))


def moment_of(day: date, hour: int = EVENING) -> Moment:
    """That hour of the day, as the household's clock and the world's."""
    return Moment(day, datetime.combine(day, time(hour), UTC))
