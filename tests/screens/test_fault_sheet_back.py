"""A fault sheet printed, worked through outside and entered again by its number."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from app.window import MainWindow
from models.acts.fault_sheets import PrintedStep, steps_of
from models.acts.sheets import SheetLine
from models.words import SearchDoing
from schedules.faults import AdviceKind, plan_of
from tests.screens.conftest import Shed, put
from tests.screens.test_fault_room import answer, begin, door, enter, pass_facts, press, search

LEFT = Qt.MouseButton.LeftButton


def print_it(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> tuple[PrintedStep, ...]:
    """Print the sheet of the search that runs; its steps as the file keeps them."""
    monkeypatch.setattr(MainWindow, "ask_pdf", lambda _window, name: tmp_path / name)
    monkeypatch.setattr("app.handing.QDesktopServices.openUrl", lambda _url: True)
    press(shed, door(shed).view, "print")
    (made,) = tmp_path.glob("*fault sheet*.pdf")
    assert made.stat().st_size > 1000
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        _, steps = steps_of(session, 1000)
    return steps


def test_what_was_ticked_outside_is_one_entry_and_leads_on_in_the_room(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    room = enter(shed)
    begin(shed, room)
    steps = print_it(shed, tmp_path, monkeypatch)
    assert len(steps) >= 3
    assert steps[0].subject == "gate"
    shed.window.actions_by_name["enter_sheet"].trigger()
    form = shed.view.form
    assert form is not None
    put(shed.bot, form.widget("number"), "1000")
    shed.bot.mouseClick(form.done_button, LEFT)
    form = shed.view.form
    assert form is not None
    assert form.page.key == "fault_sheet"
    put(shed.bot, form.widget("step-0"), "ok")
    put(shed.bot, form.widget("step-1"), "odd")
    put(shed.bot, form.widget("left_off"), "air box, two screws\ngovernor spring, second hole")
    shed.bot.mouseClick(form.done_button, LEFT)
    assert shed.window.rooms.currentWidget() is room
    standing = search(shed).standing
    assert [(one.subject, one.answer) for one in standing if one.doing is SearchDoing.TESTED] == [
        ("gate", "ok"),
        (steps[1].subject, "odd"),
    ]
    assert room.shown is not None
    assert [one.text for one in room.shown.left_off] == [
        "governor spring, second hole",
        "air box, two screws",
    ]
    hub = shed.rooms._hub
    assert hub is not None
    hub.undo()
    assert search(shed).standing == ()


def test_paper_begins_with_the_step_that_stands_on_screen(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    room = enter(shed)
    begin(shed, room)
    answer(shed, room, "ok")
    controller = door(shed).controller
    picture, doing, now = controller._picture, controller.search, room.shown
    assert picture is not None
    assert doing is not None
    assert now is not None
    assert now.card is not None
    model, standing = controller._model(), controller._state()
    assert standing is not None
    # whoever looks further ahead may have chosen any other
    other = next(one for one in now.suspects if one.code not in (now.card.cause, "OT"))
    plan = plan_of(model, standing, cause=other.code)
    advice = picture.advice(doing, model, standing, plan)
    assert advice.kind is AdviceKind.CURE
    controller._advice = advice
    room.show_state(picture.searching(doing, model, advice, can_write=True, ahead=True))
    steps = print_it(shed, tmp_path, monkeypatch)
    assert steps[0].subject == other.code
    assert steps[0].place == 0


def test_a_sheet_is_entered_once_and_nothing_ticked_is_asked_for(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    begin(shed, enter(shed))
    print_it(shed, tmp_path, monkeypatch)

    def open_it() -> None:
        shed.window.actions_by_name["enter_sheet"].trigger()
        assert shed.view.form is not None
        put(shed.bot, shed.view.form.widget("number"), "1000")
        shed.bot.mouseClick(shed.view.form.done_button, LEFT)

    open_it()
    form = shed.view.form
    assert form is not None
    shed.bot.mouseClick(form.done_button, LEFT)
    assert shed.view.form is form
    assert search(shed).standing == ()
    put(shed.bot, form.widget("step-0"), "ok")
    shed.bot.mouseClick(form.done_button, LEFT)
    open_it()
    assert shed.view.form is not None
    assert shed.view.form.page.key == "sheet"


def test_a_cure_that_helped_is_still_to_be_said_when_the_form_was_left(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    for _ in range(30):
        assert room.shown is not None
        card = room.shown.card
        assert card is not None
        if card.kind is AdviceKind.CURE:
            answer(shed, room, "helped")
            break
        press(shed, room, "cannot")
        pass_facts(shed, room)
    assert room.form is not None
    shed.bot.mouseClick(room.form.cancel_button, LEFT)
    shed.bot.wait(1)
    assert room.form is not None
    assert room.form.page.key == "fuel_done", "new fuel was the cure"
    shed.bot.mouseClick(room.form.cancel_button, LEFT)
    shed.bot.wait(1)
    assert room.shown is not None
    assert room.shown.card is not None
    assert room.shown.card.kind is AdviceKind.WORKS
    press(shed, room, "still_not")
    assert [one.doing for one in search(shed).standing][-1] is SearchDoing.TRIED
    assert room.shown.card is not None
    assert room.shown.card.kind is not AdviceKind.WORKS


def test_a_step_is_kept_as_a_line_and_read_from_it():
    step = PrintedStep(
        machine_id=1, number="3", title="Spark [at the gap]", symptom="S1F", subject="F4", place=1
    )
    assert step.line() == SheetLine(machine_id=1, text="3 Spark [at the gap] [S1F F4/1]")


def test_the_menu_prints_a_search_or_says_that_none_runs_and_five_looks_without_a_machine(
    shed: Shed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    enter(shed)
    monkeypatch.setattr(MainWindow, "ask_pdf", lambda _window, name: tmp_path / name)
    monkeypatch.setattr("app.handing.QDesktopServices.openUrl", lambda _url: True)
    shed.window.actions_by_name["fault_paper"].trigger()
    assert not list(tmp_path.glob("*.pdf"))
    assert "Something is wrong" in shed.view.notice.text()
    shed.window.actions_by_name["looks"].trigger()
    assert (tmp_path / "looks.pdf").stat().st_size > 1000
