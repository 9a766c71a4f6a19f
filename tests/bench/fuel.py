"""The fuel ledger replayed and judged, against a bare ordered read of the same rows."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

from models.facts.fuel import read_vessels
from models.facts.places import read_places
from models.file import Household, open_household
from models.tables.fuel import VesselRow
from resources.loader import load_catalogue
from sample_db.build import build_sample
from sample_db.chronicle import moment_of
from schedules.facts import VesselFacts
from schedules.fuel import judge_vessel
from tests.bench.tables import Table
from tests.bench.timing import Case, alternate, seconds_of

EVENTS = 200
ROUNDS = 3
_LITRE = 10**6
_CAPACITY = 5 * _LITRE
_FIRST = 1_000_000  # numbers of what is made here, well clear of the sample's
_COLUMNS = (
    "vessel_id, to_vessel_id, doing, happened_on, volume_ul, fuel_sort, bought_on,"
    " stabilised_on, ethanol_permille, oil_ratio, look"
)


def fuel_tables(folder: Path, *, vessels: int, on: date) -> list[Table]:
    """The whole ledger of so many cans of 200 events each, and one can after a late entry."""
    path = folder / f"fuel-{vessels}.firstpull"
    build_sample(path, on=on)
    _fill(path, vessels, on)
    with open_household(path, moment=moment_of(on)) as household:
        return [_whole(household, vessels, on), _late(household, vessels, on)]


def _fill(path: Path, vessels: int, on: date) -> None:
    """Half of the events buy, the others burn, look at the level, or add stabiliser."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA synchronous=OFF")
        connection.execute("PRAGMA journal_mode=MEMORY")
        connection.execute("BEGIN")
        _copy(connection, "vessel", ("id", "uid", "capacity_ul"), _vessels(vessels), "sort = 'can'")
        told = ("vessel_id", "happened_on", "doing", "volume_ul", "fuel_sort", "bought_on")
        for_all = ("id", "uid", *told, "to_brim", "stabilised_on", "ethanol_permille", "oil_ratio")
        _copy(connection, "fuel_event", for_all, _events(vessels, on), "doing = 'bought'")
        connection.execute("COMMIT")
        connection.execute("PRAGMA journal_mode=DELETE")


def _copy(
    connection: sqlite3.Connection,
    table: str,
    given: tuple[str, ...],
    rows: Iterator[tuple[object, ...]],
    pattern: str,
) -> None:
    """Rows like one of the sample's, but for the columns given."""
    every = [column[1] for column in connection.execute(f'PRAGMA table_info("{table}")')]
    chosen = ", ".join("?" if column in given else column for column in every)
    order = [given.index(column) for column in every if column in given]
    statement = (
        f'INSERT INTO "{table}" ({", ".join(every)})'  # noqa: S608
        f' SELECT {chosen} FROM "{table}" WHERE id = (SELECT id FROM "{table}" WHERE {pattern})'
    )
    connection.executemany(statement, (tuple(row[at] for at in order) for row in rows))


def _vessels(count: int) -> Iterator[tuple[object, ...]]:
    for number in range(count):
        yield _FIRST + number, f"bench-{number}", _CAPACITY


def _events(vessels: int, on: date) -> Iterator[tuple[object, ...]]:
    chance = random.Random(1)
    days = [on - timedelta(days=4 * (EVENTS - at)) for at in range(EVENTS)]
    number = _FIRST
    for vessel in range(_FIRST, _FIRST + vessels):
        for at, day in enumerate(days):
            number += 1
            said = day.isoformat()
            volume = chance.randint(_LITRE // 10, _LITRE)
            if at % 2 == 0:
                row = ("bought", volume, "e5", said)
            elif at % 50 == 1:
                row = ("treated", None, None, None)
            else:
                row = ("level" if at % 10 == 3 else "burnt", volume, None, None)
            yield (number, f"bench-{number}", vessel, said, *row, 0, None, None, None)


def _read(household: Household, on: date, only: int | None = None) -> tuple[VesselFacts, ...]:
    with household.read() as session:
        return read_vessels(
            session,
            on=on,
            places=read_places(session, catalogue=load_catalogue()),
            place_of={},
            only=None if only is None else VesselRow.id == only,
        )


def _whole(household: Household, vessels: int, on: date) -> Table:
    facts = _read(household, on)
    with closing(sqlite3.connect(household.path)) as connection:
        bare = f"SELECT {_COLUMNS} FROM fuel_event ORDER BY happened_on, id"  # noqa: S608
        cases = [
            Case("bare ordered read", lambda: connection.execute(bare).fetchall()),
            Case("ledger read and replayed", lambda: _read(household, on)),
            Case("vessels judged", lambda: [judge_vessel(one, on=on) for one in facts]),
        ]
        timed = alternate(cases, 1 if vessels > 1000 else ROUNDS)
    return Table(
        f"Fuel ledger, {vessels:,} vessels of {EVENTS} events",
        "baselines 9: at most 10 × the bare ordered read",
        timed,
    )


def _late(household: Household, vessels: int, on: date) -> Table:
    vessel = _FIRST + vessels // 2
    with closing(sqlite3.connect(household.path)) as connection:
        bare = f"SELECT {_COLUMNS} FROM fuel_event WHERE vessel_id = ? ORDER BY happened_on, id"  # noqa: S608
        cases = [
            Case(
                "bare ordered read of its rows",
                lambda: connection.execute(bare, (vessel,)).fetchall(),
            ),
            Case("its own ledger replayed", lambda: _read(household, on, vessel)),
        ]
        seconds_of(cases[1].run)
        timed = alternate(cases, 15)
    return Table(
        f"One late entry among {vessels:,} vessels",
        "replays its own vessels only; whatever the size of the household",
        timed,
    )
