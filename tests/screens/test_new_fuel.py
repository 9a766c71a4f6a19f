"""A cure brought other fuel into the tank: the room asks once what is in it now."""

from __future__ import annotations

from PySide6.QtCore import Qt

from app.pieces.tiles import Picks
from models.acts.searches import TryCure
from models.changes import Changes
from models.facts.fleet import read_fleet
from models.words import SearchEnd
from resources.loader import load_catalogue
from tests.conftest import TODAY
from tests.screens.conftest import Shed, put
from tests.screens.test_fault_room import begin, door, enter, search, settled

LEFT = Qt.MouseButton.LeftButton


def test_a_cure_that_brought_new_fuel_asks_what_is_in_the_tank_now(shed: Shed):
    room = enter(shed)
    begin(shed, room)
    hub, controller = shed.rooms._hub, door(shed).controller
    assert hub is not None
    number = search(shed).search_id
    assert isinstance(
        hub.perform(TryCure(search_id=number, cause="F2", place=0, helped=True, on=TODAY)), Changes
    )
    shed.bot.waitUntil(lambda: room.form is not None)
    assert room.form is not None
    assert room.form.page.key == "fuel_done"
    picks = room.form.widget("way")
    assert isinstance(picks, Picks)
    shed.bot.mouseClick(picks.buttons[0], LEFT)
    put(shed.bot, room.form.widget("volume"), "1 L")
    shed.bot.mouseClick(room.form.done_button, LEFT)
    assert room.form is None
    with hub.read() as session:
        (facts,) = read_fleet(session, on=TODAY, catalogue=load_catalogue())
    assert [lot.volume_ul for vessel in facts.vessels for lot in vessel.lots] == [1_000_000]
    controller.act("end")
    assert room.form is not None
    put(shed.bot, room.form.widget("cause"), "F2")
    put(shed.bot, room.form.widget("ending"), "cured")
    shed.bot.mouseClick(room.form.done_button, LEFT)
    assert search(shed).ending is SearchEnd.CURED
    settled(shed)
    assert room.form is None, "it was told already"
