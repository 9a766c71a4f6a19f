# pyright: standard
"""Labels that show text exactly as it is: no markup, no mnemonic, wrapped, never cut."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget


def plain_label(text: str, *, role: str = "", parent: QWidget | None = None) -> QLabel:
    """A label for text of any origin. `role`: head, name, lead, second or refusal."""
    label = QLabel(parent)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setText(text)
    label.setWordWrap(True)
    label.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    if role:
        label.setProperty("role", role)
    return label
