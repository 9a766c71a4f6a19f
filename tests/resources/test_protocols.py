"""Protocols before and after: read whole, and what is wrong in them is refused by its key."""

import pytest

from resources.loader import HERE, load_catalogue
from resources.protocols import load_protocols, parse_protocols
from resources.reading import CatalogueError
from schedules.facts import KindCode, Mark
from schedules.units import Unit, UnitSystem

TEXTS = {name: (HERE / name).read_text("utf-8") for name in ("trials.toml", "sources.toml")}

SPARE = '[conditions.spare]\nquestion = "?"\nanswers = [["a", "b"], ["c", "d"]]\n\n'


def test_every_kind_can_be_put_to_the_proof():
    for kind in load_catalogue().kinds:
        assert load_protocols().of_kind(kind)


def test_what_throws_is_measured_as_a_keeper_would():
    throw = load_protocols().protocols["throw"]
    assert (throw.careful, throw.rough) == (8, 3)
    assert throw.shown(UnitSystem.US) is Unit.FOOT
    assert throw.shown(UnitSystem.METRIC) is Unit.METRE
    assert "revs" not in throw.conditions_for(KindCode("K03"))
    assert {"C-THROW", "C-JAM"} <= set(throw.cautions)


def test_the_engine_runs_outdoors_and_nothing_rests_on_air():
    for one in load_protocols().protocols.values():
        assert one.before
        assert one.cautions
        assert {mark.mark for mark in one.marks} <= {Mark.OUR_JUDGEMENT}


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('"C-THROW", "C-JAM"', '"C-NONE"', "cautions"),
        ('kinds = ["K01", "K02", "K03"]', 'kinds = ["K99"]', "kinds"),
        ('shown = ["m", "ft"]', 'shown = ["m", "psi"]', "shown"),
        ('unit = "um"', 'unit = "mm"', "unit"),
        ("careful = { v = 8", "careful = { v = 2", "rough"),
        ('conditions = ["wood", "revs"]', 'conditions = ["would", "revs"]', "conditions"),
        ('must = "same"', 'must = "like"', "must"),
        (
            "[conditions.wood]",
            SPARE + "[conditions.wood]",
            "conditions.spare",
        ),
        ("grade = true\n", 'grade = true\ncolour = "red"\n', "colour"),
        ('measured = "distance"\n', "", "measured"),
    ],
)
def test_refusals(old: str, new: str, key: str):
    text = TEXTS["trials.toml"]
    assert old in text
    spoilt = {**TEXTS, "trials.toml": text.replace(old, new, 1)}
    with pytest.raises(CatalogueError) as caught:
        parse_protocols(spoilt, load_catalogue())
    assert key in caught.value.key
