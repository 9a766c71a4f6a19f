"""A storage sheet comes back: four digits, the whole of it ticked, exceptions, one step to undo."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QListWidget, QWidget

from app.pieces.form import Form
from app.pieces.ticked import TickedRow
from app.printing import print_sheet
from app.season.sheet_lines import run_of
from app.season.view import SeasonView
from models.acts.sheets import PrintSheet, sheet_of
from models.changes import Changes
from models.facts.fleet import read_fleet
from models.facts.runs import RunFacts, RunMachineFacts, read_left_off, read_runs
from models.words import Paper, SheetSort, StepAnswer
from schedules.facts import MachineId
from schedules.sitting_facts import FuelRoute, RunSort
from tests.screens.conftest import Shed, put
from tests.screens.test_season_room import (
    CATALOGUE,
    asked,
    asleep_on_old_fuel,
    bring,
    in_tank,
    lay,
    pick_way,
    season,
)


def printed(shed: Shed, *machines: int) -> int:
    """A storage sheet of these machines; its four digits."""
    hub, services = shed.rooms._hub, shed.rooms._services
    assert hub is not None
    assert services is not None

    def perform(act: PrintSheet) -> Changes:
        outcome = hub.perform(act)
        assert isinstance(outcome, Changes)
        return outcome

    page = print_sheet(
        services,
        SheetSort.STORAGE,
        paper=Paper.A4,
        only=frozenset(MachineId(number) for number in machines),
        moment=hub.moment(),
        perform=perform,
    )
    assert page is not None
    return int(next(iter(page.numbers.values())))


def sheet_form(shed: Shed, number: int) -> tuple[SeasonView, Form]:
    """Type the digits where every sheet is entered."""
    shed.act("enter_sheet")
    shed.fill(number=str(number))
    shed.bot.mouseClick(shed.form.done_button, Qt.MouseButton.LeftButton)
    view = shed.window.rooms.currentWidget()
    assert isinstance(view, SeasonView)
    assert view.form is not None, view.notice.text()
    return view, view.form


def keep(shed: Shed, view: SeasonView) -> str:
    form = view.form
    assert form is not None
    shed.bot.mouseClick(form.done_button, Qt.MouseButton.LeftButton)
    if view.form is None:
        return ""
    return " ".join(label.text() for label in (*form._refusals.values(), form._notice))


def fields(form: Form, start: str) -> list[QWidget]:
    names = [field.name for field in form.page.fields if field.name.startswith(start)]
    return [form.widget(name) for name in names]


def state(shed: Shed):
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        runs = read_runs(session, finished=True)
        facts = read_fleet(session, on=hub.moment().today, catalogue=CATALOGUE)
        left = {str(one.code) for one in read_left_off(session)}
    return runs, facts, left


def entered(shed: Shed, number: int) -> bool:
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        return sheet_of(session, number).entered_on is not None


def test_the_whole_sheet_is_one_step_and_puts_the_machine_away(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    number = printed(shed, red)
    before = state(shed)
    view, form = sheet_form(shed, number)
    put(shed.bot, form.widget("minutes"), "150")
    figure = next(
        one
        for field in form.page.fields
        if "S2-06/L20" in field.name
        for one in [form.widget(field.name)]
    )
    assert isinstance(figure, QLineEdit)
    figure.setText("2 mm")
    put(shed.bot, form.widget("by_whom"), "Ada")
    assert keep(shed, view) == ""
    runs, facts, left = state(shed)
    (run,) = runs
    assert (run.sort, run.remaining) == (RunSort.PUTTING_AWAY, ())
    assert run.finished_on is not None
    assert {step.answered_by for step in run.steps} == {"Ada"}
    assert facts[0].storage[-1].woken_on is None
    assert {"plug-lead", "key-out"} <= left
    assert [one.amount for item in facts[0].items for one in item.readings] == [2000]
    assert entered(shed, number)
    shed.window.actions_by_name["undo"].trigger()
    assert state(shed) == before
    assert not entered(shed, number)


def test_ticks_are_counted_and_ctrl_enter_keeps_them_from_any_field(shed: Shed) -> None:
    number = printed(shed, bring(shed, "K02", "Red one"))
    view, form = sheet_form(shed, number)
    row, ticks = form.findChildren(TickedRow)[0], form.widget("done")
    assert isinstance(ticks, QListWidget)
    every = ticks.count()
    assert row.label.text() == f"{every} of {every} ticked"
    row.none_button.click()
    assert row.label.text() == f"0 of {every} ticked"
    ticks.item(0).setCheckState(Qt.CheckState.Checked)
    assert ticks.accessibleDescription() == f"1 of {every} ticked"
    row.all_button.click()
    assert row.label.text() == f"{every} of {every} ticked"
    assert "Ctrl+Enter" in form.done_button.toolTip()
    assert "Ctrl+Enter" in form.done_button.accessibleDescription()
    form.later_button.click()
    note = form.widget("note")
    note.setFocus()
    shed.bot.keyClick(note, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert view.form is not form
    assert entered(shed, number)


def test_a_whole_sheet_asks_what_was_done_with_old_fuel(shed: Shed) -> None:
    red = asleep_on_old_fuel(shed, "Red one")
    view, _form = sheet_form(shed, printed(shed, red))
    assert keep(shed, view) == ""
    asked(shed, view, "Red one")
    pick_way(shed, view, "disposed")
    assert view.form is None
    assert in_tank(shed, red) == 0


def test_what_was_not_done_stays_on_the_list(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    view, form = sheet_form(shed, printed(shed, red))
    field = next(each for each in form.page.fields if each.name == "done")
    ticked = tuple(value for value, _ in field.choices)
    put(shed.bot, form.widget("done"), ticked[:-2])
    put(shed.bot, form.widget("minutes"), "90")
    assert "still open" in keep(shed, view)
    put(shed.bot, form.widget("minutes"), "")
    assert keep(shed, view) == ""
    ((run,), facts, _left) = state(shed)
    assert len(run.remaining) == 2
    assert facts[0].storage == ()
    assert view.card is not None
    assert view.card.place == run.remaining[0].place


def test_a_sheet_older_than_the_data_is_held_against_it_line_by_line(shed: Shed) -> None:
    red, saw = bring(shed, "K02", "Red one"), bring(shed, "K09", "Father's saw")
    view = season(shed)
    lay(shed, view, red, saw)
    number = printed(shed, red, saw)
    for name in ("done", "done", "not_applicable"):
        view.buttons[name].click()
    view, form = sheet_form(shed, number)
    told = form.page.lead.splitlines()[1:]
    assert [line.split()[0] for line in told] == ["1", "2", "3"]
    assert "done on" in told[0]
    assert "does not apply" in told[2]
    assert keep(shed, view) == ""
    ((run,), facts, _left) = state(shed)
    assert run.finished_on is not None
    assert run.steps[2].answer is StepAnswer.NOT_APPLICABLE
    assert all(each.storage for each in facts)


def test_a_fault_and_a_part_come_in_with_the_sheet(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    view, form = sheet_form(shed, printed(shed, red))
    put(shed.bot, form.widget("faults"), ("1",))
    assert "few words" in keep(shed, view)
    put(shed.bot, form.widget("wrong"), "cable frayed")
    parts = next(field for field in form.page.fields if field.name == "parts")
    value = next(value for value, _ in parts.choices if "S2-06" in value)
    put(shed.bot, form.widget("parts"), (value,))
    put(shed.bot, form.widget("faults"), ("1", value.split(" ")[0]))
    figure = next(one.name for one in form.page.fields if "S2-06/L20" in one.name)
    put(shed.bot, form.widget(figure), "2 mm")
    assert keep(shed, view) == ""
    _runs, facts, _left = state(shed)
    assert [fault.text for fault in facts[0].faults] == ["cable frayed", "cable frayed"]
    assert [one.amount for item in facts[0].items for one in item.readings] == [2000]
    done = next(one for item in facts[0].items for one in item.doings if one.code == "S2-06")
    assert done.replaced


def test_a_figure_at_a_step_that_is_not_ticked_is_asked_about(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    view, form = sheet_form(shed, printed(shed, red))
    put(shed.bot, form.widget("done"), ())
    figure = next(one.name for one in form.page.fields if "S2-06/L20" in one.name)
    put(shed.bot, form.widget(figure), "2 mm")
    assert "not ticked" in keep(shed, view)
    put(shed.bot, form.widget(figure), "")
    assert keep(shed, view) == ""


def test_a_sheet_that_was_finished_in_the_window_changes_nothing(shed: Shed) -> None:
    saw = bring(shed, "K09", "Father's saw")
    view = season(shed)
    lay(shed, view, saw)
    number = printed(shed, saw)
    while view.card is not None:
        view.buttons["done"].click()
    view.buttons["finish"].click()
    if view.form is not None:
        keep(shed, view)
    before = state(shed)
    view, form = sheet_form(shed, number)
    assert fields(form, "figure") == []
    assert keep(shed, view) == ""
    assert state(shed) == before
    assert entered(shed, number)


def run_between(run_id: int, begun: date, finished: date | None) -> RunFacts:
    machine = RunMachineFacts(machine_id=MachineId(1), route=FuelRoute.NONE, sleep_last=None)
    return RunFacts(
        run_id=run_id,
        sort=RunSort.PUTTING_AWAY,
        begun_on=begun,
        begun_by="",
        left_on=None,
        waits_for="",
        finished_on=finished,
        note="",
        machines=(machine,),
        steps=(),
        timers=(),
    )


def test_an_old_sheet_is_held_against_its_own_season() -> None:
    runs = (
        run_between(1, date(2023, 11, 1), date(2023, 11, 9)),
        run_between(2, date(2024, 11, 2), date(2024, 11, 5)),
        run_between(3, date(2025, 11, 1), None),
    )

    def found(printed_on: date) -> int | None:
        run = run_of(runs, RunSort.PUTTING_AWAY, [MachineId(1)], printed_on)
        return None if run is None else run.run_id

    assert found(date(2024, 11, 1)) == 2
    assert found(date(2024, 11, 5)) == 2
    assert found(date(2025, 11, 3)) == 3
    assert run_of(runs, RunSort.GETTING_OUT, [MachineId(1)], date(2024, 11, 1)) is None
