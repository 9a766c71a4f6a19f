"""From steps and answers to the acts that begin and end a run. No Qt, no file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from models.acts.jobs import NoteJob
from models.acts.runs import BeginRun, FinishRun, Kept, RunMachine, StepGiven
from models.facts.runs import LeftOffFacts, RunFacts
from models.words import StepAnswer
from schedules.facts import MachineId
from schedules.sitting_facts import Ask, RunSort, Step


def given(step: Step) -> StepGiven:
    """A step as the file keeps it."""
    return StepGiven(
        code=str(step.code),
        machine_ids=tuple(int(number) for number in step.machine_ids),
        minutes=step.minutes,
        wait_minutes=step.wait_minutes,
        tasks=tuple(str(code) for code in step.records),
        passes=tuple(str(code) for code in step.passes),
        leaves=tuple(str(code) for code in step.leaves),
        puts_back=tuple(str(code) for code in step.puts_back),
        fuel=step.fuel,
    )


def loose_at(loose: Sequence[LeftOffFacts], numbers: Sequence[MachineId]) -> list[LeftOffFacts]:
    """What is off or open at these machines."""
    return [one for one in loose if one.machine_id in numbers]


def first_fault(run: RunFacts | None) -> int:
    """The machine at which the first fault was found; 0 for none."""
    steps = () if run is None else run.steps
    found = (int(s.machine_ids[0]) for s in steps if s.answer is StepAnswer.FAULT)
    return next(found, 0)


def begun(
    sort: RunSort,
    asks: Sequence[Ask],
    steps: Sequence[Step],
    *,
    on: date,
    by_whom: str,
    jobs: Sequence[NoteJob] = (),
) -> BeginRun:
    """The act that begins a run with its list."""
    return BeginRun(
        sort=sort,
        day=on,
        machines=tuple(
            RunMachine(
                machine_id=int(ask.facts.machine_id),
                route=ask.route,
                sleep_last=ask.until if sort is RunSort.PUTTING_AWAY else None,
            )
            for ask in asks
        ),
        steps=tuple(given(step) for step in steps),
        by_whom=by_whom,
        jobs=tuple(jobs),
    )


def finished(
    run_id: int,
    loose: Sequence[tuple[LeftOffFacts, str]],
    answers: Mapping[str, object],
    *,
    on: date,
    by_whom: str,
    jobs: Sequence[NoteJob] = (),
) -> FinishRun:
    """The act that ends a run, with what is off or open in words, and where it hangs."""
    words: dict[int, list[str]] = {}
    kept: list[Kept] = []
    for one, said in loose:
        where = str(answers.get(f"{one.machine_id}/{one.code}", one.kept)).strip()
        words.setdefault(int(one.machine_id), []).append(f"{said} ({where})" if where else said)
        if where:
            kept.append(Kept(machine_id=int(one.machine_id), left_code=str(one.code), kept=where))
    return FinishRun(
        run_id=run_id,
        day=on,
        by_whom=by_whom,
        off_or_open=tuple((number, ", ".join(said)) for number, said in words.items()),
        kept=tuple(kept),
        jobs=tuple(jobs),
    )
