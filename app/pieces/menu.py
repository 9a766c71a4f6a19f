# pyright: standard
"""Menu entries that show text as it is."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction


def plain_action(text: str, parent: QObject) -> QAction:
    """An entry whose text is ours: one `&` in a menu's title marks its key, none elsewhere."""
    return QAction(text.replace("&", "&&"), parent)
