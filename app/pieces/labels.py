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


def give_role(label: QLabel, role: str) -> None:
    """Let a label be in another role, looks and all."""
    if label.property("role") != role:
        label.setProperty("role", role)
        label.style().unpolish(label)
        label.style().polish(label)


def say_in(label: QLabel, text: str, *, calm: bool = False) -> None:
    """Let a label say something, or nothing. `calm`: nothing went wrong, so it is not in red."""
    give_role(label, "head" if calm else "refusal")
    label.setText(text)
    label.setVisible(bool(text))
