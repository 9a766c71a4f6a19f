# pyright: standard
"""A machine's state as an enamel plate: whole, corner gone, broken, lying down, an empty place."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from app.pieces.look import Look
from schedules.states import MachineState

WIDTH, HEIGHT = 26.0, 20.0
COLOURS = {
    MachineState.FIT: "spruce",
    MachineState.WITH_CARE: "ochre",
    MachineState.DOWN: "madder",
    MachineState.LAID_UP: "ink",
    MachineState.UNKNOWN: "pencil",
}


def draw_plate(
    painter: QPainter, state: MachineState, look: Look, at: QPointF, scale: float
) -> None:
    """Draw the plate with its top left corner at a point; 26 x 20 pixels at scale 1."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(at)
    painter.scale(scale, scale)
    _DRAWERS[state](painter, look.colour(COLOURS[state]), look.colour("paper"))
    painter.restore()


def _solid(painter: QPainter, colour: QColor, points: list[tuple[float, float]]) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in points]))


def _rivets(painter: QPainter, ground: QColor, *places: float) -> None:
    painter.setBrush(ground)
    for x in places:
        painter.drawEllipse(QPointF(x, HEIGHT / 2), 1.6, 1.6)


def _fit(painter: QPainter, colour: QColor, ground: QColor) -> None:
    _solid(painter, colour, [(0, 1), (WIDTH, 1), (WIDTH, HEIGHT - 1), (0, HEIGHT - 1)])
    _rivets(painter, ground, 4, WIDTH - 4)


def _with_care(painter: QPainter, colour: QColor, ground: QColor) -> None:
    corner = [(0, 1), (WIDTH - 11, 1), (WIDTH, 11), (WIDTH, HEIGHT - 1), (0, HEIGHT - 1)]
    _solid(painter, colour, corner)
    _rivets(painter, ground, 4)


def _down(painter: QPainter, colour: QColor, _ground: QColor) -> None:
    _solid(painter, colour, [(0, 0), (12, 0), (8, HEIGHT - 3), (0, HEIGHT - 3)])
    _solid(painter, colour, [(16, 3), (WIDTH, 3), (WIDTH, HEIGHT), (12, HEIGHT)])


def _laid_up(painter: QPainter, colour: QColor, _ground: QColor) -> None:
    _solid(painter, colour, [(0, HEIGHT - 7), (WIDTH, HEIGHT - 7), (WIDTH, HEIGHT), (0, HEIGHT)])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour, 1.2, Qt.PenStyle.DotLine))
    painter.drawRect(QRectF(5, 0.6, WIDTH - 10, HEIGHT - 9))


def _unknown(painter: QPainter, colour: QColor, _ground: QColor) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colour, 1.6, Qt.PenStyle.DashLine))
    painter.drawRect(QRectF(0.8, 1.8, WIDTH - 1.6, HEIGHT - 3.6))


_DRAWERS = {
    MachineState.FIT: _fit,
    MachineState.WITH_CARE: _with_care,
    MachineState.DOWN: _down,
    MachineState.LAID_UP: _laid_up,
    MachineState.UNKNOWN: _unknown,
}
