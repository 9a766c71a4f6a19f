"""Pouring: both vessels as they would stand, and what would become of what they hold, while the
amount is still being chosen by keys, by typing or by the mouse on the level."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.fuel.state import PourPreview
from app.pieces import look
from app.pieces.button import Button
from app.pieces.drawn import PaintedSurface
from app.pieces.labels import plain_label
from app.sheets.vessel import STUB, VesselFigure, draw_vessel

PX = 3.6


class FigureBox(QWidget):
    """One vessel, drawn. `levelWanted`: the mouse was put at that part of its height."""

    levelWanted = Signal(float)

    def __init__(self) -> None:
        super().__init__()
        self._figure: VesselFigure | None = None

    def show_figure(self, figure: VesselFigure) -> None:
        """Show another state of it."""
        other = self._figure is None or self._figure.litres != figure.litres
        self._figure = figure
        if other:
            self.setFixedSize(self.sizeHint())
        self.update()

    def sizeHint(self) -> QSize:
        """As large as it is drawn."""
        if self._figure is None:
            return QSize(10, 10)
        k = PX * look.text_scale()
        return QSize(round(self._figure.width * k) + 12, round(self._figure.height * k) + 4)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._figure is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        k = PX * look.text_scale()
        draw_vessel(PaintedSurface(painter, k), self._figure, 0.0, (self.height() - 2) / k)
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._level(event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._level(event.position())

    def _level(self, at: QPointF) -> None:
        if self._figure is None:
            return
        k = PX * look.text_scale()
        floor = (self.height() - 2) / k - STUB
        part = (floor - at.y() / k) / self._figure.side
        self.levelWanted.emit(min(1.0, max(0.0, part)))


class _Amount(QLineEdit):
    """How much; the arrow keys make it more and less."""

    stepped = Signal(int)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {
            Qt.Key.Key_Up: 1,
            Qt.Key.Key_Down: -1,
            Qt.Key.Key_PageUp: 4,
            Qt.Key.Key_PageDown: -4,
        }
        step = steps.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        else:
            self.stepped.emit(step)


class PourPane(QWidget):
    """The pour that is being made. `typed`, `stepped`, `levelWanted`: another amount; `kept`: it
    is to be entered; `left`: it is given up."""

    typed = Signal(str)
    stepped = Signal(int)
    levelWanted = Signal(float)
    kept = Signal()
    left = Signal()

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        self._labels = labels
        column = QVBoxLayout(self)
        column.setContentsMargins(look.GUTTER // 2, 0, 0, 0)
        self.title = plain_label("", role="name")
        column.addWidget(self.title)
        row = QHBoxLayout()
        self.source, self.target = FigureBox(), FigureBox()
        self.source_said, self.target_said = plain_label(""), plain_label("")
        for box, said in ((self.source, self.source_said), (self.target, self.target_said)):
            side = QVBoxLayout()
            side.addWidget(box, 0, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft)
            side.addWidget(said)
            side.addStretch(1)
            row.addLayout(side, 1)
        self.target.levelWanted.connect(self.levelWanted)
        column.addLayout(row)
        label = plain_label(labels["pour_amount"])
        self.amount = _Amount()
        self.amount.setAccessibleName(labels["pour_amount"])
        self.amount.setAccessibleDescription(labels["pour_keys"])
        label.setBuddy(self.amount)
        self.amount.textEdited.connect(self.typed)
        self.amount.stepped.connect(self.stepped)
        self.amount.returnPressed.connect(self.kept)
        column.addWidget(label)
        column.addWidget(self.amount)
        column.addWidget(plain_label(labels["pour_keys"], role="second"))
        self.refused: QLabel = plain_label("", role="refusal")
        column.addWidget(self.refused)
        buttons = QHBoxLayout()
        self.keep_button = Button(labels["pour_keep"])
        self.keep_button.setProperty("main", True)
        self.keep_button.clicked.connect(self.kept)
        self.cancel_button = Button(labels["cancel"])
        self.cancel_button.clicked.connect(self.left)
        buttons.addWidget(self.keep_button)
        buttons.addWidget(self.cancel_button)
        buttons.addStretch(1)
        column.addLayout(buttons)
        column.addStretch(1)

    def begin(self, source: str, target: str) -> None:
        """Begin a pour between two vessels."""
        labels = self._labels
        self.title.setText(f"{labels['pour_from']} {source} {labels['pour_into']} {target}")
        self.setAccessibleName(self.title.text())
        self.keep_button.setText(labels["pour_keep"])

    def show_preview(self, preview: PourPreview, *, typed: bool) -> None:
        """Show what it would do; a field that is typed in keeps what stands there."""
        self.source.show_figure(preview.source)
        self.target.show_figure(preview.target)
        self.source_said.setText(preview.source_said)
        self.target_said.setText(preview.target_said)
        if not typed:
            self.amount.setText(preview.amount)
        self.refused.setText(preview.refused or preview.danger)
        self.refused.setVisible(bool(self.refused.text()))
        self.keep_button.setEnabled(not preview.refused)
        self.setAccessibleDescription(
            f"{preview.amount} {preview.target_said} {preview.refused} {preview.danger}".strip()
        )

    def ask_again(self) -> None:
        """What was warned of is to be answered a second time."""
        self.keep_button.setText(self._labels["pour_sure"])
        self.keep_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
