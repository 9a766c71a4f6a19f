"""The window on a file that is not there, that somebody else wrote to, on a day to come."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path
from shutil import copyfile

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QFileDialog, QLabel
from pytestqt.qtbot import QtBot

from app.file_leaf import PutBackLeaf
from app.rooms import Rooms
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.backup import backup_folder, list_backups, verify_backup
from models.changes import Area, Changes
from models.errors import Trouble, TroubleCode
from models.lock import lock_path
from models.moment import Moment
from tests.screens.conftest import Shed


def rooms_on(qtbot: QtBot, folder: Path, path: Path, moment: Moment, *, begin: bool) -> Shed:
    settings = QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(Tongue("en_GB"), settings)
    qtbot.addWidget(window)
    state = folder / "state"
    rooms = Rooms(window=window, clock=lambda: moment, state=state, home=path, begin=begin)
    return Shed(window, rooms, qtbot, path)


def test_a_file_that_was_named_and_is_not_there_is_not_begun(
    qtbot: QtBot, tmp_path: Path, clock: Moment
) -> None:
    path = tmp_path / "typo.firstpull"
    shed = rooms_on(qtbot, tmp_path, path, clock, begin=False)
    assert f"There is no file at {path}" in shed.view.notice.text()
    shed.window.actions_by_name["home"].trigger()
    assert not path.exists()
    shed.rooms.close()


def test_where_no_file_is_open_both_ways_in_still_lead_somewhere(
    qtbot: QtBot, tmp_path: Path, clock: Moment, monkeypatch: pytest.MonkeyPatch
) -> None:
    shed = rooms_on(qtbot, tmp_path, tmp_path / "typo.firstpull", clock, begin=False)
    shed.window.show()
    assert shed.view.notice.property("role") == "head"  # nothing is wrong with the disk
    assert shed.view.sample_button.isEnabled()
    monkeypatch.setattr(shed.window, "ask_file", lambda *, new: tmp_path / "mine" if new else None)
    shed.bot.mouseClick(shed.view.first_button, Qt.MouseButton.LeftButton)
    assert shed.form.page.key == "add"
    assert (tmp_path / "mine.firstpull").exists()
    shed.rooms.close()


def test_a_file_that_cannot_be_read_any_more_is_said_and_no_form_opens(shed: Shed) -> None:
    shed.path.write_bytes(b"no shed at all, " * 8192)
    shed.window.actions_by_name["household"].trigger()
    assert shed.open_form is None
    assert "shed.firstpull" in shed.view.notice.text()


def test_on_a_day_to_come_the_shed_is_read_and_nothing_is_begun(
    shed: Shed, qtbot: QtBot, tmp_path: Path, clock: Moment
) -> None:
    shed.rooms.close()
    ahead = replace(clock, today=date(2027, 1, 9), ahead=True)
    other = rooms_on(qtbot, tmp_path, shed.path, ahead, begin=True)
    assert "9 Jan 2027 has not come yet" in other.view.notice.text()
    assert other.rooms._hub is not None
    assert not other.rooms._hub.can_write
    none = rooms_on(qtbot, tmp_path, tmp_path / "none.firstpull", ahead, begin=True)
    assert "has not come yet" in none.view.notice.text()
    assert not (tmp_path / "none.firstpull").exists()
    for each in (other, none):
        each.rooms.close()


def test_undo_after_somebody_else_wrote_reads_everything_anew(shed: Shed) -> None:
    hub = shed.rooms._hub
    assert hub is not None
    from models.acts.places import AddPlace

    assert isinstance(hub.perform(AddPlace(name="Cellar")), Changes)
    with closing(sqlite3.connect(shed.path)) as stranger:
        stranger.execute("UPDATE place SET note = 'changed'")
        stranger.commit()
    told: list[Changes] = []
    hub.changed.connect(told.append)
    outcome = hub.undo()
    assert isinstance(outcome, Trouble)
    assert outcome.code is TroubleCode.CHANGED_ELSEWHERE
    assert [changes.areas for changes in told] == [frozenset(Area)]
    assert hub.undo() is None


def test_a_made_up_shed_that_cannot_be_made_is_said(shed: Shed, tmp_path: Path) -> None:
    (tmp_path / "state" / "made-up").write_text("in the way")
    shed.window.actions_by_name["sample"].trigger()
    assert "made-up" in shed.view.notice.text()
    assert "rror" not in shed.view.notice.text()
    assert shed.rooms._hub is not None
    assert shed.rooms._hub.household.path == shed.path


def chosen(monkeypatch: pytest.MonkeyPatch, name: str, path: Path) -> None:
    """Whatever the computer's own dialog asks is answered with this path."""
    answer = str(path) if name == "getExistingDirectory" else (str(path), "")
    monkeypatch.setattr(QFileDialog, name, lambda *_: answer)


def put_back(shed: Shed) -> str:
    """Ask for it, and agree; what was asked."""
    shed.window.actions_by_name["restore"].trigger()
    leaf = shed.window.findChildren(PutBackLeaf)[-1]
    said = " ".join(label.text() for label in leaf.findChildren(QLabel))
    leaf.agree_button.click()
    return said


def with_a_mower(shed: Shed) -> None:
    shed.act("add")
    shed.fill(kind="K05", name="Red mower")
    assert shed.keep() == ""
    shed.put_by()


def test_a_shed_goes_out_and_comes_into_another(
    shed: Shed, qtbot: QtBot, tmp_path: Path, clock: Moment, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_a_mower(shed)
    out = tmp_path / "out"
    out.mkdir()
    chosen(monkeypatch, "getExistingDirectory", out)
    shed.window.actions_by_name["export"].trigger()
    written = next(out.glob("*.json"))
    assert str(written) in shed.view.notice.text()
    shed.rooms.close()
    other = rooms_on(qtbot, tmp_path, tmp_path / "other.firstpull", clock, begin=True)
    chosen(monkeypatch, "getOpenFileName", written)
    other.window.actions_by_name["import"].trigger()
    assert "1 machine taken in." in other.view.notice.text()
    assert [row.name for row in other.view.machines.rows] == ["Red mower"]
    other.window.actions_by_name["undo"].trigger()
    assert not other.view.machines.rows
    other.rooms.close()


def test_what_is_no_export_is_not_taken_in(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_a_mower(shed)
    wrong = tmp_path / "letter.json"
    wrong.write_text("Dear aunt", encoding="utf-8")
    chosen(monkeypatch, "getOpenFileName", wrong)
    shed.window.actions_by_name["import"].trigger()
    assert "Nothing was taken in" in shed.view.notice.text()
    assert [row.name for row in shed.view.machines.rows] == ["Red mower"]


def test_a_backup_stands_again_and_what_stood_there_is_kept(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    shed.window.actions_by_name["backup"].trigger()
    backup = list_backups(shed.path)[0].path
    with_a_mower(shed)
    chosen(monkeypatch, "getOpenFileName", backup)
    shed.window.actions_by_name["restore"].trigger()
    shed.window.findChildren(PutBackLeaf)[-1].close()
    assert shed.view.machines.rows, "nobody agreed"
    assert "In the backup: 0 machines. Here now: 1 machine." in put_back(shed)
    assert backup.name in shed.view.notice.text()
    assert not shed.view.machines.rows
    kept = [each.path for each in list_backups(shed.path) if each.path != backup]
    assert len(kept) == 1
    chosen(monkeypatch, "getOpenFileName", kept[0])
    put_back(shed)
    assert [row.name for row in shed.view.machines.rows] == ["Red mower"]


def test_what_another_computer_left_locked_is_taken_over(shed: Shed) -> None:
    take_over = shed.window.actions_by_name["take_over"]
    assert not take_over.isEnabled()
    shed.rooms.close()
    note = {"host": "attic", "pid": 4, "since": "2025-11-01T10:00:00+00:00"}
    lock_path(shed.path).write_text(json.dumps(note), encoding="utf-8")
    shed.rooms.open(shed.path)
    assert "attic" in shed.view.notice.text()
    assert take_over.isEnabled()
    take_over.trigger()
    assert shed.rooms.hub is not None
    assert not shed.rooms.hub.can_write
    assert "once more" in shed.view.notice.text()
    take_over.trigger()
    assert shed.rooms.hub is not None
    assert shed.rooms.hub.can_write
    assert not take_over.isEnabled()


def test_the_days_backup_is_made_while_the_window_lives_on(shed: Shed) -> None:
    with_a_mower(shed)
    shed.rooms.files.back_up_daily()
    shed.act("job")
    shed.fill(text="sharpen the blade")
    assert shed.keep() == ""  # a backup under way keeps nobody from entering
    shed.bot.waitUntil(lambda: bool(list_backups(shed.path)))
    assert verify_backup(list_backups(shed.path)[0].path)


def test_a_daily_backup_that_cannot_be_made_is_said(shed: Shed) -> None:
    with_a_mower(shed)
    backup_folder(shed.path).write_bytes(b"a file where the folder should be")
    shed.rooms.files.back_up_daily()
    shed.bot.waitUntil(lambda: "-backups" in shed.view.notice.text())


def test_a_file_opened_while_another_is_backed_up_has_its_own_backup(
    shed: Shed, begun: Path, tmp_path: Path
) -> None:
    other = tmp_path / "other.firstpull"
    copyfile(begun, other)
    shed.rooms.files.back_up_daily()
    shed.rooms.open(other)
    shed.rooms.files.back_up_daily()
    shed.bot.waitUntil(lambda: bool(list_backups(shed.path)) and bool(list_backups(other)))


def test_a_backup_is_put_back_only_after_the_one_under_way(
    shed: Shed, monkeypatch: pytest.MonkeyPatch
) -> None:
    shed.window.actions_by_name["backup"].trigger()
    backup = list_backups(shed.path)[0].path
    with_a_mower(shed)
    chosen(monkeypatch, "getOpenFileName", backup)
    shed.rooms.files.back_up_daily()
    put_back(shed)
    assert [row.name for row in shed.view.machines.rows] == ["Red mower"]
    shed.bot.waitUntil(lambda: not shed.view.machines.rows)
    assert backup.name in shed.view.notice.text()
