"""Searches for a fault: what was seen, tested and tried on the way, and how each ended."""

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
from models.words import SearchDoing, SearchEnd


class SearchRow(Base):
    """One search on a machine, by what it does. Paused while `paused_on` is given.

    `cause_code`: what it was, as far as that was found. `teaches`: the find counts for this
    household's odds. `stop_minutes`, `stop_cents`: beyond these it is given up.
    """

    __tablename__ = "search"
    guards: ClassVar[Guards] = (
        ("paused_later", "paused_on IS NULL OR paused_on >= begun_on"),
        ("closed_later", "closed_on IS NULL OR closed_on >= begun_on"),
        ("closed_somehow", "(closed_on IS NULL) = (ending IS NULL)"),
        ("teaches_a_cause", "teaches = 0 OR cause_code IS NOT NULL"),
    )

    machine_id: Mapped[int] = link("machine", "CASCADE")
    fault_id: Mapped[int | None] = link("fault", "SET NULL", null=True)
    symptom_code: Mapped[str] = code()
    begun_on: Mapped[date] = day()
    paused_on: Mapped[date | None] = day(null=True)
    waits_for: Mapped[str] = plain_text()
    closed_on: Mapped[date | None] = day(null=True)
    ending: Mapped[SearchEnd | None] = choice(SearchEnd, null=True)
    cause_code: Mapped[str | None] = code(null=True)
    teaches: Mapped[bool] = yes()
    stop_minutes: Mapped[int | None] = whole(0, 1_000_000, null=True)
    stop_cents: Mapped[int | None] = whole(0, 10**11, null=True)
    note: Mapped[str] = plain_text(NOTE_LENGTH)


class SearchStepRow(Base):
    """One thing said or done, in the order of ids. What was taken back stays, `withdrawn`.

    `subject_code`: the reading, the cause or the fact it is about; `answer_code`: what came of it;
    `place`: which cure of the cause. `text`: what was left off.
    """

    __tablename__ = "search_step"
    guards: ClassVar[Guards] = (
        ("about_something", "subject_code IS NOT NULL OR doing IN ('left_off', 'shut', 'over')"),
    )

    search_id: Mapped[int] = link("search", "CASCADE")
    doing: Mapped[SearchDoing] = choice(SearchDoing)
    done_on: Mapped[date] = day()
    subject_code: Mapped[str | None] = code(null=True)
    answer_code: Mapped[str | None] = code(null=True)
    place: Mapped[int] = whole(0, 100, default=0)
    minutes: Mapped[int | None] = whole(0, 100_000, null=True)
    text: Mapped[str] = plain_text()
    withdrawn: Mapped[bool] = yes()
