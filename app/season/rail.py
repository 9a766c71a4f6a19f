"""The steps along an upright rule: what is done is inked thick, now has the pointer, ahead is thin.

Each line says in words what its mark says.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.labels import plain_label
from app.season.state import RailLine, RailMark

TICK = 12


class RailRow(QWidget):
    """One step."""

    def __init__(self, line: RailLine) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 5, 8, 5)
        row.setSpacing(0)
        self.number = plain_label("", role="head")
        self.number.setFixedWidth(look.px(36, look.text_scale()))
        self.number.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.number)
        row.addSpacing(46)
        words = QVBoxLayout()
        words.setSpacing(0)
        self.name = plain_label("")
        self.second = plain_label("", role="second")
        words.addWidget(self.name)
        words.addWidget(self.second)
        row.addLayout(words, 1)
        self._line = line
        self.show_line(line)

    @property
    def is_now(self) -> bool:
        """Whether it is the current step."""
        return self._line.mark is RailMark.NOW

    def show_line(self, line: RailLine) -> None:
        """Show how the step stands now."""
        self._line = line
        self.number.setText(str(line.place + 1))
        self.name.setText(line.name)
        self.second.setText(line.second)
        self.second.setVisible(bool(line.second))
        font = self.name.font()
        font.setBold(line.mark is RailMark.NOW)
        self.name.setFont(font)
        self.setAccessibleName(f"{line.place + 1} {line.name}, {line.second}")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        now = look.current()
        mark = self._line.mark
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if mark is RailMark.NOW:
            painter.fillRect(self.rect(), now.colour("wash"))
            painter.fillRect(0, 0, look.BAR, self.height(), now.colour("ink"))
        x = self.number.width() + 20.0
        past = mark not in (RailMark.NOW, RailMark.AHEAD)
        painter.setPen(QPen(now.colour("ink" if past else "rule"), 5 if past else 1.4))
        painter.drawLine(QPointF(x, 0), QPointF(x, self.height()))
        level = 5.0 + self.name.fontMetrics().height() / 2
        if mark is RailMark.NOW:
            self._pointer(painter, x, level)
        elif mark in (RailMark.CANNOT, RailMark.FAULT, RailMark.NOT_FOR_IT):
            self._open(painter, x, level, mark)
        else:
            painter.setPen(QPen(now.colour("ink" if past else "rule"), 2.4 if past else 1.4))
            painter.drawLine(QPointF(x, level), QPointF(x + TICK, level))

    def _pointer(self, painter: QPainter, x: float, level: float) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(look.current().colour("blue"))
        points = [QPointF(x - 12, level - 8), QPointF(x + 4, level), QPointF(x - 12, level + 8)]
        painter.drawPolygon(QPolygonF(points))

    def _open(self, painter: QPainter, x: float, level: float, mark: RailMark) -> None:
        """What was not done: a gap for what does not apply, dashes put off, a cross for a fault."""
        now = look.current()
        pen = QPen(now.colour("madder" if mark is RailMark.FAULT else "ink"), 2.4)
        if mark is RailMark.CANNOT:
            pen.setDashPattern([1.2, 1.2])
        painter.setPen(pen)
        painter.fillRect(int(x) - 4, int(level) - 7, 9, 14, now.colour("paper"))
        if mark is RailMark.FAULT:
            painter.drawLine(QPointF(x - 5, level - 5), QPointF(x + 5, level + 5))
            painter.drawLine(QPointF(x - 5, level + 5), QPointF(x + 5, level - 5))
        elif mark is RailMark.CANNOT:
            painter.drawLine(QPointF(x - 4, level), QPointF(x + TICK, level))


class Rail(QScrollArea):
    """All steps; the current one is kept in sight."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.rows: list[RailRow] = []

    def show_lines(self, lines: tuple[RailLine, ...]) -> None:
        """Show the steps as they stand."""
        if len(lines) == len(self.rows):
            for row, line in zip(self.rows, lines, strict=True):
                row.show_line(line)
        else:
            body = QWidget()
            column = QVBoxLayout(body)
            column.setContentsMargins(0, 0, 0, 0)
            column.setSpacing(0)
            self.rows = [RailRow(line) for line in lines]
            for row in self.rows:
                column.addWidget(row)
            column.addStretch(1)
            self.setWidget(body)
        current = next((row for row in self.rows if row.is_now), None)
        body = self.widget()
        if current is not None and body is not None:
            body.adjustSize()
            self.ensureWidgetVisible(current, 0, self.height() // 3)
