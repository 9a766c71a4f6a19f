# pyright: standard
"""Drawings of the sheets on the screen: the one surface, painted.

What is drawn for paper is shown as it is, in the ink and on the ground of the look.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.pieces import look
from app.sheets.figures import Go, Path
from app.sheets.lettering import POINT, Face
from app.sheets.surface import Ink, Size, Surface

LETTERS = 5.0
"""Pixels a millimetre of a chart, so that its letters are those of the text about it."""
NARROWEST, WIDEST = 110.0, 230.0
WEIGHTS = {
    Face.REGULAR: QFont.Weight.Normal,
    Face.MEDIUM: QFont.Weight.Medium,
    Face.SEMIBOLD: QFont.Weight.DemiBold,
    Face.BOLD: QFont.Weight.Bold,
    Face.ITALIC: QFont.Weight.Normal,
}
_INKS = {Ink.BLACK: "ink", Ink.PENCIL: "pencil", Ink.WASH: "wash", Ink.WHITE: "sheet"}


class PaintedSurface:
    """A surface of the sheets on a painter; `scale` pixels a millimetre."""

    def __init__(self, painter: QPainter, scale: float) -> None:
        self._painter = painter
        self._scale = scale

    def page(self, size: Size) -> None:
        """One page is all there is."""

    def mark(self, title: str, level: int) -> None:
        """The screen has no outline to jump by."""

    def letters(self, x: float, base: float, text: str, face: Face, size: float, ink: Ink) -> None:
        font = QFont(look.FAMILY)
        font.setPixelSize(max(1, round(size * POINT * self._scale)))
        font.setWeight(WEIGHTS[face])
        font.setItalic(face is Face.ITALIC)
        self._painter.setFont(font)
        self._painter.setPen(self._colour(ink))
        self._painter.drawText(QPointF(x * self._scale, base * self._scale), text)

    def line(
        self, x: float, y: float, x2: float, y2: float, weight: float, dash: tuple[float, ...] = ()
    ) -> None:
        self._painter.setPen(self._pen(weight, dash))
        k = self._scale
        self._painter.drawLine(QPointF(x * k, y * k), QPointF(x2 * k, y2 * k))

    def shape(self, path: Path, weight: float, *, solid: Ink | None = None) -> None:
        drawn = QPainterPath()
        for go, numbers in path:
            at = [
                QPointF(numbers[n] * self._scale, numbers[n + 1] * self._scale)
                for n in range(0, len(numbers), 2)
            ]
            match go:
                case Go.MOVE:
                    drawn.moveTo(at[0])
                case Go.LINE:
                    drawn.lineTo(at[0])
                case Go.CURVE:
                    drawn.cubicTo(*at)
                case Go.CLOSE:
                    drawn.closeSubpath()
        self._painter.setPen(self._pen(weight, ()) if weight else Qt.PenStyle.NoPen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush if solid is None else self._colour(solid))
        self._painter.drawPath(drawn)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        weight: float,
        *,
        solid: Ink | None = None,
    ) -> None:
        self._painter.setPen(self._pen(weight, ()) if weight else Qt.PenStyle.NoPen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush if solid is None else self._colour(solid))
        k = self._scale
        self._painter.drawRect(QRectF(x * k, y * k, width * k, height * k))

    def image(self, jpeg: bytes, x: float, y: float, width: float, height: float) -> None:
        k = self._scale
        where = QRectF(x * k, y * k, width * k, height * k)
        self._painter.drawImage(where, QImage.fromData(jpeg))

    def _pen(self, weight: float, dash: tuple[float, ...]) -> QPen:
        width = max(1.0, weight * self._scale)
        pen = QPen(self._colour(Ink.BLACK), width)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap if dash else Qt.PenCapStyle.RoundCap)
        if dash:
            pen.setDashPattern([part * self._scale / width for part in dash])
        return pen

    @staticmethod
    def _colour(ink: Ink) -> QColor:
        return look.current().colour(_INKS[ink])


class Drawing(QWidget):
    """Shows a drawing of the sheets as large as there is room, keeping its shape.

    `said`: the same in words, for who cannot see it.
    """

    def __init__(self, width: float, height: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._size = (width, height)
        self._draw: Callable[[Surface], None] | None = None
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_drawing(self, draw: Callable[[Surface], None] | None, said: str) -> None:
        """Show another drawing; None shows nothing."""
        self._draw = draw
        self.setAccessibleDescription(said)
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return round(width * self._size[1] / self._size[0])

    def sizeHint(self) -> QSize:
        scale = 4 * look.text_scale()
        return QSize(round(self._size[0] * scale), round(self._size[1] * scale))

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._draw is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = min(self.width() / self._size[0], self.height() / self._size[1])
        self._draw(PaintedSurface(painter, scale))
        painter.end()


class Chart(Drawing):
    """A drawing that is as many millimetres wide as there is room, its letters always as large."""

    def __init__(self, height: float) -> None:
        super().__init__(WIDEST, height)
        self._chart: Callable[[Surface, float], None] | None = None

    def show_chart(self, draw: Callable[[Surface, float], None], said: str) -> None:
        """Show another chart; `draw` is told how many millimetres wide to be."""
        self._chart = draw
        self.show_drawing(self._draw_chart, said)

    def _draw_chart(self, surface: Surface) -> None:
        if self._chart is not None:
            self._chart(surface, self._size[0])

    def _fit(self, width: int) -> None:
        across = width / (LETTERS * look.text_scale())
        self._size = (min(max(across, NARROWEST), WIDEST), self._size[1])

    def heightForWidth(self, width: int) -> int:
        self._fit(width)
        return min(
            super().heightForWidth(width), round(self._size[1] * LETTERS * look.text_scale())
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        self._fit(self.width())
        super().paintEvent(event)
