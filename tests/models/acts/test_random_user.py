"""A random user with the real acts: whatever is tried, the file holds, and what is entered can
be read. Days, numbers and codes are often wrong; nothing but a refusal may come of it.
"""

import os
import shutil
import tempfile
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import TypeVar

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, run_state_machine_as_test

from models.acts.answers import AnswerDuties, AnswerFeatures, ForgetOwnFigure, SetOwnFigure
from models.acts.coming import ChangeComing
from models.acts.corrections import CorrectEntry, Correcting, StrikeEntry, WithdrawHours
from models.acts.fault_sheets import EnterFaultSheet, PrintedStep
from models.acts.faults import CloseFault, NoteFault, PutOffFault
from models.acts.fuel import (
    AddOil,
    AddVessel,
    ChangeVessel,
    Drain,
    Fill,
    LookAtFuel,
    Pour,
    Refill,
    SetLevel,
    Stabilise,
    TopUp,
)
from models.acts.hours import AcceptHours, Lower, ReadHours, ReplaceMeter, SetMeter
from models.acts.household import ChangeSettings
from models.acts.jobs import ChangeJob, DropJob, NoteJob
from models.acts.machines import (
    AddMachine,
    BringBackMachine,
    ChangeMachine,
    FuelLeft,
    MoveMachine,
    RemoveMachine,
    RetireMachine,
)
from models.acts.photos import AddPhoto, ChangePhoto, RemovePhoto
from models.acts.places import (
    AddPlace,
    ChangePlace,
    MonthWeather,
    RemovePlace,
    SetSeasons,
    SetWeather,
)
from models.acts.readings import Measure, Measured
from models.acts.searches import (
    AnswerTest,
    BeginSearch,
    CannotTest,
    CloseSearch,
    NoteStep,
    PauseSearch,
    TakeBackStep,
    TellFact,
    TryCure,
)
from models.acts.sheets import EnterSheet, PrintSheet, SheetException, SheetLine
from models.acts.storage import ChangePlan, PutAway, Wake
from models.acts.stores import Pay, StockPart
from models.acts.units import AddUnit, ChangeUnit, FitUnit, RetireUnit, TakeOffUnit
from models.acts.uses import LogUse
from models.acts.work import LineGiven, PassOver, RecordWork
from models.changes import Area
from models.facts.fleet import read_cans, read_fleet
from models.facts.photos import Subject
from models.facts.records import read_records
from models.file import open_household
from models.moment import Moment
from models.words import (
    InferredFrom,
    LineOutcome,
    Paper,
    PaymentSort,
    PhotoOf,
    RunOutcome,
    SearchDoing,
    SearchEnd,
    SheetSort,
    Side,
)
from models.writer import Act
from resources.loader import load_catalogue
from schedules.facts import (
    FuelSort,
    Gone,
    ItemSort,
    Look,
    MonthDay,
    Past,
    Phase,
    Shelter,
    VesselSort,
    Window,
)
from tests.models import test_random_user as users
from tests.models.acts.shed import IN_MEMORY
from tests.models.whole_household import bare_jpeg

TODAY = date(2025, 11, 25)
T = TypeVar("T")


def mostly(good: st.SearchStrategy[T], *wrong: T) -> st.SearchStrategy[T]:
    """What makes sense, and now and then what does not."""
    return st.integers(0, 11).flatmap(lambda at: st.sampled_from(wrong) if at == 7 else good)


NUMBERS = mostly(st.sampled_from([1, 1, 1, 1, 2, 2, 3, 4]), 0, 9, 2**63)
NAMES = mostly(st.sampled_from(["Red one", "Blue 🌨", "O'Neill; --"]), "", "a\x00b", "x" * 201)
NOTES = mostly(st.sampled_from(["", "two\nlines", "'; DROP TABLE item"]), "\ud800", "x" * 10_001)
DAYS = mostly(
    st.integers(0, 1000).map(lambda back: TODAY - timedelta(days=back)),
    date(2026, 1, 1),
    date(1899, 1, 1),
    date.max,
    date.min,
)
SECONDS = mostly(st.integers(0, 300).map(lambda hours: hours * 3600), -1, 86_401, 10**11, 10**30)
USE_SECONDS = st.none() | mostly(st.sampled_from([0, 600, 3_600, 30_000]), -1, 86_401)
PERHAPS_SECONDS = st.none() | SECONDS
VOLUMES = st.none() | mostly(
    st.sampled_from([1, 50_000, 400_000, 1_000_000]), 0, 3_000_001, -1, 10**12
)
COUNTS = mostly(st.sampled_from([1, 1, 2, 3]), 0, -1, 10**6)
TASKS = mostly(st.sampled_from(["E4-02", "E4-09", "E4-07"]), "S2-01", "LI-01", "nothing", "")
LIMITS = mostly(st.sampled_from(["L55", "L01", "L56"]), "L20", "L99")
FLAGS = st.booleans()
STRUCK = [Area.WORK, Area.READINGS, Area.HOURS, Area.USES, Area.FUEL, Area.MONEY, Area.JOBS]
KINDS = mostly(st.sampled_from(["K02", "K04", "K09", "K10"]), "K99")
WINDOWS = st.builds(
    Window,
    st.builds(MonthDay, st.integers(1, 12), st.sampled_from([1, 29, 31])),
    st.builds(MonthDay, st.integers(1, 12), st.sampled_from([1, 28, 29])),
)
LINES = st.builds(
    LineGiven,
    task=TASKS,
    job_id=mostly(st.none(), 1, 2),
    outcome=st.sampled_from(LineOutcome),
    part=mostly(st.just("shear-pin"), None, "unobtainium"),
    quantity=COUNTS,
    note=NOTES,
)
MEASURED = st.one_of(
    st.builds(
        Measured,
        task=st.just("E4-07"),
        limit=st.just("L01"),
        amount=mostly(st.sampled_from([0, 700, 800]), -1, 10**12),
        after_work=FLAGS,
    ),
    st.builds(Measured, task=st.just("E4-09"), limit=st.just("L55"), seen=FLAGS),
    st.builds(
        Measured, task=TASKS, limit=LIMITS, seen=FLAGS, side=st.none() | st.sampled_from(Side)
    ),
)


def entries() -> list[st.SearchStrategy[Correcting]]:
    """Acts that make an entry, and so can correct one."""
    on_machine = {"machine_id": NUMBERS, "day": DAYS}
    in_vessel = {"vessel_id": NUMBERS, "day": DAYS}
    return [
        st.builds(
            ReadHours,
            **on_machine,
            shown_seconds=SECONDS,
            lower=st.none() | st.sampled_from(Lower),
            modulus_seconds=mostly(st.none(), 3_600_000),
        ),
        st.builds(
            LogUse,
            **on_machine,
            run_seconds=USE_SECONDS,
            count=COUNTS,
            outcome=st.sampled_from(RunOutcome),
            note=NOTES,
        ),
        st.builds(
            RecordWork,
            **on_machine,
            lines=st.lists(LINES, min_size=1, max_size=2).map(tuple),
            measured=st.lists(MEASURED, max_size=1).map(tuple),
            shown_seconds=mostly(st.none(), 36_000, 720_000, -1),
            lower=st.none() | st.sampled_from(Lower),
        ),
        st.builds(Measure, **on_machine, measured=MEASURED),
        st.builds(
            Fill,
            **in_vessel,
            sort=st.sampled_from(FuelSort),
            volume_ul=VOLUMES,
            bought_on=mostly(st.none(), date(2020, 1, 1), date(2026, 1, 1)),
            age_known=FLAGS,
            stabilised=FLAGS,
        ),
        st.builds(TopUp, **in_vessel, volume_ul=VOLUMES),
        st.builds(Pour, **in_vessel, to_vessel_id=NUMBERS, volume_ul=VOLUMES),
        st.builds(Drain, **in_vessel, volume_ul=VOLUMES, gone=st.sampled_from(Gone)),
        st.builds(AddOil, **in_vessel, volume_ul=VOLUMES.map(lambda ul: ul or 1)),
        st.builds(Stabilise, **in_vessel, dose_ul=VOLUMES),
        st.builds(LookAtFuel, **in_vessel, look=st.sampled_from(Look)),
        st.builds(
            SetLevel,
            **in_vessel,
            volume_ul=VOLUMES.map(lambda ul: ul or 0),
            missing=st.none() | st.sampled_from(Gone),
        ),
        st.builds(
            Pay,
            day=DAYS,
            sort=st.sampled_from(PaymentSort),
            cents=COUNTS,
            machine_id=st.none() | NUMBERS,
        ),
    ]


def furniture() -> list[st.SearchStrategy[Act]]:
    """Acts on the household, its places, machines, units and vessels."""
    return [
        st.builds(ChangeSettings, name=NAMES, person=NAMES),
        st.builds(AddPlace, name=NAMES, south=FLAGS, shelter=st.sampled_from(Shelter), note=NOTES),
        st.builds(ChangePlace, place_id=NUMBERS, name=NAMES, south=FLAGS),
        st.builds(
            SetWeather,
            place_id=NUMBERS,
            months=st.lists(
                st.builds(
                    MonthWeather,
                    month=st.integers(0, 13),
                    mean_mc=st.sampled_from([-5_000, 5_000, 90_000]),
                ),
                max_size=2,
            ).map(tuple),
        ),
        st.builds(
            SetSeasons,
            place_id=NUMBERS,
            kind=KINDS,
            windows=st.none() | st.lists(WINDOWS, max_size=3).map(tuple),
        ),
        st.builds(RemovePlace, place_id=NUMBERS),
        st.builds(
            AddMachine,
            name=NAMES,
            kind=KINDS,
            place_id=NUMBERS,
            came_on=DAYS,
            past=st.sampled_from(Past),
            battery=FLAGS,
            start_seconds=PERHAPS_SECONDS,
            shown_seconds=st.none() | SECONDS,
            last_ran_on=st.none() | DAYS,
            fuel_left=st.none() | st.sampled_from(FuelLeft),
            bought_on=st.none() | DAYS,
        ),
        st.builds(ChangeMachine, machine_id=NUMBERS, name=NAMES, start_seconds=PERHAPS_SECONDS),
        st.builds(ChangeComing, machine_id=NUMBERS, came_on=DAYS),
        st.builds(MoveMachine, machine_id=NUMBERS, place_id=NUMBERS, on=DAYS),
        st.builds(RetireMachine, machine_id=NUMBERS, on=DAYS),
        st.builds(BringBackMachine, machine_id=NUMBERS),
        st.builds(RemoveMachine, machine_id=NUMBERS),
        st.builds(
            AddUnit,
            sort=st.sampled_from(ItemSort),
            name=NAMES,
            came_on=DAYS,
            machine_id=st.none() | NUMBERS,
        ),
        st.builds(ChangeUnit, unit_id=NUMBERS, start_seconds=PERHAPS_SECONDS),
        st.builds(FitUnit, unit_id=NUMBERS, machine_id=NUMBERS, on=DAYS),
        st.builds(TakeOffUnit, unit_id=NUMBERS, machine_id=NUMBERS, on=DAYS),
        st.builds(RetireUnit, unit_id=NUMBERS, on=DAYS),
        st.builds(
            AddVessel,
            name=NAMES,
            sort=st.sampled_from(VesselSort),
            capacity_ul=st.sampled_from([5_000_000, 0]),
            came_on=DAYS,
            machine_id=st.none() | NUMBERS,
            place_id=st.none() | NUMBERS,
        ),
        st.builds(ChangeVessel, vessel_id=NUMBERS, name=NAMES, retired_on=st.none() | DAYS),
    ]


def searches() -> list[st.SearchStrategy[Act]]:
    """Looking for a fault: begun, answered, put aside, paused, ended; a sheet of it coming back."""
    readings = mostly(st.sampled_from(["gate", "spark", "bowl", "Q-PARK"]), "x")
    outcomes = mostly(st.sampled_from(["ok", "good", "fuel", "wet", "odd"]), "x")
    causes = mostly(st.sampled_from(["F4", "I1", "F2"]), "x")
    on = st.just(TODAY)
    return [
        st.builds(
            BeginSearch,
            machine_id=NUMBERS,
            symptom=mostly(st.sampled_from(["S1F", "S3"]), "S99", "H1"),
            on=DAYS,
            fault_id=st.none() | NUMBERS,
        ),
        st.builds(AnswerTest, search_id=NUMBERS, reading=readings, outcome=outcomes, on=on),
        st.builds(CannotTest, search_id=NUMBERS, reading=readings, on=on),
        st.builds(TryCure, search_id=NUMBERS, cause=causes, place=COUNTS, helped=FLAGS, on=on),
        st.builds(
            TellFact,
            search_id=NUMBERS,
            fact=mostly(st.sampled_from(["primer", "months_parked"]), "x"),
            value=st.sampled_from(["yes", "odd", "x"]),
            on=on,
        ),
        st.builds(
            NoteStep,
            search_id=NUMBERS,
            doing=st.sampled_from([SearchDoing.LEFT_OFF, SearchDoing.SHUT, SearchDoing.SEEN]),
            on=on,
            text=NAMES,
        ),
        st.builds(TakeBackStep, step_id=NUMBERS),
        st.builds(PauseSearch, search_id=NUMBERS, on=on, waits_for=NAMES),
        st.builds(
            CloseSearch,
            search_id=NUMBERS,
            on=on,
            ending=st.sampled_from(SearchEnd),
            cause=st.none() | causes,
            teaches=FLAGS,
        ),
        st.builds(
            EnterFaultSheet,
            number=st.sampled_from([1000, 1001, 0]),
            day=on,
            seen=st.lists(
                st.tuples(st.sampled_from([0, 1, 9]), st.sampled_from(["ok", "fuel", "helped"])),
                max_size=2,
            ).map(tuple),
            left_off=st.lists(NAMES, max_size=1).map(tuple),
        ),
    ]


def the_rest(entry: st.SearchStrategy[Correcting]) -> list[st.SearchStrategy[Act]]:
    """Corrections, meters, spells, jobs, faults, answers, shelf and sheets."""
    return [
        st.builds(
            Refill,
            fill=st.builds(
                Fill,
                day=DAYS,
                vessel_id=NUMBERS,
                sort=st.sampled_from(FuelSort),
                volume_ul=VOLUMES,
            ),
            gone=st.sampled_from(Gone),
        ),
        st.builds(CorrectEntry, entry_id=NUMBERS, by=entry),
        st.builds(StrikeEntry, area=st.sampled_from(STRUCK), entry_id=NUMBERS),
        st.builds(WithdrawHours, point_id=NUMBERS),
        st.builds(
            AcceptHours,
            machine_id=NUMBERS,
            day=DAYS,
            total_seconds=SECONDS,
            inferred_from=st.sampled_from(InferredFrom),
        ),
        st.builds(
            ReplaceMeter,
            machine_id=NUMBERS,
            day=DAYS,
            old_shown_seconds=SECONDS,
            new_shown_seconds=SECONDS,
            rollovers=st.sampled_from([0, 0, 1, 2]),
        ),
        st.builds(SetMeter, machine_id=NUMBERS, day=DAYS, modulus_seconds=PERHAPS_SECONDS),
        st.builds(PassOver, machine_id=NUMBERS, day=DAYS, tasks=st.lists(TASKS).map(tuple)),
        st.builds(PutAway, machine_id=NUMBERS, on=DAYS, planned_last=st.none() | DAYS),
        st.builds(Wake, machine_id=NUMBERS, on=DAYS),
        st.builds(ChangePlan, machine_id=NUMBERS, planned_last=st.none() | DAYS, note=NOTES),
        st.builds(
            NoteJob,
            machine_id=NUMBERS,
            text=NAMES,
            noted_on=DAYS,
            due_on=st.none() | DAYS,
            phase=st.none() | st.sampled_from(Phase),
            at_seconds=PERHAPS_SECONDS,
            item_id=st.none() | NUMBERS,
        ),
        st.builds(ChangeJob, job_id=NUMBERS, text=NAMES, due_on=st.none() | DAYS),
        st.builds(DropJob, job_id=NUMBERS, on=DAYS, why=NAMES),
        *searches(),
        st.builds(NoteFault, machine_id=NUMBERS, text=NAMES, since_on=DAYS, stops_use=FLAGS),
        st.builds(PutOffFault, fault_id=NUMBERS, on=st.none() | DAYS),
        st.builds(
            AddPhoto,
            machine_id=NUMBERS,
            jpeg=st.sampled_from([bare_jpeg(64, 48), b"", bytes(300)]),
            taken_on=DAYS,
            text=NAMES,
            subject=st.none() | st.builds(Subject, of=st.sampled_from(PhotoOf), entry_id=NUMBERS),
            on_paper=FLAGS,
        ),
        st.builds(ChangePhoto, photo_id=NUMBERS, text=NAMES, on_paper=FLAGS),
        st.builds(RemovePhoto, photo_id=NUMBERS),
        st.builds(CloseFault, fault_id=NUMBERS, on=DAYS, how=NAMES),
        st.builds(
            AnswerFeatures,
            machine_id=NUMBERS,
            answers=st.sampled_from([(("tank", "steel"),), (("tank", None),), (("tank", "x"),)]),
        ),
        st.builds(
            AnswerDuties,
            machine_id=NUMBERS,
            answers=st.sampled_from([(("dust", True),), (("dust", None), ("heat", False))]),
        ),
        st.builds(
            SetOwnFigure,
            machine_id=NUMBERS,
            target=st.one_of(TASKS, LIMITS),
            figure=mostly(st.sampled_from(["months", "run_seconds"]), "low", "high", "x"),
            value=st.none() | COUNTS,
        ),
        st.builds(ForgetOwnFigure, machine_id=NUMBERS, target=TASKS, figure=st.just("months")),
        st.builds(StockPart, part=st.just("shear-pin"), quantity=COUNTS, spec=NAMES),
        st.builds(
            PrintSheet,
            sort=st.sampled_from(SheetSort),
            paper=st.sampled_from(Paper),
            lines=st.lists(
                st.builds(
                    SheetLine,
                    machine_id=NUMBERS,
                    tasks=st.lists(TASKS, max_size=2).map(tuple),
                    job_id=st.none() | NUMBERS,
                ),
                max_size=2,
            ).map(tuple),
        ),
        st.builds(
            EnterSheet,
            number=st.sampled_from([1000, 1001, 1002, 0]),
            day=st.just(TODAY),
            exceptions=st.lists(
                st.builds(SheetException, place=COUNTS, outcome=st.sampled_from(LineOutcome)),
                max_size=1,
            ).map(tuple),
        ),
    ]


ENTRY: st.SearchStrategy[Correcting] = st.one_of(entries())
ACTS: st.SearchStrategy[Act] = st.one_of(
    ENTRY, ENTRY, st.one_of(furniture()), st.one_of(the_rest(ENTRY))
)


@pytest.fixture
def furnished_household(empty_household: Path, tmp_path: Path, moment: Moment) -> Path:
    """A thrower, a mower, two battery tools that share a pack, and a can; closed, to be copied."""
    path = tmp_path / "furnished.firstpull"
    shutil.copyfile(empty_household, path)
    with open_household(path, moment=moment) as household:
        writer = household.need_writer()
        for act in FURNITURE:
            writer.run(act, moment=moment)
    return path


CAME = date(2021, 11, 1)
PRINTED = tuple(
    PrintedStep(
        machine_id=1, number=number, title="Look", symptom="S1F", subject=subject, place=place
    ).line()
    for number, subject, place in (("1", "gate", None), ("2", "F2", 0))
)
FURNITURE: tuple[Act, ...] = (
    AddPlace(name="Lean-to"),
    AddMachine(name="Red one", kind="K02", place_id=1, came_on=CAME, past=Past.NEW),
    AddMachine(name="Grass", kind="K04", place_id=1, came_on=CAME, fuel_left=FuelLeft.YES),
    AddMachine(name="Twig", kind="K10", place_id=1, came_on=CAME),
    AddMachine(name="Leaf", kind="K10", place_id=1, came_on=CAME),
    AddUnit(sort=ItemSort.PACK, name="Pack", came_on=CAME, machine_id=3),
    FitUnit(unit_id=7, machine_id=4, on=CAME),
    AddVessel(name="Can", sort=VesselSort.CAN, capacity_ul=5_000_000, came_on=CAME, place_id=1),
    BeginSearch(machine_id=1, symptom="S1F", on=TODAY),
    PrintSheet(sort=SheetSort.FAULTS, paper=Paper.A4, lines=PRINTED),
)


class ReadingUser(users.User):
    """After every act everything can still be read, on any day."""

    acts = ACTS

    @invariant()
    def the_facts_can_be_read(self) -> None:
        if not hasattr(self, "now"):
            return
        catalogue = load_catalogue()
        for on in (TODAY, date(2024, 2, 29)):
            with self.household.read() as session:
                fleet = read_fleet(session, on=on, catalogue=catalogue)
                read_cans(session, on=on, catalogue=catalogue)
                for facts in fleet:
                    read_records(session, machine_id=facts.machine_id, on=on)
            for item in (item for facts in fleet for item in facts.items):
                seconds = [reading.seconds for reading in item.hours.readings]
                assert seconds == sorted(seconds)


@pytest.fixture(autouse=True)
def no_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    if os.access(IN_MEMORY, os.W_OK):
        monkeypatch.setattr(tempfile, "tempdir", str(IN_MEMORY))


def run_users(empty: Path, moment: Moment, *, examples: int, steps: int) -> None:
    machine: Callable[[], ReadingUser] = type(
        "SomeUser", (ReadingUser,), {"empty": empty, "moment": moment}
    )
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=examples,
            stateful_step_count=steps,
            deadline=None,
            phases=users.LONG if examples > users.SHORT_RUN else users.SHORT,
            suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
        ),
    )


def test_a_random_user_with_the_real_acts(furnished_household: Path, moment: Moment):
    run_users(furnished_household, moment, examples=3, steps=14)


@pytest.mark.long
def test_many_random_users_with_the_real_acts(furnished_household: Path, moment: Moment):
    run_users(furnished_household, moment, examples=400, steps=40)
