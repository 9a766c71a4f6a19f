"""The one calm line after something was entered, and after it was taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from PySide6.QtGui import QKeySequence

from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.readings import Measure, Measured
from models.acts.work import RecordWork
from models.changes import ActLabel
from models.words import LineOutcome
from schedules.facts import LimitCode, LimitReading, TaskCode, TaskState
from schedules.intervals import is_past
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


def after_it(words: Wording, act: object, judged: Callable[[], Judging | None]) -> str:
    """What a measurement says, or what a tick leaves due; "" when there is nothing to add. Only
    then is the machine asked for: most entries need no judging."""
    if not isinstance(act, Measure | RecordWork) or (judging := judged()) is None:
        return ""
    if isinstance(act, Measure):
        return _measured(words, act.measured, act.day, judging)
    return _still_asked(words, act, judging)


def _measured(words: Wording, taken: Measured, day: date, judging: Judging) -> str:
    """The figure as it was understood, the one it is held against, and how they compare."""
    code = LimitCode(taken.limit)
    limit = next((item.limits[code] for item in judging.items if code in item.limits), None)
    if limit is None or taken.amount is None:
        return ""
    reading = LimitReading(
        code=TaskCode(taken.task), limit=code, day=day, amount=taken.amount, seen=taken.seen
    )
    past = is_past(limit, reading)
    if past:  # what that calls for is said by itself
        return ""
    said = [f"{words.amount(limit, taken.amount)}."]
    if past is None:
        said.append(words.text(msg("No figure to act at is known; your manual may have one.")))
    else:
        when = msg("Worn when: {worn}.") if limit.wears else msg("Act when: {worn}.")
        said.append(words.text(when, worn=words.worn_when(limit)))
        said.append(words.text(msg("It is not so far yet.")))
    return " ".join(said)


def _still_asked(words: Wording, act: RecordWork, judging: Judging) -> str:
    """What was ticked as done and yet stays due, since only its figure settles it."""
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
