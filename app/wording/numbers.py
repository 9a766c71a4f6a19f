"""Numbers, money and dates as a reader writes them. Babel knows the signs and the month names."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from fractions import Fraction

from app.wording.languages import msg
from schedules.units import rounded

# No break between a figure and its unit.
NBSP = "\u00a0"

# How a day is written; the pattern is translated like any sentence.
DAY = msg("d MMM y")
DAY_LONG = msg("EEE d MMM y")
DAY_SHORT = msg("d MMM")
MONTH = msg("MMMM y")

Count = Callable[[str, str, int], str]


def decimal(amount: Fraction | int, places: int) -> Decimal:
    """The amount to so many places, halves away from zero."""
    return Decimal(rounded(Fraction(amount), places))


def number(amount: Fraction | int, places: int, language: str, *, keep: bool = False) -> str:
    """A number to at most so many places; `keep`: to exactly so many."""
    from babel.numbers import format_decimal

    pattern = "#,##0"
    if places > 0:
        pattern += "." + ("0" if keep else "#") * places
    return format_decimal(
        decimal(amount, places), pattern, locale=language, decimal_quantization=False
    )


def money(cents: int, currency: str, language: str) -> str:
    """Whole cents in the currency's own form."""
    from babel.numbers import format_currency

    return format_currency(Decimal(cents).scaleb(-2), currency, locale=language)


def written(day: date, pattern: str, language: str) -> str:
    """A day by a pattern of Babel's."""
    from babel.dates import format_date

    return format_date(day, pattern, locale=language)


def distance(days: int, count: Count) -> tuple[str, str]:
    """How far off a day is: the sentence for it, and its number in words of days, weeks, months.

    Weeks from 14 days on, months from 70, years from 2: nobody counts 45 days in the head.
    """
    if days == 0:
        return msg("today"), ""
    if days == 1:
        return msg("tomorrow"), ""
    if days == -1:
        return msg("yesterday"), ""
    span = spell(abs(days), count)
    return (msg("in {span}") if days > 0 else msg("{span} ago")), span


def spell(days: int, count: Count) -> str:
    """A stretch of days in the largest word that still tells it apart."""
    if days < 14:
        return count("{n} day", "{n} days", days)
    if days < 70:
        return count("{n} week", "{n} weeks", round(Fraction(days, 7)))
    if days < 730:
        return count("{n} month", "{n} months", round(Fraction(days * 12, 365)))
    return count("{n} year", "{n} years", round(Fraction(days, 365)))
