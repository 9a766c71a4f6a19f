"""What pressing a button of the fault room means, as an act on its search; None: nothing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from app.causes.picture import HELPED
from models.acts.searches import (
    AnswerTest,
    BeginSearch,
    CannotTest,
    CloseSearch,
    NoteStep,
    PauseSearch,
    TakeBackStep,
    TellFact,
    TryCure,
)
from models.facts.searches import Search
from models.words import SearchDoing, SearchEnd
from models.writer import Act
from schedules.fault_facts import BLANK
from schedules.faults import Advice, AdviceKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """A search with the step that is advised now."""

    search: Search
    advice: Advice
    on: date

    def outcome(self, code: str) -> Act | None:
        """What a test showed, or whether a cure helped."""
        number, advice = self.search.search_id, self.advice
        if advice.kind is AdviceKind.TEST and advice.reading is not None:
            return AnswerTest(
                search_id=number, reading=str(advice.reading), outcome=code, on=self.on
            )
        if advice.kind is AdviceKind.CURE and advice.cause is not None:
            return TryCure(
                search_id=number,
                cause=str(advice.cause),
                place=advice.cure or 0,
                helped=code == HELPED,
                on=self.on,
            )
        return None

    def fact(self, value: str) -> Act | None:
        """What was asked about the machine or the tools."""
        if not self.advice.ask:
            return None
        return TellFact(
            search_id=self.search.search_id,
            fact=str(self.advice.ask[0]),
            value=value,
            on=self.on,
        )

    def aside(self, subject: str) -> Act:
        """Nobody is sure of what the file says there: this search does not count it."""
        return TellFact(search_id=self.search.search_id, fact=subject, value=str(BLANK), on=self.on)

    def unclear(self) -> Act | None:
        """The test was done, and nobody is sure what it showed: it is not asked for again."""
        if self.advice.reading is None:
            return None
        return AnswerTest(
            search_id=self.search.search_id,
            reading=str(self.advice.reading),
            outcome=str(BLANK),
            on=self.on,
        )

    def cannot(self) -> Act | None:
        """The test cannot be done now: it was not done, and comes back."""
        if self.advice.reading is None:
            return None
        return CannotTest(
            search_id=self.search.search_id, reading=str(self.advice.reading), on=self.on
        )

    def resume(self) -> Act:
        """It does not wait any more."""
        return PauseSearch(search_id=self.search.search_id, on=self.on, waits_for="")

    def looked_over(self) -> Act:
        """The long going-over is done, or was."""
        return NoteStep(search_id=self.search.search_id, doing=SearchDoing.OVER, on=self.on)

    def still_not(self) -> Act | None:
        """What was done last made it work, and it does not hold."""
        if self.advice.cause is not None and self.advice.cure is not None:
            return TryCure(
                search_id=self.search.search_id,
                cause=str(self.advice.cause),
                place=self.advice.cure,
                helped=False,
                on=self.on,
            )
        tested = [one for one in self.search.standing if one.doing is SearchDoing.TESTED]
        return TakeBackStep(step_id=tested[-1].step_id) if tested else None

    def go_on(self) -> tuple[Act, ...]:
        """The complaint is another one: this search ends, that one begins for the same fault."""
        search, advice = self.search, self.advice
        if advice.goes_on is None:
            return ()
        return (
            CloseSearch(
                search_id=search.search_id,
                on=self.on,
                ending=SearchEnd.GIVEN_UP,
                cause=str(advice.cause or "") or None,
            ),
            BeginSearch(
                machine_id=search.machine_id,
                symptom=str(advice.goes_on),
                on=self.on,
                fault_id=search.fault_id,
            ),
        )
