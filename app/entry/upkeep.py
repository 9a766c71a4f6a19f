"""Forms for what changes seldom: meters, engines and packs, how it works, the plan of a rest."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from app.entry.questions import Made, Questions, Step, Wish
from app.pieces.asked import Said, choice, day, text, typed_hours
from app.pieces.form import FieldSort
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.answers import AnswerDuties, SetDetails
from models.acts.hours import ReplaceMeter, SetMeter
from models.acts.storage import ChangePlan
from models.acts.units import AddUnit, FitUnit, RetireUnit, TakeOffUnit
from models.facts.plates import PlateFacts, Rest
from models.facts.settings import HouseholdSettings
from schedules.facts import DutyCode, ItemSort, Past
from schedules.plan import Judging

UNITS = (ItemSort.ENGINE, ItemSort.STARTER_BATTERY, ItemSort.PACK, ItemSort.GEAR_CASE)
DETAILS = {
    "oil": msg("Oil"),
    "plug": msg("Spark plug"),
    "fuel": msg("Fuel"),
    "belt": msg("Belt"),
    "pins": msg("Shear pins"),
    "tyres": msg("Tyres"),
    "key_hangs": msg("Key hangs"),
    "cord_hangs": msg("Mains cord hangs"),
    "ring": msg("If stuck, ring"),
    "plough": msg("Snow plough"),
}
NEW, OFF, FIT, GONE = "new", "off", "fit", "gone"


class Upkeep:
    """Makes these forms, and the acts of their answers."""

    def __init__(self, *, words: Wording) -> None:
        self.words = words
        self.ask = Questions(words)

    # -- hour meters ---------------------------------------------------------------------------

    def meter(self, judging: Judging, settings: HouseholdSettings, today: date) -> Wish:
        """Another hour meter was put on, or the one there turns over somewhere else."""
        words, number = self.words, judging.facts.machine_id
        what = (
            ("replaced", words.text(msg("another one was put on"))),
            ("turns", words.text(msg("it starts again from nought at"))),
        )
        page = self.ask.page(
            "meter",
            msg("The hour meter was changed"),
            (
                self.ask.field("what", msg("What happened"), FieldSort.TILES, choices=what),
                self.ask.field("old", msg("The old one showed last"), FieldSort.TEXT),
                self.ask.field("new", msg("The new one shows"), FieldSort.TEXT, default="0"),
                self.ask.field(
                    "turns",
                    msg("It starts again from nought at"),
                    FieldSort.TEXT,
                    hint=words.text(msg("Like 1000 h. Leave it empty when it never does.")),
                ),
                self.ask.day(today),
                self.ask.note(),
            ),
            lead=words.text(
                msg("{machine}: {hours} so far. They go on being counted."),
                machine=judging.facts.name,
                hours=words.hours_now(judging.verdict.hours),
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            said = choice(answers, "what")
            if not said:
                return Said(words.text(msg("Choose one of them.")), "what")
            turns = typed_hours(answers, "turns", settings, words)
            if isinstance(turns, Said):
                return turns
            modulus = None if turns is None else turns.stored
            if said == "turns":
                return SetMeter(machine_id=number, day=day(answers, "day"), modulus_seconds=modulus)
            old = typed_hours(answers, "old", settings, words, needed=True)
            new = typed_hours(answers, "new", settings, words, needed=True)
            for found in (old, new):
                if isinstance(found, Said):
                    return found
            if old is None or new is None or isinstance(old, Said) or isinstance(new, Said):
                return Said(words.text(msg("Nothing is typed here yet.")), "old")
            return ReplaceMeter(
                machine_id=number,
                day=day(answers, "day"),
                old_shown_seconds=old.stored,
                new_shown_seconds=new.stored,
                modulus_seconds=modulus,
                note=text(answers, "note"),
            )

        return Wish(page, make)

    # -- how it works, what to know of it ------------------------------------------------------

    def duties(self, judging: Judging, duties: Mapping[DutyCode, str]) -> Wish | Said:
        """How hard it works: what shortens its intervals. `duties`: the questions asked of its
        type, by code."""
        words, facts = self.words, judging.facts
        if not duties:
            said = msg("Nothing about how {machine} is used shortens an interval.")
            return Said(words.text(said, machine=facts.name), "")
        now = {code: code in facts.duties for code in duties}
        fields = tuple(
            self.ask.field(str(code), question, FieldSort.YES, default=now[code])
            for code, question in duties.items()
        )
        lead = words.text(
            msg("{machine}: what is ticked makes some work due sooner."), machine=facts.name
        )
        page = self.ask.page("duties", msg("How hard it works"), fields, lead=lead)

        def make(answers: Mapping[str, object]) -> Made:
            given = tuple(
                (str(code), bool(answers[str(code)]))
                for code in duties
                if bool(answers[str(code)]) is not now[code]
            )
            if not given:
                return Said(words.text(msg("Everything is already as you want it.")), "")
            return AnswerDuties(machine_id=facts.machine_id, answers=given)

        return Wish(page, make)

    def details(self, judging: Judging, known: Mapping[str, str]) -> Wish:
        """What to know at the machine; it stands on its card and its sheets."""
        words, facts = self.words, judging.facts
        fields = tuple(
            self.ask.field(code, label, FieldSort.TEXT, default=known.get(code, ""))
            for code, label in DETAILS.items()
        )
        page = self.ask.page(
            "details",
            msg("What to know of it"),
            fields,
            lead=words.text(
                msg(
                    "{machine}: for its card and its sheets. Copy it from the manual or the plate."
                ),
                machine=facts.name,
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            given = tuple(
                (code, text(answers, code))
                for code in DETAILS
                if text(answers, code) != known.get(code, "")
            )
            if not given:
                return Said(words.text(msg("Everything is already as you want it.")), "")
            return SetDetails(machine_id=facts.machine_id, details=given)

        return Wish(page, make)

    # -- engines, batteries, packs -------------------------------------------------------------

    def units(
        self, judging: Judging, plates: tuple[PlateFacts, ...], spares: tuple[PlateFacts, ...]
    ) -> Wish:
        """What is on the machine and what lies ready: ways onward."""
        words = self.words
        ways = [("units-new", words.text(msg("Another one came and was put on…")))]
        for unit in plates[1:]:
            ways.append((f"units-off-{unit.item_id}", self._way(msg("{unit}: taken off…"), unit)))
            ways.append((f"units-gone-{unit.item_id}", self._way(msg("{unit}: gone…"), unit)))
        ways += [
            (f"units-fit-{unit.item_id}", self._way(msg("{unit}: put on…"), unit))
            for unit in spares
        ]
        page = self.ask.ways(
            "units",
            msg("Engine, battery or pack"),
            tuple(ways),
            lead=words.text(
                msg("Each keeps its own hours and records, whatever machine it is on.")
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            return Step(choice(answers, "way"), judging.facts.machine_id)

        return Wish(page, make)

    def _way(self, said: str, unit: PlateFacts) -> str:
        return self.words.text(said, unit=f"{unit.name} ({self.words.word(unit.sort)})")

    def unit(
        self,
        wanted: str,
        judging: Judging,
        things: tuple[PlateFacts, ...],
        settings: HouseholdSettings,
        today: date,
    ) -> Wish | None:
        """One of those ways, as its name says it."""
        what, _, number = wanted.removeprefix("units-").partition("-")
        if what == NEW:
            return self._new_unit(judging, settings, today)
        unit = next((one for one in things if str(one.item_id) == number), None)
        return None if unit is None else self._same_unit(what, judging, unit, today)

    def _new_unit(self, judging: Judging, settings: HouseholdSettings, today: date) -> Wish:
        words = self.words
        came = (
            (str(Past.UNKNOWN), words.text(msg("used"))),
            (str(Past.NEW), words.text(msg("new"))),
        )
        page = self.ask.page(
            "units-new",
            msg("Another one came"),
            (
                self.ask.field(
                    "sort",
                    msg("What it is"),
                    FieldSort.TILES,
                    choices=tuple((str(sort), words.word(sort)) for sort in UNITS),
                ),
                self.ask.field("name", msg("What you call it"), FieldSort.TEXT),
                self.ask.field(
                    "past",
                    msg("How it came"),
                    FieldSort.TILES,
                    choices=came,
                    default=str(Past.UNKNOWN),
                ),
                self.ask.field(
                    "start",
                    msg("Hours it had run when it came"),
                    FieldSort.TEXT,
                    hint=words.text(msg("Leave it empty when nobody knows.")),
                ),
                self.ask.day(today, msg("Since when it is on")),
                self.ask.note(),
            ),
            lead=words.text(
                msg("{machine}: take the old engine off before another takes its place."),
                machine=judging.facts.name,
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            if not choice(answers, "sort"):
                return Said(words.text(msg("Choose one of them.")), "sort")
            sort = ItemSort(choice(answers, "sort"))
            start = typed_hours(answers, "start", settings, words)
            if isinstance(start, Said):
                return start
            return AddUnit(
                sort=sort,
                name=text(answers, "name") or words.word(sort),
                came_on=day(answers, "day"),
                past=Past(choice(answers, "past")),
                start_seconds=None if start is None else start.stored,
                machine_id=judging.facts.machine_id,
                note=text(answers, "note"),
            )

        return Wish(page, make)

    def _same_unit(self, what: str, judging: Judging, unit: PlateFacts, today: date) -> Wish | None:
        words, number = self.words, judging.facts.machine_id
        titles = {OFF: msg("Taken off"), FIT: msg("Put on"), GONE: msg("Gone")}
        leads = {
            OFF: msg("{unit} lies ready from that day on, with its hours and records."),
            FIT: msg("{unit} is on {machine} from that day on."),
            GONE: msg("{unit} is gone from that day on; its records stay."),
        }
        if what not in titles:
            return None
        asked = [self.ask.day(today)]
        if what == GONE:
            asked.append(self.ask.field("why", msg("Why"), FieldSort.TEXT))
        page = self.ask.page(
            f"units-{what}",
            titles[what],
            tuple(asked),
            lead=words.text(leads[what], unit=unit.name, machine=judging.facts.name),
        )

        def make(answers: Mapping[str, object]) -> Made:
            on = day(answers, "day")
            match what:
                case "off":
                    return TakeOffUnit(unit_id=unit.item_id, machine_id=number, on=on)
                case "fit":
                    return FitUnit(unit_id=unit.item_id, machine_id=number, on=on)
                case _:
                    return RetireUnit(unit_id=unit.item_id, on=on, why=text(answers, "why"))

        return Wish(page, make)

    # -- a rest --------------------------------------------------------------------------------

    def rest(self, judging: Judging, rest: Rest | None, today: date) -> Wish | Said:
        """Until when it is meant to sleep, and what is off or open meanwhile."""
        words, facts = self.words, judging.facts
        if rest is None:
            said = msg("{machine} is not put away.")
            return Said(words.text(said, machine=facts.name), "")
        page = self.ask.page(
            "rest",
            msg("While it sleeps"),
            (
                self.ask.field(
                    "until",
                    msg("Until when it is meant to"),
                    FieldSort.DAY,
                    default=rest.planned_last or today,
                ),
                self.ask.field(
                    "open_end",
                    msg("Nobody knows until when"),
                    FieldSort.YES,
                    default=rest.planned_last is None,
                ),
                self.ask.field(
                    "off_or_open",
                    msg("What is off or open now"),
                    FieldSort.NOTE,
                    default=rest.off_or_open,
                ),
                self.ask.field("note", msg("Note"), FieldSort.NOTE, default=rest.note),
            ),
            lead=words.text(
                msg("{machine}: put away on {day}."),
                machine=facts.name,
                day=words.day(rest.since_on),
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            return ChangePlan(
                machine_id=facts.machine_id,
                planned_last=None if answers["open_end"] else day(answers, "until"),
                off_or_open=text(answers, "off_or_open"),
                note=text(answers, "note"),
            )

        return Wish(page, make)
