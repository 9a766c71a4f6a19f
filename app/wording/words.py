"""What the codes of the house are called on screen and paper: the words an owner says."""

from collections.abc import Mapping
from enum import StrEnum

from app.wording.languages import msg
from models.words import (
    FuelDoing,
    InferredFrom,
    LineOutcome,
    PaymentSort,
    PhotoOf,
    RunOutcome,
    SearchDoing,
    SearchEnd,
    SheetSort,
    Side,
    StepAnswer,
    TrialSide,
)
from schedules.facts import (
    Band,
    Direction,
    FuelClock,
    FuelSort,
    FuelUse,
    Gone,
    GovernedBy,
    HoursBasis,
    ItemSort,
    Look,
    MachineState,
    Mark,
    Past,
    Phase,
    SeasonPart,
    Severity,
    Shelter,
    TaskSort,
    TaskState,
    VesselSort,
)

_STATES: dict[type[StrEnum], Mapping[StrEnum, str]] = {
    TaskState: {
        TaskState.NOT_KNOWN: msg("not known"),
        TaskState.OVERDUE: msg("overdue"),
        TaskState.DUE: msg("due"),
        TaskState.COMING: msg("coming up"),
        TaskState.CLEAR: msg("nothing due"),
    },
    MachineState: {
        MachineState.DOWN: msg("out of order"),
        MachineState.UNKNOWN: msg("not known"),
        MachineState.LAID_UP: msg("put away"),
        MachineState.WITH_CARE: msg("usable, but …"),
        MachineState.FIT: msg("ready"),
    },
    GovernedBy: {
        GovernedBy.READING: msg("a measurement"),
        GovernedBy.HOURS: msg("the hours run"),
        GovernedBy.USES: msg("how often it was used"),
        GovernedBy.NTH: msg("other work that was done"),
        GovernedBy.SEASON: msg("the season"),
        GovernedBy.MONTHS: msg("the time gone by"),
        GovernedBy.NOTHING_KNOWN: msg("nothing being known"),
        GovernedBy.ASLEEP: msg("the machine resting"),
        GovernedBy.NONE: msg("nothing"),
    },
    Mark: {
        Mark.PUBLISHED: msg("published"),
        Mark.COMMON_PRACTICE: msg("common practice, no source"),
        Mark.MAKERS_DIFFER: msg("makers differ"),
        Mark.OUR_JUDGEMENT: msg("our judgement"),
        Mark.FROM_MEMORY: msg("from memory"),
        Mark.OWN_MANUAL: msg("your manual"),
    },
    Severity: {
        Severity.DANGER: msg("DANGER"),
        Severity.WARNING: msg("WARNING"),
        Severity.CAUTION: msg("CAUTION"),
        Severity.NOTICE: msg("NOTICE"),
    },
}

_TIMES: dict[type[StrEnum], Mapping[StrEnum, str]] = {
    Phase: {
        Phase.BEFORE: msg("before the season"),
        Phase.IN: msg("during the season"),
        Phase.MIDDLE: msg("in the middle of the season"),
        Phase.END: msg("at the end of the season"),
        Phase.OFF: msg("between two seasons"),
    },
    SeasonPart: {
        SeasonPart.ONLY: msg("the season"),
        SeasonPart.FIRST: msg("the first season of the year"),
        SeasonPart.SECOND: msg("the second season of the year"),
    },
    HoursBasis: {
        HoursBasis.METER: msg("read off"),
        HoursBasis.LOG: msg("counted from what was noted"),
        HoursBasis.ESTIMATED: msg("estimated"),
        HoursBasis.SINCE_IT_CAME: msg("counted since it came"),
        HoursBasis.INFERRED: msg("worked out from something else"),
        HoursBasis.NONE: msg("not known"),
    },
    TaskSort: {
        TaskSort.PREDETERMINED: msg("by the clock"),
        TaskSort.CONDITION: msg("when worn"),
        TaskSort.CHECK: msg("try it"),
    },
    Direction: {
        Direction.AT_MOST: msg("not this much"),
        Direction.AT_LEAST: msg("more than this"),
        Direction.BETWEEN: msg("between these"),
        Direction.EVENT: msg("seen or not"),
    },
    Past: {
        Past.NEW: msg("came new"),
        Past.UNKNOWN: msg("came with a past nobody wrote down"),
    },
}

_THINGS: dict[type[StrEnum], Mapping[StrEnum, str]] = {
    ItemSort: {
        ItemSort.MACHINE: msg("machine"),
        ItemSort.ENGINE: msg("engine"),
        ItemSort.STARTER_BATTERY: msg("starter battery"),
        ItemSort.PACK: msg("battery pack"),
        ItemSort.GEAR_CASE: msg("gear case"),
    },
    VesselSort: {
        VesselSort.CAN: msg("can"),
        VesselSort.TANK: msg("tank"),
        VesselSort.BOWL: msg("carburettor bowl"),
    },
    FuelSort: {
        FuelSort.E0: msg("petrol without alcohol"),
        FuelSort.E5: msg("petrol, up to 5% alcohol (E5)"),
        FuelSort.E10: msg("petrol, up to 10% alcohol (E10)"),
        FuelSort.E15: msg("petrol, up to 15% alcohol (E15)"),
        FuelSort.ALKYLATE: msg("alkylate petrol"),
        FuelSort.PREMIX: msg("two-stroke mix"),
        FuelSort.PREMIX_ALKYLATE: msg("two-stroke mix on alkylate petrol"),
        FuelSort.DIESEL: msg("diesel"),
        FuelSort.UNKNOWN: msg("fuel, sort and alcohol not known"),
    },
    FuelUse: {
        FuelUse.FOUR_STROKE: msg("plain petrol"),
        FuelUse.TWO_STROKE: msg("two-stroke mix"),
        FuelUse.DIESEL: msg("diesel"),
        FuelUse.NONE: msg("no fuel"),
    },
    Band: {
        Band.GOOD: msg("good"),
        Band.USE_FIRST: msg("use this first"),
        Band.BURN: msg("burn it now, do not store it"),
        Band.DRAIN: msg("drain it, do not run on it"),
        Band.NOT_FOR_THIS: msg("not for this machine"),
        Band.LOOK_FIRST: msg("look and smell first"),
    },
    FuelClock: {
        FuelClock.OXIDATION: msg("its age"),
        FuelClock.LIGHT_ENDS: msg("what has evaporated"),
        FuelClock.WATER: msg("the water it draws"),
        FuelClock.ETHANOL: msg("its alcohol"),
        FuelClock.LOOK: msg("what you saw"),
        FuelClock.UNKNOWN: msg("nothing being known"),
    },
    Look: {
        Look.SHARP_CLEAR: msg("clear, with a sharp smell"),
        Look.SOUR_OR_DARK: msg("sour or dark"),
        Look.LAYERS: msg("in two layers"),
    },
    Shelter: {
        Shelter.INDOOR: msg("a heated room"),
        Shelter.GARAGE: msg("a garage free of frost"),
        Shelter.SHED: msg("an unheated shed or outdoors"),
    },
}

_ENTRIES: dict[type[StrEnum], Mapping[StrEnum, str]] = {
    RunOutcome: {
        RunOutcome.RAN: msg("ran"),
        RunOutcome.BADLY: msg("ran badly"),
        RunOutcome.DID_NOT: msg("did not run"),
    },
    PhotoOf: {
        PhotoOf.WORK: msg("work done"),
        PhotoOf.READING: msg("measurement"),
        PhotoOf.FAULT: msg("what is wrong"),
    },
    TrialSide: {
        TrialSide.BEFORE: msg("before"),
        TrialSide.AFTER: msg("after"),
    },
    LineOutcome: {
        LineOutcome.DONE: msg("done"),
        LineOutcome.REPLACED: msg("renewed"),
        LineOutcome.ASSUMED: msg("passed over, taken as done"),
        LineOutcome.FAILED: msg("did not pass"),
        LineOutcome.NOT_DONE: msg("not done"),
    },
    Side: {Side.LEFT: msg("left"), Side.RIGHT: msg("right")},
    InferredFrom: {
        InferredFrom.FUEL: msg("worked out from the fuel it burnt"),
        InferredFrom.AREA: msg("worked out from the area it did"),
        InferredFrom.SNOW: msg("worked out from the days of snow"),
        InferredFrom.AS_ALWAYS: msg("taken as always"),
        InferredFrom.OTHER: msg("worked out some other way"),
    },
    FuelDoing: {
        FuelDoing.BOUGHT: msg("bought"),
        FuelDoing.FOUND: msg("was in it when it came"),
        FuelDoing.POURED: msg("poured over"),
        FuelDoing.FILLED: msg("topped up"),
        FuelDoing.BURNT: msg("burnt"),
        FuelDoing.DRAINED: msg("drained"),
        FuelDoing.LEVEL: msg("level looked at"),
        FuelDoing.TREATED: msg("stabiliser added"),
        FuelDoing.LOOKED: msg("looked and smelt"),
        FuelDoing.SPILLED: msg("spilled"),
        FuelDoing.DISPOSED: msg("taken to a collection point"),
        FuelDoing.OILED: msg("oil added"),
    },
    Gone: {
        Gone.BURNT: msg("burnt"),
        Gone.DRAINED: msg("taken out"),
        Gone.SPILLED: msg("spilled"),
        Gone.DISPOSED: msg("taken to a collection point"),
        Gone.LOST: msg("lost"),
    },
    PaymentSort: {
        PaymentSort.BOUGHT: msg("the machine itself"),
        PaymentSort.SOLD: msg("sold"),
        PaymentSort.PART: msg("a part"),
        PaymentSort.CONSUMABLE: msg("oil, line and other things used up"),
        PaymentSort.FUEL: msg("fuel"),
        PaymentSort.WORKSHOP: msg("the workshop"),
        PaymentSort.OTHER: msg("something else"),
    },
    SheetSort: {
        SheetSort.PRESEASON: msg("pre-season sheet"),
        SheetSort.CARD: msg("card for the machine"),
        SheetSort.STORAGE: msg("putting-away sheet"),
        SheetSort.TAGS: msg("tags"),
        SheetSort.FAULTS: msg("fault sheet"),
        SheetSort.WORK: msg("work sheet"),
        SheetSort.BUYER: msg("paper for the buyer"),
        SheetSort.SHOPPING: msg("shopping list"),
    },
}

# By enum first: codes of different enums are equal as strings ("none", "unknown").
_SEARCHES: dict[type[StrEnum], Mapping[StrEnum, str]] = {
    StepAnswer: {
        StepAnswer.DONE: msg("done"),
        StepAnswer.NOT_APPLICABLE: msg("does not apply here"),
        StepAnswer.CANNOT: msg("cannot be done now"),
        StepAnswer.FAULT: msg("something was found wrong"),
    },
    SearchDoing: {
        SearchDoing.SEEN: msg("seen"),
        SearchDoing.TESTED: msg("tested"),
        SearchDoing.TRIED: msg("tried, did not help"),
        SearchDoing.TRIED_BEFORE: msg("tried before, did not help"),
        SearchDoing.CURED: msg("tried, and it helped"),
        SearchDoing.CANNOT: msg("cannot be done now"),
        SearchDoing.TOLD: msg("told"),
        SearchDoing.LEFT_OFF: msg("left off"),
        SearchDoing.SHUT: msg("everything closed up"),
        SearchDoing.OVER: msg("looked over whole"),
    },
    SearchEnd: {
        SearchEnd.CURED: msg("put right"),
        SearchEnd.WORKS: msg("works, and nobody knows why"),
        SearchEnd.WORKSHOP: msg("handed to a workshop"),
        SearchEnd.APPRAISE: msg("stopped, to see what it is worth"),
        SearchEnd.GIVEN_UP: msg("given up"),
    },
}

WORDS: Mapping[type[StrEnum], Mapping[StrEnum, str]] = {
    **_STATES,
    **_TIMES,
    **_THINGS,
    **_ENTRIES,
    **_SEARCHES,
}

# Figures of a task or limit that somebody may ask about.
FIGURES: Mapping[str, str] = {
    "task": msg("asking for it at all"),
    "first_hours": msg("the hours to the first time"),
    "first_seconds": msg("the hours to the first time"),
    "hours": msg("the hours between"),
    "run_seconds": msg("the hours between"),
    "months": msg("the months between"),
    "uses": msg("the uses between"),
    "phases": msg("the time of year"),
    "low": msg("the lower limit"),
    "high": msg("the upper limit"),
    "limit": msg("the limit"),
    "look": msg("the minutes to look"),
    "do": msg("the minutes to do it"),
    "minutes": msg("the minutes"),
    "windows": msg("the weeks of the season"),
    "year_hours": msg("the hours a year"),
    "use_hours": msg("the hours of one use"),
    "duties": msg("how hard use shortens it"),
    "each_use": msg("asking for it each time"),
    "text": msg("the wording"),
}

# Which time it is, for work that goes with every so many doings of other work.
ORDINALS: Mapping[int, str] = {
    1: msg("time"),
    2: msg("second time"),
    3: msg("third time"),
    4: msg("fourth time"),
    5: msg("fifth time"),
    6: msg("sixth time"),
}
