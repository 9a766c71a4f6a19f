"""What work uses up comes off the shelf, and lies there again when it was not so."""

from datetime import date

import pytest

from models.acts.corrections import CorrectEntry, StrikeEntry
from models.acts.stores import StockPart
from models.acts.work import LineGiven, RecordWork
from models.changes import Area
from models.tables.stores import ShelfPartRow
from tests.models.acts.shed import Shed

DAY = date(2025, 10, 4)


def work(quantity: int, *, part: str = "shear-pin", said: str = "", day: date = DAY) -> RecordWork:
    line = LineGiven(task="S2-01", part=part, part_text=said, quantity=quantity)
    return RecordWork(machine_id=1, day=day, lines=(line,))


def lying(shed: Shed) -> list[int]:
    return [row.quantity for row in shed.rows(ShelfPartRow)]


def test_work_takes_parts_off_the_shelf_and_undo_puts_them_back(shed: Shed):
    shed.run(StockPart(part="shear-pin", quantity=6))
    changes = shed.run(work(2))
    assert (Area.STORES, 1) in changes.ids
    assert lying(shed) == [4]
    writer = shed.household.need_writer()
    writer.undo(moment=shed.moment)
    assert lying(shed) == [6]
    writer.redo(moment=shed.moment)
    shed.run(work(9))
    assert lying(shed) == [0]
    assert (Area.STORES, 1) not in shed.run(work(1)).ids


def test_a_correction_moves_the_difference_and_a_struck_record_puts_all_back(shed: Shed):
    shed.run(StockPart(part="shear-pin", quantity=6))
    shed.run(work(2))
    shed.run(CorrectEntry(entry_id=1, by=work(3)))
    assert lying(shed) == [3]
    shed.run(CorrectEntry(entry_id=2, by=work(1, day=date(2025, 10, 5))))
    assert lying(shed) == [5]
    assert (Area.STORES, 1) in shed.run(StrikeEntry(area=Area.WORK, entry_id=3)).ids
    assert lying(shed) == [6]


@pytest.mark.parametrize(
    ("said", "left"), [("", [4, 4]), ("M6", [2, 4]), ("m8", [4, 2]), ("M10", [4, 4])]
)
def test_of_two_sorts_the_one_that_is_named_is_taken(shed: Shed, said: str, left: list[int]):
    for spec in ("M6", "M8"):
        shed.run(StockPart(part="shear-pin", spec=spec, quantity=4))
    shed.run(work(2, said=said))
    assert lying(shed) == left


def test_what_does_not_lie_there_was_bought_on_the_way(shed: Shed):
    shed.run(StockPart(part="shear-pin", quantity=4))
    shed.run(work(1, part="spark-plug"))
    assert lying(shed) == [4]
