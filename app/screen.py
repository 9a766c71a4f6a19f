"""Whether there is a screen to open a window on. Asked before Qt, which ends the process if not."""

from __future__ import annotations

import socket
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

X_SOCKETS = "/tmp/.X11-unix"  # noqa: S108  (where the X server listens, by its own convention)


def has_screen(environment: Mapping[str, str]) -> bool:
    """Whether a window can be opened: by the environment, and by whether anybody answers there."""
    if environment.get("QT_QPA_PLATFORM"):
        return True
    if not sys.platform.startswith("linux"):
        return True
    return _wayland_answers(environment) or _x_answers(environment.get("DISPLAY", ""))


def _wayland_answers(environment: Mapping[str, str]) -> bool:
    name = environment.get("WAYLAND_DISPLAY", "")
    if not name:
        return False
    return _answers(str(Path(environment.get("XDG_RUNTIME_DIR", "")) / name))


def _x_answers(display: str) -> bool:
    host, colon, number = display.rpartition(":")
    if not colon:
        return False
    if host not in ("", "unix"):
        return True  # on another computer; only trying would tell, and slowly
    place = f"{X_SOCKETS}/X{number.partition('.')[0]}"
    return _answers(place) or _answers(f"\0{place}")


def _answers(place: str) -> bool:
    with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as line:
        line.settimeout(1)
        try:
            line.connect(place)
        except OSError:
            return False
    return True


def qt_starts() -> bool:
    """Whether Qt finds all it needs. Tried in a process of its own: where it cannot, it aborts."""
    said = subprocess.run(
        [sys.executable, "-c", "from PySide6.QtWidgets import QApplication; QApplication([])"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=False,
    )
    return said.returncode == 0
