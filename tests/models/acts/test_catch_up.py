"""What ran meanwhile, accepted for several machines in one step."""

from __future__ import annotations

from datetime import date

import pytest

from models.acts.catch_up import CatchUp
from models.acts.hours import AcceptHours, ReadHours
from models.errors import Refused, RefusedCode
from models.tables.hours import InferredPointRow
from models.words import InferredFrom
from tests.models.acts.shed import Shed

DAY = date(2025, 11, 25)


def accepted(machine: int, hours: int) -> AcceptHours:
    return AcceptHours(
        machine_id=machine,
        day=DAY,
        total_seconds=hours * 3600,
        spread_seconds=1800,
        inferred_from=InferredFrom.AS_ALWAYS,
    )


def test_all_or_nothing(shed: Shed) -> None:
    thrower = shed.add_machine()
    shed.run(ReadHours(machine_id=thrower, day=date(2025, 11, 1), shown_seconds=40 * 3600))
    with pytest.raises(Refused) as caught:
        shed.run(CatchUp(hours=(accepted(thrower, 41), accepted(thrower, 2))))
    assert caught.value.code is RefusedCode.LOWER_THAN_BEFORE
    assert shed.rows(InferredPointRow) == []
    shed.run(CatchUp(hours=(accepted(thrower, 41),)))
    assert {row.total_seconds for row in shed.rows(InferredPointRow)} == {41 * 3600}


def test_nothing_is_not_kept(shed: Shed) -> None:
    with pytest.raises(Refused) as caught:
        shed.run(CatchUp(hours=()))
    assert caught.value.code is RefusedCode.NOTHING_GIVEN
