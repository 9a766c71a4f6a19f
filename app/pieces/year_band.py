# pyright: standard
"""Draws the year of a machine: one line that steps up for the season, pegs below, signs above.

Every sort of mark has a shape of its own; colour only repeats what the shape says.
"""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from app.pieces import look
from app.pieces.look import Look
from app.pieces.year import ABOVE, BAY, NEAR_DAYS, MarkSort, Peg, Year, pegs, x_of

WEEK = 7


def draw_year(
    painter: QPainter, room: QRectF, year: Year, colours: Look, scale: float, focused: int | None
) -> None:
    """Draw the year into a row; `focused`: which of its pegs has the focus."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    ground = room.center().y() + 4 * scale
    _draw_line(painter, room, year, ground, colours, scale)
    _draw_today(painter, room, colours, scale)
    found = pegs(year, room.width(), scale)
    for number, peg in enumerate(found):
        _draw_whisker(painter, room, year, peg, ground, colours, scale)
        x = room.left() + peg.x
        draw_mark(painter, QPointF(x, ground), peg.sort, colours, scale)
        if peg.count > 1:
            _draw_count(painter, QPointF(x, ground), peg, colours, scale)
        if number == focused:
            _draw_ring(painter, QPointF(x, ground), peg, colours, scale)
    painter.restore()


def _draw_line(
    painter: QPainter, room: QRectF, year: Year, ground: float, colours: Look, scale: float
) -> None:
    """The line of the year: up for the season, down again."""
    left, width = room.left(), room.width()
    up = ground - look.STEP * scale
    path = QPainterPath(QPointF(left + x_of(0, year.days, width, scale), ground))
    for first, last in year.seasons:
        start = left + x_of(first, year.days, width, scale)
        end = left + x_of(last, year.days, width, scale)
        painter.fillRect(QRectF(start, up, end - start, ground - up), colours.colour("wash"))
        if first > 0:
            path.lineTo(start, ground)
        path.lineTo(start, up)
        path.lineTo(end, up)
        if last < year.days:
            path.lineTo(end, ground)
    if not (year.seasons and year.seasons[-1][1] >= year.days):
        path.lineTo(left + x_of(year.days, year.days, width, scale), ground)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colours.colour("ink"), look.LINE * scale))
    painter.drawPath(path)


def _draw_today(painter: QPainter, room: QRectF, colours: Look, scale: float) -> None:
    painter.setPen(QPen(colours.colour("ink"), look.STOP * scale))
    x = room.left() + BAY * scale
    painter.drawLine(QPointF(x, room.top()), QPointF(x, room.bottom()))


def _draw_whisker(
    painter: QPainter,
    room: QRectF,
    year: Year,
    peg: Peg,
    ground: float,
    colours: Look,
    scale: float,
) -> None:
    """From when with more use to when with less: reckoned, so dashed."""
    early = min(mark.early for mark in peg.marks)
    late = max(mark.late for mark in peg.marks)
    if late <= early or peg.sort is MarkSort.OVERDUE:
        return
    y = ground + (look.PEG + 8) * scale
    ends = [room.left() + x_of(day, year.days, room.width(), scale) for day in (early, late)]
    pen = QPen(colours.colour("rule"), 1.2 * scale, Qt.PenStyle.DashLine)
    painter.setPen(pen)
    painter.drawLine(QPointF(ends[0], y), QPointF(ends[1], y))
    painter.setPen(QPen(colours.colour("rule"), 1.2 * scale))
    for x in ends:
        painter.drawLine(QPointF(x, y - 3 * scale), QPointF(x, y + 3 * scale))


def draw_mark(painter: QPainter, at: QPointF, sort: MarkSort, colours: Look, scale: float) -> None:
    """One mark on the line of the year, whose height is that of the point."""
    painter.save()
    painter.translate(at)
    painter.scale(scale, scale)
    _DRAWERS[sort](painter, colours)
    painter.restore()


def _peg(painter: QPainter, colours: Look, fill: str, *, dashed: bool = False) -> None:
    half = look.PEG / 2
    style = Qt.PenStyle.DashLine if dashed else Qt.PenStyle.SolidLine
    painter.setPen(QPen(colours.colour("ink"), look.LINE))
    painter.drawLine(QPointF(0, 0), QPointF(0, 4))
    painter.setPen(QPen(colours.colour("ink"), look.LINE, style))
    painter.setBrush(colours.colour(fill))
    painter.drawRect(QRectF(-half, 4, look.PEG, look.PEG))


def _overdue(painter: QPainter, colours: Look) -> None:
    """A peg with a point that runs against the line of today."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.colour("madder"))
    half = look.PEG / 2
    points = [(-half - 3, 4), (half - 1, 4), (half + 5, 4 + half), (half - 1, 4 + look.PEG)]
    points.append((-half - 3, 4 + look.PEG))
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in points]))


def _not_known(painter: QPainter, colours: Look) -> None:
    _peg(painter, colours, "paper", dashed=True)


def _due(painter: QPainter, colours: Look) -> None:
    _peg(painter, colours, "ink")


def _coming(painter: QPainter, colours: Look) -> None:
    _peg(painter, colours, "paper")


def _later(painter: QPainter, colours: Look) -> None:
    painter.setPen(QPen(colours.colour("ink"), look.LINE))
    painter.drawLine(QPointF(0, 0), QPointF(0, 9))


def _fuel(painter: QPainter, colours: Look) -> None:
    """A drop that has left the line upwards."""
    path = QPainterPath(QPointF(0, -26))
    path.cubicTo(QPointF(2, -21), QPointF(6, -18), QPointF(6, -13))
    path.cubicTo(QPointF(6, -9), QPointF(3, -7), QPointF(0, -7))
    path.cubicTo(QPointF(-3, -7), QPointF(-6, -9), QPointF(-6, -13))
    path.cubicTo(QPointF(-6, -18), QPointF(-2, -21), QPointF(0, -26))
    painter.setPen(QPen(colours.colour("ink"), look.LINE))
    painter.setBrush(colours.colour("paper"))
    painter.drawPath(path)


def _flag(painter: QPainter, colours: Look) -> None:
    """A flag flown towards today."""
    painter.setPen(QPen(colours.colour("ink"), look.LINE))
    painter.drawLine(QPointF(0, 0), QPointF(0, -27))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colours.colour("ink"))
    painter.drawPolygon(QPolygonF([QPointF(0, -27), QPointF(-13, -22), QPointF(0, -16)]))


_DRAWERS = {
    MarkSort.OVERDUE: _overdue,
    MarkSort.NOT_KNOWN: _not_known,
    MarkSort.DUE: _due,
    MarkSort.COMING: _coming,
    MarkSort.LATER: _later,
    MarkSort.FUEL: _fuel,
    MarkSort.FLAG: _flag,
}


def _draw_count(painter: QPainter, at: QPointF, peg: Peg, colours: Look, scale: float) -> None:
    """How many, beside the peg; in the bay beneath it, where there is no room beside."""
    painter.setPen(colours.colour("madder" if peg.sort is MarkSort.OVERDUE else "ink"))
    text, metrics = str(peg.count), QFontMetricsF(painter.font())
    width = metrics.horizontalAdvance(text)
    if peg.sort is MarkSort.OVERDUE:
        x = at.x() - (look.PEG / 2 + 6) * scale - width
        painter.drawText(QPointF(x, at.y() + (look.PEG + 4) * scale), text)
        return
    if peg.sort in ABOVE:
        painter.drawText(QPointF(at.x() + 8 * scale, at.y() - look.STEP * scale), text)
        return
    x = at.x() + (look.PEG / 2 + 3) * scale
    painter.drawText(QPointF(x, at.y() + (look.PEG + 4) * scale), text)


def _draw_ring(painter: QPainter, at: QPointF, peg: Peg, colours: Look, scale: float) -> None:
    """The focus: a ring in blue around the mark, with ground between."""
    above = peg.sort in ABOVE
    top, height = (-30.0, 33.0) if above else (0.0, 21.0)
    left, width = (-17.0, 26.0) if peg.sort is MarkSort.FLAG else (-12.0, 24.0)
    if peg.sort is MarkSort.OVERDUE and peg.count > 1:
        left, width = -26.0, 38.0
    ring = QRectF(at.x() + left * scale, at.y() + top * scale, width * scale, height * scale)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(colours.colour("blue"), look.RING * scale))
    painter.drawRoundedRect(ring, 2 * scale, 2 * scale)


def draw_head(
    painter: QPainter,
    room: QRectF,
    today: date,
    year: Year,
    months: tuple[str, ...],
    today_text: str,
    colours: Look,
    scale: float,
) -> None:
    """The rule above the rows: weeks near by, months further on, a break where the scale changes.

    `months`: the names of thirteen months from this one on.
    """
    painter.save()
    base = room.bottom() - 1
    metrics = QFontMetricsF(painter.font())
    first = today.replace(day=1)
    taken = room.left()
    for number, name in enumerate(months):
        month = _months_on(first, number)
        day = (month - today).days
        x = room.left() + x_of(max(day, 0), year.days, room.width(), scale)
        if day > 0:
            _tick(painter, x, base, 12 * scale, colours)
        width = metrics.horizontalAdvance(name)
        ends = room.right()
        if number == 0:  # what is left of this month may be a few days
            left_over = (_months_on(first, 1) - today).days
            ends = room.left() + x_of(left_over, year.days, room.width(), scale)
        if x >= taken and x + 5 * scale + width < ends:
            start = x + 5 * scale
            painter.setPen(colours.colour("pencil"))
            painter.drawText(QPointF(start, base - 14 * scale), name)
            taken = start + width + 3 * scale
    for week in range(WEEK, NEAR_DAYS + 1, WEEK):
        x = room.left() + x_of(week, year.days, room.width(), scale)
        _tick(painter, x, base, 5 * scale, colours)
    x = room.left() + x_of(NEAR_DAYS, year.days, room.width(), scale)
    painter.setPen(QPen(colours.colour("ink"), look.LINE))
    for shift in (-2.0, 2.0):  # the scale changes here
        painter.drawLine(
            QPointF(x + (shift - 2) * scale, base + 1),
            QPointF(x + (shift + 2) * scale, base - 8 * scale),
        )
    today_x = room.left() + BAY * scale
    painter.setPen(colours.colour("ink"))
    width = metrics.horizontalAdvance(today_text)
    painter.drawText(QPointF(today_x - width - 5 * scale, base - 14 * scale), today_text)
    painter.setPen(QPen(colours.colour("ink"), look.STOP * scale))
    painter.drawLine(QPointF(today_x, base - 14 * scale), QPointF(today_x, base))
    painter.restore()


def _tick(painter: QPainter, x: float, base: float, height: float, colours: Look) -> None:
    painter.setPen(QPen(colours.colour("rule"), 1.2))
    painter.drawLine(QPointF(x, base), QPointF(x, base - height))


def _months_on(first: date, number: int) -> date:
    years, month = divmod(first.month - 1 + number, 12)
    return date(first.year + years, month + 1, 1)


def day_at(today: date, day: int) -> date:
    """The day so many days from today."""
    return today + timedelta(days=day)
