# pyright: standard
"""Buttons that Enter presses too, and boxes with a tick that is drawn, not guessed."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QCheckBox,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from app.pieces import look

BOX = 24


class Button(QPushButton):
    """A push button; its text is shown as it is."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(text.replace("&", "&&"), parent)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


def draw_box(painter: QPainter, box: QRect, *, ticked: bool) -> None:
    """A box in ink, with a tick when it is ticked."""
    ink = look.current().colour("ink")
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(box, look.current().colour("sheet"))
    painter.setPen(QPen(ink, 2))
    painter.drawRect(box)
    if ticked:
        painter.setPen(QPen(ink, 3.4))
        x, y = box.left(), box.top()
        painter.drawPolyline([QPoint(x + 5, y + 12), QPoint(x + 10, y + 18), QPoint(x + 19, y + 6)])
    painter.restore()


class Tick(QCheckBox):
    """A yes-or-no question with a box of ours."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(text.replace("&", "&&"), parent)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        top = (self.height() - BOX) // 2
        draw_box(painter, QRect(4, top, BOX, BOX), ticked=self.isChecked())


class _TickRow(QStyledItemDelegate):
    """One row of a list of ticks: box, then text, the whole row to click on."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: object) -> None:
        colours = look.current()
        ticked = index.data(Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked.value  # type: ignore[attr-defined]  # an index
        painter.save()
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.fillRect(option.rect, colours.colour("wash"))
        top = option.rect.top() + (option.rect.height() - BOX) // 2
        draw_box(painter, QRect(option.rect.left() + 6, top, BOX, BOX), ticked=ticked)
        painter.setPen(colours.colour("ink"))
        room = option.rect.adjusted(BOX + 18, 0, -4, 0)
        flags = int(Qt.AlignmentFlag.AlignVCenter.value | Qt.TextFlag.TextWordWrap.value)
        painter.drawText(room, flags, str(index.data(Qt.ItemDataRole.DisplayRole)))  # type: ignore[attr-defined]  # an index
        painter.restore()


class TickList(QListWidget):
    """A list whose rows are ticked by a click anywhere on them, or by the space bar."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setItemDelegate(_TickRow(self))
        self.itemClicked.connect(self._turn)

    def _turn(self, item: QListWidgetItem) -> None:
        ticked = item.checkState() == Qt.CheckState.Checked
        item.setCheckState(Qt.CheckState.Unchecked if ticked else Qt.CheckState.Checked)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        item = self.currentItem()
        if event.key() == Qt.Key.Key_Space and item is not None:
            self._turn(item)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.ignore()
        else:
            super().keyPressEvent(event)
