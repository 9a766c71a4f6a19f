"""Kills and random users at length, for the long runs."""

from __future__ import annotations

import shutil
import tempfile
from datetime import UTC, date, datetime
from pathlib import Path

from models.file import create_household
from models.moment import Moment
from tests.harm.kill import run as run_kills
from tests.harm.runs import kill_runs
from tests.models.test_random_owner import Owner, lay_shed
from tests.models.test_random_user import User, run_users

RUN_KILLS = 200
MOMENT = Moment(date(2025, 11, 25), datetime(2025, 11, 25, 9, 30, tzinfo=UTC))


def run_harm(kills: int, users: int, seed: int) -> bool:
    """True when nothing was lost in so many kills and under the hands of so many users.

    A random user who finds something ends the run with his steps, made as few as they go.
    """
    report = run_kills(kills, seed=seed)
    print(
        f"harm: {report.kills} killed after {report.done} things done,"
        f" {report.one_more} of them one thing later; {len(report.problems)} wrong",
        *report.problems,
        sep="\n  ",
        flush=True,
    )
    ticked = kill_runs(RUN_KILLS, seed=seed + 1)
    print(
        f"harm: {ticked.kills} killed while a list was ticked off, {ticked.ticks} ticks written,"
        f" {ticked.finished} lists finished; {len(ticked.problems)} wrong",
        *ticked.problems,
        sep="\n  ",
        flush=True,
    )
    folder = Path(tempfile.mkdtemp())
    try:
        empty, laid = folder / "empty.firstpull", folder / "laid.firstpull"
        create_household(empty, name="Our shed", moment=MOMENT).close()
        lay_shed(laid, MOMENT)
        run_users(User, empty, MOMENT, examples=users, steps=40)
        run_users(Owner, laid, MOMENT, examples=users, steps=40)
    finally:
        shutil.rmtree(folder)
    print(f"harm: twice {users} random users, nothing wrong")
    return not report.problems and not ticked.problems
