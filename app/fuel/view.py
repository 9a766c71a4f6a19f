# pyright: standard
"""The fuel room: the shelf with every vessel drawn, beside it the one that is chosen.

Widgets and intent signals only; one `show_state(state)`; nothing is reckoned here.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QModelIndex, QRect, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.fuel.detail import Detail, fit_height
from app.fuel.legend import Legend
from app.fuel.pour_pane import PourPane
from app.fuel.shelf import Shelf
from app.fuel.state import FuelRoomState
from app.fuel.table import CellsModel, vessel_cells
from app.machine.lists import WorkList
from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label
from app.pieces.room import RoomView, scrolled
from app.pieces.tiles import Flow

WIDE, LOW = 1040, 620
LOW_BESIDE = 900


class FuelView(RoomView):
    """The room. Signals say what the user wants."""

    actWanted = Signal(str)
    vesselChosen = Signal(int)
    pourWanted = Signal(int, int)

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__(language)
        self._labels = labels
        self._state: FuelRoomState | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, 10, look.MARGIN, 12)
        head = self._head = QHBoxLayout()
        self.lead = plain_label("", role="lead")
        self.back_button = self._button("back")
        head.addWidget(self.lead, 1)
        head.addWidget(self.back_button, 0, Qt.AlignmentFlag.AlignTop)
        outer.addLayout(head)
        self.notice = plain_label("", role="head")
        self.notice.setVisible(False)
        outer.addWidget(self.notice)
        self._sides = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        outer.addLayout(self._sides, 1)
        self._sides.addWidget(self._left(), 6)
        self.detail = Detail(labels)
        self.detail.actWanted.connect(self.actWanted)
        self.pour = PourPane(labels)
        self._blank = plain_label("")
        for page in (self.detail, scrolled(self.pour), self._blank):
            self._pages.addWidget(page)
        self._sides.addWidget(self._pages, 5)

    def _button(self, name: str) -> Button:
        button = Button(self._labels[name])
        button.setProperty("act", name)
        button.clicked.connect(self._act_pressed)
        return button

    def _left(self) -> QWidget:
        labels = self._labels
        pane = QWidget()
        column = QVBoxLayout(pane)
        column.setContentsMargins(0, 0, 0, 0)
        row = QWidget()
        bar = Flow(row)
        self.shelf_tab, self.table_tab = self._tab("shelf"), self._tab("table")
        bar.addWidget(self.shelf_tab)
        bar.addWidget(self.table_tab)
        self.add_button, self.tags_button = self._button("add"), self._button("tags")
        bar.addWidget(self.add_button)
        bar.addWidget(self.tags_button)
        column.addWidget(row)
        self.lists = QStackedWidget()
        body = QWidget()
        under = self._under = QVBoxLayout(body)
        under.setContentsMargins(0, 0, look.GAP, 0)
        self.shelf = Shelf(labels["shelf"], labels["shelf_said"])
        self.shelf.chosen.connect(self.vesselChosen)
        self.shelf.actsWanted.connect(self._acts_wanted)
        self.shelf.pourWanted.connect(self.pourWanted)
        self.shelf.cellMoved.connect(self._follow)
        under.addWidget(self.shelf)
        self.legend = Legend(labels)
        under.addWidget(self.legend)
        self.plan_head, self.plan = plain_label(labels["plan"], role="head"), plain_label("")
        self.buy_head, self.buy = plain_label(labels["buy"], role="head"), plain_label("")
        for label in (self.plan_head, self.plan, self.buy_head, self.buy):
            under.addWidget(label)
        under.addStretch(1)
        self.area = scrolled(body)
        self.lists.addWidget(self.area)
        heads = (labels["vessel"], labels["how"], labels["details"])
        self.rows = CellsModel(heads, self)
        self.table = WorkList(self.rows, labels["table"], (4, 5, 4))
        self.table.selectionModel().currentRowChanged.connect(self._row_chosen)
        self.table.activated.connect(self._acts_wanted)
        self.lists.addWidget(self.table)
        column.addWidget(self.lists, 1)
        self._show_tab(0)
        return pane

    def _tab(self, name: str) -> Button:
        button = Button(self._labels[name])
        button.setProperty("link", True)
        button.setCheckable(True)
        button.clicked.connect(self._tab_wanted)
        return button

    # -- showing -------------------------------------------------------------------------------

    def show_state(self, state: FuelRoomState) -> None:
        """Show the room as it is."""
        self._state = state
        self.lead.setText(state.lead)
        if state.notice:
            self.say(state.notice)
        chosen = None if state.chosen is None else state.chosen.vessel_id
        self.shelf.show_vessels(state.vessels, chosen)
        self.rows.show_cells([vessel_cells(vessel) for vessel in state.vessels])
        self.show_chosen(state)
        self.plan.setText("\n".join(state.plan))
        self.buy.setText("\n".join(state.buy))
        for label, text in ((self.plan_head, state.plan), (self.plan, state.plan)):
            label.setVisible(bool(text))
        for label in (self.buy_head, self.buy, self.legend):
            label.setVisible(bool(state.vessels))
        self.add_button.setEnabled(state.can_write)
        QTimer.singleShot(0, self, self._fit)
        self.tags_button.setEnabled(bool(state.vessels))

    def _fit(self) -> None:
        fit_height(self.area, self._under)
        QTimer.singleShot(0, self, self._follow_current)

    def _follow_current(self) -> None:
        self._follow(self.shelf.room_of_current())

    def show_chosen(self, state: FuelRoomState) -> None:
        """Show only the vessel that is looked at anew."""
        self._state = state
        if state.chosen is None:
            self._blank.setText(self._labels["empty_room"])
            if self._form is None:
                self._pages.setCurrentWidget(self._blank)
            return
        number = state.chosen.vessel_id
        line = next(vessel for vessel in state.vessels if vessel.vessel_id == number)
        self.shelf.mark(number)
        chooser = self.table.selectionModel()
        blocked = chooser.blockSignals(True)
        self.table.choose(state.vessels.index(line))
        chooser.blockSignals(blocked)
        self.detail.show_vessel(line, state.chosen, can_write=state.can_write)
        if self._form is None and not self.pouring:
            self._pages.setCurrentWidget(self.detail)

    def say(self, text: str) -> None:
        """Say something above the shelf."""
        self.notice.setText(text)
        self.notice.setVisible(bool(text))

    def focus_first(self) -> None:
        """Put the keyboard on the vessels."""
        here = self.shelf if self.lists.currentIndex() == 0 else self.table
        here.setFocus(Qt.FocusReason.OtherFocusReason)

    def changeEvent(self, event: QEvent) -> None:
        """Another look or text size: lay everything out again."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.StyleChange and self._state is not None:
            QTimer.singleShot(0, self, self.restyle)

    def restyle(self) -> None:
        """Lay everything out again, after another look or text size."""
        self._arrange(self.width(), self.height())
        self.shelf.lay_out()
        self.legend.updateGeometry()
        self.table.fit()
        if self._state is not None:
            self.show_state(self._state)

    def _show_tab(self, index: int) -> None:
        self.lists.setCurrentIndex(index)
        self.table.fit()
        for tab, at in ((self.shelf_tab, 0), (self.table_tab, 1)):
            tab.setChecked(index == at)
            font = tab.font()
            font.setBold(tab.isChecked())
            tab.setFont(font)

    # -- forms and pouring ---------------------------------------------------------------------

    def after_form(self) -> None:
        """Back to what the form stood in front of."""
        self._back_to_vessel()

    @property
    def pouring(self) -> bool:
        """Whether a pour is being made."""
        return self._pages.currentIndex() == 1

    def show_pour(self) -> None:
        """Put the pour in the place of the vessel."""
        self._pages.setCurrentIndex(1)
        self.pour.amount.setFocus(Qt.FocusReason.OtherFocusReason)
        self.pour.amount.selectAll()

    def close_pour(self) -> None:
        """Put the pour away."""
        if self.pouring:
            self._back_to_vessel()

    def _back_to_vessel(self) -> None:
        none = self._state is None or self._state.chosen is None
        self._pages.setCurrentWidget(self._blank if none else self.detail)
        self.focus_first()

    # -- intents -------------------------------------------------------------------------------

    def _act_pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))

    def _acts_wanted(self) -> None:
        if self._form is None and not self.pouring and self._state and self._state.chosen:
            self.detail.focus_acts()

    def _tab_wanted(self) -> None:
        self._show_tab(0 if self.sender() is self.shelf_tab else 1)

    def _row_chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        if self._state is not None and 0 <= current.row() < len(self._state.vessels):
            self.vesselChosen.emit(self._state.vessels[current.row()].vessel_id)

    def _follow(self, room: QRect) -> None:
        """Keep the chosen vessel in sight."""
        top = self.shelf.y() + room.top()
        bar = self.area.verticalScrollBar()
        if top < bar.value() or top + room.height() > bar.value() + self.area.viewport().height():
            bar.setValue(top)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self._form is None and not self.pouring:
            if self.shelf.hasFocus() or self.table.hasFocus():
                self.actWanted.emit("back")
            else:
                self._back_to_vessel()
        elif event.key() == Qt.Key.Key_P and self._form is None and not self.pouring:
            self.actWanted.emit("pour")
        else:
            super().keyPressEvent(event)

    # -- laying out ----------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Side by side, or one above the other where there is little room."""
        self._arrange(event.size().width(), event.size().height())
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._fit)

    def _arrange(self, width: int, height: int) -> None:
        wide = width >= WIDE * look.text_scale()
        low = not wide and height < LOW * look.text_scale()
        if low and self._head.indexOf(self.lead) >= 0:
            self._head.insertStretch(0, 1)  # what is long scrolls with the shelf
            self._under.insertWidget(0, self.lead)
        elif not low and self._head.indexOf(self.lead) < 0:
            self._head.takeAt(0)
            self._head.insertWidget(0, self.lead, 1)
        # A low room has no height to share: half its width shows more than half its height.
        beside = wide or (low and width >= LOW_BESIDE)
        directions = QBoxLayout.Direction
        self._sides.setDirection(directions.LeftToRight if beside else directions.TopToBottom)
