"""Pictures of the window on the made-up shed: `python -m tests.gallery OUT [--all]`.

Two pictures for the README; with `--all` each look, three sizes and three text sizes, to be
looked at one by one.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from datetime import UTC, date, datetime
from itertools import product
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from app.pieces import look
from app.rooms import Rooms
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.moment import Moment
from sample_db.build import build_sample

ON = date(2026, 10, 27)
SIZES = ((1024, 640), (1440, 900), (2560, 1440))


def now() -> Moment:
    return Moment(ON, datetime(ON.year, ON.month, ON.day, 9, tzinfo=UTC))


def picture(app: QApplication, shed: Path, out: Path, size: tuple[int, int]) -> None:
    """One picture of the room with its first machine chosen."""
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(f"{folder}/window.ini", QSettings.Format.IniFormat)
        window = MainWindow(Tongue("en_GB"), settings)
        window.resize(*size)
        window.show()
        rooms = Rooms(window=window, clock=now, state=Path(folder), home=shed)
        for _ in range(50):
            app.processEvents()
        window.grab().save(str(out))
        rooms.close()
        window.close()
        window.deleteLater()
        app.processEvents()


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--all", action="store_true")
    arguments = parser.parse_args()
    arguments.out.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    with tempfile.TemporaryDirectory() as folder:
        shed = Path(folder) / "shed.firstpull"
        build_sample(shed, on=ON)
        for name in ("light", "dark"):
            look.apply(app, look.LOOKS[name])
            picture(app, shed, arguments.out / f"shed-{name}.png", (1440, 900))
        if arguments.all:
            for name, size, scale in product(("light", "dark"), SIZES, (1.0, 1.5, 2.0)):
                look.apply(app, look.LOOKS[name], scale=scale)
                file = f"{name}-{size[0]}x{size[1]}-{round(scale * 100)}.png"
                picture(app, shed, arguments.out / file, size)
    return 0


if __name__ == "__main__":
    sys.exit(main())
