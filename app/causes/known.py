"""What the file knows of a machine that bears on its faults, and the search as a state."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import pairwise
from types import MappingProxyType

from app.causes.worn import parts_known
from models.facts.searches import Find, Search, SearchStep, count_finds
from models.words import SearchDoing
from schedules.facts import KindCode, MachineFacts, Past, TaskCode, TaskFacts, VesselSort
from schedules.fault_facts import (
    BLANK,
    CauseId,
    Entry,
    FactId,
    FaultModel,
    FaultModels,
    OutcomeId,
    ReadingId,
    Seen,
    SymptomId,
)
from schedules.fault_lessons import learned_odds
from schedules.fault_state import (
    FaultState,
    Record,
    after_test,
    cannot_now,
    cure_failed,
    cure_ticked,
    noticed,
    shut,
    told,
    unclear,
)
from schedules.faults import begin
from schedules.plan import Judging

MONTH_DAYS = Fraction(36525, 1200)
HOUR = 3600
YEAR_DAYS = 365
# Tasks whose last doing the models ask about, by their codes in the catalogue.
PLUGS = ("E4-07", "E2-04")
FILTERS = ("E4-05", "E2-02")
BOWL_EMPTIED = ("E4-11", "E2-12")
# What a part's or a task's name tells of the work that was done last, by the words of the models.
WORKED_ON = (
    ("belt", "belt"),
    ("paddles", "paddles"),
    ("carburettor", "carburettor"),
    ("blade", "blade"),
)
# These are only looked at, unless the part was renewed.
LOOKED_AT = ("belt", "paddles")
SHROUD = "shroud-off"
# Facts that are asked and move the odds, too.
ASKED_AND_COUNTED = ("blade_belt", "friction_drive")
TWO_STROKE, FOUR_STROKE = "two_stroke", "four_stroke"


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is on record of one machine: by subject of the models, and the day it stands still."""

    record: Mapping[str, Record]
    stands_since: date | None
    last_ran: date | None


# -- what is on record ------------------------------------------------------------------------


def known_of(judging: Judging, *, on: date) -> Known:
    """What the file knows of a machine on a day, as far as a model may ask for it."""
    facts = judging.facts
    last_ran = _last_ran(facts, on)
    asleep = next(
        (one.put_away_on for one in facts.storage if one.woken_on is None or one.woken_on > on),
        None,
    )
    stands = last_ran or asleep
    record: dict[str, Record] = {"kind": str(facts.kind.code)}
    if stands is not None:
        record["months_parked"] = float(Fraction((on - stands).days) / MONTH_DAYS)
    ages = [
        lot.ageing
        for vessel in judging.verdict.fuel
        if vessel.sort is VesselSort.TANK
        for lot in vessel.lots
        if lot.ageing is not None and lot.volume_ul
    ]
    if ages:
        record["fuel_ageing"] = float(max(ages))
    if facts.kind.fuel in (TWO_STROKE, FOUR_STROKE):
        record["engine"] = facts.kind.fuel
    if facts.past is Past.UNKNOWN:
        record["unknown_past"] = "yes"
    elif facts.past is Past.NEW:
        record["years_old"] = float(Fraction((on - facts.came_on).days, YEAR_DAYS))
    cold = _is_freezing(facts, on)
    if cold is not None:
        record["freezing"] = "yes" if cold else "no"
    wet = _bowl_left_wet(facts, last_ran, asleep)
    if wet is not None:
        record["bowl_left_wet"] = wet
    worked_on = _last_work(judging, on)
    if worked_on is not None:
        record["last_work"] = worked_on
    record |= _hours_since(judging)
    record |= parts_known(judging, on=on)
    return Known(record=record, stands_since=stands, last_ran=last_ran)


def _last_ran(facts: MachineFacts, on: date) -> date | None:
    """The last day it is known to have run: a use, or a meter that had moved."""
    days = [use.day for use in facts.uses if use.day <= on]
    for item in facts.items:
        readings = [one for one in item.hours.readings if one.day <= on]
        days += [
            later.day for earlier, later in pairwise(readings) if later.seconds > earlier.seconds
        ]
    return max(days, default=None)


def _is_freezing(facts: MachineFacts, on: date) -> bool | None:
    for vessel in facts.vessels:
        if vessel.month_means_mc:
            return vessel.month_means_mc[on.month - 1] < 0
    return None


def _bowl_left_wet(facts: MachineFacts, last_ran: date | None, asleep: date | None) -> str | None:
    """Whether the bowl was emptied since it last ran; wet when it was put away without that, and
    petrol is in its tank. None: nobody can tell."""
    emptied = [one.day for item in facts.items for one in item.doings if one.code in BOWL_EMPTIED]
    if emptied and (last_ran is None or max(emptied) >= last_ran):
        return "no"
    has_fuel = any(
        vessel.sort is VesselSort.TANK and any(lot.volume_ul for lot in vessel.lots)
        for vessel in facts.vessels
    )
    return "yes" if asleep is not None and has_fuel else None


def _last_work(judging: Judging, on: date) -> str | None:
    """What the work of the last day was about, where a model asks for such work."""
    doings = [
        one
        for item in judging.facts.items
        for one in item.doings
        if one.day <= on and not one.assumed
    ]
    last = max((one.day for one in doings), default=None)
    done = [one for one in doings if one.day == last]
    for word, said in WORKED_ON:
        for one in done:
            if word in LOOKED_AT and not one.replaced:
                continue
            if any(word in name for name in _names(judging, one.code)):
                return said
    opened = {task.opening for one in done for task in _tasks(judging, one.code)}
    return "shroud_or_starter" if SHROUD in opened else None


def _names(judging: Judging, code: TaskCode) -> tuple[str, ...]:
    return tuple(
        name
        for task in _tasks(judging, code)
        for name in (task.name, *(part.name for part in task.consumables))
    )


def _tasks(judging: Judging, code: TaskCode) -> tuple[TaskFacts, ...]:
    return tuple(task for task in judging.facts.kind.tasks if task.code == code)


def _hours_since(judging: Judging) -> dict[str, Record]:
    found: dict[str, Record] = {}
    subjects = {"hours_since_plug": PLUGS, "hours_since_filter": FILTERS}
    for verdict in judging.verdict.tasks:
        for subject, codes in subjects.items():
            task = judging.task(verdict.code) if verdict.code in codes else None
            if task is None or verdict.seconds_left is None or verdict.anchor is None:
                continue
            every = task.rule.run_seconds
            if every is not None and every >= verdict.seconds_left:
                found[subject] = float((every - verdict.seconds_left) / HOUR)
    return found


def facts_known(
    models: FaultModels, facts: MachineFacts, said: Mapping[str, str]
) -> dict[FactId, str]:
    """Facts of the machine and the tools: told in a search, or a feature that was answered."""
    features = {str(code): value for code, value in facts.features}
    found: dict[FactId, str] = {}
    for fact in models.facts.values():
        values = {value for value, _ in fact.values}
        answer = features.get(fact.feature or "") or said.get(str(fact.fact_id))
        if answer in values:
            found[fact.fact_id] = answer
    return found


# -- which model ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom:
    """What can be chosen: a code of its own, its words, the model it leads to, and what counts as
    seen from the start."""

    code: str
    title: str
    said: tuple[str, ...]
    fits: str
    model: FaultModel
    seen: tuple[Seen, ...] = ()

    @property
    def is_own(self) -> bool:
        """Whether the household wrote it."""
        return self.model.is_own


def symptoms(models: FaultModels, kind: KindCode | None = None) -> tuple[Symptom, ...]:
    """What can be wrong with machines of a kind (with any), in their order; what the household
    wrote itself comes after ours."""
    found = [
        Symptom(code=str(code), title=model.title, said=model.said, fits=model.fits, model=model)
        for code, model in models.models.items()
        if kind is None or str(kind) in model.kinds
    ]
    found += [
        _entered(models, entry)
        for entry in models.entries
        if kind is None or str(kind) in models.models[entry.leads_to].kinds
    ]
    return tuple(sorted(found, key=lambda one: (one.is_own, _number(one.code), one.code)))


def _entered(models: FaultModels, entry: Entry) -> Symptom:
    return Symptom(
        code=f"{entry.symptom_id}-{entry.leads_to}",
        title=entry.title,
        said=entry.said,
        fits=entry.fits,
        model=models.models[entry.leads_to],
        seen=entry.seen,
    )


def _number(code: str) -> int:
    return int("".join(sign for sign in code.split("-", maxsplit=1)[0] if sign.isdigit()) or 0)


def find_symptom(
    models: FaultModels, typed: str, kind: KindCode | None = None
) -> tuple[Symptom, ...]:
    """The symptoms a typed code may mean: itself, or all that begin with it and fit the kind."""
    wanted = typed.casefold()
    every = symptoms(models)
    exact = [one for one in every if one.code.casefold() == wanted]
    if exact:
        return tuple(exact)
    begins = [
        one
        for one in every
        if one.code.casefold().startswith(wanted)
        and not one.code[len(wanted) : len(wanted) + 1].isdigit()
    ]
    fitting = [one for one in begins if kind is None or str(kind) in one.model.kinds]
    return tuple(fitting or begins)


# -- the search as a state --------------------------------------------------------------------


def opening_state(
    models: FaultModels,
    model: FaultModel,
    *,
    record: Mapping[str, Record],
    facts: Mapping[FactId, str],
    finds: Sequence[Find] = (),
) -> FaultState:
    """A search with nothing seen yet, by what the household knows and has found before."""
    counted = count_finds(tuple(finds), str(model.symptom_id))
    causes = {cause.cause_id for cause in model.causes}
    lessons = {CauseId(code): n for code, n in counted.items() if code in causes}
    odds = learned_odds(model, lessons) if lessons else None
    kind = record.get("kind")
    return begin(
        models,
        kind=kind if isinstance(kind, str) else None,
        facts=facts,
        record={
            **record,
            **{name: facts[FactId(name)] for name in ASKED_AND_COUNTED if FactId(name) in facts},
        },
        odds=odds,
    )


def carried_on(model: FaultModel, state: FaultState, steps: Sequence[SearchStep]) -> FaultState:
    """The state after the steps that hold, in their order."""
    for step in steps:
        if not step.withdrawn:
            state = _after(model, state, step)
    return state


def _after(model: FaultModel, state: FaultState, step: SearchStep) -> FaultState:
    reading, outcome = ReadingId(step.subject), OutcomeId(step.answer)
    cause = CauseId(step.subject)
    match step.doing:
        case SearchDoing.SEEN if outcome != BLANK:
            return noticed(model, state, reading, outcome)
        case SearchDoing.TESTED if outcome == BLANK:
            return unclear(model, state, reading)
        case SearchDoing.TESTED:
            return after_test(model, state, reading, outcome)
        case SearchDoing.TRIED:
            return cure_failed(model, state, cause, step.place)
        case SearchDoing.TRIED_BEFORE:
            return cure_ticked(model, state, cause, step.place)
        case SearchDoing.CANNOT:
            return cannot_now(state, reading)
        case SearchDoing.TOLD:
            return _told(state, step.subject, step.answer)
        case SearchDoing.SHUT:
            return shut(state)
        case SearchDoing.OVER:
            return replace(state, looked_over=True)
        case _:
            return state


def _told(state: FaultState, subject: str, value: str) -> FaultState:
    """A fact said, or one of the file put aside: nobody is sure of it in this search."""
    record = {name: one for name, one in state.record.items() if name != subject}
    if subject in ASKED_AND_COUNTED and value != BLANK:
        record[subject] = value
    return replace(told(state, FactId(subject), value), record=MappingProxyType(record))


def put_aside(search: Search) -> dict[str, int]:
    """What was said to be unsure, and the step that says so."""
    return {
        step.subject: step.step_id
        for step in search.standing
        if step.doing is SearchDoing.TOLD and step.answer == BLANK
    }


def fitting(models: FaultModels, search: Search) -> Search:
    """The search without what its model does not hold: a household may write its own anew."""
    model = models.models.get(SymptomId(search.symptom))
    if model is None or not model.is_own:
        return search
    causes = {str(cause.cause_id): cause for cause in model.causes}
    return replace(
        search,
        steps=tuple(step for step in search.steps if _fits(model, step)),
        cause=search.cause if search.cause in causes else None,
    )


def _fits(model: FaultModel, step: SearchStep) -> bool:
    """Whether the model holds what the step is about."""
    if step.doing in (SearchDoing.TRIED, SearchDoing.TRIED_BEFORE, SearchDoing.CURED):
        cause = next((one for one in model.causes if one.cause_id == step.subject), None)
        return cause is not None and step.place < len(cause.cures)
    if step.doing in (SearchDoing.SEEN, SearchDoing.TESTED, SearchDoing.CANNOT):
        readings = {str(one.reading_id): one for one in (*model.questions, *model.tests)}
        found = readings.get(step.subject)
        outcomes = set() if found is None else {str(one.outcome_id) for one in found.outcomes}
        return found is not None and step.answer in {"", str(BLANK), *outcomes}
    return True


def minutes_spent(model: FaultModel, search: Search) -> int:
    """Minutes of work so far: as entered, else as the model has them, openings not counted."""
    return sum(_spent(model, step) for step in search.steps)


def _spent(model: FaultModel, step: SearchStep) -> int:
    if step.minutes is not None:
        return step.minutes
    if step.doing is SearchDoing.TESTED:
        test = next((one for one in model.tests if one.reading_id == step.subject), None)
        return 0 if test is None else round(test.minutes)
    if step.doing in (SearchDoing.TRIED, SearchDoing.CURED):
        return round(model.cause(CauseId(step.subject)).cures[step.place].minutes)
    return 0


def model_of(models: FaultModels, symptom: str) -> FaultModel:
    """The model of a search. Raises KeyError for one this version does not know."""
    return models.models[SymptomId(symptom)]
