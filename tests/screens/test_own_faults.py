"""A household's own fault model in the room, on paper and in `find`; one written anew later."""

from __future__ import annotations

from app.causes.paper import fault_papers
from app.faults.controller import FaultController
from app.services import services_of
from models.words import SearchDoing
from resources.own_faults import own_folder
from tests.conftest import TODAY
from tests.resources.test_own_faults import example
from tests.screens.conftest import Shed
from tests.screens.test_fault_room import answer, begin, door, enter, search


def test_it_is_searched_by_like_ours_and_written_anew_without_harm(shed: Shed):
    folder = own_folder(shed.path)
    folder.mkdir()
    (folder / "lamp.toml").write_text(example(), "utf-8")
    (folder / "bad.toml").write_text(example().replace('code = "H1"', 'code = "S1"'), "utf-8")
    room = enter(shed)
    assert room.symptom_buttons[-1].code == "H1"
    assert "Headlamp stays dark (your own)" in room.symptom_buttons[-1].accessibleName()
    assert "bad.toml" in room.notice.text()
    assert "code" in room.notice.text()
    begin(shed, room, "H1", Q_FLICK="flicker")
    assert room.shown is not None
    assert room.complaint.text() == "Headlamp stays dark (your own)"
    assert room.shown.card is not None
    assert room.shown.card.reading == "wiggle"
    answer(shed, room, "dark")
    assert [one.subject for one in search(shed).standing] == ["Q-FLICK", "wiggle"]
    anew = example().replace('code = "wiggle"', 'code = "shake"')
    (folder / "lamp.toml").write_text(anew, "utf-8")
    controller_of(shed).reload()
    assert room.shown.card is not None
    assert [line.answer for line in room.shown.path] == ["it flickered first"]
    (folder / "lamp.toml").unlink()
    controller_of(shed).reload()
    assert room.shown.search_id == 0
    assert any(step.doing is SearchDoing.TESTED for step in search(shed).steps)


def controller_of(shed: Shed) -> FaultController:
    return door(shed).controller


def test_it_stands_on_the_fault_sheet(shed: Shed):
    folder = own_folder(shed.path)
    folder.mkdir()
    (folder / "lamp.toml").write_text(example(), "utf-8")
    room = enter(shed)
    begin(shed, room, "H1")
    hub = shed.rooms._hub
    assert hub is not None
    services = services_of(hub.household)
    papers = fault_papers(services, services.fleet(on=TODAY), on=TODAY)
    assert [one.sheet.complaint for one in papers] == ["Headlamp stays dark (your own)"]
    assert papers[0].lines[0].symptom == "H1"
