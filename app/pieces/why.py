# pyright: standard
"""The why panel: a verdict, and beneath it, hanging from one line, what it rests on."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QPainter, QPaintEvent, QPen, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.labels import plain_label
from app.wording.lines import Line

INDENT = 22


class _Row(QWidget):
    """One ground: its sentence, who says so beneath it."""

    def __init__(self, line: Line, parent: QWidget) -> None:
        super().__init__(parent)
        self._deep = line.depth
        row = QHBoxLayout(self)
        row.setContentsMargins(INDENT * line.depth, 2, 0, 2)
        column = QVBoxLayout()
        column.setSpacing(0)
        column.addWidget(plain_label(line.text, role="" if line.depth else "head", parent=self))
        if line.source_text:
            column.addWidget(plain_label(line.source_text, role="second", parent=self))
        row.addLayout(column, 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._deep:
            return
        painter = QPainter(self)
        painter.setPen(QPen(look.current().colour("rule"), 1.4))
        x = INDENT * self._deep - INDENT + 5
        middle = 2 + self.fontMetrics().height() // 2
        painter.drawLine(x, 0, x, self.height())
        painter.drawLine(x, middle, x + INDENT - 10, middle)


class WhyPanel(QWidget):
    """Shows a tree of grounds; Ctrl+Shift+C copies it as text."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._lines: tuple[Line, ...] = ()
        shortcut = QShortcut(QKeySequence("Ctrl+Shift+C"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.copy)

    def show_lines(self, lines: tuple[Line, ...]) -> None:
        """Show another tree."""
        self._lines = lines
        while (item := self._column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()
        for line in lines:
            self._column.addWidget(_Row(line, self))
        self._column.addStretch(1)
        self.setAccessibleName(lines[0].text if lines else "")
        self.setAccessibleDescription(self.as_text())

    def as_text(self) -> str:
        """The tree as plain text, indented."""
        return "\n".join(
            "  " * line.depth + line.text + (f" [{line.source_text}]" if line.source_text else "")
            for line in self._lines
        )

    def copy(self) -> None:
        """Put the tree on the clipboard as text."""
        QGuiApplication.clipboard().setText(self.as_text())
