# pyright: standard
"""The season room: machines to choose from; then one step at a time, caution first.

Widgets and intent signals only; one `show_state(state)`; nothing is reckoned here.
"""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from app.pieces import look
from app.pieces.button import Button, Tick
from app.pieces.caution import CautionPanel
from app.pieces.labels import give_role, plain_label
from app.pieces.room import RoomView, columns, emptied, scrolled
from app.pieces.tiles import Flow, Tiles
from app.season.card import CardLayer, Figures
from app.season.chooser import MachineChoice
from app.season.rail import Rail
from app.season.state import SeasonCard, SeasonState

WIDE, MIDDLE, LOW = 1180, 860, 440
SORTS = ("putting_away", "getting_out", "going_over")
ANSWERS = ("done", "not_applicable", "cannot", "fault")
OTHERS = ("clock", "finish", "find", "tag", "print", "bench", "stop")
# Function keys, for figures are typed on the same page.
KEYS = {"done": "F5", "not_applicable": "F6", "cannot": "F8", "fault": "F12", "bench": "F11"}
STEP_PX, TEXT_PX = 34, 21


class SeasonView(RoomView):
    """The room. Signals say what the user wants."""

    sortChosen = Signal(str)
    machineTicked = Signal(int, bool)
    optionChosen = Signal(int, str, str)
    notYet = Signal(int)
    dayOnly = Signal(bool)
    runWanted = Signal(int)
    actWanted = Signal(str)

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__(language)
        self._labels = labels
        self._state: SeasonState | None = None
        self.choices: dict[int, MachineChoice] = {}
        self.run_buttons: list[Button] = []
        self._layer = CardLayer(labels, step=STEP_PX, text=TEXT_PX)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, look.GAP, look.MARGIN, look.GAP)
        outer.addLayout(self._head())
        self.notice = plain_label("", role="head")
        self.notice.setVisible(False)
        outer.addWidget(self.notice)
        self._choosing = self._choosing_page()
        self._running = self._running_page()
        self._pages.addWidget(self._choosing)
        self._pages.addWidget(self._running)
        outer.addWidget(self._pages, 1)

    # -- building ------------------------------------------------------------------------------

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(look.GAP * 2)
        self.icon = QLabel()
        row.addWidget(self.icon, 0, Qt.AlignmentFlag.AlignTop)
        names = QVBoxLayout()
        self.title = plain_label("", role="name")
        self.second = plain_label("", role="second")
        names.addWidget(self.title)
        names.addWidget(self.second)
        row.addLayout(names, 1)
        self.back_button = self._button("back")
        row.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _choosing_page(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, look.GAP, 0, 0)
        sorts = tuple((name, self._labels[name]) for name in SORTS)
        self.sorts = Tiles(sorts, {}, SORTS[0])
        self.sorts.changed.connect(self._sort_pressed)
        column.addWidget(self.sorts)
        body = QWidget()
        self._list = QVBoxLayout(body)
        self._list.setContentsMargins(0, 0, look.GAP, 0)
        self._runs = QWidget()
        self._runs_column = QVBoxLayout(self._runs)
        self._runs_column.setContentsMargins(0, 0, 0, look.GAP)
        self._list.addWidget(self._runs)
        self._list.addWidget(plain_label(self._labels["which"], role="head"))
        self.empty = plain_label("")
        self._list.addWidget(self.empty)
        self._machines = QVBoxLayout()
        self._machines.setSpacing(0)
        self._list.addLayout(self._machines)
        self._list.addStretch(1)
        column.addWidget(scrolled(body), 1)
        self.day_only = Tick(self._labels["day_only"])
        self.day_only.toggled.connect(self.dayOnly)
        column.addWidget(self.day_only)
        foot = QHBoxLayout()
        self.lay_button = self._button("lay")
        self.lay_button.setProperty("main", True)
        foot.addWidget(self.lay_button)
        self.total = plain_label("", role="second")
        foot.addWidget(self.total, 1)
        self.plain_button = self._button("plain")
        self.plain_button.setProperty("link", True)
        foot.addWidget(self.plain_button)
        column.addLayout(foot)
        return page

    def _running_page(self) -> QWidget:
        page = QWidget()
        outer = QVBoxLayout(page)
        outer.setContentsMargins(0, look.GAP, 0, 0)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(look.GUTTER)
        self._left = QWidget()
        left = QVBoxLayout(self._left)
        left.setContentsMargins(0, 0, 0, 0)
        left.addWidget(plain_label(self._labels["rail_head"], role="head"))
        self.rail = Rail(self._labels["rail_head"])
        left.addWidget(self.rail, 1)
        self._middle = QWidget()
        self.card_column = QVBoxLayout(self._middle)
        self.card_column.setContentsMargins(0, 0, look.GAP, 0)
        self.card_column.setSpacing(look.GAP)
        self._card_area = scrolled(self._middle)
        self._right = QWidget()
        self.side_column = QVBoxLayout(self._right)
        self.side_column.setContentsMargins(0, 0, 0, 0)
        self.side_column.setSpacing(4)
        self._side_area = scrolled(self._right)
        outer.addLayout(self._grid, 1)
        self.strip = plain_label("", role="head")
        self.clock_line = plain_label("", role="head")
        outer.addWidget(self.clock_line)
        outer.addWidget(self.strip)
        self.buttons: dict[str, Button] = {}
        for names in (ANSWERS, OTHERS):
            row = QWidget()
            flow = Flow(row)
            for name in names:
                self.buttons[name] = self._button(name)
                flow.addWidget(self.buttons[name])
            outer.addWidget(row)
        self._give_keys()
        self._across = 0
        self._arrange(3)
        return page

    def _give_keys(self) -> None:
        """The answers go by function keys, which are never part of a figure that is typed."""
        for name, key in KEYS.items():
            self.buttons[name].setText(f"{self._labels[name]}   {key}")
            self.buttons[name].setAccessibleName(self._labels[name])
            self.buttons[name].setShortcut(key)
        self.buttons["done"].setProperty("main", True)
        self.buttons["finish"].setProperty("main", True)

    def _button(self, name: str) -> Button:
        button = Button(self._labels.get(name, ""))
        button.setProperty("act", name)
        button.setMinimumHeight(look.TARGET)
        button.clicked.connect(self._act_pressed)
        return button

    # -- showing -------------------------------------------------------------------------------

    def show_state(self, state: SeasonState) -> None:
        """Show the room as it is; what was typed beside a step stays while it is shown."""
        before, self._state = self.card, state
        self.say(state.notice or state.waiting)
        self.title.setText(state.title)
        self.second.setText(state.second)
        size = look.px(56, look.text_scale())
        self.icon.setVisible(bool(state.icon))
        if state.icon:
            drawn = look.icon(state.icon, size, look.current().ink, self.devicePixelRatioF())
            self.icon.setPixmap(drawn)
        if state.run_id:
            here = None if before is None else before.place
            same = state.card is not None and here == state.card.place
            self._show_run(state, self.figures.typed() if same and self.figures else {})
        else:
            self._show_choosing(state)
        if self._form is None:
            self._pages.setCurrentWidget(self._running if state.run_id else self._choosing)

    def _show_choosing(self, state: SeasonState) -> None:
        if self.sorts.value() != state.sort:
            with QSignalBlocker(self.sorts):
                self.sorts.choose(state.sort)
        self._show_runs(state)
        self.empty.setText(state.empty)
        self.empty.setVisible(bool(state.empty))
        ids = [line.machine_id for line in state.machines]
        if ids != list(self.choices):
            self._build_machines(state)
        for line in state.machines:
            self.choices[line.machine_id].show_line(line)
            self.choices[line.machine_id].setEnabled(state.can_write)
        self.total.setText(state.total)
        self.day_only.setVisible(state.day_only is not None)
        with QSignalBlocker(self.day_only):
            self.day_only.setChecked(bool(state.day_only))
        chosen = any(line.chosen for line in state.machines)
        self.lay_button.setEnabled(state.can_write and chosen)
        self.plain_button.setEnabled(state.can_write)
        self._order_keys()

    def _order_keys(self) -> None:
        """Tab goes down the room as it is read, whenever its lines were made."""
        order: list[QWidget] = [*self.run_buttons]
        for choice in self.choices.values():
            order += choice.stops
        order += [self.day_only, self.lay_button, self.plain_button]
        for first, then in pairwise(order):
            self.setTabOrder(first, then)

    def _show_runs(self, state: SeasonState) -> None:
        emptied(self._runs_column)
        self.run_buttons = []
        self._runs.setVisible(bool(state.runs))
        if state.runs:
            self._runs_column.addWidget(plain_label(self._labels["runs_head"], role="head"))
        for line in state.runs:
            row = QHBoxLayout()
            words = QVBoxLayout()
            words.addWidget(plain_label(line.text))
            words.addWidget(plain_label(line.second, role="second"))
            row.addLayout(words, 1)
            button = Button(self._labels["go_on"])
            button.setProperty("run", line.run_id)
            button.setMinimumHeight(look.TARGET)
            button.setAccessibleName(f"{line.text}: {self._labels['go_on']}")
            button.clicked.connect(self._run_pressed)
            self.run_buttons.append(button)
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
            self._runs_column.addLayout(row)

    def _build_machines(self, state: SeasonState) -> None:
        emptied(self._machines)
        self.choices = {}
        for line in state.machines:
            choice = MachineChoice(line, self._labels, self._language)
            choice.ticked.connect(self.machineTicked)
            choice.optionChosen.connect(self.optionChosen)
            choice.notYet.connect(self.notYet)
            self.choices[line.machine_id] = choice
            self._machines.addWidget(choice)

    def _show_run(self, state: SeasonState, typed: dict[str, str]) -> None:
        self.rail.show_lines(state.rail)
        self._show_card(state, typed)
        self._show_side(state)
        self.strip.setText(f"{self._labels['loose_head']}: {state.strip}")
        self.strip.setVisible(self._strip_shows())
        self.show_clocks(() if state.finished else state.clocks)
        working = state.card is not None
        for name in ANSWERS:
            self.buttons[name].setVisible(working)
        clock = "" if state.card is None else state.card.clock
        self.buttons["clock"].setText(clock)
        shown = {
            "clock": bool(clock),
            "finish": not working and not state.finished,
            "find": state.faults,
            "tag": bool(state.loose)
            if working
            else state.finished and state.sort == "putting_away",
            "print": working,
            "bench": working,
            "stop": working,
        }
        for name, visible in shown.items():
            self.buttons[name].setVisible(visible)
        for name, button in self.buttons.items():
            button.setEnabled(state.can_write or name in ("print", "tag", "bench"))

    def _strip_shows(self) -> bool:
        """What is off or open is never out of sight: beside the step, or beneath it."""
        state = self._state
        return state is not None and bool(state.strip) and not state.finished and self._across < 3

    def _show_card(self, state: SeasonState, typed: dict[str, str]) -> None:
        column = self.card_column
        emptied(column)
        self._layer.cautions, self._layer.figures = [], None
        card = state.card
        if card is None:
            for line in state.summary:
                column.addWidget(plain_label(line, role="lead"))
        else:
            self._layer.lay(column, card)
            if self.figures is not None and any(typed.values()):
                self.figures.put(typed)
        column.addStretch(1)
        self._card_area.verticalScrollBar().setValue(0)

    def _show_side(self, state: SeasonState) -> None:
        column = self.side_column
        emptied(column)
        column.addWidget(plain_label(self._labels["loose_head"], role="head"))
        if not state.loose:
            column.addWidget(plain_label(self._labels["loose_none"], role="second"))
        for line in state.loose:
            column.addWidget(plain_label(line.text))
            column.addWidget(plain_label(line.second, role="second"))
        column.addStretch(1)

    def show_clocks(self, lines: tuple[str, ...]) -> None:
        """Say what runs by itself, and how long yet."""
        self.clock_line.setText(" · ".join(lines))
        self.clock_line.setVisible(bool(lines))

    def say(self, text: str) -> None:
        """Say something above the list."""
        self.notice.setText(text)
        self.notice.setVisible(bool(text))

    def restyle(self) -> None:
        """Lay everything out again, after another look or text size."""
        self._across = 0
        self._arrange(columns(self.width(), wide=WIDE, middle=MIDDLE))
        self._lower(self.height())
        self.rail.rows = []
        self.choices = {}
        if self._state is not None:
            self.show_state(self._state)

    @property
    def shown(self) -> SeasonState | None:
        """What is shown."""
        return self._state

    @property
    def card(self) -> SeasonCard | None:
        """The step that is shown."""
        return None if self._state is None else self._state.card

    @property
    def cautions(self) -> list[CautionPanel]:
        """The panels that stand before the step."""
        return self._layer.cautions

    @property
    def figures(self) -> Figures | None:
        """The fields of the step, when it measures something."""
        return self._layer.figures

    # -- forms ---------------------------------------------------------------------------------

    def after_form(self) -> None:
        """Back to what the form stood in front of."""
        running = self._state is not None and self._state.run_id
        self._pages.setCurrentWidget(self._running if running else self._choosing)

    def focus_first(self) -> None:
        """The keyboard goes to what is to be answered; Space or Enter is not yet *done*."""
        state = self._state
        if state is None or self._form is not None:
            return
        if not state.run_id:
            first = next(iter(self.choices.values()), None)
            target = self.sorts if first is None else first.tick
        elif self.figures is not None:
            target = next(iter(self.figures.fields.values()))
        elif state.card is not None:
            target = self.buttons["done"]
        else:
            target = self.back_button if state.finished else self.buttons["finish"]
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    # -- intents -------------------------------------------------------------------------------

    def _act_pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))

    def _sort_pressed(self) -> None:
        self.sortChosen.emit(self.sorts.value())

    def _run_pressed(self) -> None:
        self.runWanted.emit(int(self.sender().property("run")))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        bar = self._card_area.verticalScrollBar()
        if event.key() == Qt.Key.Key_Escape and self._form is None:
            self.actWanted.emit("back")
        elif event.key() in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            down = event.key() == Qt.Key.Key_PageDown
            bar.setValue(bar.value() + (bar.pageStep() if down else -bar.pageStep()))
        else:
            super().keyPressEvent(event)

    # -- laying out ----------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Three columns, two or one, as the width goes; the step is always in sight."""
        self._arrange(columns(event.size().width(), wide=WIDE, middle=MIDDLE))
        self._lower(event.size().height())
        super().resizeEvent(event)

    def _lower(self, height: int) -> None:
        """In a low room the title is small and stands alone: the step needs the height."""
        low = height < look.px(LOW, look.text_scale())
        self.second.setVisible(not low)
        give_role(self.title, "head" if low else "name")

    def _arrange(self, across: int) -> None:
        if across == self._across:
            return
        self._across = across
        panes = (self._left, self._card_area, self._side_area)
        for pane in panes:
            self._grid.removeWidget(pane)
        for column, share in enumerate({3: (4, 7, 3), 2: (4, 7, 0), 1: (0, 1, 0)}[across]):
            self._grid.setColumnStretch(column, share)
        for column, pane in enumerate(panes):
            self._grid.addWidget(pane, 0, column)
        self._left.setVisible(across > 1)
        self._side_area.setVisible(across > 2)
        self.strip.setVisible(self._strip_shows())
