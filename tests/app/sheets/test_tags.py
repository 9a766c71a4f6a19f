"""Tags for cans and tanks: everything on them is there, nothing twice, the same bytes again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from io import BytesIO

import pdfplumber
import pytest

from app.sheets import tags
from app.sheets.surface import Paper
from app.sheets.tags import Tag
from app.sheets.tags_rows import tag_of
from app.wording.units import METRIC
from app.wording.wording import Wording
from resources.loader import load_catalogue
from schedules.facts import FuelSort, FuelUse, LotFacts, VesselFacts, VesselId, VesselSort
from schedules.fuel import judge_vessel

ON = date(2026, 11, 25)
LITRE = 10**6


@pytest.fixture(scope="module")
def wording() -> Wording:
    return Wording("en_GB", METRIC, load_catalogue())


def vessel(*lots: LotFacts, burns: FuelUse = FuelUse.FOUR_STROKE) -> VesselFacts:
    return VesselFacts(
        vessel_id=VesselId(31),
        name="Can by the door",
        sort=VesselSort.CAN,
        capacity_ul=10 * LITRE,
        lots=lots,
        month_means_mc=(20_000,) * 12,
        burns=burns,
    )


def tag(wording: Wording, held: VesselFacts, name: str = "Can by the door") -> Tag:
    verdict = judge_vessel(held, on=ON)
    return tag_of(held, verdict, name=name, wording=wording, household="Our shed", on=ON)


def fresh(days: int = 10, **more: object) -> LotFacts:
    given = {"sort": FuelSort.E10, "volume_ul": 5 * LITRE, **more}
    return LotFacts(bought_on=ON - timedelta(days=days), **given)


def text(pdf: bytes) -> list[str]:
    with pdfplumber.open(BytesIO(pdf)) as book:
        return [page.extract_text() for page in book.pages]


def drawn(wording: Wording, rows: list[Tag], **more: object) -> bytes:
    return tags.draw(
        rows,
        paper=Paper.A4,
        language="en_GB",
        words=wording.text,
        single=bool(more.get("single")),
    )


def test_a_tag_says_what_until_when_and_what_not(wording: Wording) -> None:
    made = tag(wording, vessel(fresh()))
    assert (made.fuel, made.sort) == ("Petrol", "E10")
    assert made.until == wording.day(judge_vessel(vessel(fresh()), on=ON).burn_on or ON)
    assert "two-strokes" in made.not_for
    rows = dict(made.facts)
    assert rows["bought"] == "15 Nov 2026"
    assert rows["stabiliser on"] == "", "a line to write on"
    assert rows["if added now"] != ""
    turns = judge_vessel(vessel(fresh()), on=ON).next_band_on
    assert rows["good until"] == wording.day(turns or ON)
    assert rows["good until"] != made.until, "two days, and both are said"
    (page,) = text(drawn(wording, [made], single=True))
    for words in (made.until, "Run it before", "Keep it out of two-strokes", "can tag 31"):
        assert words in page
    assert "approved can" in page.replace("\n", " ")


def test_stale_and_unknown_fuel_has_no_date_but_a_command(wording: Wording) -> None:
    gone = tag(wording, vessel(fresh(days=2000)))
    assert gone.until == "Drain it"
    unknown = LotFacts(bought_on=None, volume_ul=LITRE, sort=FuelSort.UNKNOWN)
    assert tag(wording, vessel(unknown)).until == "Look first"
    empty = tag(wording, vessel())
    assert set(dict(empty.facts).values()) == {""}
    assert empty.until.startswith("__")


def test_a_mix_names_its_ratio(wording: Wording) -> None:
    mix = fresh(sort=FuelSort.PREMIX, volume_ul=5_100_000, oil_ul=100_000)
    made = tag(wording, vessel(mix, burns=FuelUse.TWO_STROKE))
    assert (made.fuel, made.sort) == ("Two-stroke mix", "50 : 1")
    assert "four-strokes" in made.not_for


def test_six_on_a_sheet_and_the_same_bytes_twice(wording: Wording) -> None:
    made = tag(wording, vessel(fresh()))
    rows = [replace(made, name=f"Can number {number}") for number in range(7)]
    pdf = drawn(wording, rows)
    assert pdf == drawn(wording, rows)
    pages = text(pdf)
    assert len(pages) == 2
    assert all(f"Can number {number}" in pages[0] for number in range(6))
    assert "Can number 6" in pages[1]


def test_how_much_is_in_it_stays_on_one_line(wording: Wording) -> None:
    small = replace(vessel(fresh(volume_ul=300_000)), capacity_ul=400_000)
    (page,) = text(drawn(wording, [tag(wording, small)], single=True))
    assert "300 mL of 400 mL" in page.replace("\u00a0", " ")


def test_long_names_stay_on_the_tag(wording: Wording) -> None:
    made = tag(wording, vessel(fresh()), name="The old green can behind the second door " * 2)
    with pdfplumber.open(BytesIO(drawn(wording, [made], single=True))) as book:
        page = book.pages[0]
        edge = tags.WIDTH + 2 * 5.0
        assert all(letter["x0"] > 0 and letter["x1"] < edge / 0.352777 for letter in page.chars)
