"""A cure brought other fuel into the tank: the room asks once what is in it now."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from PySide6.QtCore import Qt

from app.entry.fuel_done import FuelDone
from app.pieces.tiles import Picks
from models.acts.fuel import Fill
from models.acts.searches import TryCure
from models.acts.work import LineGiven, RecordWork
from models.changes import Changes
from models.facts.fleet import read_fleet
from models.words import SearchEnd
from resources.loader import load_catalogue
from schedules.facts import FuelSort
from tests.conftest import TODAY
from tests.screens.conftest import Shed, put
from tests.screens.test_fault_room import begin, door, enter, search, settled
from tests.screens.test_season_room import bring

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


@pytest.mark.parametrize(("filled_before", "asks"), [(300, True), (100, False)])
def test_fuel_that_came_after_the_work_is_not_asked_about(
    shed: Shed, filled_before: int, *, asks: bool
):
    red, hub = bring(shed, "K02", "Red one"), shed.rooms._hub
    desk = shed.rooms._fleet._desk  # type: ignore[union-attr]
    assert hub is not None

    def back(days: int) -> date:
        return TODAY - timedelta(days=days)

    judging = desk.judged(red)
    assert judging is not None
    tank = int(judging.facts.vessels[0].vessel_id)
    fill = Fill(vessel_id=tank, day=back(filled_before), sort=FuelSort.E10, volume_ul=1_000_000)
    work = RecordWork(machine_id=red, day=back(200), lines=(LineGiven(task="E4-20"),))
    assert isinstance(hub.perform(fill), Changes)
    changes = hub.perform(work)
    assert isinstance(changes, Changes)
    asking = FuelDone(hub=hub, words=desk._words, judged=desk.judged, form=desk._begin_fuel)
    asking.note(work, changes)
    assert (asking.next() is not None) is asks
