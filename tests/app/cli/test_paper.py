from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from app.printing import NO_NUMBER, sheet_machines
from app.services import open_services
from app.sheets.preseason_rows import steps_of
from models.acts.answers import SetDetail
from models.acts.faults import NoteFault
from models.acts.jobs import NoteJob
from models.acts.sheets import EnterSheet, SheetException
from models.acts.stores import StockPart
from models.file import Household, open_household
from models.moment import Moment
from models.words import LineOutcome
from tests.app.cli.conftest import Run
from tests.app.sheets.reading import document

ON = ("--on", "2025-11-25")


def words(pdf: Path) -> str:
    with pdfplumber.open(io.BytesIO(pdf.read_bytes())) as opened:
        return "\n".join(page.extract_text() or "" for page in opened.pages)


def pages(pdf: Path) -> list[tuple[int, int]]:
    with pdfplumber.open(pdf) as opened:
        return [(round(page.width), round(page.height)) for page in opened.pages]


@pytest.mark.parametrize("sort", ["preseason", "card", "buyer"])
def test_each_page_is_written_for_every_machine(
    firstpull: Run, shed: Path, tmp_path: Path, sort: str, holds: Callable[[str, Any], None]
):
    out = tmp_path / f"{sort}.pdf"
    said = firstpull("sheet", sort, "-o", out, "--file", shed, *ON, "--json")
    assert said.code == 0, said.err
    holds("done", said.data)
    assert said.data["paths"] == [str(out)]
    text = words(out)
    for name in ("Red one", "Washer", "№ 1"):
        assert name in text
    assert [path.name for path in tmp_path.glob(".*")] == []


def test_the_work_sheet_holds_what_fits_and_comes_back_by_its_number(
    firstpull: Run, shed: Path, tmp_path: Path, moment: Moment
):
    out = tmp_path / "work.pdf"
    said = firstpull("sheet", "work", "--minutes", 60, "-o", out, "--file", shed, *ON)
    assert said.code == 0, said.err
    text = words(out)
    assert "Work for the time there is" in text
    number = next(word for word in text.split() if len(word) == 4 and word.isdigit())
    assert number in said.out
    with open_household(shed, moment=moment) as household:
        writer = household.writer
        assert writer is not None
        writer.run(EnterSheet(number=int(number), day=moment.today), moment=moment)


def test_too_short_a_time_and_no_time_at_all_are_sentences(
    firstpull: Run, shed: Path, tmp_path: Path
):
    out = tmp_path / "work.pdf"
    short = firstpull("sheet", "work", "--minutes", 1, "-o", out, "--file", shed, *ON)
    assert short.code == 2
    assert "fits into that time" in short.err
    none = firstpull("sheet", "work", "--minutes", 0, "-o", out, "--file", shed, *ON)
    assert none.code == 2
    assert "no time to work" in none.err
    assert not out.exists()


def test_the_shopping_list_says_for_which_machines_and_by_when(
    firstpull: Run, shed: Path, tmp_path: Path
):
    out = tmp_path / "shopping.pdf"
    said = firstpull("sheet", "shopping", "-o", out, "--file", shed, *ON)
    assert said.code == 0, said.err
    text = words(out)
    assert "Shopping list" in text
    assert "Red one" in text


def test_one_machine_and_the_other_paper(firstpull: Run, shed: Path, tmp_path: Path):
    out = tmp_path / "one.pdf"
    one = ("--machine", "1", "--paper", "letter")
    said = firstpull("sheet", "buyer", "-o", out, *one, "--file", shed, *ON)
    assert said.code == 0
    assert set(pages(out)) == {(612, 792)}
    text = words(out)
    assert "Red one" in text
    assert "Washer" not in text


def test_a_machine_that_is_not_there_is_a_sentence_and_two(
    firstpull: Run, shed: Path, tmp_path: Path
):
    out = tmp_path / "none.pdf"
    said = firstpull("sheet", "card", "-o", out, "--machine", "1", "99", "--file", shed, *ON)
    assert said.code == 2
    assert said.err == "There is no machine 99 in this household.\n"
    assert not out.exists()


def test_an_empty_household_has_no_page(
    firstpull: Run, household: Household, household_path: Path, tmp_path: Path
):
    household.close()
    said = firstpull("sheet", "card", "-o", tmp_path / "x.pdf", "--file", household_path, *ON)
    assert said.code == 2
    assert "no machine to print it for" in said.err


def test_a_page_that_cannot_be_written_is_a_sentence_and_three(
    firstpull: Run, shed: Path, tmp_path: Path
):
    out = tmp_path / "no folder" / "x.pdf"
    said = firstpull("sheet", "card", "-o", out, "--file", shed, *ON)
    assert said.code == 3
    assert len(said.err.splitlines()) == 1
    assert "Traceback" not in said.err


def test_what_is_printed_can_be_ticked_off_by_its_number(
    firstpull: Run, shed: Path, tmp_path: Path, moment: Moment
):
    with open_household(shed, moment=moment) as household:
        writer = household.need_writer()
        job = NoteJob(machine_id=1, text="Squeals when wet", noted_on=moment.today, minutes=20)
        writer.run(job, moment=moment)
        writer.run(
            NoteFault(machine_id=1, text="Left wheel wobbles", since_on=moment.today), moment=moment
        )
    out = tmp_path / "sheet.pdf"
    said = firstpull("sheet", "preseason", "-o", out, "--machine", "1", "--file", shed, *ON)
    number = said.out.rsplit(" ", 1)[1].strip().rstrip(".")
    assert number in words(out)
    with open_services(shed, moment=moment, write=True) as services:
        (machine,) = [
            each for each in sheet_machines(services, on=moment.today) if each.machine_id == 1
        ]
        steps = steps_of(machine, wording=services.wording, on=moment.today)
        texts = [step.text for step in steps]
        assert "Squeals when wet" in texts
        assert "Left wheel wobbles" in texts
        left = texts.index("Squeals when wet")
        entered = EnterSheet(
            number=int(number),
            day=moment.today,
            exceptions=(SheetException(place=left, outcome=LineOutcome.NOT_DONE),),
        )
        services.household.need_writer().run(entered, moment=moment)
        (judging,) = services.fleet(on=moment.today, only=frozenset({machine.machine_id}))
    done = {step.task for step in steps if step.task is not None}
    assert done
    doings = {(d.code, d.day) for item in judging.facts.items for d in item.doings}
    assert {(code, moment.today) for code in done} <= doings
    assert [job.text for job in judging.facts.jobs] == ["Squeals when wet"]


def test_steps_stand_on_paper_in_the_order_they_are_kept(
    firstpull: Run, shed: Path, tmp_path: Path, moment: Moment
):
    out = tmp_path / "sheet.pdf"
    firstpull("sheet", "preseason", "-o", out, "--machine", "1", "--file", shed, *ON)
    with open_services(shed, moment=moment, write=False) as services:
        machine = sheet_machines(services, on=moment.today)[0]
        steps = steps_of(machine, wording=services.wording, on=moment.today)
    assert len(steps) > 10
    text, place = document(out.read_bytes()), 0
    text = text[text.index("Small box: look.") :]
    for step in steps:
        place = text.index(" ".join(step.text.split()[:3]), place) + 1


def test_what_was_noted_and_what_lies_ready_reach_the_paper(
    firstpull: Run, shed: Path, tmp_path: Path, moment: Moment
):
    before = tmp_path / "before.pdf"
    firstpull("sheet", "preseason", "-o", before, "--machine", "1", "--file", shed, *ON)
    assert "spark plug" in words(before).split("Small box: look.")[0]
    with open_household(shed, moment=moment) as household:
        writer = household.need_writer()
        writer.run(StockPart(part="spark-plug", quantity=9), moment=moment)
        writer.run(SetDetail(machine_id=1, detail="oil", text="5W-30 {0}, 590 mL"), moment=moment)
    after = tmp_path / "after.pdf"
    firstpull("sheet", "card", "-o", after, "--machine", "1", "--file", shed, *ON)
    assert "5W-30 {0}, 590 mL" in words(after)
    firstpull("sheet", "preseason", "-o", after, "--machine", "1", "--file", shed, *ON)
    assert "spark plug" not in words(after).split("Small box: look.")[0]


def test_a_file_open_elsewhere_prints_without_a_number(
    firstpull: Run, shed: Path, tmp_path: Path, moment: Moment
):
    out = tmp_path / "x.pdf"
    with open_household(shed, moment=moment):
        said = firstpull("sheet", "preseason", "-o", out, "--file", shed, *ON)
    assert said.code == 0
    assert "is open elsewhere" in said.out
    assert out.exists()


def test_a_sheet_of_a_day_to_come_is_not_noted_as_printed(
    firstpull: Run, shed: Path, tmp_path: Path
):
    out = tmp_path / "x.pdf"
    before = shed.read_bytes()
    said = firstpull("sheet", "preseason", "-o", out, "--file", shed, "--on", "2199-12-01")
    assert said.code == 0
    assert "1 Dec 2199 has not come yet" in said.out
    assert "Its number" not in said.out
    assert NO_NUMBER in words(out)
    assert shed.read_bytes() == before
    firstpull("sheet", "preseason", "-o", out, "--file", shed, *ON)
    assert shed.read_bytes() != before


def test_what_cannot_be_written_is_told_of_by_the_name_that_was_given(
    firstpull: Run, shed: Path, tmp_path: Path
):
    file = tmp_path / "a file"
    file.write_text("")
    folder = tmp_path / "x.pdf"
    folder.mkdir()
    for out, sentence in (
        (file / "x.pdf", f"The folder of {file / 'x.pdf'} is not there"),
        (tmp_path / "none" / "x.pdf", "is not there"),
        (folder, f"{folder} is a folder or a device, not a file"),
    ):
        said = firstpull("sheet", "card", "-o", out, "--file", shed, *ON)
        assert said.code == 3
        assert sentence in said.err
        assert ".part" not in said.err
        assert "directory" not in said.err


@pytest.mark.long  # the next one makes the same shed and the same pages
def test_the_made_up_shed_for_programs(
    firstpull: Run, own_folders: Path, holds: Callable[[str, Any], None]
):
    said = firstpull("demo", *ON, "--json")
    assert (said.code, said.err) == (0, "")
    holds("done", said.data)
    paths = [Path(path) for path in said.data["paths"]]
    assert [path.name for path in paths] == [
        "made-up shed.firstpull",
        "preseason.pdf",
        "card.pdf",
        "buyer.pdf",
    ]
    assert all(path.exists() and own_folders in path.parents for path in paths)


def test_without_a_screen_the_demo_says_so_and_goes_on_in_words_and_on_paper(
    firstpull: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("sys.platform", "linux")
    said = firstpull("demo", "--window", *ON, "-o", tmp_path / "out")
    assert said.code == 0
    assert "no screen here" in said.err
    assert " machines, " in said.out.splitlines()[0]
    names = [path.name for path in sorted((tmp_path / "out").iterdir())]
    assert names == ["buyer.pdf", "card.pdf", "preseason.pdf"]
    assert str(tmp_path / "out") in said.out


def test_tags_are_a_sheet_or_a_page_each(firstpull: Run, shed: Path, tmp_path: Path):
    out = tmp_path / "tags.pdf"
    said = firstpull("sheet", "tags", "-o", out, "--file", shed, *ON)
    assert said.code == 0, said.err
    assert "Run it before" in words(out) or "as of 25 Nov 2025" in words(out)
    assert pages(out)[0] == (595, 842)
    said = firstpull("sheet", "tags", "--single", "-o", out, "--file", shed, *ON)
    assert said.code == 0, said.err
    assert pages(out)[0] == (215, 369)
