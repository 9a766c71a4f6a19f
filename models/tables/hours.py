"""Hours: meters, what they showed, totals reckoned from something else, and uses."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy.orm import Mapped

from models.tables.base import NOTE_LENGTH, Base, Guards, choice, day, link, plain_text, whole
from models.tables.entries import Entry, Measured
from models.words import InferredFrom, RunOutcome

DAY_SECONDS = 86_400
LONGEST_RUN = 10**10


class MeterRow(Base):
    """One meter on a machine or unit, from the day it was there to the day it was replaced.

    `start_seconds` and `end_seconds` are what it showed on those days; `modulus_seconds` is what
    it shows one turn short of, NULL for one that never rolls over.
    """

    __tablename__ = "meter"
    guards: ClassVar[Guards] = (
        ("ended_later", "ended_on IS NULL OR ended_on >= from_on"),
        ("ended_whole", "(ended_on IS NULL) = (end_seconds IS NULL)"),
    )

    item_id: Mapped[int] = link("item", "RESTRICT")
    from_on: Mapped[date] = day()
    start_seconds: Mapped[int] = whole(0, LONGEST_RUN)
    modulus_seconds: Mapped[int | None] = whole(1, LONGEST_RUN, null=True)
    ended_on: Mapped[date | None] = day(null=True)
    end_seconds: Mapped[int | None] = whole(0, LONGEST_RUN, null=True)
    end_rollovers: Mapped[int] = whole(0, 1000, default=0)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class HoursReadingRow(Entry, Measured, Base):
    """What a meter showed; `rollovers` since the reading before it (or its start)."""

    __tablename__ = "hours_reading"

    meter_id: Mapped[int] = link("meter", "RESTRICT")
    work_id: Mapped[int | None] = link("work", "RESTRICT", null=True)
    shown_seconds: Mapped[int] = whole(0, LONGEST_RUN)
    rollovers: Mapped[int] = whole(0, 1000, default=0)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class InferredPointRow(Entry, Base):
    """A total of a day reckoned from something else, which counts from the day it was accepted."""

    __tablename__ = "inferred_point"

    item_id: Mapped[int] = link("item", "RESTRICT")
    total_seconds: Mapped[int] = whole(0, LONGEST_RUN)
    spread_seconds: Mapped[int] = whole(0, LONGEST_RUN, default=0)
    inferred_from: Mapped[InferredFrom] = choice(InferredFrom)
    accepted_on: Mapped[date] = day()
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class UseRow(Entry, Measured, Base):
    """A machine was used on a day, `count` times; `run_seconds` in all, NULL when not noted."""

    __tablename__ = "use"

    machine_id: Mapped[int] = link("machine", "RESTRICT")
    run_seconds: Mapped[int | None] = whole(0, 366 * DAY_SECONDS, null=True)
    count: Mapped[int] = whole(1, 1000, default=1)
    outcome: Mapped[RunOutcome] = choice(RunOutcome)
    pins_used: Mapped[int] = whole(0, 1000, default=0)
    note: Mapped[str] = plain_text(NOTE_LENGTH)
