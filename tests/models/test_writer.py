"""One act, one transaction, one step back; and no other door to write by."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy import delete, func, insert, select, text, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from models.changes import ActCode, Area, Changes
from models.dump import digest
from models.engines import GUARDS, connect, writing_engine
from models.errors import (
    REFUSED_VALUES,
    TROUBLE_VALUES,
    Refused,
    RefusedCode,
    Trouble,
    TroubleCode,
)
from models.file import Household, create_household, open_household
from models.journal import MOST_STEPS
from models.moment import Moment
from models.tables.entries import in_force
from models.tables.hours import UseRow
from models.tables.machines import ItemRow, MachineRow
from models.tables.work import LimitReadingRow, WorkRow
from models.writer import Writer
from tests.models.small_acts import (
    AddMachine,
    AddPlace,
    AddThenFail,
    LogUse,
    RemoveMachine,
    Rename,
    RenameAll,
    StrikeUse,
    changed,
)


@dataclass(frozen=True)
class Statement:
    """An act that says any SQL it is told to."""

    sql: str

    def run(self, session: Session, moment: Moment) -> Changes:
        session.execute(text(self.sql))
        return changed(Area.MACHINES)


def held(path: Path) -> str:
    with closing(connect(path, mode="ro", pragmas=GUARDS)) as connection:
        return digest(connection)


def counted(household: Household, row: type[ItemRow | UseRow | MachineRow]) -> int:
    with household.read() as session:
        return session.scalar(select(func.count()).select_from(row)) or 0


def test_an_act_is_undone_and_done_again(household: Household, moment: Moment):
    writer = household.need_writer()
    before = held(household.path)
    writer.run(AddMachine(name="Red one"), moment=moment)
    after = held(household.path)
    assert before != after
    assert writer.undo_label is not None
    assert writer.undo_label.code is ActCode.ADD_MACHINE
    undone = writer.undo(moment=moment)
    assert undone is not None
    assert undone.areas == {Area.MACHINES}
    assert held(household.path) == before
    assert writer.undo_label is None
    assert writer.undo(moment=moment) is None
    writer.redo(moment=moment)
    assert held(household.path) == after
    assert writer.redo_label is None
    assert writer.redo(moment=moment) is None


def test_a_refused_act_leaves_file_and_steps_alone(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    writer.undo(moment=moment)
    before = held(household.path)
    with pytest.raises(Refused):
        writer.run(AddThenFail(), moment=moment)
    assert held(household.path) == before
    assert writer.undo_label is not None
    assert writer.redo_label is not None
    writer.redo(moment=moment)
    assert held(household.path) != before


def test_an_act_that_changes_nothing_is_no_step(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    writer.undo(moment=moment)
    writer.run(Rename(number=0, name="nothing there"), moment=moment)
    assert writer.undo_label is None
    assert writer.redo_label is not None
    writer.run(AddMachine(name="Red one"), moment=moment)
    writer.run(RenameAll(note=""), moment=moment)  # as it was
    assert writer.undo_label is not None
    assert writer.undo_label.code is ActCode.ADD_MACHINE


def test_cascades_and_bulk_statements_are_undone(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    writer.run(AddMachine(name="Red one"), moment=moment)
    writer.run(RenameAll(note='it\'s "quoted"; -- DROP TABLE item;\n\t?:x %s é 🦌'), moment=moment)
    before = held(household.path)
    writer.run(RemoveMachine(number=0), moment=moment)
    gone = held(household.path)
    writer.undo(moment=moment)
    assert held(household.path) == before
    writer.redo(moment=moment)
    assert held(household.path) == gone
    for _ in range(4):
        writer.undo(moment=moment)
    assert counted(household, ItemRow) == 0


def test_a_new_act_forgets_what_was_undone(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    writer.undo(moment=moment)
    writer.run(AddPlace(name="Cellar"), moment=moment)
    assert writer.redo_label is None


def test_a_thousand_steps_are_kept(
    household: Household, moment: Moment, monkeypatch: pytest.MonkeyPatch
):
    assert MOST_STEPS == 1000
    monkeypatch.setattr("models.journal.MOST_STEPS", 3)
    writer = household.need_writer()
    for number in range(5):
        writer.run(AddPlace(name=f"Place {number}"), moment=moment)
    assert [writer.undo(moment=moment) is not None for _ in range(4)] == [True] * 3 + [False]


def test_a_step_too_large_to_keep_is_not_kept(
    household: Household, moment: Moment, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("models.journal.MOST_STATEMENTS", 3)
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    writer.run(AddMachine(name="Red one"), moment=moment)
    assert writer.undo_label is None


@pytest.mark.parametrize(
    "sql",
    [
        "INSERT OR REPLACE INTO place (id) VALUES (1)",
        "  replace into place (id) values (1)",
        "UPDATE OR REPLACE place SET name = 'x'",
    ],
)
def test_rows_are_never_replaced(household: Household, moment: Moment, sql: str):
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    before = held(household.path)
    with pytest.raises(ValueError, match="replaced"):
        writer.run(Statement(sql), moment=moment)
    assert held(household.path) == before


def test_text_that_speaks_of_replacing_passes(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddPlace(name="clean or replace into"), moment=moment)
    before = held(household.path)
    writer.run(AddMachine(name="insert or replace x"), moment=moment)
    writer.undo(moment=moment)
    assert held(household.path) == before


@pytest.mark.parametrize("sql", ["UPDATE use SET note = 'no'", "DELETE FROM use"])
def test_an_entry_is_only_added_to(household: Household, moment: Moment, sql: str):
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    writer.run(LogUse(number=0), moment=moment)
    with pytest.raises(IntegrityError, match="only added to"):
        writer.run(Statement(sql), moment=moment)
    writer.undo(moment=moment)
    assert counted(household, UseRow) == 0


def test_a_struck_entry_stays_and_does_not_count(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    writer.run(LogUse(number=0, run_seconds=600), moment=moment)
    writer.run(LogUse(number=0, run_seconds=60), moment=moment)
    writer.run(StrikeUse(), moment=moment)
    with household.read() as session:
        assert session.scalars(select(UseRow.run_seconds).where(in_force(UseRow))).all() == [600]
    assert counted(household, UseRow) == 3


def test_readings_fall_with_their_work(household: Household, moment: Moment):
    @dataclass(frozen=True)
    class Work:
        corrects: int | None = None

        def run(self, session: Session, moment: Moment) -> Changes:
            day = moment.today
            work = WorkRow(machine_id=1, happened_on=day, corrects_id=self.corrects)
            session.add(work)
            session.flush()
            session.add(
                LimitReadingRow(
                    item_id=1,
                    work_id=work.id,
                    task_code="S2-05",
                    limit_code="L15",
                    amount=1000 + work.id,
                    happened_on=day,
                )
            )
            return changed(Area.WORK)

    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    writer.run(Work(), moment=moment)
    writer.run(Work(corrects=1), moment=moment)
    counts = select(LimitReadingRow.amount).where(in_force(LimitReadingRow))
    with household.read() as session:
        assert session.scalars(counts).all() == [1002]
    with pytest.raises(IntegrityError):
        writer.run(Work(corrects=1), moment=moment)


def test_a_stranger_who_writes_makes_the_steps_void(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    with closing(sqlite3.connect(household.path)) as stranger:
        stranger.execute("UPDATE item SET note = 'changed behind your back'")
        stranger.commit()
    with pytest.raises(Trouble) as caught:
        writer.undo(moment=moment)
    assert caught.value.code is TroubleCode.CHANGED_ELSEWHERE
    assert counted(household, MachineRow) == 1
    assert writer.undo_label is None
    assert writer.undo(moment=moment) is None
    # It was told once that everything is to be read anew.
    assert writer.run(AddPlace(name="Lean-to"), moment=moment).areas == {Area.PLACES}


def test_a_stranger_met_by_an_act_has_everything_read_anew(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    with closing(sqlite3.connect(household.path)) as stranger:
        stranger.execute("UPDATE item SET note = 'changed behind your back'")
        stranger.commit()
    changes = writer.run(AddPlace(name="Lean-to"), moment=moment)
    assert changes.areas == frozenset(Area)
    assert writer.run(AddPlace(name="Cellar"), moment=moment).areas == {Area.PLACES}
    assert writer.undo_label is not None


def test_our_own_commits_do_not(household: Household, moment: Moment):
    writer = household.need_writer()
    for number in range(3):
        writer.run(AddPlace(name=f"Place {number}"), moment=moment)
        assert counted(household, ItemRow) == 0
    assert all(writer.undo(moment=moment) for _ in range(3))


def test_a_file_exchanged_under_us_is_noticed(household: Household, moment: Moment, tmp_path: Path):
    writer = household.need_writer()
    other = tmp_path / "other.firstpull"
    create_household(other, name="Another", moment=moment).close()
    other.replace(household.path)
    with pytest.raises(Trouble) as caught:
        writer.run(AddPlace(name="Lean-to"), moment=moment)
    assert caught.value.code is TroubleCode.SWAPPED
    household.path.unlink()
    with pytest.raises(Trouble):
        writer.run(AddPlace(name="Lean-to"), moment=moment)


def test_a_second_connection_cannot_write_through_us(household: Household, moment: Moment):
    household.need_writer().run(AddMachine(name="Red one"), moment=moment)
    with pytest.raises(Trouble) as caught, household.read() as session:
        session.execute(update(ItemRow).values(note="no"))
    assert caught.value.code is TroubleCode.READ_ONLY
    with pytest.raises(Trouble), household.read() as session:
        session.execute(delete(ItemRow))


def test_a_read_sees_one_state(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    with household.read() as session:
        first = session.scalars(select(ItemRow.name)).all()
        assert first == session.scalars(select(ItemRow.name)).all()


def test_a_read_left_open_holds_up_the_act_and_is_told(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    before = held(household.path)
    with writer._engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA busy_timeout=50")
        connection.rollback()
    with household.read() as session:
        session.execute(select(ItemRow.name)).all()
        with pytest.raises(Trouble) as caught:
            writer.run(AddMachine(name="Red one"), moment=moment)
    assert caught.value.code is TroubleCode.BUSY
    assert held(household.path) == before
    writer.undo(moment=moment)
    writer.run(AddMachine(name="Red one"), moment=moment)


def test_rows_outside_an_act_are_not_made(household: Household):
    engine = writing_engine(household.path)
    with pytest.raises(Exception, match="writer alone"), engine.begin() as connection:
        connection.execute(insert(ItemRow).values(name="x"))
    engine.dispose()


def test_every_trigger_is_there_and_counted(household: Household, moment: Moment):
    writer = household.need_writer()
    journal = writer._journal
    assert journal.trigger_count == 44 * 3 + 8 * 2
    with writer._engine.connect() as connection:
        assert journal.is_laid(connection)
        connection.exec_driver_sql("DROP TRIGGER log_update_item")
        assert not journal.is_laid(connection)
        connection.commit()
    with pytest.raises(RuntimeError, match="trigger"):
        writer.run(AddPlace(name="Lean-to"), moment=moment)


def test_the_connection_is_set_as_it_must_be(household: Household):
    writer = household.need_writer()
    wanted = {
        "journal_mode": "delete",
        "synchronous": 2,
        "foreign_keys": 1,
        "recursive_triggers": 1,
        "trusted_schema": 0,
        "cell_size_check": 1,
    }
    with writer._engine.connect() as connection:
        found = {name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one() for name in wanted}
    assert found == wanted
    with household.read() as session:
        assert session.scalar(text("PRAGMA query_only")) == 1


def test_a_changed_id_is_undone_as_well(household: Household, moment: Moment):
    writer = household.need_writer()
    writer.run(AddPlace(name="Lean-to"), moment=moment)
    before = held(household.path)
    writer.run(Statement("UPDATE place SET id = 77"), moment=moment)
    writer.undo(moment=moment)
    assert held(household.path) == before


def test_undo_that_would_break_a_link_is_told_and_changes_nothing(
    household: Household, moment: Moment
):
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    step = writer._journal._done.pop()
    broken = (*step.statements, "INSERT INTO machine_place VALUES (1,'u',99,99,'2025-01-01','')")
    writer._journal._done.append(replace(step, statements=broken))
    before = held(household.path)
    with pytest.raises(Trouble) as caught:
        writer.undo(moment=moment)
    assert caught.value.code is TroubleCode.UNDO_FAILED
    assert held(household.path) == before
    assert writer.undo_label is not None
    assert writer.redo_label is None


def test_uids_are_never_given_twice_at_one_instant(household_path: Path, moment: Moment):
    uids: list[str] = []
    with create_household(household_path, name="Our shed", moment=moment) as household:
        writer = household.need_writer()
        writer.run(AddMachine(name="One"), moment=moment)
        with household.read() as session:
            uids += session.scalars(select(ItemRow.uid)).all()
        writer.undo(moment=moment)
        writer.run(AddMachine(name="Two"), moment=moment)
        with household.read() as session:
            uids += session.scalars(select(ItemRow.uid)).all()
    with closing(connect(household_path, mode="rw", pragmas=())) as raw:
        raw.execute("PRAGMA foreign_keys=ON")
        raw.execute("DELETE FROM machine")
        raw.execute("DELETE FROM item")
    with open_household(household_path, moment=moment) as household:
        household.need_writer().run(AddMachine(name="Three"), moment=moment)
        with household.read() as session:
            uids += session.scalars(select(ItemRow.uid)).all()
    assert len(uids) == len(set(uids)) == 6


def test_dates_and_instants_come_back_as_they_went(household: Household, moment: Moment):
    later = Moment(moment.today + timedelta(days=1), moment.now + timedelta(microseconds=7))
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one", came_on=date(2024, 2, 29)), moment=moment)
    writer.run(LogUse(number=0), moment=later)
    with household.read() as session:
        assert session.scalars(select(ItemRow.came_on)).first() == date(2024, 2, 29)
        use = session.scalars(select(UseRow)).one()
        assert (use.happened_on, use.entered_at) == (later.today, later.now)


def test_a_damaged_file_is_seen_before_the_first_act(household_path: Path, moment: Moment):
    with create_household(household_path, name="Our shed", moment=moment) as household:
        for number in range(20):
            household.need_writer().run(AddPlace(name=f"Place {number}"), moment=moment)
    with closing(sqlite3.connect(household_path)) as raw:
        (page,) = raw.execute("SELECT rootpage FROM sqlite_schema WHERE name='place'").fetchone()
        (size,) = raw.execute("PRAGMA page_size").fetchone()
    data = bytearray(household_path.read_bytes())
    data[(page - 1) * size + 8 : (page - 1) * size + 40] = b"\xff" * 32
    household_path.write_bytes(data)
    with open_household(household_path, moment=moment) as household:
        damaged = household_path.read_bytes()
        with pytest.raises(Trouble) as caught:
            household.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
        assert caught.value.code is TroubleCode.DAMAGED
    assert household_path.read_bytes() == damaged


def test_damage_elsewhere_keeps_from_the_first_act(household_path: Path, moment: Moment):
    create_household(household_path, name="Our shed", moment=moment).close()
    with closing(sqlite3.connect(household_path, isolation_level=None)) as raw:
        raw.execute("INSERT INTO machine VALUES (1, 'u', 5, 'K02')")  # a link to nowhere
    before = held(household_path)
    with open_household(household_path, moment=moment) as household:
        for attempt in (household.check, household.need_writer().check):
            with pytest.raises(Trouble) as caught:
                attempt()
            assert caught.value.code is TroubleCode.DAMAGED
        with pytest.raises(Trouble) as caught:
            household.need_writer().run(AddPlace(name="Lean-to"), moment=moment)
        assert caught.value.code is TroubleCode.DAMAGED
    assert held(household_path) == before


def test_the_codes_of_refusal_and_trouble_declare_their_values():
    assert set(REFUSED_VALUES) == set(RefusedCode)
    assert set(TROUBLE_VALUES) == set(TroubleCode)
    with pytest.raises(ValueError, match="values"):
        Refused(RefusedCode.TOO_LONG, field="name")
    assert Refused(RefusedCode.NOTHING_GIVEN, field="name").values == (("field", "name"),)


def test_a_closed_household_cannot_be_written(household: Household):
    assert isinstance(household.writer, Writer)
    household.close()
    with pytest.raises(Trouble) as caught:
        household.need_writer()
    assert caught.value.code is TroubleCode.READ_ONLY


def test_on_a_day_that_has_not_come_nothing_is_entered(household: Household, moment: Moment):
    ahead = replace(moment, today=moment.today + timedelta(days=1), ahead=True)
    writer = household.need_writer()
    writer.run(AddMachine(name="Red one"), moment=moment)
    before = held(household.path)
    for step in (
        lambda: writer.run(AddPlace(name="Lean-to"), moment=ahead),
        lambda: writer.undo(moment=ahead),
        lambda: household.back_up(moment=ahead),
        lambda: household.back_up_daily(moment=ahead),
        lambda: create_household(household.path.with_name("b"), name="B", moment=ahead),
    ):
        with pytest.raises(Trouble) as caught:
            step()
        assert caught.value.code is TroubleCode.LOOKING_AHEAD
        assert dict(caught.value.values) == {"day": ahead.today}
    assert held(household.path) == before
    assert [path.name for path in household.path.parent.glob("*.firstpull")] == [
        household.path.name
    ]
    household.close()
    with open_household(household.path, moment=ahead) as again:
        assert again.writer is None
        assert again.notice is not None
        assert again.notice.code is TroubleCode.LOOKING_AHEAD


@dataclass(frozen=True)
class FullDisk:
    """An act that meets a full disk half way."""

    part: Path

    def run(self, session: Session, moment: Moment) -> Changes:
        AddMachine(name="Red one").run(session, moment)
        raise Trouble(TroubleCode.DISK_FULL, path=str(self.part))


def test_a_household_whose_first_act_fails_never_was(tmp_path: Path, moment: Moment):
    path = tmp_path / "new.firstpull"
    for act in (FullDisk(tmp_path / ".new.firstpull.new.part"), AddThenFail()):
        with pytest.raises((Trouble, Refused, RuntimeError)) as caught:
            create_household(path, name="Ours", moment=moment, first=act)
        if isinstance(caught.value, Trouble):  # told of the file that somebody asked for
            assert dict(caught.value.values) == {"path": str(path)}
        assert list(tmp_path.iterdir()) == []
    with create_household(path, name="Ours", moment=moment, first=AddMachine(name="A")) as made:
        assert counted(made, MachineRow) == 1
        assert made.need_writer().undo_label is None
