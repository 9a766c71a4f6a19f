"""Sums of what meters showed: segments, rollovers, replacements."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterSegment:
    """What one meter showed from a start to an end, in seconds, and how often it rolled over."""

    start: int
    end: int
    rollovers: int = 0
    modulus: int = 0


def meter_total(segments: Iterable[MeterSegment]) -> int:
    """Total run time in seconds: the sum of (end - start) + rollovers * modulus.

    Raises ValueError when a segment runs backwards, or rolls over without a modulus.
    Source: 49 USC 32704 (a replaced odometer keeps the reading before, and the day) as a model.
    """
    total = 0
    for segment in segments:
        if segment.rollovers and segment.modulus <= 0:
            raise ValueError(f"rollovers without a modulus: {segment}")
        part = segment.end - segment.start + segment.rollovers * segment.modulus
        if part < 0:
            raise ValueError(f"meter segment runs backwards: {segment}")
        total += part
    return total


def looks_rolled_over(old: int, new: int, modulus: int) -> bool:
    """Whether a lower reading looks like a rollover: old in the last, new in the first 5 %.

    Seconds. Our judgement; the owner is always asked.
    """
    return modulus > 0 and old * 20 >= modulus * 19 and new * 20 <= modulus
