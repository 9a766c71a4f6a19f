"""How the window opens: the first picture stands before the rooms are woken."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

PROBE = """
import json, os, sys
from datetime import UTC, date, datetime
from pathlib import Path
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication
from app.opening import open_window
from app.window import MainWindow
from models.moment import Moment

def ready():
    windows = [one for one in QApplication.topLevelWidgets() if isinstance(one, MainWindow)]
    return any(one.view.sample_button.isEnabled() for one in windows)

class Look(QObject):
    painted = None
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and Look.painted is None:
            Look.painted = ["sqlalchemy" in sys.modules, ready()]
            self.timer = QTimer(self)
            self.timer.timeout.connect(self.look)
            self.timer.start(20)
        return False
    def look(self):
        if (Path(sys.argv[1]) / "shed.firstpull").exists() and ready():
            print(json.dumps(Look.painted), flush=True)
            os._exit(0)

application = QApplication([])
look = Look(application)
application.installEventFilter(look)
folder = Path(sys.argv[1])
moment = Moment(date(2025, 11, 25), datetime(2025, 11, 25, 9, tzinfo=UTC))
open_window(
    folder / "shed.firstpull",
    clock=lambda: moment,
    language="en_GB",
    state=folder,
    made_up=False,
)
"""


def test_the_first_picture_stands_before_the_database_is_imported(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", PROBE, str(tmp_path)],
        capture_output=True,
        text=True,
        check=True,
        timeout=100,
    )
    imported, buttons_live = json.loads(done.stdout.splitlines()[-1])
    assert imported is False
    assert buttons_live is False, "a click would land in a window that is not there yet"
