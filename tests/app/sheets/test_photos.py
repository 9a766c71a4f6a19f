"""Photos on paper: those that were ticked, small, on one page, and said when there is no room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from io import BytesIO
from typing import Any

import pdfplumber
import pytest
from PIL import Image

from app.printing import print_sheet
from app.rescue import print_rescue
from app.services import services_of
from app.sheets import buyer
from app.sheets.photos import PaperPhoto
from app.sheets.pictures import DOTS, for_paper
from app.sheets.surface import Paper as PaperSize
from app.sheets.surface import PdfSurface, Size
from models.acts.photos import AddPhoto
from models.file import Household
from models.moment import Moment
from models.words import Paper, SheetSort
from schedules.facts import MachineId
from tests.app.sheets.example import PAGE, words
from tests.app.sheets.test_rescue import CAME, WORKED, rescued

ONE = frozenset({MachineId(1)})


def picture(wide: int, high: int) -> bytes:
    """Something with as much in it as a photo has."""
    image = Image.effect_noise((wide // 8, high // 8), 60).resize((wide, high)).convert("RGB")
    made = BytesIO()
    image.save(made, "JPEG", quality=85)
    return made.getvalue()


LYING, STANDING = picture(1600, 1200), picture(900, 1600)


def images(pdf: bytes) -> tuple[list[dict[str, Any]], str, int]:
    with pdfplumber.open(BytesIO(pdf)) as found:
        return (
            [image for page in found.pages for image in page.images],
            "\n".join(page.extract_text() for page in found.pages),
            len(found.pages),
        )


def with_photos(household: Household, moment: Moment, pictures: Sequence[bytes]) -> None:
    for number, jpeg in enumerate(pictures):
        act = AddPhoto(
            machine_id=1,
            jpeg=jpeg,
            taken_on=WORKED if number else CAME,
            text=f"picture {number}",
            on_paper=True,
        )
        household.need_writer().run(act, moment=moment)
    household.need_writer().run(
        AddPhoto(machine_id=1, jpeg=LYING, taken_on=CAME, text="not for paper"), moment=moment
    )


def test_the_ticked_ones_stand_on_both_pages(household: Household, moment: Moment):
    rescued(household, moment)
    with_photos(household, moment, [LYING, STANDING, LYING])
    services = services_of(household)
    rescue = print_rescue(services, paper=Paper.A4, only=ONE, moment=moment)
    page = print_sheet(
        services, SheetSort.BUYER, paper=Paper.LETTER, only=ONE, moment=moment, perform=None
    )
    assert rescue is not None
    assert page is not None
    for pdf in (rescue, page.pdf):
        shown, text, pages = images(pdf)
        assert pages == 1
        assert [round(one["width"] / one["height"], 1) for one in shown] == [1.3, 0.6, 1.3]
        for said in ("picture 0", "picture 1", "picture 2"):
            assert said in text
        assert "not for paper" not in text
    again = print_rescue(services, paper=Paper.A4, only=ONE, moment=moment)
    assert rescue == again


def test_a_page_with_four_photos_stays_small(household: Household, moment: Moment):
    rescued(household, moment)
    bare = print_rescue(services_of(household), paper=Paper.A4, only=ONE, moment=moment)
    with_photos(household, moment, [LYING] * 2 + [STANDING] * 2)
    pdf = print_rescue(services_of(household), paper=Paper.A4, only=ONE, moment=moment)
    assert pdf is not None
    assert bare is not None
    shown, _, _ = images(pdf)
    assert len(shown) == 4
    assert len(pdf) - len(bare) < 300_000 < len(LYING + STANDING) * 2


def test_a_picture_is_made_as_small_as_paper_shows_it():
    made = for_paper(LYING, 40, 30)
    assert made is not None
    with Image.open(BytesIO(made)) as small:
        assert small.size == (40 * DOTS, 30 * DOTS)
    with Image.open(BytesIO(for_paper(picture(160, 120), 400, 300) or b"")) as kept:
        assert kept.size == (160, 120)


def test_a_broken_picture_leaves_its_frame_and_stops_nothing():
    surface = PdfSurface(title="One", language="en_GB")
    surface.page(Size(100, 100))
    surface.image(LYING[:4000], 10, 10, 40, 30)
    shown, _, pages = images(surface.finished())
    assert (shown, pages) == ([], 1)


@pytest.mark.parametrize("paper", PaperSize)
def test_no_room_for_photos_is_said(paper: PaperSize):
    photos = (PaperPhoto(jpeg=LYING, said="front", shape=4 / 3),)
    full = replace(PAGE, photos=photos, faults=tuple(f"fault {n}" for n in range(32)))
    pdf = buyer.draw([full], paper=paper, language="en_GB", words=words)
    shown, text, pages = images(pdf)
    assert (shown, pages) == ([], 1)
    assert "There is no room for them here" in text
    pdf = buyer.draw([replace(PAGE, photos=photos)], paper=paper, language="en_GB", words=words)
    assert len(images(pdf)[0]) == 1
