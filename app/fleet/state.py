"""Everything the fleet room shows, frozen and already in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from app.pieces.waiting import Progress
from app.pieces.year import NO_YEAR, Year
from app.wording.lines import CautionText, Line
from schedules.states import MachineState, TaskState

# The grounds of one verdict, said only when somebody asks for them.
Why = Callable[[], tuple[Line, ...]]


class SortBy(StrEnum):
    """What the list is put in order by."""

    URGENCY = "urgency"
    NAME = "name"
    PLACE = "place"
    NEXT = "next"


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which machines are to be shown, in which order. Empty: whichever."""

    search: str = ""
    place: str = ""
    kind: str = ""
    state: str = ""
    hand: str = ""
    sort: SortBy = SortBy.URGENCY

    @property
    def narrows(self) -> bool:
        """Whether any machine may be left out."""
        return bool(self.search.strip() or self.place or self.kind or self.state or self.hand)


@dataclass(frozen=True, slots=True, kw_only=True)
class YearDays:
    """Which days the years are drawn over, and how those of the head are called: today, and
    thirteen months from this one on."""

    today: date
    today_text: str
    days: int
    months: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineLine:
    """One machine of the list. `place`, `kind`, `hand` (who last worked on it) and `found_by` are
    what it is looked up by; `broken`: something is noted as wrong and not put right. `goes_on`: the
    act that goes on with what was begun there, `goes_on_text` what its button says."""

    machine_id: int
    name: str
    second: str
    icon: str
    state: MachineState
    state_text: str
    ground_text: str
    next_text: str
    next_second: str
    year: Year = NO_YEAR
    place: str = ""
    kind: str = ""
    hand: str = ""
    found_by: str = ""
    put_away: bool = False
    broken: bool = False
    goes_on: str = ""
    goes_on_text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """One task or one-off of the chosen machine."""

    key: str
    name: str
    because: str
    when_text: str
    when_second: str
    state: TaskState
    state_text: str
    minutes_text: str
    sort_key: tuple[int, int, str]
    why: Why
    how: str
    cautions: tuple[CautionText, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordLine:
    """One entry of the record, as it stands now; `struck`: it was corrected since."""

    area: str
    area_text: str
    entry_id: int
    day_text: str
    text: str
    second: str
    struck: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The machine that is chosen, in full."""

    machine_id: int
    name: str
    second: str
    icon: str
    state: MachineState
    state_text: str
    hours_text: str
    standing_text: str
    tasks: tuple[TaskLine, ...]
    records: tuple[RecordLine, ...]
    each_use: tuple[str, ...]
    laid_up: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What the list can be narrowed to: (value, words) each."""

    places: tuple[tuple[str, str], ...] = ()
    kinds: tuple[tuple[str, str], ...] = ()
    states: tuple[tuple[str, str], ...] = ()
    hands: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PageLine:
    """One line of a page beside the list: its text, a second line, what stands at the right;
    `cautions` are read before what follows it."""

    text: str
    second: str = ""
    right: str = ""
    head: bool = False
    cautions: tuple[CautionText, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """Something to be read beside the list: a sitting's work, what happened since. `onward`: the
    word on the button that leads on, if there is one."""

    title: str
    lead: str = ""
    lines: tuple[PageLine, ...] = ()
    foot: str = ""
    onward: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetState:
    """The room: what is said on top, the machines, which is chosen, what went wrong.

    `machines` are those to be shown, in order; `total` counts all. `calm`: the notice tells of
    nothing bad. `busy`: the answers are still being worked out from the file.
    """

    headline: str
    second: str
    machines: tuple[MachineLine, ...] = ()
    total: int = 0
    count_text: str = ""
    choices: Choices = Choices()
    chosen_id: int | None = None
    notice: str = ""
    calm: bool = False
    progress: Progress | None = None
    can_write: bool = True
    busy: bool = False
