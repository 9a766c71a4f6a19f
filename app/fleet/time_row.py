"""How much time there is: three answers to press, or minutes to type."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QIntValidator, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label

QUARTER, HOUR, AFTERNOON = 15, 60, 240
MOST_MINUTES = 600
OWN_WIDTH = 130


class _Minutes(QLineEdit):
    """Enter asks; the figure is minutes."""

    asked = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.asked.emit()
        else:
            super().keyPressEvent(event)


class TimeRow(QWidget):
    """`timeGiven` carries the minutes; 0 when the question is taken back."""

    timeGiven = Signal(int)

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.GAP)
        label = plain_label(labels["time"])
        label.setWordWrap(False)
        row.addWidget(label)
        self.buttons: dict[int, Button] = {}
        for minutes, name in (
            (QUARTER, "quarter"),
            (HOUR, "hour"),
            (AFTERNOON, "afternoon"),
        ):
            button = Button(labels[name])
            button.setCheckable(True)
            button.setProperty("minutes", minutes)
            button.clicked.connect(self._pressed)
            row.addWidget(button)
            self.buttons[minutes] = button
        self.own = _Minutes()
        self.own.setPlaceholderText(labels["own_time"])
        self.own.setAccessibleName(labels["own_time"])
        self.own.setValidator(QIntValidator(1, MOST_MINUTES, self.own))
        self.own.asked.connect(self._typed)
        self.own.setMaximumWidth(look.px(OWN_WIDTH, look.text_scale()))
        label.setBuddy(self.own)
        row.addWidget(self.own)

    def show_minutes(self, minutes: int) -> None:
        """Which answer stands."""
        for value, button in self.buttons.items():
            button.setChecked(value == minutes)
        if minutes in (0, *self.buttons):
            self.own.clear()

    def ask(self) -> None:
        """Put the keyboard on the first answer."""
        self.buttons[QUARTER].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _pressed(self) -> None:
        button = self.sender()
        if isinstance(button, Button):
            minutes = int(button.property("minutes")) if button.isChecked() else 0
            self.timeGiven.emit(minutes)

    def _typed(self) -> None:
        if self.own.hasAcceptableInput():
            self.timeGiven.emit(int(self.own.text()))
