"""Calculators that write: oil for a mix, a mix put right, stabiliser, a blend."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from app.entry.fuel_forms import sort_said, typed_volume
from app.entry.questions import Made, Wish
from app.fuel.forms import FuelForms, volume_text
from app.fuel.picture import Standing
from app.pieces.asked import Said, choice, day, text
from app.pieces.form import FieldSort
from app.wording.languages import msg
from models.acts.fuel import AddOil, Fill, Stabilise
from schedules.facts import FuelSort, FuelUse
from schedules.fuel import stabiliser_dose_ul
from schedules.keeping import ETHANOL, FUEL_TABLE, PUMP_AT_MOST
from schedules.pouring import held_ul, room_ul
from schedules.premix import oil_ul, parts_of, petrol_ul
from schedules.units import Quantity, Typed, Unit, convert

_BLENDS = (FuelSort.E0, FuelSort.E5, FuelSort.E10, FuelSort.E15)
RATIOS = (50, 40, 32, 25, 16)
_OTHER_SIDE = (Unit.MILLILITRE, Unit.US_FLUID_OUNCE, Unit.IMPERIAL_FLUID_OUNCE)


class Calculators:
    """Makes the forms that reckon an amount and then keep it."""

    def __init__(self, forms: FuelForms) -> None:
        self.forms = forms
        self.words = forms.words
        self.ask = forms.ask

    def ways(self, one: Standing, name: str) -> Wish:
        """What there is to reckon for a vessel."""
        words = self.words
        ways: list[tuple[str, str]] = []
        if one.card.burns is FuelUse.TWO_STROKE:
            ways.append(("mix", words.text(msg("A new mix: so much petrol, how much oil?"))))
            if held_ul(one.facts) > 1:
                ways.append(("right", words.text(msg("This mix has the wrong ratio"))))
        if held_ul(one.facts) > 1:
            ways.append(("dose", words.text(msg("How much stabiliser for what is in it?"))))
        if one.card.burns is FuelUse.FOUR_STROKE:
            ways.append(("blend", words.text(msg("What would be the alcohol if I fill up with…?"))))
        page = self.ask.ways("reckon", msg("Mix, dose, blend"), tuple(ways), lead=name)

        def make(answers: Mapping[str, object]) -> Made:
            return self._begun(choice(answers, "way"), one, name)

        return Wish(page, make)

    def _begun(self, way: str, one: Standing, name: str) -> Made:
        match way:
            case "mix" | "right":
                return self._ratio(way, one, name)
            case "dose":
                return self._dose(one, name)
            case _:
                return self._blend(one, name)

    # -- oil -----------------------------------------------------------------------------------

    def _ratio(self, way: str, one: Standing, name: str) -> Wish:
        ways = tuple((str(ratio), f"{ratio} : 1") for ratio in RATIOS)
        lead = self.words.text(
            msg("{vessel}. Parts of petrol to one of oil; the machine’s own manual sets it."),
            vessel=name,
        )
        page = self.ask.ways("ratio", msg("Which ratio?"), ways, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            ratio = int(choice(answers, "way"))
            return self._mix(ratio, one) if way == "mix" else self._was(ratio, one, name)

        return Wish(page, make)

    def _mix(self, ratio: int, one: Standing) -> Wish:
        words, ask = self.words, self.ask

        def said(typed: str) -> str:
            found = self._volume(typed)
            if not isinstance(found, Typed):
                return "" if found is None else found.text
            petrol = Quantity(Fraction(found.stored), Unit.MICROLITRE)
            oil = oil_ul(found.stored, Fraction(ratio))
            whole = words.litres(int(found.stored + oil))
            return words.text(
                msg("Oil: {amounts}. Together {whole}."),
                amounts=self._three(petrol, Fraction(1, ratio)),
                whole=whole,
            )

        sorts = (
            (str(FuelSort.PREMIX), words.text(msg("petrol from the pump"))),
            (str(FuelSort.PREMIX_ALKYLATE), words.word(FuelSort.ALKYLATE)),
        )
        fields = (
            replace(
                ask.field(
                    "volume",
                    msg("How much petrol"),
                    FieldSort.TEXT,
                    hint=words.text(msg("Litres or gallons: 5 L, 1 US gal.")),
                ),
                preview=said,
            ),
            ask.field("sort", msg("What it is mixed on"), FieldSort.CHOICE, choices=sorts),
            ask.day(self.forms.today),
            ask.note(),
        )
        title = words.text(msg("A mix of {ratio} : 1"), ratio=ratio)
        page = replace(ask.page("mix", msg("Mix, dose, blend"), fields), title=title)

        def make(answers: Mapping[str, object]) -> Made:
            found = self._volume(text(answers, "volume"))
            if not isinstance(found, Typed):
                return found or self._missing()
            whole = found.stored + int(oil_ul(found.stored, Fraction(ratio)))
            return Fill(
                vessel_id=int(one.facts.vessel_id),
                day=day(answers, "day"),
                sort=FuelSort(choice(answers, "sort")),
                volume_ul=whole,
                oil_ratio=ratio,
                note=text(answers, "note"),
            )

        return Wish(page, make)

    def _was(self, ratio: int, one: Standing, name: str) -> Wish:
        """What it has now, to bring it to `ratio`."""
        ways = tuple((str(now), f"{now} : 1") for now in RATIOS if now != ratio)
        page = self.ask.ways("ratio", msg("And what has it now?"), ways)

        def make(answers: Mapping[str, object]) -> Made:
            return self._right(int(choice(answers, "way")), ratio, one, name)

        return Wish(page, make)

    def _right(self, now: int, wanted: int, one: Standing, name: str) -> Wish | Said:
        """Oil to a leaner mix, petrol to a richer one."""
        words, ask, held = self.words, self.ask, held_ul(one.facts)
        petrol, oil = parts_of(held, Fraction(now))
        more_oil = int(oil_ul(int(petrol), Fraction(wanted)) - oil)
        more_petrol = int(petrol_ul(int(oil), Fraction(wanted)) - petrol)
        if more_oil > 0:
            amount, what = more_oil, words.text(msg("oil"))
        else:
            amount, what = more_petrol, words.text(msg("petrol"))
        lead = words.text(
            msg("To bring {held} from {now} : 1 to {wanted} : 1, add {amounts} of {what}."),
            held=words.litres(held),
            now=now,
            wanted=wanted,
            amounts=self._three(Quantity(Fraction(amount), Unit.MICROLITRE), Fraction(1)),
            what=what,
        )
        if amount > room_ul(one.facts):
            full = msg(
                "Only {room} more goes into {vessel}: pour some of it into another can first."
            )
            room = words.litres(room_ul(one.facts))
            return Said(f"{lead} {words.text(full, room=room, vessel=name)}", "way")
        fields = (ask.day(self.forms.today), ask.note())
        page = ask.page("right", msg("This mix has the wrong ratio"), fields, lead=lead)
        page = replace(page, done=words.text(msg("It went in: keep it")))

        def make(answers: Mapping[str, object]) -> Made:
            return self._added(amount, one, answers, oil=more_oil > 0)

        return Wish(page, make)

    def _added(
        self, amount_ul: int, one: Standing, answers: Mapping[str, object], *, oil: bool
    ) -> Made:
        """What went in to put the mix right. Oil makes no fuel younger; petrol comes in as mix,
        for that is what it is once it is in."""
        number, when, note = int(one.facts.vessel_id), day(answers, "day"), text(answers, "note")
        if oil:
            note = note or self.words.text(msg("oil to put the mix right"))
            return AddOil(vessel_id=number, day=when, volume_ul=amount_ul, note=note)
        note = note or self.words.text(msg("petrol to put it right"))
        return Fill(
            vessel_id=number, day=when, sort=FuelSort.PREMIX, volume_ul=amount_ul, note=note
        )

    # -- stabiliser ----------------------------------------------------------------------------

    def _dose(self, one: Standing, name: str) -> Wish:
        words, ask, held = self.words, self.ask, held_ul(one.facts)
        dose = stabiliser_dose_ul(held)
        petrol = Quantity(Fraction(held), Unit.MICROLITRE)
        lead = words.text(
            msg(
                "{vessel}: for {held} the usual dose is {amounts}. The label of the bottle rules; "
                "it does nothing for fuel that is stale already."
            ),
            vessel=name,
            held=words.litres(held),
            amounts=self._three(petrol, FUEL_TABLE.dose),
        )
        fields = (
            ask.field(
                "volume",
                msg("How much went in"),
                FieldSort.TEXT,
                default=volume_text(round(dose), words),
            ),
            ask.day(self.forms.today),
            ask.note(),
        )
        page = ask.page("dose", msg("Stabiliser went in"), fields, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            found = self._volume(text(answers, "volume"))
            if isinstance(found, Said):
                return found
            return Stabilise(
                vessel_id=int(one.facts.vessel_id),
                day=day(answers, "day"),
                dose_ul=None if found is None else found.stored,
                typed=found,
                note=text(answers, "note"),
            )

        return Wish(page, make)

    # -- alcohol -------------------------------------------------------------------------------

    def _blend(self, one: Standing, name: str) -> Wish:
        words, ask = self.words, self.ask
        held = held_ul(one.facts)
        known = one.verdict.ethanol if held else Fraction(0)
        now = PUMP_AT_MOST if known is None else known

        fields = (
            replace(
                ask.field("volume", msg("How much goes in"), FieldSort.TEXT),
                preview=lambda typed: self._blended(typed, held, now),
            ),
            ask.field(
                "sort",
                msg("What sort"),
                FieldSort.CHOICE,
                choices=tuple(
                    (str(sort), sort_said(sort, words, petrol=True))
                    for sort in (*_BLENDS, FuelSort.UNKNOWN)
                ),
                default=str(self.forms.usual_sort(one)),
            ),
            ask.day(self.forms.today),
            ask.note(),
        )
        said = msg(
            "{vessel} holds {held} with {share} alcohol. More than {limit} is not for engines."
        )
        if known is None:
            said = msg(
                "{vessel} holds {held}; nobody knows how much alcohol is in it, and it is reckoned "
                "as up to {share}. More than {limit} is not for engines."
            )
        lead = words.text(
            said,
            vessel=name,
            held=words.litres(held),
            share=words.percent(now),
            limit=words.percent(FUEL_TABLE.ethanol_limit),
        )
        page = ask.page("blend", msg("Fill up and blend"), fields, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            found = self._volume(text(answers, "volume"))
            if not isinstance(found, Typed):
                return found or self._missing()
            act = Fill(
                vessel_id=int(one.facts.vessel_id),
                day=day(answers, "day"),
                sort=FuelSort(choice(answers, "sort")),
                volume_ul=found.stored,
                typed=found,
                note=text(answers, "note"),
            )
            return self.forms.sure(act, one, name)

        return Wish(page, make)

    def _blended(self, typed: str, held: int, now: Fraction) -> str:
        """What the alcohol would be with so much of each sort on top."""
        words, found = self.words, self._volume(typed)
        if not isinstance(found, Typed):
            return ""
        parts: list[str] = []
        for sort in _BLENDS:
            share = ETHANOL[sort] or Fraction(0)
            mixed = (now * held + share * found.stored) / max(1, held + found.stored)
            said = msg("with {sort}: {share}")
            parts.append(words.text(said, sort=str(sort).upper(), share=words.percent(mixed)))
        return "; ".join(parts)

    # -- amounts -------------------------------------------------------------------------------

    def _volume(self, typed: str) -> Typed | Said | None:
        return typed_volume(typed.strip(), self.forms.settings, self.words)

    def _missing(self) -> Said:
        return Said(self.words.text(msg("Say how much, like 2 L.")), "volume")

    def _three(self, petrol: Quantity, part: Fraction) -> str:
        """A part of an amount in all three measures that stand on jugs and bottles."""
        words = self.words
        found = [
            words.in_unit(Quantity(from_microlitres(petrol.amount * part, unit), unit), unit)
            for unit in _OTHER_SIDE
        ]
        return f"{found[0]} ({found[1]}, {found[2]})"


def from_microlitres(amount: Fraction, unit: Unit) -> Fraction:
    """So many microlitres in another unit of volume."""
    return convert(Quantity(amount, Unit.MICROLITRE), unit).amount
