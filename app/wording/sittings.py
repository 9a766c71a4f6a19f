"""Putting away, getting out, going over: what a list is called, why a fuel route, a step in words.

Window and paper say a step by the same words, its cautions first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from app.wording.languages import msg
from app.wording.lines import CautionText
from app.wording.wording import Wording
from models.words import StepAnswer
from schedules.facts import CautionCode, TaskCode
from schedules.putting_away import LastOne, LastWhy, RouteWhy
from schedules.sitting_facts import (
    FuelRoute,
    Ground,
    LeftCode,
    RunSort,
    SittingRules,
    StepCode,
)

SORTS: Mapping[RunSort, str] = {
    RunSort.PUTTING_AWAY: msg("Putting away"),
    RunSort.GETTING_OUT: msg("Getting out again"),
    RunSort.GOING_OVER: msg("First going-over"),
}
ROUTES: Mapping[FuelRoute, str] = {
    FuelRoute.FULL_TREATED: msg("tank full, fuel treated"),
    FuelRoute.RUN_EMPTY: msg("tank and carburettor run empty"),
    FuelRoute.ALKYLATE_WET: msg("left wet on bottled alkylate"),
    FuelRoute.KEEP_READY: msg("kept ready to start, fuel treated"),
    FuelRoute.NONE: msg("fuel stays as it is"),
}
ROUTE_WHYS: Mapping[RouteWhy, str] = {
    RouteWhy.NO_ENGINE: msg("It burns nothing."),
    RouteWhy.SHORT_SLEEP: msg("It sleeps so short a time that the fuel keeps."),
    RouteWhy.HAS_TO_START: msg("It has to start when the power fails, so it sleeps with fuel."),
    RouteWhy.TWO_STROKE: msg("Mix ages fast and leaves oil behind, so a two-stroke sleeps empty."),
    RouteWhy.BURNS_ALKYLATE: msg("It runs on bottled alkylate, which keeps the diaphragms soft."),
    RouteWhy.LONG_SLEEP: msg("No treated fuel keeps as long as it will sleep."),
    RouteWhy.STEEL_TANK: msg("Its steel tank rusts when it stands empty."),
    RouteWhy.SHORT_SEASON: msg("For a few months treated fuel keeps, and it starts at once."),
    RouteWhy.FUEL_PAST_USE: msg("What is in the tank is past use; nothing can treat it back."),
    RouteWhy.FLOAT_CARBURETTOR: msg("What dries up in the carburettor is what stops it in autumn."),
}
GROUNDS: Mapping[Ground, str] = {
    Ground.FROST: msg("it freezes there"),
    Ground.DAMP: msg("it is damp there"),
    Ground.HEATED: msg("it is heated there, or has a flame in it"),
}
ANSWERS: Mapping[StepAnswer, str] = {
    StepAnswer.DONE: msg("done"),
    StepAnswer.NOT_APPLICABLE: msg("does not apply"),
    StepAnswer.CANNOT: msg("put off"),
    StepAnswer.FAULT: msg("fault found"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SaidStep:
    """A step in words. `cautions` are read before `name`; `done_when`, `stop` may be empty."""

    cautions: tuple[CautionText, ...]
    name: str
    how: str
    done_when: str
    stop: str
    waits_for: str
    tools: tuple[str, ...]
    parts: tuple[str, ...]
    to_faults: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingWords:
    """Says what belongs to a sitting."""

    words: Wording
    rules: SittingRules

    def step(self, code: StepCode) -> SaidStep | None:
        """A step by its code, or the task that it is; None for one nobody knows any more."""
        text = self.words.text
        for facts in self.rules.steps:
            if facts.code == code:
                return SaidStep(
                    cautions=self._cautions(facts.cautions),
                    name=text(facts.name),
                    how=text(facts.how) if facts.how else "",
                    done_when=text(facts.done_when),
                    stop=text(facts.stop_use_if) if facts.stop_use_if else "",
                    waits_for=text(facts.waits_for) if facts.waits_for else "",
                    tools=tuple(text(tool) for tool in facts.tools),
                    parts=tuple(text(part.name) for part in facts.parts),
                    to_faults=facts.to_faults,
                )
        return self._task(TaskCode(code))

    def _task(self, code: TaskCode) -> SaidStep | None:
        task = self.words.catalogue.tasks.get(code)
        if task is None:
            return None
        text = self.words.text
        added = dict(self.rules.cautions).get(task.opening, ())
        return SaidStep(
            cautions=self._cautions((*task.cautions, *added)),
            name=text(task.name),
            how=text(task.how) if task.how else "",
            done_when="",
            stop=text(task.stop_use_if) if task.stop_use_if else "",
            waits_for="",
            tools=tuple(text(tool) for tool in task.tools),
            parts=tuple(text(part.name) for part in task.consumables),
            to_faults=task.safety,
        )

    def _cautions(self, codes: tuple[CautionCode, ...]) -> tuple[CautionText, ...]:
        """Each once, the gravest first."""
        known = [self.words.catalogue.cautions[code] for code in dict.fromkeys(codes)]
        order = list(type(known[0].severity)) if known else []
        known.sort(key=lambda one: order.index(one.severity))
        return tuple(self.words.caution(one.code) for one in known)

    def left(self, code: LeftCode) -> str:
        """What is off, shut or open."""
        found = dict(self.rules.left).get(code)
        return str(code) if found is None else self.words.text(found)

    def sort(self, sort: RunSort) -> str:
        """What a sitting is for."""
        return self.words.text(SORTS[sort])

    def route(self, route: FuelRoute) -> str:
        """What becomes of the fuel."""
        return self.words.text(ROUTES[route])

    def answer(self, answer: StepAnswer) -> str:
        """How a step was answered."""
        return self.words.text(ANSWERS[answer])

    def last_one(self, found: LastOne) -> str:
        """Why it is asked whether that was the last use of the season."""
        words = self.words
        if found.why is LastWhy.SEASON_OVER:
            said = msg("Its season ended on {day}.")
            return words.text(said, day=words.day(found.season.last))
        said = msg("Not used for {days}, far longer than usual this season. Was that the last one?")
        return words.text(said, days=words.days(found.days_since or 0))
