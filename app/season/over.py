"""What a first going-over leaves for later: parts to buy first, what can wait, looks to be had
again. No Qt, no file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from app.fleet.names import plain_name
from app.season.laying import Row
from app.wording.languages import msg
from app.wording.sittings import SittingWords
from models.acts.jobs import NoteJob
from schedules.facts import MachineId, Phase, TaskCode
from schedules.going_over import GoingOver, checked_again
from schedules.plan import Judging
from schedules.sitting_facts import RunSort, Stage, Step

LOOK_MINUTES = 15
# A job has room for so much; all of it stands in its note.
NAMED = 4


def jobs_before(
    row: Row,
    sort: RunSort,
    numbers: Sequence[MachineId],
    passed: Mapping[MachineId, frozenset[TaskCode]],
    said: SittingWords,
) -> list[NoteJob]:
    """The jobs a first going-over begins with; other sittings have none."""
    if sort is not RunSort.GOING_OVER:
        return []
    going = row.going_over(numbers, passed=passed)
    return [job for one in going for job in first_jobs(one, said, on=row.on)]


def jobs_after(
    row: Row, sort: RunSort, numbers: Sequence[MachineId], said: SittingWords
) -> list[NoteJob]:
    """The jobs a first going-over ends with; other sittings have none."""
    if sort is not RunSort.GOING_OVER:
        return []
    machines = [row.machines[number] for number in numbers]
    return [job for one in machines for job in looks_again(one, said, on=row.on)]


def first_jobs(going: GoingOver, said: SittingWords, *, on: date) -> tuple[NoteJob, ...]:
    """What the going-over needs bought before it, and what waits for a quieter time."""
    words, number = said.words, int(going.ask.facts.machine_id)
    found: list[NoteJob] = []
    if going.to_buy:
        parts = [
            words.text(part.name)
            if part.quantity == 1
            else words.text(msg("{n} × {thing}"), n=part.quantity, thing=words.text(part.name))
            for part in going.to_buy
        ]
        text = words.text(msg("Buy before the going-over: {what}"), what=_short(parts, said))
        note = words.listed(parts)
        found.append(NoteJob(machine_id=number, text=text, noted_on=on, due_on=on, note=note))
    if going.can_wait:
        tasks = [words.task(code) for code in going.can_wait]
        text = words.text(msg("Waits since the going-over: {what}"), what=_short(tasks, said))
        minutes = sum(
            task.do_minutes
            for item in going.ask.facts.items
            for task in item.tasks
            if task.code in going.can_wait
        )
        found.append(
            NoteJob(
                machine_id=number,
                text=text,
                noted_on=on,
                phase=Phase.OFF,
                minutes=minutes,
                note=words.listed(tasks),
            )
        )
    return tuple(found)


def _short(parts: list[str], said: SittingWords) -> str:
    if len(parts) <= NAMED:
        return said.words.listed(parts)
    more = said.words.text(msg("{n} more"), n=len(parts) - NAMED + 1)
    return said.words.listed([*parts[: NAMED - 1], more])


def looks_again(judging: Judging, said: SittingWords, *, on: date) -> tuple[NoteJob, ...]:
    """Looked at again after one, five and twenty-five hours of running from now on."""
    seconds = judging.verdict.hours.seconds
    return tuple(
        NoteJob(
            machine_id=int(judging.facts.machine_id),
            text=said.words.count(
                msg("Look at it again after {n} hour of running: leaks, bolts, oil, belts"),
                msg("Look at it again after {n} hours of running: leaks, bolts, oil, belts"),
                again.after_seconds // 3600,
            ),
            noted_on=on,
            at_seconds=again.at_seconds,
            minutes=LOOK_MINUTES,
        )
        for again in checked_again(0 if seconds is None else int(seconds))
    )


def with_passed(
    steps: tuple[Step, ...], sort: RunSort, passed: Mapping[MachineId, frozenset[TaskCode]]
) -> tuple[Step, ...]:
    """The list with what is passed over taken as done at each machine's last step, so that the
    plan counts from that day."""
    if sort is not RunSort.GOING_OVER:
        return steps
    return tuple(
        replace(step, passes=(*step.passes, *sorted(passed.get(step.machine_ids[0], ()))))
        if step.stage is Stage.LAST and len(step.machine_ids) == 1
        else step
        for step in steps
    )


def unknown_choices(
    machines: Mapping[MachineId, Judging],
    unknown: Mapping[MachineId, list[TaskCode]],
    said: SittingWords,
) -> tuple[tuple[str, str], ...]:
    """The work nobody knows about, to be taken as done instead; named with its machine where there
    are several."""
    words = said.words
    found: list[tuple[str, str]] = []
    for number, codes in unknown.items():
        name = plain_name(machines[number].facts.name)
        for code in codes:
            task = words.task(code)
            if len(unknown) > 1:
                task = words.text(msg("{machine}: {question}"), machine=name, question=task)
            found.append((f"{number}/{code}", task))
    return tuple(found)
