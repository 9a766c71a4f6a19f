"""The rescue page: told from take-in to what it needs next, on one page."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from io import BytesIO
from pathlib import Path
from shutil import copyfile

import pdfplumber

from app.rescue import print_rescue
from app.services import services_of
from models.acts.faults import CloseFault, NoteFault
from models.acts.jobs import NoteJob
from models.acts.machines import AddMachine
from models.acts.places import AddPlace
from models.acts.readings import Measure, Measured
from models.acts.stores import Pay
from models.acts.trials import AddValues, BeginTrial, SetConditions, Value
from models.acts.work import LineGiven, RecordWork
from models.file import Household, open_household
from models.moment import Moment
from models.words import LineOutcome, Paper, PaymentSort, TrialSide
from schedules.facts import MachineId, Past

CAME, WORKED, THROWN = date(2025, 9, 6), date(2025, 9, 20), date(2025, 11, 20)
ALIKE = (
    ("snow", "packs"),
    ("depth", "middle"),
    ("surface", "smooth"),
    ("wind", "still"),
    ("chute", "yes"),
    ("revs", "yes"),
)


def throws(side: TrialSide, *metres: float) -> AddValues:
    values = tuple(Value(amount=round(each * 1_000_000)) for each in metres)
    return AddValues(trial_id=1, side=side, day=THROWN, values=values)


def rescued(household: Household, moment: Moment, *, visits: int = 1) -> None:
    acts = [
        AddPlace(name="Lean-to"),
        AddMachine(kind="K02", place_id=1, name="Rust", came_on=CAME, past=Past.UNKNOWN),
        Pay(machine_id=1, day=CAME, sort=PaymentSort.BOUGHT, cents=4000, shop="a neighbour"),
        NoteFault(machine_id=1, text="fires on a prime, then quits", since_on=CAME),
        *(
            RecordWork(
                machine_id=1,
                day=WORKED,
                minutes=90,
                lines=(
                    LineGiven(
                        task="S2-06",
                        outcome=LineOutcome.REPLACED,
                        part_text="rubber ring",
                        cents=1450,
                    ),
                ),
                note="the old one was in rags",
            )
            for _ in range(visits)
        ),
        CloseFault(fault_id=1, on=WORKED, how="jet cleaned"),
        *(
            Measure(
                machine_id=1, day=day, measured=Measured(task="S2-10", limit="L13", amount=amount)
            )
            for day, amount in ((CAME, 9000), (WORKED, 8900), (THROWN, 8950))
        ),
        BeginTrial(machine_id=1, protocol="throw", day=THROWN, job="again", work="new flaps"),
        *(SetConditions(trial_id=1, side=side, answers=ALIKE) for side in TrialSide),
        throws(TrialSide.BEFORE, 4.1, 3.8, 4.4, 4.0, 3.6, 4.2),
        throws(TrialSide.AFTER, 4.9, 5.3, 4.6, 5.1, 5.4, 4.8),
    ]
    for act in acts:
        household.need_writer().run(act, moment=moment)


def printed(household: Household, moment: Moment, paper: Paper = Paper.A4) -> tuple[str, int]:
    pdf = print_rescue(
        services_of(household), paper=paper, only=frozenset({MachineId(1)}), moment=moment
    )
    assert pdf is not None
    with pdfplumber.open(BytesIO(pdf)) as found:
        return "\n".join(page.extract_text() for page in found.pages), len(found.pages)


def test_the_whole_story_on_one_page(household: Household, moment: Moment):
    rescued(household, moment)
    text, pages = printed(household, moment)
    assert pages == 1
    for said in (
        "Rust",
        "What came in",
        "fires on a prime, then quits",
        "jet cleaned",
        "rubber ring",
        "It helped.",
        "In all",
        "Own time",
        "What it needs next",
    ):
        assert said in text, said
    assert "54.50" in text  # 40 for it, 14.50 for the ring
    assert "1 h 30 min" in text or "90 min" in text or "1½" in text, text


def test_a_long_story_gives_way_and_says_so(household: Household, moment: Moment):
    rescued(household, moment, visits=45)
    for paper in Paper:
        text, pages = printed(household, moment, paper)
        assert pages == 1
        assert "more, in the record" in text


def test_nobody_is_told_of_what_is_not_there(household: Household, moment: Moment):
    assert print_rescue(services_of(household), paper=Paper.A4, only=None, moment=moment) is None


def test_the_same_page_twice(household: Household, moment: Moment):
    rescued(household, moment)
    services = services_of(household)
    first, second = (
        print_rescue(services, paper=Paper.LETTER, only=None, moment=moment) for _ in range(2)
    )
    assert first == second


def test_what_nobody_knows_is_no_lack_of_need(household: Household, moment: Moment):
    household.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
    came = AddMachine(kind="K02", place_id=1, name="Rust", came_on=CAME, past=Past.UNKNOWN)
    household.need_writer().run(came, moment=moment)
    text, _ = printed(household, moment)
    assert "Nothing is due" not in text
    assert "First going-over: " in text
    assert "nobody knows when these were" in text


def test_what_was_measured_past_its_limit_is_a_need_while_it_rests(
    household: Household, moment: Moment
):
    """A blade found worn in summer waits for the eve of the next one, and is told of before."""
    acts = (
        AddPlace(name="Lean-to"),
        AddMachine(kind="K04", place_id=1, name="Meadow", came_on=CAME, past=Past.NEW),
        Measure(
            machine_id=1,
            day=WORKED,
            measured=Measured(task="MW-02", limit="L31", amount=7_000),
        ),
    )
    for act in acts:
        household.need_writer().run(act, moment=moment)
    text, _ = printed(household, moment)
    assert "Measure the blade because of a measurement" in text


def test_the_shed_tells_a_whole_rescue(
    tmp_path: Path, moment: Moment, made_up: Callable[[date], Path]
):
    """Of the machine nobody had looked after: on one page, whatever else its record holds."""
    copyfile(made_up(moment.today), tmp_path / "shed.firstpull")
    with open_household(tmp_path / "shed.firstpull", moment=moment) as shed:
        text, pages = printed(shed, moment)
    assert pages == 1
    for said in (
        "Big thrower",
        "Throws four metres",
        "flaps on the",
        "four flaps cut from a sheet",
        "9\u00a0mm, now 1.5\u00a0mm".replace("\u00a0", " "),
        "It helped. 22% more than before.",
        "In all",
        "What it needs next",
        "more",
    ):
        assert said in text.replace("\u00a0", " "), said


def test_a_long_list_of_needs_leaves_one_page(household: Household, moment: Moment):
    rescued(household, moment, visits=20)
    for number in range(12):
        act = NoteJob(
            machine_id=1, text=f"thing {number}", noted_on=moment.today, due_on=moment.today
        )
        household.need_writer().run(act, moment=moment)
    for number in range(10):
        act = NoteFault(machine_id=1, text=f"wrong {number}, " + "and more " * 12, since_on=CAME)
        household.need_writer().run(act, moment=moment)
    for paper in Paper:
        text, pages = printed(household, moment, paper)
        assert pages == 1
        assert "and 6 more" in text
