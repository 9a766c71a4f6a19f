"""The fuel room used by hand: taps, pours by keys and by mouse, forms, refusals, sizes."""

from __future__ import annotations

from PySide6.QtCore import QDate, QPoint, Qt
from PySide6.QtWidgets import QComboBox, QPushButton

from app.fuel.view import FuelView
from app.pieces import look
from app.pieces.tiles import Picks
from models.acts.fuel import AddVessel, Fill
from models.acts.sheets import PrintSheet, SheetLine
from models.changes import Changes
from models.facts.fleet import read_fleet
from models.facts.fuel import read_accounts
from models.words import Paper, SheetSort
from resources.loader import load_catalogue
from schedules.facts import Band, FuelSort, FuelUse, VesselSort
from tests.conftest import TODAY
from tests.screens.conftest import Shed, put
from tests.screens.test_entry import add_only

LITRE = 10**6
KEY = Qt.Key
LEFT = Qt.MouseButton.LeftButton


def can(shed: Shed, name: str, *, litres: int = 10, held: int = 0, **more: object) -> None:
    """A can as an act, for tests that are about something else."""
    hub = shed.rooms._hub
    assert hub is not None
    burns = more.pop("burns", FuelUse.FOUR_STROKE)
    assert isinstance(burns, FuelUse)
    made = hub.perform(
        AddVessel(
            name=name,
            sort=VesselSort.CAN,
            capacity_ul=litres * LITRE,
            came_on=TODAY.replace(year=TODAY.year - 1),
            burns=burns,
            place_id=1,
        )
    )
    assert isinstance(made, Changes)
    if held:
        number = next(number for area, number in made.ids if area == "fuel")
        sort = more.get("sort", FuelSort.E5)
        assert isinstance(sort, FuelSort)
        fill = Fill(vessel_id=number, day=TODAY, sort=sort, volume_ul=held * LITRE)
        assert isinstance(hub.perform(fill), Changes)


def room(shed: Shed) -> FuelView:
    shed.window.actions_by_name["fuel_room"].trigger()
    doors = shed.rooms._doors
    assert doors is not None
    door = doors._fuel
    assert door is not None
    view = door.view
    assert shed.window.rooms.currentWidget() is view
    return view


def press(shed: Shed, view: FuelView, name: str) -> None:
    shed.bot.mouseClick(view.detail.buttons[name], LEFT)


def pick(shed: Shed, view: FuelView, way: str) -> None:
    assert view.form is not None
    picks = view.form.widget("way")
    assert isinstance(picks, Picks)
    button = next(each for each in picks.buttons if each.property("value") == way)
    shed.bot.mouseClick(button, LEFT)


def keep(shed: Shed, view: FuelView) -> str:
    form = view.form
    assert form is not None
    shed.bot.mouseClick(form.done_button, LEFT)
    if view.form is None or view.form is not form:
        return ""
    labels = (*form._refusals.values(), form._notice)
    return " ".join(label.text() for label in labels if label.text())


def shown(view: FuelView) -> dict[str, tuple[Band | None, str]]:
    assert view._state is not None
    return {one.name: (one.band, one.second) for one in view._state.vessels}


def test_an_empty_shed_says_what_will_stand_here(shed: Shed) -> None:
    view = room(shed)
    assert "your cans and tanks will stand" in view.lead.text()
    shed.bot.mouseClick(view.add_button, LEFT)
    assert view.form is not None
    put(shed.bot, view.form.widget("name"), "Red can")
    assert "like 10" in keep(shed, view)
    put(shed.bot, view.form.widget("capacity"), "10 L")
    assert keep(shed, view) == ""
    assert shown(view) == {"Red can": (None, "holds 10\u00a0L · The shed")}


def test_four_taps_are_enough(shed: Shed) -> None:
    can(shed, "Red can")
    view = room(shed)
    press(shed, view, "filled")
    assert shown(view)["Red can"] == (Band.GOOD, "10\u00a0L of 10\u00a0L · The shed")
    assert "filled to the brim with petrol, alcohol not known" in view.notice.text()
    assert view._state is not None
    assert view._state.vessels[0].age == "bought today"
    press(shed, view, "half")
    assert view.form is not None
    assert "5\u00a0L more should be in Red can" in view.form.page.lead
    pick(shed, view, "disposed")
    assert shown(view)["Red can"][1].startswith("5\u00a0L")
    press(shed, view, "half")
    assert "about a half left" in view.notice.text(), "nothing is missing: nothing is asked"
    press(shed, view, "drained")
    assert shown(view)["Red can"][0] is None
    shed.window.actions_by_name["undo"].trigger()
    assert shown(view)["Red can"][1].startswith("5\u00a0L")


def test_a_tank_is_topped_up_from_the_only_can(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    can(shed, "Small can", litres=5)
    view = room(shed)
    shed.bot.keyClick(view.shelf, KEY.Key_End)
    press(shed, view, "topped")
    assert shown(view)["Small can"][1].startswith("5\u00a0L of 5")
    assert shown(view)["Red can"][1].startswith("3\u00a0L of 10")


def test_the_keyboard_alone_pours(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    can(shed, "Small can", litres=5)
    view = room(shed)
    view.shelf.setFocus()
    shed.bot.keyClick(view.shelf, KEY.Key_Home)
    assert "Red can, 8" in view.shelf.accessibleDescription()
    shed.bot.keyClick(view.shelf, KEY.Key_P)
    pick(shed, view, str(view._state.vessels[1].vessel_id))  # type: ignore[union-attr]  # it is shown
    assert view.pouring
    amount = view.pour.amount
    assert amount.text() == "5 L"
    shed.bot.keyClick(amount, KEY.Key_Down)
    shed.bot.keyClick(amount, KEY.Key_Down)
    assert amount.text() == "4.5 L"
    assert "3.5\u00a0L of 10" in view.pour.source_said.text()
    assert "good, was: empty" in view.pour.target_said.text()
    shed.bot.keyClick(amount, KEY.Key_Return)
    assert not view.pouring
    assert shown(view)["Small can"][1].startswith("4.5\u00a0L")


def test_nobody_pours_into_a_carburettor(shed: Shed) -> None:
    add_only(shed, fuel_left="no")
    can(shed, "Red can", held=8)
    view = room(shed)
    bowl = next(one for one in view._state.vessels if "carburettor bowl" in one.name)  # type: ignore[union-attr]
    red = next(one for one in view._state.vessels if one.name == "Red can")  # type: ignore[union-attr]
    view.shelf.chosen.emit(red.vessel_id)
    press(shed, view, "pour")
    assert view.form is not None
    assert str(bowl.vessel_id) not in [key for key, _ in view.form.page.fields[0].choices]
    shed.bot.mouseClick(view.form.cancel_button, LEFT)
    view.shelf.pourWanted.emit(red.vessel_id, bowl.vessel_id)
    assert not view.pouring
    assert "out of its tank" in view.notice.text()


def test_the_mouse_drags_one_onto_another(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    can(shed, "Small can", litres=5)
    view = room(shed)
    first, second = (cell.room.center() for cell in view.shelf._cells)
    shed.bot.mousePress(view.shelf, LEFT, pos=first)
    shed.bot.mouseMove(view.shelf, first + QPoint(20, 0))
    shed.bot.mouseMove(view.shelf, second)
    shed.bot.mouseRelease(view.shelf, LEFT, pos=second)
    assert view.pouring
    box = view.pour.target
    shed.bot.mouseClick(box, LEFT, pos=QPoint(box.width() // 2, box.height() // 2))
    assert "Pour from Red can into Small can" in view.pour.title.text()
    shed.bot.mouseClick(view.pour.keep_button, LEFT)
    held = shown(view)["Small can"][1].split("\u00a0")[0]
    assert 1 < float(held) < 4


def test_the_mix_is_shown_while_one_is_still_dragged(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    can(shed, "Small can", litres=5)
    can(shed, "Mix", litres=5, burns=FuelUse.TWO_STROKE)
    can(shed, "Full can", litres=5, held=5)
    view = room(shed)
    shelf, state = view.shelf, view._state
    assert state is not None
    at = {
        one.name: cell.room.center() for one, cell in zip(state.vessels, shelf._cells, strict=True)
    }
    shed.bot.mousePress(shelf, LEFT, pos=at["Red can"])
    shed.bot.mouseMove(shelf, at["Red can"] + QPoint(20, 0))
    assert not shelf._mix
    shed.bot.mouseMove(shelf, at["Small can"])
    left, mix = shelf._mix.values()
    assert (left.name, left.second.split(" of")[0]) == ("Red can", "3\u00a0L")
    assert (mix.name, mix.band) == ("5\u00a0L into Small can", Band.GOOD)
    assert mix.figure.layers[0].part == 1
    shed.bot.mouseMove(shelf, at["Mix"])
    assert [one.band for one in shelf._mix.values()] == [Band.GOOD, Band.NOT_FOR_THIS]
    shed.bot.mouseMove(shelf, at["Full can"])
    (full,) = shelf._mix.values()
    assert "Full can is full" in full.band_text
    for _, line, cell in shelf._mixed():
        assert shelf._over(cell, line).room.bottom() < shelf.height(), "every word has its room"
    shed.bot.mouseMove(shelf, QPoint(shelf.width() - 1, shelf.height() - 1))
    assert not shelf._mix
    shed.bot.mouseMove(shelf, at["Small can"])
    shed.bot.mouseRelease(shelf, LEFT, pos=at["Small can"])
    assert not shelf._mix
    assert view.pouring
    assert view.pour.amount.text() == "5 L"


def test_what_cannot_be_poured_is_said_while_it_is_typed(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    can(shed, "Small can", litres=5)
    view = room(shed)
    ids = [one.vessel_id for one in view._state.vessels]  # type: ignore[union-attr]  # it is shown
    view.pourWanted.emit(ids[0], ids[1])
    for typed, said in (
        ("9 L", "no more than 8\u00a0L in Red can"),
        ("7 L", "No more than 5\u00a0L goes into Small can"),
        ("a bit", "a bit"),
        ("", "Say how much"),
    ):
        view.pour.amount.selectAll()
        shed.bot.keyClick(view.pour.amount, KEY.Key_Delete)
        shed.bot.keyClicks(view.pour.amount, typed)
        assert said in view.pour.refused.text()
        assert not view.pour.keep_button.isEnabled()
        shed.bot.keyClick(view.pour.amount, KEY.Key_Return)
        assert view.pouring


def test_petrol_without_oil_into_a_two_stroke_is_asked_twice(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    can(shed, "Mix", litres=5, burns=FuelUse.TWO_STROKE)
    view = room(shed)
    ids = [one.vessel_id for one in view._state.vessels]  # type: ignore[union-attr]  # it is shown
    view.pourWanted.emit(ids[0], ids[1])
    assert "DANGER to the engine" in view.pour.refused.text()
    shed.bot.mouseClick(view.pour.keep_button, LEFT)
    assert view.pouring, "asked a second time"
    shed.bot.mouseClick(view.pour.keep_button, LEFT)
    assert shown(view)["Mix"][0] is Band.NOT_FOR_THIS


def test_what_ruins_an_engine_is_said_before_it_is_poured(shed: Shed) -> None:
    can(shed, "Mix", held=4, burns=FuelUse.TWO_STROKE, sort=FuelSort.PREMIX)
    can(shed, "Petrol")
    can(shed, "Diesel", burns=FuelUse.DIESEL)
    view = room(shed)
    number = {one.name: one.vessel_id for one in view._state.vessels}  # type: ignore[union-attr]  # it is shown
    for target, said in (("Petrol", "a four-stroke smokes"), ("Diesel", "it burns diesel")):
        view.pourWanted.emit(number["Mix"], number[target])
        assert said in view.pour.refused.text()
        shed.bot.mouseClick(view.pour.keep_button, LEFT)
        assert view.pouring, "asked a second time"
        shed.bot.mouseClick(view.pour.cancel_button, LEFT)
        assert shown(view)[target][0] is None, "nothing is kept"
    view.pourWanted.emit(number["Mix"], number["Mix"])
    assert not view.pouring
    assert "Mix" in view.notice.text(), "into itself"


def test_e15_is_asked_twice_and_kept_as_not_for_this(shed: Shed) -> None:
    can(shed, "Red can")
    view = room(shed)
    press(shed, view, "more")
    pick(shed, view, "bought")
    assert view.form is not None
    put(shed.bot, view.form.widget("volume"), "3 L")
    put(shed.bot, view.form.widget("sort"), "e15")
    assert keep(shed, view) == ""
    assert view.form is not None
    assert view.form.page.key == "sure"
    assert "10% alcohol" in view.form.page.lead
    assert shown(view)["Red can"][0] is None, "nothing is kept yet"
    assert keep(shed, view) == ""
    assert shown(view)["Red can"][0] is Band.NOT_FOR_THIS


def test_a_mix_is_reckoned_and_kept(shed: Shed) -> None:
    can(shed, "Mix", litres=10, burns=FuelUse.TWO_STROKE)
    view = room(shed)
    press(shed, view, "mix")
    pick(shed, view, "mix")
    pick(shed, view, "50")
    form = view.form
    assert form is not None
    put(shed.bot, form.widget("volume"), "5 L")
    assert "100\u00a0mL (3.4\u00a0US\u00a0fl\u00a0oz" in form.preview.text()
    assert keep(shed, view) == ""
    assert shown(view)["Mix"][1].startswith("5.1\u00a0L")


def test_a_mix_is_put_right_by_oil_that_makes_it_no_younger(shed: Shed) -> None:
    can(shed, "Mix", litres=5, held=2, burns=FuelUse.TWO_STROKE, sort=FuelSort.PREMIX)
    view = room(shed)
    for wanted, now, said in ((40, 50, "10\u00a0mL"), (50, 16, "pour some of it into another")):
        press(shed, view, "mix")
        pick(shed, view, "right")
        pick(shed, view, str(wanted))
        pick(shed, view, str(now))
        form = view.form
        assert form is not None
        if now == 50:
            assert said in form.page.lead
            assert keep(shed, view) == ""
        else:
            assert said in " ".join(label.text() for label in form._refusals.values())
            shed.bot.mouseClick(form.cancel_button, LEFT)
    assert shown(view)["Mix"][1].startswith("2.01\u00a0L")
    assert view._state is not None
    assert view._state.chosen is not None
    assert len(view._state.chosen.lots) == 1, "oil is no fill of its own"
    assert view._state.chosen.entries[0].text == "Oil added, 10\u00a0mL"


def test_alcohol_that_nobody_knows_is_never_called_none(shed: Shed) -> None:
    can(shed, "Red can", held=8, sort=FuelSort.UNKNOWN)
    view = room(shed)
    assert view._state is not None
    assert view._state.chosen is not None
    assert "alcohol not known" in view._state.chosen.lots[0].sort
    assert "E?" in view._state.vessels[0].figure.layers[0].label
    press(shed, view, "mix")
    pick(shed, view, "blend")
    assert view.form is not None
    assert "nobody knows how much alcohol is in it" in view.form.page.lead


def test_an_entry_is_put_right_or_struck_out(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    view = room(shed)
    press(shed, view, "correct")
    assert keep(shed, view) == ""
    assert view.form is not None
    put(shed.bot, view.form.widget("volume"), "6 L")
    assert keep(shed, view) == ""
    assert shown(view)["Red can"][1].startswith("6\u00a0L")
    press(shed, view, "correct")
    assert keep(shed, view) == ""
    put(shed.bot, view.form.widget("strike"), True)
    assert keep(shed, view) == ""
    assert shown(view)["Red can"][0] is None


def test_what_became_of_it_is_kept_and_can_be_put_right(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    view = room(shed)
    for way, amount in (("spilled", "1 L"), ("tip", "2 L"), ("oil", "100 mL")):
        press(shed, view, "more")
        pick(shed, view, way)
        assert view.form is not None
        put(shed.bot, view.form.widget("volume"), amount)
        assert keep(shed, view) == ""
        if way == "oil":
            assert view.form is not None
            assert view.form.page.key == "sure", "oil makes a mix, and a four-stroke fouls on it"
            assert keep(shed, view) == ""
    assert shown(view)["Red can"] == (Band.NOT_FOR_THIS, "5.1\u00a0L of 10\u00a0L · The shed")
    texts = [line.text for line in view._state.chosen.entries]  # type: ignore[union-attr]  # it is shown
    assert texts[:3] == [
        "Oil added, 100\u00a0mL",
        "Taken to a collection point, 2\u00a0L",
        "Spilled, 1\u00a0L",
    ]
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        (account,) = read_accounts(session, on=TODAY).values()
    assert (account.spilled_ul, account.disposed_ul) == (LITRE, 2 * LITRE)
    assert account.held_ul == 5_100_000


def test_arrows_enter_and_escape(shed: Shed) -> None:
    for name in ("A can", "B can", "C can"):
        can(shed, name, held=1)
    view = room(shed)
    view.shelf.setFocus()
    shed.bot.keyClick(view.shelf, KEY.Key_Home)
    shed.bot.keyClick(view.shelf, KEY.Key_Right)
    assert view.detail.name.text() == "B can"
    shed.bot.keyClick(view.shelf, KEY.Key_Return)
    assert view.detail.buttons["filled"].hasFocus()
    shed.bot.keyClick(view.detail.buttons["filled"], KEY.Key_Escape)
    assert view.shelf.hasFocus()
    shed.bot.mouseClick(view.table_tab, LEFT)
    assert view.rows.data(view.rows.index(1, 0)) == "B can"
    view.table.setFocus()
    shed.bot.keyClick(view.table, KEY.Key_Down)
    assert view.detail.name.text() == "C can"
    assert view.shelf.current is not None
    assert view.shelf.current.name == "C can"
    shed.bot.keyClick(view.table, KEY.Key_Escape)
    assert shed.window.rooms.currentWidget() is shed.window.view


def test_nothing_is_cut_at_any_size(shed: Shed) -> None:
    can(shed, "Red can", held=8)
    view = room(shed)
    for style, scale in ((look.DARK, 1.0), (look.LIGHT, 2.0)):
        look.apply(look.program(), style, scale=scale)
        view.restyle()
        shed.bot.wait(20)
        for button in view.findChildren(QPushButton):
            if button.isVisible():
                words = button.fontMetrics().horizontalAdvance(button.text())
                assert button.height() >= 44, button.text()
                assert button.width() >= words, button.text()
        body = view.detail.widget()
        assert body is not None
        assert body.height() >= view.detail._column.totalHeightForWidth(body.width()) - 2


def test_a_burn_that_no_hours_explain_is_asked_twice(shed: Shed) -> None:
    add_only(shed)
    view = room(shed)
    name = next(name for name in shown(view) if name.startswith("Red one"))
    press(shed, view, "drained")
    press(shed, view, "filled")
    full = shown(view)[name]
    assert full[0] is Band.GOOD
    press(shed, view, "more")
    pick(shed, view, "burnt")
    assert view.form is not None
    put(shed.bot, view.form.widget("volume"), "2 L")
    assert keep(shed, view) == ""
    assert view.form is not None
    assert "By its hours it burnt about" in view.form.page.lead
    assert shown(view)[name] == full, "nothing is kept yet"
    assert keep(shed, view) == ""
    assert shown(view)[name] != full
    assert "A rest of" in view.detail.rest.text()


def old_fuel(shed: Shed, name: str) -> int:
    """A machine whose tank holds a litre bought long ago; the id of its tank."""
    add_only(shed, name=name, fuel_left="no")
    form = shed.act("fuel")
    vessels = form.widget("vessel")
    assert isinstance(vessels, QComboBox)
    tank = vessels.itemData(0)
    bought = QDate(TODAY.year - 1, 6, 1)
    shed.fill(vessel=tank, doing="fill", volume="1 L", sort="e10", day=bought)
    assert shed.keep() == ""
    return int(tank)


def in_tanks(shed: Shed) -> list[int]:
    """What the tanks of each machine hold, in microlitres."""
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        fleet = read_fleet(session, on=TODAY, catalogue=load_catalogue())
    tanks = (
        sum(lot.volume_ul for vessel in facts.vessels for lot in vessel.lots) for facts in fleet
    )
    return list(tanks)


def test_a_sheet_that_ticks_old_fuel_asks_machine_by_machine_what_was_done(shed: Shed) -> None:
    old_fuel(shed, "Red one")
    old_fuel(shed, "Green one")
    hub = shed.rooms._hub
    assert hub is not None
    lines = tuple(
        SheetLine(machine_id=machine, tasks=("E4-20",), text="Old fuel") for machine in (1, 2)
    )
    printed = hub.perform(PrintSheet(sort=SheetSort.PRESEASON, paper=Paper.A4, lines=lines))
    assert isinstance(printed, Changes)
    shed.act("enter_sheet")
    shed.fill(number=dict(printed.label.values)["name"])
    assert shed.keep() == ""
    assert shed.keep() == ""
    for name in ("Red one", "Green one"):
        assert shed.form.page.key == "fuel_done"
        assert f"in the tank of {name}, and it is old" in shed.form.page.lead
        shed.pick("disposed")
    assert shed.open_form is None
    assert in_tanks(shed) == [0, 0]


def test_whoever_leaves_the_first_question_is_still_asked_the_others(shed: Shed) -> None:
    old_fuel(shed, "Red one")
    old_fuel(shed, "Green one")
    hub = shed.rooms._hub
    assert hub is not None
    lines = tuple(
        SheetLine(machine_id=machine, tasks=("E4-20",), text="Old fuel") for machine in (1, 2)
    )
    printed = hub.perform(PrintSheet(sort=SheetSort.PRESEASON, paper=Paper.A4, lines=lines))
    assert isinstance(printed, Changes)
    shed.act("enter_sheet")
    shed.fill(number=dict(printed.label.values)["name"])
    assert shed.keep() == ""
    assert shed.keep() == ""
    assert "in the tank of Red one" in shed.form.page.lead
    shed.pick("else")
    assert shed.form.page.key == "fuel"
    shed.put_by()
    assert "in the tank of Green one" in shed.form.page.lead
    shed.put_by()
    assert shed.open_form is None
    assert in_tanks(shed) == [1_000_000, 1_000_000]


def test_what_a_sheet_left_undone_asks_nothing_about_fuel(shed: Shed) -> None:
    old_fuel(shed, "Red one")
    hub = shed.rooms._hub
    assert hub is not None
    lines = tuple(SheetLine(machine_id=1, tasks=(task,), text=task) for task in ("E4-06", "E4-20"))
    printed = hub.perform(PrintSheet(sort=SheetSort.PRESEASON, paper=Paper.A4, lines=lines))
    assert isinstance(printed, Changes)
    shed.act("enter_sheet")
    shed.fill(number=dict(printed.label.values)["name"])
    assert shed.keep() == ""
    shed.fill(done=("0",))
    assert shed.keep() == ""
    assert shed.open_form is None


def test_a_typed_line_asks_about_the_fuel_of_the_machine_it_names(shed: Shed) -> None:
    old_fuel(shed, "Red one")
    add_only(shed, name="Green one", fuel_left="no")
    shed.act("line")
    shed.fill(line="fuel red one done")
    assert shed.keep() == ""
    if shed.form.page.key == "which":
        shed.pick("E4-20")
    assert shed.form.page.key == "fuel_done"
    assert "in the tank of Red one" in shed.form.page.lead
    shed.pick("burnt")
    assert in_tanks(shed) == [0, 0]
