"""Everything the machine room shows, frozen and already in words."""

from __future__ import annotations

from dataclasses import dataclass

from app.fleet.state import RecordLine, TaskLine
from schedules.states import MachineState


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateCard:
    """One plate: the machine's own, or that of a thing fitted to it. Rows: (label, what is read);
    empty where nothing is known. `act`: the form that fills it in."""

    title: str
    rows: tuple[tuple[str, str], ...]
    act: str


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionLine:
    """One thing to be said once about the machine, and why it is asked; answers: (value, words)."""

    code: str
    question: str
    because: str
    answers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureLine:
    """One figure that makes a task due: what it is, how much, and who says so."""

    key: str
    name: str
    amount: str
    whose: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelLine:
    """A tank or bowl: what it is, what is in it, what to do with that."""

    name: str
    amount: str
    verdict: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineRoomState:
    """The room of one machine. `figures`, `lives` (how long the parts before lasted): by task.
    `goes_on`: the act that goes on with what was begun, `goes_on_text` what its button says."""

    machine_id: int
    name: str
    second: str
    icon: str
    state: MachineState
    state_text: str
    standing: str
    hours: str
    hours_read: bool
    hours_ground: str
    plates: tuple[PlateCard, ...]
    fuel: tuple[FuelLine, ...] = ()
    waiting: tuple[str, ...] = ()
    goes_on: str = ""
    goes_on_text: str = ""
    question: QuestionLine | None = None
    built: int = 0
    going_over: str = ""
    looks: tuple[str, ...] = ()
    tasks: tuple[TaskLine, ...] = ()
    records: tuple[RecordLine, ...] = ()
    figures: dict[str, tuple[FigureLine, ...]]
    lives: dict[str, str]
    laid_up: bool
    can_write: bool = True
    notice: str = ""
