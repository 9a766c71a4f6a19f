"""Whether a machine that does not run is worth reviving, and what to pay for it at most.

A plan is an order of steps, each done once; after each one sees whether the machine runs, and may
stop. Money already spent never counts. Amounts are exact: cents as fractions, chances as
fractions. Every order is tried, by way of which steps are done (at most `MOST_STEPS`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

MOST_STEPS = 10
HOUR_MINUTES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class RescueStep:
    """A repair that may be tried: its money in cents, its minutes, and the share of each cause
    that it cures."""

    code: str
    cents: Fraction
    minutes: int
    cures: Mapping[str, Fraction]

    def cost(self, hour_cents: Fraction) -> Fraction:
        """Cents, with the time at what an hour is worth."""
        return self.cents + hour_cents * self.minutes / HOUR_MINUTES


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A look before anything is decided: chance of each outcome given each cause."""

    code: str
    cost: Fraction
    outcomes: tuple[str, ...]
    rows: Mapping[str, tuple[Fraction, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wreck:
    """What is known of it. `chances` of the causes sum to one. `stop_cents[k]`: the best it brings
    when given up after k steps (as it is, in parts, as scrap); the last one holds for all later.
    """

    chances: Mapping[str, Fraction]
    running_cents: Fraction
    stop_cents: tuple[Fraction, ...]
    steps: tuple[RescueStep, ...]
    hour_cents: Fraction = Fraction(0)

    def stop_after(self, done: int) -> Fraction:
        """What it brings when given up after so many steps."""
        return self.stop_cents[min(done, len(self.stop_cents) - 1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One way it may end: after how many steps, running or given up, with what left in cents."""

    chance: Fraction
    steps: int
    running: bool
    net_cents: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescue:
    """The best plan: its worth, its steps in order, the chance that it runs in the end, what the
    steps cost on average and at most, and every way it may end."""

    worth: Fraction
    stop_now: Fraction
    order: tuple[str, ...]
    runs: Fraction
    mean_cost: Fraction
    most_cost: Fraction
    outcomes: tuple[Outcome, ...]

    @property
    def worth_trying(self) -> bool:
        """Whether any step is better than giving it up at once."""
        return bool(self.order)


class Choice(StrEnum):
    """What to do with a machine that is offered."""

    TAKE = "take"
    PASS = "pass"  # noqa: S105  (passed by, not a password)
    PART_OUT = "part_out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """`most` cents to pay, fetching already taken off; what to do at the price asked; the look
    that is worth doing first, and what it is worth above its cost."""

    most: Fraction
    choice: Choice
    gain: Fraction
    rescue: Rescue
    look: str | None = None
    look_worth: Fraction = Fraction(0)


class _Plans:
    """The worth of every set of steps done without success, worked backwards."""

    def __init__(self, wreck: Wreck) -> None:
        if len(wreck.steps) > MOST_STEPS:
            raise ValueError(f"more than {MOST_STEPS} steps")
        self.wreck = wreck
        self.costs = [step.cost(wreck.hour_cents) for step in wreck.steps]
        self._best: dict[tuple[int, tuple[Fraction, ...]], tuple[Fraction, int | None]] = {}

    def left(self, chances: Mapping[str, Fraction], done: int) -> dict[str, Fraction]:
        """Weights of the causes that the steps done would not have cured."""
        return {
            cause: chance * self._missed(cause, done) for cause, chance in chances.items() if chance
        }

    def _missed(self, cause: str, done: int) -> Fraction:
        share = Fraction(1)
        for place, step in enumerate(self.wreck.steps):
            if done >> place & 1:
                share *= 1 - step.cures.get(cause, Fraction(0))
        return share

    def best(self, chances: Mapping[str, Fraction], done: int = 0) -> tuple[Fraction, int | None]:
        """Worth from here on, and the step to do next (None: give it up)."""
        key = (done, tuple(chances.values()))
        known = self._best.get(key)
        if known is not None:
            return known
        worth, chosen = self.wreck.stop_after(done.bit_count()), None
        weights = self.left(chances, done)
        whole = sum(weights.values(), Fraction())
        for place, step in enumerate(self.wreck.steps):
            if done >> place & 1 or not whole:
                continue
            cured = sum(
                (weight * step.cures.get(cause, Fraction(0)) for cause, weight in weights.items()),
                Fraction(),
            )
            share = cured / whole
            if not share:
                continue
            then, _ = self.best(chances, done | 1 << place)
            value = share * self.wreck.running_cents + (1 - share) * then - self.costs[place]
            if value > worth:
                worth, chosen = value, place
        self._best[key] = (worth, chosen)
        return worth, chosen


def best_rescue(wreck: Wreck) -> Rescue:
    """The plan of the greatest worth. Raises ValueError beyond `MOST_STEPS` steps."""
    plans = _Plans(wreck)
    return _told(plans, wreck.chances)


def _told(plans: _Plans, chances: Mapping[str, Fraction]) -> Rescue:
    wreck = plans.wreck
    worth, step = plans.best(chances)
    order: list[str] = []
    outcomes: list[Outcome] = []
    done, still, spent, mean = 0, Fraction(1), Fraction(), Fraction()
    while step is not None:
        order.append(wreck.steps[step].code)
        spent += plans.costs[step]
        mean += still * plans.costs[step]
        done |= 1 << step
        after = sum(plans.left(chances, done).values(), Fraction())
        outcomes.append(
            Outcome(
                chance=still - after,
                steps=len(order),
                running=True,
                net_cents=wreck.running_cents - spent,
            )
        )
        still = after
        _, step = plans.best(chances, done)
    given_up = wreck.stop_after(len(order)) - spent
    outcomes.append(Outcome(chance=still, steps=len(order), running=False, net_cents=given_up))
    return Rescue(
        worth=worth,
        stop_now=wreck.stop_after(0),
        order=tuple(order),
        runs=1 - still,
        mean_cost=mean,
        most_cost=spent,
        outcomes=tuple(one for one in outcomes if one.chance),
    )


def look_worth(wreck: Wreck, look: Look, *, price: Fraction | None = None) -> Fraction:
    """What a look is worth, its cost not taken off: never below nought.

    With a `price` (asked for it, fetching included) one may also walk away afterwards.
    """
    plans = _Plans(wreck)
    before = _kept(plans.best(wreck.chances)[0], price)
    after = Fraction()
    for place in range(len(look.outcomes)):
        weights = {
            cause: chance * look.rows[cause][place] for cause, chance in wreck.chances.items()
        }
        seen = sum(weights.values(), Fraction())
        if seen:
            chances = {cause: weight / seen for cause, weight in weights.items()}
            after += seen * _kept(plans.best(chances)[0], price)
    return after - before


def _kept(worth: Fraction, price: Fraction | None) -> Fraction:
    return worth if price is None else max(Fraction(0), worth - price)


def judge_offer(
    wreck: Wreck,
    *,
    asked: Fraction,
    fetching: Fraction = Fraction(0),
    looks: Sequence[Look] = (),
) -> Offer:
    """What to pay at most, and what to do at the price asked. Cents."""
    rescue = best_rescue(wreck)
    most = rescue.worth - fetching
    gain = most - asked
    choice = Choice.PASS
    if gain > 0:
        choice = Choice.TAKE if rescue.worth_trying else Choice.PART_OUT
    price = asked + fetching
    valued = [(look_worth(wreck, look, price=price) - look.cost, look.code) for look in looks]
    best = max(valued, key=lambda one: one[0], default=None)
    if best is None or best[0] <= 0:
        return Offer(most=most, choice=choice, gain=gain, rescue=rescue)
    return Offer(
        most=most, choice=choice, gain=gain, rescue=rescue, look=best[1], look_worth=best[0]
    )


def running_value(new_cents: int, age_years: int, condition: Fraction = Fraction(1)) -> Fraction:
    """What such a machine brings when it runs, as a share of its price new (our judgement).

    0.69 of new after the first year, 7 per cent less each year after, never under 0.08, times its
    condition. One's own sales are the better figure.
    """
    if age_years < 1:
        return Fraction(new_cents) * condition
    share = Fraction(69, 100) * Fraction(93, 100) ** (age_years - 1)
    return Fraction(new_cents) * max(Fraction(8, 100), share) * condition
