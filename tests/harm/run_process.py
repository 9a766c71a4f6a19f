"""Ticks off a run until it is killed: says `done n` after each tick that was committed."""

from __future__ import annotations

import os
import sys
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from models.acts.runs import AnswerStep, BeginRun, FinishRun, RunMachine, StepGiven
from models.file import create_household, open_household
from models.moment import Moment
from schedules.sitting_facts import RunSort
from tests.models.small_acts import AddMachine

FIRST = datetime(2025, 11, 25, 9, 30, tzinfo=UTC)
DAY = date(2025, 11, 25)
STEPS = 30


def moment(later: int = 0) -> Moment:
    return Moment(DAY, FIRST + timedelta(seconds=later))


def prepare(path: Path) -> None:
    """A household with a machine and a run that is begun."""
    steps = tuple(
        StepGiven(
            code="P-35" if place % 5 == 4 else "P-95",
            machine_ids=(1,),
            wait_minutes=10 if place % 5 == 4 else 0,
            leaves=("plug-lead",) if place % 3 == 0 else (),
            puts_back=("plug-lead",) if place % 3 == 2 else (),
        )
        for place in range(STEPS)
    )
    with create_household(path, name="Our shed", moment=moment()) as household:
        writer = household.need_writer()
        writer.run(AddMachine(name="Red one"), moment=moment())
        begin = BeginRun(
            sort=RunSort.PUTTING_AWAY,
            day=DAY,
            machines=(RunMachine(machine_id=1),),
            steps=steps,
        )
        writer.run(begin, moment=moment())


def tick(path: Path, first: int) -> None:
    """Answer every step from the first on, then finish."""
    with open_household(path, moment=moment(first)) as household:
        writer = household.need_writer()
        for place in range(first, STEPS):
            waits = place % 5 == 4
            act = AnswerStep(run_id=1, place=place, day=DAY, clock=waits)
            writer.run(act, moment=moment(place))
            say(f"done {place}")
            if waits:
                say(f"timer {place}")
        writer.run(FinishRun(run_id=1, day=DAY), moment=moment(STEPS))
        say("finished")


def say(words: str) -> None:
    os.write(1, f"{words}\n".encode())


def main() -> None:
    path = Path(sys.argv[1])
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            tick(path, int(line))
            os._exit(0)
        say(f"child {child}")
        os.waitpid(child, 0)
        say("ended")


if __name__ == "__main__":
    main()
