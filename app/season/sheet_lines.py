"""A storage sheet that comes back, held against the run as it stands now, line by line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from app.season.acts import begun
from app.season.laying import Row, Wanted
from app.wording.languages import msg
from app.wording.sittings import SittingWords
from models.acts.run_sheets import StoredStep
from models.acts.runs import BeginRun
from models.facts.runs import RunFacts, RunStepFacts
from models.words import StepAnswer
from schedules.facts import MachineId, TaskCode
from schedules.sitting_facts import LeftCode, RunSort, Step, StepCode


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenLine:
    """A line of the sheet whose step has no answer yet. `key`: its number on the sheet."""

    key: str
    title: str
    place: int
    machine_ids: tuple[MachineId, ...]
    tasks: tuple[TaskCode, ...]
    leaves: tuple[LeftCode, ...]
    puts_back: tuple[LeftCode, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """The sheet held against the run. `told`: in words, each line that differs; `gone`: lines with
    work that stand on no list any more. Without a run `begin` lays the list down again."""

    number: int
    printed_on: date
    sort: RunSort
    machine_ids: tuple[MachineId, ...]
    run_id: int | None = None
    begin: BeginRun | None = None
    lines: tuple[OpenLine, ...] = ()
    gone: tuple[tuple[str, StoredStep], ...] = ()
    told: tuple[str, ...] = ()
    left_over: int = 0
    over: bool = False
    names: Mapping[MachineId, str] = field(default_factory=dict[MachineId, str])


LaidOrKept = Step | RunStepFacts


def sort_of(steps: Sequence[StoredStep], said: SittingWords) -> RunSort | None:
    """What sort of sitting the sheet was printed for; None: it names no step of ours."""
    sorts = {str(step.code): step.sort for step in said.rules.steps}
    return next((sorts[step.code] for step in steps if step.code in sorts), None)


def hold(
    number: int,
    printed_on: date,
    steps: Sequence[StoredStep],
    *,
    row: Row,
    runs: Sequence[RunFacts],
    said: SittingWords,
    names: Mapping[MachineId, str],
) -> Held | None:
    """Hold the sheet against its run, or else against the list as it is laid down today. None: no
    sheet of ours."""
    sort = sort_of(steps, said)
    machines = tuple(dict.fromkeys(MachineId(step.machine_id) for step in steps))
    if sort is None or any(machine not in row.machines for machine in machines):
        return None
    run = run_of(runs, sort, machines, printed_on)
    held = Held(number=number, printed_on=printed_on, sort=sort, machine_ids=machines, names=names)
    if run is not None:
        return _against(held, steps, run.steps, said, run_id=run.run_id, over=run.finished_on)
    asks = row.asks(sort, [Wanted(machine_id=machine) for machine in machines])
    laid = row.laid(sort, asks)
    begin = begun(sort, asks, laid, on=printed_on, by_whom="")
    return _against(held, steps, laid, said, begin=begin)


def run_of(
    runs: Sequence[RunFacts], sort: RunSort, machines: Sequence[MachineId], printed_on: date
) -> RunFacts | None:
    """The run a sheet belongs to: the first with all of its machines that was not over before it
    was printed. What an old sheet says is never taken for the same work of a later season."""
    return next(
        (
            run
            for run in runs
            if run.sort is sort
            and set(machines) <= {one.machine_id for one in run.machines}
            and (run.finished_on is None or run.finished_on >= printed_on)
        ),
        None,
    )


def _against(
    held: Held,
    steps: Sequence[StoredStep],
    list_now: Sequence[LaidOrKept],
    said: SittingWords,
    *,
    run_id: int | None = None,
    begin: BeginRun | None = None,
    over: date | None = None,
) -> Held:
    known = {
        (str(step.code), int(step.machine_ids[0])): (place, step)
        for place, step in enumerate(list_now)
    }
    words, alone = said.words, len(held.machine_ids) == 1
    lines: list[OpenLine] = []
    gone: list[tuple[str, StoredStep]] = []
    told: list[str] = []
    for place, printed in enumerate(steps, start=1):
        key = str(place)
        found = known.pop((printed.code, printed.machine_id), None)
        if found is None:
            gone += [(key, printed)] if printed.tasks else []
            line = msg("{n} {step}: stands on the list no more.")
            told.append(words.text(line, n=key, step=printed.title))
            continue
        at, step = found
        if isinstance(step, RunStepFacts) and step.answer is not None:
            told.append(_answered(key, printed.title, step, said))
            continue
        who = "" if alone else words.listed([held.names[number] for number in step.machine_ids])
        lines.append(_open(key, printed.title, step, at=at, who=who))
    fresh = [step for _at, step in known.values() if getattr(step, "answer", None) is None]
    told += [_new(step.code, said) for step in fresh]
    return Held(
        number=held.number,
        printed_on=held.printed_on,
        sort=held.sort,
        machine_ids=held.machine_ids,
        run_id=run_id,
        begin=begin,
        lines=tuple(lines),
        gone=tuple(gone),
        told=tuple(told),
        left_over=len(fresh),
        over=over is not None,
        names=held.names,
    )


def _open(key: str, title: str, step: LaidOrKept, *, at: int, who: str) -> OpenLine:
    """A line that stands on both lists and is still to be answered."""
    named = f"{key}  {title}"
    return OpenLine(
        key=key,
        title=f"{named} · {who}" if who else named,
        place=at,
        machine_ids=step.machine_ids,
        tasks=step.tasks if isinstance(step, RunStepFacts) else step.records,
        leaves=step.leaves,
        puts_back=step.puts_back,
    )


def _answered(key: str, title: str, step: RunStepFacts, said: SittingWords) -> str:
    answer = StepAnswer.DONE if step.answer is None else step.answer
    day = "" if step.answered_on is None else said.words.day(step.answered_on)
    return said.words.text(
        msg("{n} {step}: {answer} on {day} already."),
        n=key,
        step=title,
        answer=said.answer(answer),
        day=day,
    )


def _new(code: StepCode, said: SittingWords) -> str:
    found = said.step(code)
    return said.words.text(
        msg("{step}: new on the list, not on the sheet; it stays to be answered."),
        step=str(code) if found is None else found.name,
    )
