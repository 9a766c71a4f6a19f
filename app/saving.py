"""Where papers go: asked in the folder they went to last, under a name that says what they are."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSettings, QStandardPaths
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

_FOLDER = "papers"
_LONGEST = 80
# What some computer or other takes for more than a letter of a name.
_FORBIDDEN = frozenset('\\/:*?"<>|')


def file_name(*parts: str) -> str:
    """A name for a PDF of these words, fit for every computer."""
    said = " ".join(part for part in parts if part)
    plain = "".join("-" if one in _FORBIDDEN or not one.isprintable() else one for one in said)
    return f"{plain[:_LONGEST].strip(' .') or 'paper'}.pdf"


def ask_paper(window: QWidget, settings: QSettings, suggested: str) -> Path | None:
    """Ask where a paper goes; None when nobody answers. The keyboard goes back to where it was."""
    focus = QApplication.focusWidget()
    name, _ = QFileDialog.getSaveFileName(
        window, "", str(paper_folder(settings) / suggested), "PDF (*.pdf)"
    )
    window.activateWindow()  # not every desktop gives it back by itself
    if focus is not None and focus.isVisible():
        focus.setFocus()
    if not name:
        return None
    path = Path(name)
    settings.setValue(_FOLDER, str(path.parent))
    return path if path.suffix.lower() == ".pdf" else path.with_name(f"{path.name}.pdf")


def paper_folder(settings: QSettings) -> Path:
    """The folder of the last paper, as long as it is there; else the person's documents."""
    last = str(settings.value(_FOLDER, "") or "")
    if last and Path(last).is_dir():
        return Path(last)
    documents = QStandardPaths.StandardLocation.DocumentsLocation
    found = Path(QStandardPaths.writableLocation(documents))
    return found if found.is_dir() else Path.home()
