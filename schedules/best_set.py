"""The best set of things to do within so many minutes, exactly, when going anywhere costs a start.

Places (machines) hold bundles; a bundle may need other bundles of its place; being at a place at
all costs `set_up` minutes; what lies on the shelf is there once for all of them. Best: the
greatest weight; then fewer minutes, fewer things, then the first list of things by their key.

Decision: a table over minutes, place after place, and within a place over its bundles with those
that later ones still need. Before it, places that cannot be part of a best set are left out: of
places alike only as many as could be visited, and none whose bound (by a price for each minute)
stays below what the most promising few reach by themselves. Both are exact. A greedy choice
alone is simpler, and wrong on most real lists.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Generator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from operator import add, gt
from typing import Any, Generic, Protocol, TypeVar


class Thing(Protocol):
    """What is chosen: it takes minutes and weighs something."""

    @property
    def minutes(self) -> int: ...
    @property
    def weight(self) -> int: ...


FEW = 48
STRIDE = 64

T = TypeVar("T", bound=Thing)
Found = TypeVar("Found")


@dataclass(frozen=True)
class Bundle(Generic[T]):
    """Things taken together or not at all. `needs`: places in the row of bundles before this one;
    `shape`: equal for bundles that differ only in where they are; `pieces`: what they take of each
    scarce part."""

    jobs: tuple[T, ...]
    needs: frozenset[int]
    shape: tuple[Any, ...]
    pieces: Pieces = ()

    @cached_property
    def minutes(self) -> int:
        return sum(job.minutes for job in self.jobs)

    @cached_property
    def weight(self) -> int:
        return sum(job.weight for job in self.jobs)


Choices = tuple[Bundle[T], ...]
# Weight, things spared, things as a number whose highest digit is the first: more is better.
_Worth = tuple[int, int, int]
# How many pieces of each scarce part are taken.
Pieces = tuple[int, ...]
_Table = dict[tuple[int, Pieces], _Worth]
_There = dict[tuple[int, Pieces, frozenset[int]], _Worth]


def drained(steps: Generator[None, None, Found]) -> Found:
    """What the steps come to."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return end.value


def best(
    places: Sequence[Choices[T]],
    *,
    minutes: int,
    set_up: int,
    key: Callable[[T], Any],
    shelf: Pieces = (),
) -> Generator[None, None, tuple[T, ...]]:
    """The best set, by key, in small steps. Places stand in the order that settles ties. `shelf`:
    how many pieces there are of each scarce part.

    Raises ValueError for negative minutes.
    """
    if minutes < 0 or set_up < 0:
        raise ValueError("minutes cannot be negative")
    left = yield from _not_too_many_alike(places, minutes, set_up)
    left = yield from _within_reach(left, minutes, set_up, shelf)
    order = sorted((job for place in left for bundle in place for job in bundle.jobs), key=key)
    digit = {job: 1 << (len(order) - number - 1) for number, job in enumerate(order)}
    table = _nothing_done(shelf)
    for place in left:
        _visit(table, place, digit, minutes, set_up, shelf)
        yield
    _, chosen = max(table.items(), key=lambda found: (found[1][0], -found[0][0], found[1][1:]))
    return tuple(job for job in order if digit[job] & chosen[2])


def _nothing_done(shelf: Pieces) -> _Table:
    return {(0, (0,) * len(shelf)): (0, 0, 0)}


def _visit(
    table: _Table,
    place: Choices[T],
    digit: Mapping[T, int],
    minutes: int,
    set_up: int,
    shelf: Pieces,
) -> None:
    """Add to the table (minutes and pieces used: the best worth) all that this place can give.

    Law: of two sets of equal minutes and pieces that leave the same needs open, the worthier stays
    the worthier whatever is added to both.
    """
    needed = [frozenset[int]()]  # from each bundle on: those a later one still needs
    for bundle in reversed(place):
        needed.append(needed[-1] | bundle.needs)
    needed.reverse()
    there: _There = {
        (used + set_up, pieces, frozenset()): worth
        for (used, pieces), worth in table.items()
        if used + set_up <= minutes
    }
    for number, bundle in enumerate(place):
        gain = (bundle.weight, -len(bundle.jobs), sum(digit[job] for job in bundle.jobs))
        takes = any(bundle.pieces)
        grown: _There = {}
        for (used, pieces, taken), worth in there.items():
            _keep(grown, (used, pieces, taken & needed[number + 1]), worth)
            if used + bundle.minutes <= minutes and bundle.needs <= taken:
                with_it = pieces
                if takes:
                    with_it = tuple(map(add, pieces, bundle.pieces))
                    if any(map(gt, with_it, shelf)):
                        continue
                more = (worth[0] + gain[0], worth[1] + gain[1], worth[2] + gain[2])
                left = (taken | {number}) & needed[number + 1]
                _keep(grown, (used + bundle.minutes, with_it, left), more)
        there = grown
    for (used, pieces, _), worth in there.items():
        if worth > table.get((used, pieces), (-1, 0, 0)):
            table[used, pieces] = worth
    if shelf:
        _thin(table)


def _thin(table: _Table) -> None:
    """Leave out what no best set begins with: another way weighs as much in less time, or more in
    no more, and takes no more pieces of anything."""
    most: dict[Pieces, tuple[int, _Worth]] = {}
    for state in sorted(table, key=lambda state: (state[0], sum(state[1]))):
        (used, pieces), worth = state, table[state]
        if any(
            (found[0] > worth[0] or (found[0] == worth[0] and (since < used or found >= worth)))
            and not any(map(gt, fewer, pieces))
            for fewer, (since, found) in most.items()
        ):
            del table[state]
        else:
            most[pieces] = (used, worth)


def _keep(table: _There, state: tuple[int, Pieces, frozenset[int]], worth: _Worth) -> None:
    if worth > table.get(state, (-1, 0, 0)):
        table[state] = worth


# -- what need not be looked at ---------------------------------------------------------------


def _not_too_many_alike(
    places: Sequence[Choices[T]], minutes: int, set_up: int
) -> Generator[None, None, list[Choices[T]]]:
    """Of places alike the first ones only: no more than could be visited in the time."""
    seen: Counter[tuple[Any, ...]] = Counter()
    kept: list[Choices[T]] = []
    for number, place in enumerate(places):
        if number % STRIDE == 0:
            yield
        if not place:
            continue
        shape = tuple((bundle.shape, bundle.needs, bundle.pieces) for bundle in place)
        least = set_up + min(bundle.minutes for bundle in place)
        seen[shape] += 1
        if not least or seen[shape] <= minutes // least:
            kept.append(place)
    return kept


def _within_reach(
    places: list[Choices[T]], minutes: int, set_up: int, shelf: Pieces
) -> Generator[None, None, list[Choices[T]]]:
    """Those places, and of them those bundles, that may be part of a best set.

    With a price for each minute, no set is worth more than the price of all minutes and what each
    place gives beyond its own price, however many pieces there are. What brings that below a set
    there is, is in no best set.
    """
    if len(places) <= FEW:
        return places
    price = yield from _price(places, minutes, set_up)
    beyond: list[int] = []
    for place in places:
        beyond.append(_beyond(place, price, set_up))
        if len(beyond) % STRIDE == 0:
            yield
    bound = price * minutes + sum(max(0, value) for value in beyond)
    order = sorted(range(len(places)), key=lambda number: (-beyond[number], number))
    few = [places[number] for number in order[:FEW]]
    reached = yield from _reached(few, minutes, set_up, shelf)
    kept: list[Choices[T]] = []
    for number, place in enumerate(places):
        slack = bound - max(0, beyond[number]) + beyond[number] - reached
        if slack >= 0:
            kept.append(_thinned(place, price, slack))
        if number % STRIDE == 0:
            yield
    return [place for place in kept if place]


def _reached(
    places: list[Choices[T]], minutes: int, set_up: int, shelf: Pieces
) -> Generator[None, None, int]:
    """The weight of the best set among a few places."""
    table = _nothing_done(shelf)
    nothing: Mapping[T, int] = defaultdict(int)
    for place in places:
        _visit(table, place, nothing, minutes, set_up, shelf)
        yield
    return max(worth for worth, _, _ in table.values())


def _thinned(place: Choices[T], price: int, slack: int) -> Choices[T]:
    """The place without the bundles that cost more beyond their weight than there is slack.

    One bundle alone has its shortfall in the slack already, so the best one always stays.
    """
    values = [bundle.weight - price * bundle.minutes for bundle in place]
    top = min(0, max(values))
    kept = [number for number, value in enumerate(values) if min(0, value) - top + slack >= 0]
    kept = sorted({one for number in kept for one in (number, *place[number].needs)})
    if len(kept) == len(place):
        return place
    row = {number: new for new, number in enumerate(kept)}
    return tuple(
        replace(place[number], needs=frozenset(row[one] for one in place[number].needs))
        for number in kept
    )


def _beyond(place: Choices[T], price: int, set_up: int) -> int:
    """The most a visit gives beyond the price of its minutes; needs are not looked at."""
    values = [bundle.weight - price * bundle.minutes for bundle in place]
    return sum(value for value in values if value > 0) + min(0, max(values)) - price * set_up


def _price(places: list[Choices[T]], minutes: int, set_up: int) -> Generator[None, None, int]:
    """A price a minute at which about the minutes there are find takers. Any price is right; a
    good one leaves out more."""
    low, high = 0, max(bundle.weight for place in places for bundle in place)
    while low < high:
        middle = (low + high) // 2
        taken = 0
        for number, place in enumerate(places):
            if number % STRIDE == 0:
                yield
            if _beyond(place, middle, set_up) > 0:
                taken += set_up + sum(
                    bundle.minutes for bundle in place if bundle.weight > middle * bundle.minutes
                )
        if taken > minutes:
            low = middle + 1
        else:
            high = middle
    return low
