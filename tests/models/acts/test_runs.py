"""Runs in the file: every tick written, taken up by another person, finished into the record."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from models.acts.faults import NoteFault
from models.acts.fuel import AddVessel, ChangeVessel, Fill, SetLevel
from models.acts.jobs import NoteJob
from models.acts.readings import Measured
from models.acts.runs import (
    CUP_UL,
    AnswerStep,
    BeginRun,
    FinishRun,
    Kept,
    LeaveRun,
    Renewed,
    RunMachine,
    SayNotYet,
    StartTimer,
    StepGiven,
)
from models.acts.storage import PutAway
from models.changes import Area
from models.errors import RefusedCode
from models.exchange.fleet import export_fleet, parse_fleet
from models.facts.runs import RunFacts, read_left_off, read_not_yet, read_runs
from models.file import create_household
from models.moment import Moment
from models.tables.fuel import FuelEventRow
from models.tables.runs import RunTimerRow
from models.tables.work import (
    FaultRow,
    JobRow,
    LimitReadingRow,
    StorageSpellRow,
    WorkLineRow,
    WorkRow,
)
from models.words import FuelDoing, LineOutcome, StepAnswer
from models.writer import Act
from resources.loader import load_catalogue
from resources.storage import load_sitting_rules
from schedules.facts import FuelSort, FuelUse, Phase, Policy, TaskState, VesselSort
from schedules.plan import judge_machine
from schedules.putting_away import ask_to_put_away
from schedules.sitting import lay_down, remaining
from schedules.sitting_facts import Ask, FuelEffect, FuelRoute, RunSort, Step, StepKey
from schedules.waking import ask_to_get_out
from tests.models.acts.shed import Shed, number_of

CATALOGUE = load_catalogue()
RULES = load_sitting_rules()


def laid(sort: RunSort, *asks: Ask) -> tuple[Step, ...]:
    return lay_down(sort, asks, rules=RULES, precedence=CATALOGUE.precedence)


def given(steps: tuple[Step, ...]) -> tuple[StepGiven, ...]:
    return tuple(
        StepGiven(
            code=step.code,
            machine_ids=tuple(step.machine_ids),
            minutes=step.minutes,
            wait_minutes=step.wait_minutes,
            tasks=tuple(step.records),
            passes=tuple(step.passes),
            leaves=tuple(step.leaves),
            puts_back=tuple(step.puts_back),
            fuel=step.fuel,
        )
        for step in steps
    )


def away(shed: Shed, *machines: int, route: FuelRoute = FuelRoute.RUN_EMPTY) -> tuple[Step, ...]:
    asks = [
        ask_to_put_away(
            shed.machine(number),
            on=shed.today,
            policy=Policy(),
            limits=CATALOGUE.limits,
            route=route,
        )
        for number in machines
    ]
    return laid(RunSort.PUTTING_AWAY, *asks)


def begin(shed: Shed, *machines: int, route: FuelRoute = FuelRoute.RUN_EMPTY) -> int:
    act = BeginRun(
        sort=RunSort.PUTTING_AWAY,
        day=shed.today,
        machines=tuple(RunMachine(machine_id=each, route=route) for each in machines),
        steps=given(away(shed, *machines, route=route)),
        by_whom="Ada",
    )
    return number_of(shed.household.need_writer().run(act, moment=shed.moment), Area.RUNS)


def read(shed: Shed, number: int) -> RunFacts:
    with shed.household.read() as session:
        (found,) = read_runs(session, only=[number])
    return found


def answer(shed: Shed, run: int, place: int, **more: Any) -> None:
    wanted: dict[str, Any] = {"day": shed.today, **more}
    shed.household.need_writer().run(
        AnswerStep(run_id=run, place=place, **wanted), moment=shed.moment
    )


def left(shed: Shed) -> list[str]:
    with shed.household.read() as session:
        return [str(each.code) for each in read_left_off(session)]


def due(shed: Shed, number: int = 1) -> set[str]:
    verdict = judge_machine(
        shed.machine(number), on=shed.today, policy=Policy(), limits=CATALOGUE.limits
    )
    bad = (TaskState.DUE, TaskState.OVERDUE, TaskState.NOT_KNOWN)
    return {str(task.code) for task in verdict.tasks if task.state in bad}


def test_every_act_of_a_run_goes_back_and_forth(shed: Shed):
    steps = (StepGiven(code="P-35", machine_ids=(1,), wait_minutes=10, leaves=("key-out",)),)
    machines = (RunMachine(machine_id=1),)
    begun = BeginRun(sort=RunSort.PUTTING_AWAY, day=shed.today, machines=machines, steps=steps)
    run = number_of(shed.run(begun), Area.RUNS)
    shed.run(StartTimer(run_id=run, place=0))
    shed.run(LeaveRun(run_id=run, day=shed.today, waits_for="snow"))
    shed.run(AnswerStep(run_id=run, place=0, day=shed.today))
    shed.run(FinishRun(run_id=run, day=shed.today))


def test_a_run_holds_its_steps_as_they_were_laid_down(shed: Shed):
    run = begin(shed, 1)
    found = read(shed, run)
    steps = away(shed, 1)
    assert [step.key for step in found.steps] == [step.key for step in steps]
    assert [step.tasks for step in found.steps] == [step.records for step in steps]
    assert (found.begun_by, found.machines[0].route) == ("Ada", FuelRoute.RUN_EMPTY)
    assert found.remaining == found.steps


def test_a_shared_step_is_one_step_of_all_its_machines(shed: Shed):
    shed.add_machine(name="Blue one")
    found = read(shed, begin(shed, 1, 2))
    together = [step for step in found.steps if step.code == "P-29"]
    assert [step.machine_ids for step in together] == [(1, 2)]
    answer(shed, found.run_id, together[0].place)
    assert together[0].place not in {step.place for step in read(shed, found.run_id).remaining}


def test_a_tick_is_written_at_once_with_what_it_leaves_off(shed: Shed):
    run = begin(shed, 1)
    places = {str(step.code): step.place for step in read(shed, run).steps}
    shed.run(AnswerStep(run_id=run, place=places["P-03"], day=shed.today, by_whom="Ada"))
    assert left(shed) == ["plug-lead", "key-out"]
    shed.run(AnswerStep(run_id=run, place=places["P-30"], day=shed.today, by_whom="Ben"))
    assert left(shed) == []
    found = {step.place: step for step in read(shed, run).steps}
    assert found[places["P-03"]].answered_by == "Ada"
    assert found[places["P-30"]].answered_by == "Ben"
    shed.refuses(
        AnswerStep(run_id=run, place=places["P-03"], day=shed.today), RefusedCode.CLOSED_ALREADY
    )


def test_what_cannot_be_done_becomes_a_job_and_what_is_wrong_a_fault(shed: Shed):
    run = begin(shed, 1)
    shed.refuses(
        AnswerStep(run_id=run, place=0, day=shed.today, answer=StepAnswer.CANNOT, text="oil"),
        RefusedCode.NOTHING_GIVEN,
    )
    answer(shed, run, 0, answer=StepAnswer.CANNOT, why="no oil left", text="Oil the axles")
    answer(shed, run, 1, answer=StepAnswer.FAULT, text="Axle cracked", stops_use=True)
    answer(shed, run, 2, answer=StepAnswer.NOT_APPLICABLE)
    (job,) = shed.rows(JobRow)
    assert (job.text, job.waits_for) == ("Oil the axles", "no oil left")
    (fault,) = shed.rows(FaultRow)
    assert fault.stops_use
    steps = read(shed, run).steps
    assert (steps[0].job_id, steps[1].fault_id) == (job.id, fault.id)


def test_a_timer_outlives_the_program_and_runs_from_its_instant(shed: Shed):
    run = begin(shed, 1, route=FuelRoute.FULL_TREATED)
    place = next(step.place for step in read(shed, run).steps if step.code == "P-35")
    shed.run(StartTimer(run_id=run, place=place))
    (timer,) = read(shed, run).timers
    assert (timer.place, timer.minutes) == (place, 10)
    assert timer.ends_at == shed.moment.now + timedelta(minutes=10)
    shed.refuses(StartTimer(run_id=run, place=place), RefusedCode.ALREADY_THERE)
    shed.refuses(StartTimer(run_id=run, place=0), RefusedCode.NOTHING_GIVEN)


def test_left_on_the_bench_and_taken_up_on_another_day(shed: Shed):
    run = begin(shed, 1)
    answer(shed, run, 0)
    shed.run(LeaveRun(run_id=run, day=shed.today, waits_for="a filter"))
    found = read(shed, run)
    assert (found.left_on, found.waits_for) == (shed.today, "a filter")
    later = Moment(shed.today + timedelta(days=21), shed.moment.now + timedelta(days=21))
    answer(Shed(shed.household, later), run, 1, by_whom="Ben")
    found = read(shed, run)
    assert (found.left_on, found.waits_for) == (None, "")
    steps = away(shed, 1)
    answered = frozenset(step.key for step in steps[:2])
    assert tuple(step.key for step in found.remaining) == tuple(
        step.key for step in remaining(steps, answered)
    )


def finished(shed: Shed, run: int, **more: Any) -> None:
    for step in read(shed, run).remaining:
        answer(shed, run, step.place)
    act = FinishRun(run_id=run, day=shed.today, **more)
    shed.household.need_writer().run(act, moment=shed.moment)


def test_finishing_enters_work_storage_and_fuel(shed: Shed):
    tank = number_of(
        shed.run(
            AddVessel(
                name="tank",
                sort=VesselSort.TANK,
                capacity_ul=2_500_000,
                came_on=date(2020, 1, 15),
                machine_id=1,
            )
        ),
        Area.FUEL,
    )
    shed.run(Fill(vessel_id=tank, day=shed.today, sort=FuelSort.E10, volume_ul=2_000_000))
    run = begin(shed, 1)
    shed.refuses(
        FinishRun(run_id=run, day=shed.today), RefusedCode.STEPS_LEFT, left=len(away(shed, 1))
    )
    finished(
        shed,
        run,
        minutes=90,
        off_or_open=((1, "plug lead OFF"),),
        kept=(Kept(machine_id=1, left_code="key-out", kept="hook 3"),),
    )
    (work,) = shed.rows(WorkRow)
    assert work.minutes == 90
    done = {row.task_code for row in shed.rows(WorkLineRow) if row.outcome is LineOutcome.DONE}
    assert {"E4-02", "E4-11", "E4-12", "E4-15", "S2-20"} <= done
    (spell,) = shed.rows(StorageSpellRow)
    assert (spell.put_away_on, spell.off_or_open) == (shed.today, "plug lead OFF")
    doings = [row.doing for row in shed.rows(FuelEventRow)]
    assert doings == [FuelDoing.BOUGHT, FuelDoing.LEVEL, FuelDoing.BURNT]
    with shed.household.read() as session:
        kept = {str(each.code): each.kept for each in read_left_off(session)}
    assert kept["key-out"] == "hook 3"
    assert {"plug-lead", "cylinder-oiled", "tank-empty"} <= set(kept)
    shed.refuses(AnswerStep(run_id=run, place=0, day=shed.today), RefusedCode.CLOSED_ALREADY)


def test_treated_fuel_goes_into_the_ledger_as_treated(shed: Shed):
    tank = AddVessel(
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=2_500_000,
        came_on=date(2020, 1, 15),
        machine_id=1,
    )
    shed.run(tank)
    finished(shed, begin(shed, 1, route=FuelRoute.FULL_TREATED), fuel_sort=FuelSort.E5)
    events = shed.rows(FuelEventRow)
    assert [row.doing for row in events] == [FuelDoing.TREATED, FuelDoing.BOUGHT]
    assert events[1].stabilised_on == shed.today
    assert events[1].fuel_sort is FuelSort.E5


@pytest.mark.parametrize(
    ("burns", "sort"),
    [
        (FuelUse.FOUR_STROKE, FuelSort.UNKNOWN),
        (FuelUse.TWO_STROKE, FuelSort.PREMIX),
        (FuelUse.DIESEL, FuelSort.DIESEL),
    ],
)
def test_what_nobody_named_is_kept_as_not_known(shed: Shed, burns: FuelUse, sort: FuelSort):
    tank = AddVessel(
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=2_500_000,
        came_on=date(2020, 1, 15),
        machine_id=1,
        burns=burns,
    )
    if not shed.machine(1).vessels:
        shed.run(tank)
    if shed.machine(1).vessels[0].burns is not burns:
        shed.run(ChangeVessel(vessel_id=1, burns=burns))
    finished(shed, begin(shed, 1, route=FuelRoute.FULL_TREATED))
    assert shed.rows(FuelEventRow)[1].fuel_sort is sort


@pytest.mark.parametrize("effect", [FuelEffect.FILLED_FRESH, FuelEffect.FRESH_CUP])
def test_what_goes_into_a_two_stroke_is_mix_whatever_petrol_there_is(
    shed: Shed, effect: FuelEffect
):
    saw = shed.add_machine("K09", name="Saw")
    tank = AddVessel(
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=400_000,
        came_on=date(2020, 1, 15),
        machine_id=saw,
        burns=FuelUse.TWO_STROKE,
    )
    if not shed.machine(saw).vessels:
        shed.run(tank)
    step = StepGiven(code="G-14", machine_ids=(saw,), minutes=3, fuel=effect)
    act = BeginRun(
        sort=RunSort.GETTING_OUT,
        day=shed.today,
        machines=(RunMachine(machine_id=saw),),
        steps=(step,),
    )
    finished(shed, number_of(shed.run(act), Area.RUNS), fuel_sort=FuelSort.E10)
    assert [lot.sort for vessel in shed.machine(saw).vessels for lot in vessel.lots] == [
        FuelSort.PREMIX
    ]


@pytest.mark.parametrize(
    ("before_ul", "after_ul"), [(900_000, CUP_UL), (20_000, 20_000), (0, 0), (None, CUP_UL)]
)
def test_lowering_to_a_cup_brings_no_fuel_into_a_tank_that_holds_less(
    shed: Shed, before_ul: int | None, after_ul: int
):
    mower = shed.add_machine("K04", name="Mower")
    (facts,) = shed.machine(mower).vessels[:1]
    number = int(facts.vessel_id)
    if before_ul:
        fill = Fill(vessel_id=number, day=shed.today, sort=FuelSort.E10, volume_ul=before_ul)
        shed.run(fill)
    elif before_ul == 0:
        shed.run(SetLevel(vessel_id=number, day=shed.today, volume_ul=0))
    step = StepGiven(code="P-20", machine_ids=(mower,), minutes=3, fuel=FuelEffect.LOWERED)
    act = BeginRun(
        sort=RunSort.PUTTING_AWAY,
        day=shed.today,
        machines=(RunMachine(machine_id=mower, route=FuelRoute.FULL_TREATED),),
        steps=(step,),
    )
    finished(shed, number_of(shed.run(act), Area.RUNS))
    held = [lot.volume_ul for vessel in shed.machine(mower).vessels[:1] for lot in vessel.lots]
    assert sum(held) == after_ul


def test_what_keeping_ready_makes_needless_is_passed_over(shed: Shed):
    finished(shed, begin(shed, 1, route=FuelRoute.KEEP_READY))
    passed = {row.task_code for row in shed.rows(WorkLineRow) if row.outcome is LineOutcome.ASSUMED}
    assert passed == {"E4-11", "E4-15"}


def test_a_failed_check_is_no_doing(shed: Shed):
    run = begin(shed, 1)
    place = next(step.place for step in read(shed, run).steps if step.code == "P-56")
    answer(shed, run, place, answer=StepAnswer.FAULT, text="drain plug drips")
    finished(shed, run)
    (line,) = [row for row in shed.rows(WorkLineRow) if row.task_code == "E4-02"]
    assert line.outcome is LineOutcome.FAILED


def get_out(shed: Shed) -> int:
    with shed.household.read() as session:
        tag = frozenset(each.code for each in read_left_off(session))
    ask = ask_to_get_out(
        shed.machine(1),
        on=shed.today,
        policy=Policy(),
        limits=CATALOGUE.limits,
        precedence=CATALOGUE.precedence,
        left=tag,
        with_list=False,
    )
    steps = laid(RunSort.GETTING_OUT, ask)
    machines = (RunMachine(machine_id=1),)
    act = BeginRun(sort=RunSort.GETTING_OUT, day=shed.today, machines=machines, steps=given(steps))
    return number_of(shed.run(act), Area.RUNS)


@pytest.mark.parametrize("route", [FuelRoute.RUN_EMPTY, FuelRoute.FULL_TREATED])
def test_away_and_out_on_one_day_leaves_nothing_due_that_was_not(shed: Shed, route: FuelRoute):
    before = due(shed)
    finished(shed, begin(shed, 1, route=route))
    assert left(shed)
    finished(shed, get_out(shed))
    assert left(shed) == []
    (spell,) = shed.rows(StorageSpellRow)
    assert spell.woken_on == shed.today
    assert due(shed) <= before


def test_looks_after_a_going_over_are_jobs(shed: Shed):
    steps = (StepGiven(code="B-01", machine_ids=(1,)),)
    act = BeginRun(
        sort=RunSort.GOING_OVER,
        day=shed.today,
        machines=(RunMachine(machine_id=1),),
        steps=steps,
    )
    run = number_of(shed.run(act), Area.RUNS)
    looks = tuple(
        NoteJob(machine_id=1, text="Look it over again", noted_on=shed.today, at_seconds=seconds)
        for seconds in (3600, 18_000, 90_000)
    )
    finished(shed, run, jobs=looks)
    assert [row.at_seconds for row in shed.rows(JobRow)] == [3600, 18_000, 90_000]
    assert not shed.rows(StorageSpellRow)


def test_ticked_by_hand_the_rest_is_the_same_rest_and_undone_the_file_is_as_it_was(shed: Shed):
    """All that a run can bring: ticks, jobs, faults, parts, figures, a clock, a stop, fuel."""
    writer = shed.household.need_writer()
    tank = AddVessel(
        name="tank",
        sort=VesselSort.TANK,
        capacity_ul=2_500_000,
        came_on=date(2020, 1, 15),
        machine_id=1,
    )
    number = number_of(writer.run(tank, moment=shed.moment), Area.FUEL)
    petrol = Fill(vessel_id=number, day=shed.today, sort=FuelSort.E10, volume_ul=900_000)
    writer.run(petrol, moment=shed.moment)
    before = shed.held()
    steps = away(shed, 1, route=FuelRoute.FULL_TREATED)
    machines = (RunMachine(machine_id=1, route=FuelRoute.FULL_TREATED),)
    sort, on = RunSort.PUTTING_AWAY, shed.today
    acts: list[Act] = [BeginRun(sort=sort, day=on, machines=machines, steps=given(steps))]
    worn = Measured(task="S2-06", limit="L20", amount=0, after_work=True)
    chance = random.Random(5)
    others = (StepAnswer.CANNOT, StepAnswer.FAULT, StepAnswer.NOT_APPLICABLE)
    for place, step in enumerate(steps):
        chosen = chance.choice(others) if chance.random() < 0.25 else StepAnswer.DONE
        if step.fuel is not None or "S2-06" in step.records or step.wait_minutes:
            chosen = StepAnswer.DONE
        acts.append(
            AnswerStep(
                run_id=1,
                place=place,
                day=on,
                answer=chosen,
                why="because" if chosen is not StepAnswer.FAULT else "",
                text="a thing",
                part="a bolt" if chosen is StepAnswer.FAULT else "",
                measured=((1, worn),) if "S2-06" in step.records else (),
                clock=bool(step.wait_minutes),
            )
        )
    acts.insert(9, LeaveRun(run_id=1, day=on, waits_for="snow"))
    kept = (Kept(machine_id=1, left_code="key-out", kept="hook 3"),)
    new = (Renewed(machine_id=1, task="E4-02", part="engine-oil"),)
    acts.append(FinishRun(run_id=1, day=on, minutes=80, kept=kept, renewed=new))
    answered: set[StepKey] = set()
    for act in acts:
        writer.run(act, moment=shed.moment)
        if isinstance(act, AnswerStep):
            answered.add(steps[act.place].key)
        left_now = remaining(steps, frozenset(answered))
        assert [one.key for one in read(shed, 1).remaining] == [step.key for step in left_now]
    for table in (WorkRow, StorageSpellRow, FuelEventRow, LimitReadingRow, RunTimerRow, JobRow):
        assert shed.rows(table), table
    for _act in acts:
        assert writer.undo(moment=shed.moment) is not None
    assert shed.held() == before


def test_what_is_wrong_when_it_goes_to_sleep_is_work_for_the_off_season(shed: Shed):
    for text in ("squeals when wet", "left tyre soft"):
        shed.run(NoteFault(machine_id=1, text=text, since_on=shed.today))
    job = NoteJob(machine_id=1, text="new tyre", noted_on=shed.today, fault_id=2)
    shed.run(job)
    step = StepGiven(code="P-02", machine_ids=(1,))
    machines = (RunMachine(machine_id=1),)
    sort = RunSort.PUTTING_AWAY
    shed.run(BeginRun(sort=sort, day=shed.today, machines=machines, steps=(step,)))
    answer(shed, 1, 0)
    shed.run(FinishRun(run_id=1, day=shed.today))
    jobs = [(row.text, row.phase, row.fault_id) for row in shed.rows(JobRow)]
    assert jobs == [("new tyre", None, 2), ("squeals when wet", Phase.OFF, 1)]


@pytest.mark.parametrize("sort", [RunSort.GOING_OVER, RunSort.PUTTING_AWAY])
def test_a_part_that_a_fault_needs_is_a_job_whatever_the_run_is_for(shed: Shed, sort: RunSort):
    step = StepGiven(code="B-01" if sort is RunSort.GOING_OVER else "P-01", machine_ids=(1,))
    machines = (RunMachine(machine_id=1),)
    shed.run(BeginRun(sort=sort, day=shed.today, machines=machines, steps=(step,)))
    fault = StepAnswer.FAULT
    answer(shed, 1, 0, answer=fault, text="Hose cracked", part="fuel hose", stops_use=True)
    (job,) = shed.rows(JobRow)
    assert (job.part, job.waits_for, job.phase) == ("fuel hose", "fuel hose", None)


def test_not_yet_is_kept(shed: Shed):
    shed.run(SayNotYet(machine_id=1, day=shed.today))
    with shed.household.read() as session:
        assert read_not_yet(session, 1) == (shed.today,)
    shed.refuses(SayNotYet(machine_id=1, day=shed.today), RefusedCode.ALREADY_THERE)


def test_what_makes_no_sense_is_refused(shed: Shed):
    act = BeginRun(
        sort=RunSort.PUTTING_AWAY,
        day=shed.today,
        machines=(RunMachine(machine_id=1),),
        steps=(StepGiven(code="P-01", machine_ids=(1,)),),
    )
    shed.refuses(replace(act, steps=()), RefusedCode.NOTHING_GIVEN)
    shed.refuses(replace(act, machines=()), RefusedCode.NOTHING_GIVEN)
    shed.refuses(replace(act, day=shed.today + timedelta(days=1)), RefusedCode.DAY_AHEAD)
    strange = StepGiven(code="P-00", machine_ids=(1,))
    shed.refuses(replace(act, steps=(strange,)), RefusedCode.UNKNOWN_CODE)
    other = StepGiven(code="P-01", machine_ids=(9,))
    shed.refuses(replace(act, steps=(other,)), RefusedCode.NOT_THERE)
    loose = StepGiven(code="P-01", machine_ids=(1,), leaves=("nothing",))
    shed.refuses(replace(act, steps=(loose,)), RefusedCode.UNKNOWN_CODE)
    shed.refuses(AnswerStep(run_id=7, place=0, day=shed.today), RefusedCode.NOT_THERE)
    begin(shed, 1)
    shed.refuses(act, RefusedCode.ALREADY_THERE)
    shed.refuses(AnswerStep(run_id=1, place=999, day=shed.today), RefusedCode.NOT_THERE)


def test_a_machine_that_sleeps_is_not_put_away_again(shed: Shed):
    shed.run(PutAway(machine_id=1, on=shed.today))
    act = BeginRun(
        sort=RunSort.PUTTING_AWAY,
        day=shed.today,
        machines=(RunMachine(machine_id=1),),
        steps=(StepGiven(code="P-01", machine_ids=(1,)),),
    )
    shed.refuses(act, RefusedCode.PUT_AWAY_ALREADY)


def test_a_run_goes_out_and_comes_in_again(shed: Shed, tmp_path: Any):
    run = begin(shed, 1, route=FuelRoute.FULL_TREATED)
    for place in range(4):
        answer(shed, run, place, by_whom="Ada")
    place = next(step.place for step in read(shed, run).steps if step.code == "P-35")
    shed.run(StartTimer(run_id=run, place=place))
    with shed.household.read() as session:
        data = export_fleet(session)
        before = read_runs(session)
    path = tmp_path / "other.firstpull"
    moment = Moment(shed.today, datetime(2030, 1, 1, tzinfo=UTC))
    with create_household(path, name="Other", moment=moment) as other:
        kinds = frozenset(str(code) for code in CATALOGUE.kinds)
        other.need_writer().run(parse_fleet(data, kinds=kinds), moment=moment)
        with other.read() as session:
            assert read_runs(session) == before
            assert export_fleet(session) == data
