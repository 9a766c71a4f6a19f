"""One-offs and what is wrong."""

from datetime import date
from typing import Any

import pytest

from models.acts.faults import ChangeFault, CloseFault, NoteFault, PutOffFault
from models.acts.jobs import ChangeJob, DropJob, NoteJob
from models.acts.machines import EngineGiven
from models.changes import Area
from models.errors import RefusedCode
from models.tables.work import FaultRow, JobRow
from models.writer import Act
from resources.loader import load_catalogue
from schedules.facts import Past, Phase, Policy, TaskState
from schedules.plan import judge
from tests.models.acts.shed import LONG, Shed, number_of

DAY, LATER = date(2025, 10, 4), date(2025, 11, 1)
ENGINE = 2


def note_job(shed: Shed, **given: Any) -> int:
    wanted = {"machine_id": 1, "text": "squeals when wet", "noted_on": DAY, **given}
    return number_of(shed.run(NoteJob(**wanted)), Area.JOBS)


def note_fault(shed: Shed, **given: Any) -> int:
    wanted = {"machine_id": 1, "text": "will not start", "since_on": DAY, **given}
    return number_of(shed.run(NoteFault(**wanted)), Area.FAULTS)


def test_a_job_with_all_that_can_be_said(shed: Shed):
    fault = note_fault(shed)
    number = note_job(
        shed,
        due_on=date(2030, 1, 1),
        at_seconds=90_000,
        phase=Phase.BEFORE,
        waits_for="part 🔩",
        minutes=25,
        part="auger-belt",
        safety=True,
        stops_use=True,
        item_id=ENGINE,
        fault_id=fault,
    )
    (job,) = shed.machine().jobs
    assert (job.job_id, job.due_on, job.at_seconds) == (number, date(2030, 1, 1), 90_000)
    assert (job.phase, job.waits_for, job.minutes) == (Phase.BEFORE, "part 🔩", 25)
    assert (job.safety, job.stops_use, job.part) == (True, True, "auger-belt")


def test_a_job_on_an_engine_goes_by_the_engines_hours(bare: Shed):
    """The machine came with 500 hours; its engine is a newer one."""
    bare.add_place()
    engine = EngineGiven(start_seconds=0, past=Past.NEW)
    bare.add_machine(past=Past.UNKNOWN, start_seconds=500 * 3600, engine=engine)
    note_job(bare, at_seconds=400 * 3600)
    note_job(bare, at_seconds=400 * 3600, item_id=ENGINE)
    policy, limits = Policy(), load_catalogue().limits
    judged = judge(bare.machine(), on=bare.today, policy=policy, limits=limits)
    on_machine, on_engine = judged.verdict.jobs
    assert on_machine.state in (TaskState.DUE, TaskState.OVERDUE)
    assert on_engine.state is TaskState.CLEAR


def test_a_job_changed_and_dropped(shed: Shed):
    number = note_job(shed, due_on=LATER)
    shed.run(ChangeJob(job_id=number, due_on=None, minutes=10, text="squeals"))
    (job,) = shed.machine().jobs
    assert (job.due_on, job.minutes, job.text) == (None, 10, "squeals")
    shed.refuses(ChangeJob(job_id=number, minutes=10), RefusedCode.NOTHING_CHANGED)
    shed.refuses(DropJob(job_id=number, on=LATER, why=" "), RefusedCode.NOTHING_GIVEN)
    shed.refuses(DropJob(job_id=number, on=date(2025, 1, 1), why="x"), RefusedCode.DAY_TOO_EARLY)
    shed.run(DropJob(job_id=number, on=LATER, why="sold the belt"))
    assert shed.machine().jobs == ()
    assert len(shed.machine(on=DAY).jobs) == 1
    shed.refuses(DropJob(job_id=number, on=LATER, why="x"), RefusedCode.CLOSED_ALREADY)
    shed.refuses(ChangeJob(job_id=number, minutes=1), RefusedCode.CLOSED_ALREADY)
    assert shed.rows(JobRow)[0].dropped_why == "sold the belt"


def test_a_fault_put_off_taken_up_and_put_right(shed: Shed):
    number = note_fault(shed, stops_use=True, item_id=ENGINE)
    shed.run(PutOffFault(fault_id=number, on=LATER))
    assert [(f.put_off, f.stops_use) for f in shed.machine().faults] == [(True, True)]
    shed.refuses(PutOffFault(fault_id=number, on=LATER), RefusedCode.NOTHING_CHANGED)
    shed.run(PutOffFault(fault_id=number, on=None))
    shed.run(ChangeFault(fault_id=number, stops_use=False, text="starts badly"))
    assert [(f.put_off, f.text) for f in shed.machine().faults] == [(False, "starts badly")]
    shed.refuses(ChangeFault(fault_id=number), RefusedCode.NOTHING_CHANGED)
    shed.refuses(CloseFault(fault_id=number, on=date(2025, 10, 3)), RefusedCode.DAY_TOO_EARLY)
    shed.run(CloseFault(fault_id=number, on=LATER, how="it was the jet"))
    assert shed.machine().faults == ()
    shed.refuses(CloseFault(fault_id=number, on=LATER), RefusedCode.CLOSED_ALREADY)
    shed.refuses(PutOffFault(fault_id=number, on=None), RefusedCode.CLOSED_ALREADY)
    assert shed.rows(FaultRow)[0].closed_how == "it was the jet"


def test_a_fault_of_another_machine_is_not_this_ones(shed: Shed):
    fault = note_fault(shed)
    other = shed.add_machine(name="Blue one")
    shed.refuses(
        NoteJob(machine_id=other, text="x", noted_on=DAY, fault_id=fault), RefusedCode.NOT_THERE
    )


GOOD: dict[str, Any] = {"machine_id": 1, "text": "squeals", "noted_on": DAY}


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (NoteJob(**{**GOOD, "text": ""}), RefusedCode.NOTHING_GIVEN),
        (NoteJob(**{**GOOD, "text": LONG}), RefusedCode.TOO_LONG),
        (NoteJob(**{**GOOD, "text": "a\nb"}), RefusedCode.NOT_PLAIN_TEXT),
        (NoteJob(**{**GOOD, "machine_id": 5}), RefusedCode.NOT_THERE),
        (NoteJob(**{**GOOD, "noted_on": date(2026, 1, 1)}), RefusedCode.DAY_AHEAD),
        (NoteJob(**{**GOOD, "noted_on": date(2019, 1, 1)}), RefusedCode.DAY_TOO_EARLY),
        (NoteJob(**GOOD, due_on=date(2025, 10, 3)), RefusedCode.DAY_TOO_EARLY),
        (NoteJob(**GOOD, due_on=date.max), RefusedCode.DAY_OUT_OF_RANGE),
        (NoteJob(**GOOD, at_seconds=-1), RefusedCode.OUT_OF_RANGE),
        (NoteJob(**GOOD, minutes=-1), RefusedCode.OUT_OF_RANGE),
        (NoteJob(**GOOD, item_id=77), RefusedCode.NOT_THERE),
        (NoteJob(**GOOD, fault_id=77), RefusedCode.NOT_THERE),
        (NoteJob(**GOOD, note="\x00"), RefusedCode.NOT_PLAIN_TEXT),
        (ChangeJob(job_id=77, minutes=1), RefusedCode.NOT_THERE),
        (DropJob(job_id=0, on=DAY, why="x"), RefusedCode.NOT_THERE),
        (NoteFault(machine_id=1, text=" ", since_on=DAY), RefusedCode.NOTHING_GIVEN),
        (NoteFault(machine_id=1, text="x", since_on=date(2026, 1, 1)), RefusedCode.DAY_AHEAD),
        (NoteFault(machine_id=1, text="x", since_on=DAY, item_id=77), RefusedCode.NOT_THERE),
        (NoteFault(machine_id=1, text="x", since_on=DAY, note=LONG), RefusedCode.TOO_LONG),
        (CloseFault(fault_id=77, on=DAY), RefusedCode.NOT_THERE),
        (PutOffFault(fault_id=77, on=DAY), RefusedCode.NOT_THERE),
        (ChangeFault(fault_id=77), RefusedCode.NOT_THERE),
    ],
)
def test_what_makes_no_sense_is_refused(standing: Shed, act: Act, code: RefusedCode):
    standing.refuses(act, code)
