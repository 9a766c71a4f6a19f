"""The key to the drawings: what each texture says."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.drawn import PaintedSurface
from app.pieces.labels import plain_label
from app.pieces.tiles import Flow
from app.sheets.vessel import Texture, texture

PX = 3.3
_WIDE, _HIGH = 30, 20


class _Field(QWidget):
    """A small field of one texture."""

    def __init__(self, sort: Texture | None) -> None:
        super().__init__()
        self._sort = sort
        scale = look.text_scale()
        self.setFixedSize(round(_WIDE * scale), round(_HIGH * scale))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours, room = look.current(), QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter.fillRect(room, colours.colour("sheet"))
        k = PX * look.text_scale()
        if self._sort is None:
            edge = QRectF(room.right() - 6, room.top(), 6, room.height())
            painter.fillRect(edge, colours.colour("ink"))
        else:
            at = (room.left() / k, room.top() / k, room.width() / k, room.height() / k)
            texture(PaintedSurface(painter, k), self._sort, *at)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colours.colour("ink"), look.LINE))
        painter.drawRect(room)
        painter.end()


class Legend(QWidget):
    """Every texture with its word, and what is drawn larger than it is."""

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, look.GAP, 0, look.GAP)
        row = QWidget()
        flow = Flow(row)
        flow.addWidget(_words(labels["key"]))
        for sort in (*Texture, None):
            name = "treated" if sort is None else sort.value
            pair = QWidget()
            line = QHBoxLayout(pair)
            line.setContentsMargins(0, 0, look.GAP, 0)
            line.addWidget(_Field(sort))
            line.addWidget(_words(labels[name]))
            flow.addWidget(pair)
        column.addWidget(row)
        column.addWidget(plain_label(labels["area"], role="second"))


def _words(text: str) -> QWidget:
    label = plain_label(text)
    label.setWordWrap(False)
    return label
