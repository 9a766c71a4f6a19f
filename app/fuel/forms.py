"""The forms of the fuel room: what happened to a vessel, vessels themselves, entries put right."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from app.entry.amend import Amend
from app.entry.danger import danger_of
from app.entry.fuel_forms import sort_choices, typed_volume
from app.entry.missing import about_missing
from app.entry.questions import Made, Questions, Wish
from app.fuel.picture import Standing
from app.pieces.asked import Said, amount, choice, day, text
from app.pieces.form import Field, FieldSort
from app.wording.languages import msg
from app.wording.units import reading_unit
from app.wording.wording import Wording
from models.acts.corrections import CorrectEntry, StrikeEntry
from models.acts.fuel import (
    USUAL_SORT,
    AddOil,
    Drain,
    Fill,
    FuelAct,
    LookAtFuel,
    Pour,
    SetLevel,
    Stabilise,
    TopUp,
)
from models.changes import Area
from models.errors import Refused, RefusedCode
from models.facts.records import RecordedEntry
from models.facts.settings import HouseholdSettings
from schedules.facts import FuelSort, Gone, Look
from schedules.units import Unit, entry_text

LOOKS = {f"look-{look}": look for look in Look}
STRIKE = "strike"
# Our judgement: reckoned burns are off by a third, seldom by more than twice; a splash is nothing.
_AT_MOST, _SPLASH_UL = 2, 200_000
_ACTS = (Fill, TopUp, Pour, Drain, Stabilise, LookAtFuel, AddOil, SetLevel)
_GONE = {
    "burnt": Gone.BURNT,
    "part": Gone.DRAINED,
    "spilled": Gone.SPILLED,
    "tip": Gone.DISPOSED,
}


@dataclass(frozen=True, slots=True)
class FuelForms:
    """Makes the forms about one vessel on one day. `reckoned`: what its machine burnt up to a day
    since anything was entered about it, in microlitres; None where nobody can say."""

    words: Wording
    settings: HouseholdSettings
    today: date
    reckoned: Callable[[Standing, date], int | None] = lambda _one, _day: None

    @property
    def ask(self) -> Questions:
        """Makes pages and fields."""
        return Questions(self.words)

    # -- what happened -------------------------------------------------------------------------

    def ways(self, one: Standing, name: str) -> Wish:
        """Everything that can happen to a vessel, to pick from."""
        words = self.words
        ways = [
            ("bought", words.text(msg("Bought, and filled into it"))),
            ("topped", words.text(msg("Topped up, nobody knows from where"))),
            ("found", words.text(msg("Found in it, nobody knows how old"))),
            ("level", words.text(msg("So much is in it now, by eye"))),
            ("treat", words.text(msg("Stabiliser went in"))),
            ("oil", words.text(msg("Two-stroke oil went in"))),
        ]
        if one.verdict.lots:
            ways += [
                ("burnt", words.text(msg("Burnt by running"))),
                ("part", words.text(msg("Some of it taken out"))),
                ("spilled", words.text(msg("Spilled"))),
                ("tip", words.text(msg("Taken to a collection point"))),
                *((code, words.word(look)) for code, look in LOOKS.items()),
            ]
        page = self.ask.ways("happened", msg("What happened?"), tuple(ways), lead=name)

        def make(answers: Mapping[str, object]) -> Made:
            return self.happened(choice(answers, "way"), one, name)

        return Wish(page, make)

    def happened(self, way: str, one: Standing, name: str) -> Wish:
        """The form for one thing that happened."""
        match way:
            case "bought" | "found" | "topped":
                return self.came_in(way, one, name)
            case _:
                return self._one_amount(way, one, name)

    def came_in(self, way: str, one: Standing, name: str) -> Wish:
        """Fuel came into it from outside."""
        ask, words = self.ask, self.words
        sorts = sort_choices({one.card.burns}, words)
        hint = words.text(msg("Leave it empty if it was filled to the brim."))
        fields: list[Field] = [
            ask.field("volume", msg("How much"), FieldSort.TEXT, hint=hint),
            ask.field(
                "sort",
                msg("What sort"),
                FieldSort.CHOICE,
                choices=sorts,
                default=str(self.usual_sort(one)),
            ),
            ask.day(self.today),
        ]
        if way == "bought":
            fields += [
                ask.field("treated", msg("Stabiliser went in with it"), FieldSort.YES),
                ask.field(
                    "bought", msg("Bought on"), FieldSort.DAY, default=self.today, later=True
                ),
                ask.field("cents", msg("Paid"), FieldSort.TEXT, later=True),
            ]
        fields.append(ask.note())
        titles = {
            "bought": msg("Bought, and filled into it"),
            "topped": msg("Topped up, nobody knows from where"),
            "found": msg("Found in it, nobody knows how old"),
        }
        page = ask.page("fuel", titles[way], tuple(fields), lead=name)

        def make(answers: Mapping[str, object]) -> Made:
            return self.sure(self._made_came_in(way, one, answers), one, name)

        return Wish(page, make)

    def _made_came_in(self, way: str, one: Standing, answers: Mapping[str, object]) -> Made:
        volume = typed_volume(text(answers, "volume"), self.settings, self.words)
        if isinstance(volume, Said):
            return volume
        stored = None if volume is None else volume.stored
        sort, when = FuelSort(choice(answers, "sort")), day(answers, "day")
        note, number = text(answers, "note"), int(one.facts.vessel_id)
        if way == "topped":
            return TopUp(
                vessel_id=number, day=when, volume_ul=stored, typed=volume, sort=sort, note=note
            )
        cents = amount(answers, "cents", self.words, self.settings.currency)
        if isinstance(cents, Said):
            return cents
        bought = min(day(answers, "bought"), when) if way == "bought" else None
        if bought == self.today:
            bought = when
        return Fill(
            vessel_id=number,
            day=when,
            sort=sort,
            volume_ul=stored,
            typed=volume,
            to_brim=volume is None,
            bought_on=bought,
            age_known=way == "bought",
            stabilised=bool(answers.get("treated")),
            cents=cents,
            note=note,
        )

    def sure(self, made: Made, one: Standing, name: str) -> Made:
        """What is dangerous to the engine is asked a second time; then it is kept, for it may have
        happened, and the vessel says what it is now."""
        sort = made.sort if isinstance(made, Fill | TopUp) else None
        danger = "" if sort is None else danger_of((sort,), one.facts, name, self.words)
        if not danger:
            return made
        return self.asked_twice(danger, made)

    def asked_twice(self, danger: str, act: Made) -> Wish:
        """A second page that says what is wrong, and takes the act all the same."""
        ask, words = self.ask, self.words
        page = replace(
            ask.page("sure", msg("Are you sure?"), (), lead=danger),
            done=words.text(msg("It happened: keep it")),
        )
        return Wish(page, lambda _answers: act)

    def usual_sort(self, one: Standing) -> FuelSort:
        """What is most likely to go into it: what went in last, else what its engine burns; of
        petrol nobody said how much alcohol is in it."""
        last = one.card.last_sort
        if last is not None and last is not FuelSort.UNKNOWN:
            return last
        return USUAL_SORT[one.card.burns]

    def _one_amount(self, way: str, one: Standing, name: str) -> Wish:
        """Things of which a day and perhaps an amount is all there is to say."""
        ask, words = self.ask, self.words
        titles = {
            "level": msg("So much is in it now, by eye"),
            "treat": msg("Stabiliser went in"),
            "oil": msg("Two-stroke oil went in"),
            "burnt": msg("Burnt by running"),
            "part": msg("Some of it taken out"),
            "spilled": msg("Spilled"),
            "tip": msg("Taken to a collection point"),
        }
        fields: list[Field] = []
        if way in titles:
            label = msg("How much stabiliser, if it was measured") if way == "treat" else None
            hints = {
                "level": msg("Like 2 L, or 0 for empty."),
                "treat": msg("Leave it empty if nobody measured it."),
                "oil": msg("Like 100 ml."),
            }
            all_of_it = msg("Leave it empty for all of it.")
            fields.append(
                ask.field(
                    "volume",
                    label or msg("How much"),
                    FieldSort.TEXT,
                    hint=words.text(hints.get(way, all_of_it)),
                )
            )
        fields += [ask.day(self.today), ask.note()]
        title = titles.get(way, msg("Looked and smelt"))
        lead = name if way in titles else f"{name}: {words.word(LOOKS[way])}"
        page = ask.page("fuel", title, tuple(fields), lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            return self._made_amount(way, one, name, answers)

        return Wish(page, make)

    def _made_amount(
        self, way: str, one: Standing, name: str, answers: Mapping[str, object]
    ) -> Made:
        volume = typed_volume(text(answers, "volume"), self.settings, self.words)
        if isinstance(volume, Said):
            return volume
        number, when, note = int(one.facts.vessel_id), day(answers, "day"), text(answers, "note")
        stored = None if volume is None else volume.stored
        match way:
            case "level" if volume is None:
                return Said(self.words.text(msg("Say how much is in it, like 2 L.")), "volume")
            case "level":
                level = SetLevel(
                    vessel_id=number, day=when, volume_ul=stored or 0, typed=volume, note=note
                )
                return self.level(level, one, name)
            case "oil" if not stored:
                return Said(self.words.text(msg("Say how much oil it was, like 100 ml.")), "volume")
            case "oil":
                oil = AddOil(
                    vessel_id=number, day=when, volume_ul=stored or 0, typed=volume, note=note
                )
                danger = danger_of((FuelSort.PREMIX,), one.facts, name, self.words)
                return self.asked_twice(danger, oil) if danger else oil
            case "treat":
                return Stabilise(
                    vessel_id=number, day=when, dose_ul=stored, typed=volume, note=note
                )
            case "burnt" | "part" | "spilled" | "tip":
                drain = Drain(
                    vessel_id=number,
                    day=when,
                    volume_ul=stored,
                    typed=volume,
                    gone=_GONE[way],
                    note=note,
                )
                return self._explained(drain, one)
            case _:
                return LookAtFuel(vessel_id=number, day=when, look=LOOKS[way], note=note)

    def level(self, level: SetLevel, one: Standing, name: str) -> Made:
        """A level that was seen; where less was seen than there should be, it is asked why."""
        reckoned = self.reckoned(one, level.day)
        return about_missing(level, one.facts, name, self.words, reckoned_ul=reckoned)

    def _explained(self, drain: Drain, one: Standing) -> Made:
        """A burn that the hours of the machine cannot explain is asked a second time."""
        reckoned = self.reckoned(one, drain.day) if drain.gone is Gone.BURNT else None
        burnt = one.verdict.volume_ul if drain.volume_ul is None else drain.volume_ul
        if reckoned is None or burnt <= reckoned * _AT_MOST + _SPLASH_UL:
            return drain
        words = self.words
        said = msg(
            "By its hours it burnt about {reckoned} since the last entry, not {burnt}. It may have "
            "run longer than is known, or some was lost: then enter that as spilled."
        )
        reckoned_said, burnt_said = words.litres(reckoned), words.litres(burnt)
        return self.asked_twice(words.text(said, reckoned=reckoned_said, burnt=burnt_said), drain)

    # -- putting right -------------------------------------------------------------------------

    def which_entry(
        self,
        entries: Sequence[RecordedEntry],
        said: Mapping[int, str],
        again: Callable[[RecordedEntry], FuelAct | None],
    ) -> Wish | Said:
        """Which of the entries is to be put right; `again`: the act that would enter one anew."""
        counting = {str(one.entry_id): one for one in entries if not one.superseded}
        if not counting:
            return Said(self.words.text(msg("Nothing was entered that still counts.")), "")
        choices = tuple((number, said[one.entry_id]) for number, one in counting.items())
        field = self.ask.field("entry", msg("Which entry"), FieldSort.CHOICE, choices=choices)
        page = replace(
            self.ask.page("which", msg("Correct an entry"), (field,)),
            done=self.words.text(msg("Go on")),
        )

        def make(answers: Mapping[str, object]) -> Made:
            entry = counting[choice(answers, "entry")]
            return self.correct(entry, again(entry))

        return Wish(page, make)

    def correct(self, entry: RecordedEntry, act: FuelAct | None) -> Wish:
        """The form for one entry, filled in with what was entered; it can be struck out, too."""
        words = self.words
        strike = Field(
            name=STRIKE,
            label=words.text(msg("This never happened: strike it out")),
            sort=FieldSort.YES,
        )
        volume = "" if entry.volume_ul is None else volume_text(entry.volume_ul, words)
        if act is None:
            page = self.ask.page("correct", msg("Strike an entry out"), (strike,))
            return Wish(page, lambda _answers: self._struck(entry))
        inner, make_inner = Amend(words=words, settings=self.settings).fuel(act, volume)
        page = replace(
            inner,
            key="correct",
            title=words.text(msg("Correct an entry")),
            lead=words.text(msg("What was entered first is kept beside it.")),
            fields=(*inner.fields, strike),
        )

        def make(answers: Mapping[str, object]) -> Made:
            if answers.get(STRIKE):
                return self._struck(entry)
            if all(answers.get(name) == given for name, given in inner.given().items()):
                return Refused(RefusedCode.NOTHING_CHANGED)
            by = make_inner(answers)
            if isinstance(by, _ACTS):
                return CorrectEntry(entry_id=entry.entry_id, by=by)
            return by

        return Wish(page, make)

    @staticmethod
    def _struck(entry: RecordedEntry) -> StrikeEntry:
        return StrikeEntry(area=Area.FUEL, entry_id=entry.entry_id)


def volume_text(volume_ul: int, words: Wording) -> str:
    """A volume as it can be typed: in the household's unit, or as it is stored if that is not
    even."""
    shown, unit = reading_unit(Fraction(volume_ul), Unit.MICROLITRE, words.units)
    try:
        return entry_text(shown, unit, decimal_comma=False)
    except ValueError:
        return entry_text(Fraction(volume_ul), Unit.MICROLITRE, decimal_comma=False)
