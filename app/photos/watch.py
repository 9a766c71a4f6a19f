"""A folder of this computer that new pictures come into: watched, never emptied, never taken from
without a yes.

What lies there when it is chosen counts as seen. What comes later is offered until somebody
takes it or says no. The folder is read in a thread of its own: it may lie on a share that
answers slowly, or on a stick that is pulled out and put back.
"""

from __future__ import annotations

import hashlib
import os
import stat
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QSettings, QTimer, Signal

from app.worker import Worker

FOLDER, SEEN = "photos/folder", "photos/seen"
# A list of nothing is kept as nothing at all: this stands before the marks.
BEGUN = "begun"
ENDINGS = frozenset({".jpg", ".jpeg", ".png", ".webp", ".bmp", ".gif"})
MOST_FILES = 20_000
# A camera writes many files one after the other: they are looked at once they have come to rest.
REST_MS = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was seen in a folder. `marks`: which file it is, the newest first; `there` is False
    when the folder could not be read, `whole` when nothing was left out; `above` is the nearest
    folder over it that is there: a stick that is pulled out is missed only there."""

    folder: Path
    above: Path
    marks: tuple[tuple[Path, str], ...] = ()
    there: bool = False
    whole: bool = True


class WatchedFolder(QObject):
    """`changed`: something came, went or was answered."""

    changed = Signal()

    def __init__(self, settings: QSettings, parent: QObject) -> None:
        super().__init__(parent)
        self._settings = settings
        self._found: Found | None = None
        self._scanning: Worker | None = None
        self._again = False
        self._watcher = QFileSystemWatcher(self)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.look)
        self._watcher.directoryChanged.connect(self._came)
        self.look()

    @property
    def folder(self) -> Path | None:
        """The folder, if one was chosen."""
        said = str(self._settings.value(FOLDER, ""))
        return Path(said) if said else None

    @property
    def is_there(self) -> bool | None:
        """Whether the folder could be read when it was last looked at; None before the first."""
        return None if self._found is None else self._found.there

    def choose(self, folder: Path | None) -> None:
        """Watch another folder, or none any more. What lies in it now is not offered."""
        self._settings.setValue(FOLDER, "" if folder is None else str(folder))
        self._settings.remove(SEEN)
        self._found = None
        self.look()
        self.changed.emit()

    def fresh(self) -> tuple[Path, ...]:
        """Pictures nobody has answered for yet, the newest first."""
        if self._found is None or self._found.folder != self.folder:
            return ()
        seen = self._seen()
        return tuple(path for path, mark in self._found.marks if mark not in seen)

    def settle(self, paths: tuple[Path, ...]) -> None:
        """These were taken, or are not wanted. What has left the folder is forgotten, but only
        when the folder could be read whole."""
        found = self._found
        if found is None:
            return
        marks = dict(found.marks)
        settled = self._seen() | {marks[path] for path in paths if path in marks}
        if found.there and found.whole:
            settled &= set(marks.values())
        self._keep_seen(settled)
        self.changed.emit()

    def look(self) -> None:
        """Look into the folder; `changed` follows when something is different."""
        folder = self.folder
        if self._scanning is not None:
            self._again = True
            return
        if folder is None:
            self._watch(None)
            return
        seen: list[Found] = []
        self._again = False

        def scan() -> None:
            seen.append(pictures_of(folder))

        def done(raised: BaseException | None) -> None:
            self._scanning = None
            if raised is not None:
                raise raised
            self._take(seen[0])

        self._scanning = Worker(scan, done, self)

    def _take(self, found: Found) -> None:
        if self._again or found.folder != self.folder:
            self.look()
            return
        before, self._found = self._found, found
        if found.there and self._settings.value(SEEN) is None:
            self._keep_seen({mark for _, mark in found.marks})
        self._watch(found)
        if found != before:
            self.changed.emit()

    def _seen(self) -> frozenset[str]:
        kept = self._settings.value(SEEN, [])
        if isinstance(kept, list):
            return frozenset(str(one) for one in kept)
        return frozenset({str(kept)} if kept else ())

    def _keep_seen(self, marks: set[str] | frozenset[str]) -> None:
        self._settings.setValue(SEEN, [BEGUN, *sorted(marks - {BEGUN})])

    def _watch(self, found: Found | None) -> None:
        wanted = set[str]()
        if found is not None:
            wanted = {str(found.above), *([str(found.folder)] if found.there else ())}
        watched = set(self._watcher.directories())
        for given, do in (
            (watched - wanted, self._watcher.removePaths),
            (wanted - watched, self._watcher.addPaths),
        ):
            if given:  # Qt warns of an empty list
                do(sorted(given))

    def _came(self, _path: str) -> None:
        self._rest.start()


def pictures_of(folder: Path) -> Found:
    """The pictures in a folder, the newest first; one that cannot be looked at is left out."""
    above = next(filter(Path.is_dir, folder.parents), folder)
    found: list[tuple[float, Path, str]] = []
    whole = True
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if Path(entry.name).suffix.lower() not in ENDINGS:
                    continue
                if len(found) >= MOST_FILES:
                    whole = False
                    break
                try:
                    kept = entry.stat()
                except OSError:  # a link that leads nowhere; a file that has just gone
                    continue
                if stat.S_ISREG(kept.st_mode):
                    path = Path(entry.path)
                    found.append((kept.st_mtime, path, _mark(path.name, kept)))
    except OSError:
        return Found(folder=folder, above=above)
    found.sort(key=lambda one: (-one[0], one[1].name))
    marks = tuple((path, mark) for _, path, mark in found)
    return Found(folder=folder, above=above, marks=marks, there=True, whole=whole)


def _mark(name: str, kept: os.stat_result) -> str:
    """Which file it is: another of the same name is another."""
    said = f"{name}|{kept.st_size}|{kept.st_mtime_ns}"
    return hashlib.sha256(said.encode("utf-8", "surrogateescape")).hexdigest()[:16]
