from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.sheets.lettering import (
    ELLIPSIS,
    Face,
    Run,
    Style,
    Voice,
    compose,
    font,
    legible,
    measure,
    plain,
    starred,
)

PLAIN = Style(size=11)


def letters(text: str) -> str:
    return "".join(text.split())


def set_letters(text: str | tuple[Run, ...], width: float) -> str:
    composed = compose(text, PLAIN, width)
    return letters("".join(piece.text for line in composed.lines for piece in line.pieces))


@pytest.mark.parametrize("face", list(Face))
def test_figures_of_every_face_are_equally_wide(face: Face):
    assert len({measure(figure, face, 10) for figure in "0123456789"}) == 1


def test_a_face_that_is_missing_a_letter_says_so_in_its_place():
    assert legible("Oil 油") == "Oil \ufffd"
    assert legible("hot 🔥 engine") == "hot [fire] engine"


def test_controls_are_seen():
    assert legible("left\u202eright") == "left[U+202E]right"
    assert legible("bell\x07") == "bell[U+0007]"
    assert legible("half\ud800") == "half[U+D800]"
    assert legible("null\x00") == "null[U+0000]"


def test_what_has_a_plainer_form_gets_it():
    assert legible("ﬁlter №①") == "filter №1"
    assert legible("e\u0301") == "é"


def test_marks_do_not_pile_up():
    assert legible("q\u0302\u0303\u0304\u0305") == "q\u0302" + 3 * "\ufffd"


@given(st.text())
def test_legible_text_is_legible(text: str):
    once = legible(text)
    assert legible(once) == once
    for letter in once.replace("\n", ""):
        assert ord(letter) in font(Face.REGULAR).face.charToGlyph


@given(st.text(), st.floats(min_value=12, max_value=180))
def test_no_letter_is_lost_and_no_line_too_wide(text: str, width: float):
    composed = compose(text, PLAIN, width)
    assert set_letters(text, width) == letters(legible(text))
    for line in composed.lines:
        assert line.width <= width + 0.01


@given(
    st.lists(st.tuples(st.text(max_size=30), st.sampled_from(Voice)), max_size=6),
    st.floats(min_value=12, max_value=120),
)
def test_voices_change_faces_and_nothing_else(parts: list[tuple[str, Voice]], width: float):
    text = tuple(Run(words, voice) for words, voice in parts)
    assert set_letters(text, width) == letters("".join(legible(run.text) for run in text))


def test_a_figure_stays_with_its_unit():
    text = "the gap is 0.76\u00a0mm when cold"
    for width in range(20, 60):
        for line in compose(text, PLAIN, width).lines:
            said = "".join(piece.text for piece in line.pieces)
            assert ("0.76" in said) == ("mm" in said)


def test_a_no_break_space_is_written_as_one_that_can_be_searched():
    (line,) = compose("0.76\u00a0mm", PLAIN, 50).lines
    assert line.pieces[0].text == "0.76 mm"


def test_a_shortened_text_ends_visibly():
    composed = compose("word " * 400, PLAIN, 60, 2)
    assert composed.shortened
    assert len(composed.lines) == 2
    assert composed.lines[-1].pieces[-1].text.endswith(ELLIPSIS)
    assert composed.lines[-1].width <= 60


def test_a_text_that_fits_is_not_shortened():
    assert not compose("word", PLAIN, 60, 1).shortened


def test_line_ends_of_a_note_are_kept():
    assert len(compose("one\ntwo\r\nthree", PLAIN, 100).lines) == 3


def test_stars_give_weight_to_our_own_words():
    assert starred("Key *IN*.") == (Run("Key "), Run("IN", Voice.STRONG), Run("."))
    assert plain(starred("Key *IN*.")) == "Key IN."
