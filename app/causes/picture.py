"""Puts advice and odds into words: for the room, the command line and paper alike. No window."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from app.causes.state import OutcomeLine, StepCard, SuspectLine
from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.searching import (
    APPRAISE_STEPS,
    COSTS,
    GO_ON_STEPS,
    GROUNDS,
    HAND_OVER_STEPS,
    KINDS,
    LOOK_OVER_STEPS,
    OTHER_SUBJECT,
    RECORDED,
    SUBJECTS,
    WORKS_STEPS,
    odds_words,
)
from app.wording.wording import Wording
from resources.own_faults import faults_beside
from resources.reading import CatalogueError
from schedules.facts import CautionCode
from schedules.fault_facts import (
    BeforeId,
    Cause,
    CauseId,
    FaultModel,
    FaultModels,
    FaultTest,
    OpeningId,
    OutcomeId,
    ReadingId,
    Seen,
)
from schedules.fault_state import FaultState, Record
from schedules.faults import (
    Advice,
    AdviceKind,
    Care,
    Ground,
    GroundCode,
    Suspect,
    care_of_cure,
    likely,
)
from schedules.states import Severity

SUSPECTS = 6
# What everybody sees at once is counted without a word.
PLAIN_TO_SEE = ("engine", "kind")
# Together with those before them these make up so much of the odds: they are in question now.
IN_QUESTION = 0.8
HELPED, FAILED = "helped", "failed"
_SENTENCES = re.compile(r"(?<=[.?!]) (?=[A-Z(“])")
_ORDER = tuple(Severity)


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultWords:
    """Says what a model and a search hold, in one language."""

    words: Wording
    models: FaultModels
    problems: tuple[CatalogueError, ...] = ()

    # -- the household's own -----------------------------------------------------------------

    def title(self, title: str, *, is_own: bool) -> str:
        """What a complaint is called; one that the household wrote says so."""
        said = self.words.text(title)
        return self.words.text(msg("{title} (your own)"), title=said) if is_own else said

    def not_taken(self) -> tuple[str, ...]:
        """A sentence for each file of the household's own that could not be taken."""
        said = msg("Your own fault file {file} is left out: {what}.")
        return tuple(
            self.words.text(
                said,
                file=one.file,
                what=f"{one.key}: {one.problem}" if one.key else one.problem,
            )
            for one in self.problems
        )

    # -- odds --------------------------------------------------------------------------------

    def odds(self, share: float) -> str:
        """A share of 1 as people say it: 6 in 10."""
        said, n, of = odds_words(share)
        return self.words.text(said, n=n, of=of)

    def minutes(self, minutes: float) -> str:
        """Working time, to whole minutes, a minute at least."""
        return self.words.minutes(max(1, round(minutes)))

    def suspects(self, model: FaultModel, state: FaultState) -> tuple[SuspectLine, ...]:
        """What it may be, likeliest first; the unlikely ones are left to `rest`."""
        lines: list[SuspectLine] = []
        told = 0.0
        for one in likely(model, state)[:SUSPECTS]:
            lines.append(self._suspect(one, strong=told < IN_QUESTION))
            told += one.odds
        return tuple(lines)

    def _suspect(self, one: Suspect, *, strong: bool) -> SuspectLine:
        return SuspectLine(
            code=str(one.cause.cause_id),
            name=self.cause(one.cause.name),
            odds=self.odds(one.odds),
            share=one.odds,
            minutes=round(one.minutes),
            minutes_text=self.minutes(one.minutes),
            cost=self.words.text(COSTS[one.cost]),
            strong=strong,
        )

    def rest(self, model: FaultModel, state: FaultState) -> str:
        """The others together."""
        others = likely(model, state)[SUSPECTS:]
        if not others:
            return ""
        share = self.odds(sum(one.odds for one in others))
        return self.words.count(
            msg("{n} other: {odds}"), msg("{n} others together: {odds}"), len(others), odds=share
        )

    def cause(self, name: str) -> str:
        """A cause's name, to begin a line with."""
        said = self.words.text(name)
        return said[:1].upper() + said[1:]

    # -- the card ----------------------------------------------------------------------------

    def card(self, model: FaultModel, state: FaultState, advice: Advice) -> StepCard:
        """One step as it is shown: cautions, what to bring, steps, one line an outcome."""
        match advice.kind:
            case AdviceKind.TEST if advice.reading is not None:
                return self._test(model, state, advice, advice.reading)
            case AdviceKind.CURE if advice.cause is not None and advice.cure is not None:
                return self._cure(model, state, advice, advice.cause, advice.cure)
            case _:
                return self._other(model, state, advice)

    def _test(
        self, model: FaultModel, state: FaultState, advice: Advice, reading: ReadingId
    ) -> StepCard:
        test = next(one for one in model.tests if one.reading_id == reading)
        words = self.words
        then = {
            str(one.value("outcome")): self._then(model, one)
            for one in advice.grounds
            if one.code is GroundCode.OUTCOME
        }
        return StepCard(
            kind=advice.kind,
            sort=words.text(KINDS[advice.kind]),
            title=self.cause(test.name),
            cautions=self.cautions(test.cautions),
            each=self.each(test.cautions),
            before=self.before(test.before),
            tools=tuple(words.text(tool) for tool in test.tools),
            minutes=round(advice.minutes),
            minutes_text=self.minutes(advice.minutes),
            opening=self.opening(advice),
            steps=self.steps(test),
            question=words.text(msg("What do you see?")),
            outcomes=tuple(
                OutcomeLine(
                    code=str(one.outcome_id),
                    text=self.cause(one.text),
                    then=then.get(str(one.outcome_id), ""),
                )
                for one in test.outcomes
            ),
            why=self.why(model, state, advice.grounds),
            photo=self._photo(advice),
            reading=str(reading),
        )

    def steps(self, test: FaultTest) -> tuple[str, ...]:
        """What is done in a test, sentence by sentence."""
        return sentences(self.words.text(test.steps))

    def opening(self, advice: Advice) -> str:
        """What has to be opened first, in words; "" for nothing."""
        if advice.opening is None:
            return ""
        return self.words.text(
            msg("First: {opening}."), opening=self.words.text(self.models.openings[advice.opening])
        )

    def _photo(self, advice: Advice) -> str:
        if advice.opening is None:
            return ""
        what = self.words.text(self.models.before_undoing[advice.opening])
        return self.words.text(msg("Before you undo anything: {what}"), what=what)

    def _put_back(self, opening: OpeningId | None) -> tuple[str, ...]:
        if opening is None:
            return ()
        said = msg("Putting it back: {what}")
        return tuple(self.words.text(said, what=one) for one in self.back({opening}))

    def back(self, openings: Collection[OpeningId]) -> tuple[str, ...]:
        """What goes wrong when these are closed again, in the order of the models."""
        known = self.models.putting_back
        return tuple(self.words.text(text) for code, text in known.items() if code in openings)

    def _cure(
        self, model: FaultModel, state: FaultState, advice: Advice, cause_id: CauseId, place: int
    ) -> StepCard:
        words = self.words
        cause = model.cause(cause_id)
        cure = cause.cures[place]
        care = care_of_cure(model, cause_id)
        again = words.text(_again(model, state, cause))
        return StepCard(
            kind=advice.kind,
            sort=words.text(KINDS[advice.kind]),
            title=self.cause(cause.name),
            cautions=self.cautions(care.cautions),
            each=self.each(care.cautions),
            before=self.before(care.before),
            tools=(),
            minutes=round(advice.minutes),
            minutes_text=self.minutes(advice.minutes),
            opening=self.opening(advice),
            steps=(*sentences(words.text(cure.text)), *self._put_back(cause.opening), again),
            question=words.text(msg("Did it help?")),
            outcomes=(
                OutcomeLine(code=HELPED, text=words.text(msg("Yes, now it works"))),
                OutcomeLine(code=FAILED, text=words.text(msg("No, as before"))),
            ),
            why=self.why(model, state, advice.grounds),
            photo=self._photo(advice),
            cost=self.cause(COSTS[cure.cost]),
            cause=str(cause_id),
            place=place,
            part_days=cure.days,
        )

    def _other(self, model: FaultModel, state: FaultState, advice: Advice) -> StepCard:
        """No test and no cure: it works, or the search ends, or goes on elsewhere."""
        words = self.words
        care = _care_of_all(model) if advice.kind is AdviceKind.LOOK_OVER else None
        goes_on = "" if advice.goes_on is None else str(advice.goes_on)
        title = words.text(KINDS[advice.kind])
        steps = {
            AdviceKind.WORKS: words.text(WORKS_STEPS),
            AdviceKind.LOOK_OVER: words.text(LOOK_OVER_STEPS),
            AdviceKind.HAND_OVER: words.text(HAND_OVER_STEPS),
            AdviceKind.APPRAISE: words.text(APPRAISE_STEPS),
        }.get(advice.kind, "")
        if advice.goes_on is not None:
            goal = self.models.models[advice.goes_on]
            steps = words.text(GO_ON_STEPS, title=words.text(goal.title))
        return StepCard(
            kind=advice.kind,
            sort=title,
            title=title,
            cautions=() if care is None else self.cautions(care.cautions),
            each=() if care is None else self.each(care.cautions),
            before=() if care is None else self.before(care.before),
            tools=(),
            minutes=round(advice.minutes),
            minutes_text=self.minutes(advice.minutes) if advice.minutes else "",
            opening="",
            steps=sentences(steps),
            question="",
            outcomes=(),
            why=self.why(model, state, advice.grounds),
            cause="" if advice.cause is None else str(advice.cause),
            goes_on=goes_on,
        )

    # -- cautions ----------------------------------------------------------------------------

    def cautions(self, codes: Sequence[CautionCode]) -> tuple[CautionText, ...]:
        """The cautions of a step, the gravest first, those of one signal word in one panel."""
        found = [self.words.caution(code) for code in codes]
        panels: list[CautionText] = []
        for severity in _ORDER:
            said = list(dict.fromkeys(one.text for one in found if one.severity is severity))
            if said:
                signal = next(one.signal for one in found if one.severity is severity)
                panels.append(CautionText(signal, " ".join(said), severity))
        return tuple(panels)

    def each(self, codes: Sequence[CautionCode]) -> tuple[CautionText, ...]:
        """The cautions of a step one by one, the gravest first."""
        found = [self.words.caution(code) for code in codes]
        return tuple(sorted(found, key=lambda one: _ORDER.index(one.severity)))

    def before(self, codes: Sequence[BeforeId]) -> tuple[str, ...]:
        """What has to hold before a step."""
        return tuple(self.words.text(self.models.before[code]) for code in codes)

    # -- why ---------------------------------------------------------------------------------

    def why(
        self, model: FaultModel, state: FaultState, grounds: Sequence[Ground]
    ) -> tuple[str, ...]:
        """The grounds of a step as sentences; what each outcome would say stands at its button."""
        told = [one for one in grounds if one.code is not GroundCode.OUTCOME]
        return tuple(self.ground(model, state, one) for one in told)

    def _then(self, model: FaultModel, one: Ground) -> str:
        cause = self.words.text(model.cause(CauseId(str(one.value("cause")))).name)
        then = one.value("percent_then")
        share = then / 100 if isinstance(then, float) else 0.0
        return self.words.text(
            msg("then {cause}, chance {odds}"), cause=cause, odds=self.odds(share)
        )

    def ground(self, model: FaultModel, state: FaultState, one: Ground) -> str:
        """One ground as a sentence."""
        values = {name: self._value(model, state, name, value) for name, value in one.values}
        if "percent" in values:
            percent = dict(one.values)["percent"]
            values["odds"] = self.odds(percent / 100 if isinstance(percent, float) else 0.0)
        reading, outcome = (dict(one.values).get(name) for name in ("reading", "outcome"))
        if isinstance(reading, str) and isinstance(outcome, str):
            values["outcome"] = self.outcome(model, reading, outcome)
        return self.words.text(GROUNDS[one.code], **values)

    def _value(self, model: FaultModel, state: FaultState, name: str, value: str | float) -> str:
        match name, value:
            case "reading", str():
                return self.words.text(model.reading(ReadingId(value)).name)
            case "cause", str():
                return self.words.text(model.cause(CauseId(value)).name)
            case "subject", str():
                return self.subject(value, state.record.get(value))
            case "months", float():
                return self.words.months(round(value))
            case _, float():
                return self.minutes(value)
            case _:
                return str(value)

    def subject(self, subject: str, value: Record | None) -> str:
        """What was taken from the file, with its figure."""
        said = SUBJECTS.get(subject)
        if said is None:
            return self.words.text(OTHER_SUBJECT)
        return self.words.text(said, value=self._figure(subject, value))

    def _figure(self, subject: str, value: Record | None) -> str:
        if not isinstance(value, float):
            said = RECORDED.get(str(value))
            return str(value) if said is None else self.words.text(said)
        if subject == "months_parked":
            days = round(value * 30.4375)
            return self.words.months(round(value)) if value >= 1 else self.words.days(days)
        if subject == "fuel_ageing":
            lives = self.words.shelf_life(Fraction(value).limit_denominator(1000))
            return self.words.text(msg("{lives} its shelf life"), lives=lives)
        if subject == "pins_used_this_season":
            return self.words.count(msg("{n} time"), msg("{n} times"), round(value))
        if subject == "rotor_hours" or subject.startswith("hours_since"):
            return self.words.round_hours(round(value) * 3600)
        return self.words.count(msg("{n} year"), msg("{n} years"), round(value))

    def known(self, model: FaultModel, record: Mapping[str, Record]) -> tuple[str, ...]:
        """What the file knows that this model asks for."""
        return tuple(text for _, text in self.subjects(model, record))

    def subjects(
        self, model: FaultModel, record: Mapping[str, Record]
    ) -> tuple[tuple[str, str], ...]:
        """The same, each with its subject."""
        asked = dict.fromkeys(shift.subject for shift in model.shifts)
        return tuple(
            (subject, self.cause(self.subject(subject, record[subject])))
            for subject in asked
            if subject in record and subject in SUBJECTS and subject not in PLAIN_TO_SEE
        )

    # -- single codes ------------------------------------------------------------------------

    def outcome(self, model: FaultModel, reading: str, outcome: str) -> str:
        """What an outcome of a test or question is called."""
        found = model.reading(ReadingId(reading))
        if outcome not in {one.outcome_id for one in found.outcomes}:
            return self.words.text(msg("not sure"))
        return self.words.text(found.outcomes[found.place(OutcomeId(outcome))].text)


def _again(model: FaultModel, state: FaultState, cause: Cause) -> str:
    """How it is seen that a cure helped: by the test that pointed at it, where one was made, and
    before what had to be opened is closed."""
    tested = any(_points_at(model, seen, cause.cause_id) for seen in state.seen)
    if cause.opening is None:
        if tested:
            return msg("Make the test that showed it again, then see whether it helped.")
        return msg("Then see whether it helped.")
    if tested:
        return msg("Make the test that showed it again before you close up, then try the machine.")
    return msg("Close up, then see whether it helped.")


def _points_at(model: FaultModel, seen: Seen, cause_id: CauseId) -> bool:
    """Whether what a test said makes the cause likelier than it makes the others."""
    test = model.reading(seen.reading)
    if not isinstance(test, FaultTest) or test.is_gate:
        return False
    place = test.place(seen.outcome)
    shares = [row[place] for row in test.rows.values()]
    return test.rows[cause_id][place] > sum(shares) / len(shares)


def fault_words(words: Wording, household: Path) -> FaultWords:
    """Words for ours, and for the models that lie beside a household's file."""
    own = faults_beside(household)
    return FaultWords(words=words, models=own.models, problems=own.problems)


def sentences(text: str) -> tuple[str, ...]:
    """A paragraph cut into its sentences."""
    return tuple(part for part in _SENTENCES.split(text) if part)


def _care_of_all(model: FaultModel) -> Care:
    """What is minded whatever is touched: the gate's, and of the petrol."""
    tests = [test for test in model.tests if test.is_gate] or list(model.tests[:1])
    wanted = {BeforeId("R-OUT"), BeforeId("R-LEAD"), BeforeId("R-COLD")}
    cautions = [CautionCode("C-MOUSE"), *(code for one in tests for code in one.cautions)]
    return Care(before=tuple(sorted(wanted)), cautions=tuple(dict.fromkeys(cautions)))
