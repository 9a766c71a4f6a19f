"""Grounds as data: every verdict carries a tree of these; sentences are made elsewhere.

A reason is a code, named values and children. Values are plain (dates, whole numbers, codes) or
a `Quantity`, so that the why panel, a sheet's footnote and the command line can each say them in
their own language and units. `REASON_VALUES` declares the values of each code; making a reason
with others is refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from schedules.units import Quantity

Value = date | int | str | Quantity | None


class ReasonCode(StrEnum):
    """What kind of ground it is."""

    # heads of a task's verdict
    DUE_HOURS = "due_hours"
    DUE_USES = "due_uses"
    DUE_NTH = "due_nth"
    DUE_SEASON = "due_season"
    DUE_MONTHS = "due_months"
    DUE_READING = "due_reading"
    DUE_FORECAST = "due_forecast"
    DUE_FUEL = "due_fuel"
    NOTHING_KNOWN = "nothing_known"
    ASLEEP = "asleep"
    EACH_USE = "each_use"
    ON_SIGHT = "on_sight"
    ON_FAULT = "on_fault"
    NO_DAY = "no_day"
    # grounds beneath
    ANCHOR_DONE = "anchor_done"
    ANCHOR_REPLACED = "anchor_replaced"
    ANCHOR_PURCHASE = "anchor_purchase"
    ANCHOR_ASSUMED = "anchor_assumed"
    ANCHOR_INCLUDED = "anchor_included"
    INTERVAL_HOURS = "interval_hours"
    INTERVAL_FIRST_HOURS = "interval_first_hours"
    INTERVAL_FACTOR = "interval_factor"
    INTERVAL_MONTHS = "interval_months"
    INTERVAL_USES = "interval_uses"
    HOURS_THEN = "hours_then"
    HOURS_NOW = "hours_now"
    FORECAST_BAND = "forecast_band"
    SLOT = "slot"
    LAPSED = "lapsed"
    RESTS = "rests"
    ALSO = "also"
    LIMIT_IS = "limit_is"
    READING_WAS = "reading_was"
    OWN_MANUAL = "own_manual"
    FIGURE_MARK = "figure_mark"
    CARRIED = "carried"
    # jobs
    JOB_ON = "job_on"
    JOB_AT_HOURS = "job_at_hours"
    JOB_PHASE = "job_phase"
    JOB_WAITS = "job_waits"
    JOB_UNDATED = "job_undated"
    # states of a machine
    STATE_DOWN = "state_down"
    STATE_UNKNOWN = "state_unknown"
    STATE_LAID_UP = "state_laid_up"
    STATE_WITH_CARE = "state_with_care"
    STATE_FIT = "state_fit"
    OPEN_FAULT = "open_fault"
    FAILED_CHECK = "failed_check"
    PAST_UNKNOWN = "past_unknown"
    PUT_AWAY = "put_away"
    OVERDUE_SAFETY = "overdue_safety"
    OVERDUE_TASK = "overdue_task"
    FAULT_KNOWN = "fault_known"
    REPAIR_PUT_OFF = "repair_put_off"
    STALE_FUEL = "stale_fuel"
    WRONG_FUEL = "wrong_fuel"
    # fuel
    FUEL_BAND = "fuel_band"
    FUEL_AGE = "fuel_age"
    FUEL_STABILISED = "fuel_stabilised"
    FUEL_NOT_STABILISED = "fuel_not_stabilised"
    FUEL_DATE_UNKNOWN = "fuel_date_unknown"
    FUEL_LOOK = "fuel_look"
    FUEL_KEEPS = "fuel_keeps"
    FUEL_EMPTY = "fuel_empty"
    FUEL_NOT_ENTERED = "fuel_not_entered"
    FUEL_GOVERNS = "fuel_governs"
    FUEL_NEXT_BAND = "fuel_next_band"
    FUEL_OXIDATION = "fuel_oxidation"
    FUEL_LIGHT_ENDS = "fuel_light_ends"
    FUEL_LIGHT_ENDS_UNKNOWN = "fuel_light_ends_unknown"
    FUEL_WATER = "fuel_water"
    FUEL_WATER_UNSEEN = "fuel_water_unseen"


REASON_VALUES: dict[ReasonCode, tuple[str, ...]] = {
    ReasonCode.DUE_HOURS: ("task", "due", "at"),
    ReasonCode.DUE_USES: ("task", "due", "uses"),
    ReasonCode.DUE_NTH: ("task", "due", "other_task", "n"),
    ReasonCode.DUE_SEASON: ("task", "due", "phase"),
    ReasonCode.DUE_MONTHS: ("task", "due", "months"),
    ReasonCode.DUE_READING: ("task", "due", "limit"),
    ReasonCode.DUE_FORECAST: ("task", "due", "limit"),
    ReasonCode.DUE_FUEL: ("task", "due", "vessel"),
    ReasonCode.NOTHING_KNOWN: ("task", "due"),
    ReasonCode.ASLEEP: ("task", "until"),
    ReasonCode.EACH_USE: ("task",),
    ReasonCode.ON_SIGHT: ("task",),
    ReasonCode.ON_FAULT: ("task",),
    ReasonCode.NO_DAY: ("task",),
    ReasonCode.ANCHOR_DONE: ("day",),
    ReasonCode.ANCHOR_REPLACED: ("day",),
    ReasonCode.ANCHOR_PURCHASE: ("day",),
    ReasonCode.ANCHOR_ASSUMED: ("day",),
    ReasonCode.ANCHOR_INCLUDED: ("day", "other_task"),
    ReasonCode.INTERVAL_HOURS: ("interval",),
    ReasonCode.INTERVAL_FIRST_HOURS: ("interval",),
    ReasonCode.INTERVAL_FACTOR: ("percent",),
    ReasonCode.INTERVAL_MONTHS: ("months",),
    ReasonCode.INTERVAL_USES: ("uses",),
    ReasonCode.HOURS_THEN: ("hours", "day", "basis"),
    ReasonCode.HOURS_NOW: ("hours", "day", "basis"),
    ReasonCode.FORECAST_BAND: ("early", "late"),
    ReasonCode.SLOT: ("phase", "opens", "deadline", "season"),
    ReasonCode.LAPSED: ("season",),
    ReasonCode.RESTS: ("from_day", "to_day", "asked"),
    ReasonCode.ALSO: ("governed_by", "due"),
    ReasonCode.LIMIT_IS: ("limit", "low", "high"),
    ReasonCode.READING_WAS: ("limit", "amount", "day"),
    ReasonCode.OWN_MANUAL: ("figure", "page"),
    ReasonCode.FIGURE_MARK: ("figure", "mark"),
    ReasonCode.CARRIED: ("task", "expected", "percent"),
    ReasonCode.JOB_ON: ("job", "due"),
    ReasonCode.JOB_AT_HOURS: ("job", "due", "at"),
    ReasonCode.JOB_PHASE: ("job", "due", "phase"),
    ReasonCode.JOB_WAITS: ("job", "waits_for"),
    ReasonCode.JOB_UNDATED: ("job",),
    ReasonCode.STATE_DOWN: ("machine",),
    ReasonCode.STATE_UNKNOWN: ("machine",),
    ReasonCode.STATE_LAID_UP: ("machine",),
    ReasonCode.STATE_WITH_CARE: ("machine",),
    ReasonCode.STATE_FIT: ("machine",),
    ReasonCode.OPEN_FAULT: ("fault", "day"),
    ReasonCode.FAILED_CHECK: ("task", "day"),
    ReasonCode.PAST_UNKNOWN: ("left",),
    ReasonCode.PUT_AWAY: ("day", "until"),
    ReasonCode.OVERDUE_SAFETY: ("task", "due"),
    ReasonCode.OVERDUE_TASK: ("task", "due"),
    ReasonCode.FAULT_KNOWN: ("fault", "day"),
    ReasonCode.REPAIR_PUT_OFF: ("fault", "day"),
    ReasonCode.STALE_FUEL: ("vessel", "band"),
    ReasonCode.WRONG_FUEL: ("vessel",),
    ReasonCode.FUEL_BAND: ("vessel", "band"),
    ReasonCode.FUEL_AGE: ("bought", "days", "ageing"),
    ReasonCode.FUEL_STABILISED: ("day",),
    ReasonCode.FUEL_NOT_STABILISED: (),
    ReasonCode.FUEL_DATE_UNKNOWN: (),
    ReasonCode.FUEL_LOOK: ("look", "day"),
    ReasonCode.FUEL_KEEPS: ("days",),
    ReasonCode.FUEL_EMPTY: (),
    ReasonCode.FUEL_NOT_ENTERED: (),
    ReasonCode.FUEL_GOVERNS: ("clock",),
    ReasonCode.FUEL_NEXT_BAND: ("day", "band"),
    ReasonCode.FUEL_OXIDATION: ("stale", "spoilt", "most_share"),
    ReasonCode.FUEL_LIGHT_ENDS: ("lost", "most_share"),
    ReasonCode.FUEL_LIGHT_ENDS_UNKNOWN: (),
    ReasonCode.FUEL_WATER: ("found", "most"),
    ReasonCode.FUEL_WATER_UNSEEN: ("most",),
}


@dataclass(frozen=True, slots=True)
class Reason:
    """One ground: a code, its named values, the source it rests on, and the grounds beneath."""

    code: ReasonCode
    values: tuple[tuple[str, Value], ...] = ()
    source: str | None = None
    children: tuple[Reason, ...] = ()

    def value(self, name: str) -> Value:
        """The value called `name`. Raises KeyError when the code has no such value."""
        for key, value in self.values:
            if key == name:
                return value
        raise KeyError(name)


def reason(
    code: ReasonCode,
    *,
    source: str | None = None,
    children: tuple[Reason, ...] = (),
    **values: Value,
) -> Reason:
    """Make a reason. Raises ValueError when the values are not those declared for the code."""
    declared = REASON_VALUES[code]
    if set(declared) != set(values):
        raise ValueError(f"{code}: values {sorted(values)} are not {sorted(declared)}")
    return Reason(code, tuple((name, values[name]) for name in declared), source, children)
