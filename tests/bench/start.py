"""From the start of the process to the first painted room, and to rooms that can be used."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from tests.bench.tables import Table
from tests.bench.timing import Timed, children

ROUNDS = 9
MODULE = ("-m", "tests.bench.first_paint")


def start_tables(sample: Path, *, on: date) -> list[Table]:
    """The program on the made-up shed against an empty main window of the same size. The picture
    for the first paint is the one the start before kept."""
    where = (str(sample), on.isoformat())
    names = ("empty main window", "first room painted", "rooms ready, their answers computed")
    commands = ((*MODULE, "bare"), (*MODULE, "painted", *where), (*MODULE, "ready", *where))
    children(commands[::-1], 1, sample.parent)
    found = children(commands, ROUNDS, sample.parent)
    timed = [Timed(name, run.seconds) for name, run in zip(names, found, strict=True)]
    memory = [
        f"greatest memory, {name}: {run.mebibytes:.0f} MiB,"
        f" {run.mebibytes / found[0].mebibytes:.2f} ×"
        for name, run in zip(names, found, strict=True)
    ]
    return [
        Table(
            "Start of the process, 12 machines",
            "baselines 2: painted at most 1.25 ×, ready at most 4.5 ×, memory at most 2.0 ×",
            timed,
            tuple(memory),
        )
    ]
