"""Rows of the work sheet (what was chosen for the time there is) and of the shopping list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from app.sheets.lettering import Text
from app.sheets.preseason import PreSeasonSheet, Stage
from app.sheets.preseason_rows import (
    PaperStep,
    Planned,
    Standing,
    fault_step,
    job_step,
    marks_used,
    sources_used,
    stages_of,
    standings_of,
    tools_of,
)
from app.sheets.said import Phrases, SheetMachine, phrases, rule_of
from app.sheets.steps import Step
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.choice import ToDo, Visit
from schedules.facts import MachineId, Purchase

Machines = Mapping[MachineId, SheetMachine]


def work_of(
    visits: Sequence[Visit],
    machines: Machines,
    *,
    number: str,
    wording: Wording,
    household: str,
    on: date,
) -> PreSeasonSheet:
    """One sheet for all visits, machine by machine. Raises KeyError for a machine not given."""
    stages: list[Stage] = []
    tools: dict[str, None] = {}
    parts: dict[str, int] = {}
    sources: dict[str, None] = {}
    marks: dict[str, None] = {}
    for visit in visits:
        machine = machines[visit.machine_id]
        said = phrases(machine, wording, on)
        planned = _planned(visit, machine)
        stages += _stages(visit, machine, planned, said)
        tools.update(dict.fromkeys(tools_of(planned, said)))
        sources.update(dict.fromkeys(sources_used(planned, said)))
        marks.update(dict.fromkeys(marks_used(planned, said)))
        for name, quantity in _parts(visit, planned, said):
            parts[name] = parts.get(name, 0) + quantity
    return PreSeasonSheet(
        number=number,
        machine=wording.text(msg("Work for the time there is")),
        kind=wording.listed([machines[visit.machine_id].judging.facts.name for visit in visits]),
        icon="",
        place="",
        start=_start(visits, wording),
        bring=(*_counted(parts, wording), *tools),
        stages=tuple(stages),
        sources=tuple(sources),
        marks=tuple(marks),
        household=household,
        printed=wording.text(msg("printed {day}"), day=wording.day(on)),
        rule=rule_of(wording),
        about=wording.text(msg("work sheet")),
    )


def work_steps(
    visits: Sequence[Visit], machines: Machines, *, wording: Wording
) -> tuple[tuple[MachineId, PaperStep], ...]:
    """The steps as they are numbered on the sheet, with the machine each belongs to."""
    found: list[tuple[MachineId, PaperStep]] = []
    for visit in visits:
        machine = machines[visit.machine_id]
        planned = _planned(visit, machine)
        standing = standings_of(planned, wording)
        for state in Standing:
            found += [
                (
                    visit.machine_id,
                    PaperStep(task=plan.task.code, text=wording.task(plan.task.code)),
                )
                for plan in planned
                if standing[plan.task.code] is state
            ]
            if state is Standing.COLD:
                found += [(visit.machine_id, step) for step in _other_paper(visit, machine)]
    return tuple(found)


def _planned(visit: Visit, machine: SheetMachine) -> list[Planned]:
    judging = machine.judging
    verdicts = {verdict.code: verdict for verdict in judging.verdict.tasks}
    return [
        Planned(
            task=judging.task(line.code),
            verdict=replace(verdicts[line.code], minutes=line.minutes),
            extra=False,
            look=line.look,
            how=not line.look,
        )
        for line in visit.lines
        if line.code is not None
    ]


def _stages(
    visit: Visit, machine: SheetMachine, planned: Sequence[Planned], said: Phrases
) -> list[Stage]:
    """The stages of one machine, each under its name."""
    facts = machine.judging.facts
    jobs = [step for line in visit.lines if (step := _other(line, machine, said)) is not None]
    stages = stages_of(machine, planned, standings_of(planned, said.wording), jobs, said)
    titled: list[Stage] = []
    for place, stage in enumerate(stages):
        title = facts.name if not place else f"{facts.name}: {stage.title}"
        if not place and stage.title:
            title = f"{facts.name}: {stage.title}"
        if not place and facts.place:
            title = f"{title} · {facts.place}"
        titled.append(replace(stage, title=title))
    return titled


def _other(line: ToDo, machine: SheetMachine, said: Phrases) -> Step | None:
    facts = machine.judging.facts
    if line.job_id is not None:
        return next(job_step(job, said) for job in facts.jobs if job.job_id == line.job_id)
    if line.fault_id is not None:
        return next(fault_step(one, said) for one in facts.faults if one.fault_id == line.fault_id)
    return None


def _other_paper(visit: Visit, machine: SheetMachine) -> list[PaperStep]:
    facts = machine.judging.facts
    jobs = {job.job_id: job.text for job in facts.jobs}
    faults = {fault.fault_id: fault.text for fault in facts.faults}
    steps: list[PaperStep] = []
    for line in visit.lines:
        if line.job_id is not None:
            steps.append(PaperStep(job_id=line.job_id, text=jobs[line.job_id]))
        elif line.fault_id is not None:
            steps.append(PaperStep(text=faults[line.fault_id]))
    return steps


def _parts(visit: Visit, planned: Sequence[Planned], said: Phrases) -> list[tuple[str, int]]:
    names = {
        (plan.task.code, item.part): said.text(item.name)
        for plan in planned
        for item in plan.task.consumables
    }
    return [
        (names[line.code, part], quantity)
        for line in visit.lines
        if line.code is not None
        for part, quantity in line.parts
        if (line.code, part) in names
    ]


def _counted(parts: Mapping[str, int], wording: Wording) -> list[str]:
    return [
        name if quantity == 1 else wording.text(msg("{n} × {thing}"), n=quantity, thing=name)
        for name, quantity in parts.items()
    ]


def _start(visits: Sequence[Visit], wording: Wording) -> Text:
    minutes = wording.minutes(sum(visit.minutes for visit in visits))
    return wording.text(msg("{time}, getting at each machine counted"), time=minutes)


# -- the shopping list ------------------------------------------------------------------------


def shopping_of(
    bought: Sequence[Purchase],
    names: Mapping[MachineId, str],
    *,
    wording: Wording,
    household: str,
    on: date,
) -> PreSeasonSheet:
    """What to buy for the whole shed, by the day it has to be ordered."""
    by_day: dict[str, list[Step]] = {}
    for purchase in sorted(bought, key=lambda one: (one.buy_by or date.max, one.name)):
        label = wording.text(msg("When you next pass the shop"))
        if purchase.buy_by is not None:
            late = purchase.buy_by < on
            said = msg("Now: it should have been ordered") if late else msg("Order by {day}")
            label = wording.text(said, day=wording.day_long(purchase.buy_by))
        by_day.setdefault(label, []).append(
            Step(
                what=wording.text(
                    msg("{n} × {thing}"), n=purchase.quantity, thing=wording.text(purchase.name)
                ),
                how=wording.listed(
                    [names[number] for number in purchase.machine_ids if number in names]
                ),
                look=True,
            )
        )
    return PreSeasonSheet(
        number="",
        machine=wording.text(msg("Shopping list")),
        kind=household,
        icon="",
        place="",
        start="",
        stages=tuple(Stage(title=label, steps=tuple(steps)) for label, steps in by_day.items()),
        household=household,
        printed=wording.text(msg("printed {day}"), day=wording.day(on)),
        rule=rule_of(wording),
        about=wording.text(msg("what to buy")),
        listed=True,
    )
