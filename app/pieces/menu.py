# pyright: standard
"""Menu entries that show text as it is, each with a key letter of its own in its menu."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction

_PLAIN = "plainText"


def plain_action(text: str, parent: QObject) -> QAction:
    """An entry whose text is ours: no `&` in it marks a key until `give_letters` sets one."""
    action = QAction(text.replace("&", "&&"), parent)
    action.setProperty(_PLAIN, text)
    return action


def say_action(action: QAction, text: str) -> None:
    """Let an entry say something else; whoever does gives out the letters again."""
    action.setProperty(_PLAIN, text)
    action.setText(text.replace("&", "&&"))


def give_letters(actions: Iterable[QAction]) -> None:
    """Mark in each entry of one menu a letter no other entry has: of a word's start where it can.

    Whatever the language: letters are taken from the words as they stand.
    """
    used: set[str] = set()
    for action in actions:
        text = action.property(_PLAIN)
        if not isinstance(text, str):
            continue
        place = _place_of_letter(text, used)
        if place is None:
            action.setText(text.replace("&", "&&"))
            continue
        used.add(text[place].casefold())
        before, after = (part.replace("&", "&&") for part in (text[:place], text[place:]))
        action.setText(f"{before}&{after}")


def _place_of_letter(text: str, used: set[str]) -> int | None:
    starts = [n for n in range(len(text)) if n == 0 or not text[n - 1].isalnum()]
    for place in (*starts, *range(len(text))):
        letter = text[place].casefold()
        if letter.isalnum() and letter.isascii() and letter not in used:
            return place
    return None
