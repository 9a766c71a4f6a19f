"""Trials before and after, as the engine takes them and as a room shows them."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.tables.entries import in_force
from models.tables.machines import MachineRow
from models.tables.trials import TrialConditionRow, TrialRow, TrialValueRow
from models.words import TrialSide
from resources.protocols import Protocol, Protocols
from schedules.facts import KindCode


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialValue:
    """One value in force, in the protocol's stored unit."""

    value_id: int
    side: TrialSide
    of_reference: bool
    day: date
    amount: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One trial. `differing`: conditions that are not alike, or not said on both sides;
    `own_differing`: those among them that no reference machine makes up for."""

    trial_id: int
    protocol: Protocol
    begun_on: date
    rough: bool
    work: str
    reference: str
    closed_on: date | None
    job_id: int | None
    asked: tuple[str, ...]
    answers: tuple[tuple[TrialSide, str, str], ...]
    values: tuple[TrialValue, ...]
    differing: tuple[str, ...]
    own_differing: tuple[str, ...]

    def amounts(self, side: TrialSide, *, of_reference: bool = False) -> tuple[int, ...]:
        """The values of a side in the order they were entered."""
        return tuple(
            one.amount
            for one in self.values
            if one.side is side and one.of_reference == of_reference
        )


def read_trials(
    session: Session, *, machine_id: int, protocols: Protocols, on: date
) -> tuple[Trial, ...]:
    """The trials of a machine begun by the day, the newest first. Four queries."""
    rows = session.scalars(
        select(TrialRow)
        .where(TrialRow.machine_id == machine_id, TrialRow.begun_on <= on)
        .order_by(TrialRow.begun_on.desc(), TrialRow.id.desc())
    ).all()
    if not rows:
        return ()
    machine = session.get_one(MachineRow, machine_id)
    kind = KindCode(machine.kind_code)
    numbers = [row.id for row in rows]
    answers: dict[int, list[tuple[TrialSide, str, str]]] = defaultdict(list)
    for one in session.scalars(
        select(TrialConditionRow)
        .where(TrialConditionRow.trial_id.in_(numbers))
        .order_by(TrialConditionRow.id)
    ):
        answers[one.trial_id].append((one.side, one.condition_code, one.answer))
    values: dict[int, list[TrialValue]] = defaultdict(list)
    for row in session.scalars(
        select(TrialValueRow)
        .where(
            TrialValueRow.trial_id.in_(numbers),
            TrialValueRow.happened_on <= on,
            in_force(TrialValueRow),
        )
        .order_by(TrialValueRow.id)
    ):
        values[row.trial_id].append(
            TrialValue(
                value_id=row.id,
                side=row.side,
                of_reference=row.of_reference,
                day=row.happened_on,
                amount=row.amount,
            )
        )
    return tuple(
        _trial(row, kind, protocols, tuple(answers[row.id]), tuple(values[row.id]))
        for row in rows
        if row.protocol_code in protocols.protocols
    )


def _trial(
    row: TrialRow,
    kind: KindCode,
    protocols: Protocols,
    answers: tuple[tuple[TrialSide, str, str], ...],
    values: tuple[TrialValue, ...],
) -> Trial:
    protocol = protocols.protocols[row.protocol_code]
    asked = protocol.conditions_for(kind)
    said = {(side, code): answer for side, code, answer in answers}
    differing: list[str] = []
    for code in asked:
        before = said.get((TrialSide.BEFORE, code))
        after = said.get((TrialSide.AFTER, code))
        must = protocols.conditions[code].must
        if before is None or before != after or (must and before != must):
            differing.append(code)
    return Trial(
        trial_id=row.id,
        protocol=protocol,
        begun_on=row.begun_on,
        rough=row.rough,
        work=row.work,
        reference=row.reference,
        closed_on=row.closed_on,
        job_id=row.job_id,
        asked=asked,
        answers=answers,
        values=values,
        differing=tuple(differing),
        own_differing=tuple(code for code in differing if protocols.conditions[code].own),
    )
