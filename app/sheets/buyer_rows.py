"""Rows of the page for the buyer: what is known, what nobody knows, what was found and done."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.sheets.buyer import BuyerSheet, Done, Measured, Need
from app.sheets.lettering import Text, reckoned
from app.sheets.photos import PaperPhoto
from app.sheets.pieces import Fact
from app.sheets.said import READ, Phrases, SheetMachine, held, phrases
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import (
    Direction,
    GovernedBy,
    LimitCode,
    LimitReading,
    Past,
    TaskCode,
    TaskState,
    TaskVerdict,
    VesselSort,
    VesselVerdict,
)

_MOST_UNKNOWN = 8
_MOST_NEEDS = 8
_NEEDED = (TaskState.OVERDUE, TaskState.DUE, TaskState.COMING)


def page_of(
    machine: SheetMachine,
    *,
    spent: tuple[Fact, ...],
    wording: Wording,
    household: str,
    on: date,
    photos: tuple[PaperPhoto, ...] = (),
) -> BuyerSheet:
    """The page of one machine; `spent` is empty unless the owner wants it told."""
    facts = machine.judging.facts
    said = phrases(machine, wording, on)
    return BuyerSheet(
        machine=facts.name,
        kind=wording.kind(facts.kind.code),
        icon=facts.kind.icon,
        state=wording.standing(machine.judging.verdict.reason),
        known=_known(machine, said),
        unknown=_unknown(machine, said),
        faults=_faults(machine, said),
        measured=_measured(machine, said),
        done=_done(machine, said),
        spent=spent,
        needs=needs_of(machine, said),
        handed_over=tuple(
            said.text(thing)
            for thing in (msg("manual"), msg("keys"), msg("spare parts"), msg("this page"))
        ),
        photos=photos,
        household=household,
        printed=said.printed(),
    )


def _held(vessel: VesselVerdict, said: Phrases) -> str:
    if vessel.volume_ul:
        return said.wording.litres(vessel.volume_ul)
    return said.text(msg("empty")) if vessel.entered else said.text(msg("nothing entered"))


def _known(machine: SheetMachine, said: Phrases) -> tuple[Fact, ...]:
    facts = machine.judging.facts
    day = said.wording.day
    came = msg("{day}, new") if facts.past is Past.NEW else msg("{day}, used")
    notes = machine.notes
    fuel = [
        _held(vessel, said)
        for vessel in machine.judging.verdict.fuel
        if vessel.sort is VesselSort.TANK
    ]
    asleep = [
        storage.put_away_on
        for storage in facts.storage
        if storage.put_away_on <= said.on
        and (storage.woken_on is None or storage.woken_on > said.on)
    ]
    return held(
        (
            Fact(label=said.text(msg("Came on")), value=said.text(came, day=day(facts.came_on))),
            Fact(label=said.text(msg("Hours")), value=_hours(machine, said)),
            Fact(label=said.text(msg("Stands in")), value=facts.place),
            Fact(label=said.text(msg("Oil")), value=notes.oil),
            Fact(label=said.text(msg("Spark plug")), value=notes.plug),
            Fact(label=said.text(msg("Fuel in the tank")), value="; ".join(fuel)),
            Fact(label=said.text(msg("Put away")), value=day(max(asleep)) if asleep else ""),
        )
    )


def _hours(machine: SheetMachine, said: Phrases) -> Text:
    """Run time of today, and the last time it was read off; leaning when it is reckoned."""
    now = machine.judging.verdict.hours
    readings = [
        reading
        for reading in machine.judging.facts.items[0].hours.readings
        if reading.day <= said.on
    ]
    words = said.wording.hours_now(now)
    if not readings:
        return words if now.basis in READ else (reckoned(words),)
    last = max(readings, key=lambda reading: reading.day)
    read = said.text(
        msg("{hours} read on {day}"),
        hours=said.wording.run_time(last.seconds),
        day=said.wording.day(last.day),
    )
    if now.seconds == last.seconds:
        return read
    return (reckoned(said.text(msg("{now}; {read}"), now=words, read=read)),)


def _unknown(machine: SheetMachine, said: Phrases) -> tuple[str, ...]:
    facts = machine.judging.facts
    lines: list[str] = []
    if facts.past is Past.UNKNOWN:
        day = said.wording.day(facts.came_on)
        lines.append(said.text(msg("What was done to it before {day}"), day=day))
        if facts.items[0].hours.at_start is None:
            lines.append(said.text(msg("How long it ran before {day}"), day=day))
    open_points = [
        verdict.code
        for verdict in machine.judging.verdict.tasks
        if verdict.state is TaskState.NOT_KNOWN
    ]
    room = max(0, _MOST_UNKNOWN - len(lines))
    lines += [
        said.text(msg("When last: {task}"), task=said.wording.task(code))
        for code in open_points[:room]
    ]
    if len(open_points) > room:
        lines.append(said.text(msg("and {n} more"), n=len(open_points) - room))
    return tuple(lines)


def _faults(machine: SheetMachine, said: Phrases) -> tuple[str, ...]:
    facts = machine.judging.facts
    lines = [
        said.text(
            msg("{fault} (since {day}; put off)")
            if fault.put_off
            else msg("{fault} (since {day}; not to be used)")
            if fault.stops_use
            else msg("{fault} (since {day})"),
            fault=fault.text,
            day=said.wording.day(fault.since),
        )
        for fault in facts.faults
        if fault.since <= said.on
    ]
    lines += [
        said.text(
            msg("Failed: {task} ({day})"),
            task=said.wording.task(check.code),
            day=said.wording.day(check.day),
        )
        for check in facts.failed_checks
        if check.day <= said.on
    ]
    return tuple(lines)


def _measured(machine: SheetMachine, said: Phrases) -> tuple[Measured, ...]:
    """The last reading of each thing measured, newest first."""
    last: dict[tuple[TaskCode, LimitCode], LimitReading] = {}
    for item in machine.judging.facts.items:
        for reading in item.readings:
            if reading.day > said.on or reading.limit not in said.limits:
                continue
            key = (reading.code, reading.limit)
            if key not in last or last[key].day <= reading.day:
                last[key] = reading
    return tuple(
        _measured_row(reading, said)
        for reading in sorted(last.values(), key=lambda found: (-found.day.toordinal(), found.code))
    )


def _measured_row(reading: LimitReading, said: Phrases) -> Measured:
    limit = said.limits[reading.limit]
    if limit.direction is Direction.EVENT:
        found = said.text(msg("seen")) if reading.seen else said.text(msg("not seen"))
    elif reading.amount is None:
        found = said.text(msg("not known"))
    else:
        found = said.amount(limit, reading.amount)
    return Measured(
        day=said.wording.day(reading.day),
        what=said.wording.limit(limit.code),
        found=found,
        worn_when=said.worn_when(limit),
    )


def _done(machine: SheetMachine, said: Phrases) -> tuple[Done, ...]:
    """Work that was really done, newest first; what was passed over is not work."""
    done = [
        doing
        for item in machine.judging.facts.items
        for doing in item.doings
        if doing.day <= said.on and not doing.assumed
    ]
    return tuple(
        Done(
            day=said.wording.day(doing.day),
            what=said.wording.task(doing.code),
            note=said.text(msg("renewed")) if doing.replaced else "",
        )
        for doing in sorted(done, key=lambda found: (-found.day.toordinal(), found.code))
    )


def _is_found(task: TaskVerdict) -> bool:
    """Whether measuring found it past its limit, though it may wait for the eve of use."""
    return task.governed_by is GovernedBy.READING and task.replacement


def needs_of(machine: SheetMachine, said: Phrases, *, most: int = _MOST_NEEDS) -> tuple[Need, ...]:
    """What is due or coming up, soonest first, one-offs among it; of more than `most` the number
    is said."""
    texts: Mapping[int, str] = {int(job.job_id): job.text for job in machine.judging.facts.jobs}
    verdict = machine.judging.verdict
    dated: list[tuple[date, str, str]] = [
        (
            task.due,
            said.wording.task(task.code),
            said.text(
                msg("because of {ground}"), ground=said.wording.governed_by(task.governed_by)
            ),
        )
        for task in verdict.tasks
        if task.due is not None and (task.state in _NEEDED or _is_found(task))
    ]
    dated += [(job.due, texts[int(job.job_id)], "") for job in verdict.jobs if job.due is not None]
    dated.sort(key=lambda need: need[0])
    needs = [
        Need(
            by=said.text(msg("now")) if day <= said.on else said.wording.day(day),
            what=what,
            because=because,
        )
        for day, what, because in dated[:most]
    ]
    if len(dated) > most:
        more = said.text(msg("and {n} more"), n=len(dated) - most)
        needs.append(Need(by="", what=more))
    return tuple(needs)
