"""Spells in storage: putting away, planning, getting out again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from models.acts.keep import KEEP, Keep, as_it_is, kept, refuse_unchanged
from models.acts.report import report
from models.acts.rows import Machine, day_of, machine_of
from models.changes import ActCode, Area, Changes
from models.errors import Refused, RefusedCode
from models.fields import day as checked_day
from models.fields import plain_text
from models.moment import Moment
from models.tables.base import NOTE_LENGTH
from models.tables.work import StorageSpellRow


@dataclass(frozen=True, slots=True, kw_only=True)
class PutAway:
    """The machine sleeps from a day on. `planned_last`: the last day it is meant to;
    `off_or_open`: what was left off, open or shut."""

    machine_id: int
    on: date
    planned_last: date | None = None
    off_or_open: str = ""
    note: str = ""

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; PUT_AWAY_ALREADY when a spell holds the day or a later one."""
        machine = machine_of(session, self.machine_id)
        day_of(machine.item, "on", self.on, moment.today)
        for spell in _spells(session, machine):
            if spell.woken_on is None or spell.woken_on > self.on:
                raise Refused(
                    RefusedCode.PUT_AWAY_ALREADY, name=machine.name, day=spell.put_away_on
                )
        row = StorageSpellRow(
            machine_id=machine.number,
            put_away_on=self.on,
            planned_last=_planned(self.planned_last, self.on),
            off_or_open=plain_text("off_or_open", self.off_or_open, most=NOTE_LENGTH),
            note=plain_text("note", self.note, most=NOTE_LENGTH),
        )
        session.add(row)
        session.flush()
        return _report(ActCode.PUT_AWAY, machine, row, self.on)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wake:
    """The machine is in use again from a day on."""

    machine_id: int
    on: date

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; NOT_PUT_AWAY when it does not sleep."""
        machine = machine_of(session, self.machine_id)
        spell = _open_spell(session, machine)
        checked_day("on", self.on, first=spell.put_away_on, today=moment.today)
        day_of(machine.item, "on", self.on, moment.today)
        spell.woken_on = self.on
        return _report(ActCode.WAKE, machine, spell, self.on)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangePlan:
    """What is planned or noted of the spell the machine is in."""

    machine_id: int
    planned_last: date | Keep | None = KEEP
    off_or_open: str | Keep = KEEP
    note: str | Keep = KEEP

    def run(self, session: Session, moment: Moment) -> Changes:
        """Raises Refused; NOT_PUT_AWAY when it does not sleep."""
        machine = machine_of(session, self.machine_id)
        spell = _open_spell(session, machine)
        before = as_it_is(spell)
        spell.planned_last = _planned(
            kept(self.planned_last, spell.planned_last), spell.put_away_on
        )
        off = kept(self.off_or_open, spell.off_or_open)
        spell.off_or_open = plain_text("off_or_open", off, most=NOTE_LENGTH)
        spell.note = plain_text("note", kept(self.note, spell.note), most=NOTE_LENGTH)
        refuse_unchanged(spell, before)
        return _report(ActCode.PUT_AWAY, machine, spell, spell.put_away_on)


def _planned(planned: date | None, put_away: date) -> date | None:
    return None if planned is None else checked_day("planned_last", planned, first=put_away)


def _spells(session: Session, machine: Machine) -> list[StorageSpellRow]:
    return list(
        session.scalars(
            select(StorageSpellRow)
            .where(StorageSpellRow.machine_id == machine.number)
            .order_by(StorageSpellRow.put_away_on, StorageSpellRow.id)
        )
    )


def _open_spell(session: Session, machine: Machine) -> StorageSpellRow:
    spells = [spell for spell in _spells(session, machine) if spell.woken_on is None]
    if not spells:
        raise Refused(RefusedCode.NOT_PUT_AWAY, name=machine.name)
    return spells[-1]


def _report(code: ActCode, machine: Machine, spell: StorageSpellRow, day: date) -> Changes:
    return report(
        code,
        (Area.MACHINES, machine.number),
        (Area.STORAGE, spell.id),
        name=machine.name,
        day=day,
    )
