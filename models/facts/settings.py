"""The household's settings as one frozen thing."""

from __future__ import annotations

from dataclasses import dataclass, fields
from fractions import Fraction

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.tables.household import HouseholdRow, PolicyFigureRow, UnitChoiceRow
from models.words import Language, Paper
from schedules.facts import Policy
from schedules.units import Dimension, Unit, UnitSystem

_PERMILLE = frozenset({"carry"})


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseholdSettings:
    """What the household set: names, language, paper, units, money, the engine's settings."""

    name: str
    language: Language
    paper: Paper
    unit_system: UnitSystem
    units: tuple[tuple[Dimension, Unit], ...]
    currency: str
    person: str
    rate_cents: int | None
    policy: Policy


def read_settings(session: Session) -> HouseholdSettings:
    """The settings of the file. Raises LookupError when the file has no household row."""
    row = session.get(HouseholdRow, 1)
    if row is None:
        raise LookupError("the file has no household")
    units = session.execute(
        select(UnitChoiceRow.dimension, UnitChoiceRow.unit).order_by(UnitChoiceRow.dimension)
    ).all()
    return HouseholdSettings(
        name=row.name,
        language=row.language,
        paper=row.paper,
        unit_system=row.unit_system,
        units=tuple((dimension, unit) for dimension, unit in units),
        currency=row.currency,
        person=row.person,
        rate_cents=row.rate_cents,
        policy=_policy(session),
    )


def _policy(session: Session) -> Policy:
    known = {field.name for field in fields(Policy)}
    figures: dict[str, int | Fraction] = {}
    for name, value in session.execute(select(PolicyFigureRow.name, PolicyFigureRow.value)):
        if name in known:
            figures[name] = Fraction(value, 1000) if name in _PERMILLE else value
    return Policy(**figures)  # type: ignore[arg-type]  # names and kinds are Policy's own
