# pyright: standard
"""The fleet room: the sentence on top, the machines, the chosen one with its work and why.

Widgets and intent signals only; one `show(state)`; no rule of the trade and no day is computed
here.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QResizeEvent
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

from app.errors import calm_sentence
from app.fleet.state import Chosen, FleetState
from app.fleet.table import (
    RowsModel,
    TwoLines,
    machine_columns,
    record_columns,
    task_columns,
)
from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.form import Form, FormPage
from app.pieces.labels import plain_label
from app.pieces.why import WhyPanel
from app.wording.tongue import Tongue

ACTS = ("add", "hours", "use", "work", "measure", "store", "sheet")
NARROW = 1100


class FleetView(QWidget):
    """The room. Signals say what the user wants."""

    machineChosen = Signal(int)
    actWanted = Signal(str)
    correctionWanted = Signal(str, int)
    answered = Signal(str, object)
    formLeft = Signal()

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__()
        self._labels = labels
        self._language = language
        self._form: Form | None = None
        self._shown_id: int | None = None
        self._icon_name = ""
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, 16, look.MARGIN, 12)
        self.headline = plain_label("", role="lead")
        self.second = plain_label("", role="second")
        self.notice = plain_label("", role="refusal")
        outer.addWidget(self.headline)
        outer.addWidget(self.second)
        outer.addWidget(self.notice)
        self._pages = QStackedWidget(self)
        self._pages.addWidget(self._empty())
        self._pages.addWidget(self._full())
        outer.addWidget(self._pages, 1)

    # -- building ------------------------------------------------------------------------------

    def _empty(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addSpacing(look.MARGIN)
        column.addWidget(plain_label(self._labels["empty"], role="name"))
        row = QHBoxLayout()
        self.first_button = Button(self._labels["first"])
        self.first_button.setProperty("main", True)
        self.first_button.clicked.connect(self._want_add)
        self.sample_button = Button(self._labels["sample"])
        self.sample_button.clicked.connect(self._want_sample)
        row.addWidget(self.first_button)
        row.addWidget(self.sample_button)
        row.addStretch(1)
        column.addLayout(row)
        self._empty_form = QVBoxLayout()
        column.addLayout(self._empty_form, 1)
        return page

    def _full(self) -> QWidget:
        self.splitter = QSplitter(Qt.Orientation.Horizontal)
        self.splitter.setChildrenCollapsible(False)
        self.machines = RowsModel(
            machine_columns((self._labels["machine"], self._labels["state"])), self
        )
        self.machine_table = _table(self.machines, self._labels["machines"])
        self.machine_table.selectionModel().currentRowChanged.connect(self._row_chosen)
        self.splitter.addWidget(self.machine_table)
        self.right = QStackedWidget()
        self.right.addWidget(self._detail())
        self.splitter.addWidget(self.right)
        self.splitter.setStretchFactor(0, 4)
        self.splitter.setStretchFactor(1, 5)
        self.splitter.setSizes([580, 760])
        return self.splitter

    def _heads(self, first: str, second: str, third: str) -> tuple[str, str, str]:
        return self._labels[first], self._labels[second], self._labels[third]

    def _detail(self) -> QWidget:
        detail = QWidget()
        column = QVBoxLayout(detail)
        column.setContentsMargins(look.GUTTER // 2, 0, 8, 0)
        head = QHBoxLayout()
        self.icon = QLabel(detail)
        head.addWidget(self.icon)
        names = QVBoxLayout()
        self.name = plain_label("", role="name")
        self.where = plain_label("", role="second")
        names.addWidget(self.name)
        names.addWidget(self.where)
        head.addLayout(names, 1)
        column.addLayout(head)
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
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(detail)
        return area

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
        for act in ACTS[1:]:
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
        self.tasks = RowsModel(task_columns(self._heads("task", "when", "how")), self)
        self.task_table = _table(self.tasks, self._labels["work_tab"])
        self.task_table.selectionModel().currentRowChanged.connect(self._task_chosen)
        page.addWidget(self.task_table)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setAccessibleName(self._labels["why"])
        body = QWidget()
        self._why_column = QVBoxLayout(body)
        self._why_column.setContentsMargins(0, 6, 8, 6)
        self._cautions = QVBoxLayout()
        self._why_column.addLayout(self._cautions)
        self.how = plain_label("")
        self._why_column.addWidget(self.how)
        self._why_column.addSpacing(look.GAP)
        self._why_column.addWidget(plain_label(self._labels["why"], role="head"))
        self.why = WhyPanel()
        self._why_column.addWidget(self.why)
        self._why_column.addStretch(1)
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
        self.record_table = _table(self.records, self._labels["record_tab"])
        column.addWidget(self.record_table, 1)
        row = QHBoxLayout()
        self.correct_button = Button(self._labels["correct"])
        self.correct_button.clicked.connect(self._correct_pressed)
        row.addWidget(self.correct_button)
        row.addStretch(1)
        column.addLayout(row)
        return page

    # -- showing -------------------------------------------------------------------------------

    def show_state(self, state: FleetState) -> None:
        """Show the room as it is."""
        self.headline.setText(state.headline)
        self.second.setText(state.second)
        self.second.setVisible(bool(state.second))
        self.notice.setText(state.notice)
        self.notice.setVisible(bool(state.notice))
        self._pages.setCurrentIndex(1 if state.machines or state.busy else 0)
        keep = self.chosen_id()
        self.machines.show_rows(state.machines)
        wanted = state.chosen.machine_id if state.chosen is not None else keep
        self._choose(wanted)
        for act, button in self.buttons.items():
            button.setEnabled(state.can_write or act == "sheet")
        self.first_button.setEnabled(state.can_write)
        self.correct_button.setEnabled(state.can_write)
        if state.chosen is not None:
            self._show_chosen(state.chosen)
        _fit_rows(self.machine_table)

    def _show_chosen(self, chosen: Chosen) -> None:
        self._icon_name = chosen.icon
        self._show_icon()
        self.name.setText(chosen.name)
        self.where.setText(f"{chosen.second} · {chosen.hours_text}")
        self.standing.setText(chosen.standing_text)
        self.buttons["store"].setText(self._labels["wake" if chosen.laid_up else "store"])
        key = self._task_key() if chosen.machine_id == self._shown_id else ""
        self._shown_id = chosen.machine_id
        self.tasks.show_rows(chosen.tasks)
        keys = [task.key for task in chosen.tasks]
        row = keys.index(key) if key in keys else 0
        self.task_table.selectionModel().setCurrentIndex(self.tasks.index(row, 0), _SELECT)
        self._show_task(row)
        self.records.show_rows(chosen.records)
        self._show_tab(self.lists.currentIndex())
        _fit_rows(self.task_table)
        _fit_rows(self.record_table)

    def _show_icon(self) -> None:
        size = look.px(56, look.text_scale())
        ratio = self.devicePixelRatioF()
        self.icon.setPixmap(look.icon(self._icon_name, size, look.current().ink, ratio))

    def _task_key(self) -> str:
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

    def chosen_id(self) -> int | None:
        """The machine that is chosen in the list."""
        row = self.machine_table.currentIndex().row()
        return self.machines.rows[row].machine_id if 0 <= row < len(self.machines.rows) else None

    def _choose(self, machine_id: int | None) -> None:
        ids = [row.machine_id for row in self.machines.rows]
        if machine_id not in ids:
            return
        row = ids.index(machine_id)
        if row != self.machine_table.currentIndex().row():
            self.machine_table.selectionModel().setCurrentIndex(
                self.machines.index(row, 0), _SELECT
            )

    # -- forms ---------------------------------------------------------------------------------

    def show_form(self, page: FormPage) -> Form:
        """Put a form in the place of the chosen machine."""
        self.close_form()
        form = Form(page, self._language)
        form.answered.connect(self.answered)
        form.left.connect(self.formLeft)
        self._form = form
        self.machine_table.setEnabled(False)  # a form is about the machine it was opened for
        if self._pages.currentIndex() == 0:
            self._empty_form.addWidget(form)
        else:
            self.right.addWidget(form)
            self.right.setCurrentWidget(form)
        form.focus_first()
        return form

    def say(self, text: str) -> None:
        """Say something above the lists."""
        self.notice.setText(text)
        self.notice.setVisible(bool(text))

    def tell(self, tongue: Tongue) -> Callable[[Path | None], None]:
        """What a fault of the program is told by: one calm sentence, and where the log lies."""

        def told(log: Path | None) -> None:
            self.say(calm_sentence(tongue, log))

        return told

    def restyle(self) -> None:
        """Lay the lists out again, after another look or text size."""
        for table in (self.machine_table, self.task_table, self.record_table):
            _fit_rows(table)
            table.viewport().update()
        self._show_icon()

    def close_form(self) -> None:
        """Put the form away, if there is one."""
        if self._form is None:
            return
        form, self._form = self._form, None
        self.machine_table.setEnabled(True)
        self.right.setCurrentIndex(0)
        form.setParent(None)
        form.deleteLater()
        self.machine_table.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def form(self) -> Form | None:
        """The form that is open."""
        return self._form

    # -- intents -------------------------------------------------------------------------------

    def _row_chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        if 0 <= current.row() < len(self.machines.rows):
            self.machineChosen.emit(self.machines.rows[current.row()].machine_id)

    def _task_chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        self._show_task(current.row())

    def _tab_wanted(self) -> None:
        self._show_tab(0 if self.sender() is self.work_tab else 1)

    def _act_pressed(self) -> None:
        button = self.sender()
        if button is not None:
            self.actWanted.emit(str(button.property("act")))

    def _want_add(self) -> None:
        self.actWanted.emit("add")

    def _want_sample(self) -> None:
        self.actWanted.emit("sample")

    def _correct_pressed(self) -> None:
        row = self.record_table.currentIndex().row()
        if 0 <= row < len(self.records.rows):
            record = self.records.rows[row]
            self.correctionWanted.emit(record.area, record.entry_id)

    def task_codes(self) -> tuple[str, ...]:
        """The task that is chosen, to start a form with."""
        key = self._task_key()
        return (key,) if key else ()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Side by side where there is room, one below the other where there is not."""
        scale = look.text_scale()
        narrow = event.size().width() < NARROW * scale
        room = event.size().width() if narrow else event.size().width() * 5 // 9
        self._lay_buttons(6 if room > 700 * scale else 3)
        for table in (self.task_table, self.record_table):
            table.setMinimumHeight(look.px(190, scale))
        self._why_area.setMinimumHeight(look.px(150, scale))
        self.machine_table.setMinimumSize(look.px(300, scale), look.px(150, scale))
        wanted = Qt.Orientation.Vertical if narrow else Qt.Orientation.Horizontal
        if self.splitter.orientation() != wanted:
            self.splitter.setOrientation(wanted)
        super().resizeEvent(event)


_SELECT = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
_FEW = 200


class _Table(QTableView):
    """A list whose rows are as high as their text at the width there is."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        _fit_rows(self)


def _table(model: RowsModel, name: str) -> QTableView:
    table = _Table()
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


def _fit_rows(table: QTableView) -> None:
    """Rows as high as their text; of very many only those of usual height."""
    model = table.model()
    if model.rowCount() <= _FEW:
        table.resizeRowsToContents()
    else:
        table.verticalHeader().setDefaultSectionSize(look.TARGET + 20)
