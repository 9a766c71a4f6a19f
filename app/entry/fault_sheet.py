"""The form for a fault sheet that comes back: each printed step with what can be ticked on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from app.causes.picture import FAILED, HELPED
from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, day, text
from app.pieces.form import Field, FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.fault_sheets import EnterFaultSheet, PrintedStep
from schedules.fault_facts import BLANK, FaultModels, ReadingId, SymptomId


def fault_sheet_wish(
    words: Wording,
    *,
    models: FaultModels,
    number: int,
    machine: str,
    today: date,
    steps: tuple[PrintedStep, ...],
) -> Wish | Said:
    """What was ticked on a fault sheet, step by step; what was not reached stays as it is."""
    ask = Questions(words)
    if not steps or not all(_is_known(models, one) for one in steps):
        said = msg("Nothing on that sheet can be entered from here. Say it in the search itself.")
        return Said(words.text(said), "number")
    fields = (
        *(_field(words, models, place, one) for place, one in enumerate(steps)),
        ask.field(
            "left_off",
            msg("What came off and still lies there, in order, one a line"),
            FieldSort.NOTE,
        ),
        ask.day(today),
    )
    page = ask.page("fault_sheet", msg("Enter what a sheet says"), fields)
    lead = words.text(
        msg("Sheet {number}, {machine}. Say what was ticked at the numbers you came to."),
        number=str(number),
        machine=machine,
    )
    page = replace(page, lead=lead)

    def make(answers: Mapping[str, object]) -> Made:
        seen = tuple(
            (place, code)
            for place in range(len(steps))
            if (code := choice(answers, f"step-{place}"))
        )
        loose = tuple(
            line.strip() for line in text(answers, "left_off").splitlines() if line.strip()
        )
        if not seen and not loose:
            said = msg("Nothing is ticked yet: say what you saw at step 1.")
            return Said(words.text(said), "step-0")
        return EnterFaultSheet(number=number, day=day(answers, "day"), seen=seen, left_off=loose)

    return Wish(page, make, step="fault")


def _is_known(models: FaultModels, step: PrintedStep) -> bool:
    """Whether the model still holds what was printed."""
    model = models.models.get(SymptomId(step.symptom))
    if model is None:
        return False
    if step.place is None:
        return any(one.reading_id == step.subject for one in model.tests)
    cause = next((one for one in model.causes if one.cause_id == step.subject), None)
    return cause is not None and step.place < len(cause.cures)


def _field(words: Wording, models: FaultModels, place: int, step: PrintedStep) -> Field:
    model = models.models[SymptomId(step.symptom)]
    if step.place is None:
        choices = [
            (str(one.outcome_id), words.text(one.text))
            for one in model.reading(ReadingId(step.subject)).outcomes
            if one.outcome_id != BLANK
        ]
        choices.append((str(BLANK), words.text(msg("not sure"))))
    else:
        choices = [
            (HELPED, words.text(msg("Yes, now it works"))),
            (FAILED, words.text(msg("No, as before"))),
        ]
    return Field(
        name=f"step-{place}",
        label=f"{step.number}  {step.title}",
        sort=FieldSort.TILES,
        choices=(*choices, ("", words.text(msg("not come to")))),
    )
