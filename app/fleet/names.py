"""Names as they are shown: what people typed, without marks that turn the text around them."""

from __future__ import annotations

# Marks of writing direction: invisible, and able to turn a whole line around.
_TURNING = dict.fromkeys(
    (0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)), None
)


def plain_name(text: str) -> str:
    """The text without marks of direction."""
    return text.translate(_TURNING)
