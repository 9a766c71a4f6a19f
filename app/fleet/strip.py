"""The strip at the foot: the mark that has the focus in words, and what the shapes mean."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QWidget

from app.fleet.state import MachineLine
from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label
from app.pieces.year import ABOVE, MarkSort
from app.pieces.year_band import draw_mark

WIDE = 1180
SMALLER = 0.75


class MarkWord(QWidget):
    """One shape of the year and its word."""

    def __init__(self, sort: MarkSort, word: str) -> None:
        super().__init__()
        self._sort, self._word = sort, word
        self.setAccessibleName(word)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        width = metrics.horizontalAdvance(self._word) + round(36 * look.text_scale())
        return QSize(width, metrics.height() + 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale, middle = look.text_scale(), self.height() / 2
        drop = 14.0 if self._sort in ABOVE else (-5.0 if self._sort is MarkSort.LATER else -9.0)
        small = scale * SMALLER  # beside a word, within its line
        at = QPointF(15 * scale, middle + drop * small)
        draw_mark(painter, at, self._sort, look.current(), small)
        painter.setPen(look.current().colour("ink"))
        base = middle + QFontMetrics(self.font()).ascent() / 2 - 2 * scale
        painter.drawText(QPointF(28 * scale, base), self._word)


class Strip(QWidget):
    """Says one mark, offers its grounds and the machine, and names the shapes where it is wide."""

    whyWanted = Signal()
    openWanted = Signal()
    mendedWanted = Signal()
    goOnWanted = Signal(str)

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, look.GAP, 0, 0)
        row.setSpacing(look.GAP)
        self.open = Button(labels["open"])
        self.open.clicked.connect(self.openWanted)
        self.why = Button(labels["why"])
        self.why.clicked.connect(self.whyWanted)
        self.mended = Button(labels["mended"])
        self.mended.clicked.connect(self.mendedWanted)
        self.mended.setVisible(False)
        self.go_on = Button("")
        self.go_on.setProperty("main", True)
        self.go_on.clicked.connect(self._go_on_pressed)
        self.go_on.setVisible(False)
        self.said = plain_label("")
        row.addWidget(self.go_on)
        row.addWidget(self.open)
        row.addWidget(self.why)
        row.addWidget(self.mended)
        row.addWidget(self.said, 1)
        self.key = QWidget()
        grid = QGridLayout(self.key)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(look.GAP)
        grid.setVerticalSpacing(0)
        for place, sort in enumerate(MarkSort):
            grid.addWidget(MarkWord(sort, labels[f"mark_{sort}"]), place % 2, place // 2)
        row.addWidget(self.key)

    def show_line(self, line: MachineLine | None) -> None:
        """Offer what can be done with the machine that is chosen."""
        for button in (self.open, self.why):
            button.setEnabled(line is not None)
        self.mended.setVisible(line is not None and line.broken)
        self.go_on.setVisible(line is not None and bool(line.goes_on))
        if line is not None:
            self.go_on.setText(line.goes_on_text)
            self.go_on.setProperty("act", line.goes_on)

    def _go_on_pressed(self) -> None:
        self.goOnWanted.emit(str(self.go_on.property("act")))

    def minimumSizeHint(self) -> QSize:
        """The words of the shapes need no room: where there is none they are left out."""
        hint, key = super().minimumSizeHint(), self.key.minimumSizeHint()
        return QSize(hint.width() - (0 if self.key.isHidden() else key.width()), hint.height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.key.setVisible(event.size().width() >= WIDE * look.text_scale())
        super().resizeEvent(event)
