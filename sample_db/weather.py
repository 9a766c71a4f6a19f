"""The snow of each winter: days in a fixed pattern, moved a little from year to year."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from sample_db.chronicle import Chronicle

_USUAL = (
    (11, 22),
    (12, 5),
    (12, 14),
    (12, 27),
    (1, 6),
    (1, 13),
    (1, 24),
    (2, 2),
    (2, 11),
    (2, 20),
    (3, 4),
    (3, 15),
)


@dataclass(frozen=True, slots=True, order=True)
class Storm:
    """A day on which snow had to be cleared; `place` counts those of its winter from 0."""

    day: date
    place: int


def storms(story: Chronicle) -> list[Storm]:
    """Every storm told, oldest first."""
    found: list[Storm] = []
    for place, (month, day) in enumerate(_USUAL):
        for year in range(story.begun.year, story.on.year + 1):
            moved = date(year, month, day) + timedelta(days=(year * 7 + place * 5) % 5 - 2)
            if story.begun <= moved <= story.on:
                found.append(Storm(moved, place))
    return sorted(found)
