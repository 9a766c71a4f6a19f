"""Rows of the pre-season sheet, from what the engine judged.

The engine's list is put into three states of the machine (cold, running, just stopped) without
breaking an order that must be kept; the safety checks of each use join it, since before a season
they are all looked at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import IntEnum, StrEnum

from app.sheets.first_looks import FIRST_MINUTES, first_looks, things_left, walk_round
from app.sheets.lettering import Text, reckoned
from app.sheets.pieces import Answer, Blank, Caution, Choice, Fact
from app.sheets.preseason import Buying, PreSeasonSheet, Stage
from app.sheets.said import LETTERS, Phrases, SheetMachine, held, limits_of, phrases, rule_of
from app.sheets.steps import Finding, Step
from app.sheets.wear_rows import governing_plots
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import (
    CautionCode,
    Direction,
    FaultFacts,
    FeatureCode,
    JobFacts,
    JobId,
    LimitFacts,
    Mark,
    Purchase,
    TaskCode,
    TaskFacts,
    TaskSort,
    TaskState,
    TaskVerdict,
    VesselSort,
)
from schedules.plan import Judging
from schedules.units import Unit
from schedules.workload import befores, order_of_work

ELSEWHERE = msg("How each step is done stands in the program, beside its name.")
STOP = CautionCode("C-STOP")
FUMES = CautionCode("C-CO")


class Detail(StrEnum):
    """Where a sheet says how a step is done: nowhere, where there is work, everywhere."""

    BRIEF = "brief"
    WORK = "work"
    FULL = "full"


_STARTS = frozenset({TaskCode("E4-24"), TaskCode("E2-17")})
"""Tasks whose finding is how often the cord was pulled."""


class Standing(IntEnum):
    """The state the machine is in, in the order a sheet goes through them."""

    COLD = 0
    RUNNING = 1
    STOPPED = 2


_OPENINGS: Mapping[str, Standing] = {
    "warm-run": Standing.RUNNING,
    "water-on": Standing.RUNNING,
    "after-run": Standing.STOPPED,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """A task of the sheet with its verdict; `extra`: a check of each use that joined the list;
    `look`: part of the walk-round; `how`: whether the sheet says how it is done; `first`: one of
    the first looks at a machine nobody knows; `later`: work at such a machine that no look tells
    the need of, for another day."""

    task: TaskFacts
    verdict: TaskVerdict
    extra: bool
    look: bool
    how: bool = True
    first: bool = False
    later: bool = False


def sheet_of(
    machine: SheetMachine,
    *,
    number: str,
    bought: Sequence[Purchase],
    wording: Wording,
    household: str,
    on: date,
    detail: Detail,
) -> PreSeasonSheet:
    """The sheet of one machine. `bought`: what the household is to buy, for all machines."""
    facts = machine.judging.facts
    said = phrases(machine, wording, on)
    every = _planned(machine, wording)
    planned = [plan for plan in every if not plan.later]
    standing = standings_of(planned, wording)
    jobs = _jobs(machine, said)
    shown = [replace(plan, how=_how_shown(plan, detail)) for plan in planned]
    stages = stages_of(machine, shown, standing, jobs, said)
    return PreSeasonSheet(
        number=number,
        machine=facts.name,
        kind=wording.kind(facts.kind.code),
        icon=facts.kind.icon,
        place=facts.place,
        start=_start(machine, planned, said),
        facts=_facts(machine, said),
        # What work nobody has looked at yet may need is on the shopping list, not on this leaf.
        buying=() if any(plan.first for plan in planned) else _buying(machine, bought, said),
        bring=tools_of(planned, said),
        last_time=machine.notes.last_time,
        stages=stages,
        later=tuple(
            f"{wording.task(plan.task.code)} {wording.minutes(plan.verdict.minutes)}"
            for plan in every
            if plan.later
        ),
        sources=sources_used(planned, said),
        marks=marks_used(planned, said),
        household=household,
        printed=said.printed(),
        plots=governing_plots(machine.judging, wording),
        rule=rule_of(wording),
        elsewhere=said.text(ELSEWHERE) if detail is Detail.BRIEF else "",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperStep:
    """What a numbered step of the sheet is: a task, a one-off, or a known fault (neither)."""

    task: TaskCode | None = None
    job_id: JobId | None = None
    text: str


def steps_of(machine: SheetMachine, *, wording: Wording, on: date) -> tuple[PaperStep, ...]:
    """The steps as they are numbered on paper; the first is step 1. So *all but step 3* can be
    read back."""
    planned = [plan for plan in _planned(machine, wording) if not plan.later]
    standing = standings_of(planned, wording)
    steps: list[PaperStep] = []
    engine = machine.judging.facts.kind.has_engine
    first = [plan for plan in planned if plan.first]
    if first:
        steps += [PaperStep(text=wording.text(name)) for name, _, _ in walk_round(engine=engine)]
        steps += [_paper(plan, wording) for plan in first]
    for state in Standing:
        steps += [
            _paper(plan, wording)
            for plan in planned
            if standing[plan.task.code] is state and not plan.first
        ]
        if state is Standing.COLD:
            steps += [PaperStep(job_id=job.job_id, text=job.text) for job in _due_jobs(machine)]
            steps += [PaperStep(text=fault.text) for fault in _known_faults(machine, on)]
    return tuple(steps)


def _paper(plan: Planned, wording: Wording) -> PaperStep:
    return PaperStep(task=plan.task.code, text=wording.task(plan.task.code))


# -- which tasks, in which order --------------------------------------------------------------


def _planned(machine: SheetMachine, wording: Wording) -> list[Planned]:
    judging = machine.judging
    verdicts = {verdict.code: verdict for verdict in judging.verdict.tasks}
    listed = [code for line in machine.season.lines for code in line.codes]
    extra = [
        code
        for code in judging.verdict.each_use
        if code not in listed and judging.task(code).safety
    ]
    if not extra:
        order: Iterable[TaskCode] = listed
    else:
        codes = [*listed, *extra]
        order = order_of_work(
            codes,
            tasks={code: judging.task(code) for code in codes},
            minutes={code: verdicts[code].minutes for code in codes},
            precedence=wording.catalogue.precedence,
        )
    looks = {code for line in machine.season.lines if line.walk_round for code in line.codes}
    ordered = list(order)
    if not things_left(judging):
        return [
            Planned(
                task=judging.task(code),
                verdict=verdicts[code],
                extra=code in extra,
                look=code in looks or code in extra,
            )
            for code in ordered
        ]
    first = first_looks(
        [judging.task(code) for code in ordered],
        befores(wording.catalogue.precedence),
        minutes=FIRST_MINUTES - len(walk_round(engine=judging.facts.kind.has_engine)),
    )
    return [_going_over(judging, verdicts[code], first=code in first) for code in ordered]


def _going_over(judging: Judging, verdict: TaskVerdict, *, first: bool) -> Planned:
    """A task at a machine nobody knows: a look wherever one tells whether there is work."""
    task = judging.task(verdict.code)
    unknown = verdict.state is TaskState.NOT_KNOWN
    look = first or task.safety or (unknown and task.sort is not TaskSort.PREDETERMINED)
    return Planned(
        task=task,
        verdict=replace(verdict, minutes=task.look_minutes) if look else verdict,
        extra=False,
        look=look,
        first=first,
        later=unknown and not look,
    )


def _how_shown(plan: Planned, detail: Detail) -> bool:
    return detail is Detail.FULL or (detail is Detail.WORK and (plan.first or not plan.look))


def standings_of(planned: Sequence[Planned], wording: Wording) -> dict[TaskCode, Standing]:
    """The state each task is done in: its own, or a later one when what precedes it needs that."""
    before = befores(wording.catalogue.precedence)
    found: dict[TaskCode, Standing] = {}
    for plan in planned:
        own = _OPENINGS.get(plan.task.opening, Standing.COLD)
        earlier = [found[code] for code in before.get(plan.task.code, ()) if code in found]
        state = max([own, *earlier])
        if state is Standing.RUNNING and own is Standing.COLD:
            state = Standing.STOPPED
        found[plan.task.code] = state
    return found


# -- stages and steps -------------------------------------------------------------------------


def stages_of(
    machine: SheetMachine,
    planned: Sequence[Planned],
    standing: Mapping[TaskCode, Standing],
    jobs: Sequence[Step],
    said: Phrases,
) -> tuple[Stage, ...]:
    engine = machine.judging.facts.kind.has_engine
    stages = _first_stage([plan for plan in planned if plan.first], said, engine=engine)
    for state in Standing:
        plans = [plan for plan in planned if standing[plan.task.code] is state and not plan.first]
        steps = [_step(plan, said) for plan in plans]
        stopped = any(STOP in plan.task.cautions for plan in plans)
        if state is Standing.COLD:
            steps += jobs
            stopped = stopped or bool(jobs)  # whatever a one-off is, hands go into the machine
        if not steps:
            continue
        first: list[Caution] = []
        if state is not Standing.RUNNING and stopped:
            first.append(said.caution(STOP, _hands_off(said, engine=engine)))
        if state is Standing.RUNNING and engine:
            first.append(said.caution(FUMES))
        stages.append(
            Stage(
                title=_stage_title(state, said, again=bool(stages)),
                tick=_ready(machine, said) if state is Standing.RUNNING else "",
                cautions=tuple(first),
                steps=tuple(steps),
            )
        )
    return tuple(stages)


def _first_stage(plans: Sequence[Planned], said: Phrases, *, engine: bool) -> list[Stage]:
    """The first looks at a machine nobody knows, with their own minutes; none otherwise."""
    if not plans:
        return []
    good = Finding(answers=(Choice(words=(said.text(msg("ok")), said.text(msg("not ok")))),))
    beside = [
        Step(
            what=said.text(name),
            how=said.text(how),
            findings=(good,),
            minutes=said.wording.minutes(1),
            cautions=(said.caution(caution),),
            look=True,
        )
        for name, how, caution in walk_round(engine=engine)
    ]
    minutes = said.wording.minutes(_first_minutes(plans, engine=engine))
    return [
        Stage(
            title=said.text(msg("First looks: {minutes}"), minutes=minutes),
            # Hands go behind the starter and to every guard, whatever else is looked at.
            cautions=(said.caution(STOP, _hands_off(said, engine=engine)),),
            steps=(*beside, *(_step(plan, said) for plan in plans)),
        )
    ]


def _first_minutes(plans: Sequence[Planned], *, engine: bool) -> int:
    return sum(plan.verdict.minutes for plan in plans) + len(walk_round(engine=engine))


def _hands_off(said: Phrases, *, engine: bool) -> str:
    if engine:
        return said.text(
            msg("Key out, plug lead off and tied back. Nothing below until this box is ticked.")
        )
    return said.text(msg("Key out, pack or plug out. Nothing below until this box is ticked."))


def _stage_title(state: Standing, said: Phrases, *, again: bool) -> str:
    match state:
        case Standing.COLD:
            return said.text(msg("Then the other looks")) if again else ""
        case Standing.RUNNING:
            return said.text(msg("Now let it run"))
        case Standing.STOPPED:
            return said.text(msg("Stopped again, still warm"))


def _ready(machine: SheetMachine, said: Phrases) -> str:
    """How the machine is made ready to run, by what it has."""
    if not machine.judging.facts.kind.has_engine:
        return said.text(msg("Pack or plug IN, key IN. Everything fitted, nobody in front."))
    valve = machine.features.get(FeatureCode("fuel-valve"))
    if FeatureCode("fuel-valve") not in machine.judging.facts.kind.features or valve == "no":
        return said.text(msg("Lead ON, key IN, fuel in it. Outdoors, nobody in front."))
    if valve == "yes":
        return said.text(
            msg("Lead ON, key IN, fuel valve ON, wait 2 minutes. Outdoors, nobody in front.")
        )
    return said.text(
        msg("Lead ON, key IN, fuel valve (if any) ON, wait 2 minutes. Outdoors, nobody in front.")
    )


def _step(plan: Planned, said: Phrases) -> Step:
    task = plan.task
    minutes = said.wording.minutes(plan.task.look_minutes if plan.first else plan.verdict.minutes)
    if plan.extra and not plan.first:
        minutes = said.text(msg("each time"))
    stop = ""
    if task.stop_use_if:
        stop = said.text(msg("Stop use if {condition}."), condition=said.text(task.stop_use_if))
    return Step(
        what=said.wording.task(task.code),
        how=said.text(task.how) if plan.how else "",
        findings=_findings(task, said),
        stop=stop,
        minutes=minutes,
        cautions=tuple(said.caution(code) for code in dict.fromkeys(task.cautions)),
        look=plan.look,
    )


def _findings(task: TaskFacts, said: Phrases) -> tuple[Finding, ...]:
    """A blank for each thing measured; what is only seen is good or not, once. Where nothing hangs
    on it, the tick of the step says enough."""
    limits = limits_of(task.rule.limits, said)
    measured = [limit for limit in limits if limit.direction is not Direction.EVENT]
    seen = [limit for limit in limits if limit.direction is Direction.EVENT]
    good = (Choice(words=(said.text(msg("ok")), said.text(msg("not ok")))),)
    found: list[Finding] = []
    if task.code in _STARTS:
        found.append(Finding(answers=(Blank(unit=said.text(msg("pulls"))),)))
    if task.safety or seen:
        found.append(Finding(answers=good))
    found += [
        Finding(
            limit=_limit_words(limit, said, named=len(limits) > 1 or limit.unit is Unit.COUNT),
            mark=said.letters(limit),
            answers=_blanks(limit, said),
        )
        for limit in measured
    ]
    return tuple(found)


def _limit_words(limit: LimitFacts, said: Phrases, *, named: bool) -> Text:
    bound = said.bound(limit)
    if not named:
        return bound
    name = said.wording.limit(limit.code)
    if limit.low is None and limit.high is None:
        return said.text(msg("{name}, see your manual"), name=name)
    return said.text(msg("{name} {limit}"), name=name, limit=bound)


def _blanks(limit: LimitFacts, said: Phrases) -> tuple[Answer, ...]:
    unit = said.symbol(limit)
    if limit.both_sides:
        return (
            Blank(label=said.text(msg("L"))),
            Blank(label=said.text(msg("R")), unit=unit),
        )
    return (Blank(unit=unit),)


def _due_jobs(machine: SheetMachine) -> list[JobFacts]:
    """The one-offs that fall due by then, and those without a day."""
    judging = machine.judging
    by_id = {job.job_id: job for job in judging.facts.jobs}
    until = machine.season.eve
    return [
        by_id[verdict.job_id]
        for verdict in judging.verdict.jobs
        if verdict.due is None or until is None or verdict.due <= until
    ]


def _known_faults(machine: SheetMachine, on: date) -> list[FaultFacts]:
    return [fault for fault in machine.judging.facts.faults if fault.since <= on]


def _jobs(machine: SheetMachine, said: Phrases) -> list[Step]:
    """One-offs that fall due by then, and faults that were put off."""
    steps = [job_step(job, said) for job in _due_jobs(machine)]
    steps += [fault_step(fault, said) for fault in _known_faults(machine, said.on)]
    return steps


def fault_step(fault: FaultFacts, said: Phrases) -> Step:
    """A fault that is known: what was noted, and when."""
    return Step(
        what=said.text(msg("Known fault: {fault}"), fault=fault.text),
        how=said.text(msg("Noted {day}."), day=said.wording.day(fault.since)),
    )


def job_step(job: JobFacts, said: Phrases) -> Step:
    """A one-off as it was noted, and what it waits for."""
    waits = said.text(msg("Waits for: {what}."), what=job.waits_for) if job.waits_for else ""
    return Step(
        what=job.text,
        how=waits,
        minutes=said.wording.minutes(job.minutes),
    )


# -- head -------------------------------------------------------------------------------------


def _start(machine: SheetMachine, planned: Sequence[Planned], said: Phrases) -> str:
    """How long it takes and by when; of a machine nobody knows, what ten minutes do comes first."""
    first = [plan for plan in planned if plan.first]
    if not first:
        return _start_by(machine, said)
    engine = machine.judging.facts.kind.has_engine
    beside = len(walk_round(engine=engine))
    return said.text(
        msg("First looks, 1 to {n}: {minutes}. This whole sheet: {whole}"),
        n=len(first) + beside,
        minutes=said.wording.minutes(_first_minutes(first, engine=engine)),
        whole=said.wording.minutes(beside + sum(plan.verdict.minutes for plan in planned)),
    )


def _start_by(machine: SheetMachine, said: Phrases) -> str:
    """How long it takes, and the day by which it is begun."""
    season = machine.season
    minutes = said.wording.minutes
    time = minutes(season.look_minutes + season.do_minutes)
    if season.look_minutes and season.do_minutes:
        time = said.text(
            msg("{whole} (looks {looks}, work {work})"),
            whole=time,
            looks=minutes(season.look_minutes),
            work=minutes(season.do_minutes),
        )
    if season.start_by is None:
        return time
    if season.start_by < said.on:
        return said.text(msg("Start now, {time}"), time=time)
    day = said.wording.day(season.start_by)
    return said.text(msg("Start by {day}, {time}"), day=day, time=time)


def _facts(machine: SheetMachine, said: Phrases) -> tuple[Fact, ...]:
    notes = machine.notes
    fuel = [
        said.text(
            msg("{amount}, {band}"),
            amount=said.wording.litres(vessel.volume_ul),
            band=said.wording.band(vessel.band),
        )
        for vessel in machine.judging.verdict.fuel
        if vessel.sort is VesselSort.TANK and vessel.volume_ul
    ]
    return held(
        (
            Fact(label=said.text(msg("Hours")), value=said.hours(machine.judging.verdict.hours)),
            Fact(
                label=said.text(msg("Fuel in the tank")),
                value=(reckoned("; ".join(fuel)),) if fuel else "",
            ),
            Fact(label=said.text(msg("Oil")), value=notes.oil),
            Fact(label=said.text(msg("Spark plug")), value=notes.plug),
            Fact(label=said.text(msg("Belt")), value=notes.belt),
            Fact(label=said.text(msg("Shear pins")), value=notes.pins),
        )
    )


def tools_of(planned: Sequence[Planned], said: Phrases) -> tuple[str, ...]:
    """The tools of all steps, each once; several of a sort stand for one of it."""
    tools = dict.fromkeys(tool for plan in planned for tool in plan.task.tools)
    return tuple(said.text(tool) for tool in tools if f"{tool}s" not in tools)


def _buying(machine: SheetMachine, bought: Sequence[Purchase], said: Phrases) -> tuple[Buying, ...]:
    """What this machine needs bought, by the day it has to be ordered."""
    by_label: dict[str, list[str]] = {}
    for purchase in sorted(bought, key=lambda found: found.buy_by or date.max):
        if machine.machine_id not in purchase.machine_ids:
            continue
        name = said.text(purchase.name)
        thing = name
        if len(purchase.machine_ids) > 1 and purchase.quantity > 1:
            thing = said.text(
                msg("{thing} ({n} for the whole shed)"), n=purchase.quantity, thing=name
            )
        elif purchase.quantity > 1:
            thing = said.text(msg("{n} × {thing}"), n=purchase.quantity, thing=name)
        by_label.setdefault(_buy_label(purchase.buy_by, said), []).append(thing)
    return tuple(Buying(label=label, things=tuple(things)) for label, things in by_label.items())


def _buy_label(day: date | None, said: Phrases) -> str:
    if day is None:
        return said.text(msg("Buy"))
    if day < said.on:
        return said.text(msg("Buy now"))
    return said.text(msg("Buy by {day}"), day=said.wording.day(day))


# -- sources ----------------------------------------------------------------------------------


def sources_used(planned: Sequence[Planned], said: Phrases) -> tuple[str, ...]:
    """The public documents the figures of this sheet rest on, shortly; the whole is in *why*."""
    limits = [limit for plan in planned for limit in limits_of(plan.task.rule.limits, said)]
    used = dict.fromkeys(
        source
        for limit in limits
        if limit.direction is not Direction.EVENT
        and (limit.low is not None or limit.high is not None)
        for mark in limit.marks
        if mark.mark is Mark.PUBLISHED and Mark.PUBLISHED in said.marks(limit)
        for source in mark.sources
    )
    held = said.wording.catalogue.sources
    return tuple(
        ", ".join((held[source].publisher, *held[source].title.split(", ")[:1]))
        for source in used
        if source in held
    )


def marks_used(planned: Sequence[Planned], said: Phrases) -> tuple[str, ...]:
    used = {
        mark
        for plan in planned
        for limit in limits_of(plan.task.rule.limits, said)
        for mark in said.marks(limit)
        if limit.direction is not Direction.EVENT
    }
    return tuple(
        f"({letter})\u00a0{said.wording.mark(mark)}"
        for mark, letter in LETTERS.items()
        if mark in used
    )
