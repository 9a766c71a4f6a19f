"""Walks through the fault room by what is on the screen alone:  python -m tests.fault_walks OUT

For every complaint three hidden causes, each in a household of its own. The walker reads the card
and the words on its buttons and nothing else, answers as that cause shows itself most of the time,
and keeps a picture of every step; `--paper` prints the fault sheet instead, follows its numbers
and enters it back.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import qInstallMessageHandler
from PySide6.QtWidgets import QApplication, QLabel, QPushButton

from app.fault_door import FaultDoor
from app.faults.card import AnswerButton
from app.faults.view import FaultView
from app.pieces import look
from models.acts.machines import AddMachine
from models.acts.places import AddPlace
from models.file import create_household, open_household
from resources.fault_models import load_fault_models
from sample_db.chronicle import moment_of
from schedules.fault_facts import NONE_OF_THESE, Cause, FaultModel, SymptomId
from tests.gallery import ON, Scene, keep_widget, scene, settle

SIZE = (1024, 640)
MOST = 30
HIDDEN = 3
HANDED = "Time to hand it over"
SEEN_NOW = 400  # breaths of the window in which the look ahead may still change the card


@dataclass(slots=True)
class Walk:
    """One hidden cause looked for."""

    model: FaultModel
    hidden: Cause
    steps: int = 0
    end: str = ""


def hidden_causes(model: FaultModel) -> list[Cause]:
    """The likeliest one, one from the middle, a rare one."""
    known = sorted(
        (one for one in model.causes if one.cause_id != NONE_OF_THESE and one.goes_on is None),
        key=lambda one: -one.odds,
    )
    return [known[0], known[len(known) // 2], known[-1]][:HIDDEN]


def said_of(text: str) -> str:
    """A text of the models as a line begins with it."""
    return text[:1].upper() + text[1:]


@dataclass(slots=True)
class Walker:
    """Reads the room, presses its buttons."""

    shown: Scene
    room: FaultView
    out: Path | None
    name: str

    def buttons(self) -> dict[str, QPushButton]:
        """What can be pressed on the card, by the words on it."""
        found = self.room.card.findChildren(QPushButton)
        return {one.accessibleName() or one.text(): one for one in found if one.isVisible()}

    def words(self) -> list[str]:
        """What stands on the card, from the top."""
        labels = self.room.card.findChildren(QLabel)
        return [one.text() for one in labels if one.isVisible() and one.text()]

    def picture(self, number: int) -> None:
        """Keep what is seen."""
        if self.out is not None:
            keep_widget(self.shown.window, self.out / f"{self.name}-{number:02}.png")

    def wait(self) -> None:
        """As somebody does who has not begun to read."""
        for _ in range(SEEN_NOW):
            settle()
            if all(one is None for one in (self.room.form,)) and self.is_still():
                return

    def is_still(self) -> bool:
        return self.door._thinking is None

    @property
    def door(self):
        doors = self.shown.rooms._doors
        assert doors is not None
        assert isinstance(doors._faults, FaultDoor)
        return doors._faults.controller


def answer_of(walk: Walk, title: str, choices: dict[str, QPushButton]) -> str | None:
    """What the hidden cause would make one press, by the title of the card; None: not a test."""
    for test in walk.model.tests:
        if said_of(test.name) != title:
            continue
        row = test.rows[walk.hidden.cause_id]
        outcomes = [said_of(one.text) for one in test.outcomes]
        best = outcomes[max(range(len(row)), key=row.__getitem__)]
        assert best in choices, (title, best, list(choices))
        return best
    return None


def step(walk: Walk, walker: Walker) -> bool:
    """Do what the card says; False when the walk is over."""
    card = walker.room.card
    title, choices = card.accessibleName(), walker.buttons()
    told = answer_of(walk, title, choices)
    if told is None and "Yes, now it works" in choices:
        helps = said_of(walk.hidden.name) == title
        told = "Yes, now it works" if helps else "No, as before"
    elif told is None:
        answers = [one for one in choices.values() if isinstance(one, AnswerButton)]
        known = [one for one in choices if one in ("I have done all that", "It is looked over")]
        if answers:  # a fact of the machine: the first answer
            told = answers[0].accessibleName()
        elif known:
            told = known[0]
        else:
            walk.end = f"{title} [{', '.join(choices)}]"
            return False
    choices[told].click()
    settle()
    form = walker.room.form
    if form is not None and form.page.key == "end":
        walk.end = f"{title}: {told}"
        return False
    if form is not None:  # something asked besides, like what became of the old fuel
        form.cancel_button.click()
        settle()
    return True


def walk_room(walk: Walk, walker: Walker) -> None:
    """From the first card to the end."""
    for number in range(MOST):
        walker.wait()
        walker.picture(number)
        walk.steps = number + 1
        if not step(walk, walker):
            walker.picture(number + 1)
            return
    walk.end = f"NOT in {MOST} steps"


@contextmanager
def household_of(kind: str) -> Iterator[Path]:
    """A file with one machine of a kind, bought new."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "shed.firstpull"
        moment = moment_of(ON)
        create_household(path, name="Shed", moment=moment).close()
        with open_household(path, moment=moment) as household:
            writer = household.need_writer()
            writer.run(AddPlace(name="Lean-to", climate="nordic"), moment=moment)
            added = AddMachine(name="Red one", kind=kind, place_id=1, came_on=ON.replace(year=2020))
            writer.run(added, moment=moment)
        yield path


def begin(shown: Scene, model: FaultModel) -> FaultView:
    """Choose the complaint by its words, and go on past what has been seen."""
    shown.window.view.machine_table.selectRow(0)
    shown.act("fault")
    doors = shown.rooms._doors
    assert doors is not None
    assert doors._faults is not None
    room = doors._faults.view
    button = next(one for one in room.symptom_buttons if one.accessibleName() == model.title)
    button.click()
    settle()
    assert room.form is not None
    return room


def walks(only: str, out: Path, *, scale: float, size: tuple[int, int]) -> Iterator[Walk]:
    """Every walk, one after the other."""
    models = load_fault_models()
    for code in sorted(models.models):
        if only and code not in only.split(","):
            continue
        model = models.models[SymptomId(code)]
        for number, cause in enumerate(hidden_causes(model)):
            with household_of(model.kinds[0]) as path, scene(path, size) as shown:
                if scale != 1.0:
                    shown.dress("light", scale)
                room = begin(shown, model)
                walker = Walker(shown, room, out, f"{code}-{number}-{cause.cause_id}")
                walker.picture(99)
                assert room.form is not None
                room.form.done_button.click()
                settle()
                walk = Walk(model, cause)
                walk_room(walk, walker)
                yield walk


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fault_walks", description=__doc__)
    parser.add_argument("out", type=Path)
    parser.add_argument("--only", default="", help="complaints by code, commas between")
    parser.add_argument("--scale", type=float, default=1.0)
    parser.add_argument("--size", default="1024x640")
    given = parser.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    wide, high = given.size.split("x")
    qInstallMessageHandler(lambda *_: None)  # the picture platform speaks at every new size
    look.apply(QApplication([]), look.LIGHT)
    found = 0
    total = 0
    for walk in walks(given.only, given.out, scale=given.scale, size=(int(wide), int(high))):
        total += 1
        right = walk.end.startswith((said_of(walk.hidden.name), "It works", HANDED))
        found += right
        print(
            f"{walk.model.symptom_id:4} {walk.hidden.cause_id:4} {walk.steps:2} steps  "
            f"{'' if right else 'NOT: '}{walk.end}",
            flush=True,
        )
    print(f"{found} of {total} came to the hidden cause, or to the workshop with it")
    return 0 if found == total else 1


if __name__ == "__main__":
    sys.exit(main())
