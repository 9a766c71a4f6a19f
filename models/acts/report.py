"""What acts hand back: the areas and rows they touched, and what they are called."""

from __future__ import annotations

from models.changes import ActCode, ActLabel, Area, Changes
from schedules.reasons import Value


def report(code: ActCode, *touched: tuple[Area, int], **values: Value) -> Changes:
    """Changes of the rows touched, with the label's values in the order given."""
    return Changes(
        areas=frozenset(area for area, _ in touched),
        ids=frozenset(touched),
        label=ActLabel(code, tuple(values.items())),
    )
