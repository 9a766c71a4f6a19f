# pyright: standard
"""The room of measurements and comparisons: what wears and how fast, and whether work helped.

Widgets and intent signals only; one `show_state(state)`; nothing is judged here.
"""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.drawn import Chart
from app.pieces.labels import plain_label
from app.pieces.line_drawing import line_drawing
from app.pieces.room import RoomView, emptied
from app.pieces.tiles import Flow
from app.sheets.plot import draw_plot
from app.sheets.surface import Surface
from app.trials.state import CourseLine, TrialLine, TrialsState

PLOT_HEIGHT = 92.0
SIDE_ACTS = ("set_before", "add_before", "set_after", "add_after", "add_other", "close")


class TrialsView(RoomView):
    """The room. `actWanted`: an act by name and the trial it is about (0: none)."""

    leftWanted = Signal()
    measureWanted = Signal(str)
    actWanted = Signal(str, int)
    strikeWanted = Signal(int, int)

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__(language)
        self._labels = labels
        self._state: TrialsState | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, 10, look.MARGIN, 12)
        outer.addLayout(self._head())
        self.notice = plain_label("", role="refusal")
        self.notice.setVisible(False)
        outer.addWidget(self.notice)
        self._pages.addWidget(self._room())
        outer.addWidget(self._pages, 1)

    # -- building ------------------------------------------------------------------------------

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(look.GUTTER // 2)
        names = QVBoxLayout()
        names.setSpacing(0)
        self.name = plain_label("", role="name")
        self.second = plain_label("", role="second")
        names.addWidget(self.name)
        names.addWidget(self.second)
        row.addLayout(names, 1)
        self.tabs = [self._tab(name) for name in ("wear_tab", "trial_tab")]
        for index, tab in enumerate(self.tabs):
            tab.clicked.connect(partial(self.show_tab, index))
            row.addWidget(tab, 0, Qt.AlignmentFlag.AlignTop)
        self.back_button = Button(self._labels["back"])
        self.back_button.clicked.connect(self.leftWanted)
        row.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _tab(self, name: str) -> QPushButton:
        button = Button(self._labels[name])
        button.setProperty("link", True)
        button.setCheckable(True)
        return button

    def _room(self) -> QWidget:
        self.sides = QStackedWidget()
        self.sides.addWidget(self._wear_page())
        self.sides.addWidget(self._trial_page())
        return self.sides

    def _wear_page(self) -> QWidget:
        self.courses = self._list("wear_tab")
        self.courses.currentRowChanged.connect(self._course_chosen)
        self.measure_button = Button(self._labels["measure"])
        self.measure_button.setProperty("main", True)
        self.measure_button.clicked.connect(self._measure_pressed)
        self.no_courses = plain_label(self._labels["no_courses"])
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, look.GAP, 0)
        self.course_name = plain_label("", role="head")
        self.sentences = plain_label("", role="lead")
        self.plot = Chart(PLOT_HEIGHT)
        column.addWidget(self.course_name)
        column.addWidget(self.sentences)
        column.addWidget(self.plot)
        self.readings = self._table(("day", "hours", "amount"), "wear_tab")
        column.addWidget(self.readings)
        self.how_head = plain_label(self._labels["how_head"], role="head")
        column.addWidget(self.how_head)
        how = QHBoxLayout()
        self.how_drawing = QLabel()
        self.how = plain_label("")
        how.addWidget(self.how_drawing, 0, Qt.AlignmentFlag.AlignTop)
        how.addWidget(self.how, 1)
        column.addLayout(how)
        column.addStretch(1)
        return _two(self._beside((self.no_courses, self.measure_button), self.courses), body)

    def _trial_page(self) -> QWidget:
        self.trials = self._list("trial_tab")
        self.trials.currentRowChanged.connect(self._trial_chosen)
        self.begin_button = Button(self._labels["begin"])
        self.begin_button.setProperty("main", True)
        self.begin_button.clicked.connect(self._begin_pressed)
        self.no_trials = plain_label(self._labels["no_trials"])
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, look.GAP, 0)
        self.trial_name = plain_label("", role="head")
        self.verdict = plain_label("", role="lead")
        self.grounds = plain_label("")
        self.next_step = plain_label("", role="head")
        for label in (self.trial_name, self.verdict, self.grounds, self.next_step):
            column.addWidget(label)
        self.cautions = QVBoxLayout()
        column.addLayout(self.cautions)
        self.steps_head = plain_label(self._labels["steps_head"], role="head")
        self.steps = plain_label("")
        column.addWidget(self.steps_head)
        column.addWidget(self.steps)
        acts = QWidget()
        flow = Flow(acts)
        self.buttons = {name: Button(self._labels[name]) for name in SIDE_ACTS}
        for name, button in self.buttons.items():
            button.clicked.connect(partial(self._act_pressed, name))
            flow.addWidget(button)
        column.addWidget(acts)
        self.alike = self._table(("condition", "before", "after"), "condition")
        column.addWidget(self.alike)
        self.values = self._table(("side", "day", "amount"), "amount")
        column.addWidget(self.values)
        self.strike_button = Button(self._labels["strike"])
        self.strike_button.clicked.connect(self._strike_pressed)
        column.addWidget(self.strike_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        return _two(self._beside((self.no_trials, self.begin_button), self.trials), body)

    def _list(self, name: str) -> QListWidget:
        found = QListWidget()
        found.setAccessibleName(self._labels[name])
        found.setWordWrap(True)
        found.setSpacing(3)
        found.setFrameShape(QFrame.Shape.NoFrame)
        found.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        return found

    def _table(self, heads: tuple[str, ...], name: str) -> QTableWidget:
        found = QTableWidget(0, len(heads))
        found.setAccessibleName(self._labels[name])
        found.setHorizontalHeaderLabels([self._labels[head] for head in heads])
        found.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        found.verticalHeader().hide()
        found.setShowGrid(False)
        found.setWordWrap(True)
        found.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        found.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        found.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        found.setTabKeyNavigation(False)
        found.setFrameShape(QFrame.Shape.NoFrame)
        found.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        return found

    @staticmethod
    def _beside(above: tuple[QWidget, ...], below: QWidget) -> QWidget:
        pane = QWidget()
        column = QVBoxLayout(pane)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in above:
            column.addWidget(widget)
        column.addWidget(below, 1)
        return pane

    # -- showing -------------------------------------------------------------------------------

    def show_state(self, state: TrialsState) -> None:
        """Show the room as it is; what was chosen stays chosen."""
        other = self._state is None or self._state.machine_id != state.machine_id
        course = 0 if other else self.courses.currentRow()
        trial = 0 if other or self._state is None else self.trials.currentRow()
        if self._state is not None and not other:
            trial = 0 if len(state.trials) > len(self._state.trials) else trial  # the new one
        self._state = state
        self.say(state.notice)
        self.name.setText(state.name)
        self.second.setText(state.second)
        _fill(self.courses, [(one.name, one.standing) for one in state.courses], course)
        _fill(self.trials, [(one.name, one.second) for one in state.trials], trial)
        self.no_courses.setVisible(not state.courses)
        self.no_trials.setVisible(not state.trials)
        self.measure_button.setEnabled(state.can_write and bool(state.courses))
        self.begin_button.setEnabled(state.can_write)
        self._course_chosen(self.courses.currentRow())
        self._trial_chosen(self.trials.currentRow())
        self.show_tab(self.sides.currentIndex())

    def _course_chosen(self, row: int) -> None:
        courses = () if self._state is None else self._state.courses
        known = 0 <= row < len(courses)
        for widget in (self.course_name, self.sentences, self.plot, self.readings):
            widget.setVisible(known)
        for widget in (self.how_head, self.how, self.how_drawing):
            widget.setVisible(known)
        if known:
            self._show_course(courses[row])

    def _show_course(self, course: CourseLine) -> None:
        rows = course.rows
        self.course_name.setText(f"{course.name} · {course.part}" if course.part else course.name)
        bare = (course.standing, course.lived) if course.lived else (course.standing,)
        self.sentences.setText("\n".join(bare if rows is None else rows.sentences))
        self.plot.setVisible(rows is not None)
        if rows is not None:
            said = " ".join((rows.plot.title + ".", *rows.sentences))
            plot = rows.plot

            def draw(surface: Surface, width: float) -> None:
                draw_plot(surface, rows=plot, left=0, top=0, width=width, height=PLOT_HEIGHT)

            self.plot.show_chart(draw, said)
        _rows(self.readings, course.seen if rows is None else rows.table)
        self.how.setText("\n".join(part for part in (course.how, course.worn) if part))
        size = look.px(240, look.text_scale())
        ratio = self.devicePixelRatioF()
        self.how_drawing.setVisible(bool(course.drawing))
        if course.drawing:
            ink = look.current().ink
            self.how_drawing.setPixmap(line_drawing(course.drawing, size, ink, ratio))
            self.how_drawing.setAccessibleName(course.name)

    def _trial_chosen(self, row: int) -> None:
        trials = () if self._state is None else self._state.trials
        known = 0 <= row < len(trials)
        for widget in (self.steps_head, self.alike, self.values, *self.buttons.values()):
            widget.setVisible(known)
        self.strike_button.setVisible(known)
        if known:
            self._show_trial(trials[row])
        else:
            for label in (self.trial_name, self.verdict, self.grounds, self.next_step, self.steps):
                label.setText("")
            emptied(self.cautions)

    def _show_trial(self, trial: TrialLine) -> None:
        self.trial_name.setText(trial.name)
        self.verdict.setText(trial.verdict)
        self.grounds.setText("\n".join(trial.grounds))
        self.next_step.setText(trial.next_step)
        self.next_step.setVisible(bool(trial.next_step))
        emptied(self.cautions)
        if trial.is_open:
            for caution in trial.cautions:
                self.cautions.addWidget(CautionPanel(caution))
        steps = (*trial.before, *(f"{n}. {text}" for n, text in enumerate(trial.steps, 1)))
        self.steps.setText("\n".join(steps) if trial.is_open else "")
        self.steps_head.setVisible(trial.is_open)
        _rows(self.alike, trial.alike)
        _rows(self.values, tuple((one.side, one.day, one.amount) for one in trial.values))
        can = self._state is not None and self._state.can_write and trial.is_open
        for name, button in self.buttons.items():
            button.setVisible(trial.is_open and (name != "add_other" or trial.has_reference))
            button.setEnabled(can)
        self.strike_button.setVisible(bool(trial.values) and trial.is_open)
        self.strike_button.setEnabled(can)

    def show_tab(self, index: int) -> None:
        """Show measurements (0) or comparisons (1)."""
        self.sides.setCurrentIndex(index)
        for number, tab in enumerate(self.tabs):
            tab.setChecked(number == index)
            font = tab.font()
            font.setBold(tab.isChecked())
            tab.setFont(font)

    def focus_first(self) -> None:
        """Put the keyboard on the list that is shown."""
        (self.courses, self.trials)[self.sides.currentIndex()].setFocus()

    def say(self, text: str) -> None:
        """Say something above the lists."""
        self.notice.setText(text)
        self.notice.setVisible(bool(text))

    def restyle(self) -> None:
        """Lay everything out again, after another look or text size."""
        if self._state is not None:
            self.show_state(self._state)

    # -- forms ---------------------------------------------------------------------------------

    def mean(self, name: str, value: str) -> None:
        """Let a choice of the form that is open stand on a value."""
        widget = None if self._form is None else self._form.widget(name)
        if isinstance(widget, QComboBox) and widget.findData(value) >= 0:
            widget.setCurrentIndex(widget.findData(value))

    def task_codes(self) -> tuple[str, ...]:
        """The task whose measurement is chosen."""
        row = self.courses.currentRow()
        if self._state is None or not 0 <= row < len(self._state.courses):
            return ()
        return (self._state.courses[row].key.split("|")[0],)

    # -- intents -------------------------------------------------------------------------------

    def _measure_pressed(self) -> None:
        row = self.courses.currentRow()
        if self._state is not None and 0 <= row < len(self._state.courses):
            self.measureWanted.emit(self._state.courses[row].key)

    def _begin_pressed(self) -> None:
        self.actWanted.emit("begin", 0)

    def _chosen_trial(self) -> TrialLine | None:
        row = self.trials.currentRow()
        trials = () if self._state is None else self._state.trials
        return trials[row] if 0 <= row < len(trials) else None

    def _act_pressed(self, name: str) -> None:
        trial = self._chosen_trial()
        if trial is not None:
            self.actWanted.emit(name, trial.trial_id)

    def _strike_pressed(self) -> None:
        trial, row = self._chosen_trial(), self.values.currentRow()
        if trial is not None and 0 <= row < len(trial.values):
            self.strikeWanted.emit(trial.trial_id, trial.values[row].value_id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._form is None:
            self.leftWanted.emit()
        else:
            super().keyPressEvent(event)


def _fill(listed: QListWidget, lines: list[tuple[str, str]], chosen: int) -> None:
    listed.blockSignals(True)
    listed.clear()
    for name, second in lines:
        listed.addItem(QListWidgetItem(f"{name}\n{second}" if second else name))
    listed.setCurrentRow(min(max(chosen, 0), len(lines) - 1))
    listed.blockSignals(False)


def _rows(table: QTableWidget, rows: tuple[tuple[str, ...], ...]) -> None:
    table.setRowCount(len(rows))
    for number, row in enumerate(rows):
        for column, text in enumerate(row):
            table.setItem(number, column, QTableWidgetItem(text))
    table.resizeRowsToContents()
    high = table.horizontalHeader().sizeHint().height() + 4
    high += sum(table.rowHeight(number) for number in range(len(rows)))
    table.setFixedHeight(high)
    table.setVisible(bool(rows))


def _two(left: QWidget, right: QWidget) -> QWidget:
    page = QWidget()
    row = QHBoxLayout(page)
    row.setContentsMargins(0, 6, 0, 0)
    row.setSpacing(look.GUTTER)
    left.setMaximumWidth(look.px(420, look.text_scale()))
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(right)
    row.addWidget(left, 2)
    row.addWidget(area, 5)
    return page
