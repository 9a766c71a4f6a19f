"""Pictures of the program on the made-up shed:  python -m tests.gallery OUT [--all]

For the README: the window in both looks and the first page of two papers, in few colours so that
they stay small. With `--all` also each look in three sizes and three text sizes, and a form, to be
looked at one by one.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from io import BytesIO
from itertools import product
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pypdfium2
from PIL import Image
from PySide6.QtCore import QBuffer, QSettings
from PySide6.QtWidgets import QApplication, QWidget

from app.pieces import look
from app.printing import performer, print_sheet
from app.rooms import Rooms
from app.services import open_services
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.words import Paper, SheetSort
from sample_db.build import build_sample
from sample_db.chronicle import moment_of
from schedules.facts import MachineId

ON = date(2026, 10, 27)
SIZES = ((1024, 640), (1440, 900), (2560, 1440))
README_SIZE = (1440, 900)
SHOWN_ROW = 2
PAPERS = (SheetSort.PRESEASON, SheetSort.CARD)
PRINTED = MachineId(1)
COLOURS = 128
DOTS_PER_POINT = 2


@contextmanager
def room(shed: Path, size: tuple[int, int]) -> Iterator[MainWindow]:
    """The window on the shed, with one machine chosen."""
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(f"{folder}/window.ini", QSettings.Format.IniFormat)
        window = MainWindow(Tongue("en_GB"), settings)
        window.resize(*size)
        window.show()
        moment = moment_of(ON)
        rooms = Rooms(window=window, clock=lambda: moment, state=Path(folder), home=shed)
        settle()
        window.view.machine_table.selectRow(SHOWN_ROW)
        settle()
        yield window
        rooms.close()
        window.close()
        window.deleteLater()
        settle()


def settle() -> None:
    """Let everything that was posted be painted."""
    for _ in range(50):
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


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.gallery", description=__doc__)
    parser.add_argument("out", type=Path, help="the folder for the pictures")
    parser.add_argument("--all", action="store_true", help="every look, size and text size")
    wanted = parser.parse_args()
    wanted.out.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        shed = Path(folder) / "shed.firstpull"
        build_sample(shed, on=ON)
        for name in ("light", "dark"):
            look.apply(app, look.LOOKS[name])
            with room(shed, README_SIZE) as window:
                keep_widget(window, wanted.out / f"shed-{name}.png")
        if wanted.all:
            for name, size, scale in product(look.LOOKS, SIZES, (1.0, 1.5, 2.0)):
                look.apply(app, look.LOOKS[name], scale=scale)
                file = f"{name}-{size[0]}x{size[1]}-{round(scale * 100)}"
                with room(shed, size) as window:
                    keep_widget(window, wanted.out / f"{file}.png")
                    window.actions_by_name["work"].trigger()
                    settle()
                    keep_widget(window, wanted.out / f"{file}-work.png")
        print_papers(shed, wanted.out)
    return 0


if __name__ == "__main__":
    sys.exit(main())
