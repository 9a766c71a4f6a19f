"""A folder of this computer that new pictures come into: watched, never emptied, never taken from
without a yes.

What lies there when it is chosen counts as seen. What comes later is offered until somebody
takes it or says no.
"""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QSettings, Signal

FOLDER, SEEN = "photos/folder", "photos/seen"
ENDINGS = frozenset({".jpg", ".jpeg", ".png", ".webp", ".bmp", ".gif"})
MOST_FILES = 20_000


class WatchedFolder(QObject):
    """`changed`: something came, went or was answered."""

    changed = Signal()

    def __init__(self, settings: QSettings, parent: QObject) -> None:
        super().__init__(parent)
        self._settings = settings
        self._watcher = QFileSystemWatcher(self)
        self._watcher.directoryChanged.connect(self._came)
        self._look()

    @property
    def folder(self) -> Path | None:
        """The folder, if one was chosen."""
        said = str(self._settings.value(FOLDER, ""))
        return Path(said) if said else None

    def choose(self, folder: Path | None) -> None:
        """Watch another folder, or none any more."""
        self._settings.setValue(FOLDER, "" if folder is None else str(folder))
        self._settings.setValue(SEEN, [_mark(path) for path in self._pictures()])
        self._look()
        self.changed.emit()

    def fresh(self) -> tuple[Path, ...]:
        """Pictures nobody has answered for yet, the newest first."""
        seen = self._seen()
        return tuple(path for path in self._pictures() if _mark(path) not in seen)

    def settle(self, paths: tuple[Path, ...]) -> None:
        """These were taken, or are not wanted. What has left the folder is forgotten."""
        settled = self._seen() | {_mark(path) for path in paths}
        there = {_mark(path) for path in self._pictures()}
        self._settings.setValue(SEEN, sorted(settled & there))
        self.changed.emit()

    def _seen(self) -> frozenset[str]:
        kept = self._settings.value(SEEN, [])
        return frozenset(kept if isinstance(kept, list) else [str(kept)])

    def _pictures(self) -> tuple[Path, ...]:
        folder = self.folder
        if folder is None:
            return ()
        found: list[tuple[float, Path]] = []
        try:
            with os.scandir(folder) as entries:
                for entry in entries:
                    if len(found) < MOST_FILES and Path(entry.name).suffix.lower() in ENDINGS:
                        found.append((entry.stat().st_mtime, Path(entry.path)))
        except OSError:  # a stick that was pulled out comes back
            return ()
        return tuple(path for _, path in sorted(found, reverse=True))

    def _look(self) -> None:
        watched = self._watcher.directories()
        if watched:
            self._watcher.removePaths(watched)
        folder = self.folder
        if folder is not None and folder.is_dir():
            self._watcher.addPath(str(folder))

    def _came(self, _path: str) -> None:
        self.changed.emit()


def _mark(path: Path) -> str:
    """Which file it is: another of the same name is another."""
    try:
        found = path.stat()
    except OSError:
        return ""
    said = f"{path.name}|{found.st_size}|{found.st_mtime_ns}"
    return hashlib.sha256(said.encode("utf-8", "surrogateescape")).hexdigest()[:16]
