"""The picture for the first paint: there, or simply not there."""

import os
import random
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import date
from pathlib import Path

import pytest

from models.file import Household
from models.glance import GlanceRow, glance_key, read_glance, write_glance
from models.moment import Moment
from tests.models.small_acts import AddPlace

DAY = date(2025, 11, 25)
ROWS = tuple(
    GlanceRow(
        machine_id=number,
        name=f"Machine {number} 🦌 'x'",
        kind="K02",
        place="Lean-to",
        state="fit",
        sentence={"code": "state_fit", "values": [["machine", number], ["day", None]]},
    )
    for number in (3, 1, 2)
)


def test_what_was_kept_is_read_back(tmp_path: Path):
    path = tmp_path / "glance"
    assert write_glance(path, ROWS, key="7-4096", on=DAY)
    found = read_glance(path)
    assert found is not None
    assert (found.rows, found.key, found.on) == (ROWS, "7-4096", DAY)
    assert write_glance(path, ROWS[:1], key="8-4096", on=DAY)
    again = read_glance(path)
    assert again is not None
    assert again.rows == ROWS[:1]
    assert [p.name for p in tmp_path.iterdir()] == ["glance"]


def test_it_may_be_gone_or_spoilt_at_any_time(tmp_path: Path):
    path = tmp_path / "glance"
    assert read_glance(path) is None
    assert read_glance(tmp_path) is None
    write_glance(path, ROWS, key="k", on=DAY)
    whole = path.read_bytes()
    chance = random.Random(5)
    for _ in range(150):
        data = bytearray(whole)
        for _ in range(chance.choice((1, 8, 64))):
            data[chance.randrange(len(data))] = chance.randrange(256)
        path.write_bytes(data[: chance.choice((len(data), chance.randrange(len(data))))])
        read_glance(path)  # whatever it says, it says it without a fault
    for junk in (b"", b"x", b"\0" * 8192):
        path.write_bytes(junk)
        assert read_glance(path) is None


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE glance SET schema = 99",
        "UPDATE glance SET day = 'someday'",
        "UPDATE glance SET day = NULL",
        "UPDATE machine SET sentence = '{'",
        "UPDATE machine SET sentence = NULL",
        "UPDATE machine SET id = NULL",
        "UPDATE glance SET head = '{'",
        "DELETE FROM glance",
        "DROP TABLE machine",
    ],
)
def test_what_it_does_not_understand_is_not_there(tmp_path: Path, statement: str):
    path = tmp_path / "glance"
    write_glance(path, ROWS, key="k", on=DAY)
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute(statement)
    assert read_glance(path) is None


def test_nowhere_to_write_is_no_fault(tmp_path: Path):
    (tmp_path / "file").write_text("x")
    assert not write_glance(tmp_path / "file" / "glance", ROWS, key="k", on=DAY)
    folder = tmp_path / "folder"
    folder.mkdir()
    assert not write_glance(folder, ROWS, key="k", on=DAY)


def test_the_key_moves_with_every_commit(household: Household, moment: Moment):
    first = glance_key(household.path)
    assert first == glance_key(household.path)
    household.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
    second = glance_key(household.path)
    household.need_writer().undo(moment=moment)
    assert len({first, second, glance_key(household.path)}) == 3
    assert glance_key(household.path.with_name("gone")) == ""


def test_nothing_heavy_is_loaded_for_it():
    code = "import sys, models.glance\nassert 'sqlalchemy' not in sys.modules"
    subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        check=True,
    )
