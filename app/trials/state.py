"""Everything the room of measurements and comparisons shows, frozen and already in words."""

from __future__ import annotations

from dataclasses import dataclass

from app.sheets.wear_rows import WearRows
from app.wording.lines import CautionText


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseLine:
    """One measurement of a part. `key`: task and limit; `rows` None: never measured as a figure;
    `seen`: what was seen and when, where nothing is a figure; `lived`: how long the parts before
    it lasted, where nobody measures them."""

    key: str
    name: str
    part: str
    standing: str
    how: str
    worn: str
    drawing: str
    rows: WearRows | None = None
    seen: tuple[tuple[str, str, str], ...] = ()
    lived: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueLine:
    """One value of a trial, to be struck out if it was a slip."""

    value_id: int
    side: str
    day: str
    amount: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialLine:
    """One comparison: what it comes to, what is alike, what was measured, what comes next."""

    trial_id: int
    name: str
    second: str
    verdict: str
    grounds: tuple[str, ...]
    cautions: tuple[CautionText, ...]
    before: tuple[str, ...]
    steps: tuple[str, ...]
    alike: tuple[tuple[str, str, str], ...]
    values: tuple[ValueLine, ...]
    next_step: str
    is_open: bool
    has_reference: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialsState:
    """The room for one machine."""

    machine_id: int
    name: str
    second: str
    courses: tuple[CourseLine, ...]
    trials: tuple[TrialLine, ...]
    can_write: bool = True
    notice: str = ""
