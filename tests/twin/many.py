"""Many machines one after another, for a process of its own."""

from __future__ import annotations

import random
from dataclasses import dataclass

from schedules.facts import MachineFacts
from tests.twin.compare import differences, may_stand
from tests.twin.machines import random_machine, random_policy
from tests.twin.pasted import pasted
from tests.twin.smaller import smallest


@dataclass(frozen=True)
class Found:
    """A machine on which the two differ: which one, how, and how it can be made again."""

    number: int
    lines: tuple[str, ...]
    text: str


def look_at(number: int) -> Found | None:
    """Compare one machine; a difference comes back with the machine made small."""
    chance = random.Random(number)
    facts, on, limits = random_machine(chance, alike=True)
    policy = random_policy(chance)
    first = differences(facts, on, limits, policy)
    if not first:
        return None

    def still(smaller: MachineFacts) -> bool:
        if not smaller.items[0].tasks or not may_stand(smaller):
            return False
        return any(x.what == first[0].what for x in differences(smaller, on, limits, policy))

    small = smallest(facts, still) if may_stand(facts) else facts
    lines = tuple(str(x) for x in differences(small, on, limits, policy))
    return Found(number, lines, f"on={pasted(on)}, policy={pasted(policy)}, facts={pasted(small)}")


def look_at_batch(numbers: list[int]) -> list[Found]:
    return [found for number in numbers if (found := look_at(number)) is not None]
