"""What the owner said about a machine: features, duties, its manual's figures, where things are."""

from __future__ import annotations

from datetime import date

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from models.tables.base import MOST, NOTE_LENGTH, Base, code, day, link, plain_text, whole, yes


class FeatureAnswerRow(Base):
    """Which value of a feature a machine has."""

    __tablename__ = "feature_answer"
    __table_args__ = (UniqueConstraint("machine_id", "feature_code"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    feature_code: Mapped[str] = code()
    answer: Mapped[str] = code()
    answered_on: Mapped[date] = day()


class DutyAnswerRow(Base):
    """Whether a machine has a duty."""

    __tablename__ = "duty_answer"
    __table_args__ = (UniqueConstraint("machine_id", "duty_code"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    duty_code: Mapped[str] = code()
    applies: Mapped[bool] = yes(default=None)
    answered_on: Mapped[date] = day()


class OwnFigureRow(Base):
    """A figure of the machine's own manual; NULL strikes the catalogue's out."""

    __tablename__ = "own_figure"
    __table_args__ = (UniqueConstraint("machine_id", "target", "figure"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    target: Mapped[str] = code()
    figure: Mapped[str] = code()
    value: Mapped[int | None] = whole(-MOST, MOST, null=True)
    typed_text: Mapped[str] = plain_text(40)
    typed_unit: Mapped[str] = plain_text(40)
    page: Mapped[str] = plain_text()


class DetailRow(Base):
    """A thing to know at the machine: its oil, plug, sockets, where the spare key hangs."""

    __tablename__ = "detail"
    __table_args__ = (UniqueConstraint("machine_id", "detail_code"),)

    machine_id: Mapped[int] = link("machine", "CASCADE")
    detail_code: Mapped[str] = code()
    text: Mapped[str] = plain_text(NOTE_LENGTH)
