"""`due`: what each machine is fit for, what is due on it and why."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from app.cli.call import Call, Exit
from app.cli.output import Output
from app.cli.shapes import due_data
from app.services import Services
from app.wording.languages import msg
from app.wording.wording import Wording
from schedules.facts import (
    Band,
    JobVerdict,
    MachineState,
    MachineVerdict,
    TaskState,
    TaskVerdict,
)
from schedules.plan import Judging
from schedules.reasons import Reason, ReasonCode

ASKS = (TaskState.OVERDUE, TaskState.DUE, TaskState.NOT_KNOWN)
# Told in this order; what is clear is not told at all.
TOLD = (TaskState.OVERDUE, TaskState.DUE, TaskState.NOT_KNOWN, TaskState.COMING)
# Of more unknown things than this only so many are named.
SPELT_OUT = 3
QUIET_BANDS = (Band.GOOD, Band.USE_FIRST)
# Overdue work has its own line in the list.
LISTED = (ReasonCode.OVERDUE_TASK, ReasonCode.OVERDUE_SAFETY)
_STATES = tuple(MachineState)

Verdict = TaskVerdict | JobVerdict


def run_due(call: Call) -> int:
    """Print the list. Gives 1 when something asks for action."""
    why: bool = call.arguments.why
    with call.open_services(call.file, False) as services:
        return tell_due(services, on=call.moment.today, output=call.output, why=why)


def tell_due(services: Services, *, on: date, output: Output, why: bool) -> int:
    """The list of an open household."""
    fleet = services.fleet(on=on)
    if output.as_json:
        output.data(due_data(fleet, on=on, wording=services.wording))
    else:
        _tell(worst_first(fleet), on=on, wording=services.wording, output=output, why=why)
    asked = any(asks(judging.verdict) for judging in fleet)
    return Exit.ACTION if asked else Exit.DONE


def asks(verdict: MachineVerdict) -> bool:
    """Whether anything about a machine asks for action now."""
    if verdict.state in (MachineState.DOWN, MachineState.UNKNOWN):
        return True
    return any(found.state in ASKS for found in (*verdict.tasks, *verdict.jobs))


def worst_first(fleet: Iterable[Judging]) -> list[Judging]:
    """Machines by state, then by their most pressing task, then by name."""

    def rank(judging: Judging) -> tuple[int, int, str]:
        verdict = judging.verdict
        worst = min(
            (TOLD.index(v.state) for v in (*verdict.tasks, *verdict.jobs) if v.state in TOLD),
            default=len(TOLD),
        )
        return (_STATES.index(verdict.state), worst, judging.facts.name.casefold())

    return sorted(fleet, key=rank)


def _tell(
    fleet: Sequence[Judging], *, on: date, wording: Wording, output: Output, why: bool
) -> None:
    output.tell(_summary(fleet, on, wording))
    teller = _Teller(wording=wording, output=output, why=why)
    for judging in fleet:
        output.say()
        teller.machine(judging)


def _summary(fleet: Sequence[Judging], on: date, wording: Wording) -> str:
    """How the shed stands, in one sentence."""
    day = wording.day_long(on)
    if not fleet:
        return wording.text(msg("{day}: no machine is entered yet."), day=day)
    states = [judging.verdict.state for judging in fleet]
    counts = [
        wording.text(msg("{n} {state}"), n=states.count(state), state=_in_a_row(state, wording))
        for state in _STATES
        if state in states
    ]
    machines = wording.count(msg("{n} machine"), msg("{n} machines"), len(fleet))
    said = wording.listed(counts)
    return wording.text(
        msg("{day}: {machines}, {states}."), day=day, machines=machines, states=said
    )


def _in_a_row(state: MachineState, wording: Wording) -> str:
    """The state where no reason can follow it."""
    if state is MachineState.WITH_CARE:
        return wording.text(msg("usable with care"))
    return wording.state(state)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Teller:
    """Tells one machine after the other in the same way."""

    wording: Wording
    output: Output
    why: bool

    def machine(self, judging: Judging) -> None:
        """How it stands, what it is, what is asked of it."""
        facts, verdict, wording = judging.facts, judging.verdict, self.wording
        hours = wording.hours_now(verdict.hours)
        number = wording.text(msg("number {n}"), n=str(int(facts.machine_id)))
        about = [wording.kind(facts.kind.code), number, facts.place, hours]
        self.output.tell(wording.standing(verdict.reason))
        self.output.tell(", ".join(part for part in about if part), depth=1)
        for ground in verdict.reason.children[1:]:
            if ground.code not in LISTED:
                self.output.tell(wording.reason(ground, machine=facts.name), depth=1)
        told = [*verdict.tasks, *verdict.jobs]
        for state in TOLD:
            rows = sorted((v for v in told if v.state is state), key=_by_day)
            if rows:
                head = wording.text(msg("{state}:"), state=wording.state(state))
                self.output.tell(head, depth=1)
                self._rows(rows, facts.name)
        for vessel in verdict.fuel if self.why else ():
            if vessel.volume_ul and vessel.band not in QUIET_BANDS:
                self._why(vessel.reason, facts.name, depth=1)

    def _rows(self, rows: Sequence[Verdict], machine: str) -> None:
        tasks = [row for row in rows if isinstance(row, TaskVerdict)]
        unknown = all(row.state is TaskState.NOT_KNOWN for row in rows)
        if unknown and len(tasks) > SPELT_OUT and not self.why:
            names = "; ".join(self.wording.task(task.code) for task in tasks[:SPELT_OUT])
            said = msg(
                "{n} things nobody knows the last time of, as {names}. With --why each is told."
            )
            self.output.tell(self.wording.text(said, n=len(tasks), names=names), depth=2)
            return
        for row in rows:
            said = self.wording.reason(row.reason, machine=machine)
            if _safety(row):
                said = self.wording.text(msg("{sentence} Your safety hangs on it."), sentence=said)
            self.output.tell(said, depth=2)
            if self.why:
                self._why(row.reason, machine, depth=2)

    def _why(self, ground: Reason, machine: str, *, depth: int) -> None:
        """What a line rests on, beneath it."""
        for line in self.wording.tree(ground, machine=machine)[1:]:
            source = f" [{line.source_text}]" if line.source_text else ""
            self.output.tell(f"{line.text}{source}", depth=depth + line.depth)


def _by_day(verdict: Verdict) -> tuple[bool, bool, date]:
    return (not _safety(verdict), verdict.due is None, verdict.due or date.max)


def _safety(verdict: Verdict) -> bool:
    return isinstance(verdict, TaskVerdict) and verdict.safety
