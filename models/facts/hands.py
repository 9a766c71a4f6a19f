"""Who last worked on each machine: the name on its newest record of work or use."""

from __future__ import annotations

from datetime import date

from sqlalchemy import func, select, union_all
from sqlalchemy.orm import Session

from models.facts.scope import Ids, among
from models.tables.entries import in_force
from models.tables.hours import UseRow
from models.tables.work import WorkRow


def read_hands(session: Session, *, on: date, machines: Ids = None) -> dict[int, str]:
    """The last name known by machine, up to the day; who did the work goes before who typed it.

    Machines nobody put a name to are left out.
    """
    who = func.coalesce(func.nullif(WorkRow.by_whom, ""), WorkRow.entered_by)
    worked = select(WorkRow.machine_id, WorkRow.happened_on, WorkRow.entered_at, who).where(
        in_force(WorkRow),
        WorkRow.happened_on <= on,
        who != "",
        among(WorkRow.machine_id, machines),
    )
    used = select(
        UseRow.machine_id, UseRow.happened_on, UseRow.entered_at, UseRow.entered_by
    ).where(
        in_force(UseRow),
        UseRow.happened_on <= on,
        UseRow.entered_by != "",
        among(UseRow.machine_id, machines),
    )
    found = session.execute(union_all(worked, used)).all()
    in_order = sorted(found, key=lambda row: row[1:3])
    return {machine: name for machine, _day, _entered, name in in_order if machine is not None}
