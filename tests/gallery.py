"""Pictures of the program on the made-up shed:  python -m tests.gallery OUT [--all]

For the README: the window in both looks and the first page of two papers, in few colours so that
they stay small.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from itertools import product
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pypdfium2
from PIL import Image
from PySide6.QtCore import QBuffer, QSettings, qInstallMessageHandler
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication, QWidget

from app.fleet.view import FleetView
from app.pieces import look
from app.pieces.leaf import Leaf
from app.pieces.room import RoomView
from app.printing import performer, print_sheet
from app.rooms import Rooms
from app.season.bench import BenchView
from app.season.view import SeasonView
from app.services import open_services
from app.trials.view import TrialsView
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.acts.household import ChangeSettings
from models.acts.machines import AddMachine
from models.acts.places import AddPlace
from models.file import create_household, open_household
from models.words import Language, Paper, SheetSort
from sample_db.build import build_sample
from sample_db.chronicle import moment_of
from schedules.facts import MachineId
from tests.bench.fleets import build_fleet

ON = date(2026, 10, 27)
SIZES = ((1024, 640), (1440, 900), (2560, 1440))
SCALES = (1.0, 1.5, 2.0)
MANY = 10_000
README_SIZE = (1440, 900)
SHOWN_ROW = 2
SITTING_MINUTES = 240
PAPERS = (SheetSort.PRESEASON, SheetSort.CARD)
PRINTED = MachineId(1)
COLOURS = 128
DOTS_PER_POINT = 2
SETTLED = 50


@dataclass(slots=True)
class Scene:
    """The window on a shed, gone through room by room."""

    window: MainWindow
    rooms: Rooms

    def act(self, name: str) -> QWidget:
        self.window.actions_by_name[name].trigger()
        settle()
        return self.window

    def dress(self, name: str, scale: float) -> None:
        """Put on another look and text size from their menu; every room lays itself out again."""
        for action in self.window.findChildren(QAction):
            if action.data() in (("look", name), ("scale", str(scale))):
                action.trigger()
        settle()

    def fleet(self) -> QWidget:
        self.act("fleet")
        self.window.view.close_form()
        if self.window.view.reading:
            self.window.view.close_pane()
        self.window.view.machine_table.selectRow(SHOWN_ROW)
        return self.window

    def chosen(self, name: str) -> Callable[[], QWidget]:
        """A room about the machine that is chosen in the list."""

        def go() -> QWidget:
            self.fleet()
            return self.act(name)

        return go

    def wear(self, tab: int) -> Callable[[], QWidget]:
        def go() -> QWidget:
            self.chosen("trials")()
            view = self.window.rooms.currentWidget()
            if isinstance(view, TrialsView):
                view.show_tab(tab)
            return self.window

        return go

    def season_list(self) -> QWidget:
        """The season room with a list laid down."""
        self.chosen("season")()
        view = self.window.rooms.currentWidget()
        if isinstance(view, SeasonView) and (view.shown is None or view.shown.card is None):
            for choice in list(view.choices.values())[:2]:
                if not choice.tick.isChecked():
                    choice.tick.click()
            view.lay_button.click()
            settle()
            if view.form is not None:
                view.form.done_button.click()
        return self.window

    def bench(self) -> QWidget:
        self.season_list()
        view = self.window.rooms.currentWidget()
        if isinstance(view, SeasonView):
            view.buttons["bench"].click()
        settle()
        found = [one for one in QApplication.topLevelWidgets() if isinstance(one, BenchView)]
        open_ = next((one for one in found if one.isVisible()), None)
        if open_ is None:
            return self.window
        open_.showNormal()
        return open_

    def sitting(self) -> QWidget:
        self.fleet()
        self.window.view.timeGiven.emit(SITTING_MINUTES)
        return self.window

    def help(self) -> QWidget:
        self.act("help_year")
        return next(one for one in self.window.findChildren(Leaf) if one.isVisible())

    def all(self) -> dict[str, Callable[[], QWidget]]:
        """Every room, and how to come to it."""
        return {
            "fleet": self.fleet,
            "sitting": self.sitting,
            "form": self.chosen("work"),
            "household": self.chosen("household"),
            "machine": self.chosen("machine"),
            "fuel": self.chosen("fuel_room"),
            "season": self.chosen("season"),
            "faults": self.chosen("fault"),
            "worth": self.chosen("worth"),
            "wear": self.wear(0),
            "trial": self.wear(1),
            "help": self.help,
            "list": self.season_list,
            "bench": self.bench,
        }

    def leave(self, shown: QWidget) -> None:
        """Put away what stands in front of the next room."""
        if shown is not self.window:
            shown.close()
        front = self.window.rooms.currentWidget()
        if isinstance(front, (RoomView, FleetView)) and front.form is not None:
            front.form.cancel_button.click()
        settle()
        if isinstance(front, SeasonView) and front.shown is not None and front.shown.run_id:
            self.act("undo")  # the next time machines are to be chosen again


@contextmanager
def scene(shed: Path, size: tuple[int, int], language: str = "en_GB") -> Iterator[Scene]:
    """The window on the shed, with one machine chosen."""
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(f"{folder}/window.ini", QSettings.Format.IniFormat)
        window = MainWindow(Tongue(language), settings)
        window.resize(*size)
        window.show()
        moment = moment_of(ON)
        rooms = Rooms(window=window, clock=lambda: moment, state=Path(folder), home=shed)
        settle()
        window.view.machine_table.selectRow(SHOWN_ROW)
        settle()
        yield Scene(window, rooms)
        rooms.close()
        window.close()
        window.deleteLater()
        settle()


def settle() -> None:
    """Let everything that was posted be painted."""
    for _ in range(SETTLED):
        QApplication.processEvents()


def keep_widget(widget: QWidget, path: Path) -> None:
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    widget.grab().save(buffer, "PNG")
    keep(Image.open(BytesIO(bytes(buffer.data().data()))), path)


def keep(picture: Image.Image, path: Path) -> None:
    picture.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    print(f"{path.name}: {path.stat().st_size // 1024} kB")


def print_papers(shed: Path, out: Path) -> None:
    """The first page of each."""
    moment = moment_of(ON)
    with open_services(shed, moment=moment, write=True) as services:
        for sort in PAPERS:
            page = print_sheet(
                services,
                sort,
                paper=Paper.A4,
                only=frozenset({PRINTED}),
                moment=moment,
                perform=performer(services, moment),
            )
            if page is not None:
                document = pypdfium2.PdfDocument(page.pdf)
                keep(document[0].render(scale=DOTS_PER_POINT).to_pil(), out / f"{sort}.png")
                document.close()


def speak(shed: Path, language: str) -> None:
    """The household speaks another language from now on; a new one speaks British English."""
    if language == Language.BRITISH:
        return
    moment = moment_of(ON)
    with open_household(shed, moment=moment) as household:
        household.need_writer().run(ChangeSettings(language=Language(language)), moment=moment)


def small_sheds(folder: Path) -> dict[str, Path]:
    """A shed nobody put anything into, and one with one machine."""
    sheds = {name: folder / f"{name}.firstpull" for name in ("fleet-none", "fleet-one")}
    moment = moment_of(ON)
    for name, path in sheds.items():
        with create_household(path, name="Lean-to", moment=moment) as household:
            if name == "fleet-one":
                writer = household.need_writer()
                writer.run(AddPlace(name="Lean-to"), moment=moment)
                came = date(ON.year - 2, 4, 1)
                act = AddMachine(name="Red one", kind="K02", place_id=1, came_on=came)
                writer.run(act, moment=moment)
    return sheds


def picture_rooms(shed: Path, out: Path, language: str, only: str) -> None:
    """Every room in every look, text size and window size, in one window."""
    with scene(shed, README_SIZE, language) as shown:
        for name, scale in product(look.LOOKS, SCALES):
            shown.dress(name, scale)
            for room, go in shown.all().items():
                if only and only not in room:
                    continue
                widget = go()
                fixed = isinstance(widget, Leaf)  # it has a size of its own
                for size in SIZES[:1] if fixed else SIZES:
                    if not fixed:
                        widget.resize(*size)
                    settle()
                    file = f"{room}-{name}-{size[0]}x{size[1]}-{round(scale * 100)}.png"
                    widget.grab().save(str(out / file))
                shown.leave(widget)
                shown.window.resize(*README_SIZE)


def picture_fleet(shed: Path, out: Path, language: str, title: str) -> None:
    """The list of another shed."""
    with scene(shed, README_SIZE, language) as shown:
        for name, scale in product(look.LOOKS, SCALES):
            shown.dress(name, scale)
            for size in SIZES:
                shown.window.resize(*size)
                settle()
                file = f"{title}-{name}-{size[0]}x{size[1]}-{round(scale * 100)}.png"
                shown.window.grab().save(str(out / file))


def asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.gallery", description=__doc__)
    parser.add_argument("out", type=Path, help="the folder for the pictures")
    parser.add_argument(
        "--all",
        action="store_true",
        help="every room instead, in every look, window size and text size: some 500 pictures in"
        " some six minutes, to be looked at one by one",
    )
    parser.add_argument("--many", action="store_true", help=f"the list with {MANY} machines, too")
    parser.add_argument("--only", default="", help="with --all: rooms whose name has this in it")
    parser.add_argument("--language", default="en_GB", choices=[str(one) for one in Language])
    return parser.parse_args()


def main() -> int:
    wanted = asked()
    out, language = wanted.out, wanted.language
    out.mkdir(parents=True, exist_ok=True)
    qInstallMessageHandler(lambda *_: None)  # the picture platform speaks at every new size
    app = QApplication([])
    look.apply(app, look.LIGHT)
    with tempfile.TemporaryDirectory() as folder:
        shed = Path(folder) / "shed.firstpull"
        build_sample(shed, on=ON)
        speak(shed, language)
        if wanted.all:
            picture_rooms(shed, out, language, wanted.only)
            if wanted.only in "fleet":
                for title, small in small_sheds(Path(folder)).items():
                    speak(small, language)
                    picture_fleet(small, out, language, title)
        else:
            for name in ("light", "dark"):
                look.apply(app, look.LOOKS[name])
                with scene(shed, README_SIZE, language) as shown:
                    keep_widget(shown.window, out / f"shed-{name}.png")
            print_papers(shed, out)
        if wanted.many:
            crowd = Path(folder) / "many.firstpull"
            build_fleet(crowd, machines=MANY, on=ON)
            speak(crowd, language)
            picture_fleet(crowd, out, language, "fleet-many")
    return 0


if __name__ == "__main__":
    sys.exit(main())
