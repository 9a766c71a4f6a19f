"""One piece of work in full: cautions first, how it is done, why, and the figures behind it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from app.fleet.state import TaskLine
from app.machine.state import FigureLine
from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.labels import plain_label
from app.pieces.room import emptied
from app.pieces.why import WhyPanel


class TaskPane(QScrollArea):
    """Shows one piece of work; `actWanted` asks for the form of one of its figures."""

    actWanted = Signal(str)

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        self._labels = labels
        pane = QWidget()
        column = QVBoxLayout(pane)
        column.setContentsMargins(0, 0, look.GAP, 0)
        self.task_name = plain_label("", role="head")
        column.addWidget(self.task_name)
        self.cautions = QVBoxLayout()
        column.addLayout(self.cautions)
        self.how = plain_label("")
        column.addWidget(self.how)
        self.lived = plain_label("")
        column.addWidget(self.lived)
        column.addSpacing(look.GAP)
        column.addWidget(plain_label(labels["why"], role="head"))
        self.why = WhyPanel()
        column.addWidget(self.why)
        self._figures_head = plain_label(labels["figures_head"], role="head")
        column.addWidget(self._figures_head)
        self.figures = QVBoxLayout()
        column.addLayout(self.figures)
        column.addStretch(1)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # read with the arrow keys
        self.setAccessibleName(labels["why"])
        self.setWidget(pane)

    def show_task(
        self,
        task: TaskLine | None,
        figures: tuple[FigureLine, ...],
        *,
        can_write: bool,
        lived: str = "",
    ) -> None:
        """Show another piece of work; None: nothing is chosen. `lived`: how long the parts before
        lasted."""
        self.lived.setText(lived)
        self.lived.setVisible(bool(lived))
        emptied(self.cautions)
        emptied(self.figures)
        self._figures_head.setVisible(bool(figures))
        self.task_name.setText("" if task is None else task.name)
        self.how.setText("" if task is None else task.how)
        self.why.show_lines(() if task is None else task.why())
        if task is None:
            return
        for caution in task.cautions:
            self.cautions.addWidget(CautionPanel(caution))
        for figure in figures:
            said = " · ".join(part for part in (figure.amount, figure.whose) if part)
            self.figures.addWidget(plain_label(f"{figure.name}: {said}"))
            self.figures.addWidget(
                self._other(figure, task.key, can_write=can_write), 0, Qt.AlignmentFlag.AlignLeft
            )

    def _other(self, figure: FigureLine, task: str, *, can_write: bool) -> Button:
        button = Button(self._labels["manual"])
        button.setProperty("link", True)
        button.setProperty("act", f"figure-{task}/{figure.key}")
        button.setAccessibleName(f"{figure.name}: {self._labels['manual']}")
        button.clicked.connect(self._pressed)
        button.setEnabled(can_write)
        return button

    def _pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))
