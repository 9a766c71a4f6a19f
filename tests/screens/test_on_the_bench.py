"""What stopped half way stays in sight, with what is off or open, and prints as a tag."""

from __future__ import annotations

import io
from contextlib import closing
from dataclasses import replace

import pypdfium2
from PySide6.QtCore import Qt

from app.season.bench_paper import bench_pdf
from models.acts.faults import NoteFault
from models.acts.runs import AnswerStep, BeginRun, FinishRun, LeaveRun, RunMachine, StepGiven
from models.acts.searches import BeginSearch, NoteStep, PauseSearch
from models.changes import Area, Changes
from models.words import Paper, SearchDoing
from models.writer import Act
from schedules.facts import MachineId
from schedules.sitting_facts import RunSort
from tests.screens.conftest import Shed
from tests.screens.test_season_room import bring


def perform(shed: Shed, *acts: Act) -> list[Changes]:
    hub = shed.rooms._hub
    assert hub is not None
    made: list[Changes] = []
    for act in acts:
        outcome = hub.perform(act)
        assert isinstance(outcome, Changes), outcome
        made.append(outcome)
    return made


def oil_out(shed: Shed, number: int) -> None:
    """Its oil is out, and the filter has to come first."""
    hub = shed.rooms._hub
    assert hub is not None
    today = hub.moment().today
    steps = (
        StepGiven(code="P-53", machine_ids=(number,), leaves=("oil-out",)),
        StepGiven(code="P-58", machine_ids=(number,)),
    )
    machines = (RunMachine(machine_id=number),)
    sort = RunSort.PUTTING_AWAY
    perform(
        shed,
        BeginRun(sort=sort, day=today, machines=machines, steps=steps),
        AnswerStep(run_id=1, place=0, day=today),
        LeaveRun(run_id=1, day=today, waits_for="an oil filter"),
    )


def printed(shed: Shed, number: int) -> str:
    services, hub = shed.rooms._services, shed.rooms._hub
    assert services is not None
    assert hub is not None
    only = frozenset({MachineId(number)})
    pdf = bench_pdf(services, paper=Paper.A4, only=only, moment=hub.moment())
    if pdf is None:
        return ""
    with closing(pypdfium2.PdfDocument(io.BytesIO(pdf))) as document:
        pages = [document[place].get_textpage().get_text_range() for place in range(len(document))]
    return " ".join(" ".join(pages).split())


def lines(shed: Shed) -> dict[str, str]:
    shed.bot.waitUntil(lambda: bool(shed.view.machines.rows))
    return {one.name: one.ground_text for one in shed.view.machines.rows}


def test_a_list_that_waits_is_in_sight_everywhere_and_prints(shed: Shed) -> None:
    red, blue = bring(shed, "K02", "Red one"), bring(shed, "K02", "Blue one")
    oil_out(shed, red)
    shed.bot.waitUntil(lambda: "an oil filter" in lines(shed).get("Red one", ""))
    said = lines(shed)
    assert "NO OIL in it" in said["Red one"]
    assert "bench" not in said["Blue one"].lower()
    shed.view.machine_table.selectRow(
        [row.name for row in shed.view.machines.rows].index("Red one")
    )
    waiting = shed.room.waiting.text()
    assert "waiting for: an oil filter" in waiting
    assert "NO OIL in it" in waiting
    tag = printed(shed, red)
    for words in ("waiting for: an oil filter", "NO OIL in it", "New oil filter on"):
        assert words in tag
    assert not printed(shed, blue)


def test_the_room_prints_it_while_something_is_off(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    oil_out(shed, red)
    shed.window.actions_by_name["season"].trigger()
    doors = shed.rooms._doors
    assert doors is not None
    assert doors._season is not None
    view = doors._season.view
    if view.run_buttons:
        view.run_buttons[0].click()
    asked: list[str] = []
    doors._season.controller.paperWanted.disconnect()
    doors._season.controller.paperWanted.connect(asked.append)
    shed.bot.mouseClick(view.buttons["tag"], Qt.MouseButton.LeftButton)
    assert asked == ["bench"]


def test_a_search_that_waits_names_what_came_off_the_last_first(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    hub = shed.rooms._hub
    assert hub is not None
    today = hub.moment().today
    fault = NoteFault(machine_id=red, text="dead", since_on=today)
    fault_id = next(n for area, n in perform(shed, fault)[0].ids if area is Area.FAULTS)
    begun = BeginSearch(machine_id=red, symptom="S1F", on=today, fault_id=fault_id)
    search = next(n for area, n in perform(shed, begun)[0].ids if area is Area.SEARCHES)
    note = NoteStep(search_id=search, doing=SearchDoing.LEFT_OFF, on=today, text="cover, 4 bolts")
    last = replace(note, text="carburettor, spring in hole 2")
    perform(shed, note, last, PauseSearch(search_id=search, on=today, waits_for="a gasket"))
    tag = printed(shed, red)
    assert tag.index("spring in hole 2") < tag.index("cover, 4 bolts")
    assert "waiting for: a gasket" in tag


def test_what_was_left_off_an_awake_machine_is_in_sight_without_a_list(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    oil_out(shed, red)
    hub = shed.rooms._hub
    assert hub is not None
    today = hub.moment().today
    perform(shed, AnswerStep(run_id=1, place=1, day=today))
    perform(shed, FinishRun(run_id=1, day=today))
    assert not printed(shed, red)  # put away: that is what the other tag is for
    wake = BeginRun(
        sort=RunSort.GETTING_OUT,
        day=today,
        machines=(RunMachine(machine_id=red),),
        steps=(StepGiven(code="G-01", machine_ids=(red,)),),
    )
    perform(shed, wake, AnswerStep(run_id=2, place=0, day=today), FinishRun(run_id=2, day=today))
    assert "NO OIL in it" in printed(shed, red)
    shed.bot.waitUntil(lambda: "NO OIL in it" in lines(shed)["Red one"])


def test_a_search_that_was_left_is_found_again_from_the_list_and_the_machine(shed: Shed) -> None:
    red, blue = bring(shed, "K02", "Red one"), bring(shed, "K02", "Blue one")
    hub = shed.rooms._hub
    assert hub is not None
    today = hub.moment().today
    perform(
        shed, BeginSearch(machine_id=red, symptom="S1F", on=today, text="will not start at all")
    )
    shed.bot.waitUntil(lambda: lines(shed).get("Red one") == "Search begun: will not start at all")
    table, strip = shed.view.machine_table, shed.view.strip
    names = [row.name for row in shed.view.machines.rows]
    table.selectRow(names.index("Blue one"))
    assert strip.go_on.isHidden()
    assert shed.room.go_on_button.isHidden()
    table.selectRow(names.index("Red one"))
    assert not strip.go_on.isHidden()
    assert strip.go_on.text() == "Go on with the search"
    room = shed.room
    assert "Search begun: will not start at all" in room.waiting.text()
    assert "put off" not in room.standing.text()
    assert not room.go_on_button.isHidden()
    shed.bot.mouseClick(strip.go_on, Qt.MouseButton.LeftButton)
    doors = shed.rooms._doors
    assert doors is not None
    assert doors._faults is not None
    assert shed.window.rooms.currentWidget() is doors._faults.view
    assert doors._faults.controller.search is not None
    assert doors._faults.controller.number == red
    assert blue != red


def test_a_list_that_was_begun_is_gone_on_with_from_the_list_and_the_machine(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    oil_out(shed, red)
    shed.bot.waitUntil(lambda: "an oil filter" in lines(shed).get("Red one", ""))
    shed.view.machine_table.selectRow(0)
    assert shed.view.strip.go_on.text() == "Go on putting away"
    shed.window.actions_by_name["machine"].trigger()
    room = shed.window.machine_view
    assert room.go_on_button.text() == "Go on putting away"
    shed.bot.mouseClick(room.go_on_button, Qt.MouseButton.LeftButton)
    doors = shed.rooms._doors
    assert doors is not None
    assert doors._season is not None
    assert shed.window.rooms.currentWidget() is doors._season.view
    assert doors._season.controller._run_id == 1
