"""What is chosen before a list is laid down: for what, which machines, what is wanted of each.
No Qt, no file."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from app.season.acts import begun
from app.season.laying import Row, Wanted
from app.season.over import jobs_before, with_passed
from app.season.picture import decided
from app.wording.sittings import SittingWords
from models.acts.runs import BeginRun
from schedules.facts import MachineId, TaskCode
from schedules.sitting_facts import Ask, RunSort


@dataclass(slots=True, kw_only=True)
class Choosing:
    """`gates`, `passed`: for a first going-over; `day_only`: out for a day, a late snowfall."""

    sort: RunSort = RunSort.PUTTING_AWAY
    wanted: dict[MachineId, Wanted] = field(default_factory=dict[MachineId, Wanted])
    gates: bool = False
    passed: dict[MachineId, frozenset[TaskCode]] = field(
        default_factory=dict[MachineId, frozenset[TaskCode]]
    )
    day_only: bool = False

    def begin_with(self, row: Row, number: MachineId) -> None:
        """This machine, for what makes sense of it as it is."""
        asleep = row.machines[number].almanac.laid_up
        self.sort = RunSort.GETTING_OUT if asleep else RunSort.PUTTING_AWAY
        self.wanted = {number: Wanted(machine_id=number)}

    def choose_sort(self, sort: RunSort, row: Row | None) -> None:
        """For this; a machine for which it makes no sense is chosen no more."""
        self.sort = sort
        if row is not None:
            self.wanted = {n: one for n, one in self.wanted.items() if row.can(sort, n)}

    def tick(self, number: MachineId, *, ticked: bool) -> None:
        """This machine, too, or not any more."""
        self.wanted.pop(number, None)
        if ticked:
            self.wanted[number] = Wanted(machine_id=number)

    def decide(self, number: MachineId, name: str, value: str) -> None:
        """One thing decided anew for a machine that is chosen."""
        if number in self.wanted:
            self.wanted[number] = decided(self.wanted[number], name, value)

    def keep(self, row: Row) -> None:
        """Only the machines that are there."""
        self.wanted = {n: one for n, one in self.wanted.items() if n in row.machines}

    def asks(self, row: Row) -> tuple[Ask, ...]:
        """The machines with the work that belongs to it."""
        return row.asks(
            self.sort,
            tuple(self.wanted.values()),
            gates=self.gates,
            with_list=not self.day_only,
            passed=self.passed,
        )

    def begun(self, row: Row, said: SittingWords, *, on: date, by_whom: str) -> BeginRun:
        """The act that begins the run with its list."""
        asks = self.asks(row)
        steps = with_passed(row.laid(self.sort, asks), self.sort, self.passed)
        jobs = jobs_before(row, self.sort, list(self.wanted), self.passed, said)
        return begun(self.sort, asks, steps, on=on, by_whom=by_whom, jobs=jobs)
