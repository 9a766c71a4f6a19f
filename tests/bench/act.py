"""One hours reading, entered and its machine judged again, against a bare insert and commit."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from contextlib import closing
from datetime import date
from itertools import count
from pathlib import Path

from sqlalchemy import func, select

from models.acts.hours import ReadHours
from models.facts.fleet import read_fleet
from models.facts.settings import read_settings
from models.file import Household
from models.tables.hours import HoursReadingRow, MeterRow
from models.tables.machines import MachineRow
from resources.loader import load_catalogue
from sample_db.chronicle import moment_of
from schedules.facts import MachineId
from schedules.plan import judge_machine
from tests.bench.tables import Table
from tests.bench.timing import Case, Timed, alternate

ROUNDS = 60


class Bare:
    """A row and a commit in a file of its own, with the same journal and the same care."""

    def __init__(self, path: Path) -> None:
        self._connection = sqlite3.connect(path, isolation_level=None)
        self._connection.execute("PRAGMA journal_mode=DELETE")
        self._connection.execute("PRAGMA synchronous=FULL")
        self._connection.execute(
            "CREATE TABLE reading (id INTEGER PRIMARY KEY, meter INTEGER, day TEXT, shown INTEGER)"
        )

    def insert(self) -> None:
        self._connection.execute("BEGIN IMMEDIATE")
        self._connection.execute(
            "INSERT INTO reading (meter, day, shown) VALUES (1, '2026-10-27', 360000)"
        )
        self._connection.execute("COMMIT")

    def close(self) -> None:
        self._connection.close()


def act_tables(households: Mapping[int, Household], folder: Path, *, on: date) -> list[Table]:
    """One table a size, and how the largest compares with the smallest."""
    tables: list[Table] = []
    whole: dict[int, Timed] = {}
    for size, household in households.items():
        with closing(Bare(folder / f"bare-{size}.sqlite")) as bare:
            timed = _timed(household, bare, on)
        title = f"One hours reading and its machine judged again, {size:,} machines"
        tables.append(Table(title, "baselines 3: at most 8 × a bare insert and commit", timed))
        whole[size] = timed[-1]
    sizes = sorted(whole)
    small, large = sizes[0], sizes[-1]
    ratio = whole[large].seconds / whole[small].seconds
    said = f"{large:,} machines against {small:,}: {ratio:.2f} ×"
    tables.append(
        Table("One act in a large fleet", "baselines 3: at most 1.5 × that in a small", (), (said,))
    )
    return tables


def _timed(household: Household, bare: Bare, on: date) -> list[Timed]:
    catalogue = load_catalogue()
    writer = household.need_writer()
    moment = moment_of(on)
    with household.read() as session:
        policy = read_settings(session).policy
        # The first machine whose own meter was read, and what it showed last.
        machine, shown = session.execute(
            select(MachineRow.id, func.max(HoursReadingRow.shown_seconds))
            .join(MeterRow, MeterRow.item_id == MachineRow.item_id)
            .join(HoursReadingRow, HoursReadingRow.meter_id == MeterRow.id)
            .where(MeterRow.ended_on.is_(None))
            .group_by(MachineRow.id)
            .order_by(MachineRow.id)
            .limit(1)
        ).one()
    minutes = count(1)
    only = frozenset({MachineId(machine)})

    def enter() -> None:
        seconds = shown + 60 * next(minutes)
        writer.run(ReadHours(machine_id=machine, day=on, shown_seconds=seconds), moment=moment)

    def again() -> None:
        with household.read() as session:
            facts = read_fleet(session, on=on, catalogue=catalogue, only=only)
        judge_machine(facts[0], on=on, policy=policy, limits=catalogue.limits)

    def both() -> None:
        enter()
        again()

    enter()
    return alternate(
        [
            Case("bare insert and commit", bare.insert),
            Case("the reading, through the writer", enter),
            Case("its machine read and judged again", again),
            Case("both", both),
        ],
        ROUNDS,
    )
