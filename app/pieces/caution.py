# pyright: standard
"""The caution panel: signal word in its safety colour, the text whole, before the step it is for.

Signal words and panels follow ANSI Z535.4 and ISO 3864-2; the screen values are ours.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.pieces.labels import plain_label
from app.pieces.look import SAFETY
from app.wording.lines import CautionText
from schedules.states import Severity


class _Triangle(QWidget):
    """The safety alert symbol."""

    def __init__(self, colour: str, parent: QWidget) -> None:
        super().__init__(parent)
        self._colour = QColor(colour)
        self.setFixedSize(26, 24)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._colour, 2.2))
        painter.drawPolygon(QPolygonF([QPointF(13, 2), QPointF(24, 21), QPointF(2, 21)]))
        painter.drawLine(QPointF(13, 9), QPointF(13, 14.5))
        painter.drawPoint(QPointF(13, 18))


class CautionPanel(QFrame):
    """One caution."""

    def __init__(self, caution: CautionText, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        ground, ink = SAFETY[caution.severity]
        self.setObjectName("caution")
        self.setStyleSheet(f"QFrame#caution {{ border: 2px solid {ground}; }}")
        self.setAccessibleName(caution.signal)
        self.setAccessibleDescription(caution.text)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        head = QWidget(self)
        head.setObjectName("head")
        head.setStyleSheet(f"QWidget#head {{ background: {ground}; }}")
        row = QHBoxLayout(head)
        row.setContentsMargins(10, 4, 10, 4)
        if caution.severity is not Severity.NOTICE:
            row.addWidget(_Triangle(ink, head))
        signal = QLabel(caution.signal, head)
        signal.setTextFormat(Qt.TextFormat.PlainText)
        signal.setStyleSheet(f"color: {ink}; font-weight: 700; letter-spacing: 1px;")
        row.addWidget(signal)
        row.addStretch(1)
        column.addWidget(head)
        text = plain_label(caution.text, parent=self)
        text.setContentsMargins(10, 6, 10, 8)
        column.addWidget(text)
