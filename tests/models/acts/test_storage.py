"""Spells in storage follow one another and never overlap."""

from datetime import date

import pytest

from models.acts.storage import ChangePlan, PutAway, Wake
from models.errors import RefusedCode
from models.tables.work import StorageSpellRow
from schedules.facts import StorageFacts
from tests.models.acts.shed import LONG, Shed

SPRING, AUTUMN, NEXT_SPRING = date(2024, 4, 2), date(2024, 11, 5), date(2025, 4, 9)


def test_to_sleep_and_out_again(shed: Shed):
    shed.run(PutAway(machine_id=1, on=SPRING, planned_last=date(2030, 1, 1), off_or_open="key out"))
    shed.run(ChangePlan(machine_id=1, planned_last=None, note="left tyre soft"))
    shed.run(Wake(machine_id=1, on=AUTUMN))
    shed.run(PutAway(machine_id=1, on=AUTUMN))
    assert shed.machine().storage == (
        StorageFacts(put_away_on=SPRING, woken_on=AUTUMN),
        StorageFacts(put_away_on=AUTUMN),
    )
    row = shed.rows(StorageSpellRow)[0]
    assert (row.off_or_open, row.note) == ("key out", "left tyre soft")


def test_no_spell_inside_another(shed: Shed):
    shed.refuses(Wake(machine_id=1, on=AUTUMN), RefusedCode.NOT_PUT_AWAY, name="Red one")
    shed.refuses(ChangePlan(machine_id=1), RefusedCode.NOT_PUT_AWAY)
    shed.run(PutAway(machine_id=1, on=SPRING))
    shed.refuses(PutAway(machine_id=1, on=NEXT_SPRING), RefusedCode.PUT_AWAY_ALREADY, day=SPRING)
    shed.refuses(Wake(machine_id=1, on=date(2024, 4, 1)), RefusedCode.DAY_TOO_EARLY)
    shed.refuses(Wake(machine_id=1, on=date(2025, 11, 26)), RefusedCode.DAY_AHEAD)
    shed.refuses(ChangePlan(machine_id=1), RefusedCode.NOTHING_CHANGED)
    shed.refuses(ChangePlan(machine_id=1, planned_last=date(2024, 4, 1)), RefusedCode.DAY_TOO_EARLY)
    shed.run(Wake(machine_id=1, on=AUTUMN))
    shed.refuses(PutAway(machine_id=1, on=SPRING), RefusedCode.PUT_AWAY_ALREADY)
    shed.refuses(PutAway(machine_id=1, on=date(2023, 1, 1)), RefusedCode.PUT_AWAY_ALREADY)
    shed.run(PutAway(machine_id=1, on=NEXT_SPRING))


@pytest.mark.parametrize(
    ("act", "code"),
    [
        (PutAway(machine_id=9, on=SPRING), RefusedCode.NOT_THERE),
        (PutAway(machine_id=1, on=date(2026, 1, 1)), RefusedCode.DAY_AHEAD),
        (PutAway(machine_id=1, on=date(2019, 1, 1)), RefusedCode.DAY_TOO_EARLY),
        (
            PutAway(machine_id=1, on=SPRING, planned_last=date(2024, 1, 1)),
            RefusedCode.DAY_TOO_EARLY,
        ),
        (PutAway(machine_id=1, on=SPRING, planned_last=date.max), RefusedCode.DAY_OUT_OF_RANGE),
        (PutAway(machine_id=1, on=SPRING, off_or_open=LONG), RefusedCode.TOO_LONG),
        (PutAway(machine_id=1, on=SPRING, note="\x00"), RefusedCode.NOT_PLAIN_TEXT),
    ],
)
def test_spells_that_make_no_sense(standing: Shed, act: PutAway, code: RefusedCode):
    standing.refuses(act, code)
