"""Worth it? A worked rescue, every order enumerated; the laws of the value of a look.

The example: a single-stage thrower that does not start, an hour at 15 a piece of money. The
figures are worked out by trying all 1,957 orders in `by_every_order`, apart from the program.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schedules.appraisal import (
    Choice,
    Look,
    RescueStep,
    Wreck,
    best_rescue,
    judge_offer,
    look_worth,
    running_value,
)

F = Fraction
CHANCES = {"fuel": F("0.70"), "spark": F("0.12"), "air": F("0.08"), "worn": F("0.10")}


def step(code: str, money: int, hours: str, **cures: str) -> RescueStep:
    return RescueStep(
        code=code,
        cents=F(money * 100),
        minutes=int(F(hours) * 60),
        cures={cause: F(share) for cause, share in cures.items()},
    )


STEPS = (
    step("A", 20, "1.5", fuel="0.85", spark="0.30"),
    step("B", 30, "0.75", fuel="0.95"),
    step("G", 15, "1", air="0.80"),
    step("D", 35, "1", spark="0.85"),
    step("E", 180, "4", fuel="0.90", spark="0.90", air="0.90", worn="0.95"),
)


def wreck(running: int = 250, hour: int = 15, steps: tuple[RescueStep, ...] = STEPS) -> Wreck:
    return Wreck(
        chances=CHANCES,
        running_cents=F(running * 100),
        stop_cents=(F(4500), F(4000), F(3500)),
        steps=steps,
        hour_cents=F(hour * 100),
    )


def by_every_order(found: Wreck) -> Fraction:
    """The best worth of any order, stopped at the best place: forwards, one order at a time."""
    best = found.stop_after(0)
    for count in range(1, len(found.steps) + 1):
        for order in permutations(found.steps, count):
            left = dict(found.chances)
            worth = F(0)
            for one in order:
                worth -= sum(left.values()) * one.cost(found.hour_cents)
                cured = {c: p * one.cures.get(c, F(0)) for c, p in left.items()}
                worth += sum(cured.values()) * found.running_cents
                left = {c: p - cured[c] for c, p in left.items()}
            best = max(best, worth + sum(left.values()) * found.stop_after(count))
    return best


def test_the_worked_rescue() -> None:
    """Worked by enumeration: B, G, D, A and stop: 149.18975; runs .8661; steps 72.0325 on average,
    163.75 at most."""
    found = best_rescue(wreck())
    assert found.order == ("B", "G", "D", "A")
    assert found.worth / 100 == F("149.18975")
    assert round(float(found.runs), 4) == 0.8661
    assert found.mean_cost / 100 == F("72.0325")
    assert found.most_cost / 100 == F("163.75")
    assert sum(one.chance for one in found.outcomes) == 1
    assert sum(one.chance * one.net_cents for one in found.outcomes) == found.worth


@pytest.mark.parametrize(
    ("order", "worth"),
    [
        ("", 45),
        ("A", 130.01),
        ("B", 138.40),
        ("AB", 134.39),
        ("BDG", 148.675),
        ("E", -9.95),
        ("BGDAE", 144.0407),
    ],
)
def test_the_other_plans_of_the_worked_rescue(order: str, worth: float) -> None:
    found = replace(wreck(), steps=tuple(one for one in wreck().steps if one.code in order))
    left, total = dict(found.chances), F(0)
    for code in order:
        one = next(step for step in found.steps if step.code == code)
        cured = {cause: p * one.cures.get(cause, F(0)) for cause, p in left.items()}
        total += sum(cured.values()) * found.running_cents
        total -= sum(left.values()) * one.cost(found.hour_cents)
        left = {cause: p - cured[cause] for cause, p in left.items()}
    total += sum(left.values()) * found.stop_after(len(order))
    assert float(total) / 100 == pytest.approx(worth, abs=6e-3)
    assert best_rescue(found).worth >= total


def test_low_pressure_points_at_a_worn_engine_and_stops_at_once() -> None:
    found = wreck()
    low = {cause: p * PRESSURE.rows[cause][0] for cause, p in found.chances.items()}
    after = {cause: p / sum(low.values()) for cause, p in low.items()}
    assert float(sum(low.values())) == pytest.approx(0.126, abs=1e-6)
    assert float(after["worn"]) == pytest.approx(0.7143, abs=5e-5)
    assert best_rescue(replace(found, chances=after)).order == ()


@pytest.mark.parametrize(
    ("hour", "order", "worth"),
    [
        (0, "AGBDE", "182.2355"),
        (10, "BGDA", "157.2372"),
        (20, "BDG", "142.085"),
        (40, "B", "119.65"),
    ],
)
def test_what_an_hour_is_worth_changes_the_plan(hour: int, order: str, worth: str) -> None:
    found = best_rescue(wreck(hour=hour))
    assert "".join(found.order) == order
    assert float(found.worth) / 100 == pytest.approx(float(worth), abs=1e-4)


def test_a_cheap_machine_is_left_alone() -> None:
    assert best_rescue(wreck(running=100)).order == ()
    modest = best_rescue(wreck(running=150))
    assert (modest.order, round(float(modest.worth) / 100, 2)) == (("B",), 71.90)


def test_another_engine_pays_only_above_a_certain_value() -> None:
    """It enters above 291.04; the rule of half the new price would have it at 250."""
    assert "E" not in best_rescue(wreck(running=291)).order
    assert "E" in best_rescue(wreck(running=292)).order


def look(code: str, cost: str, outcomes: tuple[str, ...], **rows: str) -> Look:
    return Look(
        code=code,
        cost=F(cost) * 100,
        outcomes=outcomes,
        rows={cause: (F(share), 1 - F(share)) for cause, share in rows.items()},
    )


SPARK = look("spark", "1.25", ("none", "good"), fuel="0.01", spark="0.80", air="0.01", worn="0.01")
PRESSURE = look(
    "pressure", "2.50", ("low", "good"), fuel="0.04", spark="0.04", air="0.04", worn="0.90"
)
PRIME = look("prime", "2.00", ("fires", "no"), fuel="0.90", spark="0.05", air="0.40", worn="0.15")


@pytest.mark.parametrize(("one", "worth"), [(SPARK, 10.9784), (PRESSURE, 10.7749), (PRIME, 6.7732)])
def test_what_each_look_is_worth(one: Look, worth: float) -> None:
    assert float(look_worth(wreck(), one)) / 100 == pytest.approx(worth, abs=1e-4)


def test_the_offer() -> None:
    """Fetching 20: pay no more than 129.18975; at 60 take it, at 140 leave it. As one may walk
    away, the look that tells a worn engine is worth most beforehand."""
    looks = (SPARK, PRESSURE, PRIME)
    cheap = judge_offer(wreck(), asked=F(6000), fetching=F(2000), looks=looks)
    assert cheap.most / 100 == F("129.18975")
    assert (cheap.choice, cheap.look) == (Choice.TAKE, "pressure")
    dear = judge_offer(wreck(), asked=F(14000), fetching=F(2000))
    assert (dear.choice, dear.gain < 0) == (Choice.PASS, True)
    scrap = judge_offer(wreck(running=100), asked=F(1000))
    assert scrap.choice is Choice.PART_OUT


shares = st.integers(0, 20).map(lambda n: F(n, 20))
causes = ("a", "b", "c")


@st.composite
def wrecks(draw: st.DrawFn) -> Wreck:
    weights = draw(st.tuples(*(st.integers(1, 9) for _ in causes)))
    steps = tuple(
        RescueStep(
            code=f"s{n}",
            cents=F(draw(st.integers(100, 9000))),
            minutes=draw(st.integers(0, 240)),
            cures={cause: draw(shares) for cause in causes},
        )
        for n in range(draw(st.integers(1, 4)))
    )
    return Wreck(
        chances={c: F(w, sum(weights)) for c, w in zip(causes, weights, strict=True)},
        running_cents=F(draw(st.integers(0, 40000))),
        stop_cents=(F(draw(st.integers(0, 5000))),),
        steps=steps,
        hour_cents=F(draw(st.integers(0, 4000))),
    )


@st.composite
def looks_at(draw: st.DrawFn) -> Look:
    rows: Mapping[str, tuple[Fraction, ...]] = {
        c: (share := draw(shares), 1 - share) for c in causes
    }
    return Look(code="look", cost=F(0), outcomes=("yes", "no"), rows=rows)


@given(wrecks())
def test_no_order_is_better(found: Wreck) -> None:
    assert best_rescue(found).worth == by_every_order(found)


@given(wrecks(), looks_at(), st.one_of(st.none(), st.integers(0, 30000).map(F)))
def test_a_look_is_never_worth_less_than_nothing(
    found: Wreck, one: Look, price: Fraction | None
) -> None:
    assert look_worth(found, one, price=price) >= 0


@given(wrecks(), st.integers(1, 10000))
def test_a_machine_worth_more_is_never_worth_less_to_revive(found: Wreck, more: int) -> None:
    dearer = Wreck(
        chances=found.chances,
        running_cents=found.running_cents + more,
        stop_cents=found.stop_cents,
        steps=found.steps,
        hour_cents=found.hour_cents,
    )
    assert best_rescue(dearer).worth >= best_rescue(found).worth


@given(wrecks())
def test_stopping_now_is_always_open(found: Wreck) -> None:
    told = best_rescue(found)
    assert told.worth >= told.stop_now
    assert 0 <= told.runs <= 1


@pytest.mark.parametrize(("age", "share"), [(1, 0.69), (5, 0.516), (10, 0.359), (20, 0.174)])
def test_running_value(age: int, share: float) -> None:
    assert round(float(running_value(1000, age)) / 1000, 3) == share
