"""The list as it was shown last: kept for the next start, and taken back for the first paint."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import asdict
from pathlib import Path

from app.fleet.state import FleetState, MachineLine
from models.glance import GlanceRow, glance_key, read_glance, write_glance
from models.moment import Moment
from schedules.states import MachineState


def first_picture(path: Path, cache: Path, clock: Callable[[], Moment]) -> FleetState | None:
    """What was shown last, if neither the file nor the day has changed since."""
    glance = read_glance(cache)
    if glance is None or glance.key != glance_key(path) or glance.on != clock().today:
        return None
    rows: list[MachineLine] = []
    for row in glance.rows:
        try:
            rows.append(MachineLine(**{**row.sentence, "state": MachineState(row.state)}))
        except (TypeError, ValueError):
            return None
    return FleetState(headline="", second="", machines=tuple(rows), can_write=False, busy=True)


def glance_sentence(line: MachineLine) -> dict[str, object]:
    """A row of the list as data for the glance."""
    return {name: str(value) if name == "state" else value for name, value in asdict(line).items()}


def keep_picture(
    path: Path, cache: Path, clock: Callable[[], Moment], lines: Iterable[MachineLine]
) -> None:
    """Keep the list for the next start."""
    rows = [
        GlanceRow(
            machine_id=line.machine_id,
            name=line.name,
            kind=line.icon,
            place="",
            state=str(line.state),
            sentence=glance_sentence(line),
        )
        for line in lines
    ]
    write_glance(cache, rows, key=glance_key(path), on=clock().today)
