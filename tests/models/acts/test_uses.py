"""Uses: three taps are enough, a day has 24 hours."""

from datetime import date
from typing import Any

import pytest

from models.acts.household import ChangeSettings
from models.acts.uses import LogUse
from models.errors import RefusedCode
from models.tables.hours import UseRow
from models.words import RunOutcome
from schedules.units import hours
from tests.models.acts.shed import CAME, LONG, THROWER, Shed

DAY = date(2025, 1, 20)


def test_that_it_was_out_is_enough(shed: Shed):
    shed.run(ChangeSettings(person="Ada"))
    shed.run(LogUse(machine_id=1, day=DAY, count=2, pins_used=1))
    facts = shed.machine()
    assert [use.day for use in facts.uses] == [DAY, DAY]
    assert {use.seconds for use in facts.uses} == {facts.kind.use_seconds}
    (row,) = shed.rows(UseRow)
    assert (row.entered_by, row.entered_at, row.pins_used) == ("Ada", shed.moment.now, 1)


def test_what_did_not_start_was_not_used(shed: Shed):
    shed.run(LogUse(machine_id=1, day=DAY, outcome=RunOutcome.DID_NOT))
    assert shed.machine().uses == ()


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"machine_id": 2}, RefusedCode.NOT_THERE),
        ({"day": date(2025, 11, 26)}, RefusedCode.DAY_AHEAD),
        ({"day": date(2019, 1, 1)}, RefusedCode.DAY_TOO_EARLY),
        ({"day": date(1899, 1, 1)}, RefusedCode.DAY_OUT_OF_RANGE),
        ({"run_seconds": -1}, RefusedCode.OUT_OF_RANGE),
        ({"run_seconds": 86_401}, RefusedCode.OUT_OF_RANGE),
        ({"run_seconds": 60, "outcome": RunOutcome.DID_NOT}, RefusedCode.OUT_OF_RANGE),
        ({"count": 0}, RefusedCode.OUT_OF_RANGE),
        ({"count": 1001}, RefusedCode.OUT_OF_RANGE),
        ({"pins_used": -1}, RefusedCode.OUT_OF_RANGE),
        ({"note": LONG}, RefusedCode.TOO_LONG),
        ({"note": "\x00"}, RefusedCode.NOT_PLAIN_TEXT),
    ],
)
def test_uses_that_make_no_sense(standing: Shed, given: dict[str, Any], code: RefusedCode):
    standing.refuses(LogUse(**{"machine_id": 1, "day": DAY, **given}), code)


def test_a_day_has_24_hours_in_all(shed: Shed):
    shed.add_machine(THROWER, name="Blue one")
    shed.run(LogUse(machine_id=1, day=DAY, run_seconds=80_000))
    shed.refuses(
        LogUse(machine_id=1, day=DAY, run_seconds=6_401),
        RefusedCode.MORE_THAN_THE_DAY,
        ran=hours(86_401),
        day=DAY,
    )
    shed.run(LogUse(machine_id=1, day=DAY, run_seconds=6_400))
    shed.run(LogUse(machine_id=2, day=DAY, run_seconds=86_400))
    shed.run(LogUse(machine_id=1, day=CAME, run_seconds=86_400))
