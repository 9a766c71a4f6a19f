"""The season room: machines chosen, put away and got out again, by hands and by keys alone."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from app.pieces.caution import CautionPanel
from app.pieces.tiles import Picks
from app.season.parts import parts_of_runs
from app.season.view import SeasonView
from app.wording.sittings import SittingWords
from models.acts.answers import AnswerFeatures
from models.acts.fuel import Fill
from models.acts.machines import AddMachine
from models.acts.storage import PutAway
from models.changes import Changes
from models.facts.fleet import read_fleet
from models.facts.runs import read_left_off, read_runs
from models.words import StepAnswer
from resources.loader import load_catalogue
from resources.storage import load_sitting_rules
from schedules.facts import FeatureCode, FuelSort, KindCode, Phase, Policy, TaskState, VesselSort
from schedules.plan import judge
from schedules.sitting_facts import StepCode
from tests.screens.conftest import Shed, put

CATALOGUE = load_catalogue()
BUILT = (("fuel-valve", "yes"), ("bowl-drain", "unreachable"), ("oil-drain", "plug"))


def season(shed: Shed) -> SeasonView:
    """Go into the room by its key."""
    shed.window.actions_by_name["season"].trigger()
    view = shed.window.rooms.currentWidget()
    assert isinstance(view, SeasonView)
    return view


def bring(shed: Shed, kind: str, name: str) -> int:
    """A machine that came two years ago."""
    hub = shed.rooms._hub
    assert hub is not None
    came = date(hub.moment().today.year - 2, 1, 5)
    changes = hub.perform(AddMachine(name=name, kind=kind, place_id=1, came_on=came))
    assert isinstance(changes, Changes)
    number = next(i for area, i in changes.ids if area == "machines")
    known = CATALOGUE.kinds[KindCode(kind)].features
    given = tuple(pair for pair in BUILT if FeatureCode(pair[0]) in known)
    if given:
        hub.perform(AnswerFeatures(machine_id=number, answers=given))
    return number


def asleep_on_old_fuel(shed: Shed, name: str) -> int:
    """A thrower that was put away on a litre of petrol, and sleeps since."""
    number, hub = bring(shed, "K02", name), shed.rooms._hub
    assert hub is not None
    on = date(hub.moment().today.year - 1, 4, 10)
    with hub.read() as session:
        fleet = read_fleet(session, on=on, catalogue=CATALOGUE)
    vessels = next(one.vessels for one in fleet if one.machine_id == number)
    tank = next(int(one.vessel_id) for one in vessels if one.sort is VesselSort.TANK)
    fill = Fill(vessel_id=tank, day=on, sort=FuelSort.E10, volume_ul=1_000_000)
    for act in (fill, PutAway(machine_id=number, on=on)):
        assert isinstance(hub.perform(act), Changes)
    return number


def asked(shed: Shed, view: SeasonView, machine: str) -> None:
    """The room asks what was done with that machine's fuel."""
    shed.bot.waitUntil(lambda: view.form is not None)
    assert view.form is not None
    assert view.form.page.key == "fuel_done"
    assert f"the tank of {machine}, and it is old" in view.form.page.lead


def pick_way(shed: Shed, view: SeasonView, way: str) -> None:
    assert view.form is not None
    picks = view.form.widget("way")
    assert isinstance(picks, Picks)
    button = next(each for each in picks.buttons if each.property("value") == way)
    shed.bot.mouseClick(button, Qt.MouseButton.LeftButton)


def in_tank(shed: Shed, number: int) -> int:
    """What that machine's tank holds, in microlitres."""
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        fleet = read_fleet(session, on=hub.moment().today, catalogue=CATALOGUE)
    vessels = next(one.vessels for one in fleet if one.machine_id == number)
    return sum(lot.volume_ul for vessel in vessels for lot in vessel.lots)


def lay(shed: Shed, view: SeasonView, *numbers: int) -> None:
    """Tick these machines and lay the list down; what is asked stays open."""
    for number in numbers:
        tick = view.choices[number].tick
        if not tick.isChecked():
            tick.click()
    view.lay_button.click()
    if view.form is not None:
        shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    assert view.shown is not None
    assert view.shown.card is not None, view.shown.notice


def through(view: SeasonView) -> list[str]:
    """Tick every step; their names."""
    names: list[str] = []
    while view.shown is not None and view.shown.card is not None:
        names.append(view.shown.card.name)
        view.buttons["done"].click()
        assert len(names) < 200
    return names


def finish(shed: Shed, view: SeasonView) -> None:
    view.buttons["finish"].click()
    if view.form is not None:
        shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    assert view.shown is not None
    assert view.shown.finished, view.notice.text()


def test_an_empty_shed_says_so(shed: Shed) -> None:
    view = season(shed)
    assert view.empty.text() == "Every machine is put away."
    assert not view.lay_button.isEnabled()


def test_a_machine_is_put_away_and_got_out_again(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    view = season(shed)
    lay(shed, view, red)
    through(view)
    finish(shed, view)
    hub = shed.rooms._hub
    assert hub is not None
    on = hub.moment().today
    with hub.read() as session:
        facts = read_fleet(session, on=on, catalogue=CATALOGUE)[0]
        off = {str(one.code) for one in read_left_off(session)}
    assert facts.storage[-1].woken_on is None
    assert "plug-lead" in off
    assert view.buttons["tag"].isVisible()
    view = season(shed)
    assert view.sorts.value() == "getting_out"
    lay(shed, view, red)
    names = through(view)
    assert "Read the tag" in names[0]
    finish(shed, view)
    with hub.read() as session:
        assert read_left_off(session) == ()
        assert read_fleet(session, on=on, catalogue=CATALOGUE)[0].storage[-1].woken_on == on


def test_a_list_that_saw_to_old_fuel_asks_what_was_done_with_it(shed: Shed) -> None:
    red, green = asleep_on_old_fuel(shed, "Red one"), asleep_on_old_fuel(shed, "Green one")
    view = season(shed)
    put(shed.bot, view.sorts, "getting_out")
    lay(shed, view, red, green)
    assert "Smell the fuel, look at it in a jar" in " ".join(through(view))
    finish(shed, view)
    asked(shed, view, "Red one")
    assert view.form is not None
    shed.bot.mouseClick(view.form.cancel_button, Qt.MouseButton.LeftButton)
    asked(shed, view, "Green one")
    pick_way(shed, view, "refill")
    assert view.form is not None
    put(shed.bot, view.form.widget("volume"), "2 L")
    shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    assert view.form is None, view.form.page.key
    assert (in_tank(shed, red), in_tank(shed, green)) == (1_000_000, 2_000_000)
    shed.window.actions_by_name["undo"].trigger()
    assert in_tank(shed, green) == 1_000_000, "emptied and filled are one step"


def test_it_goes_on_at_the_step_it_was_left_at(shed: Shed) -> None:
    red, saw = bring(shed, "K02", "Red one"), bring(shed, "K09", "Father's saw")
    view = season(shed)
    lay(shed, view, red, saw)
    for _ in range(4):
        view.buttons["done"].click()
    assert view.shown is not None
    before = view.shown.card
    shed.rooms.open(shed.path)  # closed and opened again
    view = season(shed)
    if view.run_buttons:
        view.run_buttons[0].click()
    assert view.shown is not None
    assert view.shown.card == before


def test_not_now_wants_a_reason_and_becomes_a_job(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    view = season(shed)
    lay(shed, view, red)
    view.buttons["cannot"].click()
    assert view.form is not None
    shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    assert "why" in view.form._refusals["why"].text()
    put(shed.bot, view.form.widget("why"), "no grease")
    shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        run = read_runs(session)[0]
        jobs = read_fleet(session, on=hub.moment().today, catalogue=CATALOGUE)[0].jobs
    assert run.steps[0].answer is StepAnswer.CANNOT
    assert [job.waits_for for job in jobs] == ["no grease"]


def test_by_keys_alone(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    view = season(shed)
    shed.window.activateWindow()
    view.focus_first()
    tick = view.choices[red].tick
    if not tick.isChecked():
        shed.bot.keyClick(tick, Qt.Key.Key_Space)
    shed.bot.keyClick(view.lay_button, Qt.Key.Key_Return)
    if view.form is not None:
        shed.bot.keyClick(view.form, Qt.Key.Key_Return)
    assert view.shown is not None
    assert view.shown.card is not None
    shed.bot.keyClick(view.buttons["done"], Qt.Key.Key_Return)
    assert view.shown.card.place == 1
    shed.bot.keyClick(view, Qt.Key.Key_Escape)
    assert shed.window.rooms.currentWidget() is shed.view


def test_tab_goes_from_the_machines_to_the_list(shed: Shed) -> None:
    red = bring(shed, "K02", "Red one")
    view = season(shed)
    shed.window.activateWindow()
    if not view.choices[red].tick.isChecked():
        view.choices[red].tick.click()
    boxes = view.choices[red].choices
    shed.bot.waitUntil(lambda: all(box.isVisible() for box in boxes.values()))
    view.focus_first()
    seen: list[object] = []
    for _ in range(8):
        shed.bot.keyClick(shed.window, Qt.Key.Key_Tab)
        seen.append(shed.window.focusWidget())
        if seen[-1] is view.lay_button:
            break
    assert seen[-1] is view.lay_button
    assert set(boxes.values()) < set(seen)


def test_what_is_off_is_never_out_of_sight(shed: Shed) -> None:
    red = bring(shed, "K09", "Father's saw")
    shed.window.resize(1000, 800)  # as narrow as large letters make it
    view = season(shed)
    lay(shed, view, red)
    while view.shown is not None and not view.shown.loose:
        view.buttons["done"].click()
    assert view.strip.isVisible()
    assert "plug lead OFF" in view.strip.text()


def test_each_step_that_can_hurt_shows_its_caution_first(shed: Shed) -> None:
    services = shed.rooms._services
    assert services is not None
    steps = [step for step in load_sitting_rules().steps if step.touches]
    tasks = [task for task in CATALOGUE.tasks.values() if task.cautions]
    said = SittingWords(words=services.wording, rules=load_sitting_rules())
    assert len(steps) > 50
    wanted = [(str(step.code), step.cautions) for step in steps]
    wanted += [(str(task.code), task.cautions) for task in tasks]
    for code, cautions in wanted:
        found = said.step(StepCode(code))
        assert found is not None, code
        texts = [one.text for one in found.cautions]
        for caution in cautions:
            assert CATALOGUE.cautions[caution].text in texts, code
    saw = bring(shed, "K09", "Father's saw")
    view = season(shed)
    lay(shed, view, saw)
    while view.shown is not None and view.shown.card is not None:
        card, column = view.shown.card, view.card_column
        items = [column.itemAt(i) for i in range(column.count())]
        here = [None if item is None else item.widget() for item in items]
        panels = [at for at, one in enumerate(here) if isinstance(one, CautionPanel)]
        words = [
            at for at, one in enumerate(here) if isinstance(one, QLabel) and one.text() == card.name
        ]
        assert len(panels) == len(card.cautions), card.name
        assert all(panel < words[0] for panel in panels), card.name
        view.buttons["done"].click()


def test_a_first_going_over_leaves_its_jobs_and_sets_the_plan(shed: Shed) -> None:
    hub = shed.rooms._hub
    assert hub is not None
    on = hub.moment().today
    changes = hub.perform(AddMachine(name="Stray", kind="K04", place_id=1, came_on=on))
    assert isinstance(changes, Changes)
    number = next(i for area, i in changes.ids if area == "machines")
    view = season(shed)
    view.sorts.choose("going_over")
    tick = view.choices[number].tick
    if not tick.isChecked():
        tick.click()
    view.lay_button.click()
    assert view.form is not None
    put(shed.bot, view.form.widget("passed"), (f"{number}/E4-08",))
    shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    if view.form is not None:
        shed.bot.mouseClick(view.form.done_button, Qt.MouseButton.LeftButton)
    with hub.read() as session:
        jobs = read_fleet(session, on=on, catalogue=CATALOGUE)[0].jobs
        runs = read_runs(session)
    listed = parts_of_runs(runs, CATALOGUE)
    assert "engine-oil" in {one.item.part for one in listed}
    assert {one.machine_id for one in listed} == {number}
    bought, waits = jobs
    assert "engine oil" in bought.text
    assert bought.due_on == on
    assert waits.phase is Phase.OFF
    through(view)
    with hub.read() as session:
        assert not parts_of_runs(read_runs(session), CATALOGUE)
    finish(shed, view)
    with hub.read() as session:
        facts = read_fleet(session, on=on, catalogue=CATALOGUE)[0]
    assert [job.at_seconds for job in facts.jobs[2:]] == [3600, 18_000, 90_000]
    (passed,) = [one for item in facts.items for one in item.doings if one.code == "E4-08"]
    assert passed.day == on
    verdict = judge(facts, on=on, policy=Policy(), limits=CATALOGUE.limits).verdict
    state = next(one.state for one in verdict.tasks if one.code == "E4-08")
    assert state is TaskState.CLEAR
