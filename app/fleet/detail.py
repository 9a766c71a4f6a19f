"""The machine that is chosen, beside the list: its work with the grounds, and its record."""

from __future__ import annotations

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from app.fleet.state import Chosen
from app.fleet.table import RowsModel, TwoLines, record_columns, task_columns
from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.labels import plain_label
from app.pieces.why import WhyPanel

ACTS = ("hours", "use", "work", "measure", "store", "sheet")
_SELECT = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows


class Detail(QScrollArea):
    """One machine in full. `left`: back to the list."""

    actWanted = Signal(str)
    correctionWanted = Signal(str, int)
    left = Signal()

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        self._labels = labels
        self._shown_id: int | None = None
        self._icon_name = ""
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(look.GUTTER // 2, 0, 8, 0)
        column.addLayout(self._head(body))
        self.standing = plain_label("", role="head")
        column.addWidget(self.standing)
        column.addLayout(self._act_buttons())
        tabs = QHBoxLayout()
        self.work_tab = self._tab("work_tab")
        self.record_tab = self._tab("record_tab")
        tabs.addWidget(self.work_tab)
        tabs.addWidget(self.record_tab)
        tabs.addStretch(1)
        column.addLayout(tabs)
        self.lists = QStackedWidget()
        self.lists.addWidget(self._work_page())
        self.lists.addWidget(self._record_page())
        column.addWidget(self.lists, 1)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(body)

    # -- building ------------------------------------------------------------------------------

    def _head(self, body: QWidget) -> QHBoxLayout:
        head = QHBoxLayout()
        self.icon = QLabel(body)
        head.addWidget(self.icon)
        names = QVBoxLayout()
        self.name = plain_label("", role="name")
        self.where = plain_label("", role="second")
        names.addWidget(self.name)
        names.addWidget(self.where)
        head.addLayout(names, 1)
        self.close_button = Button(self._labels["close"])
        self.close_button.clicked.connect(self.left)
        head.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        return head

    def _tab(self, name: str) -> QPushButton:
        button = Button(self._labels[name])
        button.setProperty("link", True)
        button.setCheckable(True)
        button.clicked.connect(self._tab_wanted)
        return button

    def _act_buttons(self) -> QGridLayout:
        row = QGridLayout()
        row.setSpacing(look.GAP)
        self.buttons: dict[str, QPushButton] = {}
        for act in ACTS:
            button = Button(self._labels[act])
            button.setProperty("act", act)
            button.clicked.connect(self._act_pressed)
            self.buttons[act] = button
        self._button_grid = row
        self._lay_buttons(len(self.buttons))
        return row

    def _lay_buttons(self, across: int) -> None:
        """So many buttons beside one another; the rest below."""
        for place, button in enumerate(self.buttons.values()):
            self._button_grid.addWidget(button, place // across, place % across)
        self._button_grid.setColumnStretch(len(self.buttons), 1)

    def _work_page(self) -> QWidget:
        page = QSplitter(Qt.Orientation.Vertical)
        page.setChildrenCollapsible(False)
        heads = (self._labels["task"], self._labels["when"], self._labels["how"])
        self.tasks = RowsModel(task_columns(heads), self)
        self.task_table = word_table(self.tasks, self._labels["work_tab"])
        self.task_table.selectionModel().currentRowChanged.connect(self._task_chosen)
        page.addWidget(self.task_table)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setAccessibleName(self._labels["why"])
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 6, 8, 6)
        self._cautions = QVBoxLayout()
        column.addLayout(self._cautions)
        self.how = plain_label("")
        column.addWidget(self.how)
        column.addSpacing(look.GAP)
        column.addWidget(plain_label(self._labels["why"], role="head"))
        self.why = WhyPanel()
        column.addWidget(self.why)
        column.addStretch(1)
        area.setWidget(body)
        self._why_area = area
        page.addWidget(area)
        page.setStretchFactor(0, 3)
        page.setStretchFactor(1, 2)
        return page

    def _record_page(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        self.records = RowsModel(record_columns((self._labels["day"], self._labels["entry"])), self)
        self.record_table = word_table(self.records, self._labels["record_tab"])
        column.addWidget(self.record_table, 1)
        row = QHBoxLayout()
        self.correct_button = Button(self._labels["correct"])
        self.correct_button.clicked.connect(self._correct_pressed)
        row.addWidget(self.correct_button)
        row.addStretch(1)
        column.addLayout(row)
        return page

    # -- showing -------------------------------------------------------------------------------

    def show_chosen(self, chosen: Chosen, *, can_write: bool) -> None:
        """Show a machine; the task that was chosen stays chosen while it is the same machine."""
        for act, button in self.buttons.items():
            button.setEnabled(can_write or act == "sheet")
        self.correct_button.setEnabled(can_write)
        self._icon_name = chosen.icon
        self._show_icon()
        self.name.setText(chosen.name)
        self.where.setText(f"{chosen.second} · {chosen.hours_text}")
        self.standing.setText(chosen.standing_text)
        self.buttons["store"].setText(self._labels["wake" if chosen.laid_up else "store"])
        key = self.task_key() if chosen.machine_id == self._shown_id else ""
        self._shown_id = chosen.machine_id
        self.tasks.show_rows(chosen.tasks)
        keys = [task.key for task in chosen.tasks]
        row = keys.index(key) if key in keys else 0
        self.task_table.selectionModel().setCurrentIndex(self.tasks.index(row, 0), _SELECT)
        self._show_task(row)
        self.records.show_rows(chosen.records)
        self._show_tab(self.lists.currentIndex())
        self._fit()

    def _fit(self) -> None:
        for table in (self.task_table, self.record_table):
            table.resizeRowsToContents()

    def _show_icon(self) -> None:
        size = look.px(56, look.text_scale())
        ratio = self.devicePixelRatioF()
        self.icon.setPixmap(look.icon(self._icon_name, size, look.current().ink, ratio))

    def task_key(self) -> str:
        """The task that is chosen."""
        row = self.task_table.currentIndex().row()
        return self.tasks.rows[row].key if 0 <= row < len(self.tasks.rows) else ""

    def _show_task(self, row: int) -> None:
        while (item := self._cautions.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()
        if not 0 <= row < len(self.tasks.rows):
            self.why.show_lines(())
            self.how.setText("")
            return
        task = self.tasks.rows[row]
        for caution in task.cautions:
            self._cautions.addWidget(CautionPanel(caution))
        self.how.setText(task.how)
        self.why.show_lines(task.why())

    def _show_tab(self, index: int) -> None:
        self.lists.setCurrentIndex(index)
        self.work_tab.setChecked(index == 0)
        self.record_tab.setChecked(index == 1)

    def restyle(self) -> None:
        """Lay the lists out again, after another look or text size."""
        self._fit()
        for table in (self.task_table, self.record_table):
            table.viewport().update()
        self._show_icon()

    # -- intents -------------------------------------------------------------------------------

    def _task_chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        self._show_task(current.row())

    def _tab_wanted(self) -> None:
        self._show_tab(0 if self.sender() is self.work_tab else 1)

    def _act_pressed(self) -> None:
        button = self.sender()
        if button is not None:
            self.actWanted.emit(str(button.property("act")))

    def _correct_pressed(self) -> None:
        row = self.record_table.currentIndex().row()
        if 0 <= row < len(self.records.rows):
            record = self.records.rows[row]
            self.correctionWanted.emit(record.area, record.entry_id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        scale = look.text_scale()
        self._lay_buttons(6 if event.size().width() > 700 * scale else 3)
        for table in (self.task_table, self.record_table):
            table.setMinimumHeight(look.px(190, scale))
        self._why_area.setMinimumHeight(look.px(150, scale))
        super().resizeEvent(event)


class _WordTable(QTableView):
    """A list whose rows are as high as their text at the width there is."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.resizeRowsToContents()


def word_table(model: RowsModel, name: str) -> QTableView:
    """A list of words over the rows of a model."""
    table = _WordTable()
    table.setModel(model)
    table.setItemDelegate(TwoLines(table))
    table.setAccessibleName(name)
    table.setShowGrid(False)
    table.setFrameShape(QFrame.Shape.NoFrame)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setTabKeyNavigation(False)
    table.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
    table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    table.verticalHeader().hide()
    header = table.horizontalHeader()
    header.setHighlightSections(False)
    header.setSectionsClickable(False)
    header.setSectionResizeMode(header.ResizeMode.Stretch)
    return table
