"""The machines to choose from, each with why it is suggested and what is decided for it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.button import Button, Tick
from app.pieces.form import Field, FieldSort, field_widget
from app.pieces.labels import plain_label
from app.season.state import MachineLine, Option

ICON_PX = 38
NARROW = 760


class MachineChoice(QWidget):
    """One machine: its tick; beneath it, when it is ticked, how long, where, and the fuel."""

    ticked = Signal(int, bool)
    optionChosen = Signal(int, str, str)
    notYet = Signal(int)

    def __init__(self, line: MachineLine, labels: dict[str, str], language: str) -> None:
        super().__init__()
        self._language = language
        self._line = line
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 6)
        column.setSpacing(2)
        head = QHBoxLayout()
        head.setSpacing(look.GAP)
        self.tick = Tick(line.name)
        self.tick.setAccessibleDescription(f"{line.second}. {line.why}")
        self.tick.toggled.connect(self._toggled)
        self._icon = QLabel()
        head.addWidget(self._icon)
        head.addWidget(self.tick)
        head.addWidget(plain_label(line.second, role="second"), 1)
        self.not_yet = Button(labels["not_yet"])
        self.not_yet.setAccessibleName(f"{line.name}: {labels['not_yet']}")
        self.not_yet.clicked.connect(self._not_yet_pressed)
        head.addWidget(self.not_yet)
        column.addLayout(head)
        self._why = plain_label("")
        self._why.setContentsMargins(ICON_PX + look.GAP + 4, 0, 0, 0)
        column.addWidget(self._why)
        self._options = QWidget()
        self._grid = QGridLayout(self._options)
        self._grid.setContentsMargins(ICON_PX + look.GAP + 4, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.GUTTER // 2)
        column.addWidget(self._options)
        self.choices: dict[str, QComboBox] = {}
        self._whys: dict[str, QLabel] = {}
        self._names: dict[str, QLabel] = {}
        self._narrow: bool | None = None
        self.show_line(line)

    def show_line(self, line: MachineLine) -> None:
        """Show what is decided; what has the keyboard keeps it."""
        self._line = line
        drawn = look.icon(line.icon, ICON_PX, look.current().ink, self.devicePixelRatioF())
        self._icon.setPixmap(drawn)
        self.tick.blockSignals(True)
        self.tick.setChecked(line.chosen)
        self.tick.blockSignals(False)
        self._why.setText(line.why)
        self._why.setVisible(bool(line.why))
        self.not_yet.setVisible(line.asks)
        names = [option.name for option in line.options]
        if names != list(self.choices):
            self._build(line.options)
        for option in line.options:
            self._show_option(option)
        self._options.setVisible(bool(line.options))

    @property
    def stops(self) -> list[QWidget]:
        """Where the keyboard stops, from the top."""
        return [self.tick, self.not_yet, *self.choices.values()]

    def _build(self, options: tuple[Option, ...]) -> None:
        while (item := self._grid.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()
        self.choices, self._whys, self._names = {}, {}, {}
        for option in options:
            field = Field(
                name=option.name,
                label=option.label,
                sort=FieldSort.CHOICE,
                choices=option.choices,
                default=option.value,
            )
            box = field_widget(field, self._language)
            if not isinstance(box, QComboBox):
                raise TypeError(f"{option.name} is no list of choices")
            box.setAccessibleName(f"{self._line.name}: {option.label}")
            box.setProperty("option", option.name)
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.activated.connect(self._activated)
            label = plain_label(option.label)
            label.setBuddy(box)
            why = plain_label("", role="second")
            self.choices[option.name], self._whys[option.name] = box, why
            self._names[option.name] = label
        self._narrow = None
        self._arrange()

    def _arrange(self) -> None:
        """Question, answer and why beside one another, or beneath where letters are large."""
        narrow = self.width() < look.px(NARROW, look.text_scale())
        if narrow is self._narrow:
            return
        self._narrow = narrow
        for row, name in enumerate(self.choices):
            line = (self._names[name], self.choices[name], self._whys[name])
            for at, widget in enumerate(line):
                self._grid.removeWidget(widget)
                place = (3 * row + at, 0) if narrow else (row, at)
                self._grid.addWidget(widget, *place)
        self._grid.setColumnStretch(0, 1 if narrow else 0)
        self._grid.setColumnStretch(2, 0 if narrow else 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width, another order."""
        super().resizeEvent(event)
        self._arrange()

    def _show_option(self, option: Option) -> None:
        box = self.choices[option.name]
        known = tuple((box.itemData(row), box.itemText(row)) for row in range(box.count()))
        if known != option.choices:
            box.clear()
            for value, words in option.choices:
                box.addItem(words, value)
        box.setCurrentIndex(max(0, box.findData(option.value)))
        box.setAccessibleDescription(option.why)
        self._whys[option.name].setText(option.why)
        self._whys[option.name].setVisible(bool(option.why))

    def _toggled(self, ticked: bool) -> None:  # noqa: FBT001  (a signal)
        self.ticked.emit(self._line.machine_id, ticked)

    def _not_yet_pressed(self) -> None:
        self.notYet.emit(self._line.machine_id)

    def _activated(self, row: int) -> None:
        box = self.sender()
        if not isinstance(box, QComboBox):
            return
        name, value = str(box.property("option")), str(box.itemData(row))
        self.optionChosen.emit(self._line.machine_id, name, value)
