# pyright: standard
"""Is it worth it? Five looks and a few figures on the left, one number and one line on the right.

Widgets and intent signals only; nothing is reckoned here.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.appraisal.state import AppraisalState, LookLine
from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label
from app.pieces.odds_bar import OddsBar
from app.pieces.room import emptied
from app.pieces.tiles import Tiles

FIGURES = ("asked", "low", "high", "hour", "fetching", "as_it_stands")
WIDE = 1000


class AppraisalView(QWidget):
    """The room. `changed`: a figure or a look was changed; `actWanted`: a button."""

    changed = Signal()
    actWanted = Signal(str)

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        self._labels = labels
        self._asked: tuple[str, ...] = ()
        self.looks: dict[str, Tiles] = {}
        self.figures: dict[str, QLineEdit] = {}
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, look.GAP, look.MARGIN, look.GAP)
        head = QHBoxLayout()
        self.title = plain_label(labels["title"], role="name")
        head.addWidget(self.title, 1)
        self.back_button = self._button("back")
        head.addWidget(self.back_button)
        outer.addLayout(head)
        self.about = plain_label("", role="second")
        outer.addWidget(self.about)
        self.notice = plain_label("", role="refusal")
        self.notice.setVisible(False)
        outer.addWidget(self.notice)
        body = QWidget()
        self._grid = QGridLayout(body)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.GUTTER)
        self.left, self.right = self._left(), self._right()
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(body)
        outer.addWidget(area, 1)
        self._across = 0
        self._arrange(2)

    def _button(self, name: str) -> Button:
        button = Button(self._labels[name])
        button.setMinimumHeight(look.TARGET)
        button.setProperty("act", name)
        button.clicked.connect(self._pressed)
        return button

    def _left(self) -> QWidget:
        pane = QWidget()
        column = QVBoxLayout(pane)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(plain_label(self._labels["figures_head"], role="head"))
        grid = QGridLayout()
        for place, name in enumerate(FIGURES):
            label = plain_label(self._labels[name])
            field = QLineEdit()
            field.setAccessibleName(self._labels[name])
            field.textChanged.connect(self.changed)
            label.setBuddy(field)
            self.figures[name] = field
            row, half = divmod(place, 2)
            grid.addWidget(label, 2 * row, half)
            grid.addWidget(field, 2 * row + 1, half)
        column.addLayout(grid)
        column.addSpacing(look.GAP)
        column.addWidget(plain_label(self._labels["looks_head"], role="head"))
        column.addWidget(plain_label(self._labels["looks_second"], role="second"))
        self.pocket_button = self._button("pocket")
        self.pocket_button.setProperty("link", True)
        column.addWidget(self.pocket_button, 0, Qt.AlignmentFlag.AlignLeft)
        self._looks_column = QVBoxLayout()
        column.addLayout(self._looks_column)
        column.addStretch(1)
        return pane

    def _right(self) -> QWidget:
        pane = QFrame()
        pane.setObjectName("number")
        column = QVBoxLayout(pane)
        column.setContentsMargins(look.MARGIN, look.MARGIN // 2, look.MARGIN, look.MARGIN)
        column.setSpacing(look.GAP)
        self.first_head = plain_label(self._labels["first"], role="head")
        column.addWidget(self.first_head)
        self.first = QWidget()
        self._first_column = QVBoxLayout(self.first)
        self._first_column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.first)
        self.most_head = plain_label(self._labels["most"], role="head")
        column.addWidget(self.most_head)
        self.most = plain_label("", role="name")
        column.addWidget(self.most)
        self.stop = plain_label("", role="lead")
        column.addWidget(self.stop)
        self.spent = plain_label("", role="head")
        column.addWidget(self.spent)
        self.draw_button = self._button("draw")
        column.addWidget(self.draw_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.fold_button = Button(self._labels["fold"])
        self.fold_button.setMinimumHeight(look.TARGET)
        self.fold_button.setProperty("link", True)
        self.fold_button.setCheckable(True)
        column.addWidget(self.fold_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.behind = QWidget()
        self._behind_column = QVBoxLayout(self.behind)
        self._behind_column.setContentsMargins(0, 0, 0, 0)
        self.behind.setVisible(False)
        self.fold_button.toggled.connect(self.behind.setVisible)
        column.addWidget(self.behind)
        column.addStretch(1)
        self._frame = pane
        return pane

    # -- showing -----------------------------------------------------------------------------

    def show_state(self, state: AppraisalState) -> None:
        """Show the number, the line, and what lies behind them."""
        self.about.setText(state.title)
        self._show_looks(state.looks)
        self.most.setText(state.most)
        self.stop.setText(state.stop)
        self.spent.setText(state.spent)
        self.spent.setVisible(bool(state.spent))
        self.draw_button.setVisible(state.can_draw)
        emptied(self._first_column)
        for line in state.first:
            self._first_column.addWidget(plain_label(line, role="lead"))
        for widget in (self.first_head, self.first):
            widget.setVisible(bool(state.first))
        known = not state.first
        for widget in (self.most_head, self.most, self.stop, self.fold_button):
            widget.setVisible(known)
        self.behind.setVisible(known and self.fold_button.isChecked())
        self._show_behind(state)
        self.restyle_frame()

    def say(self, text: str) -> None:
        """Say which figure cannot be taken."""
        self.notice.setText(text)
        self.notice.setVisible(bool(text))

    def _show_looks(self, looks: tuple[LookLine, ...]) -> None:
        codes = tuple(line.code for line in looks)
        if codes == self._asked:
            return
        self._asked = codes
        self.looks = {}
        emptied(self._looks_column)
        for line in looks:
            self._looks_column.addWidget(plain_label(line.question))
            if line.how:
                self._looks_column.addWidget(plain_label(line.how, role="second"))
            tiles = Tiles(line.answers, {}, line.given)
            tiles.setAccessibleName(line.question)
            tiles.changed.connect(self.changed)
            self.looks[line.code] = tiles
            self._looks_column.addWidget(tiles)

    def _show_behind(self, state: AppraisalState) -> None:
        column = self._behind_column
        emptied(column)
        column.addWidget(plain_label(state.choice, role="head"))
        column.addWidget(plain_label(state.between))
        column.addWidget(plain_label(state.first_look))
        if state.order:
            column.addWidget(plain_label(self._labels["order_head"], role="head"))
            for number, line in enumerate(state.order, start=1):
                column.addWidget(plain_label(f"{number}  {line}"))
        column.addWidget(plain_label(self._labels["ends_head"], role="head"))
        for end in state.ends:
            column.addWidget(plain_label(f"{end.odds}: {end.text}"))
            column.addWidget(OddsBar(end.share, strong=True))
        column.addWidget(plain_label(self._labels["marks"], role="second"))

    def restyle_frame(self) -> None:
        """The frame in the look of now."""
        now = look.current()
        self._frame.setStyleSheet(
            f"QFrame#number {{ background: {now.sheet}; border: 1px solid {now.ink}; "
            f"border-top: 8px solid {now.ink}; }}"
        )
        font = self.most.font()
        font.setPixelSize(look.px(48, look.text_scale()))
        self.most.setFont(font)
        self.most.setStyleSheet(f"font-size: {look.px(48, look.text_scale())}px;")

    def restyle(self) -> None:
        """Lay everything out again, after another look or text size."""
        self._across = 0
        self._arrange(2 if self.width() >= WIDE * look.text_scale() else 1)
        self.restyle_frame()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.actWanted.emit("back")
        else:
            super().keyPressEvent(event)

    def _pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))

    # -- laying out --------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Two columns, or one with the number on top."""
        self._arrange(2 if event.size().width() >= WIDE * look.text_scale() else 1)
        super().resizeEvent(event)

    def _arrange(self, across: int) -> None:
        if across == self._across:
            return
        self._across = across
        for pane in (self.left, self.right):
            self._grid.removeWidget(pane)
        if across > 1:
            self._grid.addWidget(self.left, 0, 0)
            self._grid.addWidget(self.right, 0, 1, Qt.AlignmentFlag.AlignTop)
            self._grid.setColumnStretch(0, 6)
            self._grid.setColumnStretch(1, 5)
        else:
            self._grid.addWidget(self.right, 0, 0)
            self._grid.addWidget(self.left, 1, 0)
            self._grid.setColumnStretch(0, 1)
            self._grid.setColumnStretch(1, 0)
