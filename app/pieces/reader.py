# pyright: standard
"""A page to read beside a list: a title, lines with a figure at the right, grounds, a way back."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label
from app.pieces.why import WhyPanel
from app.wording.lines import Line


class Reader(QWidget):
    """Shows one page at a time. `left`: somebody has read enough. `printWanted`: on paper, too.
    `onward`: what the page leads to is wanted."""

    left = Signal()
    printWanted = Signal()
    onward = Signal()

    def __init__(self, close: str, on_paper: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.GUTTER // 2, 0, 0, 0)
        self.title = plain_label("", role="name")
        self.lead = plain_label("", role="second")
        outer.addWidget(self.title)
        outer.addWidget(self.lead)
        self.area = QScrollArea(self)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        outer.addWidget(self.area, 1)
        row = QHBoxLayout()
        self.close_button = Button(close, self)
        self.close_button.clicked.connect(self.left)
        self.print_button = Button(on_paper, self)
        self.print_button.setVisible(False)
        self.print_button.clicked.connect(self.printWanted)
        row.addWidget(self.close_button)
        row.addWidget(self.print_button)
        self.onward_button = Button("", self)
        self.onward_button.setVisible(False)
        self.onward_button.clicked.connect(self.onward)
        row.addWidget(self.onward_button)
        row.addStretch(1)
        outer.addLayout(row)

    def show_page(self, title: str, lead: str) -> QVBoxLayout:
        """Begin a page; what it holds is put into the column that comes back."""
        self.print_button.setVisible(False)
        self.onward_button.setVisible(False)
        self.title.setText(title)
        self.lead.setText(lead)
        self.lead.setVisible(bool(lead))
        self.area.setAccessibleName(title)
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(look.GAP, look.GAP, look.GAP, 0)
        column.setSpacing(look.GAP // 2)
        self.area.setWidget(body)
        return column

    def add_line(
        self, column: QVBoxLayout, text: str, second: str = "", right: str = "", *, head: bool
    ) -> None:
        """One line: text, what stands beneath it, a figure at the right edge."""
        if head:
            column.addSpacing(look.GAP)
        row = QHBoxLayout()
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(plain_label(text, role="head" if head else ""))
        if second:
            words.addWidget(plain_label(second, role="second"))
        row.addLayout(words, 1)
        if right:
            figure = plain_label(right, role="head" if head else "second")
            figure.setWordWrap(False)
            figure.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
            row.addWidget(figure)
        column.addLayout(row)

    def show_grounds(self, title: str, lead: str, trees: tuple[tuple[Line, ...], ...]) -> None:
        """A page of grounds, one tree below the other."""
        column = self.show_page(title, lead)
        for tree in trees:
            panel = WhyPanel()
            panel.show_lines(tree)
            column.addWidget(panel)
            column.addSpacing(look.GAP)
        column.addStretch(1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
