"""Acts just large enough to try the writer with: they touch rows in every way an act can."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import delete, select, update
from sqlalchemy.orm import Session

from models.changes import ActCode, ActLabel, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import plain_text
from models.moment import Moment
from models.tables.hours import UseRow
from models.tables.machines import FittingRow, ItemRow, MachinePlaceRow, MachineRow
from models.tables.places import PlaceRow
from models.tables.work import JobRow
from models.words import RunOutcome
from schedules.facts import ItemSort, Past, Shelter

LABEL = ActLabel(ActCode.CHANGE_MACHINE)


def changed(*areas: Area, label: ActLabel = LABEL) -> Changes:
    return Changes(areas=frozenset(areas), ids=frozenset(), label=label)


@dataclass(frozen=True, slots=True, kw_only=True)
class AddPlace:
    name: str

    def run(self, session: Session, moment: Moment) -> Changes:
        session.add(PlaceRow(name=plain_text("name", self.name, least=1), shelter=Shelter.SHED))
        return changed(Area.PLACES, label=ActLabel(ActCode.ADD_PLACE))


@dataclass(frozen=True, slots=True, kw_only=True)
class AddMachine:
    """A machine with an engine fitted, a job, and a place if there is one."""

    name: str
    came_on: date = date(2024, 4, 1)

    def run(self, session: Session, moment: Moment) -> Changes:
        name = plain_text("name", self.name, least=1)
        items = [
            ItemRow(sort=sort, name=name, came_on=self.came_on, past=Past.NEW)
            for sort in (ItemSort.MACHINE, ItemSort.ENGINE)
        ]
        session.add_all(items)
        session.flush()
        machine = MachineRow(item_id=items[0].id, kind_code="K02")
        session.add(machine)
        session.flush()
        session.add(
            FittingRow(item_id=items[1].id, machine_id=machine.id, from_on=self.came_on),
        )
        session.add(JobRow(machine_id=machine.id, text="squeals when wet", noted_on=self.came_on))
        place = session.scalars(select(PlaceRow.id).limit(1)).first()
        if place is not None:
            session.add(
                MachinePlaceRow(machine_id=machine.id, place_id=place, from_on=self.came_on),
            )
        return changed(Area.MACHINES, label=ActLabel(ActCode.ADD_MACHINE))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rename:
    """Change an item through the mapper."""

    number: int
    name: str

    def run(self, session: Session, moment: Moment) -> Changes:
        items = session.scalars(select(ItemRow).order_by(ItemRow.id)).all()
        if items:
            items[self.number % len(items)].name = plain_text("name", self.name, least=1)
        return changed(Area.UNITS)


@dataclass(frozen=True, slots=True, kw_only=True)
class RenameAll:
    """Change every item in one statement, past the mapper."""

    note: str

    def run(self, session: Session, moment: Moment) -> Changes:
        session.execute(update(ItemRow).values(note=plain_text("note", self.note, most=10_000)))
        return changed(Area.UNITS)


@dataclass(frozen=True, slots=True, kw_only=True)
class LogUse:
    number: int
    run_seconds: int | None = None
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        machines = session.scalars(select(MachineRow.id).order_by(MachineRow.id)).all()
        if not machines:
            raise Refused(RefusedCode.NOT_THERE, what="machine", id=self.number)
        session.add(
            UseRow(
                machine_id=machines[self.number % len(machines)],
                happened_on=moment.today,
                run_seconds=self.run_seconds,
                outcome=RunOutcome.RAN,
                note=self.note,
            )
        )
        return changed(Area.USES, label=ActLabel(ActCode.LOG_USE))


@dataclass(frozen=True, slots=True, kw_only=True)
class StrikeUse:
    """Strike the last use in the file, if it is not struck yet."""

    def run(self, session: Session, moment: Moment) -> Changes:
        use = session.scalars(select(UseRow).order_by(UseRow.id.desc()).limit(1)).first()
        if use is None or use.struck:
            raise Refused(RefusedCode.NOTHING_CHANGED)
        session.add(
            UseRow(
                machine_id=use.machine_id,
                happened_on=use.happened_on,
                outcome=use.outcome,
                corrects_id=use.id,
                struck=True,
            )
        )
        return changed(Area.USES, label=ActLabel(ActCode.STRIKE_ENTRY))


@dataclass(frozen=True, slots=True, kw_only=True)
class RemoveMachine:
    """Remove a machine without uses in one statement; its job, place and fitting go by cascade."""

    number: int

    def run(self, session: Session, moment: Moment) -> Changes:
        used = select(UseRow.machine_id)
        free = session.scalars(
            select(MachineRow.id).where(MachineRow.id.not_in(used)).order_by(MachineRow.id)
        ).all()
        if not free:
            raise Refused(RefusedCode.NOT_THERE, what="machine", id=self.number)
        machine = free[self.number % len(free)]
        session.execute(delete(MachineRow).where(MachineRow.id == machine))
        return changed(Area.MACHINES, label=ActLabel(ActCode.REMOVE_MACHINE))


@dataclass(frozen=True, slots=True, kw_only=True)
class AddThenFail:
    """Writes, sees it through to the database, and then refuses."""

    def run(self, session: Session, moment: Moment) -> Changes:
        AddMachine(name="never there").run(session, moment)
        session.flush()
        raise Refused(RefusedCode.NOTHING_CHANGED)
