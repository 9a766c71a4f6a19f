"""Every step that can hurt says its caution first: in the room, on the bench, on paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from io import BytesIO

import pypdf
import pytest
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from app.pieces.caution import CautionPanel
from app.season import bench, view
from app.season.card import CardLayer
from app.season.labels import season_labels
from app.season.state import SeasonCard
from app.sheets import preseason
from app.sheets.preseason import lettered
from app.sheets.steps import pointers
from app.sheets.storage_rows import storage_of
from app.sheets.surface import Paper
from app.wording.sittings import SittingWords
from app.wording.units import unit_choice
from app.wording.wording import Wording
from resources.loader import load_catalogue
from resources.storage import load_sitting_rules
from schedules.facts import MachineId
from schedules.sitting_facts import RunSort, StepCode
from schedules.units import UnitSystem
from tests.schedules.test_putting_away import ANSWERS

CATALOGUE, RULES = load_catalogue(), load_sitting_rules()
WORDS = Wording("en_GB", unit_choice(UnitSystem.METRIC, ()), CATALOGUE)
SAID = SittingWords(words=WORDS, rules=RULES)
CODES = [
    *(step.code for step in RULES.steps),
    *(StepCode(str(code)) for code, task in CATALOGUE.tasks.items() if task.cautions),
]


def card(code: StepCode) -> SeasonCard:
    said = SAID.step(code)
    assert said is not None
    return SeasonCard(
        place=0,
        counter="",
        whose="Red one",
        cautions=said.cautions,
        name=said.name,
        bring=(*said.tools, *said.parts),
        minutes="",
        how=said.how,
        done_when=said.done_when,
        stop=said.stop,
        wait="",
        clock="",
    )


def widgets(column: QVBoxLayout) -> list[QWidget]:
    """All of it from top to bottom, a row of panels panel by panel."""
    found: list[QWidget] = []
    for place in range(column.count()):
        item = column.itemAt(place)
        widget = None if item is None else item.widget()
        if widget is not None:
            inside = widget.findChildren(CautionPanel)
            found += inside or [widget]
    return found


@pytest.mark.parametrize(
    ("step_px", "text_px", "across"),
    [(view.STEP_PX, view.TEXT_PX, 1), (bench.STEP_PX, bench.TEXT_PX, 3)],
    ids=["room", "bench"],
)
def test_in_the_window_the_panels_stand_above_the_step(
    qtbot: QtBot, step_px: int, text_px: int, across: int
) -> None:
    layer = CardLayer(season_labels(WORDS), step=step_px, text=text_px, across=across)
    for code in CODES:
        holder = QWidget()
        qtbot.addWidget(holder)
        column = QVBoxLayout(holder)
        shown = card(code)
        layer.lay(column, shown)
        order = widgets(column)
        panels = [at for at, one in enumerate(order) if isinstance(one, CautionPanel)]
        name = next(
            at
            for at, one in enumerate(order)
            if isinstance(one, QLabel) and one.text() == shown.name
        )
        assert len(panels) == len(shown.cautions), code
        assert all(at < name for at in panels), code
        texts = [order[at].accessibleDescription() for at in panels]
        assert texts == [one.text for one in shown.cautions], code


def test_what_a_step_touches_is_what_it_warns_of() -> None:
    texts = {code: WORDS.caution(code).text for code in CATALOGUE.cautions}
    for step in RULES.steps:
        shown = {one.text for one in card(step.code).cautions}
        for touch in step.touches:
            answers = {texts[code] for code in texts if str(code) in ANSWERS[touch]}
            assert shown & answers, f"{step.code}: {touch}"


@dataclass(frozen=True)
class Laid:
    code: StepCode
    machine_ids: tuple[MachineId, ...] = (MachineId(1),)
    minutes: int = 5
    wait_minutes: int = 0


@pytest.mark.parametrize("sort", list(RunSort))
@pytest.mark.parametrize("several", [False, True])
def test_on_paper_each_caution_stands_before_the_first_step_it_is_for(
    sort: RunSort, several: bool
) -> None:
    codes = [step.code for step in RULES.steps if step.sort is sort]
    codes += [code for code in CODES if code in CATALOGUE.tasks]
    names = {MachineId(1): "Red one", MachineId(2): "Saw"}
    kind = next(iter(CATALOGUE.kinds.values()))
    sheet = storage_of(
        sort,
        [Laid(code) for code in codes],
        names if several else {MachineId(1): "Red one"},
        only=None if several else kind,
        facts=(),
        number="4131",
        said=SAID,
        household="The shed",
        on=date(2025, 4, 2),
    )
    steps = [step for stage in sheet.stages for step in stage.steps]
    assert len(steps) == len(codes)
    letters = lettered(sheet.stages)
    for code, step in zip(codes, steps, strict=True):
        assert [one.text for one in step.cautions] == [one.text for one in card(code).cautions]
        for caution in step.cautions:
            assert letters[caution] in pointers([caution], letters)
    pdf = preseason.draw([sheet], paper=Paper.A4, language="en_GB", words=WORDS.text)
    pages = pypdf.PdfReader(BytesIO(pdf)).pages
    said = " ".join(" ".join(page.extract_text().split()) for page in pages)
    first: dict[str, str] = {}
    for step in steps:
        for caution in step.cautions:
            first.setdefault(caution.text, str(step.what))
    for caution, name in first.items():
        assert said.index(caution[:25]) < said.index(name), name
