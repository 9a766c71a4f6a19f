"""The household's settings."""

from __future__ import annotations

from dataclasses import dataclass, fields
from fractions import Fraction

from sqlalchemy import delete
from sqlalchemy.orm import Session

from models.acts.keep import KEEP, Keep, kept
from models.acts.known import unknown
from models.acts.report import report
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.facts.settings import HouseholdSettings, read_settings
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.household import HouseholdRow, PolicyFigureRow, UnitChoiceRow
from models.words import Language, Paper
from schedules.facts import Policy
from schedules.units import Dimension, Unit, UnitSystem, dimension_of

HIGHEST_RATE_CENTS = 10**9
LONGEST_DAYS = 3660
LONGEST_MINUTES = 1440
LONGEST_YEARS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeSettings:
    """Change what is given. `units`: all choices other than the system's own. `rate_cents` None:
    own work has no price. `policy`: the whole of the engine's settings."""

    name: str | Keep = KEEP
    language: Language | Keep = KEEP
    paper: Paper | Keep = KEEP
    unit_system: UnitSystem | Keep = KEEP
    units: tuple[tuple[Dimension, Unit], ...] | Keep = KEEP
    currency: str | Keep = KEEP
    person: str | Keep = KEEP
    rate_cents: int | Keep | None = KEEP
    policy: Policy | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        now = read_settings(session)
        wanted = HouseholdSettings(
            name=plain_text("name", kept(self.name, now.name), least=1),
            language=kept(self.language, now.language),
            paper=kept(self.paper, now.paper),
            unit_system=kept(self.unit_system, now.unit_system),
            units=tuple(sorted(kept(self.units, now.units))),
            currency=_currency(kept(self.currency, now.currency)),
            person=plain_text("person", kept(self.person, now.person)),
            rate_cents=_rate(kept(self.rate_cents, now.rate_cents)),
            policy=kept(self.policy, now.policy),
        )
        _check_units(wanted.units)
        figures = _figures(wanted.policy)
        if wanted == now:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        row = session.get_one(HouseholdRow, 1)
        for name in ("name", "language", "paper", "unit_system", "currency", "person"):
            setattr(row, name, getattr(wanted, name))
        row.rate_cents = wanted.rate_cents
        if wanted.units != now.units:
            session.execute(delete(UnitChoiceRow))
            session.add_all(UnitChoiceRow(dimension=what, unit=unit) for what, unit in wanted.units)
        if wanted.policy != now.policy:
            session.execute(delete(PolicyFigureRow))
            session.add_all(PolicyFigureRow(name=name, value=value) for name, value in figures)
        return report(ActCode.CHANGE_SETTINGS, (Area.HOUSEHOLD, 1), name=wanted.name)


def _currency(code: str) -> str:
    if len(code) != 3 or not (code.isascii() and code.isalpha() and code.isupper()):
        raise unknown("currency", code)
    return code


def _rate(cents: int | None) -> int | None:
    return None if cents is None else whole("rate_cents", cents, 0, HIGHEST_RATE_CENTS)


def _check_units(units: tuple[tuple[Dimension, Unit], ...]) -> None:
    dimensions = [dimension for dimension, _ in units]
    for dimension, unit in units:
        if dimension_of(unit) is not dimension or dimensions.count(dimension) > 1:
            raise unknown("unit", unit)


def _figures(policy: Policy) -> list[tuple[str, int]]:
    """The settings that differ from the usual ones; shares in permille, to the nearest."""
    usual = Policy()
    found: list[tuple[str, int]] = []
    for field in fields(Policy):
        name, value = field.name, getattr(policy, field.name)
        if isinstance(value, Fraction):
            value = whole(name, int(value * 1000 + Fraction(1, 2)), 0, 1000)
        elif name.endswith("_minutes"):
            whole(name, value, 0, LONGEST_MINUTES)
        elif name.endswith("_years"):
            whole(name, value, 1, LONGEST_YEARS)
        else:
            whole(name, value, 0, LONGEST_DAYS)
        if getattr(policy, name) != getattr(usual, name):
            found.append((name, value))
    return found
