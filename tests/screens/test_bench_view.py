"""The bench view: one step, full screen, answered by three targets; figures typed at the step."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel, QLineEdit

from app.pieces.caution import CautionPanel
from app.pieces.tiles import Picks, Tiles
from app.season.bench import KEYS, BenchView
from app.season.view import SeasonView
from models.facts.fleet import read_fleet
from models.facts.runs import read_runs
from models.words import StepAnswer
from schedules.facts import Phase, Policy
from schedules.plan import judge
from tests.screens.conftest import Shed
from tests.screens.test_season_room import CATALOGUE, bring, lay, season

FIGURES = "0123456789.,-/ "
TASK, LIMIT = "S2-06", "L20"


def at_the_bench(shed: Shed, kind: str = "K02") -> tuple[SeasonView, BenchView, int]:
    """A list laid down, shown on the bench."""
    number = bring(shed, kind, "Red one")
    view = season(shed)
    lay(shed, view, number)
    view.buttons["bench"].click()
    windows = QGuiApplication.topLevelWindows()
    assert any(window.objectName().startswith("bench") for window in windows)
    doors = shed.rooms._doors
    assert doors is not None
    assert doors._season is not None
    return view, doors._season.controller.bench.view, number


def facts(shed: Shed):
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        return read_fleet(session, on=hub.moment().today, catalogue=CATALOGUE)[0]


def run(shed: Shed):
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        return read_runs(session)[0]


def till(bench: BenchView, key: str) -> None:
    """Tick until a step asks for that figure."""
    for _ in range(100):
        if bench.figures is not None and any(key in name for name in bench.figures.fields):
            return
        bench.buttons["done"].click()
    raise AssertionError(key)


def above(bench: BenchView, panels: list[CautionPanel], name: QLabel) -> bool:
    """Whether every panel ends above where the step begins, as it is laid out."""
    start = name.mapTo(bench, name.rect().topLeft()).y()
    ends = [panel.mapTo(bench, panel.rect().bottomLeft()).y() for panel in panels]
    return all(end < start for end in ends)


def test_one_step_large_with_its_cautions_before_it(shed: Shed) -> None:
    _view, bench, _ = at_the_bench(shed, "K09")
    assert bench.isFullScreen()
    for _ in range(100):
        card = bench.card
        if card is None:
            break
        labels = bench.findChildren(QLabel)
        name = next(one for one in labels if one.text() == card.name)
        panels = bench.findChildren(CautionPanel)
        assert len(panels) == len(card.cautions), card.name
        shed.bot.waitUntil(lambda at=(panels, name): above(bench, *at))
        bench.buttons["done"].click()
    assert bench.card is None
    bench.buttons["done"].click()
    assert not bench.isVisible()


def test_its_keys_are_never_part_of_a_figure(shed: Shed) -> None:
    _view, bench, _ = at_the_bench(shed)
    assert len(bench.buttons) == 3
    for name, key in KEYS.items():
        assert bench.buttons[name].shortcut().toString() == key
    till(bench, LIMIT)
    assert bench.figures is not None
    box = next(one for key, one in bench.figures.fields.items() if LIMIT in key)
    assert isinstance(box, QLineEdit)
    place = bench.card.place if bench.card else -1
    box.setFocus()
    shed.bot.keyClicks(box, FIGURES)
    assert box.text() == FIGURES
    assert bench.form is None
    assert bench.card is not None
    assert bench.card.place == place


def test_a_figure_is_written_with_the_tick_and_what_is_worn_is_to_be_bought(shed: Shed) -> None:
    _view, bench, _ = at_the_bench(shed)
    till(bench, LIMIT)
    assert bench.figures is not None
    box = next(one for key, one in bench.figures.fields.items() if LIMIT in key)
    assert isinstance(box, QLineEdit)
    place = bench.card.place if bench.card else -1
    box.setText("many")
    bench.buttons["done"].click()
    assert bench.card is not None
    assert bench.card.place == place
    assert not run(shed).steps[place].answer
    box.setText("0 mm")
    box.setFocus()
    bench.buttons["done"].click()
    assert not bench.notice.text()
    assert run(shed).steps[place].answer is StepAnswer.DONE
    found = facts(shed)
    reading = next(one for item in found.items for one in item.readings if one.limit == LIMIT)
    assert reading.amount == 0
    hub = shed.rooms._hub
    assert hub is not None
    on = hub.moment().today
    verdict = judge(found, on=on, policy=Policy(), limits=CATALOGUE.limits).verdict
    assert next(one for one in verdict.tasks if one.code == TASK).replacement
    shed.window.actions_by_name["undo"].trigger()
    assert not any(item.readings for item in facts(shed).items)
    assert run(shed).steps[place].answer is None


def test_not_now_takes_one_press(shed: Shed) -> None:
    _view, bench, _ = at_the_bench(shed)
    bench.buttons["bench_cannot"].click()
    form = bench.form
    assert form is not None
    picks = form.widget("way")
    assert isinstance(picks, Picks)
    next(one for one in picks.buttons if one.property("value") == "weather").click()
    assert bench.form is None
    step = run(shed).steps[0]
    assert (step.answer, step.why) == (StepAnswer.CANNOT, "It is too cold, too wet or too dark")
    bench.buttons["bench_cannot"].click()
    assert bench.form is not None
    picks = bench.form.widget("way")
    assert isinstance(picks, Picks)
    picks.buttons[-1].click()
    assert run(shed).steps[1].answer is StepAnswer.NOT_APPLICABLE


def test_a_fault_found_is_work_for_the_off_season(shed: Shed) -> None:
    _view, bench, _ = at_the_bench(shed)
    bench.buttons["fault"].click()
    assert bench.form is not None
    wrong, part = bench.form.widget("text"), bench.form.widget("part")
    assert isinstance(wrong, QLineEdit)
    assert isinstance(part, QLineEdit)
    wrong.setText("cable frayed")
    part.setText("auger cable")
    shed.bot.mouseClick(bench.form.done_button, Qt.MouseButton.LeftButton)
    found = facts(shed)
    assert [fault.text for fault in found.faults] == ["cable frayed"]
    (job,) = found.jobs
    assert (job.text, job.phase, job.part) == ("cable frayed", Phase.OFF, "auger cable")


def test_what_is_seen_is_answered_by_a_tile(shed: Shed) -> None:
    _view, bench, _ = at_the_bench(shed, "K09")
    till(bench, "L40")
    assert bench.figures is not None
    box = next(one for key, one in bench.figures.fields.items() if "L40" in key)
    assert isinstance(box, Tiles)
    box.choose("yes")
    bench.buttons["done"].click()
    seen = [one for item in facts(shed).items for one in item.readings if one.limit == "L40"]
    assert [one.seen for one in seen] == [True]


def test_the_room_goes_on_where_the_bench_was_left(shed: Shed) -> None:
    view, bench, _ = at_the_bench(shed)
    for _ in range(3):
        bench.buttons["done"].click()
    shed.bot.keyClick(bench, Qt.Key.Key_Escape)
    assert not bench.isVisible()
    assert view.card == bench.card
