"""From one format to the next: nothing lost, nothing half done, and the traps on the way."""

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import create_engine
from sqlalchemy.exc import IntegrityError, OperationalError

from models.backup import list_backups, verify_backup
from models.dump import canonical_lines
from models.engines import GUARDS, connect
from models.errors import Trouble, TroubleCode
from models.file import create_household, open_household
from models.migrate import lay_newest, migrate
from models.migrations.formats import SHIPPED, Formats, schema_digest, schema_rows
from models.moment import Moment
from tests.models.small_acts import AddMachine, AddPlace, LogUse

# ruff: noqa: S608  (texts of revisions, put together from our own words)

NEXT = f"{SHIPPED.newest + 1:04}"
HEAD = f"""
from alembic import op
import sqlalchemy as sa
revision = "{NEXT}"
down_revision = "{SHIPPED.revisions[-1]}"
"""

# Rebuilds a table that others hang on, as a change of a CHECK needs in SQLite.
REBUILD = (
    HEAD
    + """
def upgrade():
    with op.batch_alter_table("item", recreate="always") as batch:
        batch.add_column(sa.Column("colour", sa.String(20), nullable=False, server_default=""))
"""
)
DECLARED = HEAD + 'MAY_LOSE = ("job",)\ndef upgrade():\n    op.execute("DELETE FROM job")\n'
UNDECLARED = HEAD + 'def upgrade():\n    op.execute("DELETE FROM job")\n'
DROPPED = HEAD + 'def upgrade():\n    op.drop_table("job")\n'
LOOSE = HEAD + 'def upgrade():\n    op.execute("UPDATE machine SET item_id = item_id + 900")\n'
FAILS = (
    HEAD
    + """
def upgrade():
    op.create_table("extra", sa.Column("id", sa.Integer, primary_key=True))
    op.add_column("item", sa.Column("colour", sa.String(20)))
    op.execute("INSERT INTO extra VALUES (1)")
    op.execute("INSERT INTO extra VALUES (1)")
"""
)
KILLED = (
    HEAD
    + """
import os, signal
def upgrade():
    op.add_column("item", sa.Column("colour", sa.String(20)))
    op.execute("UPDATE item SET note = 'half way'")
    os.kill(os.getpid(), signal.SIGKILL)
"""
)

Scripted = Callable[[str], Formats]


@pytest.fixture
def scripted(tmp_path: Path) -> Scripted:
    """The formats with one more revision, whose text is given."""

    def make(text: str) -> Formats:
        scripts = tmp_path / "scripts"
        shutil.copytree(SHIPPED.scripts, scripts, ignore=shutil.ignore_patterns("__pycache__"))
        (scripts / "versions" / f"{NEXT}_next.py").write_text(text)
        return replace(
            SHIPPED,
            revisions=(*SHIPPED.revisions, NEXT),
            digests=(*SHIPPED.digests, "not looked at before a file has it"),
            scripts=scripts,
        )

    return make


@pytest.fixture
def filled(household_path: Path, moment: Moment) -> Path:
    with create_household(household_path, name="Our shed", moment=moment) as household:
        writer = household.need_writer()
        writer.run(AddPlace(name="Lean-to"), moment=moment)
        for number in range(3):
            writer.run(AddMachine(name=f"Machine {number}"), moment=moment)
            writer.run(LogUse(number=number), moment=moment)
    return household_path


def lines_of(path: Path) -> list[str]:
    with closing(connect(path, mode="ro", pragmas=GUARDS)) as connection:
        return list(canonical_lines(connection))


def counts_of(path: Path) -> dict[str, int]:
    with closing(connect(path, mode="ro", pragmas=GUARDS)) as raw:
        return {
            table: raw.execute(f"SELECT count(*) FROM {table}").fetchone()[0]
            for table in ("item", "machine", "fitting", "machine_place", "job", "use")
        }


def test_format_is_the_ordinal_of_the_newest_revision():
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(SHIPPED.scripts))
    config.set_main_option("path_separator", "os")
    walked = ScriptDirectory.from_config(config).walk_revisions()
    assert tuple(reversed([script.revision for script in walked])) == SHIPPED.revisions
    assert len(SHIPPED.digests) == len(SHIPPED.revisions) == SHIPPED.newest


def test_made_fresh_and_migrated_from_nothing_are_the_same(tmp_path: Path):
    fresh, walked = tmp_path / "fresh", tmp_path / "walked"
    with create_engine(f"sqlite:///{fresh}").begin() as connection:
        lay_newest(connection, SHIPPED)
    walked.touch()
    migrate(walked, 0, SHIPPED)
    with closing(sqlite3.connect(fresh)) as one, closing(sqlite3.connect(walked)) as other:
        assert schema_rows(one) == schema_rows(other)
        assert schema_digest(one) == schema_digest(other) == SHIPPED.digest(SHIPPED.newest)
        for pragma in ("user_version",):
            assert one.execute(f"PRAGMA {pragma}").fetchone() == (SHIPPED.newest,)
            assert other.execute(f"PRAGMA {pragma}").fetchone() == (SHIPPED.newest,)
        version = "SELECT version_num FROM alembic_version"
        assert one.execute(version).fetchall() == other.execute(version).fetchall()


def test_a_table_rebuilt_keeps_its_children(filled: Path, moment: Moment, scripted: Scripted):
    before = counts_of(filled)
    assert before == {
        "item": 6,
        "machine": 3,
        "fitting": 3,
        "machine_place": 3,
        "job": 3,
        "use": 3,
    }
    open_household(filled, moment=moment, formats=scripted(REBUILD)).close()
    assert counts_of(filled) == before
    with closing(connect(filled, mode="ro", pragmas=GUARDS)) as raw:
        assert raw.execute("PRAGMA user_version").fetchone() == (SHIPPED.newest + 1,)
        assert raw.execute("SELECT DISTINCT colour FROM item").fetchall() == [("",)]
        assert raw.execute("PRAGMA foreign_key_check").fetchall() == []


def test_the_trap_is_a_trap(filled: Path):
    """What the migration guards against does happen: with keys on, the children are gone, the
    check finds nothing, and the transaction commits."""
    from alembic.migration import MigrationContext
    from alembic.operations import Operations
    from sqlalchemy import Column, String

    with closing(sqlite3.connect(filled, isolation_level=None)) as raw:
        raw.execute("DELETE FROM use")  # its RESTRICT would catch it here
    engine = create_engine(f"sqlite:///{filled}")
    with engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA foreign_keys=ON")
        operations = Operations(MigrationContext.configure(connection))
        with operations.batch_alter_table("machine", recreate="always") as batch:
            batch.add_column(Column("colour", String(20)))
        connection.commit()
        loose = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    engine.dispose()
    after = counts_of(filled)
    assert (after["machine"], after["job"], after["fitting"]) == (3, 0, 0)
    assert not [row for row in loose if row[0] == "job"]


def test_the_old_file_is_kept_beside_before_anything(
    filled: Path, moment: Moment, scripted: Scripted
):
    old = lines_of(filled)
    open_household(filled, moment=moment, formats=scripted(REBUILD)).close()
    (backup,) = list_backups(filled)
    assert backup.kind == "before-format"
    assert verify_backup(backup.path) == SHIPPED.newest
    assert lines_of(backup.path) == old


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (UNDECLARED, TroubleCode.MIGRATION_LOST_ROWS),
        (DROPPED, TroubleCode.MIGRATION_LOST_ROWS),
        (LOOSE, TroubleCode.MIGRATION_BROKE_LINKS),
    ],
)
def test_a_revision_that_loses_something_is_taken_back(
    filled: Path, moment: Moment, scripted: Scripted, text: str, code: TroubleCode
):
    old = lines_of(filled)
    with pytest.raises(Trouble) as caught:
        open_household(filled, moment=moment, formats=scripted(text))
    assert caught.value.code is code
    assert lines_of(filled) == old
    open_household(filled, moment=moment).close()


def test_a_revision_may_lose_what_it_says(filled: Path, moment: Moment, scripted: Scripted):
    open_household(filled, moment=moment, formats=scripted(DECLARED)).close()
    assert counts_of(filled)["job"] == 0


def test_a_revision_that_fails_leaves_nothing_behind(
    filled: Path, moment: Moment, scripted: Scripted
):
    old = lines_of(filled)
    with pytest.raises(IntegrityError, match="UNIQUE"):
        open_household(filled, moment=moment, formats=scripted(FAILS))
    assert lines_of(filled) == old
    with closing(connect(filled, mode="ro", pragmas=GUARDS)) as raw:
        assert schema_digest(raw) == SHIPPED.digest(SHIPPED.newest)


CHILD = """
import sys
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from models.file import open_household
from models.migrations.formats import SHIPPED
from models.moment import Moment
moment = Moment(date(2025, 11, 25), datetime(2025, 11, 25, 9, 30, tzinfo=UTC))
formats = replace(SHIPPED, revisions=(*SHIPPED.revisions, sys.argv[3]),
                  digests=(*SHIPPED.digests, ""), scripts=Path(sys.argv[2]))
open_household(Path(sys.argv[1]), moment=moment, formats=formats)
"""


@pytest.mark.skipif(os.name != "posix", reason="SIGKILL")
def test_a_migration_killed_half_way_leaves_the_old_file(
    filled: Path, moment: Moment, scripted: Scripted
):
    old = lines_of(filled)
    killed = subprocess.run(
        [sys.executable, "-c", CHILD, str(filled), str(scripted(KILLED).scripts), NEXT],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        check=False,
    )
    assert killed.returncode == -signal.SIGKILL
    with open_household(filled, moment=moment) as household:
        assert household.writer is not None
        assert lines_of(filled) == old
    leftover = {path.suffix for path in filled.parent.iterdir() if path.is_file()}
    assert leftover == {".firstpull"}


def test_an_older_file_that_cannot_be_brought_up_is_not_read(
    filled: Path, moment: Moment, scripted: Scripted
):
    formats = scripted(REBUILD)
    with open_household(filled, moment=moment), pytest.raises(Trouble) as caught:
        open_household(filled, moment=moment, formats=formats)
    assert caught.value.code is TroubleCode.OLDER_NOT_WRITABLE
    with pytest.raises(Trouble):
        open_household(filled, moment=moment, write=False, formats=formats)


def test_a_strangers_trigger_does_not_live_to_see_the_migration(
    filled: Path, moment: Moment, scripted: Scripted
):
    with closing(sqlite3.connect(filled)) as raw:
        raw.execute("CREATE TRIGGER t AFTER UPDATE ON item BEGIN DELETE FROM use; END")
        raw.commit()
    with pytest.raises(Trouble) as caught:
        open_household(filled, moment=moment, formats=scripted(REBUILD))
    assert caught.value.code is TroubleCode.STRANGE_SCHEMA
    assert counts_of(filled)["use"] == 3


def test_a_migration_the_drivers_own_transactions_would_leave_half_done(tmp_path: Path):
    """The other trap: with SQLAlchemy's defaults a failed change of the schema stays."""
    path = tmp_path / "plain.db"
    engine = create_engine(f"sqlite:///{path}")
    with engine.connect() as connection:
        connection.exec_driver_sql("CREATE TABLE first (id INTEGER)")
        with pytest.raises(OperationalError, match="syntax"):
            connection.exec_driver_sql("nonsense")
        connection.rollback()
    engine.dispose()
    with closing(sqlite3.connect(path)) as raw:
        assert raw.execute("SELECT name FROM sqlite_schema").fetchall() == [("first",)]


def test_revisions_know_nothing_of_today():
    for path in (SHIPPED.scripts / "versions").glob("*.py"):
        source = path.read_text(encoding="utf-8")
        assert "from models" not in source
        assert "import models" not in source


def test_alembic_is_loaded_only_when_it_is_needed(filled: Path):
    code = (
        "import sys\nfrom pathlib import Path\nfrom datetime import UTC, date, datetime\n"
        "from models.file import open_household\nfrom models.moment import Moment\n"
        "moment = Moment(date(2025, 11, 25), datetime(2025, 11, 25, tzinfo=UTC))\n"
        "open_household(Path(sys.argv[1]), moment=moment).close()\n"
        "assert 'alembic' not in sys.modules\n"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(filled)],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        check=True,
    )
