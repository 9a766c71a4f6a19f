"""What a sitting at the machines is made of: the steps there are, and a list of them laid down.

A sitting puts machines away, gets them out again, or goes over one that nobody knows anything
about. Plain facts, read from the shipped file by `resources.storage`; nothing is computed here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import NewType

from schedules.facts import (
    Applies,
    Band,
    CautionCode,
    Consumable,
    FeatureCode,
    FigureMark,
    FuelUse,
    MachineFacts,
    MachineId,
    TaskCode,
)

# A step of the shipped file (P-12, G-03, B-07), or the code of the task it carries out.
StepCode = NewType("StepCode", str)
LeftCode = NewType("LeftCode", str)


class RunSort(StrEnum):
    """What a sitting is for."""

    PUTTING_AWAY = "putting_away"
    GETTING_OUT = "getting_out"
    GOING_OVER = "going_over"


class FuelRoute(StrEnum):
    """What becomes of the fuel. NONE: no engine, or a sleep so short that it stays as it is."""

    FULL_TREATED = "full_treated"
    RUN_EMPTY = "run_empty"
    ALKYLATE_WET = "alkylate_wet"
    KEEP_READY = "keep_ready"
    NONE = "none"


class Stage(StrEnum):
    """Where in a sitting a step belongs, in this order; see `STAGES`.

    UNDER: tank low, lead off. COLD: fuel, before anything was started. RUN, RUN_OUT: outdoors.
    WARM: just stopped. DRY: grease and rust, while the rest cools. COOL: bowl and tank. PUMP:
    water against frost. PLUG: nothing turns afterwards but by hand. POWER: battery and pack.
    """

    FIRST = "first"
    GATE = "gate"
    UNDER = "under"
    COLD = "cold"
    JOIN = "join"
    RUN = "run"
    RUN_OUT = "run_out"
    WARM = "warm"
    TRIAL = "trial"
    DRY = "dry"
    COOL = "cool"
    PUMP = "pump"
    PLUG = "plug"
    POWER = "power"
    PLACE = "place"
    LAST = "last"


STAGES = tuple(Stage)


class FuelEffect(StrEnum):
    """What a step does to the fuel in the machine, for the ledger.

    LOWERED: all but a cupful came out. TAKEN_OUT: all of it. FILLED_TREATED: fresh with stabiliser
    to the mark. FRESH_CUP: a cupful of fresh in an empty tank. FILLED_ALKYLATE: bottled mix.
    RUN_DRY: what was left was burnt. FILLED_FRESH: fresh fuel to use.
    """

    LOWERED = "lowered"
    TAKEN_OUT = "taken_out"
    FILLED_TREATED = "filled_treated"
    FRESH_CUP = "fresh_cup"
    FILLED_ALKYLATE = "filled_alkylate"
    RUN_DRY = "run_dry"
    FILLED_FRESH = "filled_fresh"


class Touch(StrEnum):
    """What a step has to do with that can hurt: each needs a caution before the step."""

    FUEL = "fuel"
    BLADE = "blade"
    ROTOR = "rotor"
    CHAIN = "chain"
    SPRING = "spring"
    PRESSURE = "pressure"
    ELECTRICITY = "electricity"
    LIFTING = "lifting"
    EXHAUST = "exhaust"


class Ground(StrEnum):
    """What the place does to a machine that sleeps in it."""

    FROST = "frost"
    DAMP = "damp"
    HEATED = "heated"


@dataclass(frozen=True, slots=True, kw_only=True)
class When:
    """Under which conditions a step stands; an empty one asks for nothing.

    `kinds`: codes of machine kinds; `stands`: any of these tasks belongs to the machine; `asked`:
    any of these is to be done in this sitting; `opening`: some task of this sitting needs it;
    `under`: whether hands go in with the lead off before it runs; `runs`: whether the engine is
    run in this sitting; `stale`: whether the fuel in the tank is past use; `left`: any of these
    was left off or open; `gates`: whether nothing may turn before the full looks; `again`: whether
    it was put away a short while ago and only went out again; `sleep_from`: days of sleep from
    which it is worth it.
    """

    burns: tuple[FuelUse, ...] = ()
    kinds: tuple[str, ...] = ()
    kinds_not: tuple[str, ...] = ()
    stands: tuple[TaskCode, ...] = ()
    asked: tuple[TaskCode, ...] = ()
    opening: str = ""
    routes: tuple[FuelRoute, ...] = ()
    applies: tuple[Applies, ...] = ()
    grounds: tuple[Ground, ...] = ()
    grounds_not: tuple[Ground, ...] = ()
    left: tuple[LeftCode, ...] = ()
    left_not: tuple[LeftCode, ...] = ()
    under: bool | None = None
    runs: bool | None = None
    stale: bool | None = None
    gates: bool | None = None
    again: bool | None = None
    sleep_from: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StepFacts:
    """One step of the shipped file.

    `minutes` are hands at work; `wait_minutes` runs on by itself afterwards and holds up the next
    step of the same machine that needs it. `records`: tasks it does. `passes`: tasks that this way
    of storing makes needless, taken as done. `opens`, `shuts`: the opening it makes or ends.
    `shared`: one step for all machines it is for. `to_faults`: when it fails, fault finding.
    """

    code: StepCode
    sort: RunSort
    stage: Stage
    name: str
    how: str
    done_when: str
    minutes: int
    mark: FigureMark
    when: When = When()
    wait_minutes: int = 0
    waits_for: str = ""
    stop_use_if: str = ""
    cautions: tuple[CautionCode, ...] = ()
    touches: tuple[Touch, ...] = ()
    tools: tuple[str, ...] = ()
    parts: tuple[Consumable, ...] = ()
    records: tuple[TaskCode, ...] = ()
    passes: tuple[TaskCode, ...] = ()
    leaves: tuple[LeftCode, ...] = ()
    puts_back: tuple[LeftCode, ...] = ()
    fuel: FuelEffect | None = None
    opens: str = ""
    shuts: str = ""
    shared: bool = False
    to_faults: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class StepOrder:
    """`before` comes before `after`: codes of steps or of tasks. `code`: the rule's own.

    `routes`: on these fuel routes only.
    """

    before: str
    after: str
    why: str
    mark: FigureMark
    code: str = ""
    routes: tuple[FuelRoute, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderWaived:
    """A pair of the catalogue that has no sense on a fuel route, and why. `sorts`: in these
    sittings only."""

    before: TaskCode
    after: TaskCode
    routes: tuple[FuelRoute, ...]
    why: str
    sorts: tuple[RunSort, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskPlace:
    """The stage of a task where its opening does not say it, for one sort of sitting; what doing
    it leaves off or open."""

    code: TaskCode
    sort: RunSort
    stage: Stage
    routes: tuple[FuelRoute, ...] = ()
    leaves: tuple[LeftCode, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingRules:
    """All that the shipped file says. `openings`: the stage of the tasks of an opening; `cautions`:
    what an opening adds to the cautions of any work done in it."""

    steps: tuple[StepFacts, ...]
    orders: tuple[StepOrder, ...]
    waived: tuple[OrderWaived, ...]
    places: tuple[TaskPlace, ...]
    openings: tuple[tuple[RunSort, str, Stage], ...]
    left: tuple[tuple[LeftCode, str], ...]
    cautions: tuple[tuple[str, tuple[CautionCode, ...]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One machine of a sitting and what is wanted for it.

    `tasks`: the work of the catalogue to be done; `full`: those of them that are known to need the
    full work and not a look only. `until`: the last day of its sleep, None when
    nobody can say. `sleep_days`: how long it sleeps or slept. `band`: what its fuel is good for.
    `left`: what the tag says was left off or open. `gates`: full looks before anything turns.
    `again`: it went out for a short while only, and what was done before still holds.
    """

    facts: MachineFacts
    tasks: frozenset[TaskCode] = frozenset()
    full: frozenset[TaskCode] = frozenset()
    route: FuelRoute = FuelRoute.NONE
    until: date | None = None
    sleep_days: int = 0
    grounds: frozenset[Ground] = frozenset()
    band: Band | None = None
    left: frozenset[LeftCode] = frozenset()
    gates: bool = False
    again: bool = False


@dataclass(frozen=True, slots=True)
class StepKey:
    """What a step is known by within its sitting."""

    code: StepCode
    machine_ids: tuple[MachineId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step as it is laid down: cautions are read before it, the rest as in `StepFacts`.

    `records` are only those that the machine has. `look`: a quick look, part of a walk-round.
    """

    code: StepCode
    machine_ids: tuple[MachineId, ...]
    stage: Stage
    name: str
    how: str
    done_when: str
    stop_use_if: str
    minutes: int
    wait_minutes: int
    waits_for: str
    cautions: tuple[CautionCode, ...]
    touches: tuple[Touch, ...]
    tools: tuple[str, ...]
    parts: tuple[Consumable, ...]
    records: tuple[TaskCode, ...]
    passes: tuple[TaskCode, ...]
    leaves: tuple[LeftCode, ...]
    puts_back: tuple[LeftCode, ...]
    fuel: FuelEffect | None
    opening: str
    is_task: bool
    look: bool
    to_faults: bool
    after: tuple[StepKey, ...] = ()

    @property
    def key(self) -> StepKey:
        """What it is known by."""
        return StepKey(self.code, self.machine_ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeNeeded:
    """Minutes of hands at work, and minutes from the first step to the last, short waits and all.
    `nights`: waits so long that the sitting is left in between."""

    hands: int
    clock: int
    nights: int


@dataclass(frozen=True, slots=True)
class FeatureAsked:
    """A feature that decides a step of this sitting and that nobody has answered."""

    machine_id: MachineId
    feature: FeatureCode
