"""What the appraisal room shows. All worded."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LookLine:
    """One of the five looks with its answers."""

    code: str
    question: str
    answers: tuple[tuple[str, str], ...]
    given: str
    how: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndLine:
    """One way it may end: its chance in words and as a share, and what is left in hand."""

    text: str
    odds: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AppraisalState:
    """One number and one line; the rest waits behind a fold. `first`: what to do first while nobody
    has said what it brings, in the place of the number."""

    title: str
    looks: tuple[LookLine, ...]
    most: str
    stop: str
    choice: str
    asked: str
    between: str
    first_look: str
    ends: tuple[EndLine, ...]
    order: tuple[str, ...]
    spent: str = ""
    first: tuple[str, ...] = ()
    can_draw: bool = False
    notice: str = ""
