"""Fit or not: the worst that counts decides, and all that counts is said, worst first.

EN 13306 up, degraded, standby and down states; *unknown* where nobody knows the past.
"""

from __future__ import annotations

from schedules.almanac import Almanac
from schedules.facts import (
    Band,
    MachineFacts,
    MachineState,
    Past,
    TaskState,
    TaskVerdict,
    VesselSort,
    VesselVerdict,
)
from schedules.grounds import day_of
from schedules.intervals import Doings, Item, needs_no_anchor
from schedules.reasons import Reason, ReasonCode, reason

_RANK = {
    MachineState.DOWN: 0,
    MachineState.UNKNOWN: 1,
    MachineState.LAID_UP: 2,
    MachineState.WITH_CARE: 3,
    MachineState.FIT: 4,
}
_HEAD = {
    MachineState.DOWN: ReasonCode.STATE_DOWN,
    MachineState.UNKNOWN: ReasonCode.STATE_UNKNOWN,
    MachineState.LAID_UP: ReasonCode.STATE_LAID_UP,
    MachineState.WITH_CARE: ReasonCode.STATE_WITH_CARE,
    MachineState.FIT: ReasonCode.STATE_FIT,
}
Ground = tuple[MachineState, Reason]


def judge_state(
    facts: MachineFacts,
    *,
    almanac: Almanac,
    items: tuple[Item, ...],
    doings: Doings,
    verdicts: tuple[TaskVerdict, ...],
    fuel: tuple[VesselVerdict, ...],
) -> tuple[MachineState, Reason]:
    """State of the machine on the day, with all its grounds, worst first."""
    grounds = [
        *_faults(facts, almanac),
        *_going_over(items, doings, verdicts),
        *_storage(almanac),
        *_fuel(fuel),
        *_overdue(verdicts),
    ]
    grounds.sort(key=lambda ground: _RANK[ground[0]])
    state = grounds[0][0] if grounds else MachineState.FIT
    children = tuple(ground for _, ground in grounds)
    return state, reason(_HEAD[state], machine=facts.name, children=children)


def _faults(facts: MachineFacts, almanac: Almanac) -> list[Ground]:
    found: list[Ground] = []
    for fault in facts.faults:
        if fault.since.toordinal() > almanac.today:
            continue
        if fault.stops_use:
            ground = reason(ReasonCode.OPEN_FAULT, fault=fault.text, day=fault.since)
            found.append((MachineState.DOWN, ground))
        else:
            # Open and not stopping use it asks for care, whether anybody put the repair off or not.
            code = ReasonCode.REPAIR_PUT_OFF if fault.put_off else ReasonCode.FAULT_KNOWN
            ground = reason(code, fault=fault.text, day=fault.since)
            found.append((MachineState.WITH_CARE, ground))
    for check in facts.failed_checks:
        if check.day.toordinal() <= almanac.today:
            ground = reason(ReasonCode.FAILED_CHECK, task=check.code, day=check.day)
            found.append((MachineState.DOWN, ground))
    return found


def _going_over(
    items: tuple[Item, ...], doings: Doings, verdicts: tuple[TaskVerdict, ...]
) -> list[Ground]:
    """Past unknown and the first going-over not closed: a task not known, or a safety check that
    was only passed over."""
    asked = {
        code: needs_no_anchor(task.rule)
        for item in items
        if item.facts.past is Past.UNKNOWN
        for code, task in item.tasks.items()
    }
    left = 0
    for verdict in verdicts:
        if verdict.code not in asked:
            continue
        looked_at = verdict.safety and not asked[verdict.code]
        passed_over = looked_at and doings.only_passed_over(verdict.code)
        if verdict.state is TaskState.NOT_KNOWN or passed_over:
            left += 1
    if not left:
        return []
    return [(MachineState.UNKNOWN, reason(ReasonCode.PAST_UNKNOWN, left=left))]


def _storage(almanac: Almanac) -> list[Ground]:
    put_away = almanac.put_away_day()
    if put_away is None:
        return []
    until = max(
        (last for first, last in almanac.planned if first <= almanac.today <= last),
        default=None,
    )
    ground = reason(ReasonCode.PUT_AWAY, day=day_of(put_away), until=day_of(until))
    return [(MachineState.LAID_UP, ground)]


def _fuel(fuel: tuple[VesselVerdict, ...]) -> list[Ground]:
    found: list[Ground] = []
    for vessel in fuel:
        if vessel.sort is VesselSort.CAN or vessel.volume_ul == 0:
            continue
        if vessel.band is Band.NOT_FOR_THIS and vessel.sort is VesselSort.TANK:
            ground = reason(ReasonCode.WRONG_FUEL, vessel=vessel.name)
            found.append((MachineState.DOWN, ground))
        elif vessel.band not in (Band.GOOD, Band.USE_FIRST):
            ground = reason(ReasonCode.STALE_FUEL, vessel=vessel.name, band=vessel.band)
            found.append((MachineState.WITH_CARE, ground))
    return found


def _overdue(verdicts: tuple[TaskVerdict, ...]) -> list[Ground]:
    found: list[Ground] = []
    late = [verdict for verdict in verdicts if verdict.state is TaskState.OVERDUE]
    for verdict in sorted(late, key=lambda verdict: not verdict.safety):
        code = ReasonCode.OVERDUE_SAFETY if verdict.safety else ReasonCode.OVERDUE_TASK
        ground = reason(code, task=verdict.code, due=verdict.due)
        found.append((MachineState.WITH_CARE, ground))
    return found
