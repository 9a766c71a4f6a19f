"""What the first picture may cost: nothing heavy is imported before it."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

from app.fleet.glance import MOST_KEPT, GlanceHead, first_picture, keep_picture
from app.fleet.state import MachineLine, YearDays
from app.pieces.year import MarkSort, Year, YearMark
from models.moment import Moment
from schedules.facts import MachineState

HEAVY = ("sqlalchemy", "alembic", "reportlab", "numpy", "scipy")
PROBE = """
import json, sys
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from app.pieces import look
from app.window import MainWindow
from app.wording.tongue import Tongue
app = QApplication([])
look.apply(app, look.LIGHT)
window = MainWindow(Tongue("en_GB"), QSettings(sys.argv[1], QSettings.Format.IniFormat))
window.show()
app.processEvents()
print(json.dumps([name for name in %r if name in sys.modules]))
"""


def test_nothing_heavy_stands_before_the_first_paint(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", PROBE % (HEAVY,), str(tmp_path / "window.ini")],
        capture_output=True,
        text=True,
        check=True,
    )
    assert json.loads(done.stdout.splitlines()[-1]) == []


def line(name: str) -> MachineLine:
    mark = YearMark(sort=MarkSort.DUE, day=3, early=1, late=9, keys=("E4-02", "job-1"))
    return MachineLine(
        machine_id=1,
        name=name,
        second="mower",
        icon="k04",
        state=MachineState.FIT,
        state_text="ready",
        ground_text="",
        next_text="",
        next_second="",
        year=Year(days=396, seasons=((0, 30),), marks=(mark,)),
    )


def test_the_last_picture_comes_back_only_for_the_same_file_and_day(tmp_path: Path) -> None:
    file, cache = tmp_path / "shed.firstpull", tmp_path / "glance.db"
    file.write_bytes(b"x" * 100)
    on = date(2025, 11, 25)

    def clock() -> Moment:
        return Moment(on, datetime(2025, 11, 25, 9, tzinfo=UTC))

    shown = line("Green one")
    days = YearDays(today=on, today_text="25 Nov", days=396, months=("Nov", "Dec"))
    head = GlanceHead(headline="All is well.", total=1, count_text="1 machine", days=days)
    keep_picture(file, cache, clock, [shown], head)
    picture = first_picture(file, cache, clock)
    assert picture is not None
    assert picture.state.machines == (shown,)
    assert picture.state.headline == "All is well."
    assert picture.state.busy
    assert picture.days == days
    many = [replace(shown, machine_id=number) for number in range(10_000)]
    keep_picture(file, cache, clock, many, head)
    picture = first_picture(file, cache, clock)
    assert picture is not None
    assert len(picture.state.machines) == MOST_KEPT
    file.write_bytes(b"y" * 101)
    assert first_picture(file, cache, clock) is None
