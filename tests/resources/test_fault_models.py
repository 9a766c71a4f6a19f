"""The fault models: what is shipped holds together, and what does not is refused by name."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from resources.fault_models import load_fault_models, parse_fault_models, read_fault_texts
from resources.loader import load_catalogue
from resources.reading import CatalogueError
from schedules.facts import Mark
from schedules.fault_facts import NONE_OF_THESE, Ending, FaultModel, SymptomId

MODELS = load_fault_models()
CODES = sorted(MODELS.models)
ALL = (
    "S1F S1T S3 S3b S3c S4a S4b S4c S5 S6 S7 S8 S8b S9 S10 S11 S12a S12b S12c S13 S14 S15".split()  # noqa: SIM905
)


def test_every_symptom_is_there():
    assert sorted(ALL) == CODES
    assert {one.symptom_id for one in MODELS.entries} == {"S2"}


@pytest.mark.parametrize("code", CODES)
def test_a_model_holds_together(code: str):
    model = MODELS.models[SymptomId(code)]
    catalogue = load_catalogue()
    assert sum(cause.odds for cause in model.causes) == pytest.approx(100, abs=0.01)
    assert set(model.kinds) <= set(catalogue.kinds)
    assert model.kinds
    for reading in (*model.questions, *model.tests):
        assert set(reading.rows) == {cause.cause_id for cause in model.causes}
        assert all(sum(row) == pytest.approx(1) for row in reading.rows.values())
    for test in model.tests:
        assert test.cautions
        assert set(test.cautions) <= set(catalogue.cautions)
        assert set(test.before) <= set(MODELS.before)
    for cause in model.causes:
        assert isinstance(cause.goes_on, Ending | None) or cause.goes_on in MODELS.models


@pytest.mark.parametrize("code", CODES)
def test_every_number_says_what_it_rests_on(code: str):
    model = MODELS.models[SymptomId(code)]
    assert {one.figure for one in model.marks} >= {"odds", "likelihoods", "minutes", "works"}
    sources = {**load_catalogue().sources, **MODELS.sources}
    for holder in (*model.causes, *model.tests):
        for mark in holder.marks:
            assert (mark.mark is Mark.PUBLISHED) == bool(mark.sources)
            assert set(mark.sources) <= set(sources)


def test_what_contradicts_itself_has_a_flat_row_save_where_a_test_can_end():
    for model in MODELS.models.values():
        for reading in (*model.questions, *model.tests):
            row = reading.rows[NONE_OF_THESE]
            ends = getattr(reading, "ends", ()) or getattr(reading, "leads", ())
            assert bool(ends) or row == pytest.approx((1 / len(row),) * len(row))


def shown(model: FaultModel) -> list[str]:
    return [
        model.title,
        *model.said,
        *(cause.name for cause in model.causes),
        *(cure.text for cause in model.causes for cure in cause.cures),
        *(one.name for one in (*model.questions, *model.tests)),
        *(end.text for one in (*model.questions, *model.tests) for end in one.outcomes),
        *(test.steps for test in model.tests),
    ]


@pytest.mark.parametrize("code", CODES)
def test_texts_are_british_and_name_no_american_word(code: str):
    american = re.compile(
        r"\b(gas (can|tank|cap|line|hose)|gasoline|muffler|wrench|flashlight|carburetor|tires?"
        r"|colors?|gray|center|clog up|faucet)\b",
        re.IGNORECASE,
    )
    for text in shown(MODELS.models[SymptomId(code)]):
        assert not american.search(text), text


def test_each_test_says_what_to_do():
    for model in MODELS.models.values():
        for test in model.tests:
            assert len(test.steps.split()) >= 5, (model.symptom_id, test.reading_id)
            assert test.steps.endswith((".", "?")), test.steps


# -- what is refused --------------------------------------------------------------------------

BROKEN: tuple[tuple[str, str, str, str, str], ...] = (
    ("odds off", "odds = 30", "odds = 31", "cause", "sum to 101"),
    ("row off", "rows.IN = [0.22, 0.46, 0.22, 0.1]", "rows.IN = [0.22, 0.46, 0.22, 0.2]",
     "IN", "sums to 1.1"),
    ("row sure", "rows.NZ = [0.9, 0.1]", "rows.NZ = [0.999, 0.001]", "NZ", "between 0.005"),
    ("row short", "rows.NZ = [0.9, 0.1]", "rows.NZ = [1]", "NZ", "1 numbers for 2"),
    ("row of nobody", "rows.NZ = [0.9, 0.1]", "rows.ZZ = [0.9, 0.1]", "ZZ", "no cause"),
    ("row of none of these", "rows.NZ = [0.9, 0.1]", "rows.OT = [0.9, 0.1]", "OT", "of its own"),
    ("no rest", "rows.rest = [0.01, 0.99]", "rows.IN = [0.01, 0.99]", "rest", "missing"),
    ("caution", '"C-JET"', '"C-NONE"', "cautions", "not in cautions.toml"),
    ("condition", '"R-PRES"', '"R-NONE"', "before", "no known condition"),
    ("opening", 'opening = "pump"', 'opening = "lid"', "opening", "no opening"),
    ("opening of no book", "pump = 10", "lid = 10", "openings.lid", "no opening"),
    ("bare cure", "works = 0.97", "works = 1", "works", "between"),
    ("cost", 'cost = "none"', 'cost = "free"', "cost", "none of"),
    ("end", 'ends = ["better"]', 'ends = ["gone"]', "ends", "none of its outcomes"),
    ("key", "handover = 90", "handover = 90\nfee = 3", "fee", "unknown key"),
    ("twins", 'code = "AI"', 'code = "IN"', "cause", "twice"),
    ("shift", 'subject = "frost_unprotected"', 'subject = "frost_unprotected"\nbelow = 3',
     "is", "either a word"),
    ("shift of nobody", "times = { SE = 3", "times = { ZZ = 3", "times.ZZ", "no cause"),
    ("question", 'asks_the_same = "Q-FROST"', 'asks_the_same = "Q-NO"', "asks", "no question"),
    ("no mark", 'odds = { mark = "our_judgement" }', "", "odds", "missing"),
    ("tells nothing", "rows.NZ = [0.9, 0.1]", "rows.NZ = [0.02, 0.98]", "swap", "nothing apart"),
)  # fmt: skip


# Files that another one speaks of; reading all of them each time would take long.
SPOKEN_OF = {
    "faults/s2.toml": ("faults/s1f.toml", "faults/s1t.toml"),
    "faults/s4a.toml": ("faults/s9.toml",),
}
EVER = ("sources.toml", "cautions.toml", "faults/shared.toml", "faults/sources.toml")
TEXTS = read_fault_texts()


def changed(file: str, before: str, after: str) -> Mapping[str, str]:
    texts = {one: TEXTS[one] for one in (*EVER, file, *SPOKEN_OF.get(file, ()))}
    assert before in texts[file], before
    return {**texts, file: texts[file].replace(before, after, 1)}


@pytest.mark.parametrize(
    ("before", "after", "key", "problem"),
    [one[1:] for one in BROKEN],
    ids=[one[0] for one in BROKEN],
)
def test_what_does_not_hold_is_refused_by_name(before: str, after: str, key: str, problem: str):
    file = "faults/s13.toml"
    with pytest.raises(CatalogueError) as refused:
        parse_fault_models(changed(file, before, after))
    assert refused.value.file == file
    assert key in refused.value.key
    assert problem in refused.value.problem


@pytest.mark.parametrize(
    ("file", "before", "after", "key"),
    [
        ("faults/s1f.toml", 'fact = "primer"', 'fact = "bell"', "fact"),
        ("faults/s1f.toml", 'is = "hidden"', 'is = "lost"', "is"),
        ("faults/s1f.toml", 'after = ["spark", "gap"]', 'after = ["nothing"]', "test[throat]"),
        ("faults/s1f.toml", 'test = "spark", is = ["none"', 'test = "spark", is = ["odd"', "test"),
        ("faults/s1f.toml", 'core = ["gate"', 'core = ["nothing"', "core"),
        ("faults/s4a.toml", 'goes_on = "S9"', 'goes_on = "S99"', "cause[E1b].goes_on"),
        ("faults/s2.toml", 'symptom = "S1F"', 'symptom = "S77"', "symptom"),
        ("faults/s2.toml", 'throat = "dies"', 'throat = "sings"', "seen"),
        ("faults/s2.toml", 'throat = "dies"', 'ear = "dies"', "seen"),
        ("faults/shared.toml", 'assumed = "no"', 'assumed = "perhaps"', "assumed"),
        ("faults/sources.toml", "[tm-5-5065]", "[cpsc-snow-thrower]", "cpsc-snow-thrower"),
    ],
)
def test_codes_that_lead_nowhere_are_refused(file: str, before: str, after: str, key: str):
    with pytest.raises(CatalogueError) as refused:
        parse_fault_models(changed(file, before, after))
    assert refused.value.file == file
    assert key in refused.value.key


def test_a_symptom_in_two_files_and_a_missing_file_are_refused():
    texts = {one: TEXTS[one] for one in (*EVER, "faults/s13.toml")}
    twice = {**texts, "faults/zz.toml": texts["faults/s13.toml"]}
    with pytest.raises(CatalogueError, match="two files"):
        parse_fault_models(twice)
    with pytest.raises(CatalogueError, match="not there"):
        parse_fault_models({one: text for one, text in texts.items() if "shared" not in one})


@pytest.mark.parametrize("code", CODES)
def test_a_shift_by_type_of_machine_names_one_that_the_model_is_for(code: str):
    model = MODELS.models[SymptomId(code)]
    named = {str(shift.word) for shift in model.shifts if shift.subject == "kind"}
    assert named <= set(load_catalogue().kinds)
    assert named <= set(model.kinds)
