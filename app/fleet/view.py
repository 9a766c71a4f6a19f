# pyright: standard
"""The fleet room: the sentence on top, the time there is, the machines with their year.

Widgets and intent signals only; one `show_state(state)`; no rule of the trade and no day is
computed here. What is asked for (a machine, grounds, a form) opens beside the list, or in its
place where there is no room.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent, QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.errors import calm_sentence
from app.fleet.filters import Filters
from app.fleet.fold import Fold
from app.fleet.glance import FirstPicture
from app.fleet.machines import MachineTable
from app.fleet.state import FleetState, MachineLine, Page, YearDays
from app.fleet.strip import Strip
from app.fleet.table import RowsModel, machine_columns
from app.fleet.time_row import TimeRow
from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.form import Form, FormPage
from app.pieces.labels import plain_label, say_in
from app.pieces.progress import ProgressRow
from app.pieces.reader import Reader
from app.pieces.year import Year, YearMark
from app.wording.lines import Line
from app.wording.tongue import Tongue

NARROW = 1100
BAR_WIDTH = 960
LARGE = 2.0
"""From such letters on a low room shows two machines only without their years."""


@dataclass(frozen=True, slots=True, kw_only=True)
class YearSpeech:
    """How years are said: over which days, a row and a mark in words."""

    days: YearDays
    row: Callable[[Year], str]
    mark: Callable[[YearMark], str]


class FleetView(QWidget):
    """The room. Signals say what the user wants."""

    machineChosen = Signal(int)
    machineOpened = Signal(int)
    whyWanted = Signal(int, object)
    timeGiven = Signal(int)
    wantedChanged = Signal(object)
    haltWanted = Signal()
    goOnWanted = Signal()
    actWanted = Signal(str)
    printWanted = Signal()
    answered = Signal(str, object)
    formLeft = Signal()

    def __init__(self, labels: dict[str, str], language: str) -> None:
        super().__init__()
        self._labels = labels
        self._language = language
        self._form: Form | None = None
        self.about = ""  # the machine a form is about, for its head
        self._speech: YearSpeech | None = None
        self._reading = ""
        self._read_before_form = False
        outer = QVBoxLayout(self)
        outer.setContentsMargins(look.MARGIN, look.GAP, look.MARGIN, look.GAP)
        outer.setSpacing(look.GAP // 2)
        self.headline = plain_label("", role="lead")
        self.second = plain_label("", role="second")
        self.notice = plain_label("")
        self.waiting = plain_label("", role="head")
        for label in (self.headline, self.second, self.notice, self.waiting):
            label.setVisible(False)  # until there is something to say
        self.progress = ProgressRow(labels["halt"], labels["go_on"])
        self.progress.halted.connect(self.haltWanted)
        self.progress.goneOn.connect(self.goOnWanted)
        self.fold = Fold(labels)
        self.fold.toggled.connect(self._refold)
        outer.addWidget(self.fold)
        for widget in (self.headline, self.second, self.waiting, self.notice, self.progress):
            outer.addWidget(widget)
        self._pages = QStackedWidget(self)
        self._pages.addWidget(self._empty())
        self._pages.addWidget(self._full())
        outer.addWidget(self._pages, 1)
        self._join_table()

    # -- building ------------------------------------------------------------------------------

    def _empty(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, look.GAP, 0, 0)
        column.setSpacing(look.GAP)
        column.addWidget(plain_label(self._labels["empty"], role="name"))
        self._welcome = QWidget()
        row = QHBoxLayout(self._welcome)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.GAP)
        self.first_button = Button(self._labels["first"])
        self.first_button.setProperty("main", True)
        self.first_button.clicked.connect(self._want_add)
        self.sample_button = Button(self._labels["sample"])
        self.sample_button.clicked.connect(self._want_sample)
        row.addWidget(self.first_button)
        row.addWidget(self.sample_button)
        row.addStretch(1)
        column.addWidget(self._welcome)
        rest = QWidget()  # takes what is left over, so that question and answers stay together
        self._empty_form = QVBoxLayout(rest)
        self._empty_form.setContentsMargins(0, 0, 0, 0)
        column.addWidget(rest, 1)
        return page

    def _full(self) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.GAP // 2)
        self.time = TimeRow(self._labels)
        self.time.timeGiven.connect(self.timeGiven)
        self.filters = Filters(self._labels)
        self.filters.changed.connect(self.wantedChanged)
        self.bar = QGridLayout()
        self.bar.setContentsMargins(0, 0, 0, 0)
        self.bar.setSpacing(look.GAP)
        self.bar.setColumnStretch(1, 1)
        column.addLayout(self.bar)
        self.splitter = QSplitter(Qt.Orientation.Horizontal)
        self.splitter.setChildrenCollapsible(False)
        left = QWidget()
        below = QVBoxLayout(left)
        below.setContentsMargins(0, 0, 0, 0)
        below.setSpacing(0)
        heads = (self._labels["machine"], self._labels["state"], "")
        self.machines = RowsModel(machine_columns(heads, self._year_said), self)
        self.machine_table = MachineTable(self.machines, self._labels["machines"])
        self.filters.left.connect(self._to_list)
        below.addWidget(self.machine_table, 1)
        self.strip = Strip(self._labels)
        below.addWidget(self.strip)
        self.list_side = left
        self.splitter.addWidget(left)
        self.right = QStackedWidget()
        self.reader = Reader(self._labels["close"], self._labels["print"])
        self.right.addWidget(self.reader)
        self.right.setVisible(False)
        self.splitter.addWidget(self.right)
        self.splitter.setSizes([560, 780])
        column.addWidget(self.splitter, 1)
        return page

    def _join_table(self) -> None:
        table = self.machine_table
        table.machineChosen.connect(self.machineChosen)
        table.opened.connect(self.machineOpened)
        table.whyWanted.connect(self.whyWanted)
        table.pegFocused.connect(self._show_peg)
        self.strip.whyWanted.connect(table.why)
        self.strip.openWanted.connect(self._open_pressed)
        self.strip.mendedWanted.connect(self._mended_pressed)
        self.strip.goOnWanted.connect(self.actWanted)
        self.reader.left.connect(self.close_pane)
        self.reader.printWanted.connect(self.printWanted)

    # -- showing -------------------------------------------------------------------------------

    def show_state(self, state: FleetState) -> None:
        """Show the room as it is."""
        self.headline.setText(state.headline)
        self.fold.show_sentence(state.headline)
        self.second.setText(state.second)
        self.second.setVisible(bool(state.second))
        self.say(state.notice, calm=state.calm)
        self.progress.show_progress(state.progress)
        full = bool(state.total or state.machines or state.busy)
        self._pages.setCurrentIndex(1 if full else 0)
        self.show_machines(state.machines, state.count_text, state.chosen_id)
        self._refold()
        if not state.busy:
            self.filters.show_choices(state.choices)
        self.first_button.setEnabled(state.can_write)
        self._show_peg()
        if self.focusWidget() is None and full:
            self.machine_table.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_first(self, picture: FirstPicture) -> None:
        """Show the room as it was last, until the answers are there."""
        self.machine_table.show_days(picture.days)
        self.show_state(picture.state)

    def show_machines(
        self, lines: tuple[MachineLine, ...], count_text: str, wanted: int | None
    ) -> None:
        """Show these machines and no others."""
        self.machine_table.show_lines(lines, wanted)
        self.filters.count.setText(count_text)
        self._show_peg()

    def speak_years(self, speech: YearSpeech) -> None:
        """How the years are said from now on."""
        self._speech = speech
        self.machine_table.show_days(speech.days)

    def _year_said(self, line: MachineLine) -> str:
        return "" if self._speech is None else self._speech.row(line.year)

    def _show_peg(self) -> None:
        """Say the mark that has the focus, on the strip and to whoever listens to the list."""
        table, said = self.machine_table, ""
        line, peg = table.line(table.row()), table.peg()
        if line is not None and self._speech is not None:
            said = self._labels["along"]
            if peg is not None:
                said = ". ".join(self._speech.mark(mark) for mark in peg.marks)
            said = f"{line.name}: {said}"
        self.strip.said.setText(said)
        self.strip.show_line(line)
        if table.accessibleDescription() != said:
            table.setAccessibleDescription(said)
            event = QAccessibleEvent(table, QAccessible.Event.DescriptionChanged)
            QAccessible.updateAccessibility(event)

    def chosen_id(self) -> int | None:
        """The machine that is chosen in the list."""
        return self.machine_table.chosen_id()

    def task_codes(self) -> tuple[str, ...]:
        """The tasks that are chosen, to start a form with: here there are none."""
        return ()

    # -- beside the list -----------------------------------------------------------------------

    def show_grounds(self, title: str, lead: str, trees: tuple[tuple[Line, ...], ...]) -> None:
        """Show the grounds of marks."""
        self.reader.show_grounds(title, lead, trees)
        self._read("grounds")

    def show_page(self, name: str, page: Page) -> None:
        """Show a page to read."""
        column = self.reader.show_page(page.title, page.lead)
        for line in page.lines:
            self.reader.add_line(column, line.text, line.second, line.right, head=line.head)
            for caution in line.cautions:
                column.addWidget(CautionPanel(caution))
        if page.foot:
            column.addSpacing(look.GAP)
            column.addWidget(plain_label(page.foot, role="second"))
        column.addStretch(1)
        self.reader.print_button.setVisible(name == "sitting" and bool(page.lines))
        self.reader.onward_button.setText(page.onward)
        self.reader.onward_button.setVisible(bool(page.onward))
        self._read(name)

    def _read(self, name: str) -> None:
        self._reading = name
        self.fold.close_again()
        self._show_pane(self.reader)
        self.reader.area.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def reading(self) -> str:
        """Which page is open: grounds, sitting, since; empty when none is."""
        open_ = self.right.isVisibleTo(self) and self.right.currentWidget() is self.reader
        return self._reading if open_ else ""

    def _show_pane(self, widget: QWidget) -> None:
        if self._form is not None and widget is not self._form:
            return  # what is half typed is not taken away
        self.right.setCurrentWidget(widget)
        self.right.setVisible(True)
        self._share(self.width())
        if self.right.width() < look.TARGET:  # it was folded away: half of what there is
            room = self.splitter.width()
            self.splitter.setSizes([room * 4 // 9, room * 5 // 9])

    def keep_in_sight(self) -> None:
        """What was entered, or taken back, is seen in the list."""
        table = self.machine_table
        table.scrollTo(table.model().index(table.row(), 0))

    def close_pane(self) -> None:
        """Back to the list alone."""
        read, self._reading = self.reading, ""
        self.right.setVisible(False)
        self.time.show_minutes(0)
        self._share(self.width())
        self.machine_table.setFocus(Qt.FocusReason.OtherFocusReason)
        if read == "sitting":
            self.timeGiven.emit(0)  # the question is taken back, not asked again after an entry

    def _to_list(self) -> None:
        self.fold.close_again()
        self.machine_table.setFocus()

    def _refold(self) -> None:
        """In a low room what stands over the list gives way to it, or it to them."""
        full = self._pages.currentIndex() == 1
        low = full and self.fold.needed(self.height())
        aside = self.right.isVisibleTo(self)  # what is read or filled in needs all the height
        self.fold.setVisible(low and not aside)
        opened = not low or (self.fold.open and not aside)
        self.fold.first.setVisible(not opened)
        self.headline.setVisible(opened and bool(self.headline.text()))
        self.headline.setMinimumHeight(1 if low else 0)  # a low room is not made higher by it
        role = "body" if low else "lead"
        if self.headline.property("role") != role:
            self.headline.setProperty("role", role)
            self.headline.style().unpolish(self.headline)
            self.headline.style().polish(self.headline)
        for widget in (self.time, self.filters):
            widget.setVisible(opened)
        self.splitter.setVisible(not low or not opened)
        self.strip.said.setVisible(not low)

    def _share(self, width: int) -> None:
        """Beside the list where there is room, in its place where there is not."""
        open_, scale = self.right.isVisibleTo(self), look.text_scale()
        narrow = width < NARROW * scale
        reads = self.right.currentWidget() is self.reader and width >= look.BESIDE_WIDTH * scale
        self.list_side.setVisible(not (open_ and narrow))
        low = self.fold.needed(self.height()) and scale >= LARGE
        self.machine_table.show_year(wide=not low and (not open_ or reads))
        across = 2 if width < BAR_WIDTH * scale else 1
        self.bar.addWidget(self.time, 0, 0, 1, across)
        self.bar.addWidget(self.filters, across - 1, 2 - across, 1, across)
        self.bar.addWidget(self.filters.folded, 2, 0, 1, 2)
        self.strip.setVisible(not open_ or reads)
        if open_ and reads:
            pane = look.px(look.PANE_WIDTH, scale)
            self.splitter.setSizes([width - pane, pane])
        self._refold()

    # -- forms ---------------------------------------------------------------------------------

    def show_form(self, page: FormPage) -> Form:
        """Put a form beside the list."""
        self.close_form()
        form = Form(replace(page, about=self.about), self._language)
        form.answered.connect(self.answered)
        form.left.connect(self.formLeft)
        self._form = form
        for widget in (self.list_side, self.time, self.filters):
            widget.setEnabled(False)  # a form is about the machine it was opened for
        if self._pages.currentIndex() == 0:
            self._empty_form.addWidget(form)
            self._welcome.setVisible(False)
        else:
            self._read_before_form = bool(self.reading)
            self.right.addWidget(form)
            self._show_pane(form)
        form.focus_first()
        return form

    def close_form(self) -> None:
        """Put the form away, if there is one; what stood beside the list before comes back."""
        if self._form is None:
            return
        form, self._form = self._form, None
        for widget in (self.list_side, self.time, self.filters):
            widget.setEnabled(True)
        self.right.setCurrentWidget(self.reader)
        self.right.setVisible(self._read_before_form)
        self._read_before_form = False
        self._share(self.width())
        self._welcome.setVisible(True)
        form.setParent(None)
        form.deleteLater()
        self.machine_table.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def form(self) -> Form | None:
        """The form that is open."""
        return self._form

    # -- saying --------------------------------------------------------------------------------

    def say(self, text: str, *, calm: bool = False) -> None:
        """Say something above the lists. `calm`: nothing went wrong, so it is not in red."""
        say_in(self.notice, text, calm=calm)

    def wait(self, text: str) -> None:
        """Say what is being waited for, and that it goes on; "": it is over."""
        self.waiting.setText(text)
        self.waiting.setVisible(bool(text))
        for button in (self.first_button, self.sample_button):
            button.setEnabled(not text)
        if text:
            self.setCursor(Qt.CursorShape.BusyCursor)
        else:
            self.unsetCursor()

    def tell(self, tongue: Tongue) -> Callable[[Path | None], None]:
        """What a fault of the program is told by: one calm sentence, and where the log lies."""

        def told(log: Path | None) -> None:
            self.say(calm_sentence(tongue, log))

        return told

    def restyle(self) -> None:
        """Lay the lists out again, after another look or text size."""
        self.machine_table.restyle()
        self._share(self.width())

    # -- intents -------------------------------------------------------------------------------

    def look_for(self) -> None:
        """Put the keyboard where a machine is looked for."""
        self.fold.button.setChecked(self.fold.isVisibleTo(self))
        self.filters.search.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.filters.search.selectAll()

    def _open_pressed(self) -> None:
        number = self.chosen_id()
        if number is not None:
            self.machineOpened.emit(number)

    def _mended_pressed(self) -> None:
        self.actWanted.emit("mended")

    def _want_add(self) -> None:
        self.actWanted.emit("add")

    def _want_sample(self) -> None:
        self.actWanted.emit("sample")

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._share(event.size().width())
        super().resizeEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "splitter"):
            self._share(self.width())
