"""One language and one choice of units: sentences, numbers, days and figures with their units."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction

from app.wording import numbers
from app.wording.languages import BRITISH, fill, msg, translations
from app.wording.numbers import NBSP
from app.wording.units import METRIC, SYMBOLS, UnitChoice, places, reading_unit, ruler_part
from schedules.units import Quantity, Unit


class Tongue:
    """Speaks one language. What a user typed goes in as a value and is never read as a template."""

    def __init__(self, language: str = BRITISH, units: UnitChoice = METRIC) -> None:
        self.language = language
        self.units = units
        self._known = translations(language)

    # -- sentences -----------------------------------------------------------------------------

    def text(self, msgid: str, /, **values: object) -> str:
        """The sentence in this language. Values are put in as they are; dates, quantities and
        numbers are written first. Raises KeyError when one is missing."""
        said = self._known.gettext(msgid) if msgid else ""
        return self._filled(said, values) if values else said

    def count(self, one: str, many: str, n: int, /, **values: object) -> str:
        """A sentence about a number of things; `{n}` in it is the number."""
        return self._filled(self._known.ngettext(one, many, n), {"n": n, **values})

    def _filled(self, said: str, values: Mapping[str, object]) -> str:
        return fill(said, {name: self.plain(value) for name, value in values.items()})

    def plain(self, value: object) -> str:
        """A value as it stands in a sentence: text as it is, the rest as this language has it."""
        match value:
            case None:
                return self.text(msg("not known"))
            case str():
                return value
            case Quantity():
                return self.quantity(value)
            case date():
                return self.day_long(value)
            case int():
                return self.number(value)
            case Fraction():
                return self.number(value, 2)
            case _:
                return str(value)

    # -- numbers -------------------------------------------------------------------------------

    def number(self, amount: Fraction | int, decimals: int = 0, *, keep: bool = False) -> str:
        """A number to at most so many decimals; `keep`: to exactly so many."""
        return numbers.number(amount, decimals, self.language, keep=keep)

    def percent(self, share: Fraction) -> str:
        """A share of one, to whole per cent."""
        return f"{self.number(share * 100)}%"

    def money(self, cents: int, currency: str) -> str:
        """Whole cents of a currency (ISO 4217)."""
        return numbers.money(cents, currency, self.language)

    def listed(self, parts: list[str]) -> str:
        """Several things in one sentence: a, b and c."""
        if len(parts) < 2:
            return "".join(parts)
        return self.text(msg("{first} and {last}"), first=", ".join(parts[:-1]), last=parts[-1])

    # -- days and times ------------------------------------------------------------------------

    def day(self, day: date) -> str:
        """A day, short: 12 Dec 2026."""
        return numbers.written(day, self.text(numbers.DAY), self.language)

    def day_long(self, day: date, *, on: date | None = None) -> str:
        """A day with its weekday: Sat 12 Dec 2026; seen from `on` also how far off it is."""
        said = numbers.written(day, self.text(numbers.DAY_LONG), self.language)
        if on is None:
            return said
        return self.text(msg("{distance}, {day}"), distance=self.distance(day, on=on), day=said)

    def day_short(self, day: date) -> str:
        """A day without its year: 12 Dec."""
        return numbers.written(day, self.text(numbers.DAY_SHORT), self.language)

    def month(self, day: date) -> str:
        """The month of a day: December 2026."""
        return numbers.written(day, self.text(numbers.MONTH), self.language)

    def distance(self, day: date, *, on: date) -> str:
        """How far off a day is: today, in 3 weeks, 2 days ago."""
        template, span = numbers.distance((day - on).days, self.count)
        return self.text(template, span=span)

    def days(self, days: int) -> str:
        """So many days."""
        return self.count(msg("{n} day"), msg("{n} days"), days)

    def months(self, months: int) -> str:
        """So many months."""
        return self.count(msg("{n} month"), msg("{n} months"), months)

    def uses(self, uses: int) -> str:
        """So many uses."""
        return self.count(msg("{n} use"), msg("{n} uses"), uses)

    def run_time(self, seconds: Fraction | int | None, *, estimated: bool = False) -> str:
        """Run time to a tenth of an hour; *about* when it is estimated."""
        if seconds is None:
            return self.text(msg("not known"))
        hours = self.number(Fraction(seconds) / 3600, 1, keep=True)
        said = f"{hours}{NBSP}{self.text(SYMBOLS[Unit.HOUR])}"
        return self.text(msg("about {amount}"), amount=said) if estimated else said

    def round_hours(self, seconds: Fraction | int) -> str:
        """Run time that was set, not measured: 25 h, 2.5 h."""
        return self._measured(Fraction(seconds) / 3600, Unit.HOUR)

    def minutes(self, minutes: int) -> str:
        """Working time: 55 min, 1 h 40 min."""
        hours, rest = divmod(minutes, 60)
        parts = [(hours, Unit.HOUR)] if hours else []
        if rest or not hours:
            parts.append((rest, Unit.MINUTE))
        return NBSP.join(
            f"{self.number(part)}{NBSP}{self.text(SYMBOLS[unit])}" for part, unit in parts
        )

    # -- quantities ----------------------------------------------------------------------------

    def quantity(self, quantity: Quantity) -> str:
        """A quantity in the unit the household reads, to the places anybody reads."""
        match quantity.unit:
            case Unit.DAY:
                return self.days(int(quantity.amount))
            case Unit.MONTH:
                return self.months(int(quantity.amount))
            case Unit.SECOND:
                return self.run_time(quantity.amount)
            case Unit.COUNT | Unit.NONE:
                return self.number(quantity.amount, 2)
            case Unit.CENT:
                return self.number(quantity.amount / 100, 2, keep=True)
            case _:
                return self._measured(*reading_unit(quantity.amount, quantity.unit, self.units))

    def in_unit(self, quantity: Quantity, unit: Unit) -> str:
        """A quantity of exactly this unit, unconverted: what was typed, shown beside."""
        return self._measured(quantity.amount, unit)

    def litres(self, volume_ul: Fraction | int) -> str:
        """A volume given in microlitres."""
        return self.quantity(Quantity(Fraction(volume_ul), Unit.MICROLITRE))

    def symbol(self, unit: Unit) -> str:
        """What a unit is called behind a figure, unbroken; nothing for plain counts."""
        return self.text(SYMBOLS.get(unit, "")).replace(" ", NBSP)

    def _measured(self, amount: Fraction, unit: Unit) -> str:
        symbol = self.symbol(unit)
        if unit is Unit.PERCENT:
            return f"{self.number(amount, 1)}{symbol}"
        if unit in (Unit.INCH, Unit.FOOT):
            ruler = self._ruler(amount)
            if ruler:
                return f"{ruler}{NBSP}{symbol}"
        thousandths = unit is Unit.INCH
        figure = self.number(amount, places(amount, unit), keep=thousandths)
        return f"{figure}{NBSP}{symbol}".rstrip(NBSP)

    def _ruler(self, amount: Fraction) -> str:
        mixed = ruler_part(amount)
        if mixed is None:
            return ""
        sign = "-" if mixed.negative else ""
        if not mixed.numerator:
            return f"{sign}{self.number(mixed.whole)}"
        part = f"{mixed.numerator}/{mixed.denominator}"
        return f"{sign}{mixed.whole}-{part}" if mixed.whole else f"{sign}{part}"

    def file_size(self, size_bytes: int) -> str:
        """The size of a file in megabytes."""
        amount = Decimal(size_bytes) / 1_000_000
        return f"{self.number(Fraction(amount), 1)}{NBSP}MB"
