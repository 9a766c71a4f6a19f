"""What the fault room shows: one step as a card, what is likely, the path so far. All worded."""

from __future__ import annotations

from dataclasses import dataclass

from app.wording.lines import CautionText
from schedules.faults import AdviceKind


@dataclass(frozen=True, slots=True, kw_only=True)
class OutcomeLine:
    """One answer of a card. `then`: what would be likeliest after it."""

    code: str
    text: str
    then: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepCard:
    """One next thing. `cautions` and `before` stand above the steps, on screen and on paper.

    `each`: the cautions one by one, as paper has them. `question`: what the outcomes answer.
    `reading` or `cause` and `place` say what it is about.
    """

    kind: AdviceKind
    title: str
    sort: str
    cautions: tuple[CautionText, ...]
    each: tuple[CautionText, ...]
    before: tuple[str, ...]
    tools: tuple[str, ...]
    minutes: int
    minutes_text: str
    opening: str
    steps: tuple[str, ...]
    question: str
    outcomes: tuple[OutcomeLine, ...]
    why: tuple[str, ...]
    photo: str = ""
    cost: str = ""
    reading: str = ""
    cause: str = ""
    place: int = 0
    goes_on: str = ""
    part_days: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SuspectLine:
    """A cause that may be it. `share`: of 1, for its bar; `strong`: in question now."""

    code: str
    name: str
    odds: str
    share: float
    minutes: int
    minutes_text: str
    cost: str
    strong: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FactQuestion:
    """A question about the machine or the tools that comes before the card."""

    fact: str
    question: str
    answers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownLine:
    """What the file knows. `step_id`: the step that put it aside; 0: it is counted."""

    subject: str
    text: str
    step_id: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class PathLine:
    """One step of the path so far. `changeable`: it can be answered anew; `aside`: it could not be
    done, and may be now."""

    step_id: int
    text: str
    answer: str
    sort: str
    withdrawn: bool
    changeable: bool
    aside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SymptomLine:
    """A complaint to choose from, with the way people put it."""

    code: str
    title: str
    said: str
    fits: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FindLine:
    """A cause found in this household, and whether it counts for the odds."""

    search_id: int
    text: str
    counts: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultRoomState:
    """All that is shown. Without a card: a complaint is chosen from `symptoms`. `left_off`: in the
    order it goes back; `back`: what goes wrong while what is open is closed again."""

    machine_id: int
    name: str
    icon: str
    second: str
    notice: str = ""
    can_write: bool = True
    symptoms: tuple[SymptomLine, ...] = ()
    search_id: int = 0
    complaint: str = ""
    paused: str = ""
    ended: str = ""
    known: tuple[KnownLine, ...] = ()
    path: tuple[PathLine, ...] = ()
    left_off: tuple[PathLine, ...] = ()
    back: tuple[str, ...] = ()
    card: StepCard | None = None
    fact: FactQuestion | None = None
    suspects: tuple[SuspectLine, ...] = ()
    rest: str = ""
    handover: str = ""
    spent: str = ""
    finds: tuple[FindLine, ...] = ()
    ahead: bool = False
