"""The forms of a comparison: what is compared, how it was, values, the end of it."""

from __future__ import annotations

from collections.abc import Mapping
from statistics import median

from app.entry.questions import Made, Questions, Wish
from app.pieces.asked import Said, choice, day, text
from app.pieces.form import Field, FieldSort, FormPage
from app.trials.picture import gravest_first
from app.trials.said import amount_said, quantity_example
from app.wording.languages import msg
from app.wording.wording import Wording
from models.acts.trials import AddValues, BeginTrial, CloseTrial, SetConditions, Value
from models.facts.trials import Trial
from models.moment import Moment
from models.words import TrialSide
from resources.protocols import Protocol, Protocols
from schedules.facts import KindCode
from schedules.units import (
    Typed,
    UnitRefusedError,
    UnitSystem,
    dimension_of,
    parse_amount,
)

SURE = "sure"
# A value this many times the others is a slip of the unit or the point, unless it is said to be so.
_FAR = 5


class TrialForms:
    """Makes the forms, and the acts of their answers."""

    def __init__(
        self, *, words: Wording, protocols: Protocols, system: UnitSystem, moment: Moment
    ) -> None:
        self.words = words
        self.protocols = protocols
        self.system = system
        self.moment = moment
        self.ask = Questions(words)

    def begin(self, machine_id: int, kind: KindCode) -> Wish | Said:
        """What is compared, and how carefully."""
        words = self.words
        known = self.protocols.of_kind(kind)
        if not known:
            return Said(words.text(msg("There is nothing to compare on this machine yet.")), "")
        hints = {one.code: " ".join(words.text(line) for line in one.before) for one in known}
        care = (
            ("careful", words.text(msg("careful: as many values as settle it"))),
            ("rough", words.text(msg("rough: two or three a side"))),
        )
        page = self.ask.page(
            "trial",
            msg("Compare before and after"),
            (
                self.ask.field(
                    "protocol",
                    msg("What is compared"),
                    FieldSort.CHOICE,
                    choices=tuple((one.code, words.text(one.name)) for one in known),
                    default=known[0].code,
                    details=hints,
                ),
                self.ask.field(
                    "care", msg("How"), FieldSort.TILES, choices=care, default="careful"
                ),
                self.ask.field("work", msg("What is done in between"), FieldSort.TEXT),
                self.ask.field(
                    "reference",
                    msg("A machine beside it that is not worked on"),
                    FieldSort.TEXT,
                    hint=words.text(
                        msg("It makes up for other snow or weather. Leave it empty for none.")
                    ),
                ),
                self.ask.day(self.moment.today),
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            protocol = self.protocols.protocols[choice(answers, "protocol")]
            name = words.text(protocol.name)
            return BeginTrial(
                machine_id=machine_id,
                protocol=protocol.code,
                day=day(answers, "day"),
                rough=choice(answers, "care") == "rough",
                work=text(answers, "work"),
                reference=text(answers, "reference"),
                job=words.text(msg("Before and after: {what}"), what=name),
            )

        return Wish(page, make)

    def conditions(self, trial: Trial, side: TrialSide) -> Wish:
        """How it was on one side."""
        words = self.words
        said = {code: answer for each, code, answer in trial.answers if each is side}
        fields = tuple(
            Field(
                name=code,
                label=words.text(self.protocols.conditions[code].question),
                sort=FieldSort.TILES,
                choices=tuple(
                    (value, words.text(shown))
                    for value, shown in self.protocols.conditions[code].answers
                ),
                default=said.get(code, ""),
            )
            for code in trial.asked
        )
        title = msg("How it was before") if side is TrialSide.BEFORE else msg("How it is after")
        page = self.ask.page("trial_conditions", title, fields)

        def make(answers: Mapping[str, object]) -> Made:
            given = tuple((code, choice(answers, code)) for code in trial.asked)
            return SetConditions(
                trial_id=trial.trial_id,
                side=side,
                answers=tuple((code, value) for code, value in given if value),
            )

        return Wish(page, make)

    def values(self, trial: Trial, side: TrialSide | None) -> Wish:
        """Values, each in a field of its own. `side` None: those of the machine beside it."""
        words, protocol = self.words, trial.protocol
        wanted = protocol.rough if trial.rough else protocol.careful
        unit = quantity_example(protocol, self.system, words)
        fields: list[Field] = []
        if side is None:
            sides = tuple((str(one), words.word(one)) for one in TrialSide)
            fields.append(
                self.ask.field("side", msg("Side"), FieldSort.TILES, choices=sides, default="")
            )
            wanted = min(wanted, 4)
        fields += [
            Field(
                name=f"value{number}",
                label=words.text(msg("Value {n}"), n=number),
                sort=FieldSort.TEXT,
                placeholder=unit,
            )
            for number in range(1, wanted + 1)
        ]
        fields.append(self.ask.day(self.moment.today))
        fields.append(
            self.ask.field(SURE, msg("They are right as they stand"), FieldSort.YES, later=True)
        )
        page = self._values_page(trial, tuple(fields))

        def make(answers: Mapping[str, object]) -> Made:
            which = side if side is not None else choice(answers, "side")
            if not which:
                return Said(words.text(msg("Say which side they are of.")), "side")
            return self._made_values(trial, TrialSide(which), answers, wanted, of=side is None)

        return Wish(page, make)

    def _values_page(self, trial: Trial, fields: tuple[Field, ...]) -> FormPage:
        words = self.words
        plain = self.ask.page("trial_values", msg("What you measured"), fields)
        return FormPage(
            key=plain.key,
            title=plain.title,
            lead="\n".join(words.text(line) for line in trial.protocol.before),
            fields=fields,
            done=plain.done,
            cancel=plain.cancel,
            later=plain.later,
            cautions=gravest_first(words.caution(code) for code in trial.protocol.cautions)[:2],
        )

    def _made_values(
        self,
        trial: Trial,
        side: TrialSide,
        answers: Mapping[str, object],
        wanted: int,
        *,
        of: bool,
    ) -> Made:
        found: list[Value] = []
        known = [float(one.amount) for one in trial.values]
        for number in range(1, wanted + 1):
            name = f"value{number}"
            typed = text(answers, name)
            if not typed:
                continue
            read = self._read(typed, name, trial.protocol)
            if isinstance(read, Said):
                return read
            slip = self._slip(read, known, name, trial.protocol)
            if slip is not None and not answers.get(SURE):
                return slip
            known.append(float(read.stored))
            found.append(Value(amount=read.stored, typed=read))
        if not found:
            return Said(self.words.text(msg("Type one value at least.")), "value1")
        return AddValues(
            trial_id=trial.trial_id,
            side=side,
            day=day(answers, "day"),
            values=tuple(found),
            of_reference=of,
        )

    def _read(self, typed: str, name: str, protocol: Protocol) -> Typed | Said:
        try:
            read = parse_amount(
                typed,
                dimension_of(protocol.unit),
                system=self.system,
                decimal_comma=False,
                implied=protocol.shown(self.system),
            )
        except UnitRefusedError as refused:
            return Said(self.words.amount_refused(refused), name)
        if not 0 < read.stored <= protocol.most:
            most = amount_said(protocol, protocol.most, self.system, self.words)
            said = msg("It has to lie above nought, and at most at {most}.")
            return Said(self.words.text(said, most=most), name)
        return read

    def _slip(self, read: Typed, known: list[float], name: str, protocol: Protocol) -> Said | None:
        """A value far from all the others: the wrong unit, or a point that slipped."""
        if not known or protocol.unit is protocol.shown(self.system):
            return None
        middle = median(known)
        if middle / _FAR <= read.stored <= middle * _FAR:
            return None
        words = self.words
        usual = amount_said(protocol, round(middle), self.system, words)
        now = amount_said(protocol, read.stored, self.system, words)
        said = msg(
            "{now}, where the others are about {usual}: another unit, or a point that slipped? "
            "Correct it, or tick “They are right as they stand”."
        )
        return Said(words.text(said, now=now, usual=usual), name)

    def close(self, trial: Trial) -> Wish:
        """Nothing more is measured."""
        page = self.ask.page(
            "trial_close",
            msg("That is all"),
            (
                self.ask.day(self.moment.today),
                self.ask.field(
                    "why",
                    msg("Given up, because"),
                    FieldSort.TEXT,
                    hint=self.words.text(msg("Leave it empty when both sides were measured.")),
                ),
            ),
        )

        def make(answers: Mapping[str, object]) -> Made:
            return CloseTrial(
                trial_id=trial.trial_id, day=day(answers, "day"), why=text(answers, "why")
            )

        return Wish(page, make)
