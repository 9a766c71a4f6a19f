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
