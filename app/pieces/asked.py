"""Answers of a form as values: text, days, amounts; what cannot be read says so in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from app.wording.languages import msg
from app.wording.wording import Wording
from models.facts.settings import HouseholdSettings
from schedules.facts import LimitFacts
from schedules.units import (
    Dimension,
    Typed,
    Unit,
    UnitRefusedError,
    dimension_of,
    parse_amount,
)


@dataclass(frozen=True, slots=True)
class Said:
    """An answer that cannot be taken: why, and which field it is."""

    text: str
    field: str


def text(answers: Mapping[str, object], name: str) -> str:
    """What was typed, without outer blanks."""
    return str(answers.get(name, "")).strip()


def choice(answers: Mapping[str, object], name: str) -> str:
    """The value that was chosen; "" for none."""
    value = answers.get(name)
    return "" if value is None else str(value)


def day(answers: Mapping[str, object], name: str) -> date:
    """The day that was set. Raises TypeError when the field is no day."""
    value = answers[name]
    if not isinstance(value, date):
        raise TypeError(f"{name} is no day: {value!r}")
    return value


def lines_of(answers: Mapping[str, object], name: str) -> tuple[str, ...]:
    """The values that were ticked."""
    value = answers.get(name)
    return tuple(str(one) for one in value) if isinstance(value, tuple) else ()


def typed_hours(
    answers: Mapping[str, object],
    name: str,
    settings: HouseholdSettings,
    words: Wording,
    *,
    needed: bool = False,
) -> Typed | Said | None:
    """Run time as typed; None when the field was left empty."""
    typed = text(answers, name)
    if not typed and not needed:
        return None
    try:
        return parse_amount(
            typed,
            Dimension.TIME,
            system=settings.unit_system,
            decimal_comma=False,
            implied=Unit.HOUR,
        )
    except UnitRefusedError as refused:
        said = (words.amount_refused(refused), words.text(msg("Like 0.8 h or 45 min.")))
        return Said(" ".join(said), name)


def whole_number(
    answers: Mapping[str, object], name: str, words: Wording, *, digits: int = 5
) -> int | Said:
    """A whole number of at most so many digits."""
    typed = text(answers, name)
    if typed.isascii() and typed.isdecimal() and len(typed) <= digits:
        return int(typed)
    return Said(words.text(msg("Type a whole number, like 1.")), name)


def amount(
    answers: Mapping[str, object], name: str, words: Wording, currency: str
) -> int | Said | None:
    """Money in cents; None when the field was left empty."""
    typed = text(answers, name)
    if not typed:
        return None
    whole, point, part = typed.partition(".")
    right = whole.isascii() and whole.isdecimal() and len(whole) <= 9
    if right and not point:
        return int(whole) * 100
    if right and part.isascii() and part.isdecimal() and len(part) == 2:
        return int(whole) * 100 + int(part)
    said = msg("“{typed}” is no sum of money; type it like 12 or 12.40, in {currency}.")
    return Said(words.text(said, typed=typed, currency=currency), name)


@dataclass(frozen=True, slots=True)
class Asked:
    """Reads what was found when measuring."""

    words: Wording
    settings: HouseholdSettings

    def amount_of(self, typed: str, limit: LimitFacts) -> Typed | Said:
        """An amount in any unit of the limit's dimension."""
        chosen = dict(self.settings.units).get(dimension_of(limit.unit))
        try:
            return parse_amount(
                typed,
                dimension_of(limit.unit),
                system=self.settings.unit_system,
                decimal_comma=False,
                implied=chosen,
            )
        except UnitRefusedError as refused:
            said = (self.words.amount_refused(refused), self._like(limit))
            return Said(" ".join(part for part in said if part), "found")

    def _like(self, limit: LimitFacts) -> str:
        """The unit to type, by an example of the size that is measured here."""
        example = limit.high if limit.low is None else limit.low
        if not example:
            return ""
        words = self.words
        return words.text(msg("Here it is like {amount}."), amount=words.amount(limit, example))

    def yes_or_no(self, typed: str) -> bool | Said:
        """Seen or not seen."""
        words = self.words
        said = typed.casefold()
        if said in (words.text(msg("yes")).casefold(), "y", "1"):
            return True
        if said in (words.text(msg("no")).casefold(), "n", "0"):
            return False
        return Said(words.text(msg("Type yes if you saw it, no if you did not.")), "found")
