"""A short run of what `tests.long` does at length."""

import os
from pathlib import Path

import pytest

from tests.harm.kill import run


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL and fork")
def test_ten_writers_are_killed_and_nothing_is_lost(tmp_path: Path):
    report = run(10, folder=tmp_path, most_done=5)
    assert not report.problems
    assert report.kills == 10
    assert report.done > 5
