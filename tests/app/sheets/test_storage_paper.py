"""The storage sheet and the stored tag, read back from their bytes."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pypdf

from app.sheets import preseason, stored_tag
from app.sheets.storage_rows import storage_of
from app.sheets.stored_tag import StoredTag
from app.sheets.surface import Paper
from app.wording.sittings import SittingWords
from app.wording.units import unit_choice
from app.wording.wording import Wording
from resources.loader import load_catalogue
from resources.storage import load_sitting_rules
from schedules.facts import Policy
from schedules.putting_away import ask_to_put_away
from schedules.sitting import lay_down
from schedules.sitting_facts import RunSort
from schedules.units import UnitSystem
from tests.laws.real_machines import real_machine
from tests.schedules.test_putting_away import away, row

CATALOGUE, RULES = load_catalogue(), load_sitting_rules()
ON = date(2025, 4, 2)
WORDS = Wording("en_US", unit_choice(UnitSystem.US, ()), CATALOGUE)
SAID = SittingWords(words=WORDS, rules=RULES)


def text(pdf: bytes) -> str:
    pages = pypdf.PdfReader(BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def test_each_step_stands_on_the_sheet_after_its_cautions() -> None:
    pair = [real_machine("K02", number=1), real_machine("K09", number=2)]
    asks = [
        ask_to_put_away(one, on=ON, policy=Policy(), limits=CATALOGUE.limits, until=ON)
        for one in pair
    ]
    steps = lay_down(RunSort.PUTTING_AWAY, asks, rules=RULES, precedence=CATALOGUE.precedence)
    sheet = storage_of(
        RunSort.PUTTING_AWAY,
        steps,
        {one.machine_id: one.name for one in pair},
        only=None,
        facts=(),
        number="4131",
        said=SAID,
        household="The shed",
        on=ON,
    )
    rows = [step for stage in sheet.stages for step in stage.steps]
    assert len(rows) == len(steps)
    for shown, step in zip(rows, steps, strict=True):
        assert len(shown.cautions) == len(set(step.cautions)), step.code
        assert step.cautions or not step.touches, step.code
    said = text(preseason.draw([sheet], paper=Paper.LETTER, language="en_US", words=WORDS.text))
    assert "4131" in said
    first: dict[str, int] = {}
    for place, shown in enumerate(rows, start=1):
        for caution in shown.cautions:
            first.setdefault(caution.text, place)
    for caution, place in first.items():
        name = str(rows[place - 1].what)
        assert said.index(caution[:25]) < said.rindex(name[:12]), name


def test_all_that_is_off_stands_on_the_tag() -> None:
    off = tuple(WORDS.text(words) for _code, words in RULES.left)
    tag = StoredTag(
        machine="Red one",
        icon="k02",
        stored="Put away on Apr 2, 2025",
        state="DRY",
        off=off,
        first=("Look for nests",),
        to_do=("squeals",),
        foot="The shed",
    )
    pdf = stored_tag.draw([tag] * 7, paper=Paper.A4, language="en_US", words=WORDS.text)
    said = text(pdf)
    for line in (*off, "Look for nests", "squeals"):
        assert line in said
    assert pdf == stored_tag.draw([tag] * 7, paper=Paper.A4, language="en_US", words=WORDS.text)


def test_five_machines_stand_on_seven_pages_at_most() -> None:
    names = {one.machine_id: f"Machine {one.machine_id}" for one in row()}
    steps = lay_down(
        RunSort.PUTTING_AWAY,
        [away(one) for one in row()],
        rules=RULES,
        precedence=CATALOGUE.precedence,
    )
    sheet = storage_of(
        RunSort.PUTTING_AWAY,
        steps,
        names,
        only=None,
        facts=(),
        number="4131",
        said=SAID,
        household="The shed",
        on=ON,
    )
    shown = [step for stage in sheet.stages for step in stage.steps]
    first: dict[str, int] = {}
    for number, (step, line) in enumerate(zip(steps, shown, strict=True), start=1):
        again = first.setdefault(step.code, number)
        assert (f"As at step {again}." in str(line.how)) is (again < number), step.code
    pdf = preseason.draw([sheet], paper=Paper.LETTER, language="en_US", words=WORDS.text)
    assert len(pypdf.PdfReader(BytesIO(pdf)).pages) <= 7
