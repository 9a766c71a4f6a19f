from datetime import date, timedelta
from fractions import Fraction

import pytest

from app.wording.languages import language_of
from app.wording.tongue import Tongue
from app.wording.units import METRIC, UK, US, UnitChoice
from app.wording.wording import Wording
from resources.loader import load_catalogue
from schedules.facts import Direction, HoursBasis, HoursNow, LimitCode, LimitFacts
from schedules.units import Quantity, Unit

DAY = date(2026, 12, 12)
NBSP = "\u00a0"


def figure(amount: int, unit: Unit, choice: UnitChoice, language: str = "en_GB") -> str:
    said = Tongue(language, choice).quantity(Quantity(Fraction(amount), unit))
    assert " " not in said or unit in (Unit.DAY, Unit.MONTH)
    return said.replace(NBSP, " ")


@pytest.mark.parametrize(
    ("amount", "unit", "choice", "said"),
    [
        (760, Unit.MICROMETRE, METRIC, "0.76 mm"),
        (760, Unit.MICROMETRE, US, "0.030 in"),
        (1600, Unit.MICROMETRE, US, "1/16 in"),
        (31_750, Unit.MICROMETRE, US, "1-1/4 in"),
        (25_400, Unit.MICROMETRE, US, "1 in"),
        (0, Unit.MICROMETRE, US, "0.000 in"),
        (6000, Unit.MICROMETRE, METRIC, "6 mm"),
        (20_000_000, Unit.MICROLITRE, METRIC, "20 L"),
        (50_000, Unit.MICROLITRE, METRIC, "50 mL"),
        (3_785_412, Unit.MICROLITRE, US, "1 US gal"),
        (50_000, Unit.MICROLITRE, US, "1.7 US fl oz"),
        (4_546_090, Unit.MICROLITRE, UnitChoice(volume=Unit.IMPERIAL_GALLON), "1 gal"),
        (150_000, Unit.PASCAL, METRIC, "150 kPa"),
        (150_000, Unit.PASCAL, UK, "22 psi"),
        (150_000, Unit.PASCAL, UnitChoice(pressure=Unit.BAR), "1.5 bar"),
        (24_000, Unit.MILLINEWTON_METRE, METRIC, "24 N·m"),
        (24_000, Unit.MILLINEWTON_METRE, US, "18 lbf·ft"),
        (-8000, Unit.MILLIDEGREE_CELSIUS, METRIC, "-8 °C"),
        (-8000, Unit.MILLIDEGREE_CELSIUS, US, "18 °F"),
        (12_600, Unit.MILLIVOLT, METRIC, "12.6 V"),
        (2500, Unit.MILLINEWTON, METRIC, "2.5 N"),
        (450, Unit.PERMILLE, METRIC, "45%"),
        (3, Unit.COUNT, METRIC, "3"),
        (1, Unit.MONTH, METRIC, "1 month"),
        (30, Unit.DAY, METRIC, "30 days"),
        (90_000, Unit.SECOND, METRIC, "25.0 h"),
        (2_500_000, Unit.MILLIGRAM, METRIC, "2.5 kg"),
        (2_500_000, Unit.MILLIGRAM, US, "5.5 lb"),
    ],
)
def test_figures_are_read_in_the_households_units(
    amount: int, unit: Unit, choice: UnitChoice, said: str
):
    assert figure(amount, unit, choice) == said


def test_the_plain_gallon_is_whose_it_is():
    assert figure(3_785_412, Unit.MICROLITRE, US, "en_US") == "1 gal"
    imperial = UnitChoice(volume=Unit.IMPERIAL_GALLON)
    assert figure(4_546_090, Unit.MICROLITRE, imperial, "en_US") == "1 imp gal"


def test_days_are_written_as_the_country_writes_them():
    british, american = Tongue("en_GB"), Tongue("en_US")
    assert british.day(DAY) == "12 Dec 2026"
    assert american.day(DAY) == "Dec 12, 2026"
    assert british.day_long(DAY) == "Sat 12 Dec 2026"
    assert american.day_long(DAY) == "Sat, Dec 12, 2026"
    assert british.day_short(DAY) == "12 Dec"
    assert american.day_short(DAY) == "Dec 12"
    assert british.month(DAY) == "December 2026"
    assert british.day_long(DAY, on=DAY - timedelta(days=21)) == "in 3 weeks, Sat 12 Dec 2026"


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (0, "today"),
        (1, "tomorrow"),
        (-1, "yesterday"),
        (2, "in 2 days"),
        (13, "in 13 days"),
        (14, "in 2 weeks"),
        (-21, "3 weeks ago"),
        (69, "in 10 weeks"),
        (70, "in 2 months"),
        (365, "in 12 months"),
        (-730, "2 years ago"),
    ],
)
def test_how_far_off_a_day_is(days: int, said: str):
    assert Tongue().distance(DAY + timedelta(days=days), on=DAY) == said


def test_times_and_counts():
    said = Tongue()
    assert said.minutes(0) == f"0{NBSP}min"
    assert said.minutes(55) == f"55{NBSP}min"
    assert said.minutes(60) == f"1{NBSP}h"
    assert said.minutes(100) == f"1{NBSP}h{NBSP}40{NBSP}min"
    assert said.run_time(Fraction(51_100), estimated=True) == f"about 14.2{NBSP}h"
    assert said.run_time(Fraction(180)) == f"0.1{NBSP}h"
    assert said.run_time(Fraction(0)) == f"0.0{NBSP}h"
    assert said.run_time(None) == "not known"
    assert said.uses(1) == "1 use"
    assert said.uses(12) == "12 uses"
    assert said.percent(Fraction(1, 3)) == "33%"
    assert said.money(123_456, "GBP") == "£1,234.56"
    assert said.listed([]) == ""
    assert said.listed(["a"]) == "a"
    assert said.listed(["a", "b", "c"]) == "a, b and c"


def limit(direction: Direction, low: int | None, high: int | None) -> LimitFacts:
    return LimitFacts(
        code=LimitCode("L00"),
        name="gap",
        how="",
        direction=direction,
        unit=Unit.MICROMETRE,
        low=low,
        high=high,
        event="it is cracked",
    )


@pytest.mark.parametrize(
    ("direction", "low", "high", "said"),
    [
        (Direction.AT_MOST, None, 6000, "6 mm or more"),
        (Direction.AT_LEAST, 1600, None, "1.6 mm or less"),
        (Direction.BETWEEN, 700, 800, "below 0.7 mm or above 0.8 mm"),
        (Direction.EVENT, None, None, "it is cracked"),
        (Direction.AT_LEAST, None, None, "no limit set; your manual may have one"),
    ],
)
def test_where_a_measurement_means_work(
    direction: Direction, low: int | None, high: int | None, said: str
):
    wording = Wording("en_GB", METRIC, load_catalogue())
    found = wording.worn_when(limit(direction, low, high))
    assert found.replace(NBSP, " ") == said


@pytest.mark.parametrize(
    ("basis", "said"),
    [
        (HoursBasis.METER, "14.2 h (read off)"),
        (HoursBasis.ESTIMATED, "about 14.2 h"),
        (HoursBasis.SINCE_IT_CAME, "about 14.2 h (counted since it came)"),
    ],
)
def test_hours_of_today_say_what_they_rest_on(basis: HoursBasis, said: str):
    wording = Wording("en_GB", METRIC, load_catalogue())
    now = HoursNow(seconds=Fraction(51_100), basis=basis)
    assert wording.hours_now(now).replace(NBSP, " ") == said
    assert wording.hours_now(HoursNow(seconds=None, basis=HoursBasis.NONE)) == "not known"


@pytest.mark.parametrize(
    ("name", "language"),
    [
        ("en_US.UTF-8", "en_US"),
        ("en_US", "en_US"),
        ("en-US", "en_US"),
        ("English_United States.1252", "en_US"),
        ("English_United Kingdom.1252", "en_GB"),
        ("en_GB.UTF-8", "en_GB"),
        ("en_AU", "en_GB"),
        ("C.UTF-8", "en_GB"),
        ("de_DE", "en_GB"),
        (None, "en_GB"),
        ("", "en_GB"),
    ],
)
def test_the_language_of_a_locale(name: str | None, language: str):
    assert language_of(name) == language


def test_a_language_that_is_not_shipped_is_refused():
    with pytest.raises(ValueError, match="fr_FR"):
        Tongue("fr_FR")
