"""The fleet room used by hand: real widgets, a real file."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QDate, QPoint, QSettings, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QPushButton, QWidget

from app.cli.shapes import due_data
from app.pieces import look
from app.services import services_of
from app.window import MainWindow
from app.wording.tongue import Tongue
from models.acts.corrections import StrikeEntry
from models.changes import Area
from models.exchange.fleet import read_fleet, write_fleet
from models.file import create_household
from models.moment import Moment
from tests.conftest import NOW, TODAY
from tests.screens.conftest import Shed


def day(text: str) -> QDate:
    return QDate.fromString(text, "yyyy-MM-dd")


def add(shed: Shed, **more: object) -> None:
    shed.act("add")
    answers: dict[str, object] = {
        "kind": "K04",
        "name": "Green one",
        "past": "new",
        "came_on": day("2024-04-02"),
        "fuel_left": "no",
    }
    shed.fill(**{**answers, **more})
    assert shed.keep() == ""
    assert shed.form.page.key == "what_now"
    shed.put_by()


def texts(shed: Shed) -> list[str]:
    return [row.name for row in shed.view.machines.rows]


def test_an_empty_shed_says_what_will_be_here_and_gives_one_button(shed: Shed) -> None:
    assert shed.view.first_button.isVisible()
    shed.bot.mouseClick(shed.view.first_button, Qt.MouseButton.LeftButton)
    assert shed.form.page.key == "add"


@pytest.mark.parametrize("size", [(1024, 640), (1440, 900)])
def test_question_and_answers_of_an_empty_shed_stand_together(
    shed: Shed, size: tuple[int, int]
) -> None:
    shed.window.resize(*size)
    shed.bot.wait(1)
    view = shed.view
    question = next(one for one in view.findChildren(QLabel) if one.text().endswith("your shed?"))
    foot = question.mapTo(view, question.rect().bottomLeft()).y()
    answer = view.first_button.mapTo(view, QPoint(0, 0)).y()
    assert 0 <= answer - foot <= look.MARGIN
    assert answer + view.first_button.height() < size[1] / 3


def test_a_machine_added_by_hand_has_its_plan_at_once(shed: Shed) -> None:
    add(shed)
    assert texts(shed) == ["Green one"]
    assert shed.room.name.text() == "Green one"
    assert len(shed.room.tasks.rows) > 10
    assert shed.room.right.why.as_text()


def test_each_act_is_shown_and_taken_back(shed: Shed) -> None:
    add(shed)
    before = len(shed.room.records.rows)
    shed.act("hours")
    shed.fill(shown="41.5", day=day("2025-10-10"))
    assert shed.keep() == ""
    shed.act("work")
    shed.fill(tasks=("E4-02",), day=day("2025-10-12"), note="5W-30 & a bit <b>more</b>")
    assert shed.keep() == ""
    shed.act("measure")
    shed.fill(limit="MW-02|L30", found="3 mm", day=day("2025-10-12"))
    assert shed.keep() == ""
    assert len(shed.room.records.rows) == before + 3
    oil = next(row for row in shed.room.tasks.rows if row.key == "E4-02")
    assert any("12 Oct 2025" in line.text for line in oil.why())
    for _ in range(3):
        shed.window.actions_by_name["undo"].trigger()
    assert len(shed.room.records.rows) == before
    for _ in range(3):
        shed.window.actions_by_name["redo"].trigger()
    assert len(shed.room.records.rows) == before + 3


def test_a_correction_stands_beside_what_was_entered(shed: Shed) -> None:
    add(shed)
    shed.act("hours")
    shed.fill(shown="415", day=day("2025-10-10"))
    assert shed.keep() == ""
    shed.correct("hours")
    shed.fill(shown="41.5")
    assert shed.keep() == ""
    hours = [row for row in shed.room.records.rows if row.area == "hours"]
    assert [row.struck for row in hours] == [False, True]
    assert "41.5" in hours[0].text


def test_what_is_refused_stays_in_the_form_with_a_reason(shed: Shed) -> None:
    add(shed)
    shed.act("hours")
    shed.fill(shown="40", day=day("2025-10-10"))
    assert shed.keep() == ""
    shed.act("hours")
    shed.fill(shown="12", day=day("2025-11-10"))
    assert "less than" in shed.keep()
    shed.fill(shown="abc")
    assert "abc" in shed.keep()
    shed.fill(shown="41", day=QDate(TODAY.year + 1, 1, 1))
    assert shed.keep()
    shed.bot.keyClick(shed.form, Qt.Key.Key_Escape)
    assert shed.view.form is None


def test_a_name_is_shown_as_it_is(shed: Shed) -> None:
    name = '<img src="file:///etc/hostname"> & {0} %s ❄️ =1+1'
    add(shed, name=name)
    assert shed.room.name.text() == name
    labels = shed.window.findChildren(QLabel)
    assert all(
        label.textFormat() == Qt.TextFormat.PlainText
        or not label.text()
        or label is shed.window.whose
        for label in labels
    )


def test_ten_thousand_characters_are_refused_in_words(shed: Shed) -> None:
    shed.act("add")
    shed.fill(kind="K04")
    name = shed.form.widget("name")
    assert isinstance(name, QLineEdit)
    name.setMaxLength(20_000)
    name.setText("x" * 10_000)
    assert "10" in shed.keep()
    assert shed.view.form is not None


def test_put_away_and_got_out_again(shed: Shed) -> None:
    add(shed)
    shed.act("store")
    shed.fill(day=day("2025-11-20"), off_or_open="plug lead off")
    assert shed.keep() == ""
    assert shed.room.buttons["store"].text() == "Get it out again…"
    shed.act("store")
    assert shed.form.page.key == "wake"
    assert shed.keep() == ""
    assert shed.room.buttons["store"].text() == "Put away…"


def test_fuel_faults_and_jobs_reach_the_verdict(shed: Shed) -> None:
    add(shed)
    vessels = shed.act("fuel").widget("vessel")
    assert isinstance(vessels, QComboBox)
    tank = vessels.itemData(0)
    shed.fill(vessel=tank, doing="fill", day=day("2025-06-01"), sort="e10")
    assert shed.keep() == ""
    assert "fuel" in shed.room.standing.text().lower()
    shed.act("note_fault")
    shed.fill(text="blade rubs the deck", stops_use=True)
    assert shed.keep() == ""
    assert "blade rubs the deck" in shed.room.standing.text()
    shed.act("job")
    shed.fill(text="new grip")
    assert shed.keep() == ""
    assert "new grip" in [row.name for row in shed.room.tasks.rows]


def test_everything_can_be_reached_and_is_named(shed: Shed) -> None:
    add(shed)
    shed.act("work")
    for widget in shed.window.findChildren(QWidget):
        if not widget.isVisible() or widget.focusPolicy() == Qt.FocusPolicy.NoFocus:
            continue
        interface = QAccessible.queryAccessibleInterface(widget)
        if interface is None or widget.objectName().startswith("qt_"):
            continue
        named = interface.text(QAccessible.Text.Name) or widget.accessibleName()
        assert named, widget
    for button in shed.window.findChildren(QPushButton):
        if button.isVisible():
            assert button.height() >= 40, button.text()


def test_the_settings_kept_leave_the_shed_open_for_writing(shed: Shed) -> None:
    add(shed)
    shed.act("household")
    shed.fill(person="Ann")
    assert shed.keep() == ""
    add(shed, name="Another")
    assert len(shed.view.machines.rows) == 2


def test_a_new_shed_begins_with_nothing_to_undo(shed: Shed) -> None:
    assert not shed.window.actions_by_name["undo"].isEnabled()


def test_enter_on_leave_it_leaves_it(shed: Shed) -> None:
    add(shed)
    shed.act("job")
    shed.fill(text="new grip")
    shed.bot.keyClick(shed.form.cancel_button, Qt.Key.Key_Return)
    assert shed.view.form is None
    assert "new grip" not in [row.name for row in shed.room.tasks.rows]


def test_a_machine_just_added_is_shown_however_many_there_are(shed: Shed) -> None:
    shed.stand(*(f"Machine {number:02}" for number in range(12)))
    add(shed, name="Machine 12")
    shed.bot.waitUntil(lambda: len(shed.view.machines.rows) == 13)
    assert shed.room.name.text() == "Machine 12"


def test_what_fell_with_its_record_is_shown_as_fallen(shed: Shed) -> None:
    add(shed)
    shed.act("work")
    shed.fill(tasks=(shed.room.tasks.rows[0].key,), shown="12.5")
    assert shed.keep() == ""
    hub = shed.rooms._hub
    assert hub is not None
    hub.perform(StrikeEntry(area=Area.WORK, entry_id=1))
    assert [record.struck for record in shed.room.records.rows] == [True, True]


def test_odd_things_in_the_settings_count_as_none(shed: Shed, tmp_path: Path) -> None:
    broken = tmp_path / "broken.ini"
    broken.write_text("[General]\ngeometry=abc\nlook=[1]\nscale=x\n", encoding="utf-8")
    window = MainWindow(Tongue("en_GB"), QSettings(str(broken), QSettings.Format.IniFormat))
    shed.bot.addWidget(window)
    assert window.whose.textFormat() == Qt.TextFormat.PlainText


def test_a_fleet_by_hand_equals_the_same_fleet_taken_in(shed: Shed, tmp_path: Path) -> None:
    add(shed)
    add(shed, kind="K02", name="Red one", past="unknown", came_on=day("2023-11-05"))
    shed.act("use")
    shed.fill(day=day("2025-11-22"), run="0.8")
    assert shed.keep() == ""
    hub = shed.rooms._hub
    assert hub is not None
    moment = Moment(TODAY, NOW + timedelta(hours=1))
    by_hand = _due(hub.household, TODAY)
    with hub.household.read() as session:
        write_fleet(session, tmp_path / "out")
    with create_household(tmp_path / "other.firstpull", name="Other", moment=moment) as other:
        from resources.loader import load_catalogue

        taken = read_fleet(tmp_path / "out", kinds=load_catalogue().kinds)
        other.need_writer().run(taken, moment=moment)
        assert _due(other, TODAY) == by_hand


def _due(household, on: date) -> str:  # noqa: ANN001
    services = services_of(household)
    return json.dumps(due_data(services.fleet(on=on), on=on, wording=services.wording))
