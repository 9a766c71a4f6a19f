"""A paper that was made: where it lies is said in the room in sight, and it is opened."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices

from app.wording.languages import msg
from app.wording.tongue import Tongue

if TYPE_CHECKING:
    from app.window import MainWindow


def hand_over(window: MainWindow, words: Tongue, path: Path) -> None:
    """Say where the paper lies, and open it with whatever shows such files here."""
    window.say(words.text(msg("The paper lies at {path}."), path=str(path)), calm=True)
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))
