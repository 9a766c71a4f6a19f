"""Papers are kept where papers are: in the documents, or in the folder they went to last."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, QStandardPaths
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog

from app.fuel.view import FuelView
from app.pieces.form import Form
from app.saving import file_name, paper_folder
from tests.screens.conftest import Shed


def test_a_file_says_what_it_is_on_every_computer() -> None:
    assert file_name("Red one", "pre-season sheet", "2026-11-25") == (
        "Red one pre-season sheet 2026-11-25.pdf"
    )
    assert file_name("Mower: 1/2 <old>?\n") == "Mower- 1-2 -old---.pdf"
    assert file_name(" .. ") == "paper.pdf"
    assert len(file_name("x" * 300)) < 90


def test_the_folder_of_the_last_paper_is_offered_while_it_is_there(tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    documents = QStandardPaths.StandardLocation.DocumentsLocation
    first = paper_folder(settings)
    assert str(first) in {QStandardPaths.writableLocation(documents), str(Path.home())}
    kept = tmp_path / "garage"
    kept.mkdir()
    settings.setValue("papers", str(kept))
    assert paper_folder(settings) == kept
    kept.rmdir()
    assert paper_folder(settings) == first


def test_the_name_is_kept_and_the_keyboard_comes_back(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def answer(_window: object, _title: str, suggested: str, _kind: str) -> tuple[str, str]:
        asked.append(suggested)
        shed.view.setFocus()  # the box had it
        return str(tmp_path / "mine"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", answer)
    shed.window.activateWindow()
    shed.bot.waitUntil(shed.window.isActiveWindow)
    shed.view.first_button.setFocus()
    assert shed.window.ask_pdf("card.pdf") == tmp_path / "mine.pdf"
    assert asked[0].endswith("card.pdf")
    assert shed.view.first_button.hasFocus()
    shed.window.ask_pdf("card.pdf")
    assert asked[1] == str(tmp_path / "card.pdf")


def test_what_can_wait_opens_beside_the_main_button(shed: Shed) -> None:
    form = shed.act("add")
    assert isinstance(form, Form)
    assert form.later_button.parent() is form
    shed.bot.waitUntil(form.isVisible)
    assert not form.widget("spot").isVisible()
    form.later_button.click()
    assert form.widget("spot").isVisible()


def test_where_the_paper_lies_is_said_in_the_room_in_sight(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(shed.window, "ask_pdf", lambda name: tmp_path / name)
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.fileName()))
    shed.stand("Red one")
    shed.window.actions_by_name["fuel_room"].trigger()
    room = shed.window.rooms.currentWidget()
    assert isinstance(room, FuelView)
    shed.window.actions_by_name["tags"].trigger()
    assert "tags.pdf" in room.notice.text()
    assert "tags.pdf" in shed.view.notice.text()
    assert opened == ["tags.pdf"]
