# pyright: standard
"""A form made from a list of questions. It gives back answers and saves nothing itself.

What cannot be taken stays in its field, with the reason beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import Enum

from PySide6.QtCore import QDate, QLocale, QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDateEdit,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPlainTextEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.pieces import look
from app.pieces.button import Button, Tick, TickList
from app.pieces.caution import CautionPanel
from app.pieces.labels import plain_label
from app.wording.lines import CautionText


class FieldSort(Enum):
    """What kind of answer a question takes."""

    TEXT = "text"
    NOTE = "note"
    DAY = "day"
    CHOICE = "choice"
    TICKS = "ticks"
    YES = "yes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One question. `choices`: (value, words). `hint` stands under the field."""

    name: str
    label: str
    sort: FieldSort = FieldSort.TEXT
    choices: tuple[tuple[str, str], ...] = ()
    default: object = ""
    hint: str = ""
    placeholder: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FormPage:
    """A whole form: its title, what it says first, its questions, the words on its buttons."""

    key: str
    title: str
    lead: str = ""
    fields: tuple[Field, ...]
    done: str
    cancel: str
    cautions: tuple[CautionText, ...] = ()
    focus: str = ""


Answers = Mapping[str, object]


class Form(QWidget):
    """Shows a page. `answered` carries (key, answers); `left` is sent when it is given up."""

    answered = Signal(str, object)
    left = Signal()

    def __init__(self, page: FormPage, language: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.page = page
        self._language = language
        self._widgets: dict[str, QWidget] = {}
        self._refusals: dict[str, QLabel] = {}
        self.setAccessibleName(page.title)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.GUTTER // 2, 0, 0, 0)
        outer.addWidget(plain_label(page.title, role="name"))
        area = QScrollArea(self)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(self._body(page))
        outer.addWidget(area, 1)
        self._notice = plain_label("", role="refusal")
        self._notice.setVisible(False)
        outer.addWidget(self._notice)
        outer.addLayout(self._buttons(page))

    def _body(self, page: FormPage) -> QWidget:
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, look.GAP, 0)
        column.setSpacing(4)
        if page.lead:
            column.addWidget(plain_label(page.lead, role="second"))
        for caution in page.cautions:
            column.addWidget(CautionPanel(caution))
        for field in page.fields:
            self._add(column, field)
        column.addStretch(1)
        return body

    def _add(self, column: QVBoxLayout, field: Field) -> None:
        widget = _MAKERS[field.sort](field, self._language)
        widget.setAccessibleName(field.label)
        widget.setAccessibleDescription(field.hint)
        self._widgets[field.name] = widget
        if field.sort is not FieldSort.YES:
            label = plain_label(field.label)
            label.setBuddy(widget)
            column.addSpacing(look.GAP)
            column.addWidget(label)
        column.addWidget(widget)
        if field.hint:
            column.addWidget(plain_label(field.hint, role="second"))
        refusal = plain_label("", role="refusal")
        refusal.setVisible(False)
        self._refusals[field.name] = refusal
        column.addWidget(refusal)

    def _buttons(self, page: FormPage) -> QHBoxLayout:
        row = QHBoxLayout()
        self.done_button = Button(page.done, self)
        self.done_button.setProperty("main", True)
        self.done_button.setDefault(True)
        self.done_button.clicked.connect(self.send)
        self.cancel_button = Button(page.cancel, self)
        self.cancel_button.setAutoDefault(True)  # Enter on it leaves, and does not send
        self.cancel_button.clicked.connect(self.left)
        row.addWidget(self.done_button)
        row.addWidget(self.cancel_button)
        row.addStretch(1)
        return row

    def focus_first(self) -> None:
        """Put the keyboard on the first question."""
        for name, widget in self._widgets.items():
            if self.page.focus in ("", name):
                widget.setFocus(Qt.FocusReason.OtherFocusReason)
                return

    def widget(self, name: str) -> QWidget:
        """The field of a question. Raises KeyError."""
        return self._widgets[name]

    def answers(self) -> Answers:
        """What stands in the fields: text as typed, days as dates, ticks as tuples of values."""
        return {name: _READERS[type(widget)](widget) for name, widget in self._widgets.items()}

    def send(self) -> None:
        """Give the answers to whoever listens."""
        self.refuse("", "")
        self.answered.emit(self.page.key, self.answers())

    def refuse(self, text: str, field: str) -> None:
        """Say beside the field (or at the foot) why the answers were not taken; "" clears."""
        for label in (*self._refusals.values(), self._notice):
            label.setText("")
            label.setVisible(False)
        if not text:
            return
        label = self._refusals.get(field, self._notice)
        label.setText(text)
        label.setVisible(True)
        if field in self._widgets:
            self._widgets[field].setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves, Enter sends (in a note it is a line break)."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.send()
        else:
            super().keyPressEvent(event)


def _text(field: Field, _language: str) -> QLineEdit:
    widget = QLineEdit(str(field.default))
    widget.setPlaceholderText(field.placeholder)
    return widget


def _note(field: Field, _language: str) -> QPlainTextEdit:
    widget = QPlainTextEdit(str(field.default))
    widget.setTabChangesFocus(True)
    widget.setMinimumHeight(2 * look.TARGET)
    widget.setMaximumHeight(4 * look.TARGET)
    return widget


def _day(field: Field, language: str) -> QDateEdit:
    widget = _Day()
    widget.setLocale(QLocale(language))
    widget.setDisplayFormat("MMM d, yyyy" if language == "en_US" else "d MMM yyyy")
    widget.setCalendarPopup(False)
    widget.setMinimumDate(QDate(1900, 1, 1))
    widget.setMaximumDate(QDate(2199, 12, 31))
    if isinstance(field.default, date):
        widget.setDate(QDate(field.default.year, field.default.month, field.default.day))
    return widget


class _Day(QDateEdit):
    """A day; the wheel scrolls the page and never changes an answer."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class _Choice(QComboBox):
    """A choice with a hook of our own that says it opens; the wheel scrolls the page."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(look.current().colour("ink"), 2))
        x, y = self.width() - 24, self.height() // 2
        painter.drawPolyline([QPoint(x, y - 3), QPoint(x + 6, y + 4), QPoint(x + 12, y - 3)])


def _choice(field: Field, _language: str) -> QComboBox:
    widget = _Choice()
    widget.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    widget.setMinimumContentsLength(12)
    for value, words in field.choices:
        widget.addItem(words, value)
    index = widget.findData(field.default)
    widget.setCurrentIndex(max(index, 0))
    return widget


def _ticks(field: Field, _language: str) -> QListWidget:
    widget = TickList()
    chosen = field.default if isinstance(field.default, tuple) else ()
    for value, words in field.choices:
        item = QListWidgetItem(words)
        item.setData(Qt.ItemDataRole.UserRole, value)
        item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
        item.setCheckState(Qt.CheckState.Checked if value in chosen else Qt.CheckState.Unchecked)
        widget.addItem(item)
    widget.setWordWrap(True)
    widget.setMinimumHeight(min(6, max(2, len(field.choices))) * look.TARGET)
    widget.setSpacing(4)
    widget.setSelectionMode(QListWidget.SelectionMode.NoSelection)
    return widget


def _yes(field: Field, _language: str) -> Tick:
    widget = Tick(field.label)
    widget.setChecked(bool(field.default))
    return widget


def _read_day(widget: QDateEdit) -> date:
    day = widget.date()
    return date(day.year(), day.month(), day.day())


def _read_ticks(widget: QListWidget) -> tuple[str, ...]:
    items = [widget.item(row) for row in range(widget.count())]
    return tuple(
        str(item.data(Qt.ItemDataRole.UserRole))
        for item in items
        if item.checkState() == Qt.CheckState.Checked
    )


_MAKERS: dict[FieldSort, Callable[[Field, str], QWidget]] = {
    FieldSort.TEXT: _text,
    FieldSort.NOTE: _note,
    FieldSort.DAY: _day,
    FieldSort.CHOICE: _choice,
    FieldSort.TICKS: _ticks,
    FieldSort.YES: _yes,
}
_READERS: dict[type[QWidget], Callable[..., object]] = {
    QLineEdit: lambda widget: widget.text(),
    QPlainTextEdit: lambda widget: widget.toPlainText(),
    _Day: _read_day,
    _Choice: lambda widget: widget.currentData(),
    TickList: _read_ticks,
    Tick: lambda widget: widget.isChecked(),
}
