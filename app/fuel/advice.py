"""What to do about fuel, in words: dilute or not, who burns what first, what to buy, what to do
before a rest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction

from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.wording import Wording
from resources.loader import load_catalogue
from schedules.demands import all_demands
from schedules.facts import (
    Band,
    CautionCode,
    FuelSort,
    FuelUse,
    LotFacts,
    VesselFacts,
    VesselId,
    VesselSort,
    VesselVerdict,
)
from schedules.fuel import judge_vessel
from schedules.plan import Judging
from schedules.pouring import with_lot
from schedules.rations import (
    BUY_DAYS,
    BurnPlan,
    Dilution,
    Draw,
    NoAnswer,
    Way,
    burn_plan,
    dilution,
    to_buy,
    way_out,
)

LIMIT = Fraction(1, 10)
_READY = frozenset({"K15"})
_DIAPHRAGM = frozenset({"K07", "K09", "K11", "K12"})
_STORE, _WASTE, _FUEL, _ETH = (
    CautionCode(code) for code in ("C-STORE", "C-WASTE", "C-FUEL", "C-ETH")
)

_NO_ANSWER = {
    NoAnswer.LAYERS_OR_WATER: msg(
        "Fresh petrol on top is no answer: there is water in it, and the engine draws from below."
    ),
    NoAnswer.LOOKED_BAD: msg("Fresh petrol on top is no answer: you found it sour or dark."),
    NoAnswer.WRONG_FUEL: msg("Fresh petrol on top is no answer: it is the wrong fuel for this."),
    NoAnswer.TOO_FAR_GONE: msg("Fresh petrol on top is no answer: it is too far gone."),
    NoAnswer.LOOK_FIRST: msg(
        "Look and smell before you pour anything on it: a glass jar shows it at once."
    ),
    NoAnswer.NO_ROOM: msg(
        "To bring the stale part under {limit}, {fresh} of fresh would have to go on top, and only "
        "{room} fits. Burn some of it first."
    ),
}
_WAYS = {
    Way.BURN_NOW: msg(
        "Burn it now, in a machine that is running anyway, or pour it into a fairly full car tank."
    ),
    Way.OTHER_ENGINE: msg("Give it to a machine that it is meant for."),
    Way.LOOK: msg("Take some in a glass jar: clear, straw-coloured and sharp to smell is well."),
    Way.COLLECTION: msg(
        "Drain it outdoors into an approved can, label that, and take it to a collection point; "
        "never into a drain, soil or the bin."
    ),
}


_BURNS = msg("{can} → {machine}: {volume}, from {day} on")
_CARRIED = msg(
    "{can} → {machine}: {volume}, from {day} on; it has to be carried from {here} to {there}"
)


class Advice:
    """Puts what the engine says about fuel into sentences."""

    def __init__(self, words: Wording) -> None:
        self.words = words

    # -- one vessel ----------------------------------------------------------------------------

    def of(
        self, vessel: VesselFacts, verdict: VesselVerdict, *, others: Iterable[FuelUse], on: date
    ) -> tuple[str, ...]:
        """What to do with what is in it."""
        if not verdict.lots:
            return ()
        words = self.words
        said: list[str] = []
        way = way_out(verdict, others=others)
        if way in _WAYS:
            said.append(words.text(_WAYS[way]))
        if verdict.band is Band.USE_FIRST:
            said.append(words.text(msg("Run this before you open anything fresher.")))
        if verdict.stale_share > LIMIT or verdict.band not in (Band.GOOD, Band.USE_FIRST):
            said.append(self._dilution(vessel, dilution(vessel, on=on, limit=LIMIT), on))
        return tuple(one for one in said if one)

    def _dilution(self, vessel: VesselFacts, found: Dilution, on: date) -> str:
        words, limit = self.words, self.words.percent(LIMIT)
        amounts = {
            "limit": limit,
            "fresh": words.litres(found.fresh_ul),
            "room": words.litres(found.room_ul),
        }
        if found.no_answer is not None:
            return words.text(_NO_ANSWER[found.no_answer], **amounts)
        if not found.fresh_ul:
            return ""
        sort = FuelSort.E5 if vessel.burns is FuelUse.FOUR_STROKE else vessel.lots[-1].sort
        fresh = LotFacts(bought_on=on, volume_ul=found.fresh_ul, sort=sort, since=on)
        after = judge_vessel(with_lot(vessel, fresh, on=on), on=on)
        said = msg(
            "{fresh} of fresh on top brings the stale part under {limit}; it fits, and it is then: "
            "{band}. No authority gives a share; this is our judgement."
        )
        return words.text(said, band=words.band(after.band), **amounts)

    def cautions(self, verdict: VesselVerdict) -> tuple[CautionText, ...]:
        """What stands before draining and pouring; two at the most."""
        if not verdict.lots:
            return ()
        codes = [_FUEL]
        if verdict.band in (Band.DRAIN, Band.NOT_FOR_THIS):
            codes.append(_WASTE)
        elif verdict.sort is VesselSort.CAN:
            codes = [_STORE]
        known = load_catalogue().cautions
        return tuple(self.words.caution(code) for code in codes if code in known)

    # -- the household -------------------------------------------------------------------------

    def plan(
        self,
        vessels: Sequence[VesselFacts],
        fleet: Sequence[Judging],
        names: Mapping[VesselId, str],
        places: Mapping[VesselId, str],
        *,
        on: date,
    ) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Who burns what first, and what to buy for the coming four weeks."""
        there = {vessel.vessel_id for vessel in vessels}
        demands = [one for one in all_demands(fleet, on=on) if one.vessel_id in there]
        plan = burn_plan(vessels, demands, on=on, places=places)
        return self._burns(plan, names, places, on), self._buys(plan, on)

    def _burns(
        self,
        plan: BurnPlan,
        names: Mapping[VesselId, str],
        places: Mapping[VesselId, str],
        on: date,
    ) -> tuple[str, ...]:
        """One line for each can and the machine that takes it, in the order of the days; what is
        in a machine's own tank needs no word."""
        words = self.words
        joined: dict[tuple[VesselId, VesselId], list[Draw]] = {}
        for draw in plan.draws:
            if draw.source != draw.burner:
                joined.setdefault((draw.source, draw.burner), []).append(draw)
        said = [
            words.text(
                _BURNS if places.get(source) == places.get(burner) else _CARRIED,
                here=places.get(source, ""),
                there=places.get(burner, ""),
                can=names[source],
                machine=names[burner],
                volume=words.litres(sum(draw.volume_ul for draw in draws)),
                day=words.day_short(draws[0].day),
            )
            for (source, burner), draws in joined.items()
        ]
        for left in plan.surplus:
            if left.turns_on is None or left.volume_ul <= 1:
                continue
            volume = words.litres(left.volume_ul)
            if left.turns_on <= on:
                text = msg("{can}: nobody burns {volume} of it in time; it has turned already")
            else:
                text = msg("{can}: nobody burns {volume} of it before it turns on {day}")
            said.append(
                words.text(
                    text,
                    can=names[left.vessel_id],
                    volume=volume,
                    day=words.day(left.turns_on),
                )
            )
        return tuple(said)

    def _buys(self, plan: BurnPlan, on: date) -> tuple[str, ...]:
        words = self.words
        wanted = to_buy(plan, on=on)
        if not wanted:
            return (words.text(msg("Nothing: what is here covers the coming four weeks.")),)
        return tuple(
            words.text(
                msg("{volume} of {fuel}, and no more: that is what {days} will burn"),
                volume=words.litres(volume),
                fuel=words.word(use),
                days=words.days(BUY_DAYS),
            )
            for use, volume in sorted(wanted.items())
        )
