"""For every test and every cure of every model: its cautions stand before its steps, on the
screen and on paper, and there is no step without one."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from io import BytesIO

import pypdfium2
import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from app.causes.picture import FaultWords
from app.causes.state import StepCard
from app.faults.card import CardPane
from app.faults.labels import fault_labels
from app.pieces.caution import CautionPanel
from app.sheets.build import fault_pdf
from app.sheets.fault_rows import FaultSheet, FaultStep
from app.sheets.surface import Paper
from app.wording.units import METRIC
from app.wording.wording import Wording
from resources.fault_models import load_fault_models
from resources.loader import load_catalogue
from schedules.fault_facts import FaultModel, SymptomId
from schedules.fault_state import FaultState
from schedules.faults import Advice, AdviceKind

MODELS = load_fault_models()
SYMPTOMS = sorted(MODELS.models)


def words(language: str = "en_GB") -> FaultWords:
    return FaultWords(words=Wording(language, METRIC, load_catalogue()), models=MODELS)


def advice(kind: AdviceKind, **about: object) -> Advice:
    empty = Advice(
        kind=kind,
        reading=None,
        cause=None,
        cure=None,
        goes_on=None,
        opening=None,
        minutes=5.0,
        expected_minutes=50.0,
        ask=(),
        handover_offered=False,
        grounds=(),
    )
    return replace(empty, **about)


def cards(model: FaultModel, said: FaultWords) -> list[StepCard]:
    """One card for every test and for every cure there is."""
    state = FaultState()
    found = [
        said.card(
            model,
            state,
            advice(AdviceKind.TEST, reading=one.reading_id, opening=one.opening),
        )
        for one in model.tests
    ]
    found += [
        said.card(
            model,
            state,
            advice(AdviceKind.CURE, cause=one.cause_id, cure=place, opening=one.opening),
        )
        for one in model.causes
        for place in range(len(one.cures))
    ]
    return found


@pytest.mark.parametrize("language", ["en_GB", "en_US"])
@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_no_test_and_no_cure_is_without_a_caution(symptom: SymptomId, language: str):
    for card in cards(MODELS.models[symptom], words(language)):
        assert card.cautions, card.title
        assert all(one.text and one.signal for one in card.cautions)
        assert card.before, card.title
        assert card.steps, card.title


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_in_the_window_cautions_and_conditions_stand_above_the_steps(
    qtbot: QtBot, symptom: SymptomId
):
    said = words()
    pane = CardPane(fault_labels(said.words))
    qtbot.addWidget(pane)
    for card in cards(MODELS.models[symptom], said):
        pane.show_card(card, can_write=True)
        panels, before, steps = stacked(pane, card)
        assert len(panels) == len(card.cautions)
        assert max(panels) < before < steps


def stacked(pane: CardPane, card: StepCard) -> tuple[list[int], int, int]:
    """The places, from the top, of the caution panels, the conditions and the first step."""
    found: list[tuple[str, int]] = []
    for place in range(pane._column.count()):
        item = pane._column.itemAt(place)
        assert item is not None
        grid, widget = item.layout(), item.widget()
        if isinstance(widget, CautionPanel):
            found.append(("panel", place))
        if isinstance(widget, QLabel) and card.before[0] in widget.text():
            found.append(("before", place))
        for at in range(grid.count() if grid is not None else 0):
            inner = grid.itemAt(at) if grid is not None else None
            label = None if inner is None else inner.widget()
            if isinstance(label, QLabel) and label.text() == card.steps[0]:
                found.append(("steps", place))
    where = dict(found)
    panels = [place for name, place in found if name == "panel"]
    return panels, where["before"], where["steps"]


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_on_paper_every_caution_stands_before_its_step(symptom: SymptomId):
    said = words()
    found = cards(MODELS.models[symptom], said)
    for at in range(0, len(found), 24):
        steps = tuple(
            FaultStep(
                number=str(place + 1),
                title=card.title,
                minutes=card.minutes_text,
                before=card.before,
                cautions=card.each,
                bring=card.tools,
                steps=card.steps,
                outcomes=tuple((one.text, "") for one in card.outcomes),
            )
            for place, card in enumerate(found[at : at + 24])
        )
        text = printed(steps, said.words)
        first = text.index(flat(steps[0].title))
        for step in steps:
            for caution in step.cautions:
                begins = text.index(flat(step.title), first)
                assert flat(caution.text) in text[:begins], (step.title, caution.text)
            assert flat(step.before[0]) in text[first:]


def printed(steps: tuple[FaultStep, ...], wording: Wording) -> str:
    sheet = FaultSheet(
        number="4133",
        machine="Red one",
        kind="two-stage thrower",
        place="Lean-to",
        complaint="fires on a prime, then quits",
        likely=(("Main jet is gummed up", "6 in 10"),),
        known=(),
        steps=steps,
        stop="STOP when 1 h 30 min are gone.",
        loose=(),
    )
    pdf = fault_pdf(
        [sheet], wording=wording, paper=Paper.A4, household="Our shed", on=date(2025, 10, 1)
    )
    with_pages = pypdfium2.PdfDocument(BytesIO(pdf))
    return flat(" ".join(page.get_textpage().get_text_bounded() for page in with_pages))


def flat(text: str) -> str:
    """Letters and figures alone: lines break where they must."""
    return "".join(sign for sign in text if sign.isalnum())
