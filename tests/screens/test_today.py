"""One machine to run today: the short list on its leaf, on paper, and ticked off when it sleeps."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QLabel

from app.season.today_leaf import TodayLeaf
from app.season.view import SeasonView
from tests.screens.conftest import Shed
from tests.screens.test_season_room import asleep_on_old_fuel, bring


def open_leaf(shed: Shed, number: int) -> TodayLeaf:
    shed.rooms._show_machine(number)
    shed.window.machine_view.buttons["today"].click()
    leaf = next(one for one in shed.window.findChildren(TodayLeaf) if one.isVisible())
    assert leaf.windowTitle().startswith("Get it going today")
    return leaf


def words_of(leaf: TodayLeaf) -> list[str]:
    return [label.text() for label in leaf.findChildren(QLabel)]


def place_of(words: list[str], said: str) -> int:
    """Where the first that says this stands."""
    return next(place for place, text in enumerate(words) if said in text)


def test_the_list_says_what_is_safe_what_starts_it_and_what_waits(
    shed: Shed, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    number = bring(shed, "K02", "Red one")
    leaf = open_leaf(shed, number)
    words = words_of(leaf)
    order = ("Before it starts", "Start it", "Before it works", "What can wait")
    places = [place_of(words, head) for head in order]
    assert places == sorted(places)
    # Nobody knows whether cables and levers let go: no start before that was looked at.
    assert place_of(words, "Check the cables, levers and interlock") < places[1]
    assert place_of(words, "the auger stops") > places[2]
    assert place_of(words, "Change the engine oil") > places[3]
    assert not leaf.sitting_button.isVisible()  # it does not sleep
    assert not any("Read the tag" in text for text in words)

    monkeypatch.setattr(QDesktopServices, "openUrl", lambda _url: True)
    monkeypatch.setattr(shed.window, "ask_pdf", lambda name: tmp_path / name)
    leaf.print_button.click()
    assert [path.read_bytes()[:5] for path in tmp_path.glob("*Get it going today*.pdf")] == [
        b"%PDF-"
    ]
    leaf.close()


def test_one_that_sleeps_on_old_fuel_is_told_so_and_ticked_off_step_by_step(shed: Shed) -> None:
    leaf = open_leaf(shed, asleep_on_old_fuel(shed, "Old thrower"))
    words = words_of(leaf)
    fuel = words[place_of(words, "Fuel in the tank")]
    assert "before the first pull" in fuel
    assert place_of(words, "Fuel in the tank") < place_of(words, "Before it starts")
    leaf.sitting_button.click()
    room = shed.window.rooms.currentWidget()
    assert isinstance(room, SeasonView)
    assert room.sorts.value() == "getting_out"
    assert room.day_only.isChecked()
