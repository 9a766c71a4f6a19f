"""What was typed, on its way into the columns beside what is stored."""

from __future__ import annotations

from models.fields import plain_text
from models.tables.entries import LONGEST_AMOUNT
from schedules.units import LONGEST_TEXT, Typed


def typed_columns(typed: Typed | None, stored: int | None) -> dict[str, str]:
    """The columns that keep the words, the amount and the unit. Raises ValueError when what was
    typed is another amount than what is stored."""
    if typed is None:
        return {}
    if typed.stored != stored:
        raise ValueError(f"typed {typed.stored}, to be stored {stored}")
    return {
        "typed_text": plain_text("typed_text", typed.text, most=LONGEST_TEXT),
        "typed_amount": plain_text("typed_amount", str(typed.amount), most=LONGEST_AMOUNT),
        "typed_unit": str(typed.unit),
    }
