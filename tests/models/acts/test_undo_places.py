"""Undo of acts whose rows fall with others: seasons below places, units below machines.

What takes an act back is run in the opposite order, children before the parents they fell with;
links are looked at only at the end. Whatever was done, undone and done again, the file keeps pace.
"""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from models.acts.machines import AddMachine, RemoveMachine
from models.acts.places import (
    AddPlace,
    ChangePlace,
    MonthWeather,
    RemovePlace,
    SetSeasons,
    SetWeather,
)
from models.dump import digest
from models.engines import GUARDS, connect
from models.errors import Refused
from models.file import open_household
from models.moment import Moment
from models.tables.machines import MachineRow
from models.tables.places import PlaceRow
from models.writer import Act
from schedules.facts import MonthDay, Window
from tests.models.acts.shed import IN_MEMORY

UNDO, REDO = "undo", "redo"
KINDS = st.sampled_from(["K02", "K04"])
# A place or machine is named by its turn among those there are: numbers are never used twice.
TURNS = st.integers(0, 2)
WINDOWS = st.builds(
    Window,
    st.builds(MonthDay, st.integers(1, 12), st.sampled_from([1, 28])),
    st.builds(MonthDay, st.integers(1, 12), st.sampled_from([1, 28])),
)
WEATHER = st.lists(st.integers(1, 12), unique=True, max_size=3).map(
    lambda months: tuple(MonthWeather(month=month, mean_mc=month) for month in months)
)
SEASONS = st.none() | st.lists(WINDOWS, max_size=2).map(tuple)
STEPS = st.one_of(
    st.tuples(st.just("season"), TURNS, KINDS, SEASONS),
    st.tuples(st.just("season"), TURNS, KINDS, SEASONS),
    st.tuples(st.just("weather"), TURNS, WEATHER),
    st.tuples(st.just("place"), st.sampled_from("abcdef")),
    st.tuples(st.just("change"), TURNS, st.sampled_from("abcdef"), st.booleans()),
    st.tuples(st.just("remove"), TURNS),
    st.tuples(st.just("machine"), TURNS, KINDS),
    st.tuples(st.just("no machine"), TURNS),
    st.just((UNDO,)),
    st.just((UNDO,)),
    st.just((REDO,)),
)


def act_of(step: tuple[object, ...], places: list[int], machines: list[int]) -> Act | None:
    """The act that a step stands for, on what there is now."""
    match step:
        case ("place", str(name)):
            return AddPlace(name=name)
        case ("no machine", int(turn)) if machines:
            return RemoveMachine(machine_id=machines[turn % len(machines)])
        case (_, int(turn), *_) if not places or step[0] == "no machine":
            return None
        case ("season", int(turn), str(kind), (tuple() | None) as windows):
            return SetSeasons(place_id=places[turn % len(places)], kind=kind, windows=windows)
        case ("weather", int(turn), tuple(months)):
            return SetWeather(place_id=places[turn % len(places)], months=months)
        case ("change", int(turn), str(name), bool(south)):
            return ChangePlace(place_id=places[turn % len(places)], name=name, south=south)
        case ("remove", int(turn)):
            return RemovePlace(place_id=places[turn % len(places)])
        case ("machine", int(turn), str(kind)):
            place = places[turn % len(places)]
            return AddMachine(name="M", kind=kind, place_id=place, came_on=date(2021, 1, 1))
        case _:
            raise ValueError(step)


@pytest.fixture
def folder(tmp_path: Path) -> Iterator[Path]:
    if not IN_MEMORY.is_dir():
        yield tmp_path
        return
    with tempfile.TemporaryDirectory(dir=IN_MEMORY) as name:
        yield Path(name)


@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(steps=st.lists(STEPS, min_size=8, max_size=40))
def test_whatever_fell_with_a_place_stands_again(
    empty_household: Path, folder: Path, moment: Moment, steps: list[tuple[object, ...]]
):
    path = folder / "shed.firstpull"
    shutil.copyfile(empty_household, path)
    with (
        open_household(path, moment=moment) as household,
        closing(connect(path, mode="ro", pragmas=GUARDS)) as reader,
    ):
        writer = household.need_writer()
        past, future, now = list[str](), list[str](), digest(reader)
        for number, step in enumerate(steps):
            then = Moment(moment.today, moment.now + timedelta(seconds=number))
            with household.read() as session:
                places = list(session.scalars(select(PlaceRow.id)))
                machines = list(session.scalars(select(MachineRow.id)))
            if step[0] in (UNDO, REDO):
                back, forth = (past, future) if step[0] == UNDO else (future, past)
                move = writer.undo if step[0] == UNDO else writer.redo
                assert (move(moment=then) is not None) == bool(back)
                if back:
                    forth.append(now)
                    now = back.pop()
                assert digest(reader) == now
            else:
                now = done(writer, act_of(step, places, machines), then, past, future, now, reader)
            assert reader.execute("PRAGMA foreign_key_check").fetchall() == []


def done(writer, act, then, past, future, now, reader) -> str:  # noqa: ANN001
    """Carry out an act and note where it led; returns the state of the file."""
    try:
        if act is not None:
            writer.run(act, moment=then)
    except Refused:
        assert digest(reader) == now
    found = digest(reader)
    if found != now:
        past.append(now)
        future.clear()
    return found


def test_links_wait_for_the_end_at_every_undo_not_only_the_first(
    empty_household: Path, folder: Path, moment: Moment
):
    """SQLite forgets at each commit that links are to wait; it is told again at each step."""
    path = folder / "shed.firstpull"
    shutil.copyfile(empty_household, path)
    with open_household(path, moment=moment) as household:
        writer = household.need_writer()
        writer.run(AddPlace(name="a"), moment=moment)
        whole = (Window(MonthDay(4, 1), MonthDay(9, 30)),) * 2
        for windows in (whole, (), None, whole, None):
            writer.run(SetSeasons(place_id=1, kind="K02", windows=windows), moment=moment)
        writer.run(RemovePlace(place_id=1), moment=moment)
        for _ in range(60):  # more often than the driver keeps statements
            steps = 0
            while writer.undo(moment=moment) is not None:
                steps += 1
            while writer.redo(moment=moment) is not None:
                steps -= 1
            assert steps == 0
        household.check()
