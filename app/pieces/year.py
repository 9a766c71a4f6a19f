"""The year of a machine as marks on a line: what the year band draws and says. No Qt, no trade.

Days are counted from today: 0 is today, negative days lie behind. The scale is uneven on purpose:
the first six weeks, in which something can still be done, have nearly half the width.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

NEAR_DAYS = 42
NEAR_SHARE = 0.45
BAY = 48
"""Width of the place before today where what is overdue waits (pixels at scale 1)."""
TAIL = 14
"""Room after the last day, so that nothing is cut there."""
OFF = 14
"""How far a mark behind today, or on it, stands off the line of today."""
CLASH = 14
"""Marks nearer than this are one mark with a figure."""


class MarkSort(StrEnum):
    """What a mark stands for, the worst first; the last two stand above the line."""

    OVERDUE = "overdue"
    NOT_KNOWN = "not_known"
    DUE = "due"
    COMING = "coming"
    LATER = "later"
    FUEL = "fuel"
    FLAG = "flag"


RANK = {sort: place for place, sort in enumerate(MarkSort)}
ABOVE = (MarkSort.FUEL, MarkSort.FLAG)


@dataclass(frozen=True, slots=True, kw_only=True)
class YearMark:
    """One day on which something falls. `early`, `late`: where it would fall with more or less
    use; `keys`: what falls, for whoever asks why."""

    sort: MarkSort
    day: int
    early: int
    late: int
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """Thirteen months from today: how many days, the seasons (first and last day), the marks in
    order."""

    days: int
    seasons: tuple[tuple[int, int], ...] = ()
    marks: tuple[YearMark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Peg:
    """One drawn thing: where, and the marks it stands for."""

    x: float
    sort: MarkSort
    marks: tuple[YearMark, ...]

    @property
    def count(self) -> int:
        """How many things it stands for."""
        return sum(len(mark.keys) for mark in self.marks)


NO_YEAR = Year(days=396)


def x_of(day: float, days: int, width: float, scale: float = 1.0) -> float:
    """Where a day lies on a band so many pixels wide; days behind lie in the bay."""
    start, room = BAY * scale, max(1.0, width - (BAY + TAIL) * scale)
    if day < 0:
        return start - OFF * scale
    near = room * NEAR_SHARE
    if day <= NEAR_DAYS:
        return start + near * day / NEAR_DAYS
    rest = max(1, days - NEAR_DAYS)
    return start + near + (room - near) * min(1.0, (day - NEAR_DAYS) / rest)


def pegs(year: Year, width: float, scale: float = 1.0) -> tuple[Peg, ...]:
    """The marks as they are drawn: neighbours that would touch are one, with the worst's shape.

    Law: every key of every mark is in exactly one of them.
    """
    found: list[Peg] = []
    for above in (False, True):
        lane: list[Peg] = []
        for mark in sorted(year.marks, key=lambda mark: (mark.day, RANK[mark.sort])):
            if (mark.sort in ABOVE) is not above:
                continue
            x = x_of(mark.day, year.days, width, scale)
            if mark.day >= 0 and mark.sort not in ABOVE:
                x = max(x, (BAY + OFF * 0.8) * scale)
            if lane and x - lane[-1].x < CLASH * scale and _joins(lane[-1], mark):
                last = lane.pop()
                worst = min(last.sort, mark.sort, key=RANK.__getitem__)
                lane.append(Peg(x=last.x, sort=worst, marks=(*last.marks, mark)))
            else:
                if lane:  # two of different kinds stand side by side
                    x = max(x, lane[-1].x + CLASH * scale)
                lane.append(Peg(x=x, sort=mark.sort, marks=(mark,)))
        found += lane
    return tuple(sorted(found, key=lambda peg: (peg.x, RANK[peg.sort])))


def _joins(peg: Peg, mark: YearMark) -> bool:
    """What lies behind stays apart from what lies ahead; above the line only alike is joined."""
    if (peg.marks[0].day < 0) is not (mark.day < 0):
        return False
    return mark.sort not in ABOVE or peg.sort is mark.sort
