"""What a fault model says: causes with their odds and cures, questions, tests, openings, shifts.

Plain facts, read from the shipped files by `resources.fault_models`; nothing is computed here.
Minutes are minutes of the owner's time; probabilities lie between 0.005 and 0.995.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NewType

from schedules.facts import CautionCode, FigureMark, SourceFacts, SourceId

SymptomId = NewType("SymptomId", str)
CauseId = NewType("CauseId", str)
ReadingId = NewType("ReadingId", str)
OutcomeId = NewType("OutcomeId", str)
OpeningId = NewType("OpeningId", str)
FactId = NewType("FactId", str)
BeforeId = NewType("BeforeId", str)

NONE_OF_THESE = CauseId("OT")
# A household's own models have codes that begin so; ours never do.
OWN = "H"
# "Cannot tell", "not tried": such an answer says nothing.
BLANK = OutcomeId("odd")


class CostClass(StrEnum):
    """What a cure costs in money, roughly; the bounds are our judgement."""

    NONE = "none"
    SMALL = "small"
    PART = "part"
    WORKSHOP = "workshop"


class Ending(StrEnum):
    """Where a cause leads when it is not for this bench."""

    APPRAISAL = "appraisal"


@dataclass(frozen=True, slots=True, kw_only=True)
class FactIs:
    """A fact of the machine or of the owner's tools with this value."""

    fact: FactId
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FactAdds:
    """Minutes a test takes longer while a fact has this value."""

    fact: FactId
    value: str
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One way to put a cause right. `works`: share of cases it cures when the cause is right.

    Its minutes hold the look before and the same test again after; the opening is not in them.
    `days`: waiting for a part. `new_fuel`: the tank holds other fuel after it than before.
    """

    text: str
    works: float
    minutes: float
    cost: CostClass
    days: int
    new_fuel: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """What may be wrong. `odds` of a model sum to 100. The first cure is the default one.

    `dropped`: facts that rule it out. `goes_on`: the symptom, or the ending, under which the
    search goes on when this is it.
    """

    cause_id: CauseId
    name: str
    odds: float
    opening: OpeningId | None
    cures: tuple[Cure, ...]
    dropped: tuple[FactIs, ...]
    goes_on: SymptomId | Ending | None
    marks: tuple[FigureMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One answer of a question, one end of a test."""

    outcome_id: OutcomeId
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A reading and its outcome."""

    reading: ReadingId
    outcome: OutcomeId


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What questions and tests have in common.

    `rows`: for each cause of the model the probability of each outcome, in the order of
    `outcomes`. Of the readings of one `group` only the answered one of the highest rank counts.
    """

    reading_id: ReadingId
    name: str
    group: str | None
    rank: int
    outcomes: tuple[Outcome, ...]
    rows: Mapping[CauseId, tuple[float, ...]]

    def place(self, outcome: OutcomeId) -> int:
        """The number of an outcome. Raises ValueError when the reading has no such outcome."""
        for number, one in enumerate(self.outcomes):
            if one.outcome_id == outcome:
                return number
        raise ValueError(f"{self.reading_id} has no outcome {outcome}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Question(Reading):
    """A free look back: costs nothing, may stay blank."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """An outcome after which one stops and appraises; `minutes` are charged for that."""

    outcome: OutcomeId
    goes_on: Ending
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultTest(Reading):
    """Something to do and look at.

    `after`: only when one of these is done. `only_if`: only after one of these. `not_if`: not
    after any of these. `void_after`: no longer to be read once one of these is done. `shuts`: all
    openings are closed for it. `ends`: outcomes after which it works.
    """

    minutes: float
    opening: OpeningId | None
    is_gate: bool
    shuts: bool
    after: tuple[ReadingId, ...]
    only_if: tuple[Seen, ...]
    not_if: tuple[Seen, ...]
    void_after: tuple[ReadingId, ...]
    ends: tuple[OutcomeId, ...]
    leads: tuple[Lead, ...]
    off: tuple[FactIs, ...]
    longer: tuple[FactAdds, ...]
    before: tuple[BeforeId, ...]
    cautions: tuple[CautionCode, ...]
    tools: tuple[str, ...]
    steps: str
    marks: tuple[FigureMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """What is on record multiplies odds.

    Holds when the record of `subject` is the word `word`, or a number of at least `low` and below
    `high`. `asks_the_same`: the question that asks for the same thing; never both.
    """

    subject: str
    word: str | None
    low: float | None
    high: float | None
    times: Mapping[CauseId, float]
    asks_the_same: ReadingId | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultModel:
    """One symptom with all that may cause it. `handover_minutes`: what a workshop is worth."""

    symptom_id: SymptomId
    title: str
    said: tuple[str, ...]
    fits: str
    kinds: tuple[str, ...]
    handover_minutes: float
    openings: Mapping[OpeningId, float]
    causes: tuple[Cause, ...]
    questions: tuple[Question, ...]
    tests: tuple[FaultTest, ...]
    shifts: tuple[Shift, ...]
    core: tuple[ReadingId, ...]
    marks: tuple[FigureMark, ...]

    @property
    def is_own(self) -> bool:
        """Whether the household wrote it."""
        return self.symptom_id.startswith(OWN)

    def cause(self, cause_id: CauseId) -> Cause:
        """Raises KeyError when the model has no such cause."""
        for one in self.causes:
            if one.cause_id == cause_id:
                return one
        raise KeyError(cause_id)

    def reading(self, reading_id: ReadingId) -> Question | FaultTest:
        """Raises KeyError when the model has no such question or test."""
        for one in (*self.questions, *self.tests):
            if one.reading_id == reading_id:
                return one
        raise KeyError(reading_id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A symptom that is another one with something seen already."""

    symptom_id: SymptomId
    title: str
    said: tuple[str, ...]
    fits: str
    leads_to: SymptomId
    seen: tuple[Seen, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineFact:
    """Asked once, when a step first needs it. `assumed`: what holds until the owner says so.

    `feature`: the feature of the catalogue that answers it, where there is one. `by_kind`: the
    value for some types of machine, which need not be asked; `other_kinds`: that for all others.
    """

    fact_id: FactId
    question: str
    values: tuple[tuple[str, str], ...]
    assumed: str | None
    feature: str | None
    by_kind: Mapping[str, str]
    other_kinds: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultModels:
    """All that is known about faults. `openings` and `before`: codes to what they are called.
    `before_undoing`: what to photograph, mark or count at an opening; `putting_back`: what goes
    wrong when it is closed again. `sources`: public documents named by these marks only, beside
    those of the catalogue."""

    models: Mapping[SymptomId, FaultModel]
    entries: tuple[Entry, ...]
    facts: Mapping[FactId, MachineFact]
    openings: Mapping[OpeningId, str]
    before: Mapping[BeforeId, str]
    before_undoing: Mapping[OpeningId, str]
    putting_back: Mapping[OpeningId, str]
    sources: Mapping[SourceId, SourceFacts]
