"""The words of the three sheets, line by line; after a change on purpose: pytest --update-golden,
then look at the pages themselves."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest

from app.sheets import buyer, card, preseason
from app.sheets.surface import Paper
from tests.app.sheets.example import CARD, PAGE, SHEET, words

GOLDEN = Path(__file__).parents[2] / "golden" / "pdf"


def preseason_sheet() -> bytes:
    return preseason.draw([SHEET], paper=Paper.A4, language="en_GB", words=words)


def machine_card() -> bytes:
    return card.draw([CARD], paper=Paper.A4, language="en_GB", words=words)


def page_for_buyer() -> bytes:
    return buyer.draw([PAGE], paper=Paper.A4, language="en_GB", words=words)


def lines(data: bytes) -> str:
    """The text of each page, line by line, as another program reads it."""
    found: list[str] = []
    with pdfplumber.open(BytesIO(data)) as document:
        for number, page in enumerate(document.pages, start=1):
            found.append(f"== page {number}")
            found += (page.extract_text(x_tolerance=1.2) or "").splitlines()
    return "\n".join(found) + "\n"


@pytest.mark.parametrize(
    ("name", "make"),
    [("preseason", preseason_sheet), ("card", machine_card), ("buyer", page_for_buyer)],
)
def test_the_words_of_a_sheet(name: str, make: Callable[[], bytes], update_golden: bool):
    path = GOLDEN / f"{name}.txt"
    text = lines(make())
    if update_golden:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    assert path.read_text("utf-8") == text
