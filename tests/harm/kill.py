"""Killed in the middle of anything: nothing lost that was said to be done, nothing half done.

A process writes to a household and is killed at a random moment. What it said was done is done
again on a twin of the file; the file must be what the twin is, or what it is one thing later.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from models.backup import list_backups, verify_backup
from models.dump import digest
from models.engines import GUARDS, connect
from models.file import open_household
from tests.harm.writer_process import Doer, prepare

ROOT = Path(__file__).resolve().parents[2]
LONGEST_S = 0.05


@dataclass(slots=True)
class Report:
    """How many were killed, how much they had done, and what was wrong after."""

    kills: int = 0
    done: int = 0
    one_more: int = 0
    problems: list[str] = field(default_factory=list[str])


def run(kills: int, *, seed: int = 1, folder: Path | None = None, most_done: int = 12) -> Report:
    """Kill so many writers, each after at most so many things were done.

    The report says what was wrong; without problems all is well.
    """
    if folder is None:
        with tempfile.TemporaryDirectory() as made:
            return run(kills, seed=seed, folder=Path(made), most_done=most_done)
    report = Report()
    path, twin = folder / "one" / "shed.firstpull", folder / "twin" / "shed.firstpull"
    for file in (path, twin):
        file.parent.mkdir()
        prepare(file)
    chance = random.Random(seed)
    with writers(path) as process:
        for number in range(1, kills + 1):
            wanted = chance.randint(0, most_done)
            done = kill_one(process, f"{number} {seed}", wanted, chance.uniform(0, LONGEST_S))
            report.kills += 1
            report.done += done
            problems = look_after(path, twin, number, seed, done, report)
            report.problems += [f"round {number}, after {done}: {p}" for p in problems]
            if problems:
                break
    return report


@contextmanager
def writers(path: Path) -> Iterator[subprocess.Popen[str]]:
    """The process that forks a writer for each line it is given."""
    with subprocess.Popen(
        [sys.executable, "-m", "tests.harm.writer_process", str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    ) as process:
        yield process
        assert process.stdin is not None
        process.stdin.close()


def kill_one(process: subprocess.Popen[str], round_: str, wanted: int, after_s: float) -> int:
    """Start a writer, let it say so many times that something was done, and a moment later kill
    it; returns how many things it said were done."""
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(f"{round_}\n")
    process.stdin.flush()
    done, child = 0, 0
    said = "begun"
    while said != "ended":
        said = process.stdout.readline().strip()
        if not said:
            raise RuntimeError("the writer is gone")
        if said.startswith("child "):
            child = int(said.split()[1])
        done += said.startswith("done ")
        if child and said != "ended" and done >= wanted:
            time.sleep(after_s)
            os.kill(child, signal.SIGKILL)
            child = 0
    return done


def look_after(
    path: Path, twin: Path, number: int, seed: int, done: int, report: Report
) -> list[str]:
    """Everything that is wrong with the file after a kill."""
    doer = Doer(twin, number, seed)
    for _ in range(done):
        doer.do_next()
    with open_household(path, moment=doer.moment()) as household:
        if household.writer is None:
            return [f"cannot be written any more: {household.notice}"]
        household.writer.check()
    found = digest_of(path)
    if found != digest_of(twin):
        doer.do_next()
        report.one_more += 1
        if found != digest_of(twin):
            return ["the file is neither what was done nor one thing more"]
    doer.household.close()
    return [*left_over(path), *bad_backups(path)]


def digest_of(path: Path) -> str:
    with closing(connect(path, mode="ro", pragmas=GUARDS)) as raw:
        assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert raw.execute("PRAGMA foreign_key_check").fetchall() == []
        return digest(raw)


def left_over(path: Path) -> list[str]:
    """Half files after the next start. The other household is swept when it is opened itself."""
    return [
        f"left over: {file.name}"
        for file in path.parent.rglob("*")
        if (file.name.endswith((".part", "-journal", ".lock")) and "other" not in file.name)
        and file.parent.name != "out"
    ]


def bad_backups(path: Path) -> list[str]:
    for backup in list_backups(path):
        verify_backup(backup.path)
    return []
