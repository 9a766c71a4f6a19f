"""Before and after: trials, what was alike on both days, and every value measured."""

from __future__ import annotations

from datetime import date
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
    link,
    plain_text,
    whole,
    yes,
)
from models.tables.entries import Entry, Measured
from models.words import TrialSide
from schedules.units import LARGEST_STORED


class TrialRow(Base):
    """One trial of a machine by a protocol. `work`: what is done between the sides; `reference`:
    a machine that is not worked on, whoever's it is; `job_id`: the after-side that waits."""

    __tablename__ = "trial"
    guards: ClassVar[Guards] = (("closed_later", "closed_on IS NULL OR closed_on >= begun_on"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    job_id: Mapped[int | None] = link("job", "SET NULL", null=True)
    protocol_code: Mapped[str] = code()
    begun_on: Mapped[date] = day()
    rough: Mapped[bool] = yes()
    work: Mapped[str] = plain_text()
    reference: Mapped[str] = plain_text()
    closed_on: Mapped[date | None] = day(null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class TrialConditionRow(Base):
    """How it was on one side of a trial: the answer to one condition of the protocol."""

    __tablename__ = "trial_condition"
    __table_args__ = (UniqueConstraint("trial_id", "side", "condition_code"),)

    trial_id: Mapped[int] = link("trial", "CASCADE")
    side: Mapped[TrialSide] = choice(TrialSide)
    condition_code: Mapped[str] = code()
    answer: Mapped[str] = code()


class TrialValueRow(Entry, Measured, Base):
    """One value: an amount in the protocol's stored unit. `of_reference`: the other machine's."""

    __tablename__ = "trial_value"

    trial_id: Mapped[int] = link("trial", "RESTRICT")
    side: Mapped[TrialSide] = choice(TrialSide)
    of_reference: Mapped[bool] = yes()
    amount: Mapped[int] = whole(1, LARGEST_STORED)
    note: Mapped[str] = plain_text(NOTE_LENGTH)
