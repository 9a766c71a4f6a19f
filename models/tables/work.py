"""Work: records of what was done, found and measured; one-offs; faults; spells in storage."""

from __future__ import annotations

from datetime import date
from typing import ClassVar

from sqlalchemy.orm import Mapped

from models.tables.base import (
    NOTE_LENGTH,
    Base,
    Guards,
    choice,
    code,
    day,
    link,
    plain_text,
    whole,
    yes,
)
from models.tables.entries import Entry, Measured
from models.words import LineOutcome, Side
from schedules.facts import Phase
from schedules.units import COLDEST_MILLIDEGREES, LARGEST_STORED


class WorkRow(Entry, Base):
    """One going at a machine, or at units lying on the bench. `cents` went to a workshop."""

    __tablename__ = "work"

    machine_id: Mapped[int | None] = link("machine", "RESTRICT", null=True)
    sheet_id: Mapped[int | None] = link("sheet", "RESTRICT", null=True)
    by_whom: Mapped[str] = plain_text()
    minutes: Mapped[int | None] = whole(0, 100_000, null=True)
    cents: Mapped[int | None] = whole(0, 10**11, null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class WorkLineRow(Base):
    """A line of a record: a task or a job, on which thing, how it went, what it took.

    Lines of a record stand in the order of their ids. A line counts when its record does.
    """

    __tablename__ = "work_line"
    guards: ClassVar[Guards] = (("about_something", "task_code IS NOT NULL OR job_id IS NOT NULL"),)

    work_id: Mapped[int] = link("work", "CASCADE")
    item_id: Mapped[int] = link("item", "RESTRICT")
    task_code: Mapped[str | None] = code(null=True)
    job_id: Mapped[int | None] = link("job", "RESTRICT", null=True)
    outcome: Mapped[LineOutcome] = choice(LineOutcome)
    part_code: Mapped[str | None] = code(null=True)
    part_text: Mapped[str] = plain_text()
    quantity: Mapped[int] = whole(0, 10_000, default=0)
    cents: Mapped[int | None] = whole(0, 10**11, null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class LimitReadingRow(Entry, Measured, Base):
    """A measurement taken for a task: an amount in the limit's stored unit, or seen or not."""

    __tablename__ = "limit_reading"
    guards: ClassVar[Guards] = (("one_answer", "(amount IS NULL) <> (seen IS NULL)"),)

    item_id: Mapped[int] = link("item", "RESTRICT")
    work_id: Mapped[int | None] = link("work", "RESTRICT", null=True)
    task_code: Mapped[str] = code()
    limit_code: Mapped[str] = code()
    amount: Mapped[int | None] = whole(
        min(COLDEST_MILLIDEGREES, -LARGEST_STORED), LARGEST_STORED, null=True
    )
    seen: Mapped[bool | None] = yes(null=True)
    after_work: Mapped[bool] = yes()
    side: Mapped[Side | None] = choice(Side, null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class JobRow(Base):
    """A one-off. Open until a line of a record in force does it, or it is dropped.

    `at_seconds` is a total of `item_id`'s run time (of the machine's own when that is NULL).
    """

    __tablename__ = "job"
    guards: ClassVar[Guards] = (
        ("dropped_later", "dropped_on IS NULL OR dropped_on >= noted_on"),
        ("dropped_for_a_reason", "dropped_on IS NULL OR length(dropped_why) > 0"),
    )

    machine_id: Mapped[int | None] = link("machine", "CASCADE", null=True)
    item_id: Mapped[int | None] = link("item", "SET NULL", null=True)
    fault_id: Mapped[int | None] = link("fault", "SET NULL", null=True)
    text: Mapped[str] = plain_text(least=1)
    noted_on: Mapped[date] = day()
    due_on: Mapped[date | None] = day(null=True)
    at_seconds: Mapped[int | None] = whole(null=True)
    phase: Mapped[Phase | None] = choice(Phase, null=True)
    waits_for: Mapped[str] = plain_text()
    minutes: Mapped[int] = whole(0, 100_000, default=0)
    part: Mapped[str] = plain_text()
    safety: Mapped[bool] = yes()
    stops_use: Mapped[bool] = yes()
    dropped_on: Mapped[date | None] = day(null=True)
    dropped_why: Mapped[str] = plain_text()
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class FaultRow(Base):
    """Something is wrong: since when, whether it stops use, whether the repair was put off."""

    __tablename__ = "fault"
    guards: ClassVar[Guards] = (
        ("put_off_later", "put_off_on IS NULL OR put_off_on >= since_on"),
        ("closed_later", "closed_on IS NULL OR closed_on >= since_on"),
    )

    machine_id: Mapped[int] = link("machine", "CASCADE")
    item_id: Mapped[int | None] = link("item", "SET NULL", null=True)
    text: Mapped[str] = plain_text(least=1)
    since_on: Mapped[date] = day()
    stops_use: Mapped[bool] = yes()
    put_off_on: Mapped[date | None] = day(null=True)
    closed_on: Mapped[date | None] = day(null=True)
    closed_how: Mapped[str] = plain_text()
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class StorageSpellRow(Base):
    """A spell in storage. `woken_on` is the first day in use again; `off_or_open` what was left
    off or open."""

    __tablename__ = "storage_spell"
    guards: ClassVar[Guards] = (
        ("woken_later", "woken_on IS NULL OR woken_on >= put_away_on"),
        ("planned_later", "planned_last IS NULL OR planned_last >= put_away_on"),
    )

    machine_id: Mapped[int] = link("machine", "CASCADE")
    put_away_on: Mapped[date] = day()
    planned_last: Mapped[date | None] = day(null=True)
    woken_on: Mapped[date | None] = day(null=True)
    off_or_open: Mapped[str] = plain_text(NOTE_LENGTH)
    note: Mapped[str] = plain_text(NOTE_LENGTH)
