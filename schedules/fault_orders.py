"""Orders of looking at causes one after the other, each with its chance and its minutes.

The cheapest order is by chance over minutes, falling (Kadane and Simon 1977; the same as Smith's
rule of 1956 for weighted jobs on one machine). It holds while the last cause is looked at, too.
"""

from __future__ import annotations

from collections.abc import Sequence


def order_cost(
    chances: Sequence[float],
    minutes: Sequence[float],
    order: Sequence[int],
    repairs: Sequence[float] | None = None,
) -> float:
    """Expected minutes of an order: each step costs its minutes while nothing before it cured.

    `chances` are shares of 1 that a step cures (odds, or odds times the share that works);
    `repairs` are minutes paid only when it does. Raises ValueError when the lengths differ.
    """
    if len(chances) != len(minutes):
        raise ValueError(f"{len(chances)} chances for {len(minutes)} times")
    left = 1.0
    cost = 0.0
    for step in order:
        cost += left * minutes[step]
        if repairs is not None:
            cost += chances[step] * repairs[step]
        left -= chances[step]
    return cost


def cheapest_order(chances: Sequence[float], minutes: Sequence[float]) -> tuple[int, ...]:
    """The order of least expected minutes, ties by place. Law: no order costs less."""
    return tuple(sorted(range(len(chances)), key=lambda one: (-chances[one] / minutes[one], one)))


def cheapest_with_call(
    chances: Sequence[float], minutes: Sequence[float], call: float
) -> tuple[tuple[int, ...], float]:
    """The steps to take before calling for help that costs `call` and always cures, and the
    expected minutes of that; every prefix of the cheapest order is tried."""
    order = cheapest_order(chances, minutes)
    left, cost = 1.0, 0.0
    best = 0, call
    for number, step in enumerate(order, start=1):
        cost += left * minutes[step]
        left -= chances[step]
        whole = cost + max(left, 0.0) * call
        if whole < best[1]:
            best = number, whole
    return order[: best[0]], best[1]
