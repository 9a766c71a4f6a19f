"""Which machines are shown and in which order. Plain tuples: no proxy stands between."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from app.fleet.state import Choices, MachineLine, SortBy, Wanted
from app.pieces.year import ABOVE
from schedules.states import MachineState

STATE_ORDER = {
    MachineState.DOWN: 0,
    MachineState.WITH_CARE: 1,
    MachineState.UNKNOWN: 2,
    MachineState.FIT: 3,
    MachineState.LAID_UP: 4,
}
FAR = 10_000


def searchable(*texts: str) -> str:
    """Text as it is looked for: small letters without accents."""
    whole = unicodedata.normalize("NFKD", " ".join(texts)).casefold()
    return "".join(sign for sign in whole if not unicodedata.combining(sign))


def matching(lines: Iterable[MachineLine], wanted: Wanted) -> list[MachineLine]:
    """Those that hold every word that was typed, and are of the place, type, state and hand."""
    words = searchable(wanted.search).split()
    return [
        line
        for line in lines
        if (not wanted.place or line.place == wanted.place)
        and (not wanted.kind or line.kind == wanted.kind)
        and (not wanted.state or line.state == wanted.state)
        and (not wanted.hand or line.hand == wanted.hand)
        and all(word in line.found_by for word in words)
    ]


def sort_key(sort: SortBy, urgency: Mapping[int, int]) -> Callable[[MachineLine], Any]:
    """What lines are sorted by; `urgency`: how much waits at each machine."""
    match sort:
        case SortBy.NAME:
            return lambda line: (line.name.casefold(), line.machine_id)
        case SortBy.PLACE:
            return lambda line: (line.place.casefold(), line.name.casefold(), line.machine_id)
        case SortBy.NEXT:
            return lambda line: (_next_day(line), line.name.casefold(), line.machine_id)
        case SortBy.URGENCY:
            return lambda line: (
                STATE_ORDER[line.state],
                -urgency.get(line.machine_id, 0),
                line.name,
                line.machine_id,
            )


def _next_day(line: MachineLine) -> int:
    return min((mark.day for mark in line.year.marks if mark.sort not in ABOVE), default=FAR)


def kept_in_order(
    order: list[int], lines: Mapping[int, MachineLine], shown: list[int]
) -> list[int]:
    """The order as it stood, without those that are gone; new ones where `shown` has them.

    So that the list does not jump when something is entered.
    """
    there = set(shown)
    kept = [number for number in order if number in lines]
    known = set(kept)
    for place, number in enumerate(shown):
        if number in known or number not in there:
            continue
        before = shown[place - 1] if place else None
        kept.insert(kept.index(before) + 1 if before in known else 0, number)
        known.add(number)
    return kept


def choices(lines: Iterable[MachineLine], words: Mapping[MachineState, str]) -> Choices:
    """What the list can be narrowed to, of what there is."""
    places: set[str] = set()
    kinds: set[str] = set()
    hands: set[str] = set()
    states: set[MachineState] = set()
    for line in lines:
        places.add(line.place)
        kinds.add(line.kind)
        hands.add(line.hand)
        states.add(line.state)
    return Choices(
        places=tuple((place, place) for place in sorted(places) if place),
        kinds=tuple((kind, kind) for kind in sorted(kinds) if kind),
        states=tuple((str(state), words[state]) for state in STATE_ORDER if state in states),
        hands=tuple((hand, hand) for hand in sorted(hands, key=str.casefold) if hand),
    )
