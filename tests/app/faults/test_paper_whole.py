"""What goes wrong when it is put back is never shortened on paper, nor is a step to be done."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from io import BytesIO

import pypdfium2
import pytest

from app.sheets.build import fault_pdf
from app.sheets.fault_rows import FaultSheet, FaultStep
from app.sheets.surface import Paper
from schedules.fault_facts import OpeningId
from tests.app.faults.test_cautions_first import MODELS, words


@pytest.mark.parametrize("language", ["en_GB", "en_US"])
@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
def test_putting_back_stands_whole_whatever_was_opened(paper: Paper, language: str):
    said = words(language)
    back = said.back(frozenset(map(OpeningId, MODELS.putting_back)))
    step = FaultStep(
        number="1",
        title="Everything is open",
        minutes="5 min",
        before=(),
        cautions=(),
        bring=(),
        steps=back,
        outcomes=(("It runs", "done"), ("It does not", "")),
    )
    sheet = FaultSheet(
        number="1000",
        machine="Red one",
        kind="mower",
        place="shed",
        complaint="will not start",
        likely=(),
        known=(),
        steps=(step, replace(step, number="2")),
        stop="STOP",
        loose=(),
        back=back,
    )
    pdf = fault_pdf([sheet], wording=said.words, paper=paper, household="H", on=date(2026, 4, 2))
    document = pypdfium2.PdfDocument(BytesIO(pdf))
    text = "".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    flat = "".join(text.split())
    assert "shortened" not in flat
    for one in back:
        assert flat.count("".join(one.split())) == 3, one
