"""Killed while a run is ticked off: the file opens, passes its check, and every tick that was said
to be written is there; the run goes on from there."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from models.facts.runs import RunFacts, read_left_off, read_runs
from models.file import open_household
from models.words import StepAnswer
from tests.harm.run_process import STEPS, moment, prepare

ROOT = Path(__file__).resolve().parents[2]
LONGEST_S = 0.03
MOST_TICKS = 6


@dataclass(slots=True)
class Report:
    """How often it was killed, how many ticks were said to be written, what was wrong."""

    kills: int = 0
    ticks: int = 0
    finished: int = 0
    problems: list[str] = field(default_factory=list[str])


def kill_runs(kills: int, *, seed: int = 1, folder: Path | None = None) -> Report:
    """Kill so many times at a random moment of a run, each taking it up where it was left."""
    if folder is None:
        with tempfile.TemporaryDirectory() as made:
            return kill_runs(kills, seed=seed, folder=Path(made))
    chance = random.Random(seed)
    report = Report()
    number = 0
    path = _fresh(folder, number)
    with subprocess.Popen(
        [sys.executable, "-m", "tests.harm.run_process", str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    ) as process:
        first, timers = 0, set[int]()
        while report.kills < kills and not report.problems:
            done = _kill_one(process, first, chance, timers)
            report.kills += 1
            report.ticks += len(done)
            found = _look_after(path, {*range(first), *done}, timers, report)
            if found is None or found.finished_on is not None:
                report.finished += 1
                _renew(path)
                first, timers = 0, set()
            else:
                first = STEPS - len(found.remaining)
        if process.stdin is not None:
            process.stdin.close()
    return report


def _fresh(folder: Path, number: int) -> Path:
    path = folder / f"run-{number}" / "shed.firstpull"
    path.parent.mkdir()
    prepare(path)
    return path


def _renew(path: Path) -> None:
    """Another run in a household of its own, under the same name."""
    path.unlink()
    prepare(path)


def _kill_one(
    process: subprocess.Popen[str], first: int, chance: random.Random, timers: set[int]
) -> set[int]:
    """Let it tick some steps, kill it a moment later; the ticks it said were written."""
    if process.stdin is None or process.stdout is None:
        raise RuntimeError("no pipes")
    process.stdin.write(f"{first}\n")
    process.stdin.flush()
    wanted = chance.randint(0, MOST_TICKS)
    done: set[int] = set()
    child, said, killed, finished = 0, "begun", False, False
    while said != "ended":
        said = process.stdout.readline().strip()
        if not said:
            raise RuntimeError("the process is gone")
        word, _, rest = said.partition(" ")
        if word == "child":
            child = int(rest)
        elif word == "done":
            done.add(int(rest))
        elif word == "timer":
            timers.add(int(rest))
        elif word == "finished":
            finished = True
        if child and said != "ended" and len(done) >= wanted:
            time.sleep(chance.uniform(0, LONGEST_S))
            os.kill(child, signal.SIGKILL)
            child, killed = 0, True
    if not killed and not finished:
        raise RuntimeError("it ended by itself, before the list was through")
    return done


def _look_after(path: Path, said: set[int], timers: set[int], report: Report) -> RunFacts | None:
    """Everything that is wrong with the file after a kill goes into the report."""
    with open_household(path, moment=moment()) as household:
        if household.writer is None:
            report.problems.append(f"cannot be written any more: {household.notice}")
            return None
        household.writer.check()
        with household.read() as session:
            (run,) = read_runs(session, only=[1])
            left = [str(each.code) for each in read_left_off(session)]
    there = {step.place for step in run.steps if step.answer is StepAnswer.DONE}
    if said - there:
        report.problems.append(f"ticks lost: {sorted(said - there)}")
    if len(there - said) > 1 or there != set(range(len(there))):
        report.problems.append(f"ticks nobody made: {sorted(there - said)}")
    if timers - {timer.place for timer in run.timers}:
        report.problems.append("a timer is lost")
    off = (len(there) - 1) % 3 != 2 if there else False
    if left != (["plug-lead"] if off else []):
        report.problems.append(f"{len(there)} ticks, and off or open are {left}")
    return run
