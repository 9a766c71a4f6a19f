"""Where letters are large and the window is low, the list goes first: the rest folds away."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label

LOW = 600
"""Below so much height (for text at 100 %) not everything fits over the list."""


class Fold(QWidget):
    """The first words of the sentence on top, and the button that shows all of it with the time
    and the search in place of the list. `toggled` follows a press."""

    toggled = Signal()

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        self.first = plain_label("", role="head")
        self.button = Button(labels["more_above"])
        self.button.setCheckable(True)
        self.button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.button.toggled.connect(self.toggled)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.GAP)
        row.addWidget(self.first, 1)
        row.addWidget(self.button, 0, Qt.AlignmentFlag.AlignRight)
        self.setVisible(False)

    @property
    def open(self) -> bool:
        """Whether what was folded is looked at now."""
        return self.button.isChecked()

    def close_again(self) -> None:
        """Back to the list."""
        self.button.setChecked(False)

    def show_sentence(self, sentence: str) -> None:
        """The sentence as far as its first stop."""
        first, stop, _rest = sentence.partition("; ")
        self.first.setText(f"{first} …" if stop else sentence)

    @staticmethod
    def needed(height: int) -> bool:
        """Whether a room of that height is too low."""
        return height < LOW * look.text_scale() and look.text_scale() > 1
