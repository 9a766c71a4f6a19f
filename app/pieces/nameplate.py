# pyright: standard
"""A plate with four rivets: what can be read on it, and what nobody has read yet."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel

from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label

RIVET = 4.0
INSET = 11.0


class NamePlate(QFrame):
    """One plate. What nobody has read yet is named in pencil, in one line."""

    def __init__(self, title: str, not_read: str, fill: str) -> None:
        super().__init__()
        self._not_read = not_read
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(26, 14, 26, 14)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(1, 1)
        self._grid.addWidget(plain_label(title, role="head"), 0, 0)
        self.fill_button = Button(fill)
        self.fill_button.setProperty("link", True)
        self.fill_button.setAccessibleName(f"{title}: {fill}")
        self._grid.addWidget(self.fill_button, 0, 1, Qt.AlignmentFlag.AlignRight)
        self.setAccessibleName(title)
        self._labels: list[QLabel] = []

    def show_rows(self, rows: tuple[tuple[str, str], ...]) -> None:
        """Show what is read; the description says it whole."""
        for label in self._labels:
            label.setParent(None)
            label.deleteLater()
        self._labels = []
        shown = [(name, value) for name, value in rows if value]
        blank = [name for name, value in rows if not value]
        if blank:
            shown.append((self._not_read, ", ".join(blank)))
        for number, (name, value) in enumerate(shown, start=1):
            left = plain_label(name, role="second")
            right = plain_label(value, role="second" if name == self._not_read else "")
            self._grid.addWidget(left, number, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(right, number, 1)
            self._labels += [left, right]
        self.setAccessibleDescription("; ".join(f"{name}: {value}" for name, value in shown))

    def paintEvent(self, _event: QPaintEvent) -> None:
        now = look.current()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter.setBrush(now.colour("sheet"))
        painter.setPen(QPen(now.colour("ink"), 1.6))
        painter.drawRoundedRect(room, 6, 6)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(now.colour("rule"), 1.2))
        for x in (room.left() + INSET, room.right() - INSET):
            for y in (room.top() + INSET, room.bottom() - INSET):
                painter.drawEllipse(QPointF(x, y), RIVET, RIVET)
                painter.drawLine(QPointF(x - 2, y + 2), QPointF(x + 2, y - 2))
