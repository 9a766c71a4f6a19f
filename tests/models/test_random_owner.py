"""A random owner with every act there is, given values that make sense and values that do not.

Whatever makes no sense is refused before the database would refuse it; whatever is taken can be
undone, and the facts can be read for any day.
"""

from collections.abc import Iterator
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, timedelta
from fractions import Fraction
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

import pytest
from hypothesis import strategies as st

import models.acts
from models.acts.machines import AddMachine
from models.acts.readings import Measured
from models.acts.work import LineGiven, RecordWork
from models.changes import Changes
from models.errors import Refused
from models.facts.fleet import read_cans, read_fleet
from models.facts.settings import read_settings
from models.file import create_household
from models.moment import Moment
from models.words import LineOutcome
from resources.loader import load_catalogue
from schedules.facts import KindCode, Past
from schedules.units import Typed
from tests.models.test_random_user import TEXT, User, run_users
from tests.models.whole_household import FillEverything, bare_jpeg

Values = st.SearchStrategy[Any]

FIRST, TODAY = date(2024, 9, 1), date(2025, 11, 25)
NUMBERS = st.sampled_from([1, 1, 1, 2, 2, 3])
DAYS = st.dates(FIRST, TODAY)
TASKS = ["S2-01", "S2-04", "S2-05", "S2-06", "S2-15", "E4-01", "E4-02", "E4-06", "E4-07", "E4-09"]
THROWER = load_catalogue().kinds[KindCode("K02")]
ASKED = [*THROWER.features, *THROWER.duties, "yes", "no"]
SENSIBLE: dict[str, Values] = {
    "answers": st.sampled_from([str(code) for code in ASKED]),
    "kind": st.sampled_from(["K01", "K02", "K04", "K06", "K09", "K15"]),
    "task": st.sampled_from(TASKS),
    "target": st.sampled_from([*TASKS, "L15", "L16"]),
    "figure": st.sampled_from(["months", "run_seconds", "first_seconds", "uses", "low", "high"]),
    "limit": st.sampled_from(["L01", "L15", "L16", "L20", "L52"]),
    "detail": st.sampled_from(["oil_grade", "plug_type", "key_place", "oil"]),
    "climate": st.sampled_from(["", "", *load_catalogue().climates]),
    "region": st.just(""),
    "currency": st.sampled_from(["EUR", "USD"]),
    "part": st.sampled_from(list(load_catalogue().parts)[:5]),
    "came_on": st.dates(date(2019, 12, 24), FIRST),
    "from_on": st.dates(date(2019, 12, 24), TODAY),
    "due_on": st.dates(TODAY, date(2026, 12, 1)),
    "planned_last": st.dates(TODAY, date(2026, 6, 1)),
    "volume_ul": st.integers(1, 3_000_000),
    "capacity_ul": st.integers(1_000_000, 20_000_000),
    "tank_ul": st.integers(1_000_000, 5_000_000),
    "ethanol_permille": st.sampled_from([0, 50, 100]),
    "mean_mc": st.integers(-20_000, 25_000),
    "month": st.integers(1, 12),
    "shown_seconds": st.integers(0, 400_000),
    "amount": st.integers(100, 60_000),
    "number": st.integers(1000, 9999),
    "cents": st.integers(0, 10_000),
}
WILD_CODES = [*("K99", "months", "S2-05", "L99", "yes"), "", "x" * 201, "a\0b", "🦌"]
WILD: dict[Any, Values] = {
    bytes: st.sampled_from([b"", b"\xff\xd8\xff\xd9", bare_jpeg(40_000, 1), bytes(300)]),
    int: st.sampled_from([0, -1, 1, 5, 99, 600, 10_000_000, 10**15, 10**15 + 1, 2**62]),
    str: st.sampled_from(WILD_CODES) | TEXT,
    date: st.sampled_from(
        [
            *(date(1, 1, 1), date(1899, 12, 31), date(1900, 1, 1), date(2019, 1, 1)),
            *(date(2024, 2, 29), date(2199, 12, 31), date(9999, 12, 31)),
        ]
    ),
}
MEASURED = [(str(task.code), str(limit)) for task in THROWER.tasks for limit in task.rule.limits]
PLAIN: dict[Any, Values] = {
    int: st.integers(0, 3000),
    str: st.sampled_from(["", "on hook 3", "squeals\twhen wet"]) | TEXT,
    date: DAYS,
    Fraction: st.fractions(0, 1, max_denominator=8),
    bytes: st.just(bare_jpeg(64, 48)),
}


def values_of(name: str, kind: Any, *, wild: bool) -> Values:
    """Values of a field of an act, by its name and type."""
    if kind in PLAIN:
        if wild and kind in WILD:
            return WILD[kind] | values_of(name, kind, wild=False)
        if name == "id" or name.endswith("_id"):
            return NUMBERS
        return SENSIBLE.get(name, PLAIN[kind])
    if kind is Measured and not wild:
        amounts = st.none() | st.integers(100, 60_000)
        return st.builds(
            lambda pair, amount: Measured(
                task=pair[0], limit=pair[1], amount=amount, seen=None if amount else True
            ),
            st.sampled_from(MEASURED),
            amounts,
        )
    if kind is LineGiven and not wild:
        outcomes = st.sampled_from(LineOutcome)
        return st.builds(LineGiven, task=st.sampled_from(TASKS), outcome=outcomes, quantity=NUMBERS)
    if kind in {NoneType, Typed}:  # what was typed has to be what is stored, else it is our fault
        return st.none()
    origin, inner = get_origin(kind), get_args(kind)
    if origin in {Union, UnionType}:
        return st.one_of([values_of(name, one, wild=wild) for one in inner])
    if origin is tuple and inner[-1] is Ellipsis:
        least = 0 if wild else 1
        return st.lists(values_of(name, inner[0], wild=wild), min_size=least, max_size=3).map(tuple)
    if origin is tuple:
        return st.tuples(*(values_of(name, one, wild=wild) for one in inner))
    if is_dataclass(kind):
        return made(kind, wild=wild)
    return st.from_type(kind)


def made(kind: Any, *, wild: bool) -> Values:
    """An act, or a part of one; what may be left out sometimes is."""
    hints = get_type_hints(kind)
    given: dict[bool, dict[str, Values]] = {True: {}, False: {}}
    for one in fields(kind):
        optional = one.default is not MISSING or one.default_factory is not MISSING
        hint = hints[one.name]
        given[optional][one.name] = st.deferred(
            lambda name=one.name, hint=hint: values_of(name, hint, wild=wild)
        )
    few = st.lists(st.sampled_from(sorted(given[True])), max_size=3) if given[True] else st.just([])
    return few.flatmap(
        lambda names: st.fixed_dictionaries(
            given[False] | {name: given[True][name] for name in names}
        )
    ).map(lambda values: kind(**values))


def every_act() -> list[type]:
    """The acts of the house: frozen dataclasses of `models.acts` that can be run."""

    def found() -> Iterator[type]:
        for module in iter_modules(models.acts.__path__, "models.acts."):
            for thing in vars(import_module(module.name)).values():
                is_act = isinstance(thing, type) and is_dataclass(thing) and hasattr(thing, "run")
                if is_act and thing.__module__ == module.name:
                    yield thing

    return sorted(found(), key=lambda act: act.__name__)


class Owner(User):
    """Uses every act there is."""

    acts = st.deferred(
        lambda: st.one_of(
            [
                made(act, wild=wild)
                for act in (*every_act(), *[RecordWork] * 3)
                for wild in (False, False, False, True)
            ]
        )
    )
    answers = (Refused,)

    def look(self, changes: Changes) -> None:
        assert changes.areas
        assert {area for area, _number in changes.ids} <= changes.areas
        catalogue = load_catalogue()
        with self.household.read() as session:
            read_settings(session)
            for on in (self.moment.today, TODAY - timedelta(days=400), date(2020, 1, 1)):
                for facts in read_fleet(session, on=on, catalogue=catalogue):
                    assert facts.past in Past
                    assert facts.came_on <= on
                read_cans(session, on=on, catalogue=catalogue)


def lay_shed(path: Path, moment: Moment) -> None:
    """Something in every table, and three machines to do things with."""
    with create_household(path, name="Our shed", moment=moment) as household:
        writer = household.need_writer()
        writer.run(FillEverything(), moment=moment)
        for name, kind in (("Green one", "K04"), ("Saw", "K09")):
            act = AddMachine(name=name, kind=kind, place_id=1, came_on=date(2021, 5, 1))
            writer.run(act, moment=moment)


@pytest.fixture(scope="module")
def laid_shed(tmp_path_factory: pytest.TempPathFactory, moment: Moment) -> Path:
    path = tmp_path_factory.mktemp("owner") / "shed.firstpull"
    lay_shed(path, moment)
    return path


def test_a_random_owner_with_every_act(laid_shed: Path, moment: Moment):
    assert len(every_act()) > 40
    run_users(Owner, laid_shed, moment, examples=5, steps=10)
