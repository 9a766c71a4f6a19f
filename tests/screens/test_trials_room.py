"""The room of measurements and comparisons: real widgets, from nothing to a verdict."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QTableWidget
from pytestqt.qtbot import QtBot

from app.hub import Hub
from app.pieces.caution import CautionPanel
from app.pieces.form import Form
from app.services import services_of
from app.trials.controller import TrialsController
from app.trials.labels import trials_labels
from app.trials.view import TrialsView
from models.acts.machines import AddMachine
from models.acts.places import AddPlace
from models.acts.readings import Measure, Measured
from models.acts.work import LineGiven, RecordWork
from models.file import Household
from models.moment import Moment
from models.words import LineOutcome
from schedules.facts import Past
from tests.screens.conftest import put

LEFT = Qt.MouseButton.LeftButton
ALIKE = {
    "snow": "packs",
    "depth": "middle",
    "surface": "smooth",
    "wind": "still",
    "chute": "yes",
    "revs": "yes",
}


class Room:
    """The room on one thrower, and hands to work it with."""

    def __init__(self, household: Household, moment: Moment, bot: QtBot) -> None:
        self.bot = bot
        self.hub = Hub(household, lambda: moment)
        self.do(AddPlace(name="Lean-to"))
        self.do(
            AddMachine(
                kind="K02",
                place_id=1,
                name="Red one",
                came_on=date(2023, 4, 1),
                past=Past.NEW,
            )
        )
        services = services_of(household)
        self.view = TrialsView(trials_labels(services.wording), "en_GB")
        bot.addWidget(self.view)
        self.controller = TrialsController(
            hub=self.hub,
            view=self.view,
            words=services.wording,
            catalogue=services.catalogue,
            parent=self.view,
        )
        assert self.controller.show(1)
        self.view.show()

    def do(self, act: object) -> None:
        outcome = self.hub.perform(act)  # type: ignore[arg-type]  # acts of every sort
        assert hasattr(outcome, "ids"), outcome

    @property
    def form(self) -> Form:
        form = self.view.form
        assert form is not None, self.view.notice.text()
        return form

    def answer(self, **answers: object) -> str:
        """Fill the form in and send it; what it refuses, "" when it was kept."""
        for name, value in answers.items():
            put(self.bot, self.form.widget(name), value)
        form = self.form
        self.bot.mouseClick(form.done_button, LEFT)
        if self.view.form is not form:
            return ""
        return " ".join(label.text() for label in form._refusals.values() if label.text())

    def press(self, name: str) -> None:
        self.bot.mouseClick(self.view.buttons[name], LEFT)

    def values(self, name: str, *metres: object) -> str:
        self.press(name)
        return self.answer(**{f"value{n}": value for n, value in enumerate(metres, 1)})


def cell(table: QTableWidget, row: int, column: int) -> str:
    item = table.item(row, column)
    assert item is not None
    return item.text()


@pytest.fixture
def room(household: Household, moment: Moment, qtbot: QtBot) -> Room:
    return Room(household, moment, qtbot)


def begun(room: Room) -> None:
    room.view.show_tab(1)
    room.bot.mouseClick(room.view.begin_button, LEFT)
    assert room.answer(protocol="throw", work="rubber flaps") == ""


def test_nothing_is_claimed_before_anything_is_measured(room: Room):
    assert room.view.courses.count() > 10
    assert "not measured yet" in room.view.courses.item(0).text()
    assert not room.view.plot.isVisible()
    room.view.show_tab(1)
    assert room.view.no_trials.isVisible()


def test_a_measurement_is_drawn_and_stands_in_a_table(room: Room, moment: Moment):
    for day, amount in ((date(2024, 1, 10), 3400), (date(2024, 3, 1), 4000)):
        measured = Measured(task="S2-10", limit="L13", amount=amount)
        room.do(Measure(machine_id=1, day=day, measured=measured))
    room.view.courses.setCurrentRow(0)
    assert room.view.plot.isVisible()
    assert room.view.readings.rowCount() == 2
    assert cell(room.view.readings, 1, 2) == "4\u00a0mm"
    assert "No day yet" in room.view.sentences.text()
    assert room.view.plot.accessibleDescription()


def test_what_is_chosen_is_what_is_measured(room: Room):
    names = [room.view.courses.item(row).text() for row in range(room.view.courses.count())]
    row = next(n for n, name in enumerate(names) if name.startswith("Belt deflection"))
    room.view.courses.setCurrentRow(row)
    room.bot.mouseClick(room.view.measure_button, LEFT)
    assert room.answer(found="4.7 mm") == ""
    assert room.view.courses.item(0).text().startswith("Belt deflection")


def test_a_new_comparison_is_the_one_that_is_meant(room: Room):
    begun(room)
    room.bot.mouseClick(room.view.begin_button, LEFT)
    assert room.answer(protocol="pulls", care="rough") == ""
    assert room.view.trial_name.text() == "Pulls until it starts"
    room.bot.mouseClick(room.view.begin_button, LEFT)
    assert room.answer(protocol="strip") == ""
    assert room.view.trial_name.text() == "Time for a marked strip"


def test_from_a_first_throw_to_a_verdict(room: Room):
    begun(room)
    room.press("set_before")
    assert room.answer(**ALIKE) == ""
    assert "Next: 8 values before" in room.view.next_step.text()
    assert room.values("add_before", "4.1", "3.8", "4.4", "4", "3.6 m", "4.2", "3.9", "4.3") == ""
    room.press("set_after")
    assert room.answer(**ALIKE) == ""
    assert room.view.verdict.text() == "Waits for the values after the work."
    assert room.values("add_after", "4.9", "5.3", "4.6", "5.1", "5.4", "4.8", "5", "4.7") == ""
    assert room.view.verdict.text().startswith("It helped. 22")
    assert "1.15" in room.view.grounds.text()
    room.press("close")
    assert room.answer() == ""
    assert not room.view.buttons["add_after"].isVisible()


def test_other_snow_is_no_verdict(room: Room):
    begun(room)
    for name, snow in (("set_before", "packs"), ("set_after", "wet")):
        room.press(name)
        assert room.answer(**{**ALIKE, "snow": snow}) == ""
    room.values("add_before", "4.1", "3.8", "4.4", "4")
    room.values("add_after", "4.9", "5.3", "4.6", "5.1")
    assert room.view.verdict.text() == "The conditions differ: no verdict."
    assert "Squeeze" in room.view.grounds.text()
    assert cell(room.view.alike, 0, 0).startswith("≠")


def test_a_slip_is_asked_about_and_kept_when_it_is_so(room: Room):
    begun(room)
    assert "another unit" in room.values("add_before", "4.1", "4 cm")
    assert room.answer(sure=True) == ""
    assert room.view.values.rowCount() == 2
    room.view.values.setCurrentCell(1, 0)
    room.bot.mouseClick(room.view.strike_button, LEFT)
    assert room.view.values.rowCount() == 1
    assert "at most" in room.values("add_before", "60")


def test_dangers_come_before_the_steps(room: Room):
    begun(room)
    panels = room.view.findChildren(CautionPanel)
    assert panels[0].accessibleName() == "DANGER"
    assert all(panel.y() < room.view.steps.y() for panel in panels)


def test_a_doubt_opens_the_tick_it_speaks_of(room: Room):
    names = [room.view.courses.item(row).text() for row in range(room.view.courses.count())]
    row = next(n for n, name in enumerate(names) if name.startswith("Gap between"))
    room.view.courses.setCurrentRow(row)
    room.bot.mouseClick(room.view.measure_button, LEFT)
    assert "many times" in room.answer(found="152 mm")
    tick = room.form.widget("sure")
    assert tick.isVisible()
    assert room.answer(sure=True) == ""
    assert "Past its limit" in room.view.courses.item(0).text()


def test_parts_that_nobody_measures_tell_how_long_they_lasted(room: Room):
    """Two belts renewed: what is looked at and never measured has its lives, too."""
    for day in (date(2024, 3, 1), date(2025, 3, 1)):
        line = LineGiven(task="S2-08", outcome=LineOutcome.REPLACED)
        room.do(RecordWork(machine_id=1, day=day, lines=(line,)))
    names = [room.view.courses.item(row).text() for row in range(room.view.courses.count())]
    row = next(n for n, name in enumerate(names) if name.startswith("Belt condition"))
    room.view.courses.setCurrentRow(row)
    assert "The two parts before it lasted" in room.view.sentences.text()
    assert "lasted" not in room.view.courses.item(row).text()


def test_where_nothing_is_measured_nothing_of_another_machine_stays(room: Room):
    state = room.view._state
    assert state is not None
    room.view.show_state(replace(state, machine_id=99, courses=()))
    assert room.view.no_courses.isVisible()
    assert not room.view.plot.isVisible()
    assert not room.view.readings.isVisible()
    assert not room.view.sentences.isVisible()
    assert not room.view.how_head.isVisible()
    room.view.show_state(state)
    assert room.view.sentences.isVisible()
