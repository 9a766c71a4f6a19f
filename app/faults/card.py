"""The card of one next step: cautions and conditions first, then the steps, then the answers."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLayout,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.causes.state import FactQuestion, OutcomeLine, StepCard
from app.pieces import look
from app.pieces.button import Button
from app.pieces.caution import CautionPanel
from app.pieces.labels import plain_label
from app.pieces.tiles import Flow
from schedules.fault_facts import BLANK
from schedules.faults import AdviceKind

# What may be pressed on a card without outcomes, the likeliest first.
ENDS: Mapping[AdviceKind, tuple[str, ...]] = {
    AdviceKind.WORKS: ("it_works", "still_not"),
    AdviceKind.LOOK_OVER: ("done_over", "skip_over"),
    AdviceKind.GO_ON: ("go_on",),
    AdviceKind.APPRAISE: ("worth", "workshop"),
    AdviceKind.HAND_OVER: ("workshop", "worth"),
}


class AnswerButton(Button):
    """One outcome: its key (0: none), what is seen; beneath it what it would mean."""

    def __init__(self, line: OutcomeLine, key: int, parent: QWidget) -> None:
        super().__init__("", parent)
        self.code = line.code
        self.setProperty("answer", line.code)
        self.setAccessibleName(line.text)
        self.setAccessibleDescription(line.then)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.MinimumExpanding)
        inside = QVBoxLayout(self)
        inside.setContentsMargins(14, 8, 12, 8)
        inside.setSpacing(0)
        head = plain_label(f"{key}   {line.text}" if key else line.text, role="head", parent=self)
        inside.addWidget(head)
        labels = [head]
        if line.then:
            labels.append(plain_label(line.then, role="second", parent=self))
            inside.addWidget(labels[-1])
        for label in labels:
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def hasHeightForWidth(self) -> bool:
        """Its words wrap."""
        return True

    def heightForWidth(self, width: int) -> int:
        """High enough for all of its words."""
        layout = self.layout()
        high = 0 if layout is None else layout.totalHeightForWidth(width)
        return max(look.TARGET, high)

    def sizeHint(self) -> QSize:
        """At least a target."""
        size = super().sizeHint()
        size.setHeight(self.heightForWidth(max(size.width(), 240)))
        return size


class CardPane(QFrame):
    """Shows one card. `outcomeChosen` carries its code, `actWanted` the name of a button."""

    outcomeChosen = Signal(str)
    factTold = Signal(str)
    actWanted = Signal(str)

    def __init__(self, labels: dict[str, str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._labels = labels
        self.setObjectName("testcard")
        self.answers: list[Button] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(look.MARGIN, look.MARGIN // 2, look.MARGIN, look.MARGIN)
        self._column.setSpacing(look.GAP)
        self.restyle()

    def restyle(self) -> None:
        """Put on the look of now."""
        now = look.current()
        self.setStyleSheet(
            f"QFrame#testcard {{ background: {now.sheet}; border: 1px solid {now.ink}; "
            f"border-top: 8px solid {now.ink}; }}"
        )

    # -- what is shown -----------------------------------------------------------------------

    def show_card(self, card: StepCard, *, can_write: bool) -> None:
        """Show a step."""
        self._clear()
        head = QHBoxLayout()
        head.addWidget(plain_label(card.title, role="name", parent=self), 1)
        head.addWidget(plain_label(card.minutes_text, role="head", parent=self))
        if card.sort != card.title:
            self._column.addWidget(plain_label(card.sort, role="second", parent=self))
        self._column.addLayout(head)
        for caution in card.cautions:
            self._column.addWidget(CautionPanel(caution, self))
        self._say(self._labels["before"], " ".join(card.before))
        self._say(self._labels["bring"], ", ".join(card.tools))
        self._say("", card.cost)
        for line in (card.opening, card.photo):
            if line:
                self._column.addWidget(plain_label(line, role="head", parent=self))
        if card.photo:
            self._column.addWidget(self._act_button("left_off", self))
        self._steps(card.steps)
        self._outcomes(card)
        self._others(card)
        for button in self.answers:
            button.setEnabled(can_write)
        self.setAccessibleName(card.title)

    def show_fact(self, fact: FactQuestion, *, can_write: bool) -> None:
        """Ask a fact of the machine or of the tools first."""
        self._clear()
        self._column.addWidget(plain_label(self._labels["fact_head"], role="second", parent=self))
        self._column.addWidget(plain_label(fact.question, role="name", parent=self))
        answers = (*fact.answers, (str(BLANK), self._labels["do_not_know"]))
        for key, (value, text) in enumerate(answers, start=1):
            button = AnswerButton(OutcomeLine(code=value, text=text), key, self)
            button.clicked.connect(self._fact_pressed)
            button.setEnabled(can_write)
            self.answers.append(button)
            self._column.addWidget(button)
        self.setAccessibleName(fact.question)

    def _clear(self) -> None:
        self.answers = []
        empty(self._column)

    def _say(self, head: str, text: str) -> None:
        if text:
            said = f"{head}: {text}" if head else text
            self._column.addWidget(plain_label(said, parent=self))

    def _steps(self, steps: tuple[str, ...]) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        grid.setColumnStretch(1, 1)
        for row, step in enumerate(steps):
            if len(steps) > 1:
                letter = plain_label(chr(ord("a") + row), role="head", parent=self)
                grid.addWidget(letter, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(plain_label(step, parent=self), row, 1)
        self._column.addSpacing(look.GAP)
        self._column.addLayout(grid)
        self._column.addSpacing(look.GAP)

    def _outcomes(self, card: StepCard) -> None:
        if card.question:
            self._column.addWidget(plain_label(card.question, role="head", parent=self))
        for key, line in enumerate(card.outcomes, start=1):
            button = AnswerButton(line, key, self)
            button.clicked.connect(self._pressed)
            self.answers.append(button)
            self._column.addWidget(button)

    def _others(self, card: StepCard) -> None:
        names = ENDS.get(card.kind, ())
        if card.kind is AdviceKind.TEST:
            names = ("not_sure", "cannot")
        elif card.kind is AdviceKind.CURE:
            names = ("try_later", *(("part",) if card.part_days else ()), "cannot_cure")
        row = QWidget(self)
        flow = Flow(row)
        for name in names:
            button = self._act_button(name, row)
            self.answers.append(button)
            flow.addWidget(button)
        self._column.addWidget(row)
        if card.kind is AdviceKind.TEST:
            self._column.addWidget(
                plain_label(self._labels["difference"], role="second", parent=self)
            )

    def _act_button(self, name: str, parent: QWidget) -> Button:
        button = Button(self._labels["cannot" if name == "cannot_cure" else name], parent)
        button.setProperty("act", name)
        button.setMinimumHeight(look.TARGET)
        button.clicked.connect(self._act_pressed)
        return button

    # -- intents -----------------------------------------------------------------------------

    def _pressed(self) -> None:
        self.outcomeChosen.emit(str(self.sender().property("answer")))

    def _fact_pressed(self) -> None:
        self.factTold.emit(str(self.sender().property("answer")))

    def _act_pressed(self) -> None:
        self.actWanted.emit(str(self.sender().property("act")))

    def press(self, key: int) -> bool:
        """Press the answer with that figure; False when there is none."""
        figured = [one for one in self.answers if isinstance(one, AnswerButton)]
        if not 1 <= key <= len(figured):
            return False
        figured[key - 1].click()
        return True

    def focus_first(self) -> None:
        """The keyboard goes to the first answer; none is taken for chosen by that."""
        if self.answers:
            self.answers[0].setFocus(Qt.FocusReason.OtherFocusReason)


def empty(layout: QLayout) -> None:
    """Take everything out of a layout, and out of the layouts in it."""
    while (item := layout.takeAt(0)) is not None:
        inner, widget = item.layout(), item.widget()
        if inner is not None:
            empty(inner)
        if widget is not None:
            widget.setParent(None)
            widget.deleteLater()
