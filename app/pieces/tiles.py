# pyright: standard
"""Answers to press on instead of to look up in a list: pictures, short words, and ways onward.

Tiles are radio buttons: one of them holds, the arrow keys move it, a tick marks it. Picks answer
the whole form at one press.
"""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QButtonGroup,
    QLayout,
    QLayoutItem,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label

PICTURE_PX = 44
TILE_PX = 134
PICK_PX = 460
PAD = 10
_WORDS = int(Qt.AlignmentFlag.AlignCenter.value | Qt.TextFlag.TextWordWrap.value)


class Flow(QLayout):
    """Things beside one another as far as the width goes, the rest below."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(look.GAP)

    def addItem(self, item: QLayoutItem) -> None:
        """Take one more."""
        self._items.append(item)

    def count(self) -> int:
        """How many there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """The one at that place."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Give one back."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """How high they stand at that width, in pixels."""
        return self._lay(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        """Lay them out."""
        super().setGeometry(rect)
        self._lay(rect, move=True)

    def sizeHint(self) -> QSize:
        """As narrow as the widest."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """As narrow as the widest."""
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _lay(self, rect: QRect, *, move: bool) -> int:
        x, y, high = rect.x(), rect.y(), 0
        for item in self._items:
            if item.isEmpty():  # hidden: no gap is left for it
                continue
            size = item.sizeHint()
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, high = rect.x(), y + high + self.spacing(), 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self.spacing()
            high = max(high, size.height())
        return y + high - rect.y()


class Tile(QRadioButton):
    """One answer: its picture, if it has one, and its words; ticked when it holds."""

    def __init__(self, value: str, words: str, icon: str = "") -> None:
        super().__init__(words.replace("&", "&&"))
        self.value = value
        self._words = words
        self._icon = icon
        self.least_height = 0
        self.setAccessibleName(words)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def sizeHint(self) -> QSize:
        """Pictures all alike; words as wide as they are."""
        scale = look.text_scale()
        metrics = self.fontMetrics()
        if not self._icon:
            wide = metrics.horizontalAdvance(self._words) + 3 * PAD + look.px(22, scale)
            return QSize(wide, max(look.TARGET, metrics.height() + 2 * PAD))
        wide = look.px(TILE_PX, scale)
        room = QRect(0, 0, wide - PAD, 1000)
        text = metrics.boundingRect(room, _WORDS, self._words)
        lines = max(text.height(), 2 * metrics.lineSpacing())
        high = look.px(PICTURE_PX, scale) + lines + 2 * PAD
        return QSize(wide, max(high, self.least_height))

    def minimumSizeHint(self) -> QSize:
        """Not smaller than its words."""
        return self.sizeHint()

    def hitButton(self, pos: QPoint) -> bool:
        """The whole of it is pressed on."""
        return self.rect().contains(pos)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        now, scale = look.current(), look.text_scale()
        room = self.rect().adjusted(2, 2, -2, -2)
        painter.fillRect(room, now.colour("wash" if self.isChecked() else "sheet"))
        if self.hasFocus():
            painter.setPen(QPen(now.colour("blue"), 3))
        else:
            painter.setPen(QPen(now.colour("ink" if self.isChecked() else "rule"), 1))
        painter.drawRect(room)
        tick = look.px(16, scale)
        painter.setPen(now.colour("ink"))
        if self._icon:
            side = look.px(PICTURE_PX, scale)
            drawn = look.icon(self._icon, side, now.ink, self.devicePixelRatioF())
            painter.drawPixmap((self.width() - side) // 2, PAD // 2 + 2, drawn)
            words = self.rect().adjusted(PAD // 2, side + PAD // 2 + 2, -PAD // 2, -PAD // 2)
            painter.drawText(words, _WORDS, self._words)
            at = QPoint(self.width() - tick - 8, 8)
        else:
            words = self.rect().adjusted(PAD + look.px(22, scale), 0, -PAD // 2, 0)
            sideways = int(Qt.AlignmentFlag.AlignVCenter.value | Qt.AlignmentFlag.AlignLeft.value)
            painter.drawText(words, sideways, self._words)
            at = QPoint(PAD - 2, (self.height() - tick) // 2)
        self._mark(painter, at, tick)

    def _mark(self, painter: QPainter, at: QPoint, side: int) -> None:
        """A tick where it holds, an empty ring where words alone could be pressed."""
        ink = look.current().colour("ink")
        if self.isChecked():
            painter.setPen(QPen(ink, 3))
            x, y = at.x(), at.y()
            painter.drawPolyline(
                [
                    QPoint(x, y + side // 2),
                    QPoint(x + side * 2 // 5, y + side * 5 // 6),
                    QPoint(x + side, y + side // 6),
                ]
            )
        elif not self._icon:
            painter.setPen(QPen(look.current().colour("rule"), 1.4))
            painter.drawEllipse(QRect(at, QSize(side, side)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.ignore()  # the form takes it
        else:
            super().keyPressEvent(event)


class Tiles(QWidget):
    """One question answered by pressing one of several tiles."""

    changed = Signal()

    def __init__(
        self, choices: tuple[tuple[str, str], ...], icons: dict[str, str], value: str
    ) -> None:
        super().__init__()
        self._group = QButtonGroup(self)
        self.tiles: list[Tile] = []
        flow = Flow(self)
        for code, words in choices:
            tile = Tile(code, words, icons.get(code, ""))
            tile.setChecked(code == value)
            self._group.addButton(tile)
            self.tiles.append(tile)
            flow.addWidget(tile)
        tallest = max((tile.sizeHint().height() for tile in self.tiles), default=0)
        for tile in self.tiles:
            tile.least_height = tallest
        self._group.buttonClicked.connect(self._pressed)
        chosen = next((tile for tile in self.tiles if tile.isChecked()), None)
        if self.tiles:
            self.setFocusProxy(chosen or self.tiles[0])

    def _pressed(self) -> None:
        tile = self._group.checkedButton()
        if tile is not None:
            self.setFocusProxy(tile)
        self.changed.emit()

    def value(self) -> str:
        """The answer that holds; "" for none."""
        tile = self._group.checkedButton()
        return tile.value if isinstance(tile, Tile) else ""

    def choose(self, value: str) -> None:
        """Let another answer hold. Raises StopIteration for one there is not."""
        next(tile for tile in self.tiles if tile.value == value).click()


class Picks(QWidget):
    """Ways onward: one press answers the form. `picked` follows a press."""

    picked = Signal()

    def __init__(self, choices: tuple[tuple[str, str], ...], details: dict[str, str]) -> None:
        super().__init__()
        self._value = ""
        self.buttons: list[Button] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.GAP)
        for code, words in choices:
            button = Button(words)
            button.setProperty("value", code)
            button.setProperty("pick", True)
            button.setAccessibleDescription(details.get(code, ""))
            button.setMaximumWidth(look.px(PICK_PX, look.text_scale()))
            button.clicked.connect(self._pressed)
            self.buttons.append(button)
            column.addWidget(button)
            if code in details:
                column.addWidget(plain_label(details[code], role="second"))
        if self.buttons:
            self.setFocusProxy(self.buttons[0])

    def _pressed(self) -> None:
        self._value = str(self.sender().property("value"))
        self.picked.emit()

    def value(self) -> str:
        """What was pressed; "" for nothing yet."""
        return self._value
