"""One vessel in full: four taps, what to do about it, its fills, its days, its grounds."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from app.fuel.state import Chosen, EntryLine, LotLine, VesselLine
from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.drawn import PaintedSurface
from app.pieces.labels import plain_label
from app.pieces.room import emptied
from app.pieces.tiles import Flow
from app.pieces.why import WhyPanel
from app.sheets.vessel import LINE_HEIGHT, DayLine, draw_days

PX = 3.8
TAPS = ("filled", "topped", "half", "drained")
ACTS = ("pour", "more", "mix", "change", "tag")
SHOWN_ENTRIES = 8


class DaysBox(QWidget):
    """The line of a vessel's days; the same in words for who cannot see it."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._line: DayLine | None = None
        self.setAccessibleName(name)

    def show_days(self, line: DayLine | None, said: str) -> None:
        """Show other days."""
        self._line = line
        self.setAccessibleDescription(said)
        self.setFixedHeight(self.sizeHint().height())
        self.update()

    def sizeHint(self) -> QSize:
        """Wide, and as high as bar, words and months."""
        k = PX * look.text_scale()
        return QSize(round(80 * k), round(LINE_HEIGHT * k))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._line is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        k = PX * look.text_scale()
        draw_days(PaintedSurface(painter, k), self._line, 0.5, 0.5, self.width() / k - 1.0)
        painter.end()


class Detail(QScrollArea):
    """Shows the vessel that is chosen. `actWanted`: one of its acts, by name."""

    actWanted = Signal(str)

    def __init__(self, labels: dict[str, str]) -> None:
        super().__init__()
        self._labels = labels
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        pane = QWidget()
        column = self._column = QVBoxLayout(pane)
        column.setContentsMargins(look.GUTTER // 2, 0, look.GAP, 0)
        self.name = plain_label("", role="name")
        self.band = plain_label("", role="head")
        self.because = plain_label("", role="second")
        for label in (self.name, self.band, self.because):
            column.addWidget(label)
        self.buttons: dict[str, Button] = {}
        for names in (TAPS, ACTS):
            row = QWidget()
            flow = Flow(row)
            for name in names:
                flow.addWidget(self._button(name))
            column.addWidget(row)
        column.addWidget(self._head("what"))
        self.cautions = QVBoxLayout()
        column.addLayout(self.cautions)
        self.advice = plain_label("")
        column.addWidget(self.advice)
        column.addWidget(self._head("lots"))
        self.lots = QGridLayout()
        self.lots.setHorizontalSpacing(look.GUTTER // 2)
        column.addLayout(self.lots)
        self.days_head = self._head("days")
        column.addWidget(self.days_head)
        self.days = DaysBox(labels["days"])
        column.addWidget(self.days)
        column.addWidget(self._head("why"))
        self.why = WhyPanel()
        column.addWidget(self.why)
        self.rest_head = self._head("rest")
        column.addWidget(self.rest_head)
        self.rest = plain_label("")
        column.addWidget(self.rest)
        column.addWidget(self._head("entries"))
        self.entries = QGridLayout()
        self.entries.setHorizontalSpacing(look.GUTTER // 2)
        column.addLayout(self.entries)
        column.addWidget(self._button("correct"), 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        self.setWidget(pane)
        self.setAccessibleName(labels["what"])

    def _head(self, name: str) -> QWidget:
        label = plain_label(self._labels[name], role="head")
        label.setContentsMargins(0, look.GAP, 0, 0)
        return label

    def _button(self, name: str) -> Button:
        button = Button(self._labels[name])
        button.setProperty("act", name)
        button.clicked.connect(self._pressed)
        self.buttons[name] = button
        return button

    def _pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))

    # -- showing -------------------------------------------------------------------------------

    def show_vessel(self, line: VesselLine, chosen: Chosen, *, can_write: bool) -> None:
        """Show another vessel."""
        self.name.setText(line.name)
        self.band.setText(line.band_text)
        parts = (line.because, line.until, line.ethanol, line.stabiliser)
        self.because.setText(" · ".join(part for part in parts if part))
        for name, button in self.buttons.items():
            button.setEnabled(can_write or name == "tag")
        for name in ("half", "drained", "pour"):
            self.buttons[name].setEnabled(can_write and not chosen.empty)
        self.buttons["correct"].setVisible(bool(chosen.entries))
        emptied(self.cautions)
        for caution in chosen.cautions:
            self.cautions.addWidget(CautionPanel(caution))
        nothing = self._labels["nothing"]
        self.advice.setText("\n".join(chosen.advice) or nothing)
        emptied(self.lots)
        for row, lot in enumerate(chosen.lots):
            self._add_lot(row, lot)
        self.days_head.setVisible(chosen.days is not None)
        self.days.setVisible(chosen.days is not None)
        self.days.show_days(chosen.days, chosen.days_said)
        self.why.show_lines(chosen.why())
        self.rest_head.setVisible(bool(chosen.rest))
        self.rest.setVisible(bool(chosen.rest))
        self.rest.setText("\n".join(chosen.rest))
        emptied(self.entries)
        for row, entry in enumerate(chosen.entries[:SHOWN_ENTRIES]):
            self._add_entry(row, entry)

        QTimer.singleShot(0, self, self.fit)

    def fit(self) -> None:
        """As high as its words at the width there is: lines that wrap are never squeezed."""
        fit_height(self, self._column)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width, other heights."""
        super().resizeEvent(event)
        self.fit()

    def _add_lot(self, row: int, lot: LotLine) -> None:
        second = (lot.age, lot.how, lot.treated)
        cells = (
            plain_label(f"{lot.bought}\n{lot.sort}"),
            plain_label(lot.amount, role="head"),
            plain_label("\n".join(part for part in second if part), role="second"),
        )
        for at, (cell, share) in enumerate(zip(cells, (3, 2, 5), strict=True)):
            self.lots.addWidget(cell, row, at, Qt.AlignmentFlag.AlignTop)
            self.lots.setColumnStretch(at, share)

    def _add_entry(self, row: int, entry: EntryLine) -> None:
        text = "\n".join(part for part in (entry.text, entry.second) if part)
        cells = (plain_label(entry.day, role="second"), plain_label(text))
        for at, (cell, share) in enumerate(zip(cells, (2, 5), strict=True)):
            self.entries.addWidget(cell, row, at, Qt.AlignmentFlag.AlignTop)
            self.entries.setColumnStretch(at, share)

    def focus_acts(self) -> None:
        """Put the keyboard on the first act."""
        self.ensureWidgetVisible(self.buttons["filled"])
        self.buttons["filled"].setFocus(Qt.FocusReason.OtherFocusReason)


def fit_height(area: QScrollArea, column: QVBoxLayout) -> None:
    """Give what an area shows the height that its column needs at the width of the area."""
    body, width = area.widget(), area.viewport().width()
    if body is not None and width > 0:
        column.invalidate()
        body.setMinimumHeight(column.totalHeightForWidth(width))
