"""What the makers of rows share: a machine as the engine judged it, the owner's notes, phrases."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from app.sheets.lettering import Text, reckoned
from app.sheets.pieces import Caution, Fact, RuleUnit
from app.wording.languages import msg
from app.wording.units import reading_unit
from app.wording.wording import Wording
from schedules.facts import (
    CautionCode,
    Direction,
    FeatureCode,
    HoursBasis,
    HoursNow,
    LimitCode,
    LimitFacts,
    MachineId,
    Mark,
    PreSeason,
)
from schedules.figures import limits_with_own_figures
from schedules.plan import Judging
from schedules.units import Quantity, Unit

LETTERS: Mapping[Mark, str] = {
    Mark.PUBLISHED: "p",
    Mark.COMMON_PRACTICE: "c",
    Mark.MAKERS_DIFFER: "d",
    Mark.OUR_JUDGEMENT: "o",
    Mark.FROM_MEMORY: "f",
    Mark.OWN_MANUAL: "m",
}
"""Letters behind limits on paper; the foot says which is which."""

READ = frozenset({HoursBasis.METER, HoursBasis.LOG})


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineNotes:
    """What the household has written down for paper; whatever is empty becomes a blank."""

    last_time: str = ""
    oil: str = ""
    plug: str = ""
    fuel: str = ""
    pins: str = ""
    belt: str = ""
    tyres: str = ""
    key_hangs: str = ""
    cord_hangs: str = ""
    ring: str = ""
    plough: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetMachine:
    """A machine as the engine judged it, with what was noted for paper."""

    judging: Judging
    season: PreSeason
    notes: MachineNotes = MachineNotes()

    @property
    def machine_id(self) -> MachineId:
        return self.judging.facts.machine_id

    @property
    def features(self) -> Mapping[FeatureCode, str]:
        return dict(self.judging.facts.features)


@dataclass(frozen=True, slots=True)
class Phrases:
    """Words for one machine's paper: the tongue, the day it is printed, the limits in force."""

    wording: Wording
    on: date
    limits: Mapping[LimitCode, LimitFacts]
    own: frozenset[tuple[str, str]]

    def text(self, msgid: str, /, **values: object) -> str:
        return self.wording.text(msgid, **values)

    def caution(self, code: CautionCode, tick: str = "") -> Caution:
        said = self.wording.caution(code)
        return Caution(signal=said.severity, word=said.signal, text=said.text, tick=tick)

    def amount(self, limit: LimitFacts, amount: int) -> str:
        """A figure of a limit as it is read beside the machine; seconds stay seconds."""
        if limit.unit is Unit.SECOND:
            return self.wording.in_unit(Quantity(Fraction(amount), limit.unit), limit.unit)
        return self.wording.amount(limit, amount)

    def symbol(self, limit: LimitFacts) -> str:
        """The unit a blank for this limit is filled in with."""
        if limit.unit is Unit.SECOND:
            return self.wording.symbol(limit.unit)
        near = limit.high if limit.high is not None else limit.low
        amount = Fraction(1 if near is None else near)
        _, unit = reading_unit(amount, limit.unit, self.wording.units)
        return self.wording.symbol(unit)

    def bound(self, limit: LimitFacts) -> str:
        """Where a measurement is still well."""
        low = None if limit.low is None else self.amount(limit, limit.low)
        high = None if limit.high is None else self.amount(limit, limit.high)
        match limit.direction:
            case Direction.EVENT:
                return self.text(msg("not {event}"), event=self.text(limit.event))
            case Direction.BETWEEN if low and high:
                if {"/", "."} <= {*low, *high}:
                    low, high = (
                        self._thousandths(limit, limit.low),
                        self._thousandths(limit, limit.high),
                    )
                # The unit once, as it is said: 103 to 138 kPa.
                figure, _, unit = low.rpartition("\u00a0")
                once = figure if figure and high.endswith(f"\u00a0{unit}") else low
                return self.text(msg("{low} to {high}"), low=once, high=high)
            case _ if high:
                return self.text(msg("under {high}"), high=high)
            case _ if low:
                return self.text(msg("over {low}"), low=low)
            case _:
                return self.text(msg("see your manual"))

    def _thousandths(self, limit: LimitFacts, amount: int | None) -> str:
        """An inch figure as a feeler gauge has it; a ruler's part beside one cannot be compared."""
        found, unit = reading_unit(Fraction(amount or 0), limit.unit, self.wording.units)
        return f"{self.wording.number(found, 3, keep=True)}\u00a0{self.wording.symbol(unit)}"

    def worn_when(self, limit: LimitFacts) -> str:
        """Where a measurement means work."""
        if limit.unit is Unit.SECOND and limit.high is not None:
            return self.text(msg("{high} or more"), high=self.amount(limit, limit.high))
        return self.wording.worn_when(limit)

    def marks(self, limit: LimitFacts) -> tuple[Mark, ...]:
        """What the figures of a limit rest on; the owner's manual where it was put in place."""
        found: dict[Mark, None] = {}
        for figure in ("low", "high"):
            if (str(limit.code), figure) in self.own:
                found[Mark.OWN_MANUAL] = None
            else:
                found |= {m.mark: None for m in limit.marks if m.figure == figure}
        if not found:
            found = {m.mark: None for m in limit.marks}
        return tuple(found)

    def letters(self, limit: LimitFacts) -> str:
        return ", ".join(LETTERS[mark] for mark in self.marks(limit))

    def printed(self) -> str:
        return self.text(msg("printed {day}"), day=self.wording.day(self.on))

    def hours(self, now: HoursNow) -> Text:
        """Run time, leaning when it is reckoned."""
        said = self.wording.hours_now(now)
        return said if now.basis in READ else (reckoned(said),)


def phrases(machine: SheetMachine, wording: Wording, on: date) -> Phrases:
    own = machine.judging.facts.own_figures
    return Phrases(
        wording=wording,
        on=on,
        limits=limits_with_own_figures(wording.catalogue.limits, own),
        own=frozenset((figure.target, figure.figure) for figure in own),
    )


def rule_of(wording: Wording) -> RuleUnit:
    """The rule on a sheet reads as the household does."""
    return RuleUnit.INCH if wording.units.length is Unit.INCH else RuleUnit.MILLIMETRE


def held(facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """Facts that have a value; for sheets on which a blank would only be in the way."""
    return tuple(fact for fact in facts if fact.value)


def limits_of(codes: Iterable[LimitCode], said: Phrases) -> tuple[LimitFacts, ...]:
    return tuple(said.limits[code] for code in codes if code in said.limits)
