"""Before anything is undone, what to photograph; while it is open, what goes back and how."""

from __future__ import annotations

import pytest

from app.causes.picture import FaultWords
from app.wording.units import METRIC
from app.wording.wording import Wording
from resources.fault_models import load_fault_models, parse_fault_models, read_fault_texts
from resources.loader import load_catalogue
from resources.reading import CatalogueError
from schedules.fault_facts import OpeningId, SymptomId
from schedules.fault_state import FaultState
from schedules.faults import AdviceKind
from tests.app.faults.test_cautions_first import MODELS, SYMPTOMS, advice, cards

SHARED = "faults/shared.toml"


@pytest.fixture(params=["en_GB", "en_US"])
def said(request: pytest.FixtureRequest) -> FaultWords:
    return FaultWords(words=Wording(request.param, METRIC, load_catalogue()), models=MODELS)


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_whatever_opens_something_asks_for_a_photo_first(said: FaultWords, symptom: SymptomId):
    model = MODELS.models[symptom]
    openings = [*(one.opening for one in model.tests)]
    openings += [one.opening for one in model.causes for _ in one.cures]
    for card, opening in zip(cards(model, said), openings, strict=True):
        assert bool(card.photo) == (opening is not None), card.title
        assert bool(card.opening) == (opening is not None)


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_a_cure_behind_an_opening_says_how_it_goes_back_before_the_machine_is_tried(
    said: FaultWords, symptom: SymptomId
):
    model = MODELS.models[symptom]
    for cause in model.causes:
        card = said.card(
            model, FaultState(), advice(AdviceKind.CURE, cause=cause.cause_id, cure=0, opening=None)
        )
        back = said.back({cause.opening}) if cause.opening is not None else ()
        assert [step for step in card.steps if any(text in step for text in back)] == list(
            card.steps[-2:-1] if back else ()
        )


def test_what_is_open_says_its_own_traps_and_nothing_else(said: FaultWords):
    assert said.back(()) == ()
    (one,) = said.back({OpeningId("carb")})
    assert len(said.back({OpeningId("carb"), OpeningId("belt")})) == 2
    assert one in said.back({OpeningId("carb"), OpeningId("belt")})


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('\npump = "Valves and seals', '\npumps = "Valves and seals'),
        ('bar = "Which', 'bars = "Which'),
    ],
)
def test_every_opening_has_its_text_and_no_other_has_one(old: str, new: str):
    texts = read_fault_texts()
    assert old in texts[SHARED]
    with pytest.raises(CatalogueError, match="is missing"):
        parse_fault_models({**texts, SHARED: texts[SHARED].replace(old, new)})


def test_the_shipped_texts_are_read():
    assert set(load_fault_models().before_undoing) == set(load_fault_models().openings)
    assert set(load_fault_models().putting_back) == set(load_fault_models().openings)
