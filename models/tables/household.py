"""The household itself: one row of settings, and the figures it set differently."""

from __future__ import annotations

from typing import ClassVar

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from models.tables.base import Base, Guards, choice, code, plain_text, whole
from models.words import Language, Paper
from schedules.units import Dimension, Unit, UnitSystem


class HouseholdRow(Base):
    """The one row of settings. `rate_cents`: an hour of own work, if the household set a rate."""

    __tablename__ = "household"
    guards: ClassVar[Guards] = (("one", "id = 1"), ("currency_letters", "length(currency) = 3"))

    name: Mapped[str] = plain_text(least=1)
    language: Mapped[Language] = choice(Language)
    paper: Mapped[Paper] = choice(Paper)
    unit_system: Mapped[UnitSystem] = choice(UnitSystem)
    currency: Mapped[str] = plain_text(3, least=3)
    person: Mapped[str] = plain_text()
    rate_cents: Mapped[int | None] = whole(0, 10**9, null=True)


class UnitChoiceRow(Base):
    """A unit the household reads a dimension in, other than its system's."""

    __tablename__ = "unit_choice"
    __table_args__ = (UniqueConstraint("dimension"),)

    dimension: Mapped[Dimension] = choice(Dimension)
    unit: Mapped[Unit] = choice(Unit)


class PolicyFigureRow(Base):
    """A setting of the due engine other than its default; shares in permille."""

    __tablename__ = "policy_figure"
    __table_args__ = (UniqueConstraint("name"),)

    name: Mapped[str] = code()
    value: Mapped[int] = whole(0, 100_000)
