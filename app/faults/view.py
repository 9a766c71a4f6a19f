# pyright: standard
"""The fault room: what it does, one next thing as a large card, what is likely, the path so far.

Widgets and intent signals only; one `show_state(state)`; nothing is reckoned here.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.causes.state import (
    FaultRoomState,
    KnownLine,
    OutcomeLine,
    PathLine,
    SuspectLine,
    SymptomLine,
)
from app.faults.card import AnswerButton, CardPane, empty
from app.pieces import look
from app.pieces.button import Button, Tick
from app.pieces.labels import plain_label
from app.pieces.odds_bar import OddsBar
from app.pieces.room import RoomView, columns
from app.pieces.tiles import Flow

WIDE, MIDDLE = 1180, 860
UNDER = ("print", "pause", "left_off", "stop", "end", "worth")


class FaultView(RoomView):
    """The room. Signals say what the user wants."""

    symptomChosen = Signal(str)
    outcomeChosen = Signal(str)
    factTold = Signal(str)
    actWanted = Signal(str)
    changeWanted = Signal(int)
    putBackWanted = Signal(int)
    asideWanted = Signal(str)
    findCounted = Signal(int, bool)
    touched = Signal()
    _state: FaultRoomState | None = None

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__(language)
        self._labels = labels
        self.symptom_buttons: list[AnswerButton] = []
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, look.GAP, look.MARGIN, look.GAP)
        outer.addLayout(self._head())
        self.notice = plain_label("", role="head")
        self.notice.setVisible(False)
        outer.addWidget(self.notice)
        self._pages.addWidget(self._room())
        outer.addWidget(self._pages, 1)

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(look.GAP * 2)
        self.icon = QLabel()
        row.addWidget(self.icon, 0, Qt.AlignmentFlag.AlignTop)
        names = QVBoxLayout()
        self.name = plain_label("", role="name")
        self.second = plain_label("", role="second")
        names.addWidget(self.name)
        names.addWidget(self.second)
        row.addLayout(names, 3)
        says = QVBoxLayout()
        self.complaint = plain_label("", role="lead")
        self.standing = plain_label("")
        says.addWidget(self.complaint)
        says.addWidget(self.standing)
        row.addLayout(says, 4)
        self.back_button = self._button("back")
        row.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _room(self) -> QWidget:
        body = QWidget()
        self._grid = QGridLayout(body)
        self._grid.setContentsMargins(0, 6, 0, 0)
        self._grid.setHorizontalSpacing(look.GUTTER)
        self.left, self.left_column = _pane()
        self.middle, self.middle_column = _pane()
        self.right, self.right_column = _pane()
        self.card = CardPane(self._labels)
        self.card.outcomeChosen.connect(self.outcomeChosen)
        self.card.factTold.connect(self.factTold)
        self.card.actWanted.connect(self.actWanted)
        self.middle_column.addWidget(self.card)
        self.choices = QWidget()
        self.choices_column = QVBoxLayout(self.choices)
        self.choices_column.setContentsMargins(0, 0, 0, 0)
        self.middle_column.addWidget(self.choices)
        self.under = QWidget()
        flow = Flow(self.under)
        self.buttons = {name: self._button(name) for name in UNDER}
        for button in self.buttons.values():
            flow.addWidget(button)
        self.middle_column.addWidget(self.under)
        self.resume_button = self._button("resume")
        self.new_button = self._button("new")
        for button in (self.resume_button, self.new_button):
            self.middle_column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        self.middle_column.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setWidget(body)
        self._across = 0
        self._arrange(3)
        return self.area

    def _button(self, name: str) -> Button:
        button = Button(self._labels[name])
        button.setProperty("act", name)
        button.setMinimumHeight(look.TARGET)
        button.clicked.connect(self._act_pressed)
        return button

    # -- showing -----------------------------------------------------------------------------

    def show_state(self, state: FaultRoomState) -> None:
        """Show the room as it is."""
        self._state = state
        self.say(state.notice)
        self.name.setText(state.name)
        self.second.setText(state.second)
        self.complaint.setText(state.complaint)
        says = " ".join(part for part in (state.ended, state.paused, state.handover) if part)
        self.standing.setText(says)
        self.standing.setVisible(bool(says))
        self._show_icon()
        self._show_left(state)
        self._show_middle(state)
        self._show_right(state)

    def _show_icon(self) -> None:
        if self._state is None:
            return
        size = look.px(60, look.text_scale())
        drawn = look.icon(self._state.icon, size, look.current().ink, self.devicePixelRatioF())
        self.icon.setPixmap(drawn)

    def _show_left(self, state: FaultRoomState) -> None:
        column = self.left_column
        empty(column)
        if state.known:
            column.addWidget(plain_label(self._labels["known_head"], role="head"))
            for line in state.known:
                self._show_known(line, can_write=state.can_write and not state.ended)
            column.addSpacing(look.GAP)
        if state.search_id:
            column.addWidget(plain_label(self._labels["path_head"], role="head"))
            shown = [line for line in state.path if not line.withdrawn]
            if not shown:
                column.addWidget(plain_label(self._labels["path_none"], role="second"))
            for line in shown:
                self._show_step(line, can_write=state.can_write and not state.ended)
        if state.left_off or (state.back and not state.ended):
            column.addSpacing(look.GAP)
            column.addWidget(plain_label(self._labels["loose_head"], role="head"))
            if not state.left_off:
                column.addWidget(plain_label(self._labels["loose_none"], role="second"))
            for line in state.left_off:
                self._show_loose(line, can_write=state.can_write)
            for text in () if state.ended else state.back:
                column.addWidget(plain_label(text, role="second"))
        column.addStretch(1)

    def _show_known(self, line: KnownLine, *, can_write: bool) -> None:
        row = QHBoxLayout()
        row.addWidget(plain_label(line.text, role="second" if line.step_id else ""), 1)
        if can_write:
            label = self._labels["count_again" if line.step_id else "set_aside"]
            button = self._link(label, f"{line.text} {label}")
            button.setProperty("step", line.step_id)
            button.setProperty("subject", line.subject)
            button.clicked.connect(self._put_back_pressed if line.step_id else self._aside_pressed)
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self.left_column.addLayout(row)

    def _link(self, text: str, name: str) -> Button:
        button = Button(text)
        button.setProperty("link", True)
        button.setMinimumHeight(look.TARGET)
        button.setAccessibleName(name)
        return button

    def _show_step(self, line: PathLine, *, can_write: bool) -> None:
        self.left_column.addWidget(plain_label(line.text))
        row = QHBoxLayout()
        answer = plain_label(line.answer, role="head")
        row.addWidget(answer, 1)
        if line.changeable and can_write:
            said = self._labels["now" if line.aside else "change"]
            button = self._link(said, f"{line.text} {said}")
            button.setProperty("step", line.step_id)
            pressed = self._put_back_pressed if line.aside else self._change_pressed
            button.clicked.connect(pressed)
            row.addWidget(button)
        self.left_column.addLayout(row)

    def _show_loose(self, line: PathLine, *, can_write: bool) -> None:
        row = QHBoxLayout()
        row.addWidget(plain_label(line.text), 1)
        button = Button(self._labels["put_back"])
        button.setMinimumHeight(look.TARGET)
        button.setProperty("step", line.step_id)
        button.setAccessibleName(f"{line.text}: {self._labels['put_back']}")
        button.setEnabled(can_write)
        button.clicked.connect(self._put_back_pressed)
        row.addWidget(button)
        self.left_column.addLayout(row)

    def _show_middle(self, state: FaultRoomState) -> None:
        runs = bool(state.card or state.fact) and not state.paused
        self.card.setVisible(runs)
        if runs and state.fact is not None:
            self.card.show_fact(state.fact, can_write=state.can_write)
        elif runs and state.card is not None:
            self.card.show_card(state.card, can_write=state.can_write)
        self.under.setVisible(bool(state.search_id) and not state.ended)
        for button in self.buttons.values():
            button.setEnabled(state.can_write)
        self.resume_button.setVisible(bool(state.paused))
        self.new_button.setVisible(bool(state.ended))
        self.left.setVisible(bool(state.search_id))
        self._show_choices(state.symptoms, can_write=state.can_write)
        self.choices.setVisible(bool(state.symptoms))
        self.area.verticalScrollBar().setValue(0)

    def _show_choices(self, symptoms: tuple[SymptomLine, ...], *, can_write: bool) -> None:
        column = self.choices_column
        empty(column)
        self.symptom_buttons = []
        if not symptoms:
            return
        column.addWidget(plain_label(self._labels["what"], role="name"))
        column.addWidget(plain_label(self._labels["what_second"], role="second"))
        for line in symptoms:
            said = OutcomeLine(code=line.code, text=line.title, then=f"{line.said} ({line.fits})")
            button = AnswerButton(said, 0, self.choices)
            button.setEnabled(can_write)
            button.clicked.connect(self._symptom_pressed)
            self.symptom_buttons.append(button)
            column.addWidget(button)
        column.addSpacing(look.GAP)
        column.addWidget(self._button("note"), 0, Qt.AlignmentFlag.AlignLeft)

    def _show_right(self, state: FaultRoomState) -> None:
        column = self.right_column
        empty(column)
        if state.suspects and not state.ended:
            head = QHBoxLayout()
            head.addWidget(plain_label(self._labels["suspects_head"], role="head"), 1)
            head.addWidget(plain_label(self._labels["suspects_second"], role="second"))
            column.addLayout(head)
            for line in state.suspects:
                self._show_suspect(line)
            if state.rest:
                column.addWidget(plain_label(state.rest, role="second"))
            column.addWidget(plain_label(self._labels["odds"], role="second"))
        if state.card is not None and state.card.why and not state.ended:
            column.addSpacing(look.GAP)
            column.addWidget(plain_label(self._labels["why_head"], role="head"))
            for line in state.card.why:
                column.addWidget(plain_label(line))
        if state.spent:
            column.addSpacing(look.GAP)
            column.addWidget(plain_label(state.spent, role="head"))
        if state.finds:
            column.addSpacing(look.GAP)
            column.addWidget(plain_label(self._labels["finds_head"], role="head"))
            for find in state.finds:
                column.addWidget(plain_label(find.text))
                tick = Tick(self._labels["counts"])
                tick.setChecked(find.counts)
                tick.setMinimumHeight(look.TARGET)
                tick.setProperty("find", find.search_id)
                tick.setAccessibleName(f"{find.text}: {self._labels['counts']}")
                tick.setEnabled(state.can_write)
                tick.clicked.connect(self._find_pressed)
                column.addWidget(tick)
        column.addStretch(1)

    def _show_suspect(self, line: SuspectLine) -> None:
        head = QHBoxLayout()
        head.addWidget(plain_label(line.name, role="head" if line.strong else ""), 1)
        head.addWidget(plain_label(line.minutes_text), 0, Qt.AlignmentFlag.AlignTop)
        self.right_column.addLayout(head)
        self.right_column.addWidget(OddsBar(line.share, strong=line.strong))
        chance = f"{self._labels['chance']} {line.odds}"
        self.right_column.addWidget(plain_label(chance, role="second"))

    def say(self, text: str) -> None:
        """Say something above the card."""
        self.notice.setText(text)
        self.notice.setVisible(bool(text))

    def restyle(self) -> None:
        """Lay everything out again, after another look or text size."""
        self._across = 0
        self._arrange(columns(self.width(), wide=WIDE, middle=MIDDLE))
        self.card.restyle()
        if self._state is not None:
            self.show_state(self._state)

    def changeEvent(self, event: QEvent) -> None:
        """Another look was put on."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self._state is not None:
            self.restyle()
            if self._form is None and self.isVisible():
                self.focus_first()

    @property
    def shown(self) -> FaultRoomState | None:
        """What is shown."""
        return self._state

    # -- forms -------------------------------------------------------------------------------

    def after_form(self) -> None:
        """Back to what the form stood in front of."""
        super().after_form()
        self.focus_first()

    def focus_first(self) -> None:
        """The keyboard goes to what is to be answered."""
        if self.card.isVisible():
            self.card.focus_first()
        elif self.symptom_buttons:
            self.symptom_buttons[0].setFocus(Qt.FocusReason.OtherFocusReason)

    # -- intents -----------------------------------------------------------------------------

    def _act_pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))

    def _symptom_pressed(self) -> None:
        self.symptomChosen.emit(str(self.sender().property("answer")))

    def _change_pressed(self) -> None:
        self.changeWanted.emit(int(self.sender().property("step")))

    def _aside_pressed(self) -> None:
        self.asideWanted.emit(str(self.sender().property("subject")))

    def _put_back_pressed(self) -> None:
        self.putBackWanted.emit(int(self.sender().property("step")))

    def _find_pressed(self) -> None:
        tick = self.sender()
        if isinstance(tick, Tick):
            self.findCounted.emit(int(tick.property("find")), tick.isChecked())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        self.touched.emit()
        if event.key() == Qt.Key.Key_Escape and self._form is None:
            self.actWanted.emit("back")
        elif self._form is None and self.card.isVisible() and self.card.press(_figure(event)):
            event.accept()
        else:
            super().keyPressEvent(event)

    # -- laying out --------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Three columns, two or one, as the width goes; the card is always in the first rows."""
        self._arrange(columns(event.size().width(), wide=WIDE, middle=MIDDLE))
        super().resizeEvent(event)

    def _arrange(self, across: int) -> None:
        if across == self._across:
            return
        self._across = across
        panes = (self.left, self.middle, self.right)
        for pane in panes:
            self._grid.removeWidget(pane)
        places = {
            3: ((0, 0, 1), (0, 1, 1), (0, 2, 1)),
            2: ((1, 0, 1), (0, 0, 2), (1, 1, 1)),
            1: ((2, 0, 1), (0, 0, 1), (1, 0, 1)),
        }[across]
        for pane, (row, column, span) in zip(panes, places, strict=True):
            self._grid.addWidget(pane, row, column, 1, span)
        shares = {3: (3, 6, 4), 2: (1, 1, 0), 1: (1, 0, 0)}[across]
        for column, share in enumerate(shares):
            self._grid.setColumnStretch(column, share)


def _figure(event: QKeyEvent) -> int:
    """The figure of a key, 0 for another one."""
    return int(event.text()) if event.text() in set("123456789") else 0


def _pane() -> tuple[QWidget, QVBoxLayout]:
    pane = QWidget()
    column = QVBoxLayout(pane)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(4)
    return pane, column
