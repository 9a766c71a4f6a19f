"""Runs: machines put away, got out or gone over, step by step, and what was left off or open."""

from __future__ import annotations

from datetime import date, datetime
from typing import ClassVar

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from models.tables.base import (
    NOTE_LENGTH,
    Base,
    Guards,
    choice,
    code,
    day,
    instant,
    link,
    plain_text,
    whole,
)
from models.words import StepAnswer
from schedules.sitting_facts import FuelEffect, FuelRoute, RunSort

MOST_STEPS = 10_000
LONGEST_STEP = 24 * 60


class RunRow(Base):
    """One run. `left_on`, `waits_for`: it stands on the bench since then, waiting for that."""

    __tablename__ = "run"
    guards: ClassVar[Guards] = (
        ("finished_later", "finished_on IS NULL OR finished_on >= begun_on"),
        ("left_later", "left_on IS NULL OR left_on >= begun_on"),
    )

    sort: Mapped[RunSort] = choice(RunSort)
    begun_on: Mapped[date] = day()
    begun_by: Mapped[str] = plain_text()
    left_on: Mapped[date | None] = day(null=True)
    waits_for: Mapped[str] = plain_text()
    finished_on: Mapped[date | None] = day(null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class RunMachineRow(Base):
    """A machine of a run, in the order asked for; what becomes of its fuel, how long it sleeps."""

    __tablename__ = "run_machine"
    __table_args__ = (UniqueConstraint("run_id", "machine_id"),)

    run_id: Mapped[int] = link("run", "CASCADE")
    machine_id: Mapped[int] = link("machine", "CASCADE")
    route: Mapped[FuelRoute] = choice(FuelRoute)
    sleep_last: Mapped[date | None] = day(null=True)


class RunStepRow(Base):
    """A step as it was laid down, for one machine; a step for several has a row for each, all at
    the same place. `tasks`, `passes`, `leaves`, `puts_back` are codes with blanks between.

    Places count from 0. The answer stands here from the moment it was given.
    """

    __tablename__ = "run_step"
    __table_args__ = (UniqueConstraint("run_id", "place", "machine_id"),)
    guards: ClassVar[Guards] = (
        ("answered_whole", "(answer IS NULL) = (answered_on IS NULL)"),
        ("cannot_for_a_reason", "answer IS NOT 'cannot' OR length(why) > 0"),
    )

    run_id: Mapped[int] = link("run", "CASCADE")
    machine_id: Mapped[int] = link("machine", "CASCADE")
    place: Mapped[int] = whole(0, MOST_STEPS)
    step_code: Mapped[str] = code()
    minutes: Mapped[int] = whole(0, LONGEST_STEP)
    wait_minutes: Mapped[int] = whole(0, LONGEST_STEP, default=0)
    tasks: Mapped[str] = plain_text()
    passes: Mapped[str] = plain_text()
    leaves: Mapped[str] = plain_text()
    puts_back: Mapped[str] = plain_text()
    fuel: Mapped[FuelEffect | None] = choice(FuelEffect, null=True)
    answer: Mapped[StepAnswer | None] = choice(StepAnswer, null=True)
    answered_on: Mapped[date | None] = day(null=True)
    answered_by: Mapped[str] = plain_text()
    why: Mapped[str] = plain_text()
    job_id: Mapped[int | None] = link("job", "SET NULL", null=True)
    fault_id: Mapped[int | None] = link("fault", "SET NULL", null=True)


class RunTimerRow(Base):
    """Something that runs on by itself since an instant, and how long it takes."""

    __tablename__ = "run_timer"
    __table_args__ = (UniqueConstraint("run_id", "place"),)

    run_id: Mapped[int] = link("run", "CASCADE")
    place: Mapped[int] = whole(0, MOST_STEPS)
    started_at: Mapped[datetime] = instant()
    minutes: Mapped[int] = whole(1, LONGEST_STEP)


class LeftOffRow(Base):
    """Something at a machine that is off, shut or open, from a day until it is put back. `kept`:
    where it hangs or lies."""

    __tablename__ = "left_off"
    guards: ClassVar[Guards] = (("back_later", "back_on IS NULL OR back_on >= since_on"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    run_id: Mapped[int | None] = link("run", "SET NULL", null=True)
    left_code: Mapped[str] = code()
    since_on: Mapped[date] = day()
    kept: Mapped[str] = plain_text()
    back_on: Mapped[date | None] = day(null=True)


class NotYetRow(Base):
    """The day on which *was that the last one?* was answered with not yet."""

    __tablename__ = "not_yet"
    __table_args__ = (UniqueConstraint("machine_id", "said_on"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    said_on: Mapped[date] = day()
