"""`find`: what to test or try next about a machine that does not do what it should, and why."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from app.causes.known import (
    Symptom,
    carried_on,
    facts_known,
    find_symptom,
    fitting,
    known_of,
    opening_state,
    symptoms,
)
from app.causes.picture import FaultWords, fault_words
from app.causes.state import StepCard
from app.cli.call import Call, Exit
from app.services import Services
from app.wording.languages import msg
from models.errors import Trouble
from models.facts.searches import Search, read_finds, read_searches, read_told
from resources.fault_models import load_fault_models
from schedules.facts import MachineId
from schedules.fault_facts import (
    CauseId,
    FactId,
    FaultModel,
    FaultModels,
    OutcomeId,
    ReadingId,
)
from schedules.fault_game import set_up
from schedules.fault_search import settled
from schedules.fault_state import (
    FaultState,
    Record,
    cannot_now,
    cure_ticked,
    noticed,
    told,
    unclear,
)
from schedules.faults import Advice, AdviceKind, likely, next_step
from schedules.plan import Judging

SCHEMA = 1
# Positions looked at before the answer is given: a moment's work.
LOOKED_AT = 300
TRIED, CANNOT, UNSURE = "tried", "cannot", "unsure"
NO_COMPLAINT = msg("“{typed}” is no complaint that is known.")
NONE_OF_THESE = msg("“{typed}” is none of these, or more than one of them.")

Data = dict[str, object]


def run_find(call: Call) -> int:
    """Say the next step. Gives 2 for a complaint, test or outcome there is not."""
    typed: str = call.arguments.symptom or ""
    try:
        services = call.open_services(call.file, False)
    except Trouble:
        if not typed or find_symptom(load_fault_models(), typed, None):
            raise
        # Typed wrongly is what is wrong, whatever became of the file.
        hint = call.tongue.text(
            msg("Type {program} --help for what can be asked."), program="firstpull find"
        )
        call.output.warn(f"{call.tongue.text(NO_COMPLAINT, typed=typed)} {hint}")
        return Exit.USAGE
    with services:
        return _Finder(call=call, services=services).run()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """What is known before the first step."""

    judging: Judging | None
    symptom: Symptom
    state: FaultState
    search: Search | None


class _SeenError(Exception):
    """What was typed as seen is not in the model; the sentence says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Finder:
    call: Call
    services: Services

    def run(self) -> int:
        """Find the machine and the complaint, then answer."""
        words = fault_words(self.services.wording, self.services.household.path)
        models = words.models
        for said in words.not_taken():
            self.call.output.warn(said)
        number: int | None = self.call.arguments.number
        judging = None
        if number is not None:
            fleet = self.services.fleet(
                on=self.call.moment.today, only=frozenset({MachineId(number)})
            )
            if not fleet:
                said = msg("There is no machine {numbers} in this household.")
                return self._refuse(said, numbers=str(number))
            judging = fleet[0]
        kind = None if judging is None else judging.facts.kind.code
        typed: str = self.call.arguments.symptom or ""
        if not typed:
            return self._list(symptoms(models, kind), words)
        found = find_symptom(models, typed, kind)
        if len(found) != 1:
            self._list(found or symptoms(models, kind), words)
            return self._refuse(NONE_OF_THESE, typed=typed)
        try:
            return self._answer(self._known(models, found[0], judging), words)
        except _SeenError as refused:
            self.call.output.warn(str(refused))
            return Exit.USAGE

    def _refuse(self, said: str, **values: str) -> int:
        self.call.output.warn(self.services.wording.text(said, **values))
        return Exit.USAGE

    def _list(self, found: Sequence[Symptom], said: FaultWords) -> int:
        words, output = self.services.wording, self.call.output
        if output.as_json:
            rows = [
                {
                    "code": one.code,
                    "title": words.text(one.title),
                    "fits": words.text(one.fits),
                    "own": one.is_own,
                }
                for one in found
            ]
            output.data({"schema": SCHEMA, "symptoms": rows})
            return Exit.DONE
        for one in found:
            output.say(f"{one.code:<8} {said.title(one.title, is_own=one.is_own)}")
            output.say(textwrap.indent(words.text(one.fits), " " * 9))
        return Exit.DONE

    # -- what is known ------------------------------------------------------------------------

    def _known(self, models: FaultModels, symptom: Symptom, judging: Judging | None) -> _Told:
        on, model = self.call.moment.today, symptom.model
        tools = frozenset(
            str(code) for code, fact in models.facts.items() if fact.assumed is not None
        )
        number = 0 if judging is None else int(judging.facts.machine_id)
        with self.services.household.read() as session:
            finds = read_finds(session)
            said = read_told(session, machine_id=number, tools=tools)
            searches = read_searches(session, on=on, machine_id=number, only_open=True)
        search = next((one for one in searches if one.symptom == model.symptom_id), None)
        facts = {} if judging is None else facts_known(models, judging.facts, said)
        record: Mapping[str, Record] = {} if judging is None else known_of(judging, on=on).record
        state = opening_state(models, model, record=record, facts=facts, finds=finds)
        for seen in symptom.seen:
            state = noticed(model, state, seen.reading, seen.outcome)
        if search is not None:
            state = carried_on(model, state, fitting(models, search).steps)
        for typed in self.call.arguments.seen or ():
            state = self._with(models, model, state, typed)
        return _Told(judging=judging, symptom=symptom, state=state, search=search)

    def _with(
        self, models: FaultModels, model: FaultModel, state: FaultState, typed: str
    ) -> FaultState:
        """TEST=OUTCOME, TEST=unsure, TEST=cannot, CAUSE=tried or FACT=VALUE."""
        name, _, value = typed.partition("=")
        causes = {str(one.cause_id) for one in model.causes}
        readings = {str(one.reading_id) for one in (*model.questions, *model.tests)}
        if name in causes and value == TRIED:
            return cure_ticked(model, state, CauseId(name))
        if name in readings and value == CANNOT:
            return cannot_now(state, ReadingId(name))
        if name in readings and value == UNSURE:
            return unclear(model, state, ReadingId(name))
        if name in readings:
            outcomes = [str(one.outcome_id) for one in model.reading(ReadingId(name)).outcomes]
            if value in outcomes:
                return noticed(model, state, ReadingId(name), OutcomeId(value))
            raise self._strange(typed, outcomes)
        fact = models.facts.get(FactId(name))
        if fact is not None:
            values = [one for one, _ in fact.values]
            if value in values:
                return told(state, FactId(name), value)
            raise self._strange(typed, values)
        raise self._strange(typed, sorted(readings))

    def _strange(self, typed: str, known: Sequence[str]) -> _SeenError:
        said = msg("“{typed}” is nothing that can be seen here. There is: {known}.")
        return _SeenError(
            self.services.wording.text(said, typed=typed[:80], known=", ".join(known))
        )

    # -- the answer ---------------------------------------------------------------------------

    def _answer(self, told: _Told, words: FaultWords) -> int:
        model, state = told.symptom.model, told.state
        advice = next_step(model, state)
        if advice.kind in (AdviceKind.TEST, AdviceKind.CURE):
            plan = settled(set_up(model, state), budget=LOOKED_AT)
            advice = next_step(model, state, plan=plan)
        card = words.card(model, state, advice)
        if self.call.output.as_json:
            self.call.output.data(
                find_data(told, advice, card, words=words, on=self.call.moment.today)
            )
        else:
            self._tell(told, advice, card, words)
        return Exit.DONE

    def _tell(self, told: _Told, advice: Advice, card: StepCard, words: FaultWords) -> None:
        text, output = self.services.wording.text, self.call.output
        model, state = told.symptom.model, told.state
        title = words.title(told.symptom.title, is_own=told.symptom.is_own)
        if told.judging is not None:
            title = f"{told.judging.facts.name}: {title}"
        output.tell(title)
        known = words.known(model, state.record)
        if known:
            output.tell(text(msg("The file knows: {what}."), what="; ".join(known)), depth=1)
        for seen in state.seen:
            reading = text(model.reading(seen.reading).name)
            outcome = words.outcome(model, str(seen.reading), str(seen.outcome))
            output.tell(f"{reading} {outcome}", depth=1)
        output.say()
        self._tell_card(card)
        self._tell_facts(advice)
        output.say()
        output.tell(text(msg("What it may be:")))
        for line in words.suspects(model, state):
            output.tell(f"{line.odds}: {line.name} ({line.minutes_text})", depth=1)
        others = words.rest(model, state)
        if others:
            output.tell(others, depth=1)

    def _tell_card(self, card: StepCard) -> None:
        """Cautions and conditions before the steps, then the outcomes, then why."""
        text, tell = self.services.wording.text, self.call.output.tell
        tell(f"{card.sort}: {card.title}" if card.sort != card.title else card.title)
        lines = [f"{caution.signal}: {caution.text}" for caution in card.cautions]
        if card.before:
            lines.append(text(msg("Before it: {what}"), what=" ".join(card.before)))
        if card.tools:
            lines.append(text(msg("Bring: {what}"), what=", ".join(card.tools)))
        if card.minutes_text:
            lines.append(text(msg("Takes {minutes}."), minutes=card.minutes_text))
        lines += [line for line in (card.opening, card.photo) if line]
        lines += [f"{number}. {step}" for number, step in enumerate(card.steps, start=1)]
        for outcome in card.outcomes:
            then = f" ({outcome.then})" if outcome.then else ""
            lines.append(f"[{card.reading or card.cause}={outcome.code}] {outcome.text}{then}")
        for line in (*lines, *card.why):
            tell(line, depth=1)

    def _tell_facts(self, advice: Advice) -> None:
        facts, text = load_fault_models().facts, self.services.wording.text
        for code in advice.ask:
            values = ", ".join(f"{code}={value}" for value, _ in facts[code].values)
            self.call.output.tell(f"{text(facts[code].question)} [{values}]", depth=1)


def find_data(told: _Told, advice: Advice, card: StepCard, *, words: FaultWords, on: date) -> Data:
    """What `find --json` says."""
    model, state = told.symptom.model, told.state
    return {
        "schema": SCHEMA,
        "on": on.isoformat(),
        "symptom": {
            "code": told.symptom.code,
            "title": words.words.text(told.symptom.title),
            "own": told.symptom.is_own,
        },
        "machine": None if told.judging is None else int(told.judging.facts.machine_id),
        "search": None if told.search is None else told.search.search_id,
        "known": list(words.known(model, state.record)),
        "seen": [{"test": str(one.reading), "outcome": str(one.outcome)} for one in state.seen],
        "step": _step_data(card, advice),
        "ask": [str(code) for code in advice.ask],
        "suspects": [
            {
                "code": str(one.cause.cause_id),
                "name": words.words.text(one.cause.name),
                "odds": round(one.odds, 4),
                "odds_text": words.odds(one.odds),
                "minutes": round(one.minutes, 1),
                "cost": one.cost.value,
            }
            for one in likely(model, state)
        ],
        "expected_minutes": round(advice.expected_minutes, 1),
        "handover_offered": advice.handover_offered,
    }


def _step_data(card: StepCard, advice: Advice) -> Data:
    return {
        "kind": advice.kind.value,
        "test": card.reading or None,
        "cause": card.cause or None,
        "cure": card.place if card.kind is AdviceKind.CURE else None,
        "goes_on": card.goes_on or None,
        "title": card.title,
        "cautions": [{"signal": one.severity.value, "text": one.text} for one in card.cautions],
        "before": list(card.before),
        "tools": list(card.tools),
        "minutes": round(advice.minutes, 1),
        "opening": card.opening,
        "steps": list(card.steps),
        "outcomes": [{"code": one.code, "text": one.text} for one in card.outcomes],
        "why": list(card.why),
    }
