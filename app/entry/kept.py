"""The one calm line after something was entered, and after it was taken back."""

from __future__ import annotations

from PySide6.QtGui import QKeySequence

from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.work import RecordWork
from models.changes import ActLabel
from models.words import LineOutcome
from schedules.facts import TaskState
from schedules.plan import Judging

_ASKED = (TaskState.DUE, TaskState.OVERDUE, TaskState.NOT_KNOWN)


def kept_said(words: Wording, label: ActLabel, machine: str = "") -> str:
    """What was entered, about which machine, and the key that takes it back."""
    act, key = words.act(ActLabel(code=label.code)), _key(QKeySequence.StandardKey.Undo)
    name = machine or _named(label)
    if not name:
        return words.text(msg("Kept: {act}. {key} takes it back."), act=act, key=key)
    said = msg("Kept for {machine}: {act}. {key} takes it back.")
    return words.text(said, machine=name, act=act, key=key)


def still_asked(words: Wording, act: object, judging: Judging | None) -> str:
    """What was ticked as done and yet stays due, since only its figure settles it; else ""."""
    if judging is None or not isinstance(act, RecordWork):
        return ""
    done = {line.task for line in act.lines if line.outcome is LineOutcome.DONE}
    measured = {task.code for task in judging.facts.kind.tasks if task.rule.limits}
    return " ".join(
        words.text(
            msg("{task} stays “{state}” until its figure is entered, too."),
            task=words.task(one.code),
            state=words.state(one.state),
        )
        for one in judging.verdict.tasks
        if one.code in done & measured and one.state in _ASKED
    )


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
