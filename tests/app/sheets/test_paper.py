"""What must hold of every sheet on paper, read back from its bytes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from typing import Any

import pypdf
import pypdfium2
import pytest

from app.sheets import buyer, card, preseason
from app.sheets.card import CardForm
from app.sheets.lettering import Run, legible
from app.sheets.pieces import Caution, RuleUnit, ruler
from app.sheets.preseason import PreSeasonSheet
from app.sheets.steps import Step
from app.sheets.surface import MARGIN, SIZES, Paper, PdfSurface
from schedules.facts import Severity
from tests.app.sheets.example import CARD, LEAD_OFF, PAGE, SHEET, words
from tests.app.sheets.reading import document, outside, overlaps, pages

PAPERS = list(Paper)
HOSTILE = {
    "long": "W" * 10_000,
    "long words": "supercalifragilistic " * 480,
    "emoji": "Bert 🔥🚜👨‍👩‍👧 ❄️",
    "markup": "<b>bold</b> <img src='/etc/passwd'> <para>",
    "formula": '=HYPERLINK("http://x.example","x")',
    "override": "abc\u202edef\u202c ghi",
    "controls": "a\x00b\x1bc\ud800d",
    "braces": "{page} %s {0} $x",
    "lines": "one\ntwo\r\nthree\u2028four",
    "marks": "Z\u0351\u036b\u0343\u036a\u0302\u036bA\u034c\u0348",
    "scripts": "снегоуборщик 除雪機 מפלסת",
}


def sheet(paper: Paper = Paper.A4, *sheets: PreSeasonSheet) -> bytes:
    return preseason.draw(sheets or [SHEET], paper=paper, language="en_GB", words=words)


def cards(paper: Paper = Paper.A4, form: CardForm = CardForm.FOLDED, of: card.Card = CARD) -> bytes:
    return card.draw([of], paper=paper, language="en_GB", words=words, form=form)


def page_for_buyer(paper: Paper = Paper.A4, of: buyer.BuyerSheet = PAGE) -> bytes:
    return buyer.draw([of], paper=paper, language="en_GB", words=words)


def all_sheets(paper: Paper) -> dict[str, tuple[bytes, float]]:
    """Every sheet with its margin."""
    return {
        "preseason": (sheet(paper), preseason.MARGIN),
        "card": (cards(paper), card.MARGIN),
        "full card": (cards(paper, CardForm.FULL), card.MARGIN),
        "buyer": (page_for_buyer(paper), MARGIN),
    }


@pytest.mark.parametrize("paper", PAPERS)
def test_no_word_leaves_the_margins_or_lies_on_another(paper: Paper):
    for name, (data, margin) in all_sheets(paper).items():
        for page in pages(data):
            assert outside(page, margin) == [], name
            assert overlaps(page) == [], name


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_the_paper(paper: Paper):
    for page in pages(sheet(paper)):
        assert (page.width, page.height) == pytest.approx(
            (SIZES[paper].width, SIZES[paper].height), abs=0.05
        )
    (folded,) = pages(cards(paper))
    assert (folded.width, folded.height) == pytest.approx(
        (SIZES[paper].height, SIZES[paper].width), abs=0.05
    )


@pytest.mark.parametrize("paper", PAPERS)
def test_every_caution_is_whole_before_its_first_step_and_pointed_to_at_each(paper: Paper):
    text = document(sheet(paper))
    letters = preseason.lettered(SHEET.stages)
    number = 0
    for stage in SHEET.stages:
        for step in stage.steps:
            number += 1
            row = re.search(rf" {number} ([A-Za-z0-9 ]*?){re.escape(str(step.what))}", text)
            assert row is not None
            for caution in (*stage.cautions, *step.cautions):
                assert text.count(caution.text) == 1
                assert text.index(caution.text) < row.start()
            for caution in step.cautions:
                assert re.search(rf"{caution.word}[ 0-9]* {letters[caution]}\b", row[1])


def test_a_figure_stands_for_one_text_and_what_holds_throughout_has_none():
    letters = preseason.lettered(SHEET.stages)
    assert len(set(letters.values())) == len(letters)
    assert LEAD_OFF not in letters
    text = document(sheet())
    for caution, letter in letters.items():
        assert f"{caution.word} {letter} {caution.text}" in text


def test_what_holds_throughout_is_said_whole_once_and_ticked_again():
    again = replace(SHEET.stages[0], title="Stopped again", steps=SHEET.stages[0].steps[:1])
    text = document(sheet(Paper.A4, replace(SHEET, stages=(*SHEET.stages, again))))
    assert text.count(LEAD_OFF.text) == 1
    assert text.count(LEAD_OFF.tick) == 2


def test_a_usual_sheet_is_one_page():
    assert len(pages(sheet(Paper.A4))) == 1
    assert len(pages(sheet(Paper.LETTER))) <= 2


def test_a_caution_longer_than_a_page_goes_on_under_its_word():
    endless = "Never reach into it. " * 360
    danger = Caution(signal=Severity.DANGER, word="DANGER", text=endless, tick="read")
    step = Step(what="After all that", cautions=(danger,))
    stage = replace(SHEET.stages[0], cautions=(danger,), steps=(step,))
    data = sheet(Paper.A4, replace(SHEET, stages=(stage,)))
    text = document(data)
    assert text.count("Never") == 360
    assert text.count("DANGER") > 1
    for page in pages(data):
        assert outside(page, preseason.MARGIN) == []


def test_stop_use_stands_on_lines_of_its_own():
    (first, *_) = [page for page in pages(sheet()) if "Stop use if it is above" in page.text]
    stop = next(word for word in first.words if word.text == "Stop")
    line = [
        word.text
        for word in first.words
        if stop.top - 0.5 < word.top and word.bottom < stop.bottom + 0.5
    ]
    assert line[:3] == ["Stop", "use", "if"]


@pytest.mark.parametrize("make", [sheet, cards, page_for_buyer])
def test_both_papers_say_the_same(make: Callable[[Paper], bytes]):
    # Feet and short heads stand once a page, and pages may differ in number.
    def said(paper: Paper) -> Counter[str]:
        text = document(make(paper))
        for often in (
            "Uncle Bert before the season 4127",
            "Your machine’s own manual goes before this sheet.",
            " · ".join(SHEET.marks),
            f"{SHEET.household} · {SHEET.printed}",
            "· turn over",
        ):
            text = text.replace(often, "")
        return Counter(re.sub(r"page \d of \d|and \d+ earlier, in the record", "", text).split())

    a4, letter = said(Paper.A4), said(Paper.LETTER)
    if make is page_for_buyer:  # the shorter page holds fewer lines of the past
        assert set(letter) <= set(a4)
        return
    rule = {str(number) for number in range(0, 300, 10)}
    assert {w: n for w, n in a4.items() if w not in rule} == {
        w: n for w, n in letter.items() if w not in rule
    }


def test_the_same_data_give_the_same_bytes():
    assert sheet() == sheet()
    assert cards() == cards()
    assert page_for_buyer() == page_for_buyer()


def test_other_documents_in_between_change_nothing():
    first = sheet()
    cards(Paper.LETTER)
    page_for_buyer()
    assert sheet() == first


@pytest.mark.parametrize("name", HOSTILE)
def test_what_people_type_stays_text(name: str):
    typed = HOSTILE[name]
    for paper in PAPERS:
        stage = replace(SHEET.stages[0], steps=(Step(what=typed, how=typed),))
        hostile = replace(
            SHEET,
            machine=typed,
            place=typed,
            last_time=typed,
            household=typed,
            bring=(typed,),
            buying=(replace(SHEET.buying[0], things=(typed,)),),
            stages=(stage, SHEET.stages[1]),
        )
        made = {
            preseason.MARGIN: sheet(paper, hostile),
            card.MARGIN: cards(paper, of=replace(CARD, machine=typed, place=typed)),
        }
        for margin, data in made.items():
            found = pages(data)
            assert found
            for page in found:
                assert outside(page, margin) == []
                assert overlaps(page) == []
        on_page = replace(PAGE, machine=typed, state=typed, faults=(typed,), unknown=(typed,))
        (only,) = pages(page_for_buyer(paper, on_page))
        assert outside(only, MARGIN) == []


@pytest.mark.parametrize("name", ["markup", "formula", "braces", "emoji", "override"])
def test_what_people_type_is_printed_as_it_stands(name: str):
    typed = HOSTILE[name]
    text = document(sheet(Paper.A4, replace(SHEET, last_time=typed)))
    assert " ".join(legible(typed).split()) in text.replace("“", "").replace("”", "")


def test_a_shortened_name_says_so_at_the_foot():
    long = sheet(Paper.A4, replace(SHEET, machine="W" * 10_000))
    assert "… shortened here, whole in the program" in document(long)
    assert "shortened" not in document(sheet())


def test_letters_are_real_and_embedded():
    for data, _margin in all_sheets(Paper.A4).values():
        reader = pypdf.PdfReader(BytesIO(data))
        faces: list[Any] = [
            face.get_object()
            for page in reader.pages
            for face in page["/Resources"]["/Font"].values()  # type: ignore[index]
        ]
        assert faces
        for face in faces:
            assert face["/Subtype"] == "/TrueType"
            assert "/FontFile2" in face["/FontDescriptor"]
            assert "/ToUnicode" in face


def test_searching_finds_letters_that_other_writers_join():
    found = document(sheet(Paper.A4, replace(SHEET, last_time="offen, Pfiff, fjord, 0.76\u00a0mm")))
    assert "offen, Pfiff, fjord, 0.76 mm" in found


def test_a_document_names_itself_and_nobody_else():
    for data, _margin in all_sheets(Paper.A4).values():
        reader = pypdf.PdfReader(BytesIO(data))
        assert reader.metadata is not None
        assert "Uncle Bert" in (reader.metadata.title or "")
        assert not reader.metadata.author
        root: Any = reader.trailer["/Root"]
        assert root["/Lang"] == "en-GB"
        assert root["/ViewerPreferences"]["/DisplayDocTitle"]


def test_pages_are_counted_for_each_machine():
    data = sheet(Paper.A4, SHEET, replace(SHEET, number="4128", machine="Aunt Ada"))
    found = pages(data)
    half = len(found) // 2
    for number, page in enumerate(found):
        assert f"page {number % half + 1} of {half}" in page.text
        assert ("4127" if number < half else "4128") in page.text
        assert ("Uncle Bert" if number < half else "Aunt Ada") in page.text
    marks = [entry.title for entry in pypdf.PdfReader(BytesIO(data)).outline]  # type: ignore[union-attr]
    assert marks == ["4127  Uncle Bert", "4128  Aunt Ada"]


@pytest.mark.parametrize("count", [1, 40, 200])
def test_rows_are_never_parted(count: int):
    steps = tuple(
        Step(what=f"Row{n}", how=f"first{n} " + "and so on " * 8 + f"last{n}", stop=f"Stop{n}.")
        for n in range(count)
    )
    data = sheet(Paper.LETTER, replace(SHEET, stages=(replace(SHEET.stages[0], steps=steps),)))
    seen = 0
    for page in pages(data):
        rows = set(re.findall(r"Row(\d+)", page.text))
        assert rows == set(re.findall(r"last(\d+)", page.text))
        assert rows == set(re.findall(r"Stop(\d+)", page.text))
        seen += len(rows)
    assert seen == count


def test_twelve_sheets_stay_small():
    """A dozen machines with a page each, as a household prints them, and a dozen with three."""
    short = replace(SHEET.stages[0], steps=SHEET.stages[0].steps[:4])
    for stages, most in (((short,), 100), (SHEET.stages, 170)):
        fleet = [
            replace(SHEET, number=str(4100 + n), machine=f"Machine {n}", stages=stages)
            for n in range(12)
        ]
        assert len(sheet(Paper.A4, *fleet)) <= most * 1024


def test_the_page_for_the_buyer_is_one_page_and_counts_what_it_leaves_out():
    text = document(page_for_buyer())
    left = re.search(r"and (\d+) earlier, in the record", text)
    assert left is not None
    assert int(left[1]) + text.count("Change the engine oil") == len(PAGE.done)
    for count in (0, 1, 5, 500):
        assert len(pages(page_for_buyer(of=replace(PAGE, done=PAGE.done[:1] * count)))) == 1


def test_the_rule_is_true():
    for unit, pitch in ((RuleUnit.MILLIMETRE, 1.0), (RuleUnit.INCH, 25.4 / 16)):
        surface = PdfSurface(title="rule", language="en_GB")
        surface.page(SIZES[Paper.A4])
        ruler(178.0, unit).draw(surface, 16.0, 20.0)
        import pdfplumber

        with pdfplumber.open(BytesIO(surface.finished())) as made:
            ticks = sorted(
                line["x0"] * 25.4 / 72 for line in made.pages[0].lines if line["width"] < 0.1
            )
        assert len(ticks) == int(178 / pitch + 1e-6) + 1
        for number, place in enumerate(ticks):
            assert place == pytest.approx(16 + number * pitch, abs=0.004)


def test_a_sheet_survives_one_bit_black_and_white():
    """Printed at 200 dots an inch in black only, every box to tick keeps its four edges."""
    data = sheet()
    page: Any = pypdfium2.PdfDocument(data)[0]
    image = page.render(scale=200 / 72).to_pil().convert("L")
    dots = image.point(lambda grey: 0 if grey < 128 else 255)
    per_mm = 200 / 25.4
    top = next(word.top for word in pages(data)[0].words if word.text == "Nests:")
    left = preseason.MARGIN * per_mm
    column = [dots.getpixel((int(left + 4 * per_mm), int(y))) for y in _span(top, per_mm)]
    assert column.count(0) >= 2
    row_y = int((top + 3.5) * per_mm)
    row = [dots.getpixel((int(left + x), row_y)) for x in range(-4, int(9 * per_mm))]
    assert row.count(0) >= 2


def _span(top: float, per_mm: float) -> range:
    return range(int((top - 2.5) * per_mm), int((top + 9.5) * per_mm))


def test_boxes_have_the_sizes_a_pencil_wants():
    import pdfplumber

    sides: Counter[float] = Counter()
    with pdfplumber.open(BytesIO(sheet())) as made:
        for page in made.pages:
            for rect in page.rects:
                width, height = rect["width"] * 25.4 / 72, rect["height"] * 25.4 / 72
                if abs(width - height) < 0.01:
                    sides[round(width + 0.35, 1)] += 1
    steps = sum(len(stage.steps) for stage in SHEET.stages)
    looks = sum(step.look for stage in SHEET.stages for step in stage.steps)
    assert sides[5.0] == looks
    assert sides[8.0] == steps - looks + 2  # also one on the danger panel, one before it runs
    assert set(sides) == {8.0, 5.0}


def test_no_fleet_is_an_empty_page():
    for data in (
        preseason.draw([], paper=Paper.A4, language="en_GB", words=words),
        card.draw([], paper=Paper.A4, language="en_GB", words=words),
        buyer.draw([], paper=Paper.A4, language="en_GB", words=words),
    ):
        assert len(pages(data)) == 1


def test_a_long_card_is_set_smaller_and_not_cut():
    steps = tuple(
        (Run(f"Step number {n} with a good many words to be read out there"),) for n in range(40)
    )
    text = document(cards(of=replace(CARD, steps=steps)))
    assert text.count("out there") == 40
