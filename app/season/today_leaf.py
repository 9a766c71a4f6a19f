"""What it takes to have one machine start today, on a leaf beside its room."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.labels import plain_label
from app.pieces.leaf import Leaf
from app.season.today import TITLE, Today
from app.sheets.lettering import Text
from app.sheets.pieces import Caution
from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.wording import Wording


class TodayLeaf(Leaf):
    """The list, cautions before the steps they are for, each told once."""

    def __init__(self, found: Today, words: Wording, parent: QWidget) -> None:
        title = f"{words.text(TITLE)}: {found.sheet.machine}"
        super().__init__(title, words.text(msg("Close")), parent)
        self._told: set[str] = set()
        self.print_button = Button(words.text(msg("Print…")), self)
        self.print_button.setProperty("main", True)
        self.sitting_button = Button(words.text(msg("Tick it off step by step")), self)
        self.sitting_button.setVisible(found.asleep)
        row = QHBoxLayout()
        row.addWidget(self.print_button)
        row.addWidget(self.sitting_button)
        row.addStretch(1)
        outer = self.layout()
        if isinstance(outer, QVBoxLayout):
            outer.insertLayout(1, row)
        for line in found.lead:
            self.column.addWidget(plain_label(line, role="head"))
        for fact in found.sheet.facts:
            self.say(f"{fact.label}: {fact.value}")
        self._add_steps(found)
        if found.sheet.later:
            self.say(words.text(msg("What can wait until another day")), head=True)
            self.say(" · ".join(found.sheet.later))
        self.column.addStretch(1)
        self.print_button.setFocus()

    def _add_steps(self, found: Today) -> None:
        number = 0
        for stage in found.sheet.stages:
            self.say(stage.title, head=True)
            for step in stage.steps:
                number += 1
                for caution in step.cautions:
                    self._warn(caution)
                self.column.addSpacing(look.GAP)
                said = " · ".join(part for part in (_plain(step.what), step.minutes) if part)
                self.column.addWidget(plain_label(f"{number}. {said}", role="head"))
                for text in (_plain(step.how), _plain(step.stop)):
                    if text:
                        self.say(text)

    def _warn(self, caution: Caution) -> None:
        if caution.text in self._told:
            return
        self._told.add(caution.text)
        self.column.addWidget(
            CautionPanel(
                CautionText(signal=caution.word, text=caution.text, severity=caution.signal)
            )
        )


def _plain(text: Text) -> str:
    return text if isinstance(text, str) else "".join(run.text for run in text)
