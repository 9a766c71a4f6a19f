"""How long parts lasted here and how fast they wore: counted, spread, and honest with one or two.

Worked by hand. The machine of tests/schedules/test_series.py: ten days to an hour of work.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from app.wording.units import METRIC
from app.wording.wear import lives_said
from app.wording.wording import Wording
from resources.loader import load_catalogue
from schedules.facts import Doing, MachineFacts, Policy, TaskCode, WearRate
from schedules.lives import Life, lives_of, own_rate, pace_of
from schedules.plan import Judging, judge
from schedules.series import foresee
from schedules.wear import WearMethod
from tests.schedules.test_series import HOUR, PADDLE, day_at, machine, reading

T = TaskCode("T")
KNOWN = WearRate(rate=Fraction(60), deviation=Fraction(20), reading_error=Fraction(100))


def renewals(*hours: int) -> tuple[Doing, ...]:
    return tuple(Doing(code=T, day=day_at(one), replaced=True) for one in hours)


def judged(facts: MachineFacts) -> Judging:
    return judge(facts, on=day_at(80), policy=Policy(), limits={PADDLE.code: PADDLE})


def test_lives_go_from_renewal_to_renewal() -> None:
    """Renewed on day 400, 700 and 1,200 of one that came new: 400, 300 and 500 days."""
    totals = [Fraction(hours * HOUR) for hours in (0, 40, 66, 120)]
    found = lives_of([400, 700, 1_200], totals, began=0)
    assert found is not None
    assert found.count == 3
    assert found.least == Life(Fraction(26 * HOUR), 300)
    assert found.middle == Life(Fraction(40 * HOUR), 400)
    assert found.most == Life(Fraction(54 * HOUR), 500)


def test_what_was_fitted_when_it_came_used_has_no_life() -> None:
    assert lives_of([400], [Fraction(9)], began=None) is None
    assert lives_of([], [Fraction(0)], began=0) is None
    found = lives_of([400, 900], [Fraction(9), Fraction(30)], began=None)
    assert found is not None
    assert (found.count, found.most) == (1, Life(Fraction(21), 500))


def test_a_pace_needs_two_measurements_apart() -> None:
    assert pace_of([(Fraction(0), Fraction(20)), (Fraction(10), Fraction(15))]) == Fraction(1, 2)
    assert pace_of([(Fraction(0), Fraction(20))]) is None
    assert pace_of([(Fraction(3), Fraction(20)), (Fraction(3), Fraction(19))]) is None


def test_one_part_alone_moves_nothing() -> None:
    """It is shown as a hint; a day from it would be the old part's series under another name."""
    assert own_rate([Fraction(80)], KNOWN, span=Fraction(3_000)) is KNOWN
    assert own_rate([Fraction(80)], None, span=Fraction(3_000)) is None
    assert own_rate([], KNOWN, span=Fraction(1)) is KNOWN


def test_two_parts_speak_for_themselves_and_widely() -> None:
    """60 and 80: mean 70, sd 14.142, times sqrt(1.5) and t(.95; 1) = 6.3138 over 1.6449: 66.48.
    Three more of the same sort: much narrower. Two alike: a tenth at least."""
    two = own_rate([Fraction(60), Fraction(80)], KNOWN, span=Fraction(3_000))
    assert two is not None
    assert two.rate == 70
    assert float(two.deviation) == pytest.approx(66.48, abs=0.01)
    many = own_rate([Fraction(n) for n in (60, 80, 65, 75, 70)], KNOWN, span=Fraction(3_000))
    assert many is not None
    assert float(many.deviation) == pytest.approx(11.23, abs=0.01)
    alike = own_rate([Fraction(70)] * 3, None, span=Fraction(3_000))
    assert alike is not None
    assert alike.deviation == 7


def test_the_parts_before_carry_the_next_forecast_but_not_its_series() -> None:
    """Two paddles wore 100 and 100 um an hour; the third was measured once, at 20.0 mm on 60 h:
    3 mm at 100 an hour is 30 h more, at 100 + 1.6449 * 10 an hour 25.76 h."""
    series = [
        *(reading(0, 20_000), reading(20, 18_000), reading(30, 17_000)),
        *(reading(30, 20_000, after=True), reading(60, 17_000), reading(60, 20_000, after=True)),
    ]
    facts = machine(*series, doings=renewals(30, 60))
    judging = judged(facts)
    item = judging.once.home(T)
    found = foresee(
        item.readings,
        judging.task(T),
        PADDLE,
        renewed=judging.once.doings.renewed(T),
        timeline=item.timeline,
    )
    assert found is not None
    assert found.parts_before == 2
    assert len(found.readings) == 1
    assert found.outlook.method is WearMethod.KNOWN_RATE
    assert found.outlook.expected == pytest.approx(90)
    assert found.outlook.plan_by == pytest.approx(85.763, abs=1e-3)
    lived = judging.once.lives(T)
    assert lived is not None
    assert (lived.count, lived.least.days, lived.most.days) == (2, 300, 300)
    bare = judged(replace(facts, items=(replace(facts.items[0], doings=()),)))
    assert bare.once.lives(T) is None


@pytest.mark.parametrize(
    ("count", "said"),
    [
        (1, "The part before it lasted 40.0\u00a0h in 13 months. That was one only"),
        (2, "The two parts before it lasted 26.0\u00a0h and 40.0\u00a0h."),
        (3, "from 26.0\u00a0h to 54.0\u00a0h, in the middle 40.0\u00a0h in 13 months."),
    ],
)
def test_it_says_no_more_than_the_number_carries(count: int, said: str) -> None:
    totals = [Fraction(hours * HOUR) for hours in (0, 40, 66, 120)][: count + 1]
    found = lives_of([400, 700, 1_200][:count], totals, began=0)
    assert found is not None
    assert said in lives_said(Wording("en_GB", METRIC, load_catalogue()), found)
