"""What changes seldom, entered through the window: meters, units, notes, rests, places, shelf."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import QDate
from sqlalchemy import select

from models.tables.answers import DetailRow, DutyAnswerRow
from models.tables.hours import MeterRow
from models.tables.machines import FittingRow, ItemRow
from models.tables.places import PlaceMonthRow, PlaceRow, PlaceWindowRow
from models.tables.stores import ShelfPartRow
from models.tables.work import FaultRow, JobRow, StorageSpellRow
from schedules.facts import ItemSort
from tests.conftest import TODAY
from tests.screens.conftest import Shed


@pytest.fixture
def mower(shed: Shed) -> Shed:
    shed.act("add")
    shed.fill(kind="K05", name="Red mower", past="new")
    shed.fill(came_on=QDate(2024, 4, 1))
    assert shed.keep() == ""
    shed.put_by()
    return shed


def rows(shed: Shed, table: type) -> list:
    hub = shed.rooms.hub
    assert hub is not None
    with hub.read() as session:
        found = list(session.scalars(select(table).order_by(table.id)))
        session.expunge_all()
    return found


def about(shed: Shed, way: str) -> None:
    shed.act("about")
    shed.pick(way)


def test_another_hour_meter_is_put_on(mower: Shed) -> None:
    mower.act("hours")
    mower.fill(shown="31.4")
    assert mower.keep() == ""
    about(mower, "meter")
    mower.fill(what="replaced")
    assert "typed here" in mower.keep() or mower.said()
    mower.fill(old="31.4")
    assert mower.keep() == ""
    old, new = rows(mower, MeterRow)
    assert (old.end_seconds, new.start_seconds) == (113040, 0)
    about(mower, "meter")
    mower.fill(what="turns", turns="1000")
    assert mower.keep() == ""
    assert rows(mower, MeterRow)[-1].modulus_seconds == 3_600_000
    mower.window.actions_by_name["undo"].trigger()
    mower.window.actions_by_name["undo"].trigger()
    (only,) = rows(mower, MeterRow)
    assert only.ended_on is None


def test_an_engine_comes_off_and_another_goes_on(mower: Shed) -> None:
    engine = next(row for row in rows(mower, ItemRow) if row.sort is ItemSort.ENGINE)
    about(mower, "units")
    mower.pick("units-new")
    mower.fill(sort="engine", name="The other engine", start="12")
    assert mower.keep() != ""  # the old one is still on
    mower.put_by()
    about(mower, "units")
    mower.pick(f"units-off-{engine.id}")
    assert mower.keep() == ""
    about(mower, "units")
    mower.pick("units-new")
    mower.fill(sort="engine", name="The other engine", start="12")
    assert mower.keep() == ""
    other = rows(mower, ItemRow)[-1]
    assert (other.name, other.start_seconds) == ("The other engine", 43_200)
    about(mower, "units")
    mower.pick(f"units-gone-{other.id}")
    mower.fill(why="seized")
    assert mower.keep() == ""
    about(mower, "units")
    mower.pick(f"units-fit-{engine.id}")
    assert mower.keep() == ""
    last = rows(mower, FittingRow)[-1]
    assert (last.item_id, last.off_on) == (engine.id, None)


def test_what_is_noted_is_changed_put_off_and_dropped(mower: Shed) -> None:
    about(mower, "noted")
    assert "no job and no fault" in mower.view.notice.text()
    mower.act("job")
    mower.fill(text="paint the deck")
    assert mower.keep() == ""
    mower.act("note_fault")
    mower.fill(text="rattles")
    assert mower.keep() == ""
    (job,), (fault,) = rows(mower, JobRow), rows(mower, FaultRow)
    about(mower, "noted")
    mower.pick(f"noted-job-{job.id}")
    mower.fill(minutes="45")
    assert mower.keep() == ""
    assert rows(mower, JobRow)[0].minutes == 45
    about(mower, "noted")
    mower.pick(f"noted-job-{job.id}")
    mower.fill(why="it is to be scrapped")
    assert mower.keep() == ""
    assert rows(mower, JobRow)[0].dropped_why == "it is to be scrapped"
    about(mower, "noted")
    mower.pick(f"noted-fault-{fault.id}")
    mower.fill(text="rattles badly", put_off=True)
    assert "first" in mower.keep()
    mower.fill(put_off=False)
    assert mower.keep() == ""
    about(mower, "noted")
    mower.pick(f"noted-fault-{fault.id}")
    mower.fill(put_off=True)
    assert mower.keep() == ""
    kept = rows(mower, FaultRow)[0]
    assert (kept.text, kept.put_off_on) == ("rattles badly", TODAY)


def test_a_rest_is_planned_anew(mower: Shed) -> None:
    about(mower, "rest")
    assert "is not put away" in mower.view.notice.text()
    mower.act("store")
    assert mower.keep() == ""
    about(mower, "rest")
    until = TODAY + timedelta(days=120)
    mower.fill(until=QDate(until.year, until.month, until.day), open_end=False)
    mower.fill(off_or_open="fuel valve shut")
    assert mower.keep() == ""
    (spell,) = rows(mower, StorageSpellRow)
    assert (spell.planned_last, spell.off_or_open) == (until, "fuel valve shut")


def place_way(shed: Shed, way: str) -> None:
    shed.act("place")
    shed.pick(str(rows(shed, PlaceRow)[0].id))
    shed.pick(way)


def test_a_place_has_its_own_year(mower: Shed) -> None:
    place_way(mower, "seasons")
    mower.pick("K05")
    mower.fill(how="own", first_day_1="20", first_month_1="4", last_day_1="31", last_month_1="2")
    assert mower.keep() != ""  # there is no such day
    mower.fill(last_day_1="5", last_month_1="10")
    assert mower.keep() == ""
    (window,) = rows(mower, PlaceWindowRow)
    assert (window.first_month, window.first_day, window.last_month, window.last_day) == (
        4,
        20,
        10,
        5,
    )
    place_way(mower, "seasons")
    picks = mower.form.page.fields[0]
    assert "20 Apr to 5 Oct (your own)" in picks.details["K05"]
    mower.pick("K05")
    mower.fill(how="usual")
    assert mower.keep() == ""
    assert not rows(mower, PlaceWindowRow)


def test_own_temperatures_are_typed_kept_and_emptied(mower: Shed) -> None:
    place_way(mower, "weather")
    mower.fill(month_1="-3.5", month_7="warm")
    assert mower.keep() != ""
    mower.fill(month_7="68 F")
    assert mower.keep() == ""
    assert [(row.month, row.mean_mc) for row in rows(mower, PlaceMonthRow)] == [
        (1, -3500),
        (7, 20000),
    ]
    place_way(mower, "weather")
    mower.fill(month_1="")
    assert mower.keep() == ""
    assert [row.month for row in rows(mower, PlaceMonthRow)] == [7]


def test_a_place_in_use_is_not_taken_out(mower: Shed) -> None:
    place_way(mower, "remove")
    assert len(rows(mower, PlaceRow)) == 1
    assert mower.open_form is not None


def test_what_lies_on_the_shelf(mower: Shed) -> None:
    part = next(
        value for value, _ in shelf_choices(mower) if value.endswith("/") and ":" not in value
    )
    mower.fill(part=part, count="two")
    assert "whole number" in mower.keep()
    mower.fill(count="2", spot="drawer")
    assert mower.keep() == ""
    (row,) = rows(mower, ShelfPartRow)
    assert (f"{row.part_code}/", row.quantity, row.spot) == (part, 2, "drawer")
    assert any(said.endswith("2 · drawer") for _, said in shelf_choices(mower))


def shelf_choices(shed: Shed) -> tuple[tuple[str, str], ...]:
    shed.put_by()
    shed.act("shelf")
    return shed.form.page.fields[0].choices


def test_how_hard_it_works_makes_work_due_sooner(mower: Shed) -> None:
    about(mower, "duties")
    assert "as you want it" in mower.keep()
    mower.fill(dust=True)
    assert mower.keep() == ""
    (answer,) = rows(mower, DutyAnswerRow)
    assert (answer.duty_code, answer.applies) == ("dust", True)


def test_what_to_know_of_it_is_one_step_of_undo(mower: Shed) -> None:
    about(mower, "details")
    mower.fill(oil="SAE 30, 0.6 l", belt="12.7 x 965 mm")
    assert mower.keep() == ""
    assert {row.detail_code: row.text for row in rows(mower, DetailRow)} == {
        "oil": "SAE 30, 0.6 l",
        "belt": "12.7 x 965 mm",
    }
    mower.window.actions_by_name["undo"].trigger()
    assert not rows(mower, DetailRow)
