"""One real old file for each format there ever was: each opens, and says what it said then.

`--update-golden` makes the file of the newest format anew, as long as that format was never given
to anybody. Files of older formats are never made again: that is what they are kept for.
"""

import json
import shutil
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sqlalchemy import select

from models.dump import canonical_lines
from models.engines import GUARDS, connect
from models.exchange.fleet import export_fleet
from models.file import create_household, open_household
from models.header import read_header
from models.migrations.formats import SHIPPED, schema_digest
from models.moment import Moment
from models.tables.entries import in_force
from models.tables.fuel import FuelEventRow
from models.tables.hours import UseRow
from models.tables.machines import ItemRow, MachineRow
from models.tables.places import PlaceWindowRow
from models.tables.work import LimitReadingRow
from schedules.facts import ItemSort
from tests.models.whole_household import NAME, FillEverything

FOLDER = Path(__file__).resolve().parents[1] / "golden" / "db"
MADE = Moment(date(2025, 11, 25), datetime(2025, 11, 25, 9, 30, 0, 123456, tzinfo=UTC))
FORMATS = range(1, SHIPPED.newest + 1)


def stored(number: int) -> Path:
    return FOLDER / f"format-{number}.db"


def said(number: int) -> Path:
    """What the file said, as it goes out today: a new column adds to it, nothing is lost."""
    return FOLDER / f"format-{number}.json"


@pytest.fixture(autouse=True)
def newest_made_anew(update_golden: bool, tmp_path_factory: pytest.TempPathFactory) -> None:
    if not update_golden:
        return
    path = tmp_path_factory.mktemp("made") / "shed.firstpull"
    with create_household(path, name="Our shed", moment=MADE) as household:
        household.need_writer().run(FillEverything(), moment=MADE)
        with household.read() as session:
            said(SHIPPED.newest).write_bytes(export_fleet(session))
    shutil.copyfile(path, stored(SHIPPED.newest))


@pytest.fixture(params=FORMATS)
def copied(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[int, Path]:
    path = tmp_path / "shed.firstpull"
    shutil.copyfile(stored(request.param), path)
    return request.param, path


def test_there_is_a_file_of_every_format():
    assert sorted(FOLDER.glob("*.db")) == sorted(stored(number) for number in FORMATS)


def test_a_stored_file_is_of_its_format(copied: tuple[int, Path]):
    number, path = copied
    assert read_header(path, newest=SHIPPED.newest).format == number
    with closing(connect(path, mode="ro", pragmas=GUARDS)) as raw:
        assert schema_digest(raw) == SHIPPED.digest(number)


def test_a_stored_file_says_what_it_said(copied: tuple[int, Path]):
    number, path = copied
    with open_household(path, moment=MADE) as household:
        household.need_writer().check()
        with household.read() as session:
            now = json.loads(export_fleet(session))
    then = json.loads(said(number).read_bytes())
    for table, rows in then.items():
        if table == "schema":
            continue
        assert len(now[table]) == len(rows)
        for row, kept in zip(now[table], rows, strict=True):
            assert {name: row[name] for name in kept} == kept
    if number == SHIPPED.newest:
        assert now == then


def test_a_stored_file_holds_what_was_put_in(copied: tuple[int, Path]):
    _number, path = copied
    with open_household(path, moment=MADE) as household, household.read() as session:
        machine, item = session.execute(
            select(MachineRow, ItemRow).join(ItemRow, ItemRow.id == MachineRow.item_id)
        ).one()
        assert (machine.kind_code, item.name, item.sort) == ("K02", NAME, ItemSort.MACHINE)
        assert item.note == "line one\nline two\ttab"
        uses = session.scalars(select(UseRow).order_by(UseRow.id)).all()
        assert [(use.corrects_id, use.struck) for use in uses] == [
            (None, False),
            (uses[0].id, False),
            (uses[1].id, True),
        ]
        assert not session.scalars(select(UseRow.id).where(in_force(UseRow))).all()
        assert uses[0].entered_at == MADE.now
        reading = session.scalars(select(LimitReadingRow).order_by(LimitReadingRow.id)).first()
        assert reading is not None
        assert (reading.amount, reading.typed_amount, reading.typed_unit) == (1588, "1/16", "in")
        window = session.scalars(select(PlaceWindowRow)).one()
        assert (window.last_month, window.last_day) == (2, 29)
        bought = session.scalars(select(FuelEventRow).order_by(FuelEventRow.id)).first()
        assert bought is not None
        assert bought.volume_ul == 9_463_529


def test_making_it_again_gives_the_same(tmp_path: Path):
    path = tmp_path / "made.firstpull"
    with create_household(path, name="Our shed", moment=MADE) as household:
        household.need_writer().run(FillEverything(), moment=MADE)
    lines: list[list[str]] = []
    for one in (path, stored(SHIPPED.newest)):
        with closing(connect(one, mode="ro", pragmas=GUARDS)) as raw:
            lines.append(list(canonical_lines(raw)))
    assert lines[0] == lines[1]
