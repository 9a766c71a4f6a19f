"""A short run of killing runs; `kill_runs(200)` at length."""

import os
from pathlib import Path

import pytest

from tests.harm.runs import kill_runs


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL and fork")
def test_every_tick_that_was_written_is_there_after_a_kill(tmp_path: Path):
    report = kill_runs(6, folder=tmp_path)
    assert not report.problems
    assert report.kills == 6
    assert report.ticks > 5
