"""One line as people say it, read without a window."""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

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


SAWS = tuple(
    KnownMachine(machine_id=MachineId(place), name=f"Saw {place}", kind="chainsaw", tasks=TASKS)
    for place in (1, 2)
)


@pytest.mark.parametrize(
    ("line", "seconds"),
    [
        ("red one ran 0,8 h", 2880),
        ("red one ran 1 h 20 min", 4800),
        ("red one ran 1 hour and 20 minutes", 4800),
        ("red one ran 1,25 h", 4500),
        ("red one ran 1.25 h.", 4500),
    ],
)
def test_a_figure_is_taken_whole(line: str, seconds: int) -> None:
    act = understood(line).act()
    assert isinstance(act, LogUse)
    assert act.run_seconds == seconds


@pytest.mark.parametrize(
    ("line", "cents"),
    [
        ("oil green one done 12,40 €", 1240),
        ("oil green one done €12,40", 1240),
        ("oil green one done $ 7", 700),
        ("oil green one done 12,40", 1240),
    ],
)
def test_a_sum_is_taken_whole(line: str, cents: int) -> None:
    act = understood(line).act()
    assert isinstance(act, RecordWork)
    assert act.cents == cents


@pytest.mark.parametrize(
    "line",
    [
        "red one ran 1.5.2 h",
        "red one ran 1 1/2 h",
        "red one ran 1½ h",
        "red one ran half an hour",
        "red one ran two hours",
        "red one ran 1 hour and a half",
        "red one ran 1 h 20 min 30 s",
        "red one ran 1 h 70 min",
        "red one ran 20-30 min",
        "red one ran -1 h",
        "red one ran 1 000 h",
        "red one ran 1e3 h",
        "red one ran .5 h",
        "red one ran 1:30",
        "red one ran 0.8",
        "red one ran 1 h £5",
        "red one ran 1 h twice",
        "red one did not start 5 min",
        "oil green one done 12.4 €",
        "oil green one done £12,400",
        "oil green one done 12.40 h",
        "oil green one done at 12.40",
        "oil green one 0.75 mm done",
        "oil green one done 0.6 l",
    ],
)
def test_a_figure_that_is_not_read_is_said(line: str) -> None:
    found = read(line)
    assert isinstance(found, Unsure)
    assert found.lack is Lack.FIGURE
    assert found.figure


def test_a_comma_that_can_part_thousands_is_asked() -> None:
    found = read("green one meter shows 1,250 h")
    assert isinstance(found, Unsure)
    assert [way for way, _ in found.choices] == ["1.250 h", "1250 h"]
    for way, seconds in (("1.250 h", 4500), ("1250 h", 4_500_000)):
        act = understood("green one meter shows 1,250 h", Answers(figure=way)).act()
        assert isinstance(act, ReadHours)
        assert act.shown_seconds == seconds


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("2 weeks ago", date(2026, 11, 11)),
        ("a week ago", date(2026, 11, 18)),
        ("on Saturday", date(2026, 11, 21)),
        ("last Saturday", date(2026, 11, 21)),
        ("last Wednesday", date(2026, 11, 18)),
        ("on Tue", date(2026, 11, 24)),
        ("12/11", date(2026, 11, 12)),
        ("12/11/2025", date(2025, 11, 12)),
        ("12.11.2025", date(2025, 11, 12)),
        ("12th of December", date(2025, 12, 12)),
        ("Dec 12, 2024", date(2024, 12, 12)),
        ("yesterday morning", date(2026, 11, 24)),
        ("this morning", TODAY),
        ("the day before yesterday", date(2026, 11, 23)),
    ],
)
def test_the_day(said: str, day: date) -> None:
    assert understood(f"red one ran 1 h {said}").day == day
    assert understood(f"{said} red one ran 1 h").day == day


@pytest.mark.parametrize(
    "said",
    [
        "last week",
        "31 feb",
        "2025-02-30",
        "11/25",
        "on Wednesday",
        "next Saturday",
        "tomorrow",
        "3 months ago",
        "yesterday and today",
        "in May",
        "on 12/11 and 13/11",
        "last winter",
        "999999 weeks ago",
    ],
)
def test_a_day_that_is_not_understood_is_never_today(said: str) -> None:
    found = read(f"red one ran 1 h {said}")
    assert isinstance(found, Unsure), found
    assert found.lack is Lack.DAY


def test_the_household_says_which_of_two_figures_is_the_month() -> None:
    said = read_line(
        "red one ran 1 h 11/12", SHED, today=TODAY, system=UnitSystem.METRIC, month_first=True
    )
    assert isinstance(said, Said)
    assert said.day == date(2026, 11, 12)


@pytest.mark.parametrize("line", ["red one auger 1 ran 1 h", "red one decking 2 ran 1 h"])
def test_what_only_begins_like_a_month_is_no_day(line: str) -> None:
    found = read(line)
    assert isinstance(found, Unsure)
    assert found.lack is Lack.FIGURE


def test_a_number_in_a_name_is_the_name() -> None:
    def said(line: str) -> Said | Unsure:
        return read_line(line, SAWS, today=TODAY, system=UnitSystem.METRIC)

    one = said("saw 2 ran 1 h on 12 Nov")
    assert isinstance(one, Said)
    assert (one.machine.name, one.day) == ("Saw 2", date(2026, 11, 12))
    for line in ("ran saw 2 h", "saw 2 and saw 1 ran 1 h", "saw ran 1 h"):
        assert isinstance(said(line), Unsure), line


PIECES = (
    "red one",
    "green one",
    "ride-on",
    "ran",
    "did not start",
    "oil",
    "done",
    "shows",
    "on",
    "yesterday",
    "ago",
    "weeks",
    "Dec",
    "h",
    "min",
    "£",
    "€",
    ",",
    ".",
    "/",
    "-",
    ":",
    " ",
    "0",
    "1",
    "12",
    "40",
    "2025",
    "½",
)


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(PIECES), min_size=2, max_size=9), st.integers(0, 2))
def test_no_line_is_entered_with_a_figure_unread(pieces: list[str], wide: int) -> None:
    """Whatever is entered accounts for every figure: more figures, and it is asked."""
    line = (" " if wide else "").join(pieces)
    found = read(line)
    if not isinstance(found, Said):
        return
    figures = re.findall(r"[0-9]+", line)
    dated = found.day != TODAY
    most = 2 * (found.run is not None) + 2 * (found.cents is not None) + 3 * dated
    assert len(figures) <= most, (line, found)
    assert "½" not in line
    more = read(f"{line} 7")
    assert not isinstance(more, Said), (line, more)


@pytest.mark.parametrize("line", ["red one oil £", "oil $ red one", "red one ran 0.8 h €"])
def test_money_without_a_figure_is_asked_for(line: str) -> None:
    found = read(line)
    assert isinstance(found, Unsure)
    assert found.figure in "£$€"
