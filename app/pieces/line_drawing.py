"""Our line drawings of what to measure and where, in the ink of the look."""

from __future__ import annotations

from importlib.resources import files

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer


def line_drawing(name: str, width: int, colour: str, ratio: float = 1.0) -> QPixmap:
    """A drawing as wide as asked, in pixels, three quarters as high. A name we have not: nothing
    drawn."""
    size = QSize(round(width * ratio), round(width * ratio * 3 / 4))
    pixmap = QPixmap(size)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    source = files("resources").joinpath("drawings", f"{name}.svg")
    if source.is_file():
        svg = source.read_text("utf-8").replace("currentColor", colour)
        painter = QPainter(pixmap)
        QSvgRenderer(QByteArray(svg.encode())).render(painter)
        painter.end()
    return pixmap
