"""The one calm line after something was entered, and after it was taken back."""

from __future__ import annotations

from PySide6.QtGui import QKeySequence

from app.wording.languages import msg
from app.wording.wording import Wording
from models.changes import ActLabel


def kept_said(words: Wording, label: ActLabel, machine: str = "") -> str:
    """What was entered, about which machine, and the key that takes it back."""
    act, key = words.act(ActLabel(code=label.code)), _key(QKeySequence.StandardKey.Undo)
    name = machine or _named(label)
    if not name:
        return words.text(msg("Kept: {act}. {key} takes it back."), act=act, key=key)
    said = msg("Kept for {machine}: {act}. {key} takes it back.")
    return words.text(said, machine=name, act=act, key=key)


def taken_back_said(words: Wording, label: ActLabel) -> str:
    """What was taken back, and the key that enters it again."""
    key = _key(QKeySequence.StandardKey.Redo)
    return words.text(
        msg("Taken back: {act}. {key} enters it again."), act=words.act(label), key=key
    )


def _named(label: ActLabel) -> str:
    name = dict(label.values).get("name")
    return name if isinstance(name, str) else ""


def _key(wanted: QKeySequence.StandardKey) -> str:
    """As it stands in the menu, too."""
    return QKeySequence(wanted).toString(QKeySequence.SequenceFormat.NativeText)
