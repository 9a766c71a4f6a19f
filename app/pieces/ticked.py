# pyright: standard
"""Above a list of ticks: how many there are, and buttons for all and none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QWidget

from app.pieces.button import Button
from app.pieces.labels import plain_label


@dataclass(frozen=True, slots=True, kw_only=True)
class TickWords:
    """`said` puts *how many of how many* into words."""

    said: Callable[[int, int], str]
    all: str
    none: str


class TickedRow(QWidget):
    """Says how many lines of a list are ticked, and ticks all or none of them."""

    def __init__(self, rows: QListWidget, words: TickWords) -> None:
        super().__init__()
        self._rows = rows
        self._words = words
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        self.label = plain_label("", role="head")
        line.addWidget(self.label, 1)
        self.all_button, self.none_button = Button(words.all, self), Button(words.none, self)
        self.all_button.clicked.connect(self._all_pressed)
        self.none_button.clicked.connect(self._none_pressed)
        for button in (self.all_button, self.none_button):
            line.addWidget(button)
        rows.itemChanged.connect(self._tell)
        self._tell()

    def _tell(self) -> None:
        states = [self._rows.item(row).checkState() for row in range(self._rows.count())]
        said = self._words.said(states.count(Qt.CheckState.Checked), len(states))
        self.label.setText(said)
        self._rows.setAccessibleDescription(said)

    def _all_pressed(self) -> None:
        self._turn(Qt.CheckState.Checked)

    def _none_pressed(self) -> None:
        self._turn(Qt.CheckState.Unchecked)

    def _turn(self, state: Qt.CheckState) -> None:
        for row in range(self._rows.count()):
            self._rows.item(row).setCheckState(state)
