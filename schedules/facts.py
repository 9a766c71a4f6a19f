"""The shared words of the house: what is known about a machine, frozen, without file or Qt.

Everything the engine is asked about comes in as these classes and everything it answers goes out
as them. Run time is whole seconds, volume whole microlitres, days are dates. Unknown is a value
(`None`, or a member called UNKNOWN), never zero.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from fractions import Fraction
from typing import NewType

from schedules.reasons import Reason
from schedules.states import MachineState, Severity, TaskState
from schedules.units import Unit

MachineId = NewType("MachineId", int)
ItemId = NewType("ItemId", int)
VesselId = NewType("VesselId", int)
JobId = NewType("JobId", int)
KindCode = NewType("KindCode", str)
TaskCode = NewType("TaskCode", str)
LimitCode = NewType("LimitCode", str)
CautionCode = NewType("CautionCode", str)
FeatureCode = NewType("FeatureCode", str)
DutyCode = NewType("DutyCode", str)
SourceId = NewType("SourceId", str)


# -- the settings of the engine ---------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """Settings of the due engine; every default is our judgement and can be changed."""

    gap_days: int = 42
    end_days: int = 21
    repeat_days: int = 28
    due_days: int = 14
    coming_days: int = 60
    carry_minutes: int = 5
    carry: Fraction = Fraction(3, 5)
    ready_days: int = 21
    lead_days: int = 10
    shelf_days: int = 3
    set_up_minutes: int = 5
    horizon_years: int = 10


# -- marks and sources ------------------------------------------------------------------------


class Mark(StrEnum):
    """What a figure rests on."""

    PUBLISHED = "published"
    COMMON_PRACTICE = "common_practice"
    MAKERS_DIFFER = "makers_differ"
    OUR_JUDGEMENT = "our_judgement"
    FROM_MEMORY = "from_memory"
    OWN_MANUAL = "own_manual"


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureMark:
    """The mark of one figure of a task or limit: which field, what it rests on, named sources."""

    figure: str
    mark: Mark
    sources: tuple[SourceId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceFacts:
    """A public document: who published it, what it is called, when, and where in it to look."""

    source_id: SourceId
    publisher: str
    title: str
    year: int | None
    place_in_it: str
    read: bool


# -- seasons ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, order=True)
class MonthDay:
    """A day of the year without a year; 29 February is allowed."""

    month: int
    day: int


@dataclass(frozen=True, slots=True)
class Window:
    """A pair of month-days, both inside; it wraps the year when `last` is the earlier one."""

    first: MonthDay
    last: MonthDay


class Phase(StrEnum):
    """When in the year of a machine a piece of work belongs."""

    BEFORE = "before"
    IN = "in"
    MIDDLE = "middle"
    END = "end"
    OFF = "off"


class SeasonPart(StrEnum):
    """Which of a year's seasons: the only one, or the first or second of two."""

    ONLY = "only"
    FIRST = "first"
    SECOND = "second"


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """One run of days in season. `number` counts seasons through in time."""

    number: int
    first: date
    last: date
    year: int
    part: SeasonPart


# -- rules, tasks, limits ---------------------------------------------------------------------


class TaskSort(StrEnum):
    """EN 13306: predetermined, condition-based, function check."""

    PREDETERMINED = "predetermined"
    CONDITION = "condition"
    CHECK = "check"


@dataclass(frozen=True, slots=True, kw_only=True)
class NthOf:
    """Due at every n-th doing of another task."""

    code: TaskCode
    n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """When a task is due. Any of its parts may be there; the earliest day wins.

    `fuel_age`: dated by the day the fuel's band becomes *burn*, not by months.
    `stored`: ages in storage too, so it never rests while the machine sleeps.
    """

    first_seconds: int | None = None
    run_seconds: int | None = None
    months: int | None = None
    phases: tuple[Phase, ...] = ()
    each_use: bool = False
    uses: int | None = None
    limits: tuple[LimitCode, ...] = ()
    nth_of: NthOf | None = None
    stored: bool = False
    on_sight: bool = False
    on_fault: bool = False
    fuel_age: bool = False


class Direction(StrEnum):
    """Which readings mean work. One on the limit is past AT_MOST and AT_LEAST, inside BETWEEN.

    AT_MOST: act when it rises to `high` or above. AT_LEAST: act when it falls to `low` or below.
    BETWEEN: act outside `low`..`high`. EVENT: seen or not seen.
    """

    AT_MOST = "at_most"
    AT_LEAST = "at_least"
    BETWEEN = "between"
    EVENT = "event"


class WearAxis(StrEnum):
    """What a part wears with: run time, or mere time."""

    HOURS = "hours"
    DAYS = "days"


@dataclass(frozen=True, slots=True, kw_only=True)
class WearRate:
    """How fast a part wears as a rule: change in the limit's stored unit an hour of run time (a
    day, where time ages it), its deviation between parts, and the error of one reading."""

    rate: Fraction
    deviation: Fraction
    reading_error: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitFacts:
    """What is measured and where it means work. `low` and `high` are in the stored unit `unit`.

    `per_task`: the same sort of limit stands on several parts (two belts), so a reading counts
    only for the task it was taken for. `wears`: what is measured wears away, so that a day can be
    foreseen; `wear` is how fast as a rule, where that is known.
    """

    code: LimitCode
    name: str
    how: str
    direction: Direction
    unit: Unit
    low: int | None = None
    high: int | None = None
    event: str = ""
    both_sides: bool = False
    per_task: bool = False
    editable_empty: bool = False
    wears: WearAxis | None = None
    wear: WearRate | None = None
    marks: tuple[FigureMark, ...] = ()

    def is_back(self, before: int, after: int) -> bool:
        """Whether the part is less worn than before, by more than readings of one part differ.

        Our judgement, where no error of a reading is known: a ruler is read to 0.3 mm, and three
        times the error is no accident.
        """
        error = self.wear.reading_error if self.wear else _RULER.get(self.unit)
        if self.wears is None or error is None or self.direction is Direction.BETWEEN:
            return False
        gain = after - before if self.direction is Direction.AT_LEAST else before - after
        return gain > 3 * error


_RULER = {Unit.MICROMETRE: Fraction(300)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumable:
    """What a task uses up. `part` is a code shared by all tasks that take the same thing."""

    part: str
    name: str
    quantity: int = 1
    wear_item: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Applies:
    """A task stands only where the feature has one of these values; `unknown`: what to assume."""

    feature: FeatureCode
    values: tuple[str, ...]
    unknown: bool


class ItemSort(StrEnum):
    """The thing hours and tasks hang on: the machine, or a unit fitted to it."""

    MACHINE = "machine"
    ENGINE = "engine"
    STARTER_BATTERY = "starter_battery"
    PACK = "pack"
    GEAR_CASE = "gear_case"


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskFacts:
    """One task of the catalogue, whole.

    `replaces`: each doing is a replacement of the part. `look_minutes` is the time to look,
    `do_minutes` the time when the replacement or full work is known to be needed. `opening`: what
    has to be open or which position the machine is in; tasks with the same one go together.
    """

    code: TaskCode
    name: str
    how: str
    sort: TaskSort
    rule: Rule
    item: ItemSort = ItemSort.MACHINE
    look_minutes: int
    do_minutes: int
    replaces: bool = False
    safety: bool = False
    stop_use_if: str = ""
    opening: str = ""
    includes: tuple[TaskCode, ...] = ()
    consumables: tuple[Consumable, ...] = ()
    tools: tuple[str, ...] = ()
    cautions: tuple[CautionCode, ...] = ()
    duties: tuple[tuple[DutyCode, Fraction], ...] = ()
    applies: tuple[Applies, ...] = ()
    workshop: bool = False
    marks: tuple[FigureMark, ...] = ()


class PairSort(StrEnum):
    """ORDER: only the order within one sitting. SPOILS: the second, done first, is undone."""

    ORDER = "order"
    SPOILS = "spoils"


@dataclass(frozen=True, slots=True, kw_only=True)
class Precedence:
    """`before` is done before `after`, and why."""

    before: TaskCode
    after: TaskCode
    sort: PairSort
    why: str
    mark: FigureMark


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionFacts:
    """A caution text with its signal word."""

    code: CautionCode
    severity: Severity
    text: str
    marks: tuple[FigureMark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureFacts:
    """A yes/no/which of a machine that decides steps."""

    code: FeatureCode
    question: str
    values: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyFacts:
    """A condition of use that shortens intervals."""

    code: DutyCode
    question: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KindFacts:
    """A machine kind with its blocks resolved into one list of tasks, in catalogue order.

    `windows` are for the northern hemisphere; `shape` names the monthly shares of use.
    """

    code: KindCode
    name: str
    windows: tuple[Window, ...]
    year_seconds: int
    use_seconds: int
    use_word: str
    shape: str
    tasks: tuple[TaskFacts, ...]
    fuel: str
    icon: str
    features: tuple[FeatureCode, ...] = ()
    duties: tuple[DutyCode, ...] = ()
    spares: tuple[Consumable, ...] = ()
    has_engine: bool = True
    marks: tuple[FigureMark, ...] = ()


# -- what is known about one machine ----------------------------------------------------------


class Past(StrEnum):
    """How a thing came: new, or with a past nobody wrote down."""

    NEW = "new"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursReading:
    """Total run time read on a day (meters already summed): a known point and a reading."""

    day: date
    seconds: int


@dataclass(frozen=True, slots=True, kw_only=True)
class InferredPoint:
    """A total reckoned from something else, accepted by the owner; marked, and no reading."""

    day: date
    seconds: int
    accepted_on: date
    spread_seconds: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursFacts:
    """What is known of the run time of one thing.

    `at_start`: total on the day it came, None when unknown. `year_seconds` and `month_shares`
    (January first, for the place it stands in) come from the catalogue.
    """

    at_start: int | None
    readings: tuple[HoursReading, ...] = ()
    inferred: tuple[InferredPoint, ...] = ()
    year_seconds: int
    month_shares: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class UseFacts:
    """One logged use. Its run time is what was logged, else the kind's default."""

    day: date
    seconds: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StorageFacts:
    """A spell in storage: put away on, woken on (first day in use again), planned last day."""

    put_away_on: date
    woken_on: date | None = None
    planned_last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """A task done on a day; `replaced` when the part was renewed; `assumed` when passed over."""

    code: TaskCode
    day: date
    replaced: bool = False
    assumed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitReading:
    """A measurement taken for a task. `amount` in the limit's stored unit; events say `seen`.

    Readings of one day stand in the order they were taken.
    """

    code: TaskCode
    limit: LimitCode
    day: date
    amount: int | None = None
    seen: bool | None = None
    after_work: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WearForecast:
    """The day by which to plan a replacement, from readings; None when they cannot carry one."""

    code: TaskCode
    limit: LimitCode
    plan_by: date


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFigure:
    """A figure of the machine's own manual in place of the catalogue's.

    `target` is a task or limit code, `figure` one of first_seconds run_seconds months uses low
    high; `value` None strikes it out.
    """

    target: str
    figure: str
    value: int | None
    page: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemFacts:
    """The machine itself, or a unit fitted to it on the day asked about, with what hangs on it."""

    item_id: ItemId
    sort: ItemSort
    came_on: date
    past: Past
    hours: HoursFacts
    tasks: tuple[TaskFacts, ...]
    doings: tuple[Doing, ...] = ()
    readings: tuple[LimitReading, ...] = ()
    forecasts: tuple[WearForecast, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultFacts:
    """An open fault: whether it stops use, or is a repair put off."""

    fault_id: int
    text: str
    since: date
    stops_use: bool
    put_off: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckFailed:
    """A function check with a stop-use condition that failed and was not done since."""

    code: TaskCode
    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFacts:
    """A one-off: due on a day, at hours, in a phase, or when what it waits for has come.

    `at_seconds` is a total of the thing it is on, `item_id`; of the machine's own without one.
    """

    job_id: JobId
    item_id: ItemId | None = None
    text: str
    noted_on: date
    due_on: date | None = None
    at_seconds: int | None = None
    phase: Phase | None = None
    waits_for: str = ""
    minutes: int
    safety: bool = False
    stops_use: bool = False
    part: str = ""


class VesselSort(StrEnum):
    """A can, a machine's tank, the carburettor's bowl."""

    CAN = "can"
    TANK = "tank"
    BOWL = "bowl"


class FuelSort(StrEnum):
    """What is in a lot."""

    E0 = "e0"
    E5 = "e5"
    E10 = "e10"
    E15 = "e15"
    ALKYLATE = "alkylate"
    PREMIX = "premix"
    PREMIX_ALKYLATE = "premix_alkylate"
    DIESEL = "diesel"
    UNKNOWN = "unknown"


class FuelUse(StrEnum):
    """What an engine burns."""

    FOUR_STROKE = "four_stroke"
    TWO_STROKE = "two_stroke"
    DIESEL = "diesel"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class LotFacts:
    """Petrol bought in one go. `bought_on` None: nobody knows. `since` is the day it came into
    this vessel; `earlier` where it stood before, oldest first: vessel and the day it came there.
    `amount_known` False: nobody knows whether there is any, and the volume is the least there is.
    `ethanol_permille`: as read at the pump, else as the sort says; `oil_ul`: oil, part of the
    volume.
    """

    bought_on: date | None
    volume_ul: int
    sort: FuelSort
    stabilised_on: date | None = None
    since: date | None = None
    earlier: tuple[tuple[VesselSort, date], ...] = ()
    amount_known: bool = True
    ethanol_permille: int | None = None
    oil_ul: int = 0


class Gone(StrEnum):
    """Where fuel went. LOST: it is not there any more and nobody says why."""

    BURNT = "burnt"
    DRAINED = "drained"
    SPILLED = "spilled"
    DISPOSED = "disposed"
    LOST = "lost"


class Look(StrEnum):
    """What nose and jar said of a vessel's fuel."""

    SHARP_CLEAR = "sharp_clear"
    SOUR_OR_DARK = "sour_or_dark"
    LAYERS = "layers"


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselLook:
    """A look at the fuel: its day and what was seen."""

    day: date
    look: Look


class Shelter(StrEnum):
    """Where a thing stands: heated, garage (never below 5 C), or shed (as outdoors)."""

    INDOOR = "indoor"
    GARAGE = "garage"
    SHED = "shed"


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselFacts:
    """A can, tank or bowl with what is in it. `month_means_mc`: thousandths of a degree Celsius,
    January first, for the place and shelter it stands in; `month_swings_mc` from the coolest to
    the warmest of an ordinary day, empty where nobody knows. `levels`: how much was in it from
    which day on, oldest first. `water_ul`: water that was found in it. `entered` False: nobody ever
    said anything about what is in it."""

    vessel_id: VesselId
    name: str
    sort: VesselSort
    capacity_ul: int
    lots: tuple[LotFacts, ...]
    month_means_mc: tuple[int, ...]
    burns: FuelUse = FuelUse.NONE
    looks: tuple[VesselLook, ...] = ()
    machine_id: MachineId | None = None
    month_swings_mc: tuple[int, ...] = ()
    levels: tuple[tuple[date, int], ...] = ()
    water_ul: int | None = None
    entered: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineFacts:
    """All that is known about one machine; `items` holds the machine itself first."""

    machine_id: MachineId
    name: str
    kind: KindFacts
    place: str
    south: bool
    came_on: date
    past: Past
    items: tuple[ItemFacts, ...]
    own_windows: tuple[Window, ...] | None = None
    uses: tuple[UseFacts, ...] = ()
    storage: tuple[StorageFacts, ...] = ()
    features: tuple[tuple[FeatureCode, str], ...] = ()
    duties: frozenset[DutyCode] = frozenset()
    own_figures: tuple[OwnFigure, ...] = ()
    faults: tuple[FaultFacts, ...] = ()
    failed_checks: tuple[CheckFailed, ...] = ()
    jobs: tuple[JobFacts, ...] = ()
    vessels: tuple[VesselFacts, ...] = ()


# -- what the engine answers ------------------------------------------------------------------


class GovernedBy(StrEnum):
    """Which ground made the day."""

    READING = "reading"
    HOURS = "hours"
    USES = "uses"
    NTH = "nth"
    SEASON = "season"
    MONTHS = "months"
    NOTHING_KNOWN = "nothing_known"
    ASLEEP = "asleep"
    NONE = "none"


class HoursBasis(StrEnum):
    """What the hours of today rest on."""

    METER = "meter"
    LOG = "log"
    ESTIMATED = "estimated"
    SINCE_IT_CAME = "since_it_came"
    INFERRED = "inferred"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursNow:
    """Run time on the day asked about, and the band of half and double use."""

    seconds: Fraction | None
    basis: HoursBasis
    low: Fraction | None = None
    high: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskVerdict:
    """When one task is due and because of what. `seconds_left` only where hours count."""

    code: TaskCode
    item_id: ItemId
    state: TaskState
    due: date | None
    governed_by: GovernedBy
    reason: Reason
    due_early: date | None = None
    due_late: date | None = None
    seconds_left: Fraction | None = None
    days_left: int | None = None
    anchor: date | None = None
    safety: bool = False
    replacement: bool = False
    minutes: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class JobVerdict:
    """When a one-off is due."""

    job_id: JobId
    state: TaskState
    due: date | None
    reason: Reason


class Band(StrEnum):
    """What to do with the fuel in a vessel."""

    GOOD = "good"
    USE_FIRST = "use_first"
    BURN = "burn"
    DRAIN = "drain"
    NOT_FOR_THIS = "not_for_this"
    LOOK_FIRST = "look_first"


class FuelClock(StrEnum):
    """Which clock governs the band."""

    OXIDATION = "oxidation"
    LIGHT_ENDS = "light_ends"
    WATER = "water"
    ETHANOL = "ethanol"
    LOOK = "look"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class LotVerdict:
    """One lot in a vessel and how old it really is: `ageing` 1 is stale; `light_ends` lost to the
    air, 1 is the limit, None where it cannot be reckoned; `ethanol` None: nobody knows."""

    bought_on: date | None
    volume_ul: int
    sort: FuelSort
    age_days: int | None
    ageing: Fraction | None
    stabilised_on: date | None
    light_ends: Fraction | None = None
    ethanol: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselVerdict:
    """The fuel of a vessel on the day asked. `light_ends`: the mean of its lots, by volume.
    `entered` False: it is not known to be empty, nobody ever said what is in it. `next_band`: what
    it is from `next_band_on` on; None where no worse day is in sight."""

    vessel_id: VesselId
    name: str
    sort: VesselSort
    volume_ul: int
    capacity_ul: int
    lots: tuple[LotVerdict, ...]
    stale_share: Fraction
    spoilt_share: Fraction
    gum_index: Fraction
    ethanol: Fraction | None
    band: Band
    governed_by: FuelClock
    next_band_on: date | None
    burn_on: date | None
    reason: Reason
    light_ends: Fraction | None = None
    entered: bool = True
    next_band: Band | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CarriedTask:
    """A task that falls due in the coming season and is better done before it."""

    verdict: TaskVerdict
    expected: date
    reason: Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLine:
    """One line of a list in working order: a task or a walk-round of quick looks."""

    codes: tuple[TaskCode, ...]
    minutes: int
    walk_round: bool = False
    job_id: JobId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PreSeason:
    """The list to work from before the season that starts next."""

    season: Season | None
    eve: date | None
    tasks: tuple[TaskVerdict, ...]
    carried: tuple[CarriedTask, ...]
    lines: tuple[WorkLine, ...]
    look_minutes: int
    do_minutes: int
    start_by: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """What to buy, how many, and by when, so that it lies on the shelf in time."""

    part: str
    name: str
    quantity: int
    buy_by: date | None
    machine_ids: tuple[MachineId, ...] = ()
    codes: tuple[TaskCode, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineVerdict:
    """Everything the engine says about one machine on one day."""

    machine_id: MachineId
    state: MachineState
    reason: Reason
    hours: HoursNow
    tasks: tuple[TaskVerdict, ...]
    jobs: tuple[JobVerdict, ...] = ()
    fuel: tuple[VesselVerdict, ...] = ()
    each_use: tuple[TaskCode, ...] = field(default=())
