"""A machine that does not run, as the engine weighs it: causes and cures of its fault model as
what may be wrong and what may be tried. No window."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from schedules.appraisal import Look, Offer, RescueStep, Wreck, judge_offer
from schedules.fault_facts import (
    BLANK,
    NONE_OF_THESE,
    Cause,
    CauseId,
    CostClass,
    FaultModel,
    FaultTest,
    Question,
    Reading,
)
from schedules.fault_odds import likely
from schedules.fault_state import FaultState, noticed

# Cents of a cost class, our judgement; the classes are bounds, these lie in their middle.
CLASS_CENTS: Mapping[CostClass, int] = {
    CostClass.NONE: 0,
    CostClass.SMALL: 1000,
    CostClass.PART: 4000,
    CostClass.WORKSHOP: 15000,
}
# Repairs that are weighed against one another; the unlikely rest counts as none of these.
REPAIRS = 6
LOOKS = 5
LONGEST_LOOK = 3
SHARE_PLACES = 1000
# What a look in front of the seller costs is left out of the sum: it is his drive and minutes.
FREE = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """What is said about a deal, in cents. `low` and `high`: what it brings when it runs."""

    asked: int = 0
    low: int = 0
    high: int = 0
    hour: int = 0
    fetching: int = 0
    as_it_stands: int = 0

    @property
    def running(self) -> Fraction:
        """The middle of what it brings when it runs."""
        return Fraction(self.low + self.high, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Appraised:
    """The engine's offers at the middle, the low and the high value; minutes and cents of parts
    on the way it would go."""

    offer: Offer
    low: Offer
    high: Offer
    minutes: int
    cents: int


def looks_of(model: FaultModel) -> tuple[Question | FaultTest, ...]:
    """Five looks that need no tool, no opening and hardly a minute, in the model's order."""
    quick = [
        test
        for test in model.tests
        if test.opening is None
        and test.minutes <= LONGEST_LOOK
        and not test.tools
        and not (test.after or test.only_if)
    ]
    return (*model.questions, *quick)[:LOOKS]


def wreck_of(
    model: FaultModel,
    state: FaultState,
    asking: Asking,
    running: Fraction,
    *,
    repairs: int = REPAIRS,
) -> Wreck:
    """Causes by their odds of now, each with its default cure; what is left is none of these."""
    suspects = [one for one in likely(model, state) if one.cause.cause_id != NONE_OF_THESE]
    kept = suspects[:repairs]
    chances = {
        str(one.cause.cause_id): Fraction(round(one.odds * SHARE_PLACES), SHARE_PLACES)
        for one in kept
    }
    chances[str(NONE_OF_THESE)] = 1 - sum(chances.values(), Fraction())
    return Wreck(
        chances=chances,
        running_cents=running,
        stop_cents=(Fraction(asking.as_it_stands),),
        steps=tuple(_step(model, one.cause) for one in kept),
        hour_cents=Fraction(asking.hour),
    )


def _step(model: FaultModel, cause: Cause) -> RescueStep:
    cure = cause.cures[0]
    opening = 0.0 if cause.opening is None else model.openings[cause.opening]
    works = Fraction(round(cure.works * SHARE_PLACES), SHARE_PLACES)
    return RescueStep(
        code=str(cause.cause_id),
        cents=Fraction(CLASS_CENTS[cure.cost]),
        minutes=round(cure.minutes + opening),
        cures={str(cause.cause_id): works},
    )


def _look(reading: Reading, wreck: Wreck) -> Look:
    rows = {
        code: tuple(
            Fraction(round(share * SHARE_PLACES), SHARE_PLACES)
            for share in reading.rows[CauseId(code)]
        )
        for code in wreck.chances
    }
    return Look(
        code=str(reading.reading_id),
        cost=FREE,
        outcomes=tuple(str(one.outcome_id) for one in reading.outcomes),
        rows={code: (*row[:-1], 1 - sum(row[:-1], Fraction())) for code, row in rows.items()},
    )


def appraise(
    model: FaultModel, state: FaultState, asking: Asking, *, with_looks: bool = True
) -> Appraised:
    """What to pay at most and where to stop, at the middle and at both ends of its value.

    `with_looks`: which look is worth doing first, too; that takes several times as long.
    """

    def offer(running: Fraction, *, looks: bool) -> Offer:
        wreck = wreck_of(model, state, asking, running)
        open_looks = [
            _look(one, wreck)
            for one in looks_of(model)
            if looks and state.outcome(one.reading_id) is None
        ]
        return judge_offer(
            wreck,
            asked=Fraction(asking.asked),
            fetching=Fraction(asking.fetching),
            looks=open_looks,
        )

    middle = offer(asking.running, looks=with_looks)
    steps = {step.code: step for step in wreck_of(model, state, asking, asking.running).steps}
    order = [steps[code] for code in middle.rescue.order]
    return Appraised(
        offer=middle,
        low=offer(Fraction(asking.low), looks=False),
        high=offer(Fraction(asking.high), looks=False),
        minutes=sum(step.minutes for step in order),
        cents=int(sum((step.cents for step in order), Fraction())),
    )


# Such a machine, when it runs, brings so much in the middle: cents, our judgement. Shares of the
# price are told out of it while nobody has said what this one brings.
ORDINARY_CENTS = 20_000
# Repairs that are weighed for a first glance, which has to be quick.
AT_A_GLANCE = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """What is still open about a machine of which nothing is said: the share of its running price
    to pay at most now, and the least and the most after one look more. `looks`: each with its own
    least and most, the one that changes most first."""

    now: Fraction
    looks: tuple[tuple[Reading, Fraction, Fraction], ...]

    @property
    def least(self) -> Fraction:
        """The worst that one look can bring."""
        return min((low for _, low, _ in self.looks), default=self.now)

    @property
    def most(self) -> Fraction:
        """The best that one look can bring."""
        return max((high for _, _, high in self.looks), default=self.now)


def still_open(model: FaultModel, state: FaultState) -> Open:
    """The range of the answer, and what would change it."""

    def share(after: FaultState) -> Fraction:
        running = Fraction(ORDINARY_CENTS)
        wreck = wreck_of(model, after, Asking(), running, repairs=AT_A_GLANCE)
        return max(Fraction(0), judge_offer(wreck, asked=Fraction(0)).most) / ORDINARY_CENTS

    found: list[tuple[Reading, Fraction, Fraction]] = []
    for look in looks_of(model):
        if state.outcome(look.reading_id) is not None:
            continue
        shares = [
            share(noticed(model, state, look.reading_id, one.outcome_id))
            for one in look.outcomes
            if one.outcome_id != BLANK
        ]
        found.append((look, min(shares), max(shares)))
    found.sort(key=lambda one: one[1] - one[2])
    return Open(now=share(state), looks=tuple(found))
