"""What the window shows of a worded verdict: lines of grounds, and cautions."""

from __future__ import annotations

from dataclasses import dataclass

from schedules.states import Severity


@dataclass(frozen=True, slots=True)
class Line:
    """One ground of a tree: how deep it stands, its sentence, its figure, its source."""

    depth: int
    text: str
    value_text: str
    source_text: str


@dataclass(frozen=True, slots=True)
class CautionText:
    """A caution: its signal word as shown, its text, and the severity its panel goes by."""

    signal: str
    text: str
    severity: Severity
