"""The fault room in words: the search of one machine, its path, its next step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from app.causes.known import (
    Known,
    Symptom,
    carried_on,
    facts_known,
    minutes_spent,
    opening_state,
    put_aside,
)
from app.causes.picture import FaultWords
from app.causes.state import (
    FactQuestion,
    FaultRoomState,
    FindLine,
    KnownLine,
    PathLine,
    SymptomLine,
)
from app.wording.languages import msg
from models.facts.searches import Find, Search, SearchStep
from models.words import SearchDoing
from schedules.fault_facts import CauseId, FaultModel
from schedules.fault_search import Plan
from schedules.fault_state import FaultState
from schedules.faults import Advice, AdviceKind, next_step
from schedules.plan import Judging

CHANGEABLE = frozenset({SearchDoing.SEEN, SearchDoing.TESTED, SearchDoing.CANNOT})
NOT_THE_PATH = frozenset({SearchDoing.LEFT_OFF, SearchDoing.TOLD})


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchPicture:
    """One machine's search: how it stands, and what comes next."""

    words: FaultWords
    judging: Judging
    known: Known
    told: dict[str, str]
    finds: tuple[Find, ...]
    on: date
    currency: str

    # -- the engine's side -------------------------------------------------------------------

    def state(self, search: Search, model: FaultModel) -> FaultState:
        """The state the search stands at."""
        models = self.words.models
        facts = facts_known(models, self.judging.facts, self.told)
        begun = opening_state(
            models, model, record=self.known.record, facts=facts, finds=self.finds
        )
        return carried_on(model, begun, search.standing)

    def advice(
        self, search: Search, model: FaultModel, state: FaultState, plan: Plan | None = None
    ) -> Advice:
        """The next step: by the rule at once, by a plan when there is one. After a cure that helped
        nothing is left but to say so."""
        cured = next((one for one in search.standing if one.doing is SearchDoing.CURED), None)
        if cured is None:
            return next_step(model, state, plan=plan)
        return Advice(
            kind=AdviceKind.WORKS,
            reading=None,
            cause=CauseId(cured.subject),
            cure=cured.place,
            goes_on=None,
            opening=None,
            minutes=0.0,
            expected_minutes=0.0,
            ask=(),
            handover_offered=False,
            grounds=(),
        )

    # -- the room ----------------------------------------------------------------------------

    def blank(self, *, can_write: bool, notice: str = "") -> FaultRoomState:
        """The room with no complaint chosen yet."""
        facts = self.judging.facts
        words = self.words.words
        second = " · ".join(part for part in (words.kind(facts.kind.code), facts.place) if part)
        return FaultRoomState(
            machine_id=int(facts.machine_id),
            name=facts.name,
            icon=facts.kind.icon,
            second=second,
            notice=notice,
            can_write=can_write,
            finds=tuple(self._find(one) for one in self.finds if one.symptom in self._models()),
        )

    def _models(self) -> set[str]:
        return {str(code) for code in self.words.models.models}

    def choosing(
        self, found: Sequence[Symptom], *, can_write: bool, notice: str = ""
    ) -> FaultRoomState:
        """What does it do? One line a complaint."""
        words = self.words.words
        lines = tuple(
            SymptomLine(
                code=one.code,
                title=self.words.title(one.title, is_own=one.is_own),
                said=" · ".join(f"“{words.text(said)}”" for said in one.said),
                fits=words.text(one.fits),
            )
            for one in found
        )
        says = " ".join(part for part in (notice, *self.words.not_taken()) if part)
        return replace(self.blank(can_write=can_write, notice=says), symptoms=lines)

    def searching(
        self,
        search: Search,
        model: FaultModel,
        advice: Advice,
        *,
        can_write: bool,
        notice: str = "",
        ahead: bool = False,
    ) -> FaultRoomState:
        """A search that runs: path, card, suspects."""
        state = self.state(search, model)
        fact = self.fact_question(advice)
        card = self.words.card(model, state, advice)
        return replace(
            self._standing(search, model, state, can_write=can_write, notice=notice),
            card=None if fact is not None else card,
            fact=fact,
            suspects=self.words.suspects(model, state),
            rest=self.words.rest(model, state),
            handover=self._handover(advice),
            ahead=ahead,
        )

    def _standing(
        self,
        search: Search,
        model: FaultModel,
        state: FaultState,
        *,
        can_write: bool,
        notice: str,
    ) -> FaultRoomState:
        path = tuple(
            self.path_line(model, one) for one in search.steps if one.doing not in NOT_THE_PATH
        )
        loose = tuple(
            self.path_line(model, one)
            for one in reversed(search.standing)
            if one.doing is SearchDoing.LEFT_OFF
        )
        return replace(
            self.blank(can_write=can_write, notice=notice),
            search_id=search.search_id,
            complaint=self.words.title(search.fault_text or model.title, is_own=model.is_own),
            paused=self._paused(search),
            ended=self._ended(search, model),
            known=self._known(search, model),
            path=path,
            left_off=loose,
            back=self.words.back(state.open),
            spent=self.spent(search, model),
        )

    def _known(self, search: Search, model: FaultModel) -> tuple[KnownLine, ...]:
        aside, say = put_aside(search), self.words.words.text
        not_counted = msg("{what}: not counted, nobody is sure")
        return tuple(
            KnownLine(
                subject=subject,
                text=say(not_counted, what=text) if subject in aside else text,
                step_id=aside.get(subject, 0),
            )
            for subject, text in self.words.subjects(model, self.known.record)
        )

    def ended(
        self, search: Search, model: FaultModel, *, can_write: bool, notice: str = ""
    ) -> FaultRoomState:
        """A search that is over: its whole path and how it ended."""
        state = self.state(search, model)
        return self._standing(search, model, state, can_write=can_write, notice=notice)

    # -- lines -------------------------------------------------------------------------------

    def path_line(self, model: FaultModel, step: SearchStep) -> PathLine:
        """One step of the path."""
        words = self.words
        match step.doing:
            case SearchDoing.SEEN | SearchDoing.TESTED | SearchDoing.CANNOT:
                reading = next(
                    one
                    for one in (*model.questions, *model.tests)
                    if one.reading_id == step.subject
                )
                text = words.words.text(reading.name)
                answer = words.words.word(step.doing)
                if step.answer:
                    answer = words.outcome(model, step.subject, step.answer)
            case SearchDoing.TRIED | SearchDoing.TRIED_BEFORE | SearchDoing.CURED:
                cause = model.cause(CauseId(step.subject))
                text = words.cause(cause.name)
                answer = words.words.word(step.doing)
            case _:
                text, answer = step.text, words.words.word(step.doing)
        return PathLine(
            step_id=step.step_id,
            text=text,
            answer=answer,
            sort=words.words.day_short(step.day),
            withdrawn=step.withdrawn,
            changeable=not step.withdrawn and step.doing in CHANGEABLE,
            aside=not step.withdrawn and step.doing is SearchDoing.CANNOT,
        )

    def fact_question(self, advice: Advice) -> FactQuestion | None:
        """The first fact that may change the step, asked before it."""
        if not advice.ask:
            return None
        fact = self.words.models.facts[advice.ask[0]]
        text = self.words.words.text
        return FactQuestion(
            fact=str(fact.fact_id),
            question=text(fact.question),
            answers=tuple((value, text(said)) for value, said in fact.values),
        )

    def _paused(self, search: Search) -> str:
        if search.paused_on is None:
            return ""
        return self.words.words.text(
            msg("On the bench since {day}, waiting for {what}."),
            day=search.paused_on,
            what=search.waits_for,
        )

    def _ended(self, search: Search, model: FaultModel) -> str:
        if search.ending is None or search.closed_on is None:
            return ""
        text = self.words.words.text
        said = self.words.words.word(search.ending)
        if search.cause:
            cause = text(model.cause(CauseId(search.cause)).name)
            return text(
                msg("{day}: {ending}. It was: {cause}."),
                day=search.closed_on,
                ending=said,
                cause=cause,
            )
        return text(msg("{day}: {ending}."), day=search.closed_on, ending=said)

    def _handover(self, advice: Advice) -> str:
        if not advice.handover_offered:
            return ""
        return self.words.words.text(
            msg("From here on, handing it to a workshop is about as good as going on.")
        )

    def spent(self, search: Search, model: FaultModel) -> str:
        """Time and money so far, against the stop line where one was drawn."""
        words = self.words.words
        parts = [words.minutes(minutes_spent(model, search))]
        if search.spent_cents:
            parts.append(words.money(search.spent_cents, self.currency))
        said = words.text(msg("Spent so far: {what}."), what=words.listed(parts))
        lines = []
        if search.stop_minutes is not None:
            lines.append(words.minutes(search.stop_minutes))
        if search.stop_cents is not None:
            lines.append(words.money(search.stop_cents, self.currency))
        if not lines:
            return said
        over = (
            search.stop_minutes is not None and minutes_spent(model, search) >= search.stop_minutes
        ) or (search.stop_cents is not None and search.spent_cents >= search.stop_cents)
        stop = words.text(
            msg("STOP: the line you drew is reached ({what}).")
            if over
            else msg("Stop when {what} are gone."),
            what=words.text(msg(" or ")).join(lines),
        )
        return f"{said} {stop}"

    def _find(self, one: Find) -> FindLine:
        model = next(
            model for code, model in self.words.models.models.items() if str(code) == one.symptom
        )
        text = self.words.words.text
        cause = next((each.name for each in model.causes if each.cause_id == one.cause), one.cause)
        return FindLine(
            search_id=one.search_id,
            text=text(
                msg("{day}, {title}: {cause}"),
                day=self.words.words.day(one.day),
                title=self.words.title(model.title, is_own=model.is_own),
                cause=text(cause),
            ),
            counts=one.teaches,
        )
