"""A first start that fails leads straight into the search for the fault, with what is known."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from app.faults.view import FaultView
from app.pieces.form import Form
from app.pieces.tiles import Tiles
from app.season.started import complaints
from app.season.view import SeasonView
from models.acts.runs import BeginRun, RunMachine, StepGiven
from models.acts.storage import PutAway
from models.changes import Changes
from models.facts.fleet import read_fleet
from models.facts.searches import read_searches
from models.words import SearchDoing
from schedules.facts import Policy
from schedules.plan import judge
from schedules.sitting_facts import RunSort, StepCode
from tests.screens.conftest import Shed
from tests.screens.test_season_room import CATALOGUE, bring, season


def at_the_start(shed: Shed, kind: str, *codes: str, slept: int = 200) -> tuple[SeasonView, int]:
    """A machine that slept so long, its list ticked up to the last step but one."""
    number = bring(shed, kind, "Red one")
    hub = shed.rooms._hub
    assert hub is not None
    today = hub.moment().today
    away = PutAway(machine_id=number, on=today - timedelta(days=slept))
    begun = BeginRun(
        sort=RunSort.GETTING_OUT,
        day=today,
        machines=(RunMachine(machine_id=number),),
        steps=tuple(StepGiven(code=code, machine_ids=(number,)) for code in codes),
    )
    for act in (away, begun):
        assert isinstance(hub.perform(act), Changes)
    view = season(shed)
    if view.run_buttons:
        view.run_buttons[0].click()
    for _ in codes[:-2]:
        view.buttons["done"].click()
    return view, number


def fail(shed: Shed, view: SeasonView, words: str = "") -> None:
    view.buttons["fault"].click()
    assert view.form is not None
    box = view.form.widget("text")
    assert isinstance(box, QLineEdit)
    box.setText(words)
    shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)


def asked(shed: Shed) -> Form:
    room = shed.window.rooms.currentWidget()
    assert isinstance(room, FaultView)
    assert room.form is not None
    return room.form


def test_what_is_known_is_filled_in_and_it_is_one_fault(shed: Shed) -> None:
    view, number = at_the_start(shed, "K02", "G-12", "G-20", "G-30", "G-40")
    fail(shed, view, "not a cough")
    form = asked(shed)
    given = form.answers()
    assert given["Q-PARK"] == "dryout"
    assert given["fuel"] == "good"
    assert given["Q-COUGH"] == ""
    shed.bot.mouseClick(form.done_button, Qt.MouseButton.LeftButton)
    hub = shed.rooms._hub
    assert hub is not None
    on = hub.moment().today
    with hub.read() as session:
        (search,) = read_searches(session, on=on, machine_id=number)
        (fault,) = read_fleet(session, on=on, catalogue=CATALOGUE)[0].faults
    assert search.fault_id == fault.fault_id
    seen = {one.subject: one.answer for one in search.steps if one.doing is SearchDoing.SEEN}
    assert seen == {"Q-PARK": "dryout", "fuel": "good"}


def test_the_list_waits_where_the_start_failed(shed: Shed) -> None:
    view, _number = at_the_start(shed, "K09", "G-14", "G-31", "G-40", slept=800)
    fail(shed, view)
    given = asked(shed).answers()
    assert (given["Q-PARK"], given["Q-MIX"]) == ("years", "mix")
    view = season(shed)
    if view.run_buttons:
        view.run_buttons[0].click()
    assert view.card is not None
    assert view.card.name == "Tag off, and a line of how it went"


def test_something_else_stays_a_fault_of_the_step(shed: Shed) -> None:
    view, _number = at_the_start(shed, "K02", "G-30", "G-40")
    view.buttons["fault"].click()
    assert view.form is not None
    tiles = view.form.widget("complaint")
    assert isinstance(tiles, Tiles)
    tiles.choose("")
    shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    assert view.form is not None  # a few words are wanted
    box = view.form.widget("text")
    assert isinstance(box, QLineEdit)
    box.setText("chute rattles")
    shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    assert shed.window.rooms.currentWidget() is view


def test_every_machine_that_is_started_has_something_to_say_of_it(shed: Shed) -> None:
    services = shed.rooms._services
    assert services is not None
    today = date(2026, 11, 1)
    for place, kind in enumerate(("K01", "K05", "K06", "K07", "K10", "K14", "K15")):
        bring(shed, kind, f"no. {place}")
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        fleet = read_fleet(session, on=hub.moment().today, catalogue=CATALOGUE)
    for facts in fleet:
        judging = judge(facts, on=today, policy=Policy(), limits=CATALOGUE.limits)
        step = StepCode("G-32" if facts.kind.fuel == "none" else "G-30")
        assert complaints(step, judging, services.wording), facts.kind.code
        assert not complaints(StepCode("G-40"), judging, services.wording)
