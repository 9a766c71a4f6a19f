"""The whole fleet judged, against one grouped read of the same file in plain sqlite3."""

from __future__ import annotations

import sqlite3
import statistics
from collections.abc import Mapping, Sequence
from contextlib import closing
from datetime import date, timedelta
from itertools import pairwise
from math import log
from pathlib import Path

from models.facts.fleet import read_fleet
from models.facts.settings import read_settings
from models.file import Household
from resources.loader import load_catalogue
from schedules.facts import MachineFacts
from schedules.plan import judge_machine
from tests.bench.tables import Table
from tests.bench.timing import Timed, seconds_of

ROUNDS = {12: 15, 1_000: 3, 10_000: 1}
TASKS_ASKED = 2 * 365


class Grouped:
    """The bare read: each task's latest doing, and two years of readings, grouped."""

    _LATEST = """
        SELECT asked.item_id, asked.code, done.day
        FROM asked LEFT JOIN (
            SELECT line.item_id, line.task_code, max(work.happened_on) AS day
            FROM main.work_line AS line JOIN main.work AS work ON work.id = line.work_id
            GROUP BY line.item_id, line.task_code
        ) AS done ON done.item_id = asked.item_id AND done.task_code = asked.code
    """
    _READINGS = """
        SELECT meter.item_id, min(happened_on), max(happened_on), max(shown_seconds)
        FROM main.hours_reading AS reading JOIN main.meter AS meter ON meter.id = reading.meter_id
        WHERE happened_on >= ? GROUP BY meter.item_id
    """

    def __init__(self, path: Path, on: date, asked: Sequence[tuple[int, str]]) -> None:
        self._connection = sqlite3.connect(path, isolation_level=None)
        self._connection.execute("CREATE TEMP TABLE asked (item_id INTEGER, code TEXT)")
        self._connection.executemany("INSERT INTO asked VALUES (?, ?)", asked)
        self._since = (on - timedelta(days=TASKS_ASKED)).isoformat()

    def read(self) -> int:
        """How many rows there were."""
        latest = self._connection.execute(self._LATEST).fetchall()
        readings = self._connection.execute(self._READINGS, (self._since,)).fetchall()
        return len(latest) + len(readings)

    def close(self) -> None:
        self._connection.close()


def due_tables(households: Mapping[int, Household], *, on: date) -> list[Table]:
    """One table a size, and the exponents between them."""
    tables: list[Table] = []
    whole: dict[int, float] = {}
    for size, household in households.items():
        table, seconds = _one_size(household, size, on)
        tables.append(table)
        whole[size] = seconds
    tables.append(_exponents(whole))
    return tables


def _one_size(household: Household, size: int, on: date) -> tuple[Table, float]:
    catalogue = load_catalogue()
    with household.read() as session:
        policy = read_settings(session).policy

    def read() -> tuple[MachineFacts, ...]:
        with household.read() as session:
            return read_fleet(session, on=on, catalogue=catalogue)

    def judge(fleet: tuple[MachineFacts, ...]) -> int:
        """How many tasks were judged; no verdict is kept, as on the way to a list's rows."""
        return sum(
            len(judge_machine(one, on=on, policy=policy, limits=catalogue.limits).tasks)
            for one in fleet
        )

    facts = read()
    tasks = [
        (item.item_id, task.code) for one in facts for item in one.items for task in item.tasks
    ]
    times: list[tuple[float, float, float]] = []
    with closing(Grouped(household.path, on, tasks)) as grouped:
        for _ in range(ROUNDS.get(size, 1)):
            fresh: list[tuple[MachineFacts, ...]] = []
            facts = ()  # two fleets at once would only measure the memory
            bare = seconds_of(grouped.read)
            reading = seconds_of(lambda kept=fresh: kept.append(read()))
            facts = fresh.pop()
            times.append((bare, reading, seconds_of(lambda fleet=facts: judge(fleet))))
    bare, reading, judging = (statistics.median(column) for column in zip(*times, strict=True))
    whole = statistics.median(one[1] + one[2] for one in times)
    timed = [
        Timed("grouped read in plain sqlite3", bare),
        Timed("facts read", reading),
        Timed("facts judged", judging),
        Timed("whole fleet: read and judged", whole),
    ]
    table = Table(
        f"Whole fleet due, {len(facts):,} machines, {len(tasks):,} tasks",
        "baselines 3: report figure and ratio; aim at 10 × the grouped read",
        timed,
    )
    return table, whole


def _exponents(whole: Mapping[int, float]) -> Table:
    lines: list[str] = []
    sizes = list(whole)
    pairs = [*pairwise(sizes)]
    if len(sizes) > 2:
        pairs.append((sizes[0], sizes[-1]))
    for small, large in pairs:
        exponent = log(whole[large] / whole[small]) / log(large / small)
        lines.append(f"{small:,} to {large:,} machines: time grows as size to the {exponent:.2f}")
    return Table("Growth of the whole fleet's due list", "exponent at most 1.05", (), tuple(lines))
