"""Answers of the fault room's forms, made into acts; what cannot be taken says so in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

from app.causes.known import find_symptom, model_of
from app.causes.picture import FaultWords
from app.faults.forms import TRIED
from app.pieces import asked
from app.pieces.asked import Said
from app.wording.languages import msg
from models.acts.faults import CloseFault
from models.acts.jobs import NoteJob
from models.acts.searches import (
    AnswerTest,
    BeginSearch,
    CloseSearch,
    NoteStep,
    PauseSearch,
    StopWhen,
    TakeBackStep,
)
from models.facts.searches import Search
from models.words import SearchDoing, SearchEnd
from models.writer import Act
from schedules.fault_facts import CauseId
from schedules.plan import Judging

Answers = Mapping[str, object]
Made = tuple[Act, ...] | Said


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """What the forms are about: the machine, its search when one runs, the complaint chosen, the
    step that is answered anew."""

    words: FaultWords
    judging: Judging
    search: Search | None
    symptom: str
    step_id: int
    currency: str
    on: date

    def made(self, key: str, answers: Answers) -> Made | None:
        """The acts of a form, or what is wrong with it; None for a form of somebody else."""
        if key == "seen":
            return self._begun(answers)
        makers: Mapping[str, Callable[[Search, Answers], Made]] = {
            "change": self._changed,
            "pause": self._paused,
            "left_off": self._came_off,
            "stop": self._stopped_when,
            "part": self._wanted_part,
            "end": self._ended,
        }
        if key not in makers or self.search is None:
            return None
        return makers[key](self.search, answers)

    def _begun(self, answers: Answers) -> Made:
        symptom = find_symptom(self.words.models, self.symptom)[0]
        model = symptom.model
        questions = {str(one.reading_id) for one in (*model.questions, *model.tests)}
        seen = {str(one.reading): str(one.outcome) for one in symptom.seen}
        seen |= {name: str(value) for name, value in answers.items() if name in questions and value}
        title = self.words.words.text(symptom.title)
        faults = self.judging.facts.faults
        same = next((one for one in faults if one.text == title), None)
        return (
            BeginSearch(
                machine_id=int(self.judging.facts.machine_id),
                symptom=str(symptom.model.symptom_id),
                on=self.on,
                text=title,
                fault_id=None if same is None else same.fault_id,
                seen=tuple(seen.items()),
                tried=tuple((cause, 0) for cause in asked.lines_of(answers, TRIED)),
            ),
        )

    def _changed(self, search: Search, answers: Answers) -> Made:
        step = next(one for one in search.steps if one.step_id == self.step_id)
        outcome = asked.choice(answers, "outcome")
        if not outcome:
            return (TakeBackStep(step_id=step.step_id),)
        return (
            AnswerTest(
                search_id=search.search_id,
                reading=step.subject,
                outcome=outcome,
                on=self.on,
                noticed=step.doing is SearchDoing.SEEN,
            ),
        )

    def _paused(self, search: Search, answers: Answers) -> Made:
        waits_for = asked.text(answers, "waits_for")
        if not waits_for:
            return Said(self.words.words.text(msg("Say what it waits for.")), "waits_for")
        day = asked.day(answers, "day")
        return (PauseSearch(search_id=search.search_id, on=day, waits_for=waits_for),)

    def _came_off(self, search: Search, answers: Answers) -> Made:
        return (
            NoteStep(
                search_id=search.search_id,
                doing=SearchDoing.LEFT_OFF,
                on=self.on,
                text=asked.text(answers, "text"),
            ),
        )

    def _stopped_when(self, search: Search, answers: Answers) -> Made:
        words = self.words.words
        typed = asked.text(answers, "minutes")
        if typed and not (typed.isascii() and typed.isdecimal() and len(typed) <= 5):
            return Said(words.text(msg("Minutes are a whole number, like 120.")), "minutes")
        cents = asked.amount(answers, "cents", words, self.currency)
        if isinstance(cents, Said):
            return cents
        minutes = int(typed) if typed else None
        return (StopWhen(search_id=search.search_id, minutes=minutes, cents=cents),)

    def _wanted_part(self, search: Search, answers: Answers) -> Made:
        part = asked.text(answers, "part")
        if not part:
            return Said(self.words.words.text(msg("Say what to buy.")), "part")
        job = NoteJob(
            machine_id=search.machine_id,
            text=asked.text(answers, "text") or part,
            noted_on=self.on,
            part=part,
            waits_for=part,
            fault_id=search.fault_id,
        )
        if not answers.get("wait"):
            return (job,)
        return (job, PauseSearch(search_id=search.search_id, on=self.on, waits_for=part))

    def _ended(self, search: Search, answers: Answers) -> Made:
        cause = asked.choice(answers, "cause") or None
        ending = SearchEnd(asked.choice(answers, "ending") or SearchEnd.GIVEN_UP)
        how = asked.text(answers, "how")
        if not how and cause is not None:
            model = model_of(self.words.models, search.symptom)
            how = self.words.cause(model.cause(CauseId(cause)).name)
        return (
            CloseSearch(
                search_id=search.search_id,
                on=self.on,
                ending=ending,
                cause=cause,
                teaches=bool(answers.get("sure")) and cause is not None,
                how=how[:200],
            ),
            *(
                CloseFault(fault_id=int(number), on=self.on, how=how[:200])
                for number in asked.lines_of(answers, "others")
                if ending in (SearchEnd.CURED, SearchEnd.WORKS)
            ),
        )
