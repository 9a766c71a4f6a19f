"""What the Help menu opens: how to read the year, the keys, where the data lies, the licences."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import PackageNotFoundError, distribution
from importlib.resources import files
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.fleet.strip import MarkWord
from app.pieces.labels import plain_label
from app.pieces.leaf import Leaf
from app.pieces.year import MarkSort
from app.wording.languages import msg
from app.wording.tongue import Tongue

_MARKS = {
    MarkSort.OVERDUE: msg("overdue: it waits left of today’s line until it is done"),
    MarkSort.NOT_KNOWN: msg("nobody knows when this was last done"),
    MarkSort.DUE: msg("due within two weeks"),
    MarkSort.COMING: msg("coming up within two months"),
    MarkSort.LATER: msg("later"),
    MarkSort.FUEL: msg("from this day the fuel in it is past keeping"),
    MarkSort.FLAG: msg("begin the work before the season by this day"),
}
_YEAR = (
    msg("Each machine has one line: thirteen months from today, the strong upright line."),
    msg("Where the line steps up, the machine is in season."),
    msg(
        "The first six weeks have nearly half the width, because something can still be done in"
        " them; the two slanted strokes show where the days grow narrower."
    ),
    msg("A figure beside a mark says how many things fall there."),
    msg(
        "A dashed line under a mark says how early or late it may fall, with twice or half the use."
    ),
    msg("Every mark can be asked why: go to it with Left and Right and press Enter."),
)
_KEYS = (
    ("Up", "Down", msg("choose a machine")),
    ("Left", "Right", msg("go along its year")),
    ("Home", "", msg("back to today")),
    ("Return", "", msg("ask why, or open the machine")),
    ("Esc", "", msg("close what stands beside the list")),
    ("Tab", "Shift+Tab", msg("on to the next thing, or back")),
)
_OPEN_PARTS = (
    "PySide6-Essentials",
    "SQLAlchemy",
    "alembic",
    "python-dateutil",
    "reportlab",
    "Babel",
)


def year_leaf(tongue: Tongue, parent: QWidget) -> Leaf:
    """How the year is read."""
    leaf = Leaf(tongue.text(msg("How to read the year")), _close(tongue), parent)
    for text in _YEAR:
        leaf.say(tongue.text(text))
    leaf.say(tongue.text(msg("The marks")), head=True)
    for sort, word in _MARKS.items():
        row = QHBoxLayout()  # the words wrap, however large the letters are
        row.addWidget(MarkWord(sort, ""), 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(plain_label(tongue.text(word)), 1)
        leaf.column.addLayout(row)
    leaf.column.addStretch(1)
    return leaf


def keys_leaf(tongue: Tongue, parent: QWidget, actions: Sequence[QAction]) -> Leaf:
    """Every key: those of the list, and those of the menus as they are in force."""
    leaf = Leaf(tongue.text(msg("Keys")), _close(tongue), parent)
    leaf.say(tongue.text(msg("In the list")), head=True)
    for one, other, word in _KEYS:
        keys = [_native(key) for key in (one, other) if key]
        leaf.say(f"{' / '.join(keys)}: {tongue.text(word)}")
    leaf.say(tongue.text(msg("In the menus")), head=True)
    for action in actions:
        keys = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        if keys:
            leaf.say(f"{keys}: {str(action.property('plainText')).rstrip('…')}")
    leaf.say(tongue.text(msg("Alt and the underlined letter open a menu and choose in it.")))
    leaf.column.addStretch(1)
    return leaf


def data_leaf(tongue: Tongue, parent: QWidget, shed: Path | None, state: Path) -> Leaf:
    """Where the data lies."""
    leaf = Leaf(tongue.text(msg("Where your data lies")), _close(tongue), parent)
    if shed is not None:
        leaf.say(tongue.text(msg("Your shed")), head=True)
        leaf.say(str(shed))
        leaf.say(tongue.text(msg("Everything you enter is in this one file.")))
        leaf.say(tongue.text(msg("Backups")), head=True)
        leaf.say(str(shed.parent))
        leaf.say(tongue.text(msg("They lie beside it; the program makes one a day, when needed.")))
    leaf.say(tongue.text(msg("The program’s own notes")), head=True)
    leaf.say(str(state))
    leaf.say(
        tongue.text(
            msg("Window size, the made-up shed, a log of faults. Nothing leaves this computer.")
        )
    )
    leaf.column.addStretch(1)
    return leaf


def licences_leaf(tongue: Tongue, parent: QWidget) -> Leaf:
    """Under which licences the program and its parts stand."""
    leaf = Leaf(tongue.text(msg("Licences")), _close(tongue), parent)
    leaf.say("Firstpull: MIT")
    leaf.say(tongue.text(msg("Built with")), head=True)
    for name in _OPEN_PARTS:
        leaf.say(_part(name))
    leaf.say("IBM Plex Sans: SIL Open Font License 1.1")
    fonts = files("resources").joinpath("fonts")
    for entry in sorted(fonts.iterdir(), key=lambda entry: entry.name):
        if entry.name.endswith(".txt"):
            leaf.say(entry.name, head=True)
            leaf.say(entry.read_text(encoding="utf-8"))
    leaf.column.addStretch(1)
    return leaf


def _part(name: str) -> str:
    try:
        found = distribution(name).metadata
    except PackageNotFoundError:
        return name
    licences = [found[key] for key in ("License-Expression", "License") if key in found]
    licence = licences[0].split("\n")[0] if licences else ""
    said = f"{name} {found['Version']}"
    return f"{said}: {licence}" if licence else said


def _close(tongue: Tongue) -> str:
    return tongue.text(msg("Close"))


def _native(key: str) -> str:
    return QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText)


def leaf(
    name: str,
    tongue: Tongue,
    parent: QWidget,
    *,
    actions: Sequence[QAction],
    shed: Path | None,
    state: Path,
) -> Leaf:
    """The leaf a menu entry asks for by its name."""
    match name:
        case "help_keys":
            return keys_leaf(tongue, parent, actions)
        case "help_data":
            return data_leaf(tongue, parent, shed, state)
        case "help_licences":
            return licences_leaf(tongue, parent)
        case _:
            return year_leaf(tongue, parent)
