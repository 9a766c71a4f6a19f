"""Runs: begun, ticked off step by step, left and taken up again by anybody, finished.

Every tick is written the moment it is made. What the ticks mean for the record (work, storage,
fuel) is entered when the run is finished, each on the day it was ticked.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from sqlalchemy import exists, select
from sqlalchemy.orm import Session

from models.acts.faults import NoteFault
from models.acts.fuel import USUAL_SORT, Drain, Fill, SetLevel, Stabilise, held_ul
from models.acts.jobs import NoteJob
from models.acts.known import task_of
from models.acts.readings import Measure, Measured
from models.acts.report import report
from models.acts.rows import Machine, day_of, machine_of, row_of
from models.acts.storage import PutAway, Wake
from models.acts.work import LineGiven, RecordWork
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text, whole
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.fuel import VesselRow
from models.tables.runs import (
    LONGEST_STEP,
    MOST_STEPS,
    LeftOffRow,
    NotYetRow,
    RunMachineRow,
    RunRow,
    RunStepRow,
    RunTimerRow,
)
from models.tables.work import FaultRow, JobRow, StorageSpellRow
from models.words import LineOutcome, StepAnswer
from resources.storage import load_sitting_rules
from schedules.facts import FuelSort, FuelUse, Gone, Phase, VesselSort
from schedules.sitting_facts import FuelEffect, FuelRoute, RunSort

# A cupful, as the steps call it: by eye.
CUP_UL = 200_000

Touched = list[tuple[Area, int]]


@dataclass(frozen=True, slots=True, kw_only=True)
class RunMachine:
    """A machine of the run; `sleep_last` is the last day it is meant to sleep."""

    machine_id: int
    route: FuelRoute = FuelRoute.NONE
    sleep_last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepGiven:
    """A step as it was laid down."""

    code: str
    machine_ids: tuple[int, ...]
    minutes: int = 0
    wait_minutes: int = 0
    tasks: tuple[str, ...] = ()
    passes: tuple[str, ...] = ()
    leaves: tuple[str, ...] = ()
    puts_back: tuple[str, ...] = ()
    fuel: FuelEffect | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BeginRun:
    """Begin a run with its steps as they were laid down. `jobs`: what has to be seen to before it,
    and what waits until after it."""

    sort: RunSort
    day: date
    machines: tuple[RunMachine, ...]
    steps: tuple[StepGiven, ...]
    by_whom: str = ""
    note: str = ""
    jobs: tuple[NoteJob, ...] = ()

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; ALREADY_THERE when a run with one of the machines is not finished."""
        if not self.machines or not self.steps:
            raise Refused(RefusedCode.NOTHING_GIVEN, field="steps")
        whole("steps", len(self.steps), 1, MOST_STEPS)
        known = {each.machine_id: self._machine(session, each, moment) for each in self.machines}
        if len(known) != len(self.machines):
            raise Refused(RefusedCode.ALREADY_THERE, what="machine", name="")
        row = RunRow(
            sort=self.sort,
            begun_on=self.day,
            begun_by=plain_text("by_whom", self.by_whom),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(row)
        session.flush()
        session.add_all(
            RunMachineRow(
                run_id=row.id,
                machine_id=each.machine_id,
                route=each.route,
                sleep_last=each.sleep_last,
            )
            for each in self.machines
        )
        for place, step in enumerate(self.steps):
            session.add_all(_rows_of(row.id, place, step, known))
        session.flush()
        noted = [pair for job in self.jobs for pair in job.run(session, moment).ids]
        return _report(session, ActCode.BEGIN_RUN, row, *noted)

    def _machine(self, session: Session, given: RunMachine, moment: Moment) -> Machine:
        machine = machine_of(session, given.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        if given.sleep_last is not None:
            checked_day("sleep_last", given.sleep_last, first=self.day)
        if open_run_of(session, machine.number) is not None:
            raise Refused(RefusedCode.ALREADY_THERE, what="run", name=machine.name)
        spell = _spell(session, machine.number)
        if self.sort is RunSort.PUTTING_AWAY and spell is not None:
            raise Refused(RefusedCode.PUT_AWAY_ALREADY, name=machine.name, day=spell.put_away_on)
        return machine


def _rows_of(
    run_id: int, place: int, step: StepGiven, known: dict[int, Machine]
) -> Iterable[RunStepRow]:
    """The rows of one step. Raises Refused for codes that nobody knows."""
    rules = load_sitting_rules()
    left = {str(code) for code, _text in rules.left}
    steps = {str(each.code) for each in rules.steps}
    if not step.machine_ids:
        raise Refused(RefusedCode.NOTHING_GIVEN, field="machine_ids")
    for code in (*step.leaves, *step.puts_back):
        if code not in left:
            raise Refused(RefusedCode.UNKNOWN_CODE, field="leaves", value=code[:64])
    for number in step.machine_ids:
        machine = known.get(number)
        if machine is None:
            raise Refused(RefusedCode.NOT_THERE, what="machine", id=number)
        tasks = (*step.tasks, *step.passes)
        for task in tasks if step.code in steps else (*tasks, step.code):
            task_of(machine.kind, task)
        yield RunStepRow(
            run_id=run_id,
            machine_id=number,
            place=place,
            step_code=step.code,
            minutes=whole("minutes", step.minutes, 0, LONGEST_STEP),
            wait_minutes=whole("wait_minutes", step.wait_minutes, 0, LONGEST_STEP),
            tasks=" ".join(step.tasks),
            passes=" ".join(step.passes),
            leaves=" ".join(step.leaves),
            puts_back=" ".join(step.puts_back),
            fuel=step.fuel,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerStep:
    """One step answered. CANNOT needs `why` and, as FAULT does, `text`: the job it becomes, or
    what is wrong.

    `measured`: what the step found, by machine, as it stands once the step is done. `clock`: what
    the step waits for runs from now on. A fault found when putting away that does not stop use
    becomes work for the off season, too; any other becomes a job that waits for `part`, if it needs
    one.
    """

    run_id: int
    place: int
    day: date
    answer: StepAnswer = StepAnswer.DONE
    by_whom: str = ""
    why: str = ""
    text: str = ""
    stops_use: bool = False
    part: str = ""
    measured: tuple[tuple[int, Measured], ...] = ()
    clock: bool = False

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; CLOSED_ALREADY for a step answered or a run finished."""
        row = _open(session, self.run_id)
        checked_day("day", self.day, first=row.begun_on, today=moment.today)
        steps = _steps_at(session, self.run_id, self.place)
        if steps[0].answer is not None:
            raise Refused(RefusedCode.CLOSED_ALREADY, what="step", id=self.place)
        touched = self._noted(session, moment, steps[0], row.sort)
        touched += self._measured(session, moment, {step.machine_id for step in steps})
        least = 1 if self.answer is StepAnswer.CANNOT else 0
        for step in steps:
            step.answer = self.answer
            step.answered_on = self.day
            step.answered_by = plain_text("by_whom", self.by_whom)
            step.why = plain_text("why", self.why, least=least)
            if self.answer is StepAnswer.DONE:
                _leave_and_put_back(session, step, self.day)
        if self.clock and self.answer is StepAnswer.DONE:
            _start_clock(session, steps[0])
        row.left_on, row.waits_for = None, ""
        session.flush()
        return _report(session, ActCode.ANSWER_STEP, row, *touched)

    def _measured(self, session: Session, moment: Moment, machines: set[int]) -> Touched:
        touched: Touched = []
        for number, measured in self.measured:
            if number not in machines:
                raise Refused(RefusedCode.NOT_THERE, what="machine", id=number)
            taken = Measure(machine_id=number, day=self.day, measured=measured)
            touched += taken.run(session, moment).ids
        return touched

    def _noted(self, session: Session, moment: Moment, step: RunStepRow, sort: RunSort) -> Touched:
        """The job or the fault that the answer becomes."""
        if self.answer is StepAnswer.CANNOT:
            job = NoteJob(
                machine_id=step.machine_id,
                text=self.text,
                noted_on=self.day,
                waits_for=self.why,
                minutes=step.minutes,
            ).run(session, moment)
            step.job_id = next(number for area, number in job.ids if area is Area.JOBS)
            return list(job.ids)
        if self.answer is StepAnswer.FAULT:
            fault = NoteFault(
                machine_id=step.machine_id,
                text=self.text,
                since_on=self.day,
                stops_use=self.stops_use,
            ).run(session, moment)
            step.fault_id = next(number for area, number in fault.ids if area is Area.FAULTS)
            touched = list(fault.ids)
            off_season = sort is RunSort.PUTTING_AWAY and not self.stops_use
            if off_season or self.part:
                job = NoteJob(
                    machine_id=step.machine_id,
                    text=self.text,
                    noted_on=self.day,
                    phase=Phase.OFF if off_season else None,
                    waits_for="" if off_season else self.part,
                    part=self.part,
                    fault_id=step.fault_id,
                ).run(session, moment)
                step.job_id = next(number for area, number in job.ids if area is Area.JOBS)
                touched += job.ids
            return touched
        return []


def _leave_and_put_back(session: Session, step: RunStepRow, day: date) -> None:
    open_now = list(left_open(session, step.machine_id))
    for row in open_now:
        if row.left_code in step.puts_back.split():
            row.back_on = max(day, row.since_on)
    held = {row.left_code for row in open_now if row.back_on is None}
    session.add_all(
        LeftOffRow(
            machine_id=step.machine_id, run_id=step.run_id, left_code=code, since_on=day, kept=""
        )
        for code in step.leaves.split()
        if code not in held
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class StartTimer:
    """What a step waits for runs from this instant on."""

    run_id: int
    place: int

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; ALREADY_THERE when it runs already."""
        row = _open(session, self.run_id)
        step = _steps_at(session, self.run_id, self.place)[0]
        if _clock_of(session, step) is not None:
            raise Refused(RefusedCode.ALREADY_THERE, what="timer", name=step.step_code)
        _start_clock(session, step)
        session.flush()
        return _report(session, ActCode.START_TIMER, row)


def _clock_of(session: Session, step: RunStepRow) -> int | None:
    at = (RunTimerRow.run_id == step.run_id, RunTimerRow.place == step.place)
    return session.scalar(select(RunTimerRow.id).where(*at))


def _start_clock(session: Session, step: RunStepRow) -> None:
    """From now on; one that runs already runs on. Raises Refused where nothing is waited for."""
    if not step.wait_minutes:
        raise Refused(RefusedCode.NOTHING_GIVEN, field="wait_minutes")
    if _clock_of(session, step) is None:
        session.add(RunTimerRow(run_id=step.run_id, place=step.place, minutes=step.wait_minutes))


@dataclass(frozen=True, slots=True, kw_only=True)
class LeaveRun:
    """It stands on the bench, and what it waits for: a part, a soak, snow, me."""

    run_id: int
    day: date
    waits_for: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused."""
        row = _open(session, self.run_id)
        row.left_on = checked_day("day", self.day, first=row.begun_on, today=moment.today)
        row.waits_for = plain_text("waits_for", self.waits_for)
        session.flush()
        return _report(session, ActCode.LEAVE_RUN, row)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Where something that was left off hangs or lies."""

    machine_id: int
    left_code: str
    kept: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Renewed:
    """A task of the run for which a new part went in; it comes off the shelf."""

    machine_id: int
    task: str
    part: str
    quantity: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishRun:
    """Every step is answered: enter the work, the storage, the fuel.

    `fuel_sort`: what fresh petrol it was; None: nobody said, so its alcohol is not known.
    `off_or_open`: the words of the tag, by machine. `jobs`: what is looked at again after a first
    going-over. `minutes`: own time for all of it, which goes to the first record. `renewed`: where
    a new part went in.
    """

    run_id: int
    day: date
    minutes: int | None = None
    by_whom: str = ""
    fuel_sort: FuelSort | None = None
    off_or_open: tuple[tuple[int, str], ...] = ()
    jobs: tuple[NoteJob, ...] = ()
    note: str = ""
    kept: tuple[Kept, ...] = field(default=())
    renewed: tuple[Renewed, ...] = ()

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; STEPS_LEFT while a step has no answer."""
        row = _open(session, self.run_id)
        checked_day("day", self.day, first=row.begun_on, today=moment.today)
        steps = list(
            session.scalars(
                select(RunStepRow)
                .where(RunStepRow.run_id == self.run_id)
                .order_by(RunStepRow.place, RunStepRow.id)
            )
        )
        left = {step.place for step in steps if step.answer is None}
        if left:
            raise Refused(RefusedCode.STEPS_LEFT, left=len(left))
        touched = self._work(session, moment, steps)
        for step in steps:
            if step.fuel is not None and step.answer is StepAnswer.DONE:
                touched += _fuel(session, moment, step, step.fuel, self.fuel_sort)
        for kept in self.kept:
            _keep(session, kept)
        touched += self._storage(session, moment, row)
        for job in self.jobs:
            touched += job.run(session, moment).ids
        row.finished_on = self.day
        row.left_on, row.waits_for = None, ""
        session.flush()
        return _report(session, ActCode.FINISH_RUN, row, *touched)

    def _work(self, session: Session, moment: Moment, steps: list[RunStepRow]) -> Touched:
        """One record for each machine and day."""
        lines: dict[tuple[date, int], list[LineGiven]] = {}
        for step in steps:
            given = self._renew(step, _lines(step))
            if given and step.answered_on is not None:
                lines.setdefault((step.answered_on, step.machine_id), []).extend(given)
        touched: Touched = []
        minutes = self.minutes
        for (day, machine), given in sorted(lines.items()):
            done = RecordWork(
                machine_id=machine,
                day=day,
                lines=tuple(given),
                by_whom=self.by_whom,
                minutes=minutes,
                note=self.note,
            ).run(session, moment)
            touched += done.ids
            minutes = None
        return touched

    def _renew(self, step: RunStepRow, lines: list[LineGiven]) -> list[LineGiven]:
        """The lines of a step, with the parts that went in; each more part is a line of its own."""
        found: list[LineGiven] = []
        for line in lines:
            new = [
                LineGiven(
                    task=line.task,
                    outcome=LineOutcome.REPLACED,
                    part=each.part,
                    quantity=each.quantity,
                )
                for each in self.renewed
                if (each.machine_id, each.task) == (step.machine_id, line.task)
            ]
            found += new or [line]
        return found

    def _storage(self, session: Session, moment: Moment, row: RunRow) -> Touched:
        touched: Touched = []
        words = dict(self.off_or_open)
        machines = session.scalars(
            select(RunMachineRow).where(RunMachineRow.run_id == row.id).order_by(RunMachineRow.id)
        )
        for each in list(machines):
            if row.sort is RunSort.PUTTING_AWAY:
                last = each.sleep_last
                act = PutAway(
                    machine_id=each.machine_id,
                    on=self.day,
                    planned_last=None if last is None or last < self.day else last,
                    off_or_open=words.get(each.machine_id, ""),
                )
                touched += act.run(session, moment).ids
                touched += _for_the_off_season(session, moment, each.machine_id, self.day)
            elif row.sort is RunSort.GETTING_OUT and _spell(session, each.machine_id) is not None:
                touched += Wake(machine_id=each.machine_id, on=self.day).run(session, moment).ids
        return touched


def _for_the_off_season(session: Session, moment: Moment, number: int, day: date) -> Touched:
    """A job for every fault that is open as the machine goes to sleep and that has none yet."""
    has_job = exists().where(JobRow.fault_id == FaultRow.id)
    faults = session.scalars(
        select(FaultRow)
        .where(
            FaultRow.machine_id == number,
            FaultRow.since_on <= day,
            FaultRow.closed_on.is_(None),
            ~has_job,
        )
        .order_by(FaultRow.id)
    )
    touched: Touched = []
    for fault in list(faults):
        job = NoteJob(
            machine_id=number,
            text=fault.text,
            noted_on=day,
            phase=Phase.OFF,
            stops_use=fault.stops_use,
            fault_id=fault.id,
        )
        touched += job.run(session, moment).ids
    return touched


def _lines(step: RunStepRow) -> list[LineGiven]:
    """What a step says of the machine's tasks."""
    if step.answer is StepAnswer.DONE:
        done = [LineGiven(task=code) for code in step.tasks.split()]
        passed = [LineGiven(task=code, outcome=LineOutcome.ASSUMED) for code in step.passes.split()]
        return done + passed
    if step.answer is StepAnswer.FAULT:
        return [LineGiven(task=code, outcome=LineOutcome.FAILED) for code in step.tasks.split()]
    return []


def _fuel(
    session: Session, moment: Moment, step: RunStepRow, effect: FuelEffect, said: FuelSort | None
) -> Touched:
    """What a step did to the fuel in the machine's first tank; no tank, nothing to enter."""
    day = step.answered_on
    tank = session.scalars(
        select(VesselRow)
        .where(
            VesselRow.machine_id == step.machine_id,
            VesselRow.sort == VesselSort.TANK,
            VesselRow.retired_on.is_(None),
        )
        .order_by(VesselRow.id)
        .limit(1)
    ).first()
    if tank is None or day is None:
        return []
    sort = USUAL_SORT[tank.burns]  # the steps of a two-stroke speak of mix: petrol would ruin it
    if said is not None and tank.burns is FuelUse.FOUR_STROKE:
        sort = said
    cup = min(CUP_UL, tank.capacity_ul)
    if effect is FuelEffect.LOWERED:
        held = held_ul(session, tank, day)
        if held is not None and held <= cup:  # no more is in it: nothing came out, and none came in
            return []
    acts = {
        FuelEffect.LOWERED: (
            SetLevel(vessel_id=tank.id, day=day, volume_ul=cup, missing=Gone.DRAINED),
        ),
        FuelEffect.TAKEN_OUT: (Drain(vessel_id=tank.id, day=day),),
        FuelEffect.RUN_DRY: (Drain(vessel_id=tank.id, day=day, gone=Gone.BURNT),),
        FuelEffect.FRESH_CUP: (Fill(vessel_id=tank.id, day=day, sort=sort, volume_ul=cup),),
        FuelEffect.FILLED_FRESH: (Fill(vessel_id=tank.id, day=day, sort=sort),),
        FuelEffect.FILLED_TREATED: (
            Stabilise(vessel_id=tank.id, day=day),
            Fill(vessel_id=tank.id, day=day, sort=sort, stabilised=True),
        ),
        FuelEffect.FILLED_ALKYLATE: (
            Fill(vessel_id=tank.id, day=day, sort=FuelSort.PREMIX_ALKYLATE, volume_ul=cup),
        ),
    }
    return [pair for act in acts[effect] for pair in act.run(session, moment).ids]


def _keep(session: Session, kept: Kept) -> None:
    for row in left_open(session, kept.machine_id):
        if row.left_code == kept.left_code:
            row.kept = plain_text("kept", kept.kept)


@dataclass(frozen=True, slots=True, kw_only=True)
class SayNotYet:
    """*Was that the last one?* Not yet."""

    machine_id: int
    day: date

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; ALREADY_THERE when it was said on that day."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "day", self.day, moment.today)
        said = select(NotYetRow.id).where(
            NotYetRow.machine_id == machine.number, NotYetRow.said_on == self.day
        )
        if session.scalar(said) is not None:
            raise Refused(RefusedCode.ALREADY_THERE, what="answer", name=machine.name)
        session.add(NotYetRow(machine_id=machine.number, said_on=self.day))
        session.flush()
        return report(ActCode.SAY_NOT_YET, (Area.MACHINES, machine.number), name=machine.name)


def open_run_of(session: Session, machine_id: int) -> int | None:
    """The run with the machine that is not finished."""
    return session.scalar(
        select(RunRow.id)
        .join(RunMachineRow, RunMachineRow.run_id == RunRow.id)
        .where(RunMachineRow.machine_id == machine_id, RunRow.finished_on.is_(None))
        .limit(1)
    )


def left_open(session: Session, machine_id: int) -> Iterable[LeftOffRow]:
    """What is off or open at a machine now."""
    return session.scalars(
        select(LeftOffRow)
        .where(LeftOffRow.machine_id == machine_id, LeftOffRow.back_on.is_(None))
        .order_by(LeftOffRow.id)
    ).all()


def _open(session: Session, number: int) -> RunRow:
    row = row_of(session, RunRow, number, "run")
    if row.finished_on is not None:
        raise Refused(RefusedCode.CLOSED_ALREADY, what="run", id=number)
    return row


def _steps_at(session: Session, run_id: int, place: int) -> list[RunStepRow]:
    """The rows of the step at a place. Raises Refused NOT_THERE."""
    whole("place", place, 0, MOST_STEPS)
    found = session.scalars(
        select(RunStepRow)
        .where(RunStepRow.run_id == run_id, RunStepRow.place == place)
        .order_by(RunStepRow.id)
    ).all()
    if not found:
        raise Refused(RefusedCode.NOT_THERE, what="step", id=place)
    return list(found)


def _spell(session: Session, machine_id: int) -> StorageSpellRow | None:
    return session.scalars(
        select(StorageSpellRow)
        .where(StorageSpellRow.machine_id == machine_id, StorageSpellRow.woken_on.is_(None))
        .limit(1)
    ).first()


def _report(session: Session, code: ActCode, row: RunRow, *touched: tuple[Area, int]) -> Changes:
    machines = session.scalars(
        select(RunMachineRow.machine_id).where(RunMachineRow.run_id == row.id)
    ).all()
    shown = ((Area.MACHINES, number) for number in machines)
    return report(code, (Area.RUNS, row.id), *shown, *touched, sort=str(row.sort))
