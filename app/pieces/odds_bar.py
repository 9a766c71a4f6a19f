# pyright: standard
"""A share of one as a bar, beside the words that say the same."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.pieces import look


class OddsBar(QWidget):
    """How likely a cause is, as the length of a bar; the words beside it say the same."""

    def __init__(self, share: float, *, strong: bool) -> None:
        super().__init__()
        self._share = share
        self._strong = strong
        self.setFixedHeight(10)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        now = look.current()
        long = max(3.0, self.width() * min(1.0, self._share))
        painter.fillRect(QRectF(0, 2, long, 7), now.colour("ink" if self._strong else "rule"))
