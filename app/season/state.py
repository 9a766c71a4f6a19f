"""What the season room shows: machines to choose from, or one step of a run. All worded."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from app.wording.lines import CautionText


class RailMark(StrEnum):
    """How a step stands along the rule."""

    DONE = "done"
    NOW = "now"
    AHEAD = "ahead"
    NOT_FOR_IT = "not_for_it"
    CANNOT = "cannot"
    FAULT = "fault"


@dataclass(frozen=True, slots=True, kw_only=True)
class RailLine:
    """A step along the rule: its number, its name, when it was answered or how long it takes."""

    place: int
    name: str
    second: str
    mark: RailMark


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureAsk:
    """A figure to be typed beside a step, known by `key`. `event`: seen or not, instead."""

    key: str
    label: str
    hint: str
    event: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonCard:
    """The current step, large. `cautions` stand above everything else of it; `wait` says what runs
    on by itself, `clock` names the button that starts its clock ("": it runs, or there is none).
    `figures`: what it measures; `starts`: what it may look like, by code, when it starts a machine
    and that fails."""

    place: int
    counter: str
    whose: str
    cautions: tuple[CautionText, ...]
    name: str
    bring: tuple[str, ...]
    minutes: str
    how: str
    done_when: str
    stop: str
    wait: str
    clock: str
    figures: tuple[FigureAsk, ...] = ()
    starts: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseLine:
    """Something off, shut or open, at which machine, since when, and where it hangs."""

    text: str
    second: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One thing decided for a machine: its choices (value, words), the one that holds, and why."""

    name: str
    label: str
    choices: tuple[tuple[str, str], ...]
    value: str
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineLine:
    """A machine to choose. `asks`: whether *not yet* can be answered to `why`; `options` are empty
    while it is not chosen."""

    machine_id: int
    icon: str
    name: str
    second: str
    why: str
    chosen: bool
    asks: bool
    options: tuple[Option, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class RunLine:
    """A run that is not finished, to go on with."""

    run_id: int
    text: str
    second: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonState:
    """All that is shown. With `run_id` a run; without, machines to choose from."""

    title: str
    second: str
    sort: str
    can_write: bool = True
    notice: str = ""
    # choosing
    machines: tuple[MachineLine, ...] = ()
    runs: tuple[RunLine, ...] = ()
    empty: str = ""
    total: str = ""
    day_only: bool | None = None
    # a run
    run_id: int = 0
    icon: str = ""
    rail: tuple[RailLine, ...] = ()
    card: SeasonCard | None = None
    clocks: tuple[str, ...] = ()
    loose: tuple[LooseLine, ...] = ()
    strip: str = ""
    waiting: str = ""
    summary: tuple[str, ...] = ()
    finished: bool = False
    faults: bool = False
