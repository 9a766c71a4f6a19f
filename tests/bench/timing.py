"""Times cases against a bare one in the same run: alternating, medians, ratios to the bare."""

from __future__ import annotations

import gc
import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Case:
    """Something to time. The first case of a table is the bare one."""

    name: str
    run: Callable[[], object]


@dataclass(frozen=True, slots=True)
class Timed:
    """A case with the median of its times in seconds."""

    name: str
    seconds: float


@dataclass(frozen=True, slots=True)
class Child:
    """What a process told when it was done: from its start to there, and its greatest memory."""

    seconds: float
    mebibytes: float


def alternate(cases: Sequence[Case], rounds: int) -> list[Timed]:
    """Each case once a round, so that a busy moment of the machine hits all of them."""
    times: list[list[float]] = [[] for _ in cases]
    for _ in range(rounds):
        for place, case in enumerate(cases):
            times[place].append(seconds_of(case.run))
    medians = [statistics.median(found) for found in times]
    return [Timed(case.name, median) for case, median in zip(cases, medians, strict=True)]


def seconds_of(run: Callable[[], object]) -> float:
    gc.collect()
    begun = time.perf_counter()
    run()
    return time.perf_counter() - begun


def child(arguments: Sequence[str], folder: Path) -> Child:
    """Start a Python that prints one line of JSON when it is where it should be, and wait.

    What it keeps for its user goes to `folder`. Raises RuntimeError when it ends otherwise.
    """
    own = {name: str(folder) for name in ("XDG_STATE_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME")}
    # Compiled once, as on any computer the program is installed on.
    own["PYTHONPYCACHEPREFIX"] = str(folder / "compiled")
    own["PYTHONDONTWRITEBYTECODE"] = ""
    begun = time.perf_counter()
    told = subprocess.run(
        [sys.executable, *arguments],
        cwd=ROOT,
        env={**os.environ, **own, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
    )
    seconds = time.perf_counter() - begun
    lines = told.stdout.strip().splitlines()
    if told.returncode or not lines:
        raise RuntimeError(f"{' '.join(arguments)} ended with {told.returncode}: {told.stderr}")
    return Child(seconds, json.loads(lines[-1])["kibibytes"] / 1024)


def children(arguments: Sequence[Sequence[str]], rounds: int, folder: Path) -> list[Child]:
    """Each once a round; medians of time and memory."""
    found: list[list[Child]] = [[] for _ in arguments]
    for _ in range(rounds):
        for place, one in enumerate(arguments):
            found[place].append(child(one, folder))
    return [
        Child(
            statistics.median(run.seconds for run in runs),
            statistics.median(run.mebibytes for run in runs),
        )
        for runs in found
    ]


def peak_kibibytes() -> int:
    """Greatest resident memory of this process so far; 0 where the system does not tell."""
    try:
        lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    except OSError:
        return 0
    return next((int(line.split()[1]) for line in lines if line.startswith("VmHWM:")), 0)
