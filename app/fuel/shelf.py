"""The shelf: every can, tank and bowl drawn to its level, with what it is good for beneath it.

Arrow keys go from vessel to vessel, Enter opens what can be done; one dragged onto another asks
to be poured into it.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.fuel.state import VesselLine
from app.fuel.table import TOKENS
from app.pieces import look
from app.pieces.drawn import PaintedSurface
from app.sheets.vessel import TEXTURES, draw_vessel, texture

PX = 3.3
"""Pixels a millimetre of the drawings, at the usual text size."""
CELL, PAD = 176, 10
_INSET = 4
SWATCH_WIDE, SWATCH_HIGH = 26, 16
_WRAP = int(
    Qt.TextFlag.TextWordWrap.value
    | Qt.AlignmentFlag.AlignLeft.value
    | Qt.AlignmentFlag.AlignTop.value
)
_DRAGGED = 12


@dataclass(frozen=True, slots=True)
class _Cell:
    """Where a vessel stands: all of it, and the line its drawing stands on."""

    room: QRect
    floor: int
    row: int


class Shelf(QWidget):
    """Shows the vessels. `chosen`: another one is looked at; `actsWanted`: what can be done with
    it; `pourWanted`: one was dragged onto another; `heldOver`: it is being dragged, and is over
    that one now."""

    chosen = Signal(int)
    actsWanted = Signal()
    pourWanted = Signal(int, int)
    heldOver = Signal(int, int)
    cellMoved = Signal(QRect)

    def __init__(self, name: str, said: str) -> None:
        super().__init__()
        self._vessels: tuple[VesselLine, ...] = ()
        self._cells: list[_Cell] = []
        self._at = 0
        self._pressed: int | None = None
        self._drag: QPointF | None = None
        self._mix: dict[int, VesselLine] = {}
        self._said = said
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(name)
        self.setAccessibleDescription(said)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    # -- showing -------------------------------------------------------------------------------

    def show_vessels(self, vessels: tuple[VesselLine, ...], chosen: int | None) -> None:
        """Show other vessels, one of them chosen."""
        self._vessels = vessels
        ids = [vessel.vessel_id for vessel in vessels]
        self._at = ids.index(chosen) if chosen in ids else 0
        self.lay_out()
        self._tell()

    def show_mix(self, lines: tuple[VesselLine, ...]) -> None:
        """Show these, while one is dragged, as they would stand after the pour."""
        self._mix = {line.vessel_id: line for line in lines}
        self.update()

    def _mixed(self) -> list[tuple[int, VesselLine, _Cell]]:
        return [
            (place, self._mix[vessel.vessel_id], self._cells[place])
            for place, vessel in enumerate(self._vessels)
            if vessel.vessel_id in self._mix
        ]

    def _over(self, cell: _Cell, line: VesselLine) -> _Cell:
        """The place of a vessel with room for the words of what it would be; in the lowest row it
        is drawn a little higher."""
        words = self._words_high(line, _words_wide(cell.room.width()))
        room = QRect(cell.room)
        room.setBottom(max(room.bottom(), cell.floor + words + PAD))
        up = max(0, min(room.top(), room.bottom() - self.height() + 1))
        return _Cell(room.translated(0, -up), cell.floor - up, cell.row)

    def mark(self, chosen: int) -> None:
        """Let another vessel be the chosen one."""
        ids = [vessel.vessel_id for vessel in self._vessels]
        if chosen in ids and ids[self._at] != chosen:
            self._at = ids.index(chosen)
            self.update()
            self._tell()

    @property
    def current(self) -> VesselLine | None:
        """The vessel that is chosen."""
        return self._vessels[self._at] if self._at < len(self._vessels) else None

    def room_of_current(self) -> QRect:
        """Where the chosen vessel stands."""
        return self._cells[self._at].room if self._at < len(self._cells) else QRect()

    def lay_out(self) -> None:
        """Find a place for each, in rows as wide as there is room."""
        self._cells = self._laid(self.width())
        self.setMinimumHeight(self.heightForWidth(self.width()))
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        """The narrower, the higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """How high the rows stand at that width, in pixels."""
        cells = self._cells if width == self.width() else self._laid(width)
        return max((cell.room.bottom() + 1 for cell in cells), default=look.TARGET)

    def sizeHint(self) -> QSize:
        """Three across."""
        width = round(3 * CELL * look.text_scale())
        return QSize(width, self.heightForWidth(width))

    def _laid(self, width: int) -> list[_Cell]:
        scale, cells, row = look.text_scale(), [], 0
        x, y = 0, 0
        waiting: list[tuple[int, int, int, int]] = []

        def close() -> None:
            nonlocal y, row, waiting
            tall = max((drawn for _, _, drawn, _ in waiting), default=0)
            words = max((said for _, _, _, said in waiting), default=0)
            for left, wide, _, _ in waiting:
                high = PAD + tall + words + PAD
                cells.append(_Cell(QRect(left, y, wide, high), y + PAD + tall, row))
            y += PAD + tall + words + PAD + look.GAP
            row += 1
            waiting = []

        for vessel in self._vessels:
            drawn = round(vessel.figure.height * drawn_px())
            wide = max(round(CELL * scale), round(vessel.figure.width * drawn_px()) + 2 * PAD)
            if waiting and x + wide > width:
                close()
                x = 0
            waiting.append((x, wide, drawn, self._words_high(vessel, _words_wide(wide))))
            x += wide
        if waiting:
            close()
        return cells

    def _fonts(self) -> tuple[QFont, QFont]:
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.DemiBold)
        return bold, self.font()

    def _words_high(self, vessel: VesselLine, width: int) -> int:
        bold, plain = (QFontMetrics(font) for font in self._fonts())
        room = QRect(0, 0, width, 10_000)
        narrow = QRect(0, 0, width - self._indent(vessel), 10_000)
        return (
            6
            + bold.boundingRect(room, _WRAP, vessel.name).height()
            + plain.boundingRect(room, _WRAP, vessel.second).height()
            + 4
            + bold.boundingRect(narrow, _WRAP, vessel.band_text).height()
            + plain.boundingRect(room, _WRAP, vessel.short).height()
        )

    @staticmethod
    def _indent(vessel: VesselLine) -> int:
        return 0 if vessel.band is None else round((SWATCH_WIDE + 8) * look.text_scale())

    # -- painting ------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for place, (vessel, cell) in enumerate(zip(self._vessels, self._cells, strict=True)):
            if cell.room.intersects(event.rect()):
                self._paint(painter, place, vessel, cell)
        for place, line, cell in self._mixed():
            over = self._over(cell, line)
            painter.fillRect(over.room, look.current().colour("sheet"))
            self._paint(painter, place, line, over)
        if self._drag is not None and self._pressed is not None:
            self._paint_drag(painter, self._drag, self._cells[self._pressed])
        painter.end()

    def _paint(self, painter: QPainter, place: int, vessel: VesselLine, cell: _Cell) -> None:
        colours, _scale = look.current(), look.text_scale()
        room = cell.room
        if place == self._at:
            painter.fillRect(room, colours.colour("wash"))
            bar = QRect(room.left(), room.top(), look.BAR, room.height())
            painter.fillRect(bar, colours.colour("ink"))
        k = drawn_px()
        surface = PaintedSurface(painter, k)
        painter.save()
        draw_vessel(surface, vessel.figure, (room.left() + PAD) / k, cell.floor / k)
        painter.restore()
        self._paint_words(painter, vessel, cell)
        if place == self._at and self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(colours.colour("blue"), look.RING))
            painter.drawRect(room.adjusted(2, 2, -2, -2))
        if self._drag is not None and place == self._under(self._drag) != self._pressed:
            painter.setPen(QPen(colours.colour("blue"), look.RING, Qt.PenStyle.DashLine))
            painter.drawRect(room.adjusted(2, 2, -2, -2))

    def _paint_words(self, painter: QPainter, vessel: VesselLine, cell: _Cell) -> None:
        colours, scale = look.current(), look.text_scale()
        bold, plain = self._fonts()
        left, width = cell.room.left() + PAD + _INSET, _words_wide(cell.room.width())
        y = cell.floor + 6

        def write(text: str, font: QFont, token: str, indent: int = 0) -> int:
            painter.setFont(font)
            painter.setPen(colours.colour(token))
            room = QRect(left + indent, y, width - indent, 10_000)
            drawn = painter.boundingRect(room, _WRAP, text)
            painter.drawText(room, _WRAP, text)
            return y + drawn.height()

        y = write(vessel.name, bold, "ink")
        y = write(vessel.second, plain, "pencil") + 4
        indent = self._indent(vessel)
        if vessel.band is not None:
            k = PX * scale
            high = SWATCH_HIGH * scale
            top = y + (QFontMetrics(bold).height() - high) / 2
            swatch(painter, vessel, QRectF(left, top, SWATCH_WIDE * scale, high), k)
        token = "pencil" if vessel.band is None else TOKENS[vessel.band]
        y = write(vessel.band_text, bold, token, indent)
        write(vessel.short, plain, "pencil")

    def _paint_drag(self, painter: QPainter, to: QPointF, cell: _Cell) -> None:
        start = QPointF(cell.room.center().x(), cell.floor)
        painter.setPen(QPen(look.current().colour("blue"), look.RING))
        painter.drawLine(start, to)
        painter.setBrush(look.current().colour("blue"))
        painter.drawPolygon(QPolygonF([to, to + QPointF(-7, -14), to + QPointF(7, -14)]))

    # -- choosing ------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        match event.key():
            case Qt.Key.Key_Left:
                self._go(self._at - 1)
            case Qt.Key.Key_Right:
                self._go(self._at + 1)
            case Qt.Key.Key_Up | Qt.Key.Key_Down as key:
                self._go(self._in_row(-1 if key == Qt.Key.Key_Up else 1))
            case Qt.Key.Key_Home:
                self._go(0)
            case Qt.Key.Key_End:
                self._go(len(self._vessels) - 1)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter | Qt.Key.Key_Space:
                self.actsWanted.emit()
            case _:
                super().keyPressEvent(event)

    def _in_row(self, step: int) -> int:
        """The vessel above or below: of the next row the one whose middle is nearest."""
        if not self._cells:
            return 0
        here = self._cells[self._at]
        others = [
            (abs(cell.room.center().x() - here.room.center().x()), place)
            for place, cell in enumerate(self._cells)
            if cell.row == here.row + step
        ]
        return min(others)[1] if others else self._at

    def _go(self, place: int) -> None:
        if not 0 <= place < len(self._vessels):
            return
        moved, self._at = place != self._at, place
        self.update()
        self._tell()
        self.cellMoved.emit(self._cells[place].room)
        if moved:
            self.chosen.emit(self._vessels[place].vessel_id)

    def _tell(self) -> None:
        """Say aloud which vessel is chosen, and all there is to know of it."""
        vessel = self.current
        self.setAccessibleDescription(self._said if vessel is None else vessel.said)
        if self.hasFocus():
            event = QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
            QAccessible.updateAccessibility(event)

    # -- the mouse -----------------------------------------------------------------------------

    def _under(self, point: QPointF) -> int | None:
        at = point.toPoint()
        return next((n for n, cell in enumerate(self._cells) if cell.room.contains(at)), None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._pressed = self._under(event.position())
        self._from = event.position()
        if self._pressed is not None:
            self._go(self._pressed)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None:
            return
        if (event.position() - self._from).manhattanLength() > _DRAGGED or self._drag is not None:
            before, self._drag = self._target(), event.position()
            self.setCursor(Qt.CursorShape.DragMoveCursor)
            self.update()
            now = self._target()
            if now != before:
                over = 0 if now is None else self._vessels[now].vessel_id
                self.heldOver.emit(self._vessels[self._pressed].vessel_id, over)

    def _target(self) -> int | None:
        """The vessel that another one is dragged over."""
        found = None if self._drag is None else self._under(self._drag)
        return None if found == self._pressed else found

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        source, dragged = self._pressed, self._drag is not None
        self._pressed, self._drag = None, None
        self.show_mix(())
        self.unsetCursor()
        self.update()
        target = self._under(event.position())
        if dragged and source is not None and target is not None and target != source:
            self.pourWanted.emit(self._vessels[source].vessel_id, self._vessels[target].vessel_id)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self._under(event.position()) is not None:
            self.actsWanted.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.lay_out()


def _words_wide(cell: int) -> int:
    """How wide the words are in a cell of that width: laid out and painted alike."""
    return cell - 2 * PAD - _INSET


def drawn_px() -> float:
    """Pixels a millimetre at the text size in force; very large text leaves room for the words."""
    return PX * min(look.text_scale(), 1.4)


def swatch(painter: QPainter, vessel: VesselLine, room: QRectF, k: float) -> None:
    """A small field of the band's texture, to stand before its word."""
    if vessel.band is None:
        return
    painter.save()
    painter.fillRect(room, look.current().colour("sheet"))
    surface = PaintedSurface(painter, k)
    texture(
        surface,
        TEXTURES[vessel.band],
        room.left() / k,
        room.top() / k,
        room.width() / k,
        room.height() / k,
    )
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(look.current().colour("ink"), look.LINE))
    painter.drawRect(room)
    painter.restore()
