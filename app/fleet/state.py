"""Everything the fleet room shows, frozen and already in words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from app.wording.lines import CautionText, Line
from schedules.states import MachineState, TaskState

# The grounds of one verdict, said only when somebody asks for them.
Why = Callable[[], tuple[Line, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineLine:
    """One machine of the list."""

    machine_id: int
    name: str
    second: str
    icon: str
    state: MachineState
    state_text: str
    ground_text: str
    next_text: str
    next_second: str


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
    """One entry of the record, as it stands now; `changed_text` says when it was corrected."""

    area: str
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
class FleetState:
    """The room: what is said on top, the machines, the chosen one, what went wrong."""

    headline: str
    second: str
    machines: tuple[MachineLine, ...] = ()
    chosen: Chosen | None = None
    notice: str = ""
    undo_text: str = ""
    redo_text: str = ""
    can_write: bool = True
    busy: bool = False
    labels: dict[str, str] = field(default_factory=dict[str, str])
