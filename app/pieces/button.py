# pyright: standard
"""Buttons that Enter presses too, and boxes with a tick that is drawn, not guessed."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from app.pieces import look

BOX = 24
# Pixels: from the left edge to the words, from them to the right one, above and below them.
BESIDE_BOX, END, PAD = BOX + 18, 4, 6
FAR = 10_000
_WRAPPED = int(
    Qt.AlignmentFlag.AlignVCenter.value
    | Qt.AlignmentFlag.AlignLeft.value
    | Qt.TextFlag.TextWordWrap.value
)


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
    """A yes-or-no question with a box of ours; its words wrap."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__("", parent)
        self._words = text
        self.setAccessibleName(text)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def text(self) -> str:
        """Its words."""
        return self._words

    def _high(self, width: int) -> int:
        return _words_high(self, self._words, width - BESIDE_BOX - END)

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """High enough for all of its words, in pixels."""
        return max(look.TARGET, self._high(width) + 2 * PAD)

    def sizeHint(self) -> QSize:
        """All in one line, if there is room."""
        wide = self.fontMetrics().horizontalAdvance(self._words) + BESIDE_BOX + END + 2
        return QSize(wide, self.heightForWidth(wide))

    def minimumSizeHint(self) -> QSize:
        """As narrow as its longest word."""
        words = self._words.split() or [""]
        longest = max(self.fontMetrics().horizontalAdvance(word) for word in words)
        return QSize(longest + BESIDE_BOX + END + 2, look.TARGET)

    def hitButton(self, pos: QPoint) -> bool:
        """The whole of it is pressed on."""
        return self.rect().contains(pos)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        top = (self.height() - BOX) // 2
        draw_box(painter, QRect(4, top, BOX, BOX), ticked=self.isChecked())
        colour = look.current().colour("ink" if self.isEnabled() else "pencil")
        painter.setPen(colour)
        painter.drawText(self.rect().adjusted(BESIDE_BOX, 0, -END, 0), _WRAPPED, self._words)


def _words_high(widget: QWidget, words: str, width: int) -> int:
    """How high words stand that wrap at a width, in pixels."""
    room = QRect(0, 0, max(width, 1), FAR)
    return widget.fontMetrics().boundingRect(room, _WRAPPED, words).height()


class _TickRow(QStyledItemDelegate):
    """One row of a list of ticks: box, then text, the whole row to click on."""

    def sizeHint(self, option: QStyleOptionViewItem, index: object) -> QSize:
        """High enough for all of its words at the list's width."""
        rows = self.parent()
        if not isinstance(rows, QListWidget):
            return super().sizeHint(option, index)  # type: ignore[arg-type]  # an index
        wide = rows.viewport().width() - 2 * rows.spacing()
        words = str(index.data(Qt.ItemDataRole.DisplayRole))  # type: ignore[attr-defined]  # an index
        high = _words_high(rows, words, wide - BESIDE_BOX - END)
        return QSize(wide, max(look.TARGET, high + 2 * PAD))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: object) -> None:
        colours = look.current()
        ticked = index.data(Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked.value  # type: ignore[attr-defined]  # an index
        painter.save()
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.fillRect(option.rect, colours.colour("wash"))
        top = option.rect.top() + (option.rect.height() - BOX) // 2
        draw_box(painter, QRect(option.rect.left() + 6, top, BOX, BOX), ticked=ticked)
        painter.setPen(colours.colour("ink"))
        room = option.rect.adjusted(BESIDE_BOX, 0, -END, 0)
        painter.drawText(room, _WRAPPED, str(index.data(Qt.ItemDataRole.DisplayRole)))  # type: ignore[attr-defined]  # an index
        painter.restore()


class TickList(QListWidget):
    """A list whose rows are ticked by a click anywhere on them, or by the space bar."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setItemDelegate(_TickRow(self))
        self.itemClicked.connect(self._turn)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The narrower, the higher the rows."""
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()

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
