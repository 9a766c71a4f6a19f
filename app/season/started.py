"""A first start that failed: what it may look like, and what is known of it when the search for the
fault begins. No Qt, no file."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from app.causes.known import find_symptom, symptoms
from app.wording.languages import msg
from app.wording.tongue import Tongue
from models.facts.runs import RunFacts
from models.words import StepAnswer
from resources.fault_models import load_fault_models
from schedules.fault_facts import BLANK, FaultTest, Question
from schedules.plan import Judging
from schedules.sitting_facts import RunSort, StepCode

# The steps that start a machine for the first time, or try whether it runs at all.
STARTS = frozenset(StepCode(code) for code in ("G-30", "G-31", "G-32", "G-35", "B-24", "B-25"))
# What it may look like when that fails, the likeliest first.
COMPLAINTS = ("S1F", "S1T", "S15", "S11", "S8", "S8b", "S3", "S3b", "S10")
FRESH_DAYS, LONG_DAYS = 60, 730
# What a step that was ticked says of the fuel, as the looks of the searches put it.
GOOD = frozenset(StepCode(code) for code in ("G-12", "G-13", "G-14", "B-18"))
EMPTIED = frozenset(StepCode(code) for code in ("G-12", "G-14"))
FRESH_MIX = StepCode("G-14")
GATES = StepCode("B-10")


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownLook:
    """A question or a look of the search, its outcomes by code, and the one that is known."""

    name: str
    label: str
    choices: tuple[tuple[str, str], ...]
    outcome: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FailedStart:
    """Which machine, what it looks like, and what is known of it, as the search asks for it."""

    machine_id: int
    complaint: str
    known: tuple[KnownLook, ...]


def complaints(code: StepCode, judging: Judging, words: Tongue) -> tuple[tuple[str, str], ...]:
    """What a failed step may look like on a machine, by code; nothing for a step that starts
    nothing."""
    if code not in STARTS:
        return ()
    found = {one.code: one.title for one in symptoms(load_fault_models(), judging.facts.kind.code)}
    return tuple((code, words.text(found[code])) for code in COMPLAINTS if code in found)


def failed_start(
    run: RunFacts, judging: Judging, complaint: str, words: Tongue, *, on: date
) -> FailedStart:
    """The search that a failed start leads into, with what the run and the file say already."""
    (symptom,) = find_symptom(load_fault_models(), complaint)
    number = judging.facts.machine_id
    done = {
        step.code
        for step in run.steps
        if number in step.machine_ids and step.answer is StepAnswer.DONE
    }
    known = {"Q-PARK": _parked(run, judging, done, on), "Q-MIX": _mix(done), "fuel": _fuel(done)}
    model = symptom.model
    return FailedStart(
        machine_id=int(number),
        complaint=complaint,
        known=tuple(
            _look(one, known[str(one.reading_id)], words)
            for one in (*model.questions, *model.tests)
            if known.get(str(one.reading_id), "") in {str(each.outcome_id) for each in one.outcomes}
        ),
    )


def _look(reading: Question | FaultTest, outcome: str, words: Tongue) -> KnownLook:
    choices = [
        (str(one.outcome_id), words.text(one.text))
        for one in reading.outcomes
        if one.outcome_id != BLANK
    ]
    return KnownLook(
        name=str(reading.reading_id),
        label=words.text(reading.name),
        choices=(*choices, ("", words.text(msg("not known")))),
        outcome=outcome,
    )


def _parked(run: RunFacts, judging: Judging, done: set[StepCode], on: date) -> str:
    """When it ran last, and what became of its fuel; "" where nobody can say."""
    if run.sort is not RunSort.GETTING_OUT:
        return "years" if GATES in {step.code for step in run.steps} else ""
    spells = [one.put_away_on for one in judging.facts.storage if one.put_away_on <= on]
    days = (on - max(spells)).days if spells else 0
    if days > LONG_DAYS:
        return "years"
    if days <= FRESH_DAYS:
        return "days"
    return "dryout" if done & EMPTIED else "wet"


def _fuel(done: set[StepCode]) -> str:
    """Fresh fuel in an empty tank is good, and so is fuel that was looked at."""
    return "good" if done & GOOD else ""


def _mix(done: set[StepCode]) -> str:
    return "mix" if FRESH_MIX in done else ""
