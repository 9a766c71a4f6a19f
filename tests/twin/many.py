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


def look_at(number: int, *, alike: bool, made_small: bool) -> Found | None:
    """Compare one machine; a difference comes back with the machine, made small if asked."""
    chance = random.Random(number)
    facts, on, limits = random_machine(chance, alike=alike)
    policy = random_policy(chance)
    first = differences(facts, on, limits, policy)
    if not first:
        return None

    def still(smaller: MachineFacts) -> bool:
        if not smaller.items[0].tasks or not may_stand(smaller):
            return False
        return any(x.what == first[0].what for x in differences(smaller, on, limits, policy))

    small = smallest(facts, still) if made_small and may_stand(facts) else facts
    lines = tuple(str(x) for x in differences(small, on, limits, policy))
    return Found(number, lines, f"on={pasted(on)}, policy={pasted(policy)}, facts={pasted(small)}")


def look_at_batch(asked: tuple[list[int], bool]) -> list[Found]:
    """The machines of a batch that differ, the first of them made small."""
    numbers, alike = asked
    found: list[Found] = []
    for number in numbers:
        one = look_at(number, alike=alike, made_small=not found)
        if one is not None:
            found.append(one)
    return found
