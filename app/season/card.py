"""One step laid out to be worked from: caution first, then what to do, what to find, when to stop.

The room shows it beside the list, the bench view alone and large.
"""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from app.pieces import look
from app.pieces.caution import CautionPanel
from app.pieces.labels import plain_label
from app.pieces.tiles import Tiles
from app.season.state import FigureAsk, SeasonCard

FIGURE_PX = 220


class Figures(QWidget):
    """What the step measures: a field for each figure, yes or no for what is seen."""

    def __init__(self, asks: tuple[FigureAsk, ...], labels: Mapping[str, str], size: int) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(look.GAP * 2)
        grid.setColumnStretch(2, 1)
        self.fields: dict[str, QLineEdit | Tiles] = {}
        self._refusals: dict[str, QLabel] = {}
        ways = (("yes", labels["yes"]), ("no", labels["no"]), ("", labels["not_looked"]))
        for row, ask in enumerate(asks):
            box = Tiles(ways, {}, "") if ask.event else _line(size)
            box.setAccessibleName(ask.label)
            box.setAccessibleDescription(ask.hint)
            self.fields[ask.key] = box
            name = sized(ask.label, size, heavy=True)
            name.setBuddy(box)
            self._refusals[ask.key] = plain_label("", role="refusal")
            self._refusals[ask.key].hide()
            grid.addWidget(name, 2 * row, 0)
            grid.addWidget(box, 2 * row, 1)
            grid.addWidget(plain_label(ask.hint, role="second"), 2 * row, 2)
            grid.addWidget(self._refusals[ask.key], 2 * row + 1, 0, 1, 3)

    def typed(self) -> dict[str, str]:
        """What stands in each field."""
        return {
            key: box.value() if isinstance(box, Tiles) else box.text()
            for key, box in self.fields.items()
        }

    def put(self, typed: Mapping[str, str]) -> None:
        """Put back what stood in them."""
        for key, box in self.fields.items():
            value = typed.get(key, "")
            if isinstance(box, Tiles):
                box.choose(value)
            else:
                box.setText(value)

    def refuse(self, key: str, said: str) -> None:
        """Say beside a field why it cannot be taken."""
        for name, label in self._refusals.items():
            label.setText(said if name == key else "")
            label.setVisible(name == key and bool(said))
        box = self.fields.get(key)
        if box is not None:
            box.setFocus(Qt.FocusReason.OtherFocusReason)


def _line(size: int) -> QLineEdit:
    box = QLineEdit()
    pixels = look.px(size, look.text_scale())
    box.setStyleSheet(f"font-size: {pixels}px;")
    box.setFixedWidth(look.px(FIGURE_PX, look.text_scale()))
    return box


class CardLayer:
    """Lays one step into a column and keeps hold of what belongs to it."""

    def __init__(
        self,
        labels: Mapping[str, str],
        *,
        step: int,
        text: int,
        caution: int = 0,
        across: int = 1,
    ) -> None:
        self._labels = labels
        self._step, self._text, self._caution = step, text, caution
        self.across = across
        self.cautions: list[CautionPanel] = []
        self.figures: Figures | None = None

    def lay(self, column: QVBoxLayout, card: SeasonCard) -> None:
        """Caution first; then what to do, what to find, how to tell that it is done."""
        head = QHBoxLayout()
        head.addWidget(plain_label(card.counter, role="second"), 1)
        head.addWidget(plain_label(card.minutes, role="head"))
        column.addLayout(head)
        if card.whose:
            column.addWidget(plain_label(card.whose, role="lead"))
        self.cautions = [CautionPanel(caution) for caution in card.cautions]
        if self._caution:
            for panel in self.cautions:
                _enlarge(panel, self._caution)
        self._lay_cautions(column)
        column.addWidget(sized(card.name, self._step, heavy=True))
        labels = self._labels
        if card.bring:
            column.addWidget(plain_label(f"{labels['bring']}: {', '.join(card.bring)}"))
        if card.how:
            column.addWidget(sized(card.how, self._text))
        self.figures = None
        if card.figures:
            column.addWidget(plain_label(labels["figures"], role="head"))
            self.figures = Figures(card.figures, labels, self._text)
            column.addWidget(self.figures)
        if card.done_when:
            column.addWidget(plain_label(f"{labels['done_when']}: {card.done_when}", role="head"))
        if card.wait:
            column.addWidget(plain_label(card.wait, role="head"))
        if card.stop:
            column.addWidget(plain_label(card.stop, role="refusal"))

    def _lay_cautions(self, column: QVBoxLayout) -> None:
        """One beneath the other, or side by side where there is room for several."""
        if self.across == 1:
            for panel in self.cautions:
                column.addWidget(panel)
        elif self.cautions:
            beside = QWidget()
            grid = QGridLayout(beside)
            grid.setContentsMargins(0, 0, 0, 0)
            across = min(self.across, len(self.cautions))
            for place, panel in enumerate(self.cautions):
                grid.addWidget(panel, place // across, place % across)
            column.addWidget(beside)


def _enlarge(panel: CautionPanel, size: int) -> None:
    pixels = look.px(size, look.text_scale())
    for label in panel.findChildren(QLabel):
        if not label.styleSheet():  # the signal word keeps its own
            label.setStyleSheet(f"font-size: {pixels}px;")


def sized(text: str, size: int, *, heavy: bool = False) -> QLabel:
    """A label at a size of its own."""
    label = plain_label(text)
    weight = 600 if heavy else 400
    pixels = look.px(size, look.text_scale())
    label.setStyleSheet(f"font-size: {pixels}px; font-weight: {weight};")
    return label
