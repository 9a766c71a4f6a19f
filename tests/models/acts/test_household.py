"""Settings: each field, each refusal, and nothing for nothing."""

from dataclasses import replace
from fractions import Fraction

import pytest

from models.acts.household import ChangeSettings
from models.errors import RefusedCode
from models.facts.settings import HouseholdSettings, read_settings
from models.words import Language, Paper
from schedules.facts import Policy
from schedules.units import Dimension, Unit, UnitSystem
from tests.models.acts.shed import LONG, Shed


def settings(shed: Shed) -> HouseholdSettings:
    with shed.household.read() as session:
        return read_settings(session)


def test_every_setting_comes_back(bare: Shed):
    policy = Policy(lead_days=21, carry=Fraction(1, 2), horizon_years=5)
    bare.run(
        ChangeSettings(
            name="The other shed 🦌",
            language=Language.AMERICAN,
            paper=Paper.LETTER,
            unit_system=UnitSystem.US,
            units=((Dimension.LENGTH, Unit.MILLIMETRE),),
            currency="USD",
            person="Ada",
            rate_cents=2_500,
            policy=policy,
        )
    )
    assert settings(bare) == HouseholdSettings(
        name="The other shed 🦌",
        language=Language.AMERICAN,
        paper=Paper.LETTER,
        unit_system=UnitSystem.US,
        units=((Dimension.LENGTH, Unit.MILLIMETRE),),
        currency="USD",
        person="Ada",
        rate_cents=2_500,
        policy=policy,
    )


def test_what_is_not_given_stays_and_none_forgets(bare: Shed):
    bare.run(ChangeSettings(rate_cents=100, person="Ada"))
    before = settings(bare)
    bare.run(ChangeSettings(rate_cents=None))
    assert settings(bare) == replace(before, rate_cents=None)
    bare.run(ChangeSettings(policy=Policy(gap_days=30)))
    bare.run(ChangeSettings(policy=Policy()))
    assert settings(bare).policy == Policy()


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (ChangeSettings(), RefusedCode.NOTHING_CHANGED),
        (ChangeSettings(name=" \t "), RefusedCode.NOTHING_GIVEN),
        (ChangeSettings(name=LONG), RefusedCode.TOO_LONG),
        (ChangeSettings(name="a\x00b"), RefusedCode.NOT_PLAIN_TEXT),
        (ChangeSettings(name="two\nlines"), RefusedCode.NOT_PLAIN_TEXT),
        (ChangeSettings(person="\x1b[31m"), RefusedCode.NOT_PLAIN_TEXT),
        (ChangeSettings(currency="pounds"), RefusedCode.UNKNOWN_CODE),
        (ChangeSettings(currency="gbp"), RefusedCode.UNKNOWN_CODE),
        (ChangeSettings(rate_cents=-1), RefusedCode.OUT_OF_RANGE),
        (ChangeSettings(units=((Dimension.LENGTH, Unit.LITRE),)), RefusedCode.UNKNOWN_CODE),
        (ChangeSettings(units=((Dimension.MASS, Unit.GRAM),) * 2), RefusedCode.UNKNOWN_CODE),
        (ChangeSettings(policy=Policy(gap_days=-1)), RefusedCode.OUT_OF_RANGE),
        (ChangeSettings(policy=Policy(carry=Fraction(11, 10))), RefusedCode.OUT_OF_RANGE),
        (ChangeSettings(policy=Policy(horizon_years=0)), RefusedCode.OUT_OF_RANGE),
        (ChangeSettings(policy=Policy(carry_minutes=10_000)), RefusedCode.OUT_OF_RANGE),
    ],
)
def test_what_makes_no_sense_is_refused(standing: Shed, act: ChangeSettings, code: RefusedCode):
    standing.refuses(act, code)
