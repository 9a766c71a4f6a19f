"""One line as people say it, read without a window."""

from __future__ import annotations

import subprocess
import sys
from datetime import date

import pytest

from app.entry.typed import (
    Answers,
    KnownMachine,
    Lack,
    Said,
    Sense,
    Unsure,
    read_line,
)
from models.acts.hours import ReadHours
from models.acts.uses import LogUse
from models.acts.work import RecordWork
from models.words import LineOutcome, RunOutcome
from schedules.facts import MachineId
from schedules.units import UnitSystem

TODAY = date(2026, 11, 25)
TASKS = (
    ("E4-02", "Change the engine oil"),
    ("E4-06", "Check the spark plug and its gap"),
    ("E4-07", "Fit a new spark plug"),
    ("MW-01", "Sharpen the blade"),
)
RED = KnownMachine(
    machine_id=MachineId(1), name="Red one", kind="two-stage snow thrower", tasks=TASKS[:3]
)
MOWER = KnownMachine(
    machine_id=MachineId(2), name="Green one", kind="walk-behind mower", tasks=TASKS
)
METERED = KnownMachine(
    machine_id=MachineId(3),
    name="Ride-on",
    kind="ride-on mower or lawn tractor",
    tasks=TASKS,
    shown_seconds=2 * 3600,
)
SHED = (RED, MOWER, METERED)


def read(line: str, answers: Answers | None = None) -> Said | Unsure:
    return read_line(line, SHED, today=TODAY, system=UnitSystem.METRIC, answers=answers)


def understood(line: str, answers: Answers | None = None) -> Said:
    found = read(line, answers)
    assert isinstance(found, Said), found
    return found


@pytest.mark.parametrize(
    ("line", "seconds", "day"),
    [
        ("red one 0.8 h", 2880, TODAY),
        ("Red One ran 0.8 h yesterday", 2880, date(2026, 11, 24)),
        ("ran the red one 45 min 3 days ago", 2700, date(2026, 11, 22)),
        ("red one used 1 h on 12 Dec", 3600, date(2025, 12, 12)),
        ("red one ran 0:30 h Nov 1", 1800, date(2026, 11, 1)),
        ("snow thrower ran 2 hours 2026-11-20", 7200, date(2026, 11, 20)),
    ],
)
def test_it_ran(line: str, seconds: int, day: date) -> None:
    said = understood(line)
    act = said.act()
    assert isinstance(act, LogUse)
    assert (act.machine_id, act.run_seconds, act.day) == (1, seconds, day)
    assert act.outcome is RunOutcome.RAN


def test_how_it_ran() -> None:
    assert understood("red one ran badly").outcome is RunOutcome.BADLY
    for line in ("red one did not start", "green one won't start", "Ride-on didn’t start"):
        assert understood(line).outcome is RunOutcome.DID_NOT


def test_more_than_a_day_holds_is_what_the_meter_shows() -> None:
    act = understood("green one 231.4 h").act()
    assert isinstance(act, ReadHours)
    assert act.shown_seconds == 833_040
    assert understood("green one meter shows 3.1 h").sense is Sense.METER


def test_what_can_be_either_is_asked() -> None:
    found = read("ride-on 3 h")
    assert isinstance(found, Unsure)
    assert found.lack is Lack.SENSE
    assert understood("ride-on 3 h", Answers(sense="meter")).sense is Sense.METER
    assert understood("ride-on 1 h").sense is Sense.USE


def test_work_with_its_sum() -> None:
    act = understood("oil green one done 12.40").act()
    assert isinstance(act, RecordWork)
    assert (act.machine_id, act.cents) == (2, 1240)
    assert [line.task for line in act.lines] == ["E4-02"]
    walked = read("oil mower done 12.40")
    assert isinstance(walked, Unsure)
    assert dict(walked.choices) == {"2": "Green one", "3": "Ride-on"}
    assert understood("oil mower done 12.40", Answers(machine="2")).tasks == ("E4-02",)
    act = understood("sharpened blades green one £8 yesterday", Answers(task="MW-01")).act()
    assert isinstance(act, RecordWork)
    assert (act.cents, act.day) == (800, date(2026, 11, 24))


def test_work_that_may_be_one_of_two_is_asked() -> None:
    found = read("plug red one done")
    assert isinstance(found, Unsure)
    assert [code for code, _ in found.choices] == ["E4-06", "E4-07"]
    said = understood("plug red one replaced", Answers(task="E4-07"))
    act = said.act()
    assert isinstance(act, RecordWork)
    assert act.lines[0].outcome is LineOutcome.REPLACED


@pytest.mark.parametrize(
    "line", ["", "   ", "0.8 h", "%s {0} \x00", "12.40", "h h h", "🌱" * 500, "red one", "-" * 5000]
)
def test_what_says_nothing_is_never_entered(line: str) -> None:
    assert isinstance(read(line), Unsure)


def test_a_name_that_two_share_is_asked() -> None:
    found = read("one ran 1 h")
    assert isinstance(found, Unsure)
    assert found.lack is Lack.MACHINE
    alone = read_line("ran 1 h", (RED,), today=TODAY, system=UnitSystem.METRIC)
    assert isinstance(alone, Said)
    assert alone.machine is RED


def test_it_needs_no_window() -> None:
    blocked = "import sys; sys.modules['PySide6'] = None; import app.entry.typed"
    assert subprocess.run([sys.executable, "-c", blocked], check=False).returncode == 0
