# pyright: standard
"""The window: menus and the stack of rooms, nothing else."""

from __future__ import annotations

import hashlib
from datetime import date
from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings, Qt, Signal
from PySide6.QtGui import (
    QAction,
    QActionGroup,
    QCloseEvent,
    QGuiApplication,
    QKeySequence,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QMenu,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.fleet.labels import labels
from app.fleet.names import plain_name
from app.fleet.view import FleetView
from app.machine.labels import machine_labels
from app.machine.view import MachineView
from app.pieces import look
from app.pieces.button import Button
from app.pieces.labels import plain_label
from app.pieces.menu import give_letters, plain_action, say_action
from app.wording.languages import msg
from app.wording.tongue import Tongue

SCALES = (1.0, 1.25, 1.5, 2.0)


class MainWindow(QMainWindow):
    """Menus, a line that says whose shed it is, and the rooms."""

    closed = Signal()
    restyled = Signal()

    def __init__(self, tongue: Tongue, settings: QSettings) -> None:
        super().__init__()
        self.tongue = tongue
        self.settings = settings
        self.setWindowTitle("Firstpull")
        self.setWindowIcon(look.window_icon(look.current()))
        self.whose = QLabel(self)
        self.whose.setTextFormat(Qt.TextFormat.PlainText)
        self.whose.setContentsMargins(0, 0, look.MARGIN, 0)
        middle = QWidget(self)
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.banner = plain_label("", role="head")
        self.banner.setContentsMargins(look.MARGIN, 10, look.MARGIN, 0)
        self.banner.setVisible(False)
        self.home_button = Button(tongue.text(msg("Back to your own shed")), middle)
        self.home_button.setVisible(False)
        self.home_button.clicked.connect(self._home_pressed)
        bar = QHBoxLayout()
        bar.addWidget(self.banner, 1)
        bar.addWidget(self.home_button)
        bar.addSpacing(look.MARGIN)
        column.addLayout(bar)
        self.rooms = QStackedWidget(middle)
        column.addWidget(self.rooms, 1)
        self.setCentralWidget(middle)
        self.view = FleetView(labels(tongue), tongue.language)
        self.rooms.addWidget(self.view)
        self.machine_view = MachineView(machine_labels(tongue), tongue.language)
        self.rooms.addWidget(self.machine_view)
        self.actions_by_name: dict[str, QAction] = {}
        self._build_menus()
        self.menuBar().setCornerWidget(self.whose)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._scheme_changed)
        self.resize(1440, 900)
        geometry = settings.value("geometry")
        if isinstance(geometry, QByteArray):  # anything may stand in that file
            self.restoreGeometry(geometry)
        room = self.screen().availableGeometry()
        self.resize(self.size().boundedTo(room.size()))
        if not room.contains(self.geometry().topLeft()):
            self.move(room.topLeft())

    def _build_menus(self) -> None:
        self._build_file_menu()
        menu = self._menu(msg("&Edit"))
        self._add(menu, "undo", msg("Undo"), QKeySequence.StandardKey.Undo)
        self._add(menu, "redo", msg("Redo"), QKeySequence.StandardKey.Redo)
        menu.addSeparator()
        self._add(menu, "find", msg("Find a machine"), QKeySequence.StandardKey.Find)
        self._build_machine_menu()
        menu = self._menu(msg("&Work"))
        self._add(menu, "time", msg("What to do with the time you have"), "Ctrl+T")
        menu.addSeparator()
        self._add(menu, "line", msg("Type a line…"), "Ctrl+K")
        self._add(menu, "enter_sheet", msg("Enter what a sheet says…"), "Ctrl+R")
        self._add(menu, "work", msg("Work done…"), "Ctrl+D")
        self._add(menu, "hours", msg("Hours…"), "Ctrl+H")
        self._add(menu, "use", msg("It was used…"), "Ctrl+U")
        self._add(menu, "measure", msg("Measure…"), "Ctrl+M")
        self._add(menu, "trials", msg("Wear, and before and after"), "Ctrl+Shift+M")
        self._add(menu, "season", msg("Put away, get out, go over…"), "Ctrl+L")
        self._add(menu, "store", msg("It is already put away, or out again…"))
        self._add(menu, "fuel", msg("Fuel…"), "Ctrl+E")
        self._add(menu, "fault", msg("Something is wrong…"), "Ctrl+B")
        self._add(menu, "note_fault", msg("Only note that something is wrong…"))
        self._add(menu, "worth", msg("Is it worth it?"))
        self._add(menu, "job", msg("Note a job…"), "Ctrl+J")
        menu = self._menu(msg("&Paper"))
        self._add(
            menu, "preseason", msg("Sheet before the season…"), QKeySequence.StandardKey.Print
        )
        self._add(menu, "card", msg("Card for the machine…"))
        self._add(menu, "buyer", msg("Paper for the buyer…"))
        self._add(menu, "work_paper", msg("Work for the time there is…"), "Ctrl+Shift+P")
        self._add(menu, "shopping", msg("Shopping list…"))
        self._add(menu, "tags", msg("Tags for cans and tanks…"))
        self._add(menu, "rescue", msg("From wreck to work…"))
        self._add(menu, "fault_paper", msg("Next steps of a search for a fault…"))
        self._add(menu, "looks", msg("Five looks before you buy…"))
        self._build_look_menu()
        menu = self._menu(msg("&Help"))
        help_key = QKeySequence.StandardKey.HelpContents
        self._add(menu, "help_year", msg("How to read the year"), help_key)
        self._add(menu, "help_keys", msg("Keys"), "Ctrl+F1")
        self._add(menu, "help_data", msg("Where your data lies"))
        self._add(menu, "help_licences", msg("Licences"))
        self._give_letters()

    def _build_file_menu(self) -> None:
        menu = self._menu(msg("&File"))
        self._add(menu, "open", msg("Open another shed…"), QKeySequence.StandardKey.Open)
        self._add(menu, "new", msg("Begin a new shed…"))
        self._add(menu, "sample", msg("Look around a made-up shed"))
        self._add(menu, "home", msg("Back to your own shed"))
        menu.addSeparator()
        self._add(menu, "backup", msg("Make a backup now"))
        self._add(menu, "restore", msg("Put a backup back…"))
        self._add(menu, "export", msg("Write everything out…"))
        self._add(menu, "import", msg("Take in another shed…"))
        self._add(menu, "take_over", msg("Open what another computer still holds"))
        self.actions_by_name["take_over"].setEnabled(False)
        menu.addSeparator()
        self._add(menu, "quit", msg("Quit"), QKeySequence.StandardKey.Quit)

    def _build_machine_menu(self) -> None:
        menu = self._menu(msg("&Machine"))
        self._add(menu, "add", msg("Add a machine…"), QKeySequence.StandardKey.New)
        menu.addSeparator()
        self._add(menu, "change", msg("Name and type plate…"), "F2")
        self._add(menu, "move", msg("It stands somewhere else…"))
        self._add(menu, "came", msg("The day it came…"))
        self._add(menu, "gone", msg("Sold, scrapped, given away…"))
        self._add(menu, "back", msg("Bring one back that was gone…"))
        self._add(menu, "machine", msg("Open this machine"), "Ctrl+G")
        self._add(menu, "fleet", msg("All machines"), QKeySequence.StandardKey.Back)
        self._add(menu, "fuel_room", msg("Cans and tanks"), "Ctrl+Shift+E")
        self._add(menu, "about", msg("About this machine…"))
        self._add(menu, "mended", msg("It is mended…"))
        menu.addSeparator()
        self._add(menu, "place", msg("Where it all stands…"))
        self._add(menu, "shelf", msg("What lies on the shelf…"))
        self._add(menu, "household", msg("Language, units, paper…"))

    def _build_look_menu(self) -> None:
        menu = self._menu(msg("&Look"))
        looks = (
            ("", msg("As the computer has it")),
            ("light", msg("Light")),
            ("dark", msg("Dark")),
            ("stark", msg("Strong contrast, light")),
            ("stark-dark", msg("Strong contrast, dark")),
        )
        self._choices(menu, "look", tuple((name, self.tongue.text(text)) for name, text in looks))
        menu.addSeparator()
        sizes = tuple(
            (str(scale), self.tongue.text(msg("Text size {size} %"), size=str(round(scale * 100))))
            for scale in SCALES
        )
        self._choices(menu, "scale", sizes)

    def _give_letters(self) -> None:
        """Every entry of every menu can be chosen by a letter."""
        for title in self.menuBar().actions():
            menu = title.menu()
            if isinstance(menu, QMenu):
                give_letters(menu.actions())

    def say_entry(self, name: str, text: str) -> None:
        """Let an entry of the menus say something else."""
        say_action(self.actions_by_name[name], text)
        self._give_letters()

    def _menu(self, text: str) -> QMenu:
        return self.menuBar().addMenu(self.tongue.text(text))

    def _add(
        self,
        menu: QMenu,
        name: str,
        text: str,
        key: QKeySequence.StandardKey | str | None = None,
    ) -> None:
        action = plain_action(self.tongue.text(text), self)
        if isinstance(key, str):
            action.setShortcut(QKeySequence(key))
        elif key is not None:
            action.setShortcuts(key)
        menu.addAction(action)
        self.actions_by_name[name] = action

    def _choices(self, menu: QMenu, name: str, choices: tuple[tuple[str, str], ...]) -> None:
        group = QActionGroup(self)
        for value, text in choices:
            action = plain_action(self.tongue.text(text), self)
            action.setCheckable(True)
            action.setData((name, value))
            action.triggered.connect(self._look_chosen)
            group.addAction(action)
            menu.addAction(action)
            chosen = str(self.settings.value("look", "")) if name == "look" else None
            action.setChecked(value == (str(look.text_scale()) if chosen is None else chosen))

    def _home_pressed(self) -> None:
        self.actions_by_name["home"].trigger()

    def _look_chosen(self) -> None:
        action = self.sender()
        if not isinstance(action, QAction):
            return
        name, value = action.data()
        self.settings.setValue(name, value)
        apply_settings(self.settings)
        self._restyle()

    def _scheme_changed(self) -> None:
        """The computer went light or dark; whoever chose a look keeps it."""
        if not str(self.settings.value("look", "")):
            apply_settings(self.settings)
            self._restyle()

    def _restyle(self) -> None:
        """Every room there is lays itself out again in the look that is on."""
        for place in range(self.rooms.count()):
            restyle = getattr(self.rooms.widget(place), "restyle", None)
            if restyle is not None:
                restyle()
        self._give_way()
        self.restyled.emit()

    def show_whose(self, name: str, *, made_up: bool) -> None:
        """Say whose shed this is; a made-up one is announced on top, with the way back."""
        self.whose.setText(plain_name(name))
        self.whose.setMinimumHeight(self.menuBar().sizeHint().height())
        self.whose.adjustSize()
        self.menuBar().setCornerWidget(self.whose)
        self.menuBar().adjustSize()
        self._give_way()
        self.banner.setVisible(made_up)
        self.home_button.setVisible(made_up)
        said = msg("A made-up shed to look around in.")
        self.banner.setText(self.tongue.text(said) if made_up else "")
        self.actions_by_name["home"].setEnabled(made_up)

    def _give_way(self) -> None:
        """Whose shed it is stands beside the menus only as long as every menu has its room."""
        self.whose.setVisible(self.menuBar().sizeHint().width() <= self.width())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Menus go before the name."""
        self._give_way()
        super().resizeEvent(event)

    def last_here(self, path: Path, *, on: date) -> date | None:
        """The day this shed was last looked at, if the window knows; from now on it is `on`."""
        name = f"seen/{hashlib.sha256(str(path).encode()).hexdigest()[:16]}"
        known = str(self.settings.value(name, ""))
        self.settings.setValue(name, on.isoformat())
        try:
            return date.fromisoformat(known)
        except ValueError:
            return None

    def speak(self, tongue: Tongue) -> None:
        """Speak another language from now on: menus and room are made again."""
        self.tongue = tongue
        for title in self.menuBar().actions():
            menu = title.menu()
            if isinstance(menu, QMenu):
                for action in menu.actions():
                    action.deleteLater()
                menu.deleteLater()
        self.menuBar().clear()
        self.actions_by_name.clear()
        self._build_menus()
        old = self.view
        self.view = FleetView(labels(tongue), tongue.language)
        self.rooms.addWidget(self.view)
        self.rooms.setCurrentWidget(self.view)
        other = self.machine_view
        self.machine_view = MachineView(machine_labels(tongue), tongue.language)
        self.rooms.addWidget(self.machine_view)
        for gone in (old, other):
            self.rooms.removeWidget(gone)
            gone.deleteLater()

    def say(self, text: str, *, calm: bool = False) -> None:
        """Say it in the room in sight, and beside the list for whoever comes back to it."""
        room = self.rooms.currentWidget()
        if room is self.machine_view:
            self.machine_view.say(text, calm=calm)
        elif room is not self.view:
            say = getattr(room, "say", None)
            if say is not None:
                say(text)
        self.view.say(text, calm=calm)

    def ask_file(self, *, new: bool) -> Path | None:
        """Ask which file; None when nobody answers."""
        kind = self.tongue.text(msg("Sheds (*.firstpull)"))
        title = self.tongue.text(msg("Begin a new shed…") if new else msg("Open another shed…"))
        ask = QFileDialog.getSaveFileName if new else QFileDialog.getOpenFileName
        name, _ = ask(self, title, "", kind)
        self.activateWindow()  # not every desktop gives the keyboard back by itself
        return Path(name) if name else None

    def ask_pdf(self, suggested: str) -> Path | None:
        """Ask where the paper goes; None when nobody answers."""
        from app.saving import ask_paper  # no paper is asked for at the start

        return ask_paper(self, self.settings, suggested)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep the window's place for next time."""
        self.settings.setValue("geometry", self.saveGeometry())
        self.closed.emit()
        super().closeEvent(event)


def apply_settings(settings: QSettings) -> None:
    """Put on the look and the text size that were chosen; odd values count as none."""
    chosen = look.LOOKS.get(str(settings.value("look", "")), look.of_the_computer())
    try:
        scale = float(str(settings.value("scale", "1.0")))
    except ValueError:
        scale = 1.0
    look.apply(look.program(), chosen, scale=scale if scale in SCALES else 1.0)
