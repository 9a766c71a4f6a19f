"""Ratios against the bare equivalent, measured in one run:  python -m tests.bench

Nothing here fails: the machine decides the times, and a busy one the ratios. Each table names
what is aimed at. `--sizes 12 1000` leaves the largest fleet out, which takes minutes.
"""

from __future__ import annotations

import argparse
import os
import tempfile
from collections.abc import Iterable
from contextlib import ExitStack
from datetime import date
from pathlib import Path

from models.file import open_household
from sample_db.chronicle import moment_of
from tests.bench.act import act_tables
from tests.bench.due import due_tables
from tests.bench.faults import fault_tables
from tests.bench.fleets import build_fleet
from tests.bench.fuel import fuel_tables
from tests.bench.paper import paper_tables
from tests.bench.start import start_tables
from tests.bench.tables import Table
from tests.bench.timing import peak_kibibytes

ON = date(2026, 10, 27)
SIZES = (12, 1_000, 10_000)
PARTS = ("start", "paper", "act", "due", "fuel", "faults")


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--sizes", type=int, nargs="+", default=SIZES, help="machines in a fleet")
    parser.add_argument("--only", choices=PARTS, nargs="+", default=PARTS, help="these parts")
    wanted = parser.parse_args()
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    with tempfile.TemporaryDirectory(prefix="bench-") as name, ExitStack() as opened:
        folder = Path(name)
        paths = {size: folder / f"fleet-{size}.firstpull" for size in wanted.sizes}
        for size, path in paths.items():
            build_fleet(path, machines=size, on=ON)
        first = paths[min(paths)]
        if "start" in wanted.only:
            show(start_tables(first, on=ON))
        households = {
            size: opened.enter_context(open_household(path, moment=moment_of(ON)))
            for size, path in paths.items()
        }
        if "paper" in wanted.only:
            show(paper_tables(households[min(paths)], on=ON))
        if "act" in wanted.only:
            show(act_tables(households, folder, on=ON))
        if "due" in wanted.only:
            show(due_tables(households, on=ON))
        if "fuel" in wanted.only:
            for size in wanted.sizes:
                show(fuel_tables(folder, vessels=size, on=ON))
        if "faults" in wanted.only:
            show(fault_tables())
        print(f"Greatest memory of this run: {peak_kibibytes() / 1024:.0f} MiB")


def show(tables: Iterable[Table]) -> None:
    for table in tables:
        print(table.text(), end="\n\n", flush=True)


if __name__ == "__main__":
    main()
