"""A vessel never holds more than it can; what was seen goes before what was summed."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from schedules.facts import FuelSort, LotFacts, VesselId, VesselSort
from schedules.ledger import FuelMove, FuelMoved, Holds, lots_after

CAN, TANK = VesselId(1), VesselId(2)
VESSELS = {CAN: Holds(5_000, VesselSort.CAN), TANK: Holds(1_000, VesselSort.TANK)}
DAYS = (date(2025, 3, 1), date(2025, 4, 1), date(2025, 5, 1))


def put(vessel: VesselId, volume: int | None, day: date = DAYS[0]) -> FuelMoved:
    lot = LotFacts(bought_on=day, volume_ul=volume or 0, sort=FuelSort.E5)
    return FuelMoved(move=FuelMove.PUT, vessel_id=vessel, day=day, volume_ul=volume, lot=lot)


def pour(volume: int | None, day: date = DAYS[1]) -> FuelMoved:
    return FuelMoved(
        move=FuelMove.POUR, vessel_id=CAN, day=day, volume_ul=volume, to_vessel_id=TANK
    )


def volumes(*moves: FuelMoved) -> dict[VesselId, list[tuple[date | None, int]]]:
    return {
        vessel: [(lot.bought_on, lot.volume_ul) for lot in lots]
        for vessel, lots in lots_after(moves, VESSELS).items()
    }


def test_what_no_room_is_left_for_was_used_without_a_word():
    found = volumes(put(TANK, 800, DAYS[0]), put(TANK, 700, DAYS[1]))
    assert found[TANK] == [(DAYS[0], 300), (DAYS[1], 700)]


def test_what_is_poured_makes_room_as_well():
    found = volumes(put(TANK, 800, DAYS[0]), put(CAN, 4_000, DAYS[1]), pour(900))
    assert found == {CAN: [(DAYS[1], 3_100)], TANK: [(DAYS[0], 100), (DAYS[1], 900)]}


def test_all_there_is_stays_in_the_can_where_it_does_not_fit():
    found = volumes(put(CAN, 4_000), pour(None))
    assert found == {CAN: [(DAYS[0], 3_000)], TANK: [(DAYS[0], 1_000)]}


MOVES = st.one_of(
    st.builds(put, st.just(CAN), st.none() | st.integers(1, 5_000), st.sampled_from(DAYS)),
    st.builds(put, st.just(TANK), st.none() | st.integers(1, 1_000), st.sampled_from(DAYS)),
    st.builds(pour, st.none() | st.integers(1, 1_000), st.sampled_from(DAYS)),
)


@given(st.lists(MOVES, max_size=12))
def test_no_vessel_ever_holds_more_than_it_can(moves: list[FuelMoved]):
    for vessel, lots in lots_after(moves, VESSELS).items():
        assert sum(lot.volume_ul for lot in lots) <= VESSELS[vessel].capacity_ul


def oil(volume: int) -> FuelMoved:
    return FuelMoved(move=FuelMove.OIL, vessel_id=CAN, day=DAYS[0], volume_ul=volume)


def level(volume: int) -> FuelMoved:
    return FuelMoved(move=FuelMove.LEVEL, vessel_id=CAN, day=DAYS[1], volume_ul=volume)


def test_oil_that_waits_is_in_the_level_that_was_seen():
    (lot,) = lots_after([oil(20), level(500)], VESSELS)[CAN]
    assert (lot.volume_ul, lot.oil_ul, lot.sort) == (500, 20, FuelSort.PREMIX)


def test_less_than_the_oil_that_waits_leaves_so_much_oil():
    assert volumes(oil(20), level(20))[CAN] == []
    for seen, left in ((20, 20), (5, 5), (0, 0)):
        (lot,) = lots_after([oil(20), level(seen), put(CAN, 500, DAYS[2])], VESSELS)[CAN]
        assert (lot.volume_ul, lot.oil_ul) == (500 + left, left)


@given(st.integers(1, 600), st.integers(0, 5_000))
def test_there_is_what_was_seen_however_much_oil_waited(waiting: int, seen: int):
    found = sum(lot.volume_ul for lot in lots_after([oil(waiting), level(seen)], VESSELS)[CAN])
    assert found == (seen if seen > waiting else 0)
