"""A real window on a household in a temporary file, at a fixed day."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from shutil import copyfile
from time import perf_counter

import pytest
from PySide6.QtCore import QCoreApplication, QDate, QEvent, QSettings, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QCheckBox,
    QComboBox,
    QDateEdit,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from app.faults.controller import FaultController
from app.file_desk import begin
from app.machine.view import MachineView
from app.pieces import look
from app.pieces.form import Form
from app.pieces.tiles import Picks, Tiles
from app.rooms import Rooms
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.acts.machines import AddMachine
from models.moment import Moment
from schedules.facts import Past
from tests.conftest import NOW, TODAY


@dataclass
class Shed:
    """The window, its rooms, and hands to work them with."""

    window: MainWindow
    rooms: Rooms
    bot: QtBot
    path: Path

    @property
    def view(self):
        return self.window.view

    @property
    def room(self) -> MachineView:
        """The room of the chosen machine, as it stands now; the list is shown again."""
        self.window.actions_by_name["machine"].trigger()
        self.window.actions_by_name["fleet"].trigger()
        return self.window.machine_view

    @property
    def open_form(self) -> Form | None:
        """The form that is open beside the list, or in a machine's room."""
        return self.view.form or self.window.machine_view.form

    @property
    def form(self) -> Form:
        form = self.open_form
        assert form is not None, self.view.notice.text()
        return form

    def correct(self, area: str) -> None:
        """Begin to correct the newest entry of that sort, in the machine's room."""
        self.window.actions_by_name["machine"].trigger()
        room = self.window.machine_view
        entry = next(row for row in room.records.rows if row.area == area)
        room.correctionWanted.emit(entry.area, entry.entry_id)

    def stand(self, *names: str, kind: str = "K02") -> None:
        """So many machines stand there, whatever form they came in by."""
        hub = self.rooms.hub
        assert hub is not None
        moment = hub.moment()
        for name in names:
            came = AddMachine(
                kind=kind, name=name, place_id=1, came_on=date(2024, 4, 2), past=Past.NEW
            )
            hub.household.need_writer().run(came, moment=moment)
        hub.renew()

    def act(self, name: str) -> Form:
        """Choose an entry of the menus, as by its key."""
        self.window.actions_by_name[name].trigger()
        return self.form

    def fill(self, **answers: object) -> None:
        """Type and choose answers in the form that is open."""
        for name, value in answers.items():
            put(self.bot, self.form.widget(name), value)

    def pick(self, way: str) -> None:
        """Press one of the ways onward."""
        picks = self.form.widget("way")
        assert isinstance(picks, Picks)
        button = next(each for each in picks.buttons if each.property("value") == way)
        self.bot.mouseClick(button, _LEFT)

    def put_by(self) -> None:
        """Leave the form, if there is one."""
        if self.open_form is not None:
            self.bot.mouseClick(self.form.cancel_button, _LEFT)

    def keep(self) -> str:
        """Press the main button; what was refused, "" when it was kept."""
        form = self.form
        self.bot.mouseClick(form.done_button, _LEFT)
        left = self.open_form
        if left is None or left is not form:
            return ""
        return self.said()

    def said(self) -> str:
        """What the form that is open refuses, and why."""
        form = self.form
        labels = (*form._refusals.values(), form._notice)
        return " ".join(label.text() for label in labels if label.text())


def put(bot: QtBot, widget: QWidget, value: object) -> None:
    """Put a value into a field the way a hand would."""
    match widget:
        case QLineEdit():
            widget.clear()
            if str(value).isascii():
                bot.keyClicks(widget, str(value))
            else:  # no keyboard of the tests has these keys: it is pasted
                widget.insert(str(value))
        case QPlainTextEdit():
            widget.setPlainText(str(value))
        case QComboBox():
            index = widget.findData(value)
            assert index >= 0, (value, [widget.itemData(i) for i in range(widget.count())])
            widget.setCurrentIndex(index)
        case QDateEdit() if isinstance(value, QDate):
            widget.setDate(value)
        case QListWidget():
            wanted = set(value) if isinstance(value, tuple) else set()
            for row in range(widget.count()):
                item = widget.item(row)
                item.setCheckState(
                    _CHECKED if item.data(0x100) in wanted else _UNCHECKED,
                )
        case Tiles():
            tile = next(tile for tile in widget.tiles if tile.value == str(value))
            tile.click()
        case QCheckBox():
            widget.setChecked(bool(value))
        case _:
            raise TypeError(f"nothing is put into {widget}")


_LEFT = Qt.MouseButton.LeftButton
_CHECKED, _UNCHECKED = Qt.CheckState.Checked, Qt.CheckState.Unchecked


_LONGEST = pytest.StashKey[tuple[float, str]]()


def _timed(act: Callable[..., object], note: Callable[[float], None]) -> Callable[..., object]:
    """The same, and told how long it held up everything else."""

    def timed(*given: object, **named: object) -> object:
        begun_at = perf_counter()
        try:
            return act(*given, **named)
        finally:
            note(perf_counter() - begun_at)

    return timed


@pytest.fixture(autouse=True)
def longest_block(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """How long one press, key or entry of the menus holds up the loop; the longest is told at the
    end and fails nothing."""
    stash, name = request.config.stash, request.node.nodeid

    def note(seconds: float) -> None:
        if seconds > stash.get(_LONGEST, (0.0, ""))[0]:
            stash[_LONGEST] = (seconds, name)

    for press in ("mouseClick", "mouseDClick", "keyClick", "keyPress"):
        monkeypatch.setattr(QtBot, press, staticmethod(_timed(getattr(QtBot, press), note)))
    for holder, press in ((QAction, "trigger"), (QAbstractButton, "click")):
        act = getattr(holder, press)
        monkeypatch.setattr(holder, press, _timed(act, note))


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    seconds, name = config.stash.get(_LONGEST, (0.0, ""))
    if name:
        terminalreporter.write_line(
            f"longest block of the event loop by one press: {seconds * 1000:.0f} ms in {name}"
        )


@pytest.fixture(autouse=True)
def no_window_stays() -> Iterator[None]:
    """What a test closed is gone before the next: outside a loop Qt keeps what is to be deleted,
    and every later change of look would dress all the old windows again."""
    yield
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.fixture(autouse=True)
def nobody_reads_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """A look ahead that is not what is tried ends soon; a test that tries it gives its own time."""
    defaults = FaultController.__init__.__kwdefaults__
    assert defaults is not None
    monkeypatch.setitem(defaults, "reading_ms", 40)


@pytest.fixture
def clock() -> Moment:
    return Moment(TODAY, NOW)


@pytest.fixture(scope="session")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shed as the window begins it, closed, to be copied."""
    path = tmp_path_factory.mktemp("begun") / "shed.firstpull"
    begin(path, Moment(TODAY, NOW), Tongue("en_GB")).close()
    return path


@pytest.fixture
def shed(qtbot: QtBot, qapp, begun: Path, tmp_path: Path) -> Iterator[Shed]:  # noqa: ANN001
    look.apply(qapp, look.LIGHT)
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(Tongue("en_GB"), settings)
    qtbot.addWidget(window)
    path = tmp_path / "shed.firstpull"
    copyfile(begun, path)
    ticks = iter(range(10**9))

    def now() -> Moment:
        second = next(ticks)
        return Moment(
            TODAY, datetime(TODAY.year, TODAY.month, TODAY.day, 9, 30, 0, second, tzinfo=UTC)
        )

    rooms = Rooms(window=window, clock=now, state=tmp_path / "state", home=path)
    (tmp_path / "state").mkdir(exist_ok=True)
    window.show()
    yield Shed(window, rooms, qtbot, path)
    rooms.close()
