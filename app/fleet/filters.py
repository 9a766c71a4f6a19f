"""Which machines are shown: a line to type in, and behind a button the choices and the order."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from app.fleet.state import Choices, SortBy, Wanted
from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label

MOST_TYPED = 100
_NAMES = ("place", "kind", "state", "hand", "sort")


class _Search(QLineEdit):
    """Down goes on to the list; Escape forgets what was typed."""

    left = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.left.emit()
        elif event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        else:
            super().keyPressEvent(event)


class _Choice(QComboBox):
    """A choice with a hook that says it opens; the wheel scrolls and never chooses."""

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(look.current().colour("ink"), 2))
        x, y = self.width() - 24, self.height() // 2
        painter.drawPolyline([QPoint(x, y - 3), QPoint(x + 6, y + 4), QPoint(x + 12, y - 3)])


class Filters(QWidget):
    """`changed` carries what is wanted now; `left`: on to the list."""

    changed = Signal(object)
    left = Signal()

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        self._labels = labels
        self._quiet = False
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.GAP)
        row = QHBoxLayout()
        row.setSpacing(look.GAP)
        self.search = _Search()
        self.search.setPlaceholderText(labels["search"])
        self.search.setAccessibleName(labels["search"])
        self.search.setMaxLength(MOST_TYPED)
        self.search.setMinimumWidth(look.SEARCH_WIDTH)
        self.search.textChanged.connect(self._tell)
        self.search.left.connect(self.left)
        self.more = Button(labels["narrow"])
        self.more.setCheckable(True)
        self.more.toggled.connect(self._unfold)
        self.count = plain_label("", role="second")
        self.all = Button(labels["show_all"])
        self.all.setVisible(False)
        self.all.clicked.connect(self.clear)
        row.addWidget(self.search, 2)
        row.addWidget(self.more)
        row.addWidget(self.all)
        row.addWidget(self.count, 1)
        column.addLayout(row)
        self.folded = _Boxes()
        self.boxes: dict[str, QComboBox] = {}
        for name in _NAMES:
            box = _Choice()
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setMinimumContentsLength(8)
            box.setAccessibleName(labels[f"by_{name}"])
            box.currentIndexChanged.connect(self._tell)
            self.boxes[name] = box
        self._fill("sort", tuple((str(sort), labels[f"sort_{sort}"]) for sort in SortBy))
        self.show_choices(Choices())
        self.folded.show_boxes(tuple(self.boxes.values()))
        self.folded.setVisible(False)

    def show_choices(self, choices: Choices) -> None:
        """What there is to choose from; a choice that is gone falls back to all."""
        self._fill("place", (("", self._labels["any_place"]), *choices.places))
        self._fill("kind", (("", self._labels["any_kind"]), *choices.kinds))
        self._fill("state", (("", self._labels["any_state"]), *choices.states))
        self._fill("hand", (("", self._labels["any_hand"]), *choices.hands))

    def _fill(self, name: str, choices: tuple[tuple[str, str], ...]) -> None:
        box = self.boxes[name]
        known = tuple((box.itemData(n), box.itemText(n)) for n in range(box.count()))
        if known == choices:
            return
        self._quiet = True
        kept = box.currentData()
        box.clear()
        for value, words in choices:
            box.addItem(words, value)
        box.setCurrentIndex(max(0, box.findData(kept)))
        self._quiet = False
        if kept not in (None, box.currentData()):
            self._tell()

    def wanted(self) -> Wanted:
        """What is asked for now."""
        chosen = {name: str(box.currentData() or "") for name, box in self.boxes.items()}
        return Wanted(
            search=self.search.text(),
            place=chosen["place"],
            kind=chosen["kind"],
            state=chosen["state"],
            hand=chosen["hand"],
            sort=SortBy(chosen["sort"] or SortBy.URGENCY),
        )

    def clear(self) -> None:
        """Show every machine again; the order stays."""
        self._quiet = True
        self.search.clear()
        for name in _NAMES[:-1]:
            self.boxes[name].setCurrentIndex(0)
        self._quiet = False
        self._tell()
        self.search.setFocus(Qt.FocusReason.OtherFocusReason)

    def _tell(self) -> None:
        if self._quiet:
            return
        wanted = self.wanted()
        self.all.setVisible(wanted.narrows)
        self.changed.emit(wanted)

    def _unfold(self, open_: bool) -> None:  # noqa: FBT001  (Qt's signal)
        self.folded.setVisible(open_)


class _Boxes(QWidget):
    """The choices, so many beside one another as there is room for."""

    def __init__(self) -> None:
        super().__init__()
        self._boxes: tuple[QComboBox, ...] = ()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(look.GAP)

    def show_boxes(self, boxes: tuple[QComboBox, ...]) -> None:
        """Which choices there are."""
        self._boxes = boxes
        self._lay(len(boxes))

    def _lay(self, across: int) -> None:
        for place, box in enumerate(self._boxes):
            self._grid.addWidget(box, place // across, place % across)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._lay(max(1, min(4, event.size().width() // look.px(230, look.text_scale()))))
        super().resizeEvent(event)
