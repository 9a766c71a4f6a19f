"""Codes to sentences: the one mechanism that screen, paper and command line share."""

from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction

from app.wording.acts import ACTS, AREAS
from app.wording.faults import AMOUNTS, REFUSALS, TROUBLES, Notice
from app.wording.fields import FIELDS, SUBJECTS
from app.wording.grounds import PHRASES, SENTENCES, Sentence
from app.wording.languages import msg
from app.wording.lines import CautionText, Line
from app.wording.tongue import NBSP, Tongue
from app.wording.units import UnitChoice
from app.wording.wear import CLASSES
from app.wording.words import FIGURES, ORDINALS, WORDS
from models.changes import ActLabel, Area
from models.errors import Refused, Trouble
from resources.loader import Catalogue
from schedules.facts import (
    Band,
    CautionCode,
    Direction,
    FeatureCode,
    FuelClock,
    GovernedBy,
    HoursBasis,
    HoursNow,
    KindCode,
    LimitCode,
    LimitFacts,
    Look,
    MachineState,
    Mark,
    Phase,
    SourceId,
    TaskCode,
    TaskState,
)
from schedules.reasons import Reason, ReasonCode, Value
from schedules.units import Quantity, Unit, UnitRefusedError

# What a field keeps, by the end of its name.
_STORED: Mapping[str, Unit] = {
    "_seconds": Unit.SECOND,
    "_ul": Unit.MICROLITRE,
    "_mc": Unit.MILLIDEGREE_CELSIUS,
    "cents": Unit.CENT,
}

# Values of a ground that are codes, by name; anything else that is text was typed by somebody.
_CODED: Mapping[str, type[StrEnum]] = {
    "governed_by": GovernedBy,
    "phase": Phase,
    "basis": HoursBasis,
    "band": Band,
    "look": Look,
    "clock": FuelClock,
    "mark": Mark,
}


class Wording(Tongue):
    """A tongue that knows the catalogue, and so can say what the codes of the house mean."""

    def __init__(self, language: str, units: UnitChoice, catalogue: Catalogue) -> None:
        super().__init__(language, units)
        self.catalogue = catalogue

    # -- single codes --------------------------------------------------------------------------

    def word(self, code: StrEnum) -> str:
        """What an enum's member is called on screen. Raises KeyError for one without a word."""
        return self.text(WORDS[type(code)][code])

    def state(self, state: TaskState | MachineState) -> str:
        """The words for a state of a task or a machine."""
        return self.word(state)

    def governed_by(self, ground: GovernedBy) -> str:
        """What made the day, to stand behind *because of*."""
        return self.word(ground)

    def band(self, band: Band) -> str:
        """What to do with fuel of this band."""
        return self.word(band)

    def mark(self, mark: Mark) -> str:
        """What a figure rests on."""
        return self.word(mark)

    def phase(self, phase: Phase) -> str:
        """A time of the machine's year."""
        return self.word(phase)

    # -- the catalogue -------------------------------------------------------------------------

    def task(self, code: TaskCode) -> str:
        """The name of a task; a code nobody knows any more stands as it is."""
        task = self.catalogue.tasks.get(code)
        return code if task is None else self.text(task.name)

    def kind(self, code: KindCode) -> str:
        """The name of a type of machine."""
        kind = self.catalogue.kinds.get(code)
        return code if kind is None else self.text(kind.name)

    def limit(self, code: LimitCode) -> str:
        """The name of a measurement."""
        limit = self.catalogue.limits.get(code)
        return code if limit is None else self.text(limit.name)

    def caution(self, code: CautionCode) -> CautionText:
        """A caution and its signal word. Raises KeyError for one the catalogue has not."""
        caution = self.catalogue.cautions[code]
        return CautionText(self.word(caution.severity), self.text(caution.text), caution.severity)

    def feature(self, code: FeatureCode) -> str:
        """The question about a feature."""
        feature = self.catalogue.features.get(code)
        return code if feature is None else self.text(feature.question)

    def source(self, source_id: str) -> str:
        """A source as a footnote: who, what, when, where in it."""
        found = self.catalogue.sources.get(SourceId(source_id))
        if found is None:
            return self.mark(Mark.OWN_MANUAL) if source_id == Mark.OWN_MANUAL else source_id
        year = "" if found.year is None else str(found.year)
        parts = (found.publisher, found.title, year, found.place_in_it)
        return ", ".join(part for part in parts if part)

    # -- figures -------------------------------------------------------------------------------

    def amount(self, limit: LimitFacts, amount: int | None) -> str:
        """A figure of a limit, given in its stored unit."""
        if amount is None:
            return self.text(msg("not known"))
        classes = CLASSES.get(limit.code, ())
        if 0 <= amount < len(classes):
            return f"{amount}{NBSP}({self.text(classes[amount])})"
        return self.quantity(Quantity(Fraction(amount), limit.unit))

    def worn_when(self, limit: LimitFacts) -> str:
        """Where a measurement means work: *worn when* ..., without the name of the measurement."""
        low = None if limit.low is None else self.amount(limit, limit.low)
        high = None if limit.high is None else self.amount(limit, limit.high)
        match limit.direction:
            case Direction.EVENT:
                return self.text(limit.event)
            case Direction.BETWEEN if low is not None and high is not None:
                return self.text(msg("below {low} or above {high}"), low=low, high=high)
            case _ if high is not None:
                return self.text(msg("{high} or more"), high=high)
            case _ if low is not None:
                return self.text(msg("{low} or less"), low=low)
            case _:
                return self.text(msg("no limit set; your manual may have one"))

    def hours_now(self, now: HoursNow) -> str:
        """The hours of today and what they rest on."""
        if now.seconds is None:
            return self.text(msg("not known"))
        read = now.basis in (HoursBasis.METER, HoursBasis.LOG)
        said = self.run_time(now.seconds, estimated=not read)
        if now.basis is HoursBasis.ESTIMATED:
            return said
        return self.text(msg("{amount} ({basis})"), amount=said, basis=self.word(now.basis))

    def shelf_life(self, lives: Fraction) -> str:
        """How much of its shelf life fuel has behind it, to stand before *its shelf life*."""
        if lives < 2:
            return self.text(msg("{share} of"), share=self.percent(lives))
        return self.text(msg("{n} times"), n=self.number(lives))

    # -- reasons -------------------------------------------------------------------------------

    def reason(self, ground: Reason, *, machine: str = "") -> str:
        """One sentence for one ground, without those beneath it. `machine`: whose ground it is,
        where that is said already; its own tank is then *it*."""
        values = dict(ground.values)
        template = self.text(_template(SENTENCES[ground.code], values))
        return self._filled(template, self._said(values, machine))

    def tree(self, ground: Reason, *, machine: str = "") -> tuple[Line, ...]:
        """The ground and all beneath it, each with its depth, top first."""
        lines: list[Line] = []
        waiting = [(0, ground)]
        while waiting:
            depth, here = waiting.pop()
            lines.append(self._line(depth, here, machine))
            # Two rules of one task may say the same; once is enough to read.
            children = tuple(dict.fromkeys(here.children))
            waiting.extend((depth + 1, child) for child in reversed(children))
        return tuple(lines)

    def standing(self, ground: Reason) -> str:
        """A machine's state in one sentence, with the worst of its grounds: *usable, but ...*."""
        worst = next((child for child in ground.children if child.code in PHRASES), None)
        if worst is None:
            return self.reason(ground)
        match ground.code:
            case ReasonCode.STATE_DOWN:
                said = msg("{machine} is out of order: {phrase}.")
            case ReasonCode.STATE_WITH_CARE:
                said = msg("{machine} is usable, but {phrase}.")
            case ReasonCode.STATE_LAID_UP:
                said = msg("{machine} has been put away {phrase}.")
            case _:
                said = msg("How {machine} is, nobody can say yet: {phrase}.")
        machine, values = str(ground.value("machine")), dict(worst.values)
        template = self.text(_template(PHRASES[worst.code], values))
        phrase = self._filled(template, self._said(values, machine))
        return self.text(said, machine=machine, phrase=phrase)

    def _line(self, depth: int, ground: Reason, machine: str) -> Line:
        values = dict(ground.values)
        figure = SENTENCES[ground.code].figure
        shown = values.get(figure) if figure else None
        value_text = "" if shown is None else self._said(values, machine)[figure]
        source_text = "" if ground.source is None else self.source(ground.source)
        return Line(depth, self.reason(ground, machine=machine), value_text, source_text)

    def _said(self, values: Mapping[str, Value], machine: str) -> dict[str, str]:
        said = {name: self._value(name, value) for name, value in values.items()}
        run, basis = values.get("hours"), values.get("basis")
        if isinstance(run, Quantity):
            estimated = basis not in (HoursBasis.METER, HoursBasis.LOG)
            said["hours"] = self.run_time(run.amount, estimated=estimated)
        if "vessel" in said:  # a machine's own tank usually goes by the machine's name
            own = machine and said["vessel"] == machine
            said["vessel"] = self.text(msg("it")) if own else f"“{said['vessel']}”"
        return said

    def _value(self, name: str, value: Value) -> str:
        """A value of a ground by its name: codes become words, users' text stays as it is."""
        match name, value:
            case (("task" | "other_task"), str()):
                return self.task(TaskCode(value))
            case "limit", str():
                return self.limit(LimitCode(value))
            case (("at" | "interval"), Quantity(unit=Unit.SECOND)):
                return self.round_hours(value.amount)
            case (("stale" | "spoilt" | "lost" | "most_share"), Quantity()):
                return self.percent(value.amount / 1000)
            case "ageing", Quantity():
                return self.shelf_life(value.amount / 1000)
            case "figure", str():
                return self.text(FIGURES.get(value, value))
            case _, str() if name in _CODED:
                return self._coded(_CODED[name], value)
            case _, int():
                return self._whole(name, value)
            case _:
                return self.plain(value)

    def _whole(self, name: str, value: int) -> str:
        match name:
            case "uses":
                return self.uses(value)
            case "months":
                return self.months(value)
            case "days":
                return self.days(value)
            case "percent":
                return self.percent(Fraction(value, 100))
            case "left":
                return self.count(msg("{n} thing"), msg("{n} things"), value)
            case "season":
                return str(value)
            case "n":
                return self.text(ORDINALS[value]) if value in ORDINALS else self._nth(value)
            case _:
                return self.number(value)

    def _nth(self, value: int) -> str:
        return self.text(msg("{n} times"), n=value)

    def _coded(self, enum: type[StrEnum], value: str) -> str:
        """The word of a code; one that a later version may know stands as it is."""
        return self.word(enum(value)) if value in enum.__members__.values() else value

    # -- acts and faults -----------------------------------------------------------------------

    def act(self, label: ActLabel) -> str:
        """What was done, and to what when the label says so: *work done: Red one*."""
        said = self.text(ACTS[label.code])
        name = next((value for key, value in label.values if key == "name"), None)
        if not isinstance(name, str) or not name:
            return said
        return self.text(msg("{act}: {name}"), act=said, name=name)

    def area(self, area: Area) -> str:
        """A part of the household."""
        return self.text(AREAS[area])

    def refused(self, refused: Refused) -> str:
        """Why a request was not carried out: what happened, what it means, what to do."""
        return " ".join(self.refused_parts(refused))

    def refused_parts(self, refused: Refused) -> tuple[str, str, str]:
        """The three sentences apart."""
        return self._notice(REFUSALS[refused.code], dict(refused.values))

    def amount_refused(self, refused: UnitRefusedError) -> str:
        """Why a typed amount was not taken, in one sentence to stand beside its field."""
        return self._filled(self.text(AMOUNTS[refused.code]), {"text": refused.text})

    def trouble(self, trouble: Trouble) -> str:
        """How the world failed: what happened, what it means, what to do."""
        return " ".join(self.trouble_parts(trouble))

    def trouble_parts(self, trouble: Trouble) -> tuple[str, str, str]:
        """The three sentences apart."""
        return self._notice(TROUBLES[trouble.code], dict(trouble.values))

    def _notice(self, notice: Notice, values: Mapping[str, Value]) -> tuple[str, str, str]:
        said = {name: self._fault_value(name, value) for name, value in values.items()}
        field = values.get("field")
        if "where" in values:  # a place in a file, which has names of its own
            said["field"] = str(field)
        for name in ("value", "low", "high") if isinstance(field, str) else ():
            bound = values.get(name)
            if isinstance(bound, int):
                said[name] = self._of_field(str(field), bound)
        happened, means, act = (self._filled(self.text(part), said) for part in notice.parts)
        return happened, means, act

    def _of_field(self, field: str, amount: int) -> str:
        """A whole number as the field keeps it, which its name says, as the household reads it."""
        unit = next((u for end, u in _STORED.items() if field.endswith(end)), None)
        if unit is Unit.SECOND:
            return self.round_hours(amount)
        return (
            self.number(amount) if unit is None else self.quantity(Quantity(Fraction(amount), unit))
        )

    def _fault_value(self, name: str, value: Value) -> str:
        match name, value:
            case "field", str():
                return self.text(FIELDS[value]) if value in FIELDS else value.replace("_", " ")
            case "what", str():
                return self.text(SUBJECTS[value]) if value in SUBJECTS else value
            case "limit", str():
                return self.limit(LimitCode(value))
            case "task", str():
                return self.task(TaskCode(value))
            case (("volume_ul" | "room_ul" | "held_ul"), int()):
                return self.litres(value)
            case (("shown" | "before" | "after"), Quantity()):
                return self.quantity(value)
            case (("bytes" | "most"), int()) if value >= 100_000:
                return self.file_size(value)
            case (("id" | "pid" | "found" | "known"), int()):
                return str(value)
            case _:
                return self.plain(value)


def _template(sentence: Sentence, values: Mapping[str, Value]) -> str:
    missing = sorted(name for name, value in values.items() if value is None)
    if not missing or sentence.without is None:
        return sentence.text
    return sentence.without.get(" ".join(missing), sentence.text)
