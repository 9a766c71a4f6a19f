"""The lists of the fleet room: frozen rows, columns as objects, cells of two lines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QSize,
    Qt,
)
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import (
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from app.fleet.state import MachineLine, RecordLine, TaskLine
from app.pieces import look
from app.pieces.plate import COLOURS, draw_plate
from schedules.states import MachineState, TaskState

Index = QModelIndex | QPersistentModelIndex
Row = TypeVar("Row", MachineLine, TaskLine, RecordLine)

SECOND_ROLE = int(Qt.ItemDataRole.UserRole) + 1
ICON_ROLE = SECOND_ROLE + 1
STATE_ROLE = SECOND_ROLE + 2
TOKEN_ROLE = SECOND_ROLE + 3

TASK_TOKENS = {
    TaskState.OVERDUE: "madder",
    TaskState.NOT_KNOWN: "pencil",
    TaskState.DUE: "ink",
    TaskState.COMING: "ink",
    TaskState.CLEAR: "pencil",
}


@dataclass(frozen=True, slots=True)
class Column(Generic[Row]):
    """One column: its heading, its two lines of text, what is drawn before them, and what is said
    of it aloud where that is not its text."""

    heading: str
    first: Callable[[Row], str]
    second: Callable[[Row], str]
    width: int
    icon: Callable[[Row], str] = lambda _row: ""
    plate: bool = False
    token: Callable[[Row], str] = lambda _row: "ink"
    spoken: Callable[[Row], str] | None = None


def machine_columns(
    heads: tuple[str, str, str], said: Callable[[MachineLine], str]
) -> tuple[Column[MachineLine], ...]:
    """Machine, how it is, its year; `said` puts a year into words."""
    return (
        Column(
            heads[0],
            lambda row: row.name,
            lambda row: row.second,
            look.NAME_WIDTH,
            lambda row: row.icon,
        ),
        Column(
            heads[1],
            lambda row: row.state_text,
            lambda row: row.ground_text,
            look.STATE_WIDTH,
            plate=True,
            token=lambda row: COLOURS[row.state],
        ),
        Column(heads[2], lambda _row: "", lambda _row: "", look.YEAR_WIDTH, spoken=said),
    )


def task_columns(heads: tuple[str, str, str]) -> tuple[Column[TaskLine], ...]:
    """The work, when, how it stands."""
    return (
        Column(heads[0], lambda row: row.name, lambda row: row.because, 300),
        Column(heads[1], lambda row: row.when_text, lambda row: row.when_second, 150),
        Column(
            heads[2],
            lambda row: row.state_text,
            lambda row: row.minutes_text,
            130,
            token=lambda row: TASK_TOKENS[row.state],
        ),
    )


def record_columns(heads: tuple[str, str]) -> tuple[Column[RecordLine], ...]:
    """The day, what was entered."""
    return (
        Column(heads[0], lambda row: row.day_text, lambda row: row.area_text, 150),
        Column(heads[1], lambda row: row.text, lambda row: row.second, 430),
    )


class RowsModel(QAbstractTableModel, Generic[Row]):
    """A table over a tuple of frozen rows."""

    def __init__(self, columns: tuple[Column[Row], ...], parent: QWidget) -> None:
        super().__init__(parent)
        self._columns = columns
        self._rows: tuple[Row, ...] = ()

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows shown."""
        return self._rows

    def show_rows(self, rows: tuple[Row, ...]) -> bool:
        """Show other rows. While they are as many as before, cells change in place; otherwise
        everything starts anew, and True comes back: choice and place in the list are then lost."""
        before, self._rows = self._rows, rows
        if len(rows) != len(before) or not rows:
            self._rows = before
            self.beginResetModel()
            self._rows = rows
            self.endResetModel()
            return True
        changed = [place for place, row in enumerate(rows) if row is not before[place]]
        if changed:
            end = self.index(changed[-1], len(self._columns) - 1)
            self.dataChanged.emit(self.index(changed[0], 0), end)
        return False

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self._columns)

    def data(self, index: Index, role: int = int(Qt.ItemDataRole.DisplayRole)) -> Any:
        if not index.isValid():
            return None
        column, row = self._columns[index.column()], self._rows[index.row()]
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return column.first(row)
            case _ if role == SECOND_ROLE:
                return column.second(row)
            case Qt.ItemDataRole.ToolTipRole if column.plate:
                return column.second(row)
            case _ if role == ICON_ROLE:
                return column.icon(row)
            case _ if role == STATE_ROLE:
                return str(row.state) if column.plate and isinstance(row, MachineLine) else ""
            case _ if role == TOKEN_ROLE:
                return column.token(row)
            case Qt.ItemDataRole.AccessibleTextRole | Qt.ItemDataRole.AccessibleDescriptionRole:
                if column.spoken is not None:
                    return column.spoken(row)
                return ". ".join(part for part in (column.first(row), column.second(row)) if part)
            case _:
                return None

    def headerData(
        self,
        section: int,
        orientation: Qt.Orientation,
        role: int = int(Qt.ItemDataRole.DisplayRole),
    ) -> Any:
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._columns[section].heading
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        return None


class TwoLines(QStyledItemDelegate):
    """Draws a cell of two lines, wrapped within its width and never cut."""

    PAD = 6

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        table = self.parent()
        width = option.rect.width()
        if isinstance(table, QTableView):
            width = table.columnWidth(index.column())
        # A little narrower than it will be drawn: letters on a screen are not quite as measured.
        first, second = self._boxes(option, index, width - self.PAD)
        return QSize(width, max(self._least(), first.height() + second.height() + 2 * self.PAD))

    def _least(self) -> int:
        """Height of a row with little in it."""
        return look.TARGET + 4

    def _second_font(self, option: QStyleOptionViewItem) -> QFont:
        return option.font

    def _second_text(self, _option: QStyleOptionViewItem, index: Index, _width: int) -> str:
        """What is drawn as the second line, within so many pixels."""
        return str(index.data(SECOND_ROLE))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        colours = look.current()
        painter.save()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(option.rect, colours.colour("wash"))
            if index.column() == 0:
                bar = QRect(option.rect.left(), option.rect.top(), 6, option.rect.height())
                painter.fillRect(bar, colours.colour("ink"))
        painter.setPen(QPen(colours.colour("hair"), 1))
        painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        self._mark(painter, option, index, colours)
        first, second = self._boxes(option, index, option.rect.width())
        left, top = option.rect.left() + self._indent(option, index), option.rect.top() + self.PAD
        painter.setFont(self._bold(option))
        painter.setPen(colours.colour(str(index.data(TOKEN_ROLE))))
        painter.drawText(
            first.translated(left, top), _FLAGS, str(index.data(Qt.ItemDataRole.DisplayRole))
        )
        painter.setPen(colours.colour("pencil"))
        below = second.translated(left, top + first.height())
        painter.setFont(self._second_font(option))
        painter.drawText(below, _FLAGS, self._second_text(option, index, second.width()))
        painter.restore()

    def _mark(
        self, painter: QPainter, option: QStyleOptionViewItem, index: Index, colours: look.Look
    ) -> None:
        state, icon = index.data(STATE_ROLE), index.data(ICON_ROLE)
        size = self._mark_size(option)
        left, top = option.rect.left() + 14, option.rect.top() + self.PAD
        if state:
            at = QPointF(left, top + 2)
            draw_plate(painter, MachineState(state), colours, at, size / 34)
        elif icon:
            ratio = painter.device().devicePixelRatioF()
            painter.drawPixmap(left, top, look.icon(icon, size, colours.ink, ratio))

    @staticmethod
    def _mark_size(option: QStyleOptionViewItem) -> int:
        return round(option.fontMetrics.height() * 1.7)

    def _indent(self, option: QStyleOptionViewItem, index: Index) -> int:
        marked = index.data(STATE_ROLE) or index.data(ICON_ROLE)
        return 14 + (self._mark_size(option) + 10 if marked else 0)

    def _boxes(self, option: QStyleOptionViewItem, index: Index, width: int) -> tuple[QRect, QRect]:
        room = QRect(0, 0, max(60, width - self._indent(option, index) - self.PAD), 10_000)
        bold = QFontMetrics(self._bold(option))
        first = bold.boundingRect(room, _FLAGS, str(index.data(Qt.ItemDataRole.DisplayRole)))
        second_text = self._second_text(option, index, room.width())
        second = QRect()
        if second_text:
            metrics = QFontMetrics(self._second_font(option))
            second = metrics.boundingRect(room, _FLAGS, second_text)
        first.setWidth(room.width())
        second.setWidth(room.width())
        return first, second

    @staticmethod
    def _bold(option: QStyleOptionViewItem) -> QFont:
        font = QFont(option.font)
        font.setWeight(QFont.Weight.DemiBold)
        return font


_FLAGS = int(
    Qt.TextFlag.TextWordWrap.value
    | Qt.AlignmentFlag.AlignLeft.value
    | Qt.AlignmentFlag.AlignTop.value
)
