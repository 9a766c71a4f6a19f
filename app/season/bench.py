"""The bench view: one step, full screen, large, three targets for gloved hands.

Its keys stand at the edges of the rows of function keys, so that a finger in a glove finds them
and none of them is ever part of a figure that is typed.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.labels import plain_label
from app.pieces.room import RoomView, columns, emptied, scrolled
from app.season.card import CardLayer, Figures
from app.season.state import SeasonCard, SeasonState

KEYS = {"done": "F5", "bench_cannot": "F8", "fault": "F12"}
STEP_PX, TEXT_PX, CAUTION_PX, TARGET_PX, TITLE_PX = 44, 28, 20, 26, 20
BIG_TARGET = 96
WIDE, MIDDLE = 1500, 900


class BenchView(RoomView):
    """One step and nothing else. `actWanted`: done, bench_cannot, fault, leave."""

    actWanted = Signal(str)

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__(language)
        self.setWindowFlag(Qt.WindowType.Window)
        self.setObjectName("bench")
        self._labels = labels
        self._state: SeasonState | None = None
        self._layer = CardLayer(labels, step=STEP_PX, text=TEXT_PX, caution=CAUTION_PX)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, look.GAP, look.MARGIN, look.GAP)
        outer.addLayout(self._head())
        self.notice = plain_label("", role="refusal")
        self.notice.hide()
        outer.addWidget(self.notice)
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        body = QWidget()
        self.column = QVBoxLayout(body)
        self.column.setContentsMargins(0, 0, look.GAP, 0)
        self.column.setSpacing(look.GAP)
        self._area = scrolled(body)
        column.addWidget(self._area, 1)
        self.strip = plain_label("", role="head")
        column.addWidget(self.strip)
        column.addLayout(self._targets())
        self._pages.addWidget(page)
        outer.addWidget(self._pages, 1)

    # -- building ------------------------------------------------------------------------------

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        words = QVBoxLayout()
        self.title = plain_label("", role="head")
        self.clock_line = QLabel()
        pixels = look.px(TITLE_PX, look.text_scale())
        self.clock_line.setStyleSheet(f"font-size: {pixels}px; font-weight: 600;")
        self.clock_line.setWordWrap(True)
        words.addWidget(self.title)
        words.addWidget(self.clock_line)
        row.addLayout(words, 1)
        self.leave_button = Button(self._labels["bench_leave"])
        self.leave_button.setProperty("act", "leave")
        self.leave_button.setMinimumHeight(look.TARGET)
        self.leave_button.clicked.connect(self._pressed)
        row.addWidget(self.leave_button, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _targets(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(look.GUTTER)
        self.buttons: dict[str, Button] = {}
        pixels = look.px(TARGET_PX, look.text_scale())
        for name, key in KEYS.items():
            button = Button(f"{self._labels[name]}   {key}")
            button.setAccessibleName(self._labels[name])
            button.setProperty("act", name)
            button.setShortcut(key)
            high = look.px(BIG_TARGET, look.text_scale())
            sizes = f"font-size: {pixels}px; font-weight: 600; min-height: {high}px;"
            button.setStyleSheet(f"QPushButton {{ {sizes} }}")
            button.clicked.connect(self._pressed)
            self.buttons[name] = button
            row.addWidget(button, 1)
        self.buttons["done"].setProperty("main", True)
        return row

    # -- showing -------------------------------------------------------------------------------

    def show_state(self, state: SeasonState) -> None:
        """Show the step that comes next, or what the list comes to."""
        before = self._state
        self._state = state
        card = state.card
        kept = {}
        if self.figures is not None and before is not None and before.card is not None:
            same = card is not None and card.place == before.card.place
            kept = self.figures.typed() if same else {}
        self.title.setText(state.title)
        self.strip.setText(f"{self._labels['loose_head']}: {state.strip}")
        self.strip.setVisible(bool(state.strip))
        self.show_clocks(state.clocks)
        emptied(self.column)
        self._layer.cautions, self._layer.figures = [], None
        if card is None:
            for line in state.summary:
                self.column.addWidget(plain_label(line, role="name"))
        else:
            self._layer.lay(self.column, card)
            if kept and self.figures is not None:
                self.figures.put(kept)
        self.column.addStretch(1)
        for name, button in self.buttons.items():
            button.setEnabled(state.can_write)
            button.setVisible(card is not None or name == "done")
        done = self._labels["done"] if card is not None else self._labels["bench_over"]
        self.buttons["done"].setText(f"{done}   {KEYS['done']}")
        self.say("")
        self._area.verticalScrollBar().setValue(0)

    def show_clocks(self, lines: tuple[str, ...]) -> None:
        """Say what runs by itself, and how long yet."""
        self.clock_line.setText(" · ".join(lines))
        self.clock_line.setVisible(bool(lines))

    def say(self, text: str) -> None:
        """Say why something was not taken."""
        self.notice.setText(text)
        self.notice.setVisible(bool(text))

    @property
    def card(self) -> SeasonCard | None:
        """The step that is shown."""
        return None if self._state is None else self._state.card

    @property
    def run_id(self) -> int:
        """The run that is shown; 0: none."""
        return 0 if self._state is None else self._state.run_id

    @property
    def cautions(self) -> list[CautionPanel]:
        """The panels that stand before the step."""
        return self._layer.cautions

    @property
    def figures(self) -> Figures | None:
        """The fields of the step, when it measures something."""
        return self._layer.figures

    def focus_first(self) -> None:
        """The keyboard goes to the figure to be typed, else to what ticks the step."""
        if self._form is not None:
            return
        fields = () if self.figures is None else tuple(self.figures.fields.values())
        target = fields[0] if fields else self.buttons["done"]
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    # -- intents -------------------------------------------------------------------------------

    def _pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        bar = self._area.verticalScrollBar()
        if event.key() == Qt.Key.Key_Escape and self._form is None:
            self.actWanted.emit("leave")
        elif event.key() in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            down = event.key() == Qt.Key.Key_PageDown
            bar.setValue(bar.value() + (bar.pageStep() if down else -bar.pageStep()))
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cautions stand side by side where there is room, so that the step stays in sight."""
        across = columns(event.size().width(), wide=WIDE, middle=MIDDLE)
        if across != self._layer.across:
            self._layer.across = across
            if self._state is not None:
                self.show_state(self._state)
        super().resizeEvent(event)

    def closeEvent(self, event: object) -> None:
        """Closed by the window's own button: the room comes back."""
        self.actWanted.emit("leave")
        super().closeEvent(event)  # type: ignore[arg-type]  # a QCloseEvent
