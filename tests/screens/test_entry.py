"""What is entered by hand: the first machine, its standing, hours put right, places."""

from __future__ import annotations

from PySide6.QtCore import QDate, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QComboBox

from app.pieces.tiles import Tiles
from models.acts.sheets import PrintSheet, SheetLine
from models.changes import Changes
from models.words import Paper, SheetSort
from tests.screens.conftest import Shed


def day(text: str) -> QDate:
    return QDate.fromString(text, "yyyy-MM-dd")


def add(shed: Shed, **more: object) -> None:
    shed.act("add")
    shed.fill(**{"kind": "K02", "name": "Red one", "came_on": day("2024-04-02"), **more})
    assert shed.keep() == ""
    assert shed.form.page.key == "what_now"


def add_only(shed: Shed, **more: object) -> None:
    add(shed, **more)
    shed.put_by()


def names(shed: Shed) -> list[str]:
    return [row.name for row in shed.view.machines.rows]


def test_a_used_machine_gets_a_short_way_in(shed: Shed) -> None:
    add(shed)
    assert "First going-over: 28 things; looking comes first, 1" in shed.form.page.lead
    shed.pick("look")
    assert shed.view.form is None
    assert shed.room.name.text() == "Red one"


def test_every_reason_for_coming_leads_somewhere(shed: Shed) -> None:
    pages = {"store": "store", "add": "add"}
    for way, key in pages.items():
        add(shed, name=f"Red one {way}")
        shed.pick(way)
        assert shed.form.page.key == key
        shed.put_by()
    add(shed)
    shed.pick("worth")
    assert shed.view.form is None


def test_a_machine_needs_a_type_and_goes_by_it_without_a_name(shed: Shed) -> None:
    shed.act("add")
    assert "picture" in shed.keep()
    shed.fill(kind="K13")
    assert shed.keep() == ""
    shed.put_by()
    assert shed.room.name.text() == "tiller or cultivator"


def test_tiles_are_told_by_name_and_moved_by_arrows(shed: Shed) -> None:
    shed.act("add")
    tiles = shed.form.widget("past")
    assert isinstance(tiles, Tiles)
    for tile in tiles.tiles:
        face = QAccessible.queryAccessibleInterface(tile)
        assert face.role() == QAccessible.Role.RadioButton
        assert face.text(QAccessible.Text.Name)
        assert tile.height() >= 44
    shed.window.activateWindow()
    shed.bot.waitUntil(lambda: tiles.tiles[1].x() > 0 and shed.window.isActiveWindow())
    tiles.tiles[0].setFocus()
    shed.bot.keyClick(tiles.tiles[0], Qt.Key.Key_Right)
    assert tiles.value() == "new"


def test_what_the_machine_is_called_and_where_it_is(shed: Shed) -> None:
    add_only(shed)
    shed.act("about")
    shed.pick("change")
    shed.fill(name="Old red", model="Drift 24")
    assert shed.keep() == ""
    assert shed.room.name.text() == "Old red"
    shed.act("place")
    shed.pick("new")
    shed.fill(name="Barn")
    assert shed.keep() == ""
    shed.act("about")
    shed.pick("move")
    shed.fill(place_id="2", spot="left")
    assert shed.keep() == ""
    assert "Barn, left" in shed.room.where.text()
    shed.act("about")
    shed.pick("came")
    shed.fill(came_on=day("2023-01-01"))
    assert shed.keep() == ""
    shed.act("place")
    shed.pick("1")
    shed.pick("change")
    shed.fill(name="Old shed", half="south")
    assert shed.keep() == ""


def test_gone_and_back_and_never_there(shed: Shed) -> None:
    add_only(shed)
    add_only(shed, name="Blue one")
    shed.act("about")
    shed.pick("gone")
    shed.fill(more="the neighbour")
    assert shed.keep() == ""
    assert names(shed) == ["Red one"]
    shed.act("about")
    shed.pick("back")
    shed.pick("2")
    assert len(names(shed)) == 2
    shed.act("about")
    shed.pick("mistake")
    shed.pick("remove")  # what was said of its fuel is an entry already
    assert "Mark it as gone" in shed.said()
    shed.pick("hide")
    assert len(names(shed)) == 1
    add_only(shed, kind="K03", name="Twice")
    shed.act("about")
    shed.pick("mistake")
    shed.pick("remove")
    assert "Twice" not in names(shed)


def test_an_earlier_reading_that_was_mistyped(shed: Shed) -> None:
    add_only(shed)
    shed.act("hours")
    shed.fill(shown="415", day=day("2025-10-10"))
    assert shed.keep() == ""
    shed.act("hours")
    shed.fill(shown="42", day=day("2025-11-10"))
    assert "less than" in shed.keep()
    shed.fill(lower="mistyped")
    assert shed.keep() == ""
    read = [row for row in shed.room.records.rows if row.area == "hours"]
    assert [row.struck for row in read] == [False, True]


def test_a_correction_that_changes_nothing_says_so(shed: Shed) -> None:
    add_only(shed)
    shed.act("hours")
    shed.fill(shown="41.5", day=day("2025-10-10"))
    assert shed.keep() == ""
    shed.correct("hours")
    assert "already as you want it" in shed.keep()


def test_a_measurement_says_how_and_where_it_is_taken(shed: Shed) -> None:
    add_only(shed)
    form = shed.act("measure")
    limits = form.widget("limit")
    assert isinstance(limits, QComboBox)
    heads = [row for row in range(limits.count()) if limits.itemData(row).startswith("head:")]
    assert heads
    assert not limits.model().flags(limits.model().index(heads[0], 0)) & Qt.ItemFlag.ItemIsEnabled
    assert "Act when" in limits.accessibleDescription() or "Yes means" in (
        limits.accessibleDescription()
    )
    row = next(r for r in range(limits.count()) if limits.itemData(r).endswith("|L01"))
    limits.setCurrentIndex(row)
    shed.fill(found="abc")
    assert "mm" in shed.keep()


def test_a_line_says_beneath_what_will_be_entered(shed: Shed) -> None:
    add_only(shed)
    add_only(shed, kind="K04", name="Green one")
    shed.act("line")
    shed.fill(line="red one ran 0.8 h yesterday")
    assert "Red one: ran, 0.8" in shed.form.preview.text()
    assert shed.keep() == ""
    shed.act("line")
    shed.fill(line="plug green one done 12.40")
    assert "Which work" in shed.form.preview.text()
    assert shed.keep() == ""
    assert shed.form.page.key == "which"
    shed.pick("E4-06")
    assert shed.view.form is None
    shed.act("line")
    shed.fill(line="nobody knows")
    assert shed.keep()


def test_a_sheet_is_ticked_whole_but_for_the_exceptions(shed: Shed) -> None:
    add_only(shed)
    hub = shed.rooms._hub
    assert hub is not None
    lines = tuple(
        SheetLine(machine_id=1, tasks=(task,), text=task) for task in ("E4-02", "E4-06", "S2-01")
    )
    done = hub.perform(PrintSheet(sort=SheetSort.PRESEASON, paper=Paper.A4, lines=lines))
    assert isinstance(done, Changes)
    number = dict(done.label.values)["name"]
    shed.act("enter_sheet")
    shed.fill(number="99")
    assert "four digits" in shed.keep()
    shed.fill(number=number)
    assert shed.keep() == ""
    shed.fill(done=("0", "2"))
    assert shed.keep() == ""
    entry = next(row for row in shed.room.records.rows if row.area == "work")
    assert "Check the spark plug and its gap: left" in entry.text
    shed.act("enter_sheet")
    shed.fill(number=number)
    assert "already" in shed.keep()


def test_work_is_put_right_and_what_hangs_on_it_stays(shed: Shed) -> None:
    add_only(shed)
    shed.act("work")
    shed.fill(tasks=("E4-02", "E4-06"), shown="12.5", cost="12.40", day=day("2025-10-12"))
    assert shed.keep() == ""
    shed.correct("work")
    assert "already as you want it" in shed.keep()
    shed.fill(tasks=("line-0", "S2-01"), cost="15")
    assert shed.keep() == ""
    work = [row for row in shed.room.records.rows if row.area == "work"]
    assert [row.struck for row in work] == [False, True]
    assert "Check and count the shear pins: done" in work[0].text
    assert "spark plug" not in work[0].text
    hours = [row for row in shed.room.records.rows if row.area == "hours" and not row.struck]
    assert len(hours) == 1


def test_fuel_is_put_right(shed: Shed) -> None:
    add_only(shed, fuel_left="no")
    form = shed.act("fuel")
    vessels = form.widget("vessel")
    assert isinstance(vessels, QComboBox)
    shed.fill(vessel=vessels.itemData(0), doing="fill", volume="1 L", day=day("2025-10-12"))
    assert shed.keep() == ""
    shed.correct("fuel")
    shed.fill(volume="500 mL", sort="e10")
    assert shed.keep() == ""
    fuel = [row for row in shed.room.records.rows if row.area == "fuel"]
    assert [row.struck for row in fuel] == [False, True]
    assert "500" in fuel[0].text


def test_what_ruins_an_engine_is_asked_twice_from_the_list(shed: Shed) -> None:
    add_only(shed, fuel_left="no")
    form = shed.act("fuel")
    vessels = form.widget("vessel")
    assert isinstance(vessels, QComboBox)
    tank = vessels.itemData(0)
    shed.fill(vessel=tank, doing="fill", volume="1 L", sort="premix", day=day("2025-10-12"))
    assert shed.keep() == ""
    assert shed.form.page.key == "sure"
    assert "four-stroke" in shed.form.page.lead
    assert not [row for row in shed.room.records.rows if "premix" in row.text]
    assert shed.keep() == ""


def test_a_lower_level_asks_where_the_rest_went(shed: Shed) -> None:
    add_only(shed, fuel_left="no")
    form = shed.act("fuel")
    vessels = form.widget("vessel")
    assert isinstance(vessels, QComboBox)
    tank = vessels.itemData(0)
    shed.fill(vessel=tank, doing="fill", volume="1 L", sort="e5", day=day("2025-10-12"))
    assert shed.keep() == ""
    shed.act("fuel")
    shed.fill(vessel=tank, doing="level", volume="400 mL", day=day("2025-10-20"))
    assert shed.keep() == ""
    assert shed.form.page.key == "missing"
    assert "600" in shed.form.page.lead
    shed.pick("spilled")
    shed.correct("fuel")
    combo = shed.form.widget("gone")
    assert isinstance(combo, QComboBox)
    assert combo.currentData() == "spilled"


def test_fuel_that_was_seen_to_is_asked_about(shed: Shed) -> None:
    add_only(shed, fuel_left="no")
    form = shed.act("fuel")
    vessels = form.widget("vessel")
    assert isinstance(vessels, QComboBox)
    tank = vessels.itemData(0)
    shed.fill(vessel=tank, doing="fill", volume="1 L", sort="e10", day=day("2025-06-01"))
    assert shed.keep() == ""
    shed.act("work")
    shed.fill(tasks=("E4-20",))
    assert shed.keep() == ""
    assert shed.form.page.key == "fuel_done"
    assert "1\u00a0L should be in the tank" in shed.form.page.lead
    shed.pick("disposed")
    shed.window.actions_by_name["machine"].trigger()
    rows = [row for row in shed.room.records.rows if row.area == "fuel"]
    assert rows[0].text == "took all of it to a collection point"
