"""What a step has hands, fuel or current near is warned of by a caution of that hazard."""

from __future__ import annotations

import re

import pytest

from resources.fault_models import load_fault_models
from schedules.fault_facts import NONE_OF_THESE, FaultModel, SymptomId
from schedules.faults import care_of_cure

MODELS = load_fault_models().models
# Words of a step that bring a hazard with them, and the cautions any one of which names it.
HAZARDS = {
    "fuel": (
        r"petrol|fuel|mix|jet|prime|bowl",
        "C-FUEL C-WASTE C-SPRAY C-ETHER C-CO",
    ),
    "what cuts or throws": (
        r"blade|auger|rotor|impeller|paddles?|chain|chute",
        "C-STOP C-BLADE C-JAM C-CHAIN C-LEGS C-SHEAR C-THROW C-CLEAR C-BELT",
    ),
    "springs": (r"recoil|spring case|starter's spring", "C-SPRING C-CORD"),
    "a running or cranking engine": (
        r"let (?:it|the engine) run|pull six|pull ten|start it|crank",
        "C-CO C-CLEAR C-CORD C-CRANK C-HOT C-CHAIN C-THROW",
    ),
    "current": (
        r"volts?|alternator|capacitor|battery",
        "C-ELEC C-LEAD C-LI C-GEN",
    ),
    "lifting": (r"jack|tipped|on its nose", "C-JACK C-TIP C-STOP"),
}
STEPS_ONLY = {"exhaust": (r"silencer|exhaust", "C-HOT C-CO")}


def missed(text: str, cautions: tuple[str, ...], hazards: dict[str, tuple[str, str]]) -> list[str]:
    return [
        hazard
        for hazard, (words, codes) in hazards.items()
        if re.search(rf"\b(?:{words})\b", text, re.IGNORECASE)
        and not set(codes.split()) & set(cautions)
    ]


@pytest.mark.parametrize("symptom", sorted(MODELS))
def test_every_test_is_warned_of_by_the_hazards_it_brings(symptom: SymptomId):
    model: FaultModel = MODELS[symptom]
    found = {
        str(test.reading_id): missed(
            test.steps, tuple(map(str, test.cautions)), HAZARDS | STEPS_ONLY
        )
        for test in model.tests
    }
    assert {code: hazards for code, hazards in found.items() if hazards} == {}


@pytest.mark.parametrize("symptom", sorted(MODELS))
def test_every_cure_is_warned_of_by_the_hazards_it_brings(symptom: SymptomId):
    model: FaultModel = MODELS[symptom]
    found = {
        f"{cause.cause_id}/{place}": missed(
            cure.text, tuple(map(str, care_of_cure(model, cause.cause_id).cautions)), HAZARDS
        )
        for cause in model.causes
        if cause.cause_id != NONE_OF_THESE
        for place, cure in enumerate(cause.cures)
    }
    assert {code: hazards for code, hazards in found.items() if hazards} == {}


def test_a_step_without_its_caution_is_found():
    assert missed("Turn the auger by hand.", ("C-FUEL",), HAZARDS) == ["what cuts or throws"]
