# pyright: standard
"""A leaf of help in a window of its own: plain words, scrolled by keys, closed by Escape."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label

WIDE, HIGH = 680, 620


class Leaf(QDialog):
    """Headed paragraphs; others may put drawn things into `column`."""

    def __init__(self, title: str, close: str, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, 16, look.MARGIN, 16)
        outer.addWidget(plain_label(title, role="name"))
        area = QScrollArea(self)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setAccessibleName(title)
        body = QWidget()
        self.column = QVBoxLayout(body)
        self.column.setContentsMargins(0, 0, look.GAP, 0)
        area.setWidget(body)
        outer.addWidget(area, 1)
        row = QHBoxLayout()
        row.addStretch(1)
        button = Button(close, self)
        button.clicked.connect(self.close)
        row.addWidget(button)
        outer.addLayout(row)
        scale = look.text_scale()
        self.resize(look.px(WIDE, scale), look.px(HIGH, scale))
        room = self.screen().availableGeometry().size()
        self.resize(self.size().boundedTo(room * 0.9))
        area.setFocus(Qt.FocusReason.OtherFocusReason)

    def say(self, text: str, *, head: bool = False) -> None:
        """Add a paragraph, or the head of some."""
        if head:
            self.column.addSpacing(look.GAP)
        label = plain_label(text, role="head" if head else "")
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.column.addWidget(label)
