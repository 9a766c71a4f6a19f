# pyright: standard
"""A form made from a list of questions. It gives back answers and saves nothing itself.

What cannot be taken stays in its field, with the reason beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from dataclasses import field as made_by
from datetime import date
from enum import Enum

from PySide6.QtCore import QDate, QLocale, QPoint, Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QStandardItemModel,
    QWheelEvent,
)
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
from app.pieces.ticked import TickedRow, TickWords
from app.pieces.tiles import Picks, Tiles
from app.wording.lines import CautionText

Answers = Mapping[str, object]


class FieldSort(Enum):
    """What kind of answer a question takes.

    TILES: one of a few, all in sight, with a picture where there is one. PICK: a press on one
    answers the whole form.
    """

    TEXT = "text"
    NOTE = "note"
    DAY = "day"
    CHOICE = "choice"
    TICKS = "ticks"
    YES = "yes"
    TILES = "tiles"
    PICK = "pick"


HEAD = "head:"
SEND_KEY = "Ctrl+Enter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One question. `choices`: (value, words); one whose value begins with HEAD is a heading.

    `hint` stands under the field, and so do the `details` of the value that is chosen. `icons`:
    the picture of a value. `later`: it can wait, and is shown when asked for. `preview`:
    what is said beneath of the text as it is typed. `counted`: the ticks are counted above them.
    """

    name: str
    label: str
    sort: FieldSort = FieldSort.TEXT
    choices: tuple[tuple[str, str], ...] = ()
    default: object = ""
    hint: str = ""
    placeholder: str = ""
    details: Mapping[str, str] = made_by(default_factory=dict[str, str])
    icons: Mapping[str, str] = made_by(default_factory=dict[str, str])
    later: bool = False
    preview: Callable[[str], str] | None = None
    counted: TickWords | None = None

    def given(self) -> object:
        """What it answers when nobody touches it."""
        match self.sort:
            case FieldSort.CHOICE | FieldSort.TILES:
                values = [value for value, _ in self.choices if not value.startswith(HEAD)]
                wanted = str(self.default)
                fallback = values[0] if values and self.sort is FieldSort.CHOICE else ""
                return wanted if wanted in values else fallback
            case FieldSort.TICKS:
                return self.default if isinstance(self.default, tuple) else ()
            case FieldSort.YES:
                return bool(self.default)
            case FieldSort.DAY:
                return self.default
            case _:
                return str(self.default)


@dataclass(frozen=True, slots=True, kw_only=True)
class FormPage:
    """A whole form: its title, what it says first, its questions, the words on its buttons.

    Without `done` there is no such button: pressing an answer is enough. `later` names what opens
    the questions that can wait. `about`: the machine, where its name stands nowhere else.
    """

    key: str
    title: str
    about: str = ""
    lead: str = ""
    fields: tuple[Field, ...]
    done: str
    cancel: str
    cautions: tuple[CautionText, ...] = ()
    focus: str = ""
    later: str = ""

    def given(self) -> Answers:
        """What the form answers when nobody touches it."""
        return {field.name: field.given() for field in self.fields}


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
        self.setAccessibleName(" · ".join(part for part in (page.title, page.about) if part))
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.GUTTER // 2, 0, 0, 0)
        head = " · ".join(part for part in (page.title, page.about) if part)
        outer.addWidget(plain_label(head, role="name"))
        self._area = area = QScrollArea(self)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._inside = self._body(page)
        area.setWidget(self._inside)
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
            if not field.later:
                self._add(column, field)
        if any(field.later for field in page.fields):
            column.addWidget(self._fold(page))
        column.addStretch(1)
        return body

    def _fold(self, page: FormPage) -> QWidget:
        """The questions that can wait; the button that opens them stands by the others, where no
        window is too low for it."""
        self._later = fold = QWidget()
        column = QVBoxLayout(fold)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        for field in page.fields:
            if field.later:
                self._add(column, field)
        fold.setVisible(False)
        return fold

    def _later_toggled(self, shown: bool) -> None:  # noqa: FBT001  (a signal's)
        self._later.setVisible(shown)
        first = next(field for field in self.page.fields if field.later)
        if shown:
            widget = self._widgets[first.name]
            widget.setFocus(Qt.FocusReason.OtherFocusReason)
            self._bring_in_sight(self._refusals[first.name], widget)

    def _add(self, column: QVBoxLayout, field: Field) -> None:
        widget = _MAKERS[field.sort](field, self._language)
        widget.setAccessibleName(field.label)
        widget.setAccessibleDescription(field.hint)
        self._widgets[field.name] = widget
        if field.sort not in (FieldSort.YES, FieldSort.PICK):
            label = plain_label(field.label)
            label.setBuddy(widget)
            column.addSpacing(look.GAP)
            column.addWidget(label)
        refusal = plain_label("", role="refusal")
        refusal.setVisible(False)
        self._refusals[field.name] = refusal
        many = field.sort in (FieldSort.TILES, FieldSort.TICKS)
        if many:  # under so many answers nobody would find it
            column.addWidget(refusal)
        if field.counted is not None and isinstance(widget, QListWidget):
            column.addWidget(TickedRow(widget, field.counted))
        column.addWidget(widget)
        if field.hint:
            column.addWidget(plain_label(field.hint, role="second"))
        if field.details and isinstance(widget, QComboBox):
            self._add_details(column, field, widget)
        if field.preview is not None and isinstance(widget, QLineEdit):
            self._add_preview(column, field.preview, widget)
        if isinstance(widget, Picks):
            widget.picked.connect(self.send)
        if not many:
            column.addWidget(refusal)

    def _add_details(self, column: QVBoxLayout, field: Field, widget: QComboBox) -> None:
        """What there is to know about the value that is chosen, in step with it."""
        said = plain_label("", role="second")
        details = field.details

        def tell() -> None:
            said.setText(details.get(str(widget.currentData()), ""))
            widget.setAccessibleDescription(f"{field.hint} {said.text()}".strip())

        widget.currentIndexChanged.connect(tell)
        tell()
        column.addWidget(said)

    def _add_preview(
        self, column: QVBoxLayout, preview: Callable[[str], str], widget: QLineEdit
    ) -> None:
        self.preview = plain_label("", role="head")

        def tell(typed: str) -> None:
            self.preview.setText(preview(typed))
            widget.setAccessibleDescription(self.preview.text())

        widget.textChanged.connect(tell)
        column.addWidget(self.preview)

    def _buttons(self, page: FormPage) -> QHBoxLayout:
        row = QHBoxLayout()
        self.done_button = Button(page.done, self)
        self.done_button.setProperty("main", True)
        self.done_button.setDefault(True)
        self.done_button.clicked.connect(self.send)
        self.done_button.setVisible(bool(page.done))
        self.done_button.setToolTip(f"{page.done} ({SEND_KEY})")
        self.done_button.setAccessibleDescription(SEND_KEY)
        self.cancel_button = Button(page.cancel, self)
        self.cancel_button.setAutoDefault(True)  # Enter on it leaves, and does not send
        self.cancel_button.clicked.connect(self.left)
        row.addWidget(self.done_button)
        row.addWidget(self.cancel_button)
        if any(field.later for field in page.fields):
            self.later_button = Button(page.later)
            self.later_button.setProperty("link", True)
            self.later_button.setCheckable(True)
            self.later_button.toggled.connect(self._later_toggled)
            row.addWidget(self.later_button)
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
        if any(one.later and one.name == field for one in self.page.fields):
            self.later_button.setChecked(True)
        if field in self._widgets:
            self._widgets[field].setFocus(Qt.FocusReason.OtherFocusReason)
            self._bring_in_sight(label, self._widgets[field])

    def _bring_in_sight(self, label: QLabel, widget: QWidget) -> None:
        """What is refused and why, so that no key answers what cannot be seen."""
        layout = self._inside.layout()
        if layout is not None:
            layout.activate()  # so that the label has its height
        target = widget.focusProxy() or widget
        self._area.ensureWidgetVisible(label, 0, look.GAP)
        self._area.ensureWidgetVisible(target, 0, look.GAP)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves, Enter sends (in a note it is a line break)."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.send()
        else:
            super().keyPressEvent(event)


def field_widget(field: Field, language: str) -> QWidget:
    """The widget that asks a question, without its form."""
    return _MAKERS[field.sort](field, language)


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
    for inner in widget.findChildren(QLineEdit):  # no style reaches its inner edge
        inner.setTextMargins(look.GAP, 0, look.GAP, 0)
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
        if value.startswith(HEAD):
            _as_heading(widget, widget.count() - 1)
    index = widget.findData(field.given())
    widget.setCurrentIndex(max(index, 0))
    return widget


def _as_heading(widget: QComboBox, row: int) -> None:
    """A line of the list that says what follows, and cannot be chosen."""
    font = widget.font()
    font.setBold(True)
    widget.setItemData(row, font, Qt.ItemDataRole.FontRole)
    model = widget.model()
    if isinstance(model, QStandardItemModel):
        model.item(row).setEnabled(False)


def _tiles(field: Field, _language: str) -> Tiles:
    return Tiles(field.choices, dict(field.icons), str(field.given()))


def _pick(field: Field, _language: str) -> Picks:
    return Picks(field.choices, dict(field.details))


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
    FieldSort.TILES: _tiles,
    FieldSort.PICK: _pick,
}
_READERS: dict[type[QWidget], Callable[..., object]] = {
    QLineEdit: lambda widget: widget.text(),
    QPlainTextEdit: lambda widget: widget.toPlainText(),
    _Day: _read_day,
    _Choice: lambda widget: widget.currentData(),
    TickList: _read_ticks,
    Tick: lambda widget: widget.isChecked(),
    Tiles: lambda widget: widget.value(),
    Picks: lambda widget: widget.value(),
}
