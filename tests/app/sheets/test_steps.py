from __future__ import annotations

from dataclasses import replace

from app.sheets import preseason
from app.sheets.pieces import Blank, Caution, Choice
from app.sheets.preseason import MARGIN, Stage
from app.sheets.steps import Finding, Step
from app.sheets.surface import Paper
from schedules.facts import Severity
from tests.app.sheets.example import SHEET, words
from tests.app.sheets.reading import Page, Word, outside, overlaps, pages


def drawn(*steps: Step) -> Page:
    sheet = replace(SHEET, stages=(Stage(steps=steps),))
    data = preseason.draw([sheet], paper=Paper.A4, language="en_GB", words=words)
    (page,) = pages(data)
    assert outside(page, MARGIN) == []
    assert overlaps(page) == []
    return page


def word(page: Page, text: str) -> Word:
    (found,) = [word for word in page.words if word.text == text]
    return found


def caution(text: str) -> Caution:
    return Caution(signal=Severity.NOTICE, word="NOTICE", text=text)


def test_two_steps_that_want_only_a_tick_share_a_row():
    page = drawn(*(Step(what=name) for name in ("Alpha", "Bravo", "Carol", "Delta")))
    alpha, bravo, carol = (word(page, name) for name in ("Alpha", "Bravo", "Carol"))
    assert abs(alpha.top - bravo.top) < 0.5
    assert alpha.right < bravo.left
    assert carol.top > alpha.bottom
    assert page.text.index("1 Alpha") < page.text.index("2 Bravo") < page.text.index("3 Carol")


def test_a_step_whose_words_are_long_has_its_row():
    page = drawn(Step(what="Alpha"), Step(what="Bravo", how="mind it well " * 24))
    assert word(page, "Bravo").top > word(page, "Alpha").bottom


def test_a_look_has_a_small_box_and_needs_less_height():
    looks = drawn(*(Step(what=name, look=True) for name in ("Alpha", "Bravo", "Carol")))
    work = drawn(*(Step(what=name) for name in ("Alpha", "Bravo", "Carol")))
    low, high = (word(page, "Carol").top - word(page, "Alpha").top for page in (looks, work))
    assert low < high - 2


def test_cautions_of_both_stand_before_a_shared_row():
    page = drawn(
        Step(what="Alpha", cautions=(caution("first"),)),
        Step(what="Bravo", cautions=(caution("second"),)),
    )
    assert abs(word(page, "Alpha").top - word(page, "Bravo").top) < 0.5
    assert max(word(page, "first").bottom, word(page, "second").bottom) < word(page, "Alpha").top


def test_several_limits_each_stand_before_their_own_blank():
    findings = (
        Finding(answers=(Choice(words=("good", "bad")),)),
        Finding(limit="lower: more than 3 mm", mark="p", answers=(Blank(unit="kA"),)),
        Finding(
            limit="upper: less than 9 mm",
            mark="o",
            answers=(Blank(label="L"), Blank(label="R", unit="kB")),
        ),
    )
    page = drawn(Step(what="Alpha", how="Dry and cold.", findings=findings))
    assert abs(word(page, "Alpha").bottom - word(page, "good").bottom) < 1.5
    for limit, unit in (("lower:", "kA"), ("upper:", "kB")):
        assert abs(word(page, unit).top - word(page, limit).top) < 1.0
        assert word(page, unit).left > word(page, limit).right + 15
    assert page.text.index("kA") < page.text.index("upper:")
