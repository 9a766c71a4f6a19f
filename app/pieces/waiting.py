"""How far a long reckoning has come."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """So many of so many; `halted`: somebody said that is enough."""

    done: int
    total: int
    text: str
    halted: bool = False
