# pyright: standard
"""The machine room: plates and hours, its work with why, what holds for it, what was entered.

Widgets and intent signals only; one `show_state(state)`; nothing is judged here.
"""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.fleet.table import RowsModel, record_columns, task_columns
from app.machine.lists import WorkList
from app.machine.state import FuelLine, MachineRoomState, QuestionLine
from app.machine.task_pane import TaskPane
from app.photos.view import PhotoStrip
from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import give_role, plain_label, say_in
from app.pieces.nameplate import NamePlate
from app.pieces.plate import HEIGHT, WIDTH, draw_plate
from app.pieces.room import RoomView, columns, emptied, scrolled
from app.pieces.tiles import Flow
from schedules.states import MachineState

WIDE, MIDDLE, LOW = 1180, 760, 620
ICON, LOW_ICON = 60, 30
ACTS = ("work", "hours", "use", "measure", "fuel", "fault", "today", "job", "store", "about")
PAPERS = ("preseason", "card", "buyer")


class StatePlate(QWidget):
    """The machine's state as a plate, large; its word stands beside it."""

    def __init__(self) -> None:
        super().__init__()
        self._state = MachineState.UNKNOWN
        self.setFixedSize(int(WIDTH * 2), int(HEIGHT * 2))

    def show_plate(self, state: MachineState) -> None:
        """Show another state."""
        self._state = state
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        draw_plate(painter, self._state, look.current(), QPointF(0, 0), 2)


class MachineView(RoomView):
    """The room. Signals say what the user wants."""

    actWanted = Signal(str)
    correctionWanted = Signal(str, int)
    featureAnswered = Signal(str, str)

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__(language)
        self._labels = labels
        self._state: MachineRoomState | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, 10, look.MARGIN, 12)
        outer.addLayout(self._head())
        self.notice = plain_label("", role="refusal")
        self.notice.setVisible(False)
        outer.addWidget(self.notice)
        self._pages.addWidget(self._room())
        outer.addWidget(self._pages, 1)

    # -- building ------------------------------------------------------------------------------

    def _button(self, name: str, *, link: bool = False) -> Button:
        button = Button(self._labels[name])
        button.setProperty("act", name)
        if link:
            button.setProperty("link", True)
        button.clicked.connect(self._act_pressed)
        return button

    def _head(self) -> QHBoxLayout:
        row = self._head_row = QHBoxLayout()
        row.setSpacing(look.GUTTER // 2)
        self.icon = QLabel(self)
        self.name = plain_label("", role="name")
        self.where = plain_label("", role="second")
        names = self._names = QVBoxLayout()
        names.addWidget(self.name)
        names.addWidget(self.where)
        names.addStretch(1)
        self.plate = StatePlate()
        self.state_text = plain_label("", role="head")
        self.standing = plain_label("", role="second")
        states = self._states = QVBoxLayout()
        states.addWidget(self.state_text)
        states.addWidget(self.standing)
        states.addStretch(1)
        for column in (names, states):
            column.setSpacing(0)
        self.back_button = self._button("back")
        row.addWidget(self.icon, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(names, 3)
        row.addWidget(self.plate, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(states, 4)
        row.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignTop)
        self._low = False
        return row

    def _room(self) -> QWidget:
        body = QWidget()
        self._grid = QGridLayout(body)
        self._grid.setContentsMargins(0, 6, 0, 0)
        self._grid.setHorizontalSpacing(look.GUTTER // 2)
        self.left, self.middle = self._left(), self._middle()
        self.right = TaskPane(self._labels)
        self.right.actWanted.connect(self.actWanted)
        area = scrolled(body)
        self._across = 0
        self._arrange(3)
        return area

    def _left(self) -> QWidget:
        pane = QWidget()
        self._left_column = QVBoxLayout(pane)
        self._left_column.setContentsMargins(0, 0, look.GAP, 0)
        self.plates = QVBoxLayout()
        self._left_column.addLayout(self.plates)
        self._left_column.addWidget(plain_label(self._labels["hours_head"], role="head"))
        self.hours = plain_label("", role="lead")
        self.hours_ground = plain_label("", role="second")
        self._left_column.addWidget(self.hours)
        self._left_column.addWidget(self.hours_ground)
        self._fuel_head = plain_label(self._labels["fuel_head"], role="head")
        self._left_column.addWidget(self._fuel_head)
        self.fuel = QVBoxLayout()
        self._left_column.addLayout(self.fuel)
        self.question = QVBoxLayout()
        self._left_column.addLayout(self.question)
        self.built_button = self._button("built", link=True)
        self._left_column.addWidget(self.built_button, 0, Qt.AlignmentFlag.AlignLeft)
        self._left_column.addWidget(plain_label(self._labels["papers_head"], role="head"))
        papers = Flow()
        self.papers = {name: self._button(name) for name in PAPERS}
        for button in self.papers.values():
            papers.addWidget(button)
        self._left_column.addLayout(papers)
        self.photos = PhotoStrip()
        self.photos.take_drops(self)
        self._left_column.addWidget(self.photos)
        self._left_column.addStretch(1)
        return scrolled(pane)

    def _middle(self) -> QWidget:
        pane = QWidget()
        column = QVBoxLayout(pane)
        column.setContentsMargins(0, 0, 0, 0)
        self.go_on_button = Button("")
        self.go_on_button.setProperty("main", True)
        self.go_on_button.clicked.connect(self._act_pressed)
        column.addWidget(self.go_on_button, 0, Qt.AlignmentFlag.AlignLeft)
        acts = Flow()
        self.buttons: dict[str, QPushButton] = {name: self._button(name) for name in ACTS}
        self.buttons["store"].setProperty("act", "season")
        for button in self.buttons.values():
            acts.addWidget(button)
        column.addLayout(acts)
        self.waiting = plain_label("", role="head")
        column.addWidget(self.waiting)
        looks = QHBoxLayout()
        self.going_over = plain_label("")
        self.looks_button = self._button("looks")
        looks.addWidget(self.going_over, 1)
        looks.addWidget(self.looks_button)
        column.addLayout(looks)
        tabs = QHBoxLayout()
        self.work_tab, self.record_tab = self._tab("work_tab"), self._tab("record_tab")
        tabs.addWidget(self.work_tab)
        tabs.addWidget(self.record_tab)
        tabs.addStretch(1)
        column.addLayout(tabs)
        self.lists = QStackedWidget()
        heads = (self._labels["task"], self._labels["when"], self._labels["how"])
        self.tasks = RowsModel(task_columns(heads), self)
        self.task_table = WorkList(self.tasks, self._labels["work_tab"], (5, 3, 3))
        self.task_table.selectionModel().currentRowChanged.connect(self._task_chosen)
        self.lists.addWidget(self.task_table)
        self.lists.addWidget(self._record_page())
        column.addWidget(self.lists, 1)
        return pane

    def _record_page(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        self.records = RowsModel(record_columns((self._labels["day"], self._labels["entry"])), self)
        self.record_table = WorkList(self.records, self._labels["record_tab"], (2, 7))
        column.addWidget(self.record_table, 1)
        self.correct_button = Button(self._labels["correct"])
        self.correct_button.clicked.connect(self._correct_pressed)
        column.addWidget(self.correct_button, 0, Qt.AlignmentFlag.AlignLeft)
        return page

    def _tab(self, name: str) -> QPushButton:
        button = Button(self._labels[name])
        button.setProperty("link", True)
        button.setCheckable(True)
        button.clicked.connect(self._tab_wanted)
        return button

    # -- showing -------------------------------------------------------------------------------

    def show_state(self, state: MachineRoomState) -> None:
        """Show the room as it is."""
        other = self._state is None or self._state.machine_id != state.machine_id
        key = "" if other else self._task_key()
        self._state = state
        self.say(state.notice)
        self.name.setText(state.name)
        self.where.setText(state.second)
        self.state_text.setText(state.state_text)
        self.standing.setText(state.standing)
        self.plate.show_plate(state.state)
        self._show_icon()
        self._show_left(state)
        self._show_middle(state, key)
        for button in (*self.buttons.values(), self.looks_button, self.correct_button):
            button.setEnabled(state.can_write or button is self.buttons["today"])

    def _show_icon(self) -> None:
        if self._state is None:
            return
        size = look.px(LOW_ICON if self._low else ICON, look.text_scale())
        ratio = self.devicePixelRatioF()
        self.icon.setPixmap(look.icon(self._state.icon, size, look.current().ink, ratio))

    def _show_left(self, state: MachineRoomState) -> None:
        emptied(self.plates)
        for card in state.plates:
            plate = NamePlate(card.title, self._labels["not_read"], self._labels["fill"])
            plate.show_rows(card.rows)
            plate.fill_button.setProperty("act", card.act)
            plate.fill_button.setEnabled(state.can_write)
            plate.fill_button.clicked.connect(self._act_pressed)
            self.plates.addWidget(plate)
        self.hours.setText(state.hours)
        self.hours_ground.setText(state.hours_ground)
        emptied(self.fuel)
        self._fuel_head.setVisible(bool(state.fuel))
        for vessel in state.fuel:
            self.fuel.addWidget(plain_label(_fuel_said(vessel)))
        emptied(self.question)
        if state.question is not None and state.can_write:
            self._show_question(state.question)
        self.built_button.setVisible(bool(state.built))

    def _show_question(self, question: QuestionLine) -> None:
        self.question.addWidget(plain_label(self._labels["question_head"], role="head"))
        self.question.addWidget(plain_label(question.question))
        answers = QWidget()
        flow = Flow(answers)
        for value, words in question.answers:
            button = Button(words)
            button.setProperty("answer", (question.code, value))
            button.setAccessibleName(f"{question.question} {words}")
            button.clicked.connect(self._feature_pressed)
            flow.addWidget(button)
        self.question.addWidget(answers)
        self.question.addWidget(plain_label(question.because, role="second"))

    def _show_middle(self, state: MachineRoomState, key: str) -> None:
        self.go_on_button.setText(state.goes_on_text)
        self.go_on_button.setProperty("act", state.goes_on)
        self.go_on_button.setVisible(bool(state.goes_on))
        self.waiting.setText("\n".join(state.waiting))
        self.waiting.setVisible(bool(state.waiting))
        self.going_over.setText(state.going_over)
        self.going_over.setVisible(bool(state.going_over))
        self.looks_button.setVisible(bool(state.going_over))
        self.buttons["store"].setText(self._labels["wake" if state.laid_up else "store"])
        self.tasks.show_rows(state.tasks)
        self.records.show_rows(state.records)
        keys = [task.key for task in state.tasks]
        row = keys.index(key) if key in keys else 0
        self.task_table.choose(row)
        self._show_task(row)
        self._show_tab(self.lists.currentIndex())

    def _show_task(self, row: int) -> None:
        state = self._state
        known = state is not None and 0 <= row < len(self.tasks.rows)
        if state is None or not known:
            self.right.show_task(None, (), can_write=False)
            return
        task = self.tasks.rows[row]
        figures = state.figures.get(task.key, ())
        lived = state.lives.get(task.key, "")
        self.right.show_task(task, figures, can_write=state.can_write, lived=lived)

    def _show_tab(self, index: int) -> None:
        self.lists.setCurrentIndex(index)
        self.work_tab.setChecked(index == 0)
        self.record_tab.setChecked(index == 1)
        for tab in (self.work_tab, self.record_tab):
            font = tab.font()
            font.setBold(tab.isChecked())
            tab.setFont(font)

    def say(self, text: str, *, calm: bool = False) -> None:
        """Say something above the lists. `calm`: nothing went wrong, so it is not in red."""
        say_in(self.notice, text, calm=calm)

    def restyle(self) -> None:
        """Lay everything out again, after another look or text size."""
        self._across = 0
        self._arrange(columns(self.width(), wide=WIDE, middle=MIDDLE))
        self._lower(self.height())
        for table in (self.task_table, self.record_table):
            table.fit()
        self._show_icon()
        if self._state is not None:
            self.show_state(self._state)

    # -- forms ---------------------------------------------------------------------------------

    def after_form(self) -> None:
        """Back to what the form stood in front of."""
        super().after_form()
        self.task_table.setFocus(Qt.FocusReason.OtherFocusReason)

    # -- intents -------------------------------------------------------------------------------

    def _act_pressed(self) -> None:
        name = str(self.sender().property("act"))
        self.actWanted.emit("" if name == "back" else name)

    def _feature_pressed(self) -> None:
        code, value = self.sender().property("answer")
        self.featureAnswered.emit(code, value)

    def _tab_wanted(self) -> None:
        self._show_tab(0 if self.sender() is self.work_tab else 1)

    def _task_chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        self._show_task(current.row())

    def _correct_pressed(self) -> None:
        row = self.record_table.currentIndex().row()
        if 0 <= row < len(self.records.rows):
            record = self.records.rows[row]
            self.correctionWanted.emit(record.area, record.entry_id)

    def _task_key(self) -> str:
        row = self.task_table.currentIndex().row()
        return self.tasks.rows[row].key if 0 <= row < len(self.tasks.rows) else ""

    def task_codes(self) -> tuple[str, ...]:
        """The task that is chosen, to start a form with."""
        key = self._task_key()
        return (key,) if key else ()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._form is None:
            self.actWanted.emit("")
        else:
            super().keyPressEvent(event)

    # -- laying out ----------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Three columns, two or one, as the width goes."""
        self._arrange(columns(event.size().width(), wide=WIDE, middle=MIDDLE))
        self._lower(event.size().height())
        super().resizeEvent(event)

    def _lower(self, height: int) -> None:
        """In a low room all but name and state scrolls, to leave room for the list."""
        low = height < look.px(LOW, look.text_scale())
        role = "lead" if low and self._across == 1 else "name"
        give_role(self.name, role)
        if low != self._low:
            self._low = low
            self._show_icon()
            for column, share in ((self._names, 5 if low else 3), (self._states, 4)):
                self._head_row.setStretchFactor(column, share)
            for at, label, column in (
                (0, self.where, self._names),
                (1, self.standing, self._states),
            ):
                if low:
                    self._left_column.insertWidget(at, label)
                else:
                    column.insertWidget(1, label)

    def _arrange(self, across: int) -> None:
        if across == self._across:
            return
        self._across = across
        scale, grid = look.text_scale(), self._grid
        for pane in (self.left, self.middle, self.right):
            grid.removeWidget(pane)
        places = {
            3: ((0, 0, 1), (0, 1, 1), (0, 2, 1)),
            2: ((0, 0, 1), (0, 1, 1), (1, 0, 2)),
            1: ((1, 0, 1), (0, 0, 1), (2, 0, 1)),
        }[across]
        panes = (self.left, self.middle, self.right)
        for pane, (row, column, span) in zip(panes, places, strict=True):
            grid.addWidget(pane, row, column, 1, span)
        shares = {3: (4, 6, 4), 2: (4, 6, 0), 1: (1, 0, 0)}[across]
        for column, share in enumerate(shares):
            grid.setColumnStretch(column, share)
        least = {3: (0, 0, 0), 2: (460, 460, 300), 1: (460, 460, 300)}[across]
        for pane, high in zip(panes, least, strict=True):
            pane.setMinimumHeight(look.px(high, scale))


def _fuel_said(vessel: FuelLine) -> str:
    return ": ".join((vessel.name, ", ".join(p for p in (vessel.amount, vessel.verdict) if p)))
