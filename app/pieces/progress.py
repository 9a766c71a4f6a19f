# pyright: standard
"""How far a long reckoning has come: a rule that is inked as it goes, words, and a way to stop."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label
from app.pieces.waiting import Progress

THICK = 6


class _Rule(QWidget):
    """The inked part of a line."""

    def __init__(self) -> None:
        super().__init__()
        self.share = 0.0
        self.setFixedHeight(THICK + 4)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter, colours = QPainter(self), look.current()
        middle = self.height() / 2
        painter.fillRect(QRectF(0, middle - 1, self.width(), 2), colours.colour("hair"))
        inked = QRectF(0, middle - THICK / 2, self.width() * self.share, THICK)
        painter.fillRect(inked, colours.colour("ink"))


class ProgressRow(QWidget):
    """Shown only while there is something to wait for, or after it was stopped."""

    halted = Signal()
    goneOn = Signal()

    def __init__(self, halt: str, go_on: str) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        words = QVBoxLayout()
        words.setSpacing(0)
        self.said = plain_label("", role="second")
        self.rule = _Rule()
        words.addWidget(self.said)
        words.addWidget(self.rule)
        row.addLayout(words, 1)
        self.halt = Button(halt)
        self.halt.clicked.connect(self.halted)
        self.go_on = Button(go_on)
        self.go_on.clicked.connect(self.goneOn)
        row.addWidget(self.halt, 0, Qt.AlignmentFlag.AlignBottom)
        row.addWidget(self.go_on, 0, Qt.AlignmentFlag.AlignBottom)
        self.setVisible(False)

    def show_progress(self, progress: Progress | None) -> None:
        """How far it is; None: nothing to wait for."""
        self.setVisible(progress is not None)
        if progress is None:
            return
        self.said.setText(progress.text)
        self.rule.share = progress.done / max(1, progress.total)
        self.rule.update()
        self.halt.setVisible(not progress.halted)
        self.go_on.setVisible(progress.halted)
