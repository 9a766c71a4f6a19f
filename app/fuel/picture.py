"""From what the engine says of the vessels to what the fuel room shows: words and drawings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from app.entry.fuel_forms import sort_said
from app.fleet.names import plain_name
from app.fuel.advice import Advice
from app.fuel.figures import days_of, days_said, figure_of, short_sort
from app.fuel.state import Chosen, EntryLine, FuelRoomState, LotLine, VesselLine
from app.resting import rest_said
from app.vessel_names import empty_said, turn_said, vessel_name
from app.wording.languages import msg
from app.wording.lines import Line
from app.wording.wording import Wording
from models.facts.fuel_room import IN, OUT, VesselCard
from models.facts.records import RecordedEntry
from models.words import FuelDoing
from schedules.band_course import BandDays
from schedules.facts import (
    Band,
    FuelSort,
    FuelUse,
    LotVerdict,
    VesselFacts,
    VesselId,
    VesselSort,
    VesselVerdict,
)
from schedules.keeping import PUMP_AT_MOST
from schedules.plan import Judging

ASKS = (Band.NOT_FOR_THIS, Band.DRAIN, Band.LOOK_FIRST, Band.BURN)
MOST_NAMED = 3
# A fill of less than one part in so many of its vessel is a remainder nobody need read about.
_LEAST = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One vessel: its card, what is in it, what that is good for."""

    card: VesselCard
    facts: VesselFacts
    verdict: VesselVerdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What was read for the room. `course`: the bands of the vessel that is looked at."""

    on: date
    standings: tuple[Standing, ...]
    fleet: Mapping[int, Judging]
    chosen: VesselId | None
    course: tuple[BandDays, ...] = ()
    first: date | None = None
    last: date | None = None
    entries: tuple[RecordedEntry, ...] = ()


class FuelPicture:
    """Makes the picture of the room on one day."""

    def __init__(self, words: Wording) -> None:
        self.words = words
        self.advice = Advice(words)

    def show(self, seen: Seen, *, can_write: bool, notice: str = "") -> FuelRoomState:
        """The room as it is."""
        chosen = next((one for one in seen.standings if one.facts.vessel_id == seen.chosen), None)
        facts = [one.facts for one in seen.standings]
        fleet = list(seen.fleet.values())
        places = {one.facts.vessel_id: one.card.place for one in seen.standings}
        plan, buy = self.advice.plan(facts, fleet, self._names(seen), places, on=seen.on)
        return FuelRoomState(
            lead=self._lead(seen.standings),
            vessels=tuple(self.line(one, seen.on) for one in seen.standings),
            chosen=None if chosen is None else self._chosen(chosen, seen),
            plan=plan,
            buy=buy,
            can_write=can_write,
            notice=notice,
        )

    def _names(self, seen: Seen) -> dict[VesselId, str]:
        return {one.facts.vessel_id: self.name(one) for one in seen.standings}

    def name(self, one: Standing) -> str:
        """What a vessel is called: a machine's tank by its machine."""
        return vessel_name(one.card, self.words)

    # -- the sentence on top -------------------------------------------------------------------

    def _lead(self, standings: Sequence[Standing]) -> str:
        words = self.words
        if not standings:
            return words.text(
                msg(
                    "Here your cans and tanks will stand, each filled to its level, with how old "
                    "its fuel is and what to do with it."
                )
            )
        held = sum(one.verdict.volume_ul for one in standings if one.verdict.volume_ul > 1)
        full = sum(one.verdict.volume_ul > 1 for one in standings)
        said = [
            words.count(
                msg("{volume} in {n} can or tank"),
                msg("{volume} in {n} cans and tanks"),
                full,
                volume=words.litres(held),
            )
            if full
            else words.text(msg("nothing stands in any can or tank, as far as was entered"))
        ]
        said += [self._asked(standings, band, text) for band, text in _ASKED]
        whole = "; ".join(part for part in said if part)
        return f"{whole[:1].upper()}{whole[1:]}."

    def _asked(self, standings: Sequence[Standing], band: Band, text: str) -> str:
        found = [
            self.name(one) for one in standings if one.verdict.lots and one.verdict.band is band
        ]
        if not found:
            return ""
        words, more = self.words, len(found) - MOST_NAMED
        named = found[:MOST_NAMED]
        if more > 0:
            named.append(words.count(msg("{n} more"), msg("{n} more"), more))
        return words.text(text, names=words.listed(named))

    # -- one vessel ----------------------------------------------------------------------------

    def line(self, one: Standing, on: date) -> VesselLine:
        """A vessel on the shelf."""
        words, verdict, card = self.words, one.verdict, one.card
        there = bool(verdict.lots)
        parts = [self._amount(verdict), card.place]
        second = " · ".join(part for part in parts if part)
        band_text = words.band(verdict.band) if there else empty_said(verdict, words)
        because = ""
        if there and verdict.band is not Band.GOOD:
            ground = words.word(verdict.governed_by)
            because = words.text(msg("because of {ground}"), ground=ground)
        until, short = turn_said(verdict, words), ""
        if verdict.next_band_on is not None:
            short = words.text(msg("until {day}"), day=words.day(verdict.next_band_on))
        age, ethanol, treated = self._age(verdict), self._ethanol(verdict), self._treated(verdict)
        if not there:
            age = ethanol = treated = ""
        name = self.name(one)
        said = ", ".join(p for p in (name, second, band_text, because, until, age, ethanol) if p)
        return VesselLine(
            vessel_id=int(verdict.vessel_id),
            machine_id=card.machine_id,
            name=name,
            second=second,
            band=verdict.band if there else None,
            band_text=band_text,
            because=because,
            until=until,
            short="\n".join(part for part in (age, short) if part),
            age=age,
            ethanol=ethanol,
            stabiliser=treated,
            said=said,
            figure=figure_of(verdict, words),
        )

    def _amount(self, verdict: VesselVerdict) -> str:
        words = self.words
        if verdict.lots and verdict.volume_ul <= 1:
            return words.text(msg("nobody knows how much"))
        if not verdict.lots:
            return words.text(msg("holds {size}"), size=words.litres(verdict.capacity_ul))
        return words.text(
            msg("{volume} of {size}"),
            volume=words.litres(verdict.volume_ul),
            size=words.litres(verdict.capacity_ul),
        )

    def _age(self, verdict: VesselVerdict) -> str:
        """In plain words: how old the oldest of it is, and how far through its time it is."""
        words = self.words
        told = _told(verdict)
        if any(lot.bought_on is None for lot in told):
            return words.text(msg("nobody knows how old"))
        oldest = max((lot for lot in told if lot.age_days is not None), key=_days, default=None)
        if oldest is None or oldest.age_days is None:
            return ""
        days = words.days(oldest.age_days)
        if not oldest.age_days:
            return words.text(msg("bought today"))
        if len({lot.age_days for lot in told}) == 1:
            return words.text(msg("{days} old"), days=days)
        return words.text(msg("the oldest {days} old"), days=days)

    def _ethanol(self, verdict: VesselVerdict) -> str:
        words = self.words
        if verdict.ethanol is None:
            said = msg("alcohol not known, reckoned as up to {share}")
            return words.text(said, share=words.percent(PUMP_AT_MOST))
        return alcohol_said(verdict.ethanol, words)

    def _treated(self, verdict: VesselVerdict) -> str:
        words, told = self.words, _told(verdict)
        with_it = [lot for lot in told if lot.stabilised_on is not None]
        if not with_it:
            return words.text(msg("no stabiliser"))
        if len(with_it) < len(told):
            return words.text(msg("stabiliser in part of it"))
        day = max(lot.stabilised_on for lot in with_it if lot.stabilised_on is not None)
        return words.text(msg("stabiliser added {day}"), day=words.day(day))

    # -- the vessel that is looked at ----------------------------------------------------------

    def _chosen(self, one: Standing, seen: Seen) -> Chosen:
        words, verdict = self.words, one.verdict
        days = None
        if seen.first is not None and seen.last is not None:
            days = days_of(seen.course, first=seen.first, on=seen.on, last=seen.last, words=words)
        burns = {each.burns for each in (s.facts for s in seen.standings)}
        machine = None if one.card.machine_id is None else seen.fleet.get(one.card.machine_id)
        return Chosen(
            vessel_id=int(verdict.vessel_id),
            name=self.name(one),
            lots=tuple(self._lot(lot, one.card.burns) for lot in verdict.lots),
            why=lambda: self._why(verdict),
            days=days,
            days_said=days_said(seen.course, words),
            advice=self.advice.of(one.facts, verdict, others=burns, on=seen.on),
            cautions=self.advice.cautions(verdict),
            rest=() if machine is None else rest_said(machine, verdict, words, on=seen.on),
            entries=tuple(self.entry(entry) for entry in seen.entries),
            empty=not verdict.lots,
            is_can=verdict.sort is VesselSort.CAN,
        )

    def _lot(self, lot: LotVerdict, burns: FuelUse) -> LotLine:
        words = self.words
        unknown = lot.sort is FuelSort.UNKNOWN
        petrol = burns is FuelUse.FOUR_STROKE
        bought = words.text(msg("day not known"))
        age = words.text(msg("age not known"))
        if lot.bought_on is not None and lot.age_days is not None:
            bought, age = words.day(lot.bought_on), words.days(lot.age_days)
        how = ""
        if lot.ageing is not None:
            said = msg("{share} its shelf life gone")
            how = words.text(said, share=words.shelf_life(lot.ageing))
        treated = ""
        if lot.stabilised_on is not None:
            treated = words.text(msg("stabiliser {day}"), day=words.day(lot.stabilised_on))
        return LotLine(
            bought=bought,
            amount=words.litres(lot.volume_ul),
            sort=sort_said(lot.sort, words, petrol=petrol)
            if unknown
            else short_sort(lot.sort, words),
            age=age,
            how=how,
            treated=treated,
        )

    def _why(self, verdict: VesselVerdict) -> tuple[Line, ...]:
        return self.words.tree(verdict.reason)

    def entry(self, entry: RecordedEntry) -> EntryLine:
        """One thing that was entered about a vessel."""
        words = self.words
        doing = words.word(entry.fuel_doing) if entry.fuel_doing is not None else ""
        amount = ""
        if entry.volume_ul is not None:
            amount = words.litres(entry.volume_ul)
        elif entry.fuel_doing in (FuelDoing.BOUGHT, FuelDoing.FILLED):
            amount = words.text(msg("to the brim"))
        other = plain_name(entry.vessel)
        if other:
            doing = words.text(_POURED[entry.side], vessel=other)
        text = ", ".join(part for part in (doing, amount) if part)
        second = [entry.note]
        if entry.superseded:
            second.insert(0, words.text(msg("corrected since")))
        return EntryLine(
            entry_id=entry.entry_id,
            day=words.day(entry.day),
            text=f"{text[:1].upper()}{text[1:]}",
            second=" · ".join(part for part in second if part),
            counts=not entry.superseded,
        )


_POURED = {IN: msg("poured in from {vessel}"), OUT: msg("poured into {vessel}")}
_ASKED = (
    (Band.NOT_FOR_THIS, msg("not for its machine: {names}")),
    (Band.DRAIN, msg("to be drained: {names}")),
    (Band.LOOK_FIRST, msg("look and smell first: {names}")),
    (Band.BURN, msg("burn now and put nothing away on it: {names}")),
    (Band.USE_FIRST, msg("use first: {names}")),
)


def alcohol_said(share: Fraction, words: Wording) -> str:
    """How much alcohol is in it."""
    if share == 0:
        return words.text(msg("no alcohol"))
    if share < Fraction(1, 100):
        return words.text(msg("hardly any alcohol"))
    return words.text(msg("up to {share} alcohol"), share=words.percent(share))


def _told(verdict: VesselVerdict) -> list[LotVerdict]:
    return [lot for lot in verdict.lots if lot.volume_ul * _LEAST >= verdict.volume_ul]


def _days(lot: LotVerdict) -> int:
    return lot.age_days or 0
