"""The list of machines: two columns of words and the year of each, worked by keys alone.

Up and Down choose a machine, Left and Right go along the marks of its year, Home goes back to
today, Enter asks for the grounds of the mark, or opens the machine.
"""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import (
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QFont,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from app.fleet.state import MachineLine, YearDays
from app.fleet.table import RowsModel, TwoLines
from app.pieces import look
from app.pieces.year import NO_YEAR, Peg, Year, YearMark, pegs
from app.pieces.year_band import draw_head, draw_year

Index = QModelIndex | QPersistentModelIndex
STATE_COLUMN, YEAR_COLUMN = 1, 2
FEW = 200
_SELECT = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows


class _YearHead(QHeaderView):
    """The heads of the columns; over the years stands the rule of days."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.today: date | None = None
        self.days = NO_YEAR.days
        self.months: tuple[str, ...] = ()
        self.today_text = ""

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(hint.width(), self.fontMetrics().height() + look.px(14, look.text_scale()))

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        super().paintSection(painter, rect, section)
        if section == YEAR_COLUMN and self.today is not None:
            year = Year(days=self.days)
            draw_head(
                painter,
                QRectF(rect),
                self.today,
                year,
                self.months,
                self.today_text,
                look.current(),
                look.text_scale(),
            )


class _YearCell(QStyledItemDelegate):
    """Draws the year of a machine; nothing is worked out here."""

    def __init__(self, table: MachineTable) -> None:
        super().__init__(table)
        self._table = table

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        return QSize(look.YEAR_WIDTH, look.px(look.ROW, look.text_scale()))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        colours = look.current()
        painter.setPen(QPen(colours.colour("hair"), 1))
        painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        line = self._table.line(index.row())
        if line is None:
            return
        painter.setFont(option.font)
        focused = self._table.peg_number if index.row() == self._table.row() else None
        if not self._table.hasFocus():
            focused = None
        scale = look.text_scale()
        draw_year(painter, QRectF(option.rect), line.year, colours, scale, focused)


class _MachineLines(TwoLines):
    """Name and place whole; of the ground as much as one line holds, the rest on a hover, aloud
    and with the machine. In large letters it wraps instead."""

    PAD = 5
    LARGE = 1.5

    def _least(self) -> int:
        return look.px(look.ROW, look.text_scale())

    def _second_font(self, option: QStyleOptionViewItem) -> QFont:
        font = QFont(option.font)
        font.setPixelSize(look.px(look.SECOND, look.text_scale()))
        return font

    def _second_text(self, option: QStyleOptionViewItem, index: Index, width: int) -> str:
        said = super()._second_text(option, index, width)
        if index.column() != STATE_COLUMN or look.text_scale() >= self.LARGE:
            return said
        metrics = QFontMetrics(self._second_font(option))
        return metrics.elidedText(said, Qt.TextElideMode.ElideRight, width)


class MachineTable(QTableView):
    """Shows machines. `pegFocused` follows every move along a year; the ids do not change with
    the order."""

    machineChosen = Signal(int)
    opened = Signal(int)
    whyWanted = Signal(int, object)
    pegFocused = Signal()

    def __init__(self, model: RowsModel[MachineLine], name: str) -> None:
        super().__init__()
        self._lines = model
        self._mark: YearMark | None = None
        self._quiet = False
        self.head = _YearHead(self)
        self.setHorizontalHeader(self.head)
        self.setModel(model)
        self.setItemDelegate(_MachineLines(self))
        self.setItemDelegateForColumn(YEAR_COLUMN, _YearCell(self))
        self.setAccessibleName(name)
        self.setShowGrid(False)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(look.TARGET)
        self.head.setHighlightSections(False)
        self.head.setSectionsClickable(False)
        self.head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.head.setMinimumSectionSize(0)
        self.selectionModel().currentRowChanged.connect(self._row_chosen)

    # -- showing -------------------------------------------------------------------------------

    def show_lines(self, lines: tuple[MachineLine, ...], wanted: int | None) -> None:
        """Show these machines; the chosen one stays where it is on the screen, by its id."""
        keep = wanted if wanted is not None else self.chosen_id()
        at = self._place()
        self._lines.show_rows(lines)
        self._fit_rows()
        ids = [line.machine_id for line in lines]
        if keep not in ids:
            return
        row = ids.index(keep)
        if row != self.row():
            self._quiet = True
            self.selectionModel().setCurrentIndex(self._lines.index(row, 0), _SELECT)
            self._quiet = False
        self._keep_place(at)

    def _place(self) -> int | None:
        """Where on the screen the chosen row stands; None when it is not to be seen."""
        row = self.row()
        at = self.rowViewportPosition(row) if row >= 0 else -1
        return at if 0 <= at < self.viewport().height() else None

    def _keep_place(self, at: int | None) -> None:
        """Bring the chosen row back to where it stood, whatever happened to rows and heights."""
        row = self.row()
        if row < 0 or at is None:
            return
        self.updateGeometries()  # so that the bar knows how far it may go
        bar = self.verticalScrollBar()
        lowest = max(0, self.viewport().height() - self.rowHeight(row))
        bar.setValue(bar.value() + self.rowViewportPosition(row) - min(at, lowest))

    def show_days(self, days: YearDays) -> None:
        """Which days the rule on top is of."""
        self.head.today, self.head.days = days.today, days.days
        self.head.months, self.head.today_text = days.months, days.today_text
        self.head.viewport().update()

    def line(self, row: int) -> MachineLine | None:
        """The machine of a row."""
        return self._lines.rows[row] if 0 <= row < len(self._lines.rows) else None

    def row(self) -> int:
        """The row that is chosen; -1 for none."""
        return self.currentIndex().row()

    def chosen_id(self) -> int | None:
        """The machine that is chosen."""
        line = self.line(self.row())
        return None if line is None else line.machine_id

    def show_year(self, *, wide: bool) -> None:
        """Whether there is room for the years."""
        if self.isColumnHidden(YEAR_COLUMN) is not wide:
            return
        at = self._place()
        self.setColumnHidden(YEAR_COLUMN, not wide)
        self._share_width()
        self._keep_place(at)

    def _fit_rows(self) -> None:
        """Rows as high as their text; of very many, all of the usual height."""
        if self._lines.rowCount() <= FEW:
            self.resizeRowsToContents()
        else:
            self.verticalHeader().setDefaultSectionSize(look.px(look.ROW, look.text_scale()))

    def restyle(self) -> None:
        """Lay everything out again, after another look or text size."""
        self._share_width()
        self._fit_rows()
        self.head.updateGeometry()
        self.head.viewport().update()
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        at = self._place()
        super().resizeEvent(event)
        self._share_width()
        self._fit_rows()
        self._keep_place(at)

    def _share_width(self) -> None:
        room, scale = self.viewport().width(), look.text_scale()
        name = look.px(look.NAME_WIDTH, scale)
        state = look.px(look.STATE_WIDTH, scale)
        if self.isColumnHidden(YEAR_COLUMN):
            name = room * name // (name + state)
            widths = (name, room - name, 0)
        else:
            share = min(1.0, room * 0.56 / (name + state))
            widths = (round(name * share), round(state * share), 0)
            widths = (*widths[:2], room - widths[0] - widths[1])
        for column, width in enumerate(widths):
            self.setColumnWidth(column, max(width, 0))

    # -- along the year ------------------------------------------------------------------------

    def pegs(self) -> tuple[Peg, ...]:
        """The marks of the chosen machine as they are drawn."""
        line = self.line(self.row())
        if line is None or self.isColumnHidden(YEAR_COLUMN):
            return ()
        return pegs(line.year, self.columnWidth(YEAR_COLUMN), look.text_scale())

    def peg(self) -> Peg | None:
        """The mark that has the focus."""
        number = self.peg_number
        return None if number is None else self.pegs()[number]

    @property
    def peg_number(self) -> int | None:
        """Which of the marks has the focus; joined differently at another width, it stays that."""
        if self._mark is None:
            return None
        found = (number for number, peg in enumerate(self.pegs()) if self._mark in peg.marks)
        return next(found, None)

    def _focus_peg(self, number: int | None) -> None:
        self._mark = None if number is None else self.pegs()[number].marks[0]
        self.viewport().update()
        self.pegFocused.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        found, here = self.pegs(), self.peg_number
        match event.key():
            case Qt.Key.Key_Right if found:
                self._focus_peg(0 if here is None else min(here + 1, len(found) - 1))
            case Qt.Key.Key_Left if found:
                self._focus_peg(None if not here else here - 1)
            case Qt.Key.Key_Home if found and not event.modifiers():
                ahead = (n for n, peg in enumerate(found) if peg.marks[0].day >= 0)
                self._focus_peg(next(ahead, len(found) - 1))
            case Qt.Key.Key_Return | Qt.Key.Key_Enter:
                self.ask()
            case _:
                super().keyPressEvent(event)

    def ask(self) -> None:
        """What Enter does: grounds of the mark, else the machine itself."""
        number, peg = self.chosen_id(), self.peg()
        if number is None:
            return
        if peg is None:
            self.opened.emit(number)
        else:
            self.why()

    def why(self) -> None:
        """Ask for the grounds of the mark that has the focus, or of all marks."""
        number, peg, line = self.chosen_id(), self.peg(), self.line(self.row())
        if number is None or line is None:
            return
        marks = line.year.marks if peg is None else peg.marks
        self.whyWanted.emit(number, tuple(key for mark in marks for key in mark.keys))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        self._focus_peg(self._peg_at(event.position().toPoint()))

    def mouseDoubleClickEvent(self, _event: QMouseEvent) -> None:
        self.ask()

    def _peg_at(self, point: QPoint) -> int | None:
        if self.columnAt(point.x()) != YEAR_COLUMN:
            return None
        left = self.columnViewportPosition(YEAR_COLUMN)
        reach = look.TARGET / 2
        near = [(abs(left + peg.x - point.x()), number) for number, peg in enumerate(self.pegs())]
        distance, number = min(near, default=(reach + 1, 0))
        return number if distance <= reach else None

    def _row_chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        self._mark = None
        line = self.line(current.row())
        if line is not None and not self._quiet:
            self.machineChosen.emit(line.machine_id)
        self.pegFocused.emit()
