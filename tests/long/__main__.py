"""The long runs: the due engine beside its twin over many machines, the laws, and harm at length.

    python -m tests.long [--machines 20000] [--kills 250] [--seed S]
                         [--only twin|laws|faults|scores|harm]

Differences are printed as a machine made as small as it goes, as Python text that can be pasted
into a test (its limits stand in tests/twin/machines.py). Exit code 1 when there are any.
"""

from __future__ import annotations

import argparse
import multiprocessing
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.harm.at_length import run_harm
from tests.long.fault_runs import run_faults
from tests.long.fault_scores import run_scores
from tests.twin.many import look_at_batch

ROOT = Path(__file__).resolve().parents[2]
PROCESSES = 2
BATCH = 100
SHOWN = 10
USERS = 200


def batches(first: int, count: int) -> Iterator[list[int]]:
    for start in range(first, first + count, BATCH):
        yield list(range(start, min(start + BATCH, first + count)))


def run_twin(first: int, count: int, *, alike: bool) -> bool:
    """True when the engine and its twin agree on every machine."""
    differing = 0
    done = 0
    asked = ((numbers, alike) for numbers in batches(first, count))
    context = multiprocessing.get_context("spawn")
    with context.Pool(PROCESSES) as pool:
        for found in pool.imap_unordered(look_at_batch, asked):
            done += BATCH
            for one in found:
                differing += 1
                if differing <= SHOWN:
                    print(f"\nmachine {one.number}", *one.lines, one.text, sep="\n  ")
            if done % 1000 == 0:
                print(f"{min(done, count)} of {count} machines, {differing} differ", flush=True)
    print(f"twin: {count} machines from number {first}, {differing} differ")
    return differing == 0


def run_laws(seed: int) -> bool:
    """True when the laws, and whatever else the default run leaves out, hold at length."""
    pytest = [sys.executable, "-m", "pytest", "-q", "-p", "no:randomly", "--timeout=0"]
    drawn = [f"--hypothesis-seed={seed}"]
    laws = [*pytest, "tests/laws", "--hypothesis-profile=long", *drawn]
    apart = ("--ignore=tests/laws", "--ignore=tests/models/acts/test_random_user.py")  # see harm
    others = [*pytest, "tests", *apart, *drawn, "-m", "long"]
    runs = (laws, [*laws, "-m", "long"], others)
    return all(subprocess.run(run, cwd=ROOT, check=False).returncode == 0 for run in runs)


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.long", description=__doc__)
    parser.add_argument("--machines", type=int, default=20_000)
    parser.add_argument("--kills", type=int, default=250)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--alike", action="store_true", help="also two packs alike on one machine")
    parser.add_argument("--only", choices=("twin", "laws", "faults", "scores", "harm"))
    asked = parser.parse_args()
    held = True
    if asked.only in {None, "twin"}:
        held = run_twin(asked.seed, asked.machines, alike=asked.alike) and held
    if asked.only in {None, "laws"}:
        held = run_laws(asked.seed) and held
    if asked.only in {None, "faults"}:
        held = run_faults(asked.seed) and held
    if asked.only in {None, "scores"}:
        held = run_scores(asked.seed) and held
    if asked.only in {None, "harm"}:
        held = run_harm(asked.kills, USERS, asked.seed) and held
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(main())
