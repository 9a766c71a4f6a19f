"""A household to try acts on: every act that goes through is undone and done again on the way."""

from __future__ import annotations

from contextlib import closing
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from models.acts.machines import AddMachine
from models.acts.places import AddPlace
from models.changes import Area, Changes
from models.dump import digest
from models.engines import GUARDS, connect
from models.errors import Refused, RefusedCode
from models.facts.fleet import read_cans, read_fleet
from models.file import Household
from models.moment import Moment
from models.writer import Act
from resources.loader import load_catalogue
from schedules.facts import ItemFacts, ItemSort, MachineFacts, Past, VesselFacts

CAME = date(2020, 1, 15)
THROWER, MOWER, SAW, BATTERY_TOOL = "K02", "K04", "K09", "K10"
LONG = "x" * 10_001
# Acts are tried by the hundred, and each is written to the disk three times over; whether a disk
# keeps its word is tried elsewhere.
IN_MEMORY = Path("/dev/shm")  # noqa: S108  (a folder of its own is made in it)


@dataclass(frozen=True)
class Shed:
    household: Household
    moment: Moment

    @property
    def today(self) -> date:
        return self.moment.today

    def held(self) -> str:
        with closing(connect(self.household.path, mode="ro", pragmas=GUARDS)) as connection:
            return digest(connection)

    def run(self, act: Act) -> Changes:
        """Carry out the act; back and forth must lead to the same file."""
        writer = self.household.need_writer()
        before = self.held()
        changes = writer.run(act, moment=self.moment)
        after = self.held()
        if after != before:
            assert writer.undo(moment=self.moment) is not None
            assert self.held() == before
            writer.redo(moment=self.moment)
            assert self.held() == after
        assert changes.areas == {area for area, _ in changes.ids}
        return changes

    def refuses(self, act: Act, code: RefusedCode, **values: object) -> None:
        """The act is refused with that code, and the file is as it was."""
        before = self.held()
        with pytest.raises(Refused) as caught:
            self.household.need_writer().run(act, moment=self.moment)
        assert caught.value.code is code
        assert values.items() <= dict(caught.value.values).items()
        assert self.held() == before

    def add_place(self, name: str = "Lean-to", **given: Any) -> int:
        return number_of(self.run(AddPlace(name=name, **given)), Area.PLACES)

    def add_machine(self, kind: str = THROWER, *, place: int = 1, **given: Any) -> int:
        wanted = {"name": "Red one", "came_on": CAME, "past": Past.NEW, **given}
        return number_of(self.run(AddMachine(kind=kind, place_id=place, **wanted)), Area.MACHINES)

    def machine(self, number: int = 1, *, on: date | None = None) -> MachineFacts:
        with self.household.read() as session:
            (found,) = [
                facts
                for facts in read_fleet(session, on=on or self.today, catalogue=load_catalogue())
                if facts.machine_id == number
            ]
        return found

    def item(self, sort: ItemSort, number: int = 1) -> ItemFacts:
        return next(item for item in self.machine(number).items if item.sort is sort)

    def cans(self) -> tuple[VesselFacts, ...]:
        with self.household.read() as session:
            return read_cans(session, on=self.today, catalogue=load_catalogue())

    def rows(self, table: type[Any]) -> list[Any]:
        with self.household.read() as session:
            return list(session.scalars(select(table).order_by(table.id)))


def number_of(changes: Changes, area: Area) -> int:
    """The id of the one row of an area that was touched."""
    (number,) = [number for each, number in changes.ids if each is area]
    return number
