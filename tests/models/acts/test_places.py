"""Places, their weather and their seasons."""

from datetime import timedelta

import pytest

from models.acts.fuel import AddVessel
from models.acts.places import (
    AddPlace,
    ChangePlace,
    MonthWeather,
    RemovePlace,
    SetSeasons,
    SetWeather,
)
from models.errors import RefusedCode
from models.facts.places import PlaceFacts, read_places
from resources.loader import load_catalogue
from schedules.facts import MonthDay, Shelter, VesselSort, Window
from tests.models.acts.shed import LONG, THROWER, Shed


def place(shed: Shed, number: int) -> PlaceFacts:
    with shed.household.read() as session:
        return read_places(session, catalogue=load_catalogue())[number]


def window(first: tuple[int, int], last: tuple[int, int]) -> Window:
    return Window(MonthDay(*first), MonthDay(*last))


def test_a_place_comes_back(bare: Shed):
    number = bare.add_place("  Hütte 🏔 ", south=True, climate="nordic", shelter=Shelter.GARAGE)
    found = place(bare, number)
    assert (found.name, found.south, found.climate, found.shelter) == (
        "Hütte 🏔",
        True,
        "nordic",
        Shelter.GARAGE,
    )


def test_changing_leaves_the_rest(bare: Shed):
    number = bare.add_place("Lean-to", climate="nordic")
    bare.run(ChangePlace(place_id=number, name="LEAN-TO", note="two\nlines"))
    assert (place(bare, number).name, place(bare, number).climate) == ("LEAN-TO", "nordic")
    bare.refuses(ChangePlace(place_id=number, name="LEAN-TO"), RefusedCode.NOTHING_CHANGED)


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"name": ""}, RefusedCode.NOTHING_GIVEN),
        ({"name": LONG}, RefusedCode.TOO_LONG),
        ({"name": "lean-TO"}, RefusedCode.ALREADY_THERE),
        ({"name": "A", "climate": "moon"}, RefusedCode.UNKNOWN_CODE),
        ({"name": "A", "region": "moon"}, RefusedCode.UNKNOWN_CODE),
        ({"name": "A", "note": "x\x00"}, RefusedCode.NOT_PLAIN_TEXT),
        ({"name": "A", "note": "x" * 10_001}, RefusedCode.TOO_LONG),
    ],
)
def test_a_place_that_makes_no_sense_is_refused(
    standing: Shed, given: dict[str, str], code: RefusedCode
):
    standing.refuses(AddPlace(**given), code)  # type: ignore[arg-type]


def test_its_own_weather_stands_in_for_the_climates(bare: Shed):
    number = bare.add_place(climate="nordic")
    usual = place(bare, number).month_means_mc
    bare.run(SetWeather(place_id=number, months=(MonthWeather(month=2, mean_mc=-12_500),)))
    assert place(bare, number).month_means_mc == (usual[0], -12_500, *usual[2:])
    bare.run(SetWeather(place_id=number, months=()))
    assert place(bare, number).month_means_mc == usual


@pytest.mark.parametrize(
    ("months", "code"),
    [
        ((MonthWeather(month=13, mean_mc=0),), RefusedCode.OUT_OF_RANGE),
        ((MonthWeather(month=1, mean_mc=99_000),), RefusedCode.OUT_OF_RANGE),
        ((MonthWeather(month=1, mean_mc=0, low_mc=5_000),), RefusedCode.OUT_OF_RANGE),
        ((MonthWeather(month=1, mean_mc=0, high_mc=-5_000),), RefusedCode.OUT_OF_RANGE),
        ((MonthWeather(month=1, mean_mc=0),) * 2, RefusedCode.ALREADY_THERE),
    ],
)
def test_weather_that_cannot_be(
    standing: Shed, months: tuple[MonthWeather, ...], code: RefusedCode
):
    standing.refuses(SetWeather(place_id=1, months=months), code)


def test_seasons_of_a_place_none_and_the_catalogues(bare: Shed):
    number = bare.add_place()
    own = (window((12, 1), (2, 29)), window((6, 1), (6, 30)))
    bare.run(SetSeasons(place_id=number, kind=THROWER, windows=own))
    assert place(bare, number).own_windows(THROWER) == own
    bare.run(SetSeasons(place_id=number, kind=THROWER, windows=()))
    assert place(bare, number).own_windows(THROWER) == ()
    bare.run(SetSeasons(place_id=number, kind=THROWER, windows=None))
    assert place(bare, number).own_windows(THROWER) is None


@pytest.mark.parametrize(
    ("windows", "code"),
    [
        ((window((2, 29), (2, 29)),), RefusedCode.SEASON_WITHOUT_DAYS),
        ((window((2, 30), (3, 1)),), RefusedCode.OUT_OF_RANGE),
        ((window((6, 31), (7, 1)),), RefusedCode.OUT_OF_RANGE),
        ((window((12, 31), (12, 32)),), RefusedCode.OUT_OF_RANGE),
        ((window((13, 1), (1, 1)),), RefusedCode.OUT_OF_RANGE),
        ((window((1, 1), (1, 2)),) * 3, RefusedCode.OUT_OF_RANGE),
    ],
)
def test_seasons_that_cannot_be(standing: Shed, windows: tuple[Window, ...], code: RefusedCode):
    standing.refuses(SetSeasons(place_id=1, kind=THROWER, windows=windows), code)
    standing.refuses(SetSeasons(place_id=1, kind="K99", windows=()), RefusedCode.UNKNOWN_CODE)


def test_only_a_place_at_which_nothing_stood_is_removed(shed: Shed):
    empty = shed.add_place("Cellar")
    shed.refuses(RemovePlace(place_id=1), RefusedCode.HAS_RECORDS, name="Lean-to")
    shed.run(RemovePlace(place_id=empty))
    shed.refuses(RemovePlace(place_id=empty), RefusedCode.NOT_THERE, id=empty)
    held = shed.add_place("Shelf")
    can = AddVessel(
        name="Can",
        sort=VesselSort.CAN,
        capacity_ul=5_000_000,
        came_on=shed.today - timedelta(days=1),
        place_id=held,
    )
    shed.run(can)
    shed.refuses(RemovePlace(place_id=held), RefusedCode.HAS_RECORDS)


@pytest.mark.parametrize("number", [0, -1, 2, 2**63, 10**30, -(10**30)])
def test_a_number_that_is_nobodys(bare: Shed, number: int):
    bare.add_place()
    bare.refuses(ChangePlace(place_id=number, name="X"), RefusedCode.NOT_THERE, what="place")
