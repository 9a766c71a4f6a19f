"""Rows of the rescue page: from the record of a machine to what its page says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from app.sheets.buyer_rows import needs_of
from app.sheets.photos import PaperPhoto
from app.sheets.pieces import Fact
from app.sheets.rescue import RescueSheet, Row
from app.sheets.said import Phrases, SheetMachine, phrases
from app.sheets.wear_rows import WearRows, wear_rows
from app.wording.languages import msg
from app.wording.wording import Wording
from models.changes import Area
from models.facts.records import RecordedEntry
from models.facts.rescue import RescueRecord
from models.words import LineOutcome, PaymentSort
from schedules.facts import Direction, LimitReading, Past, TaskCode

_SOONEST = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """What the file tells beside the verdict. `compared`: comparisons in words already; `first`:
    how much the first going-over is, where something is not known."""

    record: RescueRecord
    entries: tuple[RecordedEntry, ...]
    compared: tuple[str, ...]
    currency: str
    first: str = ""
    photos: tuple[PaperPhoto, ...] = ()


def rescue_of(
    machine: SheetMachine, story: Story, *, wording: Wording, household: str, on: date
) -> RescueSheet:
    """The page of one machine."""
    said = phrases(machine, wording, on)
    facts = machine.judging.facts
    plots = _plots(machine, wording)
    needs = needs_of(machine, said, most=_SOONEST)
    return RescueSheet(
        machine=facts.name,
        kind=wording.kind(facts.kind.code),
        icon=facts.kind.icon,
        state=wording.standing(machine.judging.verdict.reason),
        came=_came(machine, story, said),
        found=_found(machine, story, said),
        done=_done(story, said),
        measured=_measured(machine, said),
        compared=story.compared,
        plot=plots[0].plot if plots else None,
        spent=_spent(story, said),
        photos=story.photos,
        needs=(
            *((need.by, need.what, need.because) for need in needs),
            *_not_known(story, said),
        ),
        household=household,
        printed=said.printed(),
    )


def _not_known(story: Story, said: Phrases) -> tuple[Row, ...]:
    """What nobody knows of is no lack of need: how much of it there is, and how it is got over."""
    if not story.first:
        return ()
    return (("", story.first, said.text(msg("nobody knows when these were done last"))),)


def _came(machine: SheetMachine, story: Story, said: Phrases) -> tuple[Fact, ...]:
    facts, words = machine.judging.facts, said.wording
    came = msg("{day}, new") if facts.past is Past.NEW else msg("{day}, used")
    bought = [one for one in story.record.paid if one.sort is PaymentSort.BOUGHT]
    start = facts.items[0].hours.at_start
    known = [
        Fact(label=said.text(msg("Came on")), value=said.text(came, day=words.day(facts.came_on))),
        Fact(
            label=said.text(msg("Hours then")),
            value=said.text(msg("not known")) if start is None else words.run_time(start),
        ),
    ]
    if bought:
        cents = sum(one.cents for one in bought)
        known.append(
            Fact(label=said.text(msg("Paid for it")), value=words.money(cents, story.currency))
        )
    if story.record.note:
        known.append(Fact(label=said.text(msg("Noted")), value=story.record.note[:200]))
    return tuple(known)


def _found(machine: SheetMachine, story: Story, said: Phrases) -> tuple[Row, ...]:
    """What was wrong, and what measuring showed to be past its limit, oldest first."""
    words = said.wording
    rows: list[tuple[date, Row]] = []
    for one in story.record.wrong:
        how = said.text(msg("still so"))
        if one.closed_on is not None:
            day = words.day(one.closed_on)
            how = said.text(msg("put right {day}"), day=day)
            how = f"{how}: {one.closed_how}" if one.closed_how else how
        rows.append((one.since, (words.day(one.since), one.text, how)))
    for reading in _readings(machine):
        limit = said.limits.get(reading.limit)
        if limit is None or reading.after_work:
            continue
        if limit.direction is Direction.EVENT and reading.seen:
            rows.append(
                (
                    reading.day,
                    (words.day(reading.day), words.limit(limit.code), words.text(limit.event)),
                )
            )
    return tuple(row for _, row in sorted(rows, key=lambda each: each[0]))


def _done(story: Story, said: Phrases) -> tuple[Row, ...]:
    """Work in force, each record a row: first what was renewed, put right or measured with it,
    in the order it was done, for that is the story; then the upkeep, newest first."""
    words = said.wording
    rows: list[Row] = []
    upkeep: list[Row] = []
    for entry in story.entries:
        if entry.area is not Area.WORK or entry.superseded:
            continue
        lines = [
            line for line in entry.lines if line.outcome in (LineOutcome.DONE, LineOutcome.REPLACED)
        ]
        if not lines:
            continue
        what = "; ".join(_line(line.task_code, line.job_text, said) for line in lines)
        how = [line.part_text for line in lines if line.part_text]
        if entry.minutes:
            how.append(words.minutes(entry.minutes))
        if entry.note:
            how.append(entry.note)
        told = any(line.outcome is LineOutcome.REPLACED or line.job_text for line in lines)
        (rows if told else upkeep).append((words.day(entry.day), what, ", ".join(how)))
    return (*reversed(rows), *upkeep)


def _line(task: str, job: str, said: Phrases) -> str:
    return said.wording.task(TaskCode(task)) if task else job


def _readings(machine: SheetMachine) -> list[LimitReading]:
    found = [one for item in machine.judging.facts.items for one in item.readings]
    return sorted(found, key=lambda one: one.day)


def _measured(machine: SheetMachine, said: Phrases) -> tuple[Row, ...]:
    """Of each measurement the first and the last, and where it is worn."""
    words = said.wording
    by: dict[tuple[str, str], list[LimitReading]] = {}
    for one in _readings(machine):
        if one.amount is not None and one.limit in said.limits:
            by.setdefault((str(one.code), str(one.limit)), []).append(one)
    rows: list[Row] = []
    for readings in by.values():
        first, last = readings[0], readings[-1]
        limit = said.limits[last.limit]
        amounts = words.amount(limit, last.amount)
        if len(readings) > 1:
            amounts = said.text(
                msg("{first}, now {last}"),
                first=words.amount(limit, first.amount),
                last=amounts,
            )
        if limit.low is not None or limit.high is not None:
            text = msg("worn when {worn}") if limit.wears else msg("act when {worn}")
            worn = said.text(text, worn=words.worn_when(limit))
            amounts = f"{amounts} ({worn})"
        rows.append((words.day(last.day), words.limit(limit.code), amounts))
    return tuple(rows)


def _spent(story: Story, said: Phrases) -> tuple[Fact, ...]:
    """Money by what it went on, and own hours; what it brought is not spent."""
    words = said.wording
    work = [one for one in story.entries if one.area is Area.WORK and not one.superseded]
    sums: dict[str, int] = {}
    for one in story.record.paid:
        if one.sort is not PaymentSort.SOLD:
            label = words.word(one.sort)
            sums[label] = sums.get(label, 0) + one.cents
    parts = sum(line.cents or 0 for one in work for line in one.lines)
    shop = sum(one.cents or 0 for one in work)
    for label, cents in ((msg("parts fitted"), parts), (msg("workshop"), shop)):
        if cents:
            named = said.text(label)
            sums[named] = sums.get(named, 0) + cents
    facts = [
        Fact(label=label[:1].upper() + label[1:], value=words.money(cents, story.currency))
        for label, cents in sums.items()
    ]
    if len(sums) > 1:
        total = words.money(sum(sums.values()), story.currency)
        facts.append(Fact(label=said.text(msg("In all")), value=total))
    minutes = sum(one.minutes or 0 for one in work)
    if minutes:
        facts.append(Fact(label=said.text(msg("Own time")), value=words.minutes(minutes)))
    return tuple(facts)


def _plots(machine: SheetMachine, wording: Wording) -> Sequence[WearRows]:
    """Courses that carry a line or a day, those with the most readings first."""
    found: list[WearRows] = []
    for item in machine.judging.items:
        for task in item.tasks.values():
            for code in task.rule.limits:
                limit = item.limits[code]
                rows = wear_rows(machine.judging, task, limit, wording) if limit.wears else None
                if rows is not None and len(rows.table) > 1:
                    found.append(rows)
    return sorted(found, key=lambda rows: -len(rows.table))
