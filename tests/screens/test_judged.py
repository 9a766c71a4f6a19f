"""What is entered while the list is still being read is not overtaken by what was read before."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from app.fleet.judged import FEW, JudgedFleet
from app.fleet.picture import Pictures
from app.pieces import slices
from app.wording.units import METRIC
from app.wording.wording import Wording
from models.acts.faults import NoteFault
from models.facts.settings import read_settings
from resources.loader import load_catalogue
from schedules.facts import MachineId, MachineState
from tests.screens.conftest import Shed

CATALOGUE = load_catalogue()


@pytest.mark.parametrize(("touched", "later"), [(1, True), (FEW + 1, False)])
def test_an_entry_overtakes_what_was_read_before_it(
    shed: Shed, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, *, touched: int, later: bool
) -> None:
    shed.stand(*(f"Machine {n}" for n in range(1, FEW + 3)))
    hub = shed.rooms._hub
    assert hub is not None
    with hub.read() as session:
        settings = read_settings(session)
    today = hub.moment().today
    words = Wording("en_GB", METRIC, CATALOGUE)
    fleet = JudgedFleet(hub=hub, catalogue=CATALOGUE, settings=settings, parent=shed.window)
    pictures = Pictures(words=words, catalogue=CATALOGUE, policy=settings.policy, on=today)
    monkeypatch.setattr(slices, "SLICE_MS", 1)  # the first slice reads, and judges nothing yet
    fleet.read(pictures, None)
    assert fleet.done == 0
    first = sorted(fleet._queue)[:touched]
    for number in first:
        hub.perform(
            NoteFault(machine_id=int(number), text="broken", since_on=today, stops_use=True)
        )
    fleet.read(pictures, frozenset(MachineId(number) for number in first), later=later)
    qtbot.waitUntil(lambda: not fleet.running)
    assert {fleet.lines[int(number)].state for number in first} == {MachineState.DOWN}
    fleet.stop()
